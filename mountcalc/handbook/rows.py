"""Handbook numbers with their sources: how the rows of the data files are read."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

__all__ = ["INCH", "Datum"]

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
    "kg_m3": 1.0,
}


@dataclass(frozen=True, slots=True)
class Datum:
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


def measure(row: dict[str, Any], key: str) -> float:
    """Read a number [SI] whose key ends in its unit, such as ``width_mm``."""
    ((unit, number),) = ((unit, row[f"{key}_{unit}"]) for unit in _UNITS if f"{key}_{unit}" in row)
    return float(number * _UNITS[unit])
