"""Series of belt lengths, the names they are bought by, tolerances, and the room a belt needs.

Symbols
-------
section : such as "A" or "SPZ"; capitals or not
pitch_length : of the belt, or wanted, by a name to within 0.3 mm [m]
designation : of the belt
"""

from __future__ import annotations

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
from mountcalc.handbook.rows import INCH, Datum, datum, load, origin, row_up_to
from mountcalc.thresholds import ROUNDING

_FILE = "belt_lengths"
_MM = 1e-3
_SAME_LENGTH = 0.3e-3  # [m]
# A classical number is up to some inches below the pitch length, a narrow one as much above.
_NUMBERS_BELOW, _NUMBERS_ABOVE = 7, 2
_ALLOWANCES = "belt_allowances"
_ROUNDING_INCH = 1e-6  # of an inch


class Tolerance(NamedTuple):
    """How much shorter and longer than its name a new belt may be: ``short`` and ``long`` [m]."""

    short: float
    long: float
    source: str
    sure: str


@lru_cache(maxsize=64)
def series(section_name: str) -> tuple[Designation, ...]:
    """Return every length of every series of a section, each name once.

    From the shortest pitch length to the longest; empty where the section has no series.
    """
    found = section(section_name)
    if found is None:
        return ()
    belts = [
        numbered(found.name, kind, number)
        for kind in load(_FILE)["numbers"].get(found.name, ())
        for number in listed_numbers(found.name, kind)
    ]
    return tuple(sorted(belts, key=lambda belt: (belt.pitch_length, belt.text)))


def every_inch_sections() -> tuple[str, ...]:
    """Sections of which nearly every whole inch is stocked, whatever the lists have."""
    return tuple(load(_FILE)["every_inch"]["sections"])


def length_tolerance(designation: Designation) -> Tolerance | None:
    """Return how far off its length a new belt may be [m]; None where nothing is known of it."""
    data, measures = load(_FILE), designation.measures
    if measures is NumberOf.DATUM:
        row = data["tolerance_mm"]
        short = long = row["share"] * designation.pitch_length
    elif measures is NumberOf.INSIDE:
        row = _row_of("tolerance", designation.number)
        if row is None:
            return None
        short = long = row["in"] * INCH
    else:
        row = data["tolerance_outside"]
        short, long = row["short_in"] * INCH, row["long_in"] * INCH
        is_short = designation.outside_length <= row["to_in"] * INCH + ROUNDING
        if measures is not NumberOf.OUTSIDE or not is_short:
            return None
    return Tolerance(short, long, *origin(_FILE, row))


def matching_limit(designation: Designation) -> Datum | None:
    """Return by how much the belts of one set may differ in length [m]; None where not known."""
    is_inside = designation.measures is NumberOf.INSIDE
    row = _row_of("matching", designation.number) if is_inside else None
    return None if row is None else datum(_FILE, row)


def _row_of(table: str, number: float) -> dict[str, Any] | None:
    """Row of a number; one between two rows is in the larger, which allows more."""
    found = load(_FILE)[table]
    return row_up_to(found["rows"], number) if number >= found["least"] else None


def named_length(section: str, pitch_length: float) -> Designation | None:
    """Find the designation that has a pitch length; None where no number stands for it."""
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


def allowances(designation: Designation) -> tuple[Datum, Datum]:
    """Return by how much the centre distance must change for a belt [m]: close, open.

    It closes so that a new belt goes on, and opens to take it up as it stretches. By the table for
    inch belts, whose column of taking up is for all sections; by the usual shares of the length for
    others, and where the table has none.
    """
    install, take_up = percentage_allowances(designation.pitch_length)
    table, row, column = _place(designation)
    if column in row:
        install = _allowance(table | row, row[column] * INCH)
    if "take_up_share" in row:
        take_up = _allowance(table, row["take_up_share"] * designation.pitch_length)
    elif row:
        take_up = _allowance(table | row, row["take_up"] * INCH)
    return install, take_up


def percentage_allowances(pitch_length: float) -> tuple[Datum, Datum]:
    """Return the usual shares of a belt's length [m]: to put it on, and to take it up.

    Both on the centre distance.
    """
    row = load(_ALLOWANCES)["percentage"]
    install, take_up = (row[name] * pitch_length for name in ("install", "take_up"))
    return _allowance(row, install), _allowance(row, take_up)


def _allowance(row: dict[str, Any], value: float) -> Datum:
    return Datum(value, *origin(_ALLOWANCES, row))


def _place(designation: Designation) -> tuple[dict[str, Any], dict[str, Any], str]:
    """Table, row and name of the column of a belt; a number between two rows is in the larger.

    The row is empty where the tables do not have it.
    """
    for name, number in (("classical", designation.inside_inches), ("narrow", designation.number)):
        table = load(_ALLOWANCES)[name]
        column = table["columns"].get(designation.section)
        if column is not None and designation.measures is not NumberOf.DATUM:
            is_short = number < table["rows"][0]["from"] - _ROUNDING_INCH
            row = None if is_short else row_up_to(table["rows"], number - _ROUNDING_INCH)
            return table, row or {}, column
    return {}, {}, ""
