"""Reading the size of a hinge's screw: ``"#8 x 3/4 in"``, ``"4x20"``."""

from __future__ import annotations

import re

from mountcalc.handbook.rows import load, measure
from mountcalc.scenario.file.wording import shown
from mountcalc.scenario.parts.model import Screw
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.units import si_factor

__all__ = ["WANTED_SCREW", "read_screw"]

WANTED_SCREW = 'screw wanted (such as "#8 x 3/4 in" or "4x20", in mm)'

_LONGEST_TEXT = 40
_LARGEST_GAUGE = 24  # of wood screws (ASME B18.6.1, from memory)
_THICKEST, _THINNEST, _LONGEST = 12e-3, 1e-3, 0.3  # [m], no hinge's screw is beyond (estimate)
_NUMBER = r"[0-9][0-9./⁄ -]*|[0-9]*\s*[½¼¾⅛⅜⅝⅞]"
_GAUGE = re.compile(
    rf"(?:\#|No\.?)\s*(?P<gauge>[0-9]{{1,2}})(?:-[0-9]{{1,2}})?"
    rf"(?:\s*[x×]\s*(?P<length>{_NUMBER})\s*(?P<unit>in|\"|″|mm)?)?",
    re.IGNORECASE,
)
# A bare number is refused: it may be meant as a gauge or in mm.
_METRIC = re.compile(
    r"(?P<m>M)?\s*(?P<size>[0-9]{1,2}(?:\.[0-9]{1,2})?)\s*(?P<mm>mm)?"
    r"(?:\s*[x×]\s*(?P<length>[0-9]{1,3}(?:\.[0-9]{1,2})?)\s*(?:mm)?)?",
    re.IGNORECASE,
)


def read_screw(value: object) -> Screw:
    """Read the size of a screw."""
    if not isinstance(value, str):
        raise ValueTextError(f"{WANTED_SCREW}, got {shown(value)}")
    text = value.strip() if len(value) <= _LONGEST_TEXT else ""
    diameter, length = _sizes(text, value)
    long_enough = length is None or diameter < length <= _LONGEST
    if not _THINNEST <= diameter <= _THICKEST or not long_enough:
        raise ValueTextError(
            f"{WANTED_SCREW}, 1 to 12 mm thick, longer than thick and at most 300 mm long, "
            f"got {shown(value)}"
        )
    return Screw(text, diameter, length)


def _sizes(text: str, value: object) -> tuple[float, float | None]:
    """Return diameter and length [m] of a screw's text."""
    match = _METRIC.fullmatch(text)
    if match and (match["m"] or match["mm"] or match["length"]):
        length = match["length"]
        return float(match["size"]) * 1e-3, float(length) * 1e-3 if length else None
    match = _GAUGE.fullmatch(text)
    if match is None or int(match["gauge"]) > _LARGEST_GAUGE:
        raise ValueTextError(f"{WANTED_SCREW}, got {shown(value)}")
    gauge = load("threads")["gauge"]
    diameter = measure(gauge, "smallest") + measure(gauge, "step") * int(match["gauge"])
    if match["length"] is None:
        return diameter, None
    unit = "mm" if (match["unit"] or "").lower() == "mm" else "in"
    try:
        return diameter, read_number_text(match["length"]) * si_factor(unit)
    except ValueTextError:
        raise ValueTextError(f"{WANTED_SCREW}, got {shown(value)}") from None
