"""Pulleys of preferred diameters for a wanted speed of the driven shaft."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.belts.power import least_diameter, least_pulley
from mountcalc.belts.results import PulleyPair
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import (
    greatest_rim_speed,
    outside_less_pitch,
    pitch_from_datum,
    pitch_from_rim,
)
from mountcalc.handbook.belts.lengths import nearest, series
from mountcalc.handbook.belts.pulleys import preferred_diameters, preferred_source, pulleys_for
from mountcalc.handbook.belts.sections import NumberOf
from mountcalc.linkage import kernels
from mountcalc.scenario.model import Display, Driven, Motor, PulleyFace, Scenario

__all__ = ["preferred_pulleys", "pulley_notes"]

_PAIRS, _TRIED = 6, 400
_FARTHEST_OFF = 0.05  # of the wanted speed
_SAME = 1e-6  # [m]
_BOTH = "both"


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of the drive: its pulley's pitch diameter [m], and how such pulleys are sold.

    ``named`` says by what diameter; ``over`` [m] is how much that is over the pitch diameter.
    """

    pitch: float
    named: str
    over: float

    @property
    def size(self) -> float:
        """Its pulley's named diameter as it is [m]."""
        return self.pitch + self.over


def preferred_pulleys(scenario: Scenario, wanted_speed: float) -> tuple[PulleyPair, ...]:
    """Look up pairs of pulleys for a speed, with the belt for the centres as drawn.

    Notes
    -----
    The speed is that without creep, from pitch diameters. A preferred diameter is that of a flat
    rim, a datum diameter in a metric shop, else an outside diameter.
    """
    is_metric = scenario.display is Display.METRIC
    motor = _side(scenario, scenario.motor, is_metric=is_metric)
    driven = _side(scenario, scenario.driven, is_metric=is_metric)
    sizes = preferred_diameters(metric=is_metric)
    least = least_diameter(scenario)
    new = pulleys_for(
        scenario.motor.speed / wanted_speed,
        is_metric,
        0.0 if least is None else least.value,
        2 * math.dist(scenario.motor.shaft, scenario.driven.shaft),
        _TRIED,
        (motor.over, driven.over),
    )
    tried: dict[str | None, list[tuple[float, float]]] = {
        "driven": [(size, driven.size) for size in sizes if size > motor.over],
        "motor": [(motor.size, size) for size in sizes if size > driven.over],
        None: [(pair.driving, pair.driven) for pair in new],
    }
    found: list[PulleyPair] = []
    for kept, pairs in tried.items():
        # The pulleys as they are keep both, and are told once.
        wanted = {kept} if any(pair.kept == _BOTH for pair in found) else {kept, _BOTH}
        good = [
            pair
            for one in pairs
            if (pair := _pair(scenario, (motor, driven), one, wanted_speed)) is not None
            and pair.kept in wanted
        ]
        good.sort(key=lambda pair: abs(round(pair.speed_error, 12)))
        found += good[: _PAIRS // 3 if kept else _PAIRS]
    return tuple(found)


def pulley_notes(scenario: Scenario) -> tuple[str, ...]:
    """Say where the diameters are from."""
    source = preferred_source(metric=scenario.display is Display.METRIC)
    return (f"The diameters of new pulleys are those of {source}; ask what is made.",)


def _pair(
    scenario: Scenario,
    sides: tuple[_Side, _Side],
    sizes: tuple[float, float],
    wanted_speed: float,
) -> PulleyPair | None:
    """One pair of pulleys by their named diameters [m], or None where it will not do."""
    radii = [(size - side.over) / 2 for size, side in zip(sizes, sides, strict=True)]
    center = math.dist(scenario.motor.shaft, scenario.driven.shaft)
    speed = scenario.motor.speed * radii[0] / radii[1]
    is_near = abs(speed / wanted_speed - 1.0) <= _FARTHEST_OFF
    if (
        sum(radii) >= center
        or not is_near
        or _is_small(scenario, radii)
        or _is_fast(scenario, sizes, radii)
    ):
        return None
    length = float(kernels.open_belt(center, *radii).length)
    belt = _nearest_belt(scenario, length)
    return PulleyPair(
        kept=_kept(sides, sizes),
        motor_named=sides[0].named,
        motor_pulley=sizes[0],
        driven_named=sides[1].named,
        driven_pulley=sizes[1],
        driven=speed,
        speed_error=speed / wanted_speed - 1.0,
        pitch_length=length,
        designation=None if belt is None else belt.text,
        difference=None if belt is None else belt.pitch_length - length,
    )


def _is_fast(scenario: Scenario, sizes: tuple[float, float], radii: list[float]) -> bool:
    """Whether the driven shaft or either rim would run too fast."""
    belt_speed = scenario.motor.speed * radii[0]
    over = max(size / 2 / radius for size, radius in zip(sizes, radii, strict=True))
    most = scenario.driven.max_speed
    is_shaft_fast = most is not None and belt_speed / radii[1] > most * (1 + 1e-9)
    return is_shaft_fast or belt_speed * max(1.0, over) > greatest_rim_speed().value


def _is_small(scenario: Scenario, radii: list[float]) -> bool:
    """Whether a pulley is smaller than the belt bears, or the motor's than its bearings do."""
    belt = least_diameter(scenario)
    least = least_pulley(scenario), 0.0 if belt is None else belt.value
    return any(2 * radius < size * (1 - 1e-3) for radius, size in zip(radii, least, strict=True))


def _kept(sides: tuple[_Side, _Side], sizes: tuple[float, float]) -> str | None:
    """Which pulley stays as it is."""
    motor, driven = (abs(size - side.size) < _SAME for size, side in zip(sizes, sides, strict=True))
    if motor and driven:
        return _BOTH
    return "motor" if motor else "driven" if driven else None


def _side(scenario: Scenario, part: Motor | Driven, *, is_metric: bool) -> _Side:
    section, pitch = scenario.belt.section or "", 2 * part.pulley_radius
    if part.pulley_face is PulleyFace.FLAT:
        over = pitch_from_rim(section, 0.0, scenario.belt.thickness)
        return _Side(pitch, "rim", 0.0 if over is None else -over)
    if is_metric and pitch_from_datum(section, 1.0) is not None:
        return _Side(pitch, "datum", 0.0)
    outside = outside_less_pitch(section)
    if outside is None:
        return _Side(pitch, "pitch", 0.0)
    return _Side(pitch, "outside", outside.value)


def _nearest_belt(scenario: Scenario, length: float) -> Designation | None:
    """The belt to buy for a pitch length [m]; in an inch shop numbered in inches where any is."""
    section = scenario.belt.section or ""
    inch = [belt for belt in series(section) if belt.measures is not NumberOf.DATUM]
    near = [belt for belt in nearest(section, length) if belt is not None]
    choice = inch if inch and scenario.display is Display.INCH else near
    return min(choice, key=lambda belt: abs(belt.pitch_length - length)) if choice else None
