"""Screw threads: reading ``"3/8-16"``, ``"#10-24"``, ``"M10x1.5"``; the standard series."""

from __future__ import annotations

import math
import re
from typing import NoReturn

from mountcalc.handbook.rows import INCH, load
from mountcalc.record import Record
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text, refuse
from mountcalc.scenario.text.wording import listed

WANTED_THREAD = 'screw thread wanted (such as "3/8-16", "#10-24" or "M10x1.5")'

_MM = 1e-3
_LARGEST_COMMON = 4  # [in], of a screw
_LONGEST = 60
_LARGEST = 1.0  # [m], above any screw
_FINEST_IN_DIAMETERS = 200.0

_HAND = r"(?:[\s-]+(?P<left>LH|left|left[- ]handed)|[\s-]+(?:RH|right|right[- ]handed))?"
_INCH_THREAD = (
    r"(?i)(?P<size>(?:\#|No\.?)\s*[0-9]{1,2}|[0-9./⁄ -]*?[0-9./⁄]+|[0-9]*\s*[½¼¾⅛⅜⅝⅞])"
    r"\s*(?:\"|in)?\s*-\s*(?P<per_inch>[0-9]{1,3}(?:\.[0-9]{1,2}|\s1/2)?)"
    r"(?:\s*(?:tpi|UN[A-Z]{0,3}|ACME|BSW|BSF))?(?:[\s-]+[123][ABCG])?" + _HAND
)
_METRIC_THREAD = (
    r"(?i)(?P<series>M|Tr)\s*(?P<size>[0-9]{1,3}(?:\.[0-9]{1,2})?)"
    r"(?:\s*[x×*]\s*(?P<pitch>[0-9]{1,2}(?:\.[0-9]{1,3})?))?"
    r"(?:[\s-]+[0-9][a-hA-H](?:[0-9][a-hA-H])?)?" + _HAND
)
# A pitch this much finer than the thread's own is another one.
_FINER = 0.999
_SAME_SIZE = 1e-3  # [in]
_SAME_PITCH = 1e-6
_METRIC = r"(?i)M\s*([0-9]+(?:\.[0-9]+)?)"
_GAUGE = r"(?i)(?:#|No\.?)\s*([0-9]{1,2})\s*-"
_OTHER_SERIES = r"(?i)ACME|BSW|BSF|^\s*Tr"
_METRIC_SIZE = r"(?i)(?:M|Tr)\s*([0-9]+(?:\.[0-9]+)?)"
_INCH_SIZE = r"([0-9][0-9./⁄ ]*?|[0-9]*\s*[½¼¾⅛⅜⅝⅞])\s*(?:\"|in)?\s*-\s*[0-9]"


class Thread(Record):
    """A screw thread: designation as written, ``pitch`` [m], right-handed or left-handed."""

    name: str
    pitch: float
    right_handed: bool


def read_thread(value: object) -> Thread:
    """Read the designation of a screw thread."""
    if not isinstance(value, str) or len(value) > _LONGEST:
        _fail(value)
    text = " ".join(value.split())
    if match := re.fullmatch(_METRIC_THREAD, text):
        diameter, pitch = _metric(match, text)
    elif match := re.fullmatch(_INCH_THREAD, text):
        diameter, pitch = _inch(match, text)
    else:
        _fail(value)
    if not 0 < diameter <= _LARGEST:
        _fail(value, f"a diameter of {diameter / _MM:.6g} mm is no screw's")
    if not diameter / _FINEST_IN_DIAMETERS <= pitch < diameter:
        _fail(value, f"a pitch of {pitch / _MM:.4g} mm does not go with {diameter / _MM:.4g} mm")
    return Thread(text, pitch, right_handed=match["left"] is None)


def _fail(value: object, why: str = "") -> NoReturn:
    refuse(WANTED_THREAD, value, f": {why}" if why else "")


def _metric(match: re.Match[str], text: str) -> tuple[float, float]:
    """Return diameter and pitch [m]."""
    size, pitch = float(match["size"]), match["pitch"]
    if pitch is None and match["series"].upper() == "M":
        pitch = load("threads")["metric_coarse"]["pitch_mm"].get(f"{size:g}")
    if pitch is None:
        _fail(text, f'give the pitch too, as in "{match["series"]}{match["size"]}x1.5"')
    return size * _MM, float(pitch) * _MM


def _inch(match: re.Match[str], text: str) -> tuple[float, float]:
    """Return diameter and pitch [m]."""
    per_inch, size = read_number_text(match["per_inch"]), match["size"].strip()
    if per_inch <= 0:
        _fail(text, "threads per inch above zero wanted")
    gauge = load("threads")["gauge"]
    numbers = gauge["numbers"]
    number = re.fullmatch(r"(?:#|No\.?)?\s*([0-9]{1,2})", size, re.IGNORECASE)
    if number is None:
        try:
            return read_number_text(size) * INCH, INCH / per_inch
        except ValueTextError:
            _fail(text)
    n, is_numbered = int(number[1]), size[0] in "#nN"
    if is_numbered and n not in numbers:
        _fail(text, f"numbered sizes are {listed(f'#{each}' for each in numbers)}")
    if not is_numbered and n in numbers and (n == 0 or n > _LARGEST_COMMON):
        _fail(text, f'write "#{text}" if it is the numbered size')
    diameter = gauge["smallest_in"] + gauge["step_in"] * n if is_numbered else float(n)
    return diameter * INCH, INCH / per_inch


def bolt_diameter(thread: Thread) -> float | None:
    """Nominal diameter [m] of a screw by its thread's name, None where that does not tell."""
    if match := re.match(_METRIC_SIZE, thread.name):
        return float(match[1]) * _MM
    if match := re.match(_GAUGE, thread.name):
        gauge = load("threads")["gauge"]
        return float(gauge["smallest_in"] + gauge["step_in"] * int(match[1])) * INCH
    if match := re.match(_INCH_SIZE, thread.name):
        try:
            return read_number_text(match[1].strip()) * INCH
        except ValueTextError:
            return None
    return None


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
    if re.search(_OTHER_SERIES, thread.name):
        return []
    hand, data = "" if thread.right_handed else " LH", load("threads")
    if metric := re.match(_METRIC, thread.name):
        size = f"{float(metric[1]):g}"
        pitches = data["metric_pitches"]["pitch_mm"].get(size, ())
        return [f"M{size}x{pitch:g}{hand}" for pitch in pitches]
    sizes = data["inch_pitches"]["per_inch"]
    if gauge := re.match(_GAUGE, thread.name):
        size = f"#{int(gauge[1])}"
    else:
        text = thread.name.partition("-")[0].strip().removesuffix("in").strip(' "')
        size = next((key for key in sizes if _is_size(key, text)), "")
    return [f"{size}-{each}{hand}" for each in sizes.get(size, ())]


def _is_size(key: str, text: str) -> bool:
    """Whether a text is the diameter of a key of the table of inch threads."""
    try:
        return abs(read_number_text(key) - read_number_text(text)) < _SAME_SIZE
    except ValueTextError:
        return False
