"""How far a danger must be behind an opening that a hand may reach through."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from mountcalc.handbook.rows import Datum, load, source_of

__all__ = ["Opening", "reach_distance", "widest_opening"]

_FILE = "guarding"
_MM = 1e-3
_ROUNDING = 1e-9  # [m]


class Opening(StrEnum):
    """Shapes of openings that the table tells apart."""

    SLOT = "slot"
    SQUARE = "square"
    ROUND = "round"


def _table() -> dict[str, Any]:
    table: dict[str, Any] = load(_FILE)["reach"]
    return table


def widest_opening() -> float:
    """The widest opening that the table has [m]; through wider ones whole arms reach."""
    return float(_table()["rows"][-1]["to_mm"]) * _MM


def reach_distance(shape: Opening, size: float, length: float | None = None) -> Datum | None:
    """Least distance from an opening to the danger behind it."""
    table = _table()
    row = next((row for row in table["rows"] if size <= row["to_mm"] * _MM + _ROUNDING), None)
    if row is None:
        return None
    is_short = length is not None and length <= table["short_slot_mm"] * _MM + _ROUNDING
    key = f"{shape}_mm"
    if shape is Opening.SLOT and is_short:
        key = "short_slot_mm" if "short_slot_mm" in row else key
    return Datum(row[key] * _MM, source_of(_FILE, table), table["sure"])
