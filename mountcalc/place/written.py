"""The mount of a layout with its numbers as a hand reads them: rounded before it is judged."""

from __future__ import annotations

import math
from dataclasses import replace

from mountcalc.scenario.model import Adjuster, Display, Scenario, Vector
from mountcalc.units import STANDARD_GRAVITY, si_factor

__all__ = ["as_written"]

# What lengths are rounded to [m], and a plate's weight [N]; directions are to a tenth of a degree.
_LENGTH = {Display.INCH: si_factor("in") / 64, Display.METRIC: 1e-4}
_WEIGHT = {
    Display.INCH: 0.01 * si_factor("lb") * STANDARD_GRAVITY,
    Display.METRIC: 0.01 * STANDARD_GRAVITY,
}
_TENTHS = 10


def as_written(scenario: Scenario) -> Scenario:
    """Round what the search reckoned of a mount; its marks and what the file said stay."""
    step, plate, parts = _LENGTH[scenario.display], scenario.plate, scenario.parts
    weight = _WEIGHT[scenario.display]
    return replace(
        scenario,
        plate=replace(
            plate,
            weight=_at_least_one(plate.weight, weight),
            center_of_mass=_point(plate.center_of_mass, step),
        ),
        adjuster=_adjuster(scenario.adjuster, step),
        parts=replace(
            parts,
            plate=replace(
                parts.plate,
                length=_rounded(parts.plate.length, step),
                direction=_direction(parts.plate.direction),
            ),
            packing=round(parts.packing / step) * step,
        ),
    )


def _adjuster(adjuster: Adjuster, step: float) -> Adjuster:
    return replace(
        adjuster,
        tip=None if adjuster.tip is None else _point(adjuster.tip, step),
        base_pin=None if adjuster.base_pin is None else _point(adjuster.base_pin, step),
        plate_pin=None if adjuster.plate_pin is None else _point(adjuster.plate_pin, step),
        axis=_direction(adjuster.axis),
        face=_direction(adjuster.face),
    )


def _at_least_one(value: float, step: float) -> float:
    """A weight at its step; none stays none."""
    return max(round(value / step), 1) * step if value > 0 else value


def _point(at: Vector, step: float) -> Vector:
    return round(at[0] / step) * step, round(at[1] / step) * step


def _rounded(value: float | None, step: float) -> float | None:
    return None if value is None else round(value / step) * step


def _direction(angle: float | None) -> float | None:
    return None if angle is None else math.radians(round(math.degrees(angle) * _TENTHS) / _TENTHS)
