"""The next finer standard thread of the same diameter."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any

from mountcalc.scenario.model import Thread
from mountcalc.scenario.quantity_text import ValueTextError, read_number_text
from mountcalc.scenario.threads import read_thread

__all__ = ["finer_thread"]

# A pitch this much finer than the thread's own is another one.
_FINER = 0.999
_SAME_SIZE = 1e-3  # [in]
_METRIC = re.compile(r"M\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_GAUGE = re.compile(r"(?:#|No\.?)\s*([0-9]{1,2})\s*-", re.IGNORECASE)
_OTHER_SERIES = re.compile(r"ACME|BSW|BSF|^\s*Tr", re.IGNORECASE)


@lru_cache(maxsize=1)
def _data() -> dict[str, Any]:
    text = resources.files("mountcalc").joinpath("data/threads.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def finer_thread(thread: Thread) -> Thread | None:
    """Find the next finer standard thread of the same diameter and hand.

    Parameters
    ----------
    thread : Thread
        Its name as read by :func:`~mountcalc.scenario.threads.read_thread`.

    Returns
    -------
    Thread or None
        None where the diameter is not in the tables, the thread is of a series for power or of
        another standard, or no finer pitch is standard.
    """
    if _OTHER_SERIES.search(thread.name):
        return None
    hand = "" if thread.right_handed else " LH"
    if metric := _METRIC.match(thread.name):
        size = f"{float(metric[1]):g}"
        pitches = _data()["metric_pitches"]["pitch_mm"].get(size, ())
        names = [f"M{size}x{pitch:g}{hand}" for pitch in pitches]
    else:
        size = _inch_size(thread.name)
        names = [
            f"{size}-{each}{hand}" for each in _data()["inch_pitches"]["per_inch"].get(size, ())
        ]
    found = (read_thread(name) for name in names)
    return next((one for one in found if one.pitch < _FINER * thread.pitch), None)


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
