"""Screw threads: reading ``"3/8-16"``, ``"#10-24"``, ``"M10x1.5"``; the standard series."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import NoReturn

from mountcalc.handbook.rows import load
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.scenario.text.wording import listed, shown

WANTED_THREAD = 'screw thread wanted (such as "3/8-16", "#10-24" or "M10x1.5")'

_INCH, _MM = 0.0254, 1e-3
_LONGEST = 60
_LARGEST = 1.0  # [m], above any screw
_FINEST_IN_DIAMETERS = 200.0

_HAND = r"(?:[\s-]+(?P<left>LH|left|left[- ]handed)|[\s-]+(?:RH|right|right[- ]handed))?"
_INCH_THREAD = re.compile(
    r"(?P<size>(?:\#|No\.?)\s*[0-9]{1,2}|[0-9./⁄ -]*?[0-9./⁄]+|[0-9]*\s*[½¼¾⅛⅜⅝⅞])"
    r"\s*(?:\"|in)?\s*-\s*(?P<per_inch>[0-9]{1,3}(?:\.[0-9]{1,2}|\s1/2)?)"
    r"(?:\s*(?:tpi|UN[A-Z]{0,3}|ACME|BSW|BSF))?(?:[\s-]+[123][ABCG])?" + _HAND,
    re.IGNORECASE,
)
_METRIC_THREAD = re.compile(
    r"(?P<series>M|Tr)\s*(?P<size>[0-9]{1,3}(?:\.[0-9]{1,2})?)"
    r"(?:\s*[x×*]\s*(?P<pitch>[0-9]{1,2}(?:\.[0-9]{1,3})?))?"
    r"(?:[\s-]+[0-9][a-hA-H](?:[0-9][a-hA-H])?)?" + _HAND,
    re.IGNORECASE,
)
# A pitch this much finer than the thread's own is another one.
_FINER = 0.999
_SAME_SIZE = 1e-3  # [in]
_SAME_PITCH = 1e-6
_METRIC = re.compile(r"M\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_GAUGE = re.compile(r"(?:#|No\.?)\s*([0-9]{1,2})\s*-", re.IGNORECASE)
_OTHER_SERIES = re.compile(r"ACME|BSW|BSF|^\s*Tr", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Thread:
    """A screw thread: designation as written, ``pitch`` [m], right-handed or left-handed."""

    name: str
    pitch: float
    right_handed: bool


def read_thread(value: object) -> Thread:
    """Read the designation of a screw thread."""
    if not isinstance(value, str) or len(value) > _LONGEST:
        _fail(value)
    text = " ".join(value.split())
    if match := _METRIC_THREAD.fullmatch(text):
        diameter, pitch = _metric(match, text)
    elif match := _INCH_THREAD.fullmatch(text):
        diameter, pitch = _inch(match, text)
    else:
        _fail(value)
    if not 0 < diameter <= _LARGEST:
        _fail(value, f"a diameter of {diameter / _MM:.6g} mm is no screw's")
    if not diameter / _FINEST_IN_DIAMETERS <= pitch < diameter:
        _fail(value, f"a pitch of {pitch / _MM:.4g} mm does not go with {diameter / _MM:.4g} mm")
    return Thread(text, pitch, right_handed=match["left"] is None)


def _fail(value: object, why: str = "") -> NoReturn:
    message = f"{WANTED_THREAD}, got {shown(value)}{': ' if why else ''}{why}"
    raise ValueTextError(message)


def _metric(match: re.Match[str], text: str) -> tuple[float, float]:
    """Return diameter and pitch [m]."""
    size = float(match["size"])
    if match["pitch"] is not None:
        return size * _MM, float(match["pitch"]) * _MM
    pitches = load("threads")["metric_coarse"]["pitch_mm"]
    coarse = pitches.get(f"{size:g}") if match["series"].upper() == "M" else None
    if coarse is None:
        _fail(text, f'give the pitch too, as in "{match["series"]}{match["size"]}x1.5"')
    return size * _MM, coarse * _MM


def _inch(match: re.Match[str], text: str) -> tuple[float, float]:
    """Return diameter and pitch [m]."""
    per_inch = read_number_text(match["per_inch"])
    if per_inch <= 0:
        _fail(text, "threads per inch above zero wanted")
    return _inch_diameter(match["size"].strip(), text) * _INCH, _INCH / per_inch


def _inch_diameter(size: str, text: str) -> float:
    gauge = load("threads")["gauge"]
    numbers = gauge["numbers"]
    number = re.fullmatch(r"(?:#|No\.?)?\s*([0-9]{1,2})", size, re.IGNORECASE)
    if number is None:
        try:
            return read_number_text(size)
        except ValueTextError:
            _fail(text)
    n, numbered = int(number[1]), size[0] in "#nN"
    if numbered and n not in numbers:
        _fail(text, f"numbered sizes are {listed(f'#{each}' for each in numbers)}")
    if not numbered and n in numbers and (n == 0 or n > 4):  # noqa: PLR2004  # 4 in is the largest common screw
        _fail(text, f'write "#{text}" if it is the numbered size')
    return gauge["smallest_in"] + gauge["step_in"] * n if numbered else float(n)


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
        pitches = load("threads")["metric_pitches"]["pitch_mm"].get(size, ())
        return [f"M{size}x{pitch:g}{hand}" for pitch in pitches]
    size = _inch_size(thread.name)
    return [
        f"{size}-{each}{hand}" for each in load("threads")["inch_pitches"]["per_inch"].get(size, ())
    ]


def _inch_size(name: str) -> str:
    """Key of the table for an inch thread's diameter; empty where there is none."""
    if gauge := _GAUGE.match(name):
        return f"#{int(gauge[1])}"
    try:
        size = read_number_text(name.partition("-")[0].strip().removesuffix("in").strip(' "'))
    except ValueTextError:
        return ""
    sizes = (key for key in load("threads")["inch_pitches"]["per_inch"] if not key.startswith("#"))
    return next((key for key in sizes if abs(read_number_text(key) - size) < _SAME_SIZE), "")
