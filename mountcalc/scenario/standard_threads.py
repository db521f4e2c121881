"""The standard threads of the tables: the next finer one, and the nearest to one that is none."""

from __future__ import annotations

import math
import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any

from mountcalc.scenario.model import Thread
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.scenario.text.threads import read_thread

__all__ = ["finer_thread", "nearest_standard"]

# A pitch this much finer than the thread's own is another one.
_FINER = 0.999
_SAME_SIZE = 1e-3  # [in]
_SAME_PITCH = 1e-6
_METRIC = re.compile(r"M\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_GAUGE = re.compile(r"(?:#|No\.?)\s*([0-9]{1,2})\s*-", re.IGNORECASE)
_OTHER_SERIES = re.compile(r"ACME|BSW|BSF|^\s*Tr", re.IGNORECASE)


@lru_cache(maxsize=1)
def _data() -> dict[str, Any]:
    text = resources.files("mountcalc").joinpath("data/threads.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def finer_thread(thread: Thread) -> Thread | None:
    """Find the next finer standard thread of the same diameter and hand."""
    found = (read_thread(name) for name in _of_its_size(thread))
    return next((one for one in found if one.pitch < _FINER * thread.pitch), None)


def nearest_standard(thread: Thread) -> Thread | None:
    """Find the standard thread nearest to one that is in no table."""
    found = [read_thread(name) for name in _of_its_size(thread)]
    if not found:
        return None
    nearest = min(found, key=lambda one: abs(math.log(one.pitch / thread.pitch)))
    same = math.isclose(nearest.pitch, thread.pitch, rel_tol=_SAME_PITCH)
    return None if same else nearest


def _of_its_size(thread: Thread) -> list[str]:
    """Names of the standard threads of a thread's diameter and hand, from coarse to fine."""
    if _OTHER_SERIES.search(thread.name):
        return []
    hand = "" if thread.right_handed else " LH"
    if metric := _METRIC.match(thread.name):
        size = f"{float(metric[1]):g}"
        pitches = _data()["metric_pitches"]["pitch_mm"].get(size, ())
        return [f"M{size}x{pitch:g}{hand}" for pitch in pitches]
    size = _inch_size(thread.name)
    return [f"{size}-{each}{hand}" for each in _data()["inch_pitches"]["per_inch"].get(size, ())]


def _inch_size(name: str) -> str:
    """Key of the table for an inch thread's diameter; empty where there is none."""
    if gauge := _GAUGE.match(name):
        return f"#{int(gauge[1])}"
    try:
        size = read_number_text(name.partition("-")[0].strip().removesuffix("in").strip(' "'))
    except ValueTextError:
        return ""
    sizes = (key for key in _data()["inch_pitches"]["per_inch"] if not key.startswith("#"))
    return next((key for key in sizes if abs(read_number_text(key) - size) < _SAME_SIZE), "")
