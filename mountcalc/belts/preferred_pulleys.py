"""Pulleys of preferred diameters for a wanted speed of the driven shaft."""

from __future__ import annotations

import math

from mountcalc.belts.drive import least_diameter, least_pulley, rim_less_pitch
from mountcalc.belts.results import PulleyPair
from mountcalc.handbook.belts.grooves import greatest_rim_speed, has_datum_diameter
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.pulleys import preferred_diameters, pulleys_for
from mountcalc.handbook.belts.sections import NumberOf
from mountcalc.linkage import kernels
from mountcalc.record import Record
from mountcalc.scenario.driven import Driven
from mountcalc.scenario.model import Motor, Scenario
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING, SAME_PLACE

_PAIRS, _TRIED = 6, 400
_FARTHEST_OFF = 0.05  # of the wanted speed
_BOTH = "both"


class _Side(Record):
    """One side of the drive: its pulley's size as it is [m], and how such pulleys are sold.

    ``named`` says by what diameter; ``over`` [m] is how much that is over the pitch diameter.
    """

    size: float
    named: str
    over: float


def preferred_pulleys(scenario: Scenario, wanted_speed: float) -> tuple[PulleyPair, ...]:
    """Look up pairs of pulleys for a speed, with the belt for the centres as drawn.

    The speed is that without creep, from pitch diameters. A preferred diameter is that of a flat
    rim, a datum diameter in a metric shop, else an outside diameter.
    """
    is_metric = scenario.display is Display.METRIC
    motor, driven = sides = tuple(
        _side(scenario, part, is_metric=is_metric) for part in (scenario.motor, scenario.driven)
    )
    sizes, least = preferred_diameters(metric=is_metric), least_diameter(scenario)
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
    for kept, several in tried.items():
        # The pulleys as they are keep both, and are told once.
        wanted = {kept} if any(pair.kept == _BOTH for pair in found) else {kept, _BOTH}
        pairs = (_pair(scenario, sides, one, wanted_speed) for one in several)
        good = [pair for pair in pairs if pair is not None and pair.kept in wanted]
        good.sort(key=lambda pair: abs(round(pair.speed_error, 12)))
        found += good[: _PAIRS // 3 if kept else _PAIRS]
    return tuple(found)


def _side(scenario: Scenario, part: Motor | Driven, *, is_metric: bool) -> _Side:
    pitch, over = 2 * part.pulley_radius, rim_less_pitch(scenario, part)
    if part.pulley_face is PulleyFace.FLAT:
        return _Side(pitch + (over or 0.0), "rim", over or 0.0)
    if is_metric and has_datum_diameter(scenario.belt.section or ""):
        return _Side(pitch, "datum", 0.0)
    return _Side(pitch, "pitch", 0.0) if over is None else _Side(pitch + over, "outside", over)


def _pair(
    scenario: Scenario, sides: tuple[_Side, ...], sizes: tuple[float, float], wanted_speed: float
) -> PulleyPair | None:
    """One pair of pulleys by their named diameters [m], or None where it will not do."""
    motor, driven = radii = [
        (size - side.over) / 2 for size, side in zip(sizes, sides, strict=True)
    ]
    center = math.dist(scenario.motor.shaft, scenario.driven.shaft)
    speed = scenario.motor.speed * motor / driven
    is_near = abs(speed / wanted_speed - 1.0) <= _FARTHEST_OFF
    if not is_near or sum(radii) >= center or _is_refused(scenario, sizes, radii):
        return None
    length = float(kernels.open_belt(center, motor, driven).length)
    # The belt to buy; in an inch shop one that is numbered in inches where any is.
    every = series(scenario.belt.section or "")
    inch = [belt for belt in every if belt.measures is not NumberOf.DATUM]
    sold = inch if inch and scenario.display is Display.INCH else every
    belt = min(sold, key=lambda belt: abs(belt.pitch_length - length), default=None)
    is_kept = [abs(size - side.size) < SAME_PLACE for size, side in zip(sizes, sides, strict=True)]
    kept = "motor" if is_kept[0] else "driven" if is_kept[1] else None
    return PulleyPair(
        kept=_BOTH if all(is_kept) else kept,
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


def _is_refused(scenario: Scenario, sizes: tuple[float, float], radii: list[float]) -> bool:
    """Whether shaft or rims run too fast, or a pulley is too small for the belt or the motor."""
    belt, belt_speed = least_diameter(scenario), scenario.motor.speed * radii[0]
    most = scenario.driven.max_speed
    if most is not None and belt_speed / radii[1] > most * (1 + ROUNDING):
        return True
    over = max(size / 2 / radius for size, radius in zip(sizes, radii, strict=True))
    if belt_speed * max(1.0, over) > greatest_rim_speed().value:
        return True
    least = least_pulley(scenario), 0.0 if belt is None else belt.value
    return any(2 * radius < size * (1 - 1e-3) for radius, size in zip(radii, least, strict=True))
