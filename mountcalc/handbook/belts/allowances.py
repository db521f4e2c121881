"""Room that a belt needs on the centre distance: to be put on, and to be taken up later."""

from __future__ import annotations

from typing import Any, NamedTuple

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.sections import Measures
from mountcalc.handbook.rows import INCH, Datum, load, source_of

__all__ = ["install_allowance", "percentage_allowances", "take_up_allowance"]

_FILE = "belt_allowances"
_ROUNDING = 1e-6  # of an inch


class _Place(NamedTuple):
    """A belt's place in a table: the table, the row, and the name of the column."""

    table: dict[str, Any]
    row: dict[str, Any]
    column: str


def install_allowance(designation: Designation) -> Datum:
    """Return by how much the centre distance must close so that a new belt goes on.

    Parameters
    ----------
    designation : Designation
        The belt.

    Returns
    -------
    Datum [m]
        By the table for inch belts; by the usual share of the length for others, and where the
        table has none.
    """
    place = _place(designation)
    if place is None or place.column not in place.row:
        return percentage_allowances(designation.pitch_length)[0]
    return _datum(place.table, place.row[place.column] * INCH, place.row.get("sure"))


def take_up_allowance(designation: Designation) -> Datum:
    """Return by how much the centre distance must open to take a belt up as it stretches.

    Parameters
    ----------
    designation : Designation
        The belt.

    Returns
    -------
    Datum [m]
        By the table for inch belts, whose column is for all sections; by the usual share of the
        length for others, and outside the table.
    """
    place = _place(designation)
    if place is None:
        return percentage_allowances(designation.pitch_length)[1]
    if "take_up_share" in place.row:
        return _datum(place.table, place.row["take_up_share"] * designation.pitch_length)
    return _datum(place.table, place.row["take_up"] * INCH, place.row.get("sure"))


def percentage_allowances(pitch_length: float) -> tuple[Datum, Datum]:
    """Return the usual shares of a belt's length: to put it on, and to take it up.

    Parameters
    ----------
    pitch_length : float [m]
        The belt's.

    Returns
    -------
    tuple of Datum [m]
        Both on the centre distance.
    """
    row = load(_FILE)["percentage"]
    return (
        _datum(row, row["install"] * pitch_length),
        _datum(row, row["take_up"] * pitch_length),
    )


def _datum(table: dict[str, Any], value: float, sure: str | None = None) -> Datum:
    return Datum(value, source_of(_FILE, table), sure or table["sure"])


def _place(designation: Designation) -> _Place | None:
    """Where the tables have a belt; a number between two rows is in the larger."""
    if designation.measures is Measures.DATUM:
        return None
    for name, number in (
        ("classical", _classical_number(designation)),
        ("narrow", designation.number),
    ):
        table = load(_FILE)[name]
        column = table["columns"].get(designation.section)
        if column is not None:
            row = next((row for row in table["rows"] if number <= row["to"] + _ROUNDING), None)
            is_short = number < table["rows"][0]["from"] - _ROUNDING
            return None if row is None or is_short else _Place(table, row, column)
    return None


def _classical_number(designation: Designation) -> float:
    """Inches of the inside length: the number of a classical belt, or of one like it."""
    if designation.measures is Measures.INSIDE:
        return designation.number
    return designation.inside_length / INCH
