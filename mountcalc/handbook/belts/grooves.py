"""Grooves of V-belt pulleys, and the pitch diameter from another one that was measured.

A section's name is in capitals or not; what is told of one that is not known is None.

Symbols
-------
section_name : such as "A" or "SPZ", for a rim a flat belt's, too
pitch_diameter, rim_diameter : of the pulley [m]
thickness : of a flat belt [m]
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.rows import INCH, Datum, datum, load, origin
from mountcalc.thresholds import ROUNDING

_FILE = "grooves"


class SameGrooves(NamedTuple):
    """Sections whose belts lie in the grooves of another."""

    sections: tuple[str, ...]
    source: str
    sure: str


class _Groove(NamedTuple):
    """A section's groove: ``over`` [m] is the outside less the pitch diameter.

    ``angles`` [rad] hold up to a diameter [m]. ``by_outside`` tells that tables name its pulleys,
    and those diameters, by the outside; other grooves have a datum diameter, the pitch diameter.
    """

    over: Datum
    angles: tuple[tuple[float, float], ...] = ()
    by_outside: bool = True


@lru_cache(maxsize=64)
def _groove(name: str) -> _Groove | None:
    """Look a groove up in one standard after the other."""
    belt, data = section(name), load(_FILE)
    if belt is None:
        return None
    for standard, unit in (("ip20", INCH), ("iso4183", 1e-3), ("ip22", INCH)):
        table = data[standard]
        for key, row in table.items():
            if not isinstance(row, dict) or belt.name not in row.get("sections", [key]):
                continue
            over = row.get("two_h_d") or row.get("two_a") or 2 * row["b_min"]
            angles = tuple(
                (one["to"] * unit if "to" in one else math.inf, math.radians(one["deg"]))
                for one in row["grooves"]
            )
            return _Groove(Datum(over * unit, *origin(_FILE, table)), angles, "two_a" in row)
    table, over = data["flush"], belt.pitch_to_outside.value / math.pi
    is_flush = belt.name in table["sections"]
    return _Groove(Datum(over, *origin(_FILE, table))) if is_flush else None


def greatest_rim_speed() -> Datum:
    """Return the rim speed [m/s] up to which ordinary pulleys are run."""
    return datum(_FILE, load(_FILE)["rim_speed"])


def in_same_grooves(section_name: str) -> SameGrooves:
    """Return the sections whose belts lie in a section's grooves as its own do.

    Without sections where none is known. Deeper belts than the section's are left out.
    """
    table = load(_FILE)["same_grooves"]
    sections = table["sections"].get(section_name.strip().upper(), ())
    return SameGrooves(tuple(sections), table["source"], table["sure"])


def groove_angle(section_name: str, pitch_diameter: float) -> Datum | None:
    """Return the angle [rad] between the faces of a groove."""
    groove = _groove(section_name)
    if groove is None or not groove.angles:
        return None
    diameter = pitch_diameter + (groove.over.value if groove.by_outside else 0.0)
    angle = next(angle for most, angle in groove.angles if diameter <= most + ROUNDING)
    return Datum(angle, groove.over.source, groove.over.sure)


def outside_less_pitch(section_name: str) -> Datum | None:
    """Return how much larger [m] a grooved pulley's outside is than its pitch diameter."""
    groove = _groove(section_name)
    return None if groove is None else groove.over


def has_datum_diameter(section_name: str) -> bool:
    """Whether pulleys of a section go by a datum diameter, which is their pitch diameter.

    Others go by their outside one.
    """
    groove = _groove(section_name)
    return groove is not None and not groove.by_outside


def pitch_from_rim(
    section_name: str, rim_diameter: float, thickness: float | None = None
) -> float | None:
    """Pitch diameter [m] of a flat pulley from its rim.

    A V-belt lies on its inside, whose length is shorter than that of the pitch line by pi times
    the difference of the diameters. The pitch line of a flat belt runs in the middle of it.
    """
    belt = section(section_name)
    if belt is not None:
        return rim_diameter + belt.inside_to_pitch.value / math.pi
    return None if thickness is None else rim_diameter + thickness
