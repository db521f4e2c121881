"""Handbook numbers with their sources: how the rows of the data files are read."""

from __future__ import annotations

import math
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any

from mountcalc.record import Record

INCH = 0.0254  # [m]

# The unit that a row names, in SI.
_UNITS = {
    "value": 1.0,
    "in": INCH,
    "mm": 1e-3,
    "deg": math.pi / 180.0,
    "N": 1.0,
    "kg_m": 1.0,
    "MPa": 1e6,
    "psi": 6894.757293168362,
    "ksi": 6894757.293168362,
    "kg_m3": 1.0,
}


class Datum(Record):
    """A handbook number: ``value`` in SI, its ``source`` and how ``sure`` it is.

    ``sure`` is "published", "common practice", "from memory" or "estimate".
    """

    value: float
    source: str
    sure: str


@lru_cache(maxsize=32)
def load(name: str) -> dict[str, Any]:
    """Return a data file of ``mountcalc/data``, read once; not to be changed."""
    path = Path(__file__).parents[1] / f"data/{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def source_of(name: str, row: dict[str, Any]) -> str:
    """Return the source of a row of a file; one that many share stands under ``sources``."""
    source: str = row["source"]
    shared: dict[str, str] = load(name).get("sources", {})
    return shared.get(source, source)


def datum(name: str, row: dict[str, Any]) -> Datum:
    """Read a row that has one number: ``{ in = 1.3, sure = "published", source = "..." }``."""
    ((unit, number),) = ((key, row[key]) for key in row if key in _UNITS)
    return Datum(number * _UNITS[unit], source_of(name, row), row["sure"])


def origin(name: str, row: dict[str, Any]) -> tuple[str, str]:
    """Return the source of a row and how sure it is, the last two fields of what is read of it."""
    return source_of(name, row), row["sure"]


def fields_of(name: str, row: dict[str, Any]) -> dict[str, Any]:
    """Read a row as the fields that its keys name.

    ``width_mm`` is the field ``width`` in SI, a row within the row a `Datum`.
    """
    found: dict[str, Any] = {}
    for key, value in row.items():
        field, _, unit = key.rpartition("_")
        if isinstance(value, dict):
            found[key] = datum(name, value)
        elif field and unit in _UNITS:
            size = _UNITS[unit]
            is_list = isinstance(value, list)
            found[field] = tuple(one * size for one in value) if is_list else value * size
        else:
            found[key] = source_of(name, row) if key == "source" else value
    return found


def row_up_to(rows: list[dict[str, Any]], number: float, key: str = "to") -> dict[str, Any] | None:
    """Return the first row whose end is not below a ``number``; None past the last."""
    return next((row for row in rows if number <= row[key]), None)
