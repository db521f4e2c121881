"""Are two tables the same numbers, up to scale and to rounding?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields

import pytest

from mountcalc.table.results import BearingLoad, Case, Row, TensionTable

__all__ = ["SAME", "Scales", "assert_alike"]

_LENGTHS = {"extension", "center_distance", "span", "deflection", "advance_per_turn"}
_FORCES = {
    *("tension", "tension_low", "tension_high", "tension_per_turn", "deflection_force", "pull"),
    *("tight", "slack", "shaft_load", "adjuster", "hinge", "load"),
}
_NUMBERS = {"turns", "plate_angle", "grip", "share_of_limit"}
_WORDS = {"state", "slips", "name", "kind", "grip_reason", "tighten_by"}

# Plate angles are found to rounding; a stiff belt makes that a force of this share of its largest.
_TOLERANCE = 1e-7


@dataclass(frozen=True)
class Scales:
    """How many times larger the second table's lengths, forces and speeds are."""

    length: float = 1.0
    force: float = 1.0
    speed: float = 1.0
    angle_sign: int = 1
    extension_offset: float = 0.0

    def of(self, field: str) -> float | None:
        """Factor of a field; None where it is no plain quantity."""
        if field in _LENGTHS:
            return self.length
        if field in _FORCES:
            return self.force
        if field == "plate_angle":
            return float(self.angle_sign)
        if field in _NUMBERS:
            return 1.0
        return {
            "pressure": self.force / self.length**2,
            "span_frequency": self.speed,
            "driven": self.speed,
            "belt_speed": self.speed * self.length,
        }.get(field)


SAME = Scales()


def assert_alike(table: TensionTable, other: TensionTable, scales: Scales = SAME) -> None:
    """Every field of the second table is that of the first times its factor."""
    _alike("", table, other, scales, _largest_force(table))
    assert len(table.rows) == len(other.rows)
    for index, (row, second) in enumerate(zip(table.rows, other.rows, strict=True)):
        floor = _largest_force(row)
        _alike(f"rows[{index}]", row, second, scales, floor)
        for name in row.cases:
            case, other_case = row.cases[name], second.cases[name]
            _alike(f"rows[{index}].{name}", case, other_case, scales, floor)
            for bearing, twin in zip(case.bearings, other_case.bearings, strict=True):
                _alike(f"rows[{index}].{name}.{bearing.name}", bearing, twin, scales, floor)
    for part in ("snug", "zero"):
        _alike(part, getattr(table, part), getattr(other, part), scales, floor)


def _alike(where: str, one: object, other: object, scales: Scales, floor: float) -> None:
    for item in fields(one):
        a, b = getattr(one, item.name), getattr(other, item.name)
        key = f"{where}.{item.name}"
        if item.name in _WORDS:
            assert a == b, key
            continue
        factor = scales.of(item.name)
        if factor is None:
            continue
        assert (a is None) == (b is None), (key, a, b)
        if a is not None:
            least = floor if item.name in _FORCES else _LEAST.get(item.name, 0.1)
            absolute = _TOLERANCE * least * abs(factor)
            assert b == pytest.approx(a * factor, rel=_TOLERANCE, abs=absolute), key


# Below these, a difference is no longer one that matters: [rad], [m], [Pa] and plain numbers.
_LEAST = {"plate_angle": 1.0, "pressure": 1e5, "span_frequency": 1.0}


def _largest_force(part: TensionTable | Row) -> float:
    return max((abs(value) for value in _forces(part)), default=0.0)


def _forces(part: TensionTable | Row | Case | BearingLoad) -> Iterator[float]:
    for item in fields(part):
        value = getattr(part, item.name)
        if item.name in _FORCES and value is not None and math.isfinite(value):
            yield value
    if isinstance(part, TensionTable):
        for row in part.rows:
            yield from _forces(row)
    elif isinstance(part, Row):
        for case in part.cases.values():
            yield from _forces(case)
