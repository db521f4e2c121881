"""Series of V-belt lengths: which there are, the nearest of them, and how far they may be off."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from mountcalc.handbook.belts.designation import Designation, listed_numbers, numbered
from mountcalc.handbook.belts.sections import Measures, section
from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of

__all__ = [
    "Tolerance",
    "every_inch_sections",
    "length_tolerance",
    "matching_limit",
    "nearest",
    "series",
]

_FILE = "belt_lengths"
_ROUNDING = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How much shorter and longer than its name a new belt may be: ``short`` and ``long`` [m]."""

    short: float
    long: float
    source: str
    sure: str


@lru_cache(maxsize=32)
def _series(name: str) -> tuple[Designation, ...]:
    kinds = load(_FILE)["numbers"].get(name, ())
    belts = [
        numbered(name, kind, number) for kind in kinds for number in listed_numbers(name, kind)
    ]
    return tuple(sorted(belts, key=lambda belt: (belt.pitch_length, belt.text)))


def series(section_name: str) -> tuple[Designation, ...]:
    """Return every length of every series of a section, each name once.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.

    Returns
    -------
    tuple of Designation
        From the shortest pitch length to the longest; empty where the section has no series.
    """
    found = section(section_name)
    return () if found is None else _series(found.name)


def every_inch_sections() -> tuple[str, ...]:
    """Sections of which nearly every whole inch is stocked, whatever the lists have."""
    return tuple(load(_FILE)["every_inch"]["sections"])


def nearest(
    section_name: str, pitch_length: float
) -> tuple[Designation | None, Designation | None]:
    """Return the belts of a section's series on either side of a pitch length.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
    pitch_length : float [m]
        The length wanted.

    Returns
    -------
    tuple of (Designation or None)
        The next shorter one or that of the length itself, and the next longer one; None past the
        end of the series.
    """
    belts = series(section_name)
    place = bisect_right(belts, pitch_length + _ROUNDING, key=lambda belt: belt.pitch_length)
    return (
        belts[place - 1] if place > 0 else None,
        belts[place] if place < len(belts) else None,
    )


def length_tolerance(designation: Designation) -> Tolerance | None:
    """Return how far off its length a new belt may be.

    Parameters
    ----------
    designation : Designation
        The belt.

    Returns
    -------
    Tolerance or None [m]
        None where nothing is known of it.
    """
    data = load(_FILE)
    if designation.measures is Measures.INSIDE:
        row = _row_of("tolerance", designation.number)
        return None if row is None else _symmetric(row["in"] * INCH, row)
    if designation.measures is Measures.DATUM:
        row = data["tolerance_mm"]
        return _symmetric(row["share"] * designation.pitch_length, row)
    row = data["tolerance_outside"]
    is_short = designation.outside_length <= row["to_in"] * INCH + _ROUNDING
    if designation.measures is not Measures.OUTSIDE or not is_short:
        return None
    return Tolerance(
        row["short_in"] * INCH, row["long_in"] * INCH, source_of(_FILE, row), row["sure"]
    )


def matching_limit(designation: Designation) -> Datum | None:
    """Return by how much the lengths of the belts of one set may differ.

    Parameters
    ----------
    designation : Designation
        The belt.

    Returns
    -------
    Datum or None [m]
        None where nothing is known of it.
    """
    if designation.measures is not Measures.INSIDE:
        return None
    row = _row_of("matching", designation.number)
    return None if row is None else datum(_FILE, row)


def _row_of(table: str, number: float) -> dict[str, Any] | None:
    """Row of a number; one between two rows is in the larger, which allows more."""
    found = load(_FILE)[table]
    if number < found["least"]:
        return None
    rows: list[dict[str, Any]] = found["rows"]
    return next((row for row in rows if number <= row["to"]), None)


def _symmetric(off: float, row: dict[str, Any]) -> Tolerance:
    return Tolerance(off, off, source_of(_FILE, row), row["sure"])
