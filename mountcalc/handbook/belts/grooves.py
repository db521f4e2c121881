"""Grooves of V-belt pulleys, and the pitch diameter from another one that was measured."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from mountcalc.handbook.belts.sections import Section, section
from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of

__all__ = [
    "SameGrooves",
    "greatest_rim_speed",
    "groove_angle",
    "in_same_grooves",
    "outside_less_pitch",
    "pitch_from_datum",
    "pitch_from_outside",
    "pitch_from_rim",
    "sized_by_outside",
]

_FILE = "grooves"
_MM = 1e-3
_ROUNDING = 1e-9  # [m]


class SameGrooves(NamedTuple):
    """Sections whose belts lie in the grooves of another."""

    sections: tuple[str, ...]
    source: str
    sure: str


@dataclass(frozen=True, slots=True)
class _Groove:
    """A section's groove: angles [rad] up to a diameter [m], and the rim over the pitch line.

    ``by_outside`` tells that tables name its pulleys, and those diameters, by the outside;
    ``over`` [m] is the outside less the pitch diameter, and ``has_datum`` whether the groove has a
    datum diameter, which then is the pitch diameter.
    """

    angles: tuple[tuple[float, float], ...]
    over: float
    by_outside: bool
    has_datum: bool
    source: str
    sure: str


def _groove(table: dict[str, Any], row: dict[str, Any], unit: float, over: float) -> _Groove:
    angles = tuple(
        (one["to"] * unit if "to" in one else math.inf, math.radians(one["deg"]))
        for one in row["grooves"]
    )
    by_outside = "two_a" in row
    return _Groove(
        angles=angles,
        over=over * unit,
        by_outside=by_outside,
        has_datum=not by_outside,
        source=source_of(_FILE, table),
        sure=table["sure"],
    )


def _ip20(name: str) -> _Groove | None:
    table = load(_FILE)["ip20"]
    rows = (row for row in table.values() if isinstance(row, dict) and name in row["sections"])
    row = next(rows, None)
    return None if row is None else _groove(table, row, INCH, row["two_h_d"])


def _iso4183(name: str) -> _Groove | None:
    table = load(_FILE)["iso4183"]
    rows = (row for row in table.values() if isinstance(row, dict) and name in row["sections"])
    row = next(rows, None)
    return None if row is None else _groove(table, row, _MM, 2 * row["b_min"])


def _ip22(name: str) -> _Groove | None:
    table = load(_FILE)["ip22"]
    row = table.get(name)
    return None if not isinstance(row, dict) else _groove(table, row, INCH, row["two_a"])


def _flush(name: str) -> _Groove | None:
    table, belt = load(_FILE)["flush"], section(name)
    if belt is None or name not in table["sections"]:
        return None
    return _Groove(
        angles=(),
        over=belt.pitch_to_outside.value / math.pi,
        by_outside=True,
        has_datum=False,
        source=source_of(_FILE, table),
        sure=table["sure"],
    )


_STANDARDS: tuple[Callable[[str], _Groove | None], ...] = (_ip20, _iso4183, _ip22, _flush)


@lru_cache(maxsize=64)
def _groove_of(name: str) -> _Groove | None:
    return next((found for find in _STANDARDS if (found := find(name)) is not None), None)


def _of(section_name: str) -> _Groove | None:
    found = section(section_name)
    return None if found is None else _groove_of(found.name)


def greatest_rim_speed() -> Datum:
    """Return the rim speed up to which ordinary pulleys are run.

    Returns
    -------
    Datum [m/s]
    """
    return datum(_FILE, load(_FILE)["rim_speed"])


def in_same_grooves(section_name: str) -> SameGrooves:
    """Return the sections whose belts lie in a section's grooves as its own do.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.

    Returns
    -------
    SameGrooves
        Without sections where none is known. Deeper belts than the section's are left out.
    """
    table = load(_FILE)["same_grooves"]
    sections = table["sections"].get(section_name.strip().upper(), ())
    return SameGrooves(tuple(sections), table["source"], table["sure"])


def groove_angle(section_name: str, pitch_diameter: float) -> Datum | None:
    """Return the angle between the faces of a groove.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
    pitch_diameter : float [m]
        Of the pulley.

    Returns
    -------
    Datum or None [rad]
        None where nothing is known of the section's grooves.
    """
    groove = _of(section_name)
    if groove is None or not groove.angles:
        return None
    diameter = pitch_diameter + (groove.over if groove.by_outside else 0.0)
    angle = next(angle for most, angle in groove.angles if diameter <= most + _ROUNDING)
    return Datum(angle, groove.source, groove.sure)


def outside_less_pitch(section_name: str) -> Datum | None:
    """Return how much larger the outside diameter of a grooved pulley is than its pitch diameter.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.

    Returns
    -------
    Datum or None [m]
        None for a section that is not known.
    """
    groove = _of(section_name)
    return None if groove is None else Datum(groove.over, groove.source, groove.sure)


def sized_by_outside(section_name: str) -> bool:
    """Whether tables name the pulleys of a section by their outside diameter.

    Parameters
    ----------
    section_name : str
        Such as ``"4L"``; capitals or not.
    """
    groove = _of(section_name)
    return groove is not None and groove.by_outside


def pitch_from_datum(section_name: str, datum_diameter: float) -> float | None:
    """Pitch diameter of a grooved pulley from its datum diameter, which is the same.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
    datum_diameter : float [m]
        Of the pulley.

    Returns
    -------
    float or None [m]
        None for a section whose grooves have no datum diameter, or that is not known.
    """
    groove = _of(section_name)
    return datum_diameter if groove is not None and groove.has_datum else None


def pitch_from_outside(section_name: str, outside_diameter: float) -> float | None:
    """Pitch diameter of a grooved pulley from its diameter over the rims.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
    outside_diameter : float [m]
        Of the pulley.

    Returns
    -------
    float or None [m]
        None for a section that is not known.
    """
    groove = _of(section_name)
    return None if groove is None else outside_diameter - groove.over


def pitch_from_rim(
    section_name: str, rim_diameter: float, thickness: float | None = None
) -> float | None:
    """Pitch diameter of a flat pulley from its rim.

    A V-belt lies on its inside, whose length is shorter than that of the pitch line by pi times
    the difference of the diameters. The pitch line of a flat belt runs in the middle of it.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``, or a flat belt's; capitals or not.
    rim_diameter : float [m]
        Of the pulley.
    thickness : float, optional [m]
        Of a flat belt.

    Returns
    -------
    float or None [m]
        None for no V-belt that is known and no thickness.
    """
    belt: Section | None = section(section_name)
    if belt is not None:
        return rim_diameter + belt.inside_to_pitch.value / math.pi
    return None if thickness is None else rim_diameter + thickness
