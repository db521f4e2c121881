"""Whether both pulleys are in one plane."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.rows import INCH, datum, load

__all__ = ["Alignment", "alignment", "greatest_slant"]

_FILE = "along_shafts"
_FOOT = 12 * INCH
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Alignment:
    """How far two pulleys are out of one plane.

    Attributes
    ----------
    offset : float [m]
        Middle of the motor's pulley less that of the driven one, along the shafts.
    angle : float [rad]
        Slant of the belt that comes of it, not below zero.
    limit : float [m]
        The most offset that is let pass.
    ok : bool
        Whether the offset is within it.
    source : str
        Of the limit, and how sure it is.
    """

    offset: float
    angle: float
    limit: float
    ok: bool
    source: str


def greatest_slant(section_name: str | None) -> tuple[float, str]:
    """Offset of two pulleys over the distance of their shafts that is let pass."""
    is_v_belt = section_name is not None and section(section_name) is not None
    rows = load(_FILE)["alignment"]["v_belt" if is_v_belt else "flat_belt"]
    angle, per_foot = datum(_FILE, rows["angle"]), datum(_FILE, rows["per_foot"])
    return min(math.tan(angle.value), per_foot.value / _FOOT), f"{angle.source}, {angle.sure}"


def alignment(
    motor_middle: float, driven_middle: float, center_distance: float, section_name: str | None
) -> Alignment:
    """Judge how far two pulleys are out of one plane."""
    offset = motor_middle - driven_middle
    slant, source = greatest_slant(section_name)
    limit = slant * center_distance
    return Alignment(
        offset=offset,
        angle=math.atan2(abs(offset), center_distance),
        limit=limit,
        ok=abs(offset) <= limit * (1 + _ROUNDING),
        source=source,
    )
