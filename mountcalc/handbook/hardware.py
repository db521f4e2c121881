"""Bolts by grade or class, and single numbers of screws and hardware.

Symbols
-------
text : a bolt's strength as its head is marked, "grade 5" or "8.8"
diameter : of the bolt [m]
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import NamedTuple

from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of
from mountcalc.thresholds import ROUNDING

_FILE = "fasteners"
_KSI, _MPA = 6894757.293168362, 1e6


class Face(StrEnum):
    """Where a screw is driven into a board; the end is that of the grain.

    A bolt that goes through the face has a nut and a washer behind the board.
    """

    FACE = "face"
    EDGE = "edge"
    END = "end"
    THROUGH = "through"


class BoltStrength(NamedTuple):
    """Proof, tensile and yield strength of a bolt [Pa]."""

    name: str
    proof: float
    tensile: float
    yielding: float
    source: str
    sure: str


def fact(*path: str) -> Datum:
    """Look up one number of the file by the names of its tables and its key."""
    row = load(_FILE)
    for name in path:
        row = row[name]
    return datum(_FILE, row)


def known_strengths() -> tuple[str, ...]:
    """Grades and classes that have data."""
    return tuple(load(_FILE)["strength"])


def bolt_strength(text: str, diameter: float) -> BoltStrength | None:
    """Look a grade or class up; None for one that is not in the tables, or not that thick."""
    row = load(_FILE)["strength"].get(text)
    for one in [] if row is None else row["rows"]:
        if diameter <= one.get("to_in", math.inf) * INCH * (1 + ROUNDING):
            unit, size = ("ksi", _KSI) if "proof_ksi" in one else ("MPa", _MPA)
            proof, tensile, yielding = (
                one[f"{key}_{unit}"] * size for key in ("proof", "tensile", "yield")
            )
            return BoltStrength(text, proof, tensile, yielding, source_of(_FILE, row), row["sure"])
    return None


def unmarked_bolt(*, is_inch: bool) -> str:
    """The weakest grade or class that shops sell, for a bolt of which nothing is said."""
    name: str = load(_FILE)["unsaid"]["inch" if is_inch else "metric"]
    return name
