"""Series of belt lengths, the names they are bought by, tolerances, and the room a belt needs."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from mountcalc.handbook.belts.designation import (
    Designation,
    DesignationError,
    listed_numbers,
    numbered,
    read_designation,
)
from mountcalc.handbook.belts.sections import NumberOf, section
from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of

__all__ = [
    "Tolerance",
    "every_inch_sections",
    "install_allowance",
    "length_tolerance",
    "matching_limit",
    "named_length",
    "nearest",
    "percentage_allowances",
    "series",
    "take_up_allowance",
]

_FILE = "belt_lengths"
_ROUNDING = 1e-9  # [m]
_MM = 1e-3
_SAME_LENGTH = 0.3e-3  # [m]
# A classical number is up to some inches below the pitch length, a narrow one as much above.
_NUMBERS_BELOW, _NUMBERS_ABOVE = 7, 2
_ALLOWANCES = "belt_allowances"
_ROUNDING_INCH = 1e-6  # of an inch


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

    From the shortest pitch length to the longest; empty where the section has no series.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
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

    The next shorter one or that of the length itself, and the next longer one; None past the end of
    the series.

    Parameters
    ----------
    section_name : str
        Such as ``"A"``; capitals or not.
    pitch_length : float [m]
        The length wanted.
    """
    belts = series(section_name)
    place = bisect_right(belts, pitch_length + _ROUNDING, key=lambda belt: belt.pitch_length)
    return (
        belts[place - 1] if place > 0 else None,
        belts[place] if place < len(belts) else None,
    )


def length_tolerance(designation: Designation) -> Tolerance | None:
    """Return how far off its length a new belt may be [m].

    None where nothing is known of it.

    Parameters
    ----------
    designation : Designation
        The belt.
    """
    data = load(_FILE)
    if designation.measures is NumberOf.INSIDE:
        row = _row_of("tolerance", designation.number)
        return None if row is None else _symmetric(row["in"] * INCH, row)
    if designation.measures is NumberOf.DATUM:
        row = data["tolerance_mm"]
        return _symmetric(row["share"] * designation.pitch_length, row)
    row = data["tolerance_outside"]
    is_short = designation.outside_length <= row["to_in"] * INCH + _ROUNDING
    if designation.measures is not NumberOf.OUTSIDE or not is_short:
        return None
    return Tolerance(
        row["short_in"] * INCH, row["long_in"] * INCH, source_of(_FILE, row), row["sure"]
    )


def matching_limit(designation: Designation) -> Datum | None:
    """Return by how much the lengths of the belts of one set may differ [m].

    None where nothing is known of it.

    Parameters
    ----------
    designation : Designation
        The belt.
    """
    if designation.measures is not NumberOf.INSIDE:
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


def named_length(section: str, pitch_length: float) -> Designation | None:
    """Find the designation that has a pitch length.

    None where no number of the section stands for that length.

    Parameters
    ----------
    section : str
        Such as ``"A"`` or ``"SPZ"``.
    pitch_length : float [m]
        Wanted to within 0.3 mm.
    """
    published = [
        belt for belt in series(section) if abs(belt.pitch_length - pitch_length) <= _SAME_LENGTH
    ]
    if published:
        return min(published, key=lambda belt: abs(belt.pitch_length - pitch_length))
    inches = round(pitch_length / INCH)
    whole = range(inches - _NUMBERS_BELOW, inches + _NUMBERS_ABOVE + 1)
    for number in [*whole, *(10 * n for n in whole)]:
        if (found := _read(section, number, pitch_length)) is not None:
            return found
    # A length that happens to be a whole number of millimetres is not so named where inches are.
    if any(belt.measures is not NumberOf.DATUM for belt in series(section)):
        return None
    return _read(section, round(pitch_length / _MM), pitch_length)


def _read(section: str, number: int, pitch_length: float) -> Designation | None:
    """The belt of a number, if that is its pitch length [m]."""
    try:
        found = read_designation(f"{section} {number}")
    except DesignationError:
        return None
    return found if abs(found.pitch_length - pitch_length) <= _SAME_LENGTH else None


class _AllowanceRow(NamedTuple):
    """A belt's place in a table: the table, the row, and the name of the column."""

    table: dict[str, Any]
    row: dict[str, Any]
    column: str


def install_allowance(designation: Designation) -> Datum:
    """Return by how much the centre distance must close so that a new belt goes on [m].

    By the table for inch belts; by the usual share of the length for others, and where the table
    has none.

    Parameters
    ----------
    designation : Designation
        The belt.
    """
    place = _place(designation)
    if place is None or place.column not in place.row:
        return percentage_allowances(designation.pitch_length)[0]
    return _allowance(place.table, place.row[place.column] * INCH, place.row.get("sure"))


def take_up_allowance(designation: Designation) -> Datum:
    """Return by how much the centre distance must open to take a belt up as it stretches [m].

    By the table for inch belts, whose column is for all sections; by the usual share of the length
    for others, and outside the table.

    Parameters
    ----------
    designation : Designation
        The belt.
    """
    place = _place(designation)
    if place is None:
        return percentage_allowances(designation.pitch_length)[1]
    if "take_up_share" in place.row:
        return _allowance(place.table, place.row["take_up_share"] * designation.pitch_length)
    return _allowance(place.table, place.row["take_up"] * INCH, place.row.get("sure"))


def percentage_allowances(pitch_length: float) -> tuple[Datum, Datum]:
    """Return the usual shares of a belt's length [m]: to put it on, and to take it up.

    Both on the centre distance.

    Parameters
    ----------
    pitch_length : float [m]
        The belt's.
    """
    row = load(_ALLOWANCES)["percentage"]
    return (
        _allowance(row, row["install"] * pitch_length),
        _allowance(row, row["take_up"] * pitch_length),
    )


def _allowance(table: dict[str, Any], value: float, sure: str | None = None) -> Datum:
    return Datum(value, source_of(_ALLOWANCES, table), sure or table["sure"])


def _place(designation: Designation) -> _AllowanceRow | None:
    """Where the tables have a belt; a number between two rows is in the larger."""
    if designation.measures is NumberOf.DATUM:
        return None
    for name, number in (
        ("classical", designation.inside_inches),
        ("narrow", designation.number),
    ):
        table = load(_ALLOWANCES)[name]
        column = table["columns"].get(designation.section)
        if column is not None:
            row = next((row for row in table["rows"] if number <= row["to"] + _ROUNDING_INCH), None)
            is_short = number < table["rows"][0]["from"] - _ROUNDING_INCH
            return None if row is None or is_short else _AllowanceRow(table, row, column)
    return None
