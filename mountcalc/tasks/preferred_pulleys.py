"""Pulleys of preferred diameters for a wanted speed of the driven shaft."""

from __future__ import annotations

import math

from mountcalc.belts.grooves import outside_less_pitch
from mountcalc.belts.lengths import nearest
from mountcalc.belts.preferred import pulleys_for
from mountcalc.linkage import kernels
from mountcalc.results.belts import PulleyPair
from mountcalc.scenario.model import Display, Scenario
from mountcalc.tasks.belt_power import least_pulley

__all__ = ["preferred_pulleys"]

_PAIRS = 8
# Pulleys of more than this share of the centre distance leave the belt no wrap to speak of.
_LARGEST_OVER_CENTERS = 1.2


def preferred_pulleys(scenario: Scenario, wanted_speed: float) -> tuple[PulleyPair, ...]:
    """Look up pairs of pulleys for a speed, with the belt for the centres as drawn.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    wanted_speed : float [rad/s]
        Speed wanted of the driven shaft, above zero.

    Returns
    -------
    tuple of PulleyPair
        The nearest in speed first; empty where no pair of preferred diameters comes near.

    Notes
    -----
    The speed is that without creep, from pitch diameters; a preferred diameter is a datum diameter
    (metric) or an outside diameter (inch), whose pitch diameter is less by what the section's
    grooves have.
    """
    is_metric = scenario.display is Display.METRIC
    less = _outside_less_pitch(scenario, is_metric=is_metric)
    center = math.dist(scenario.motor.shaft, scenario.driven.shaft)
    pairs = pulleys_for(
        scenario.motor.speed / wanted_speed,
        is_metric,
        least_pulley(scenario) + less,
        _LARGEST_OVER_CENTERS * center,
        _PAIRS,
        less,
    )
    found = []
    for motor, driven, _ in pairs:
        radii = (motor - less) / 2, (driven - less) / 2
        if sum(radii) >= center:
            continue
        length = float(kernels.open_belt(center, *radii).length)
        speed = scenario.motor.speed * radii[0] / radii[1]
        found.append(
            PulleyPair(
                named="datum" if is_metric else "outside",
                motor_pulley=motor,
                driven_pulley=driven,
                driven=speed,
                speed_error=speed / wanted_speed - 1.0,
                pitch_length=length,
                designation=_nearest_name(scenario, length),
            )
        )
    return tuple(found)


def _outside_less_pitch(scenario: Scenario, *, is_metric: bool) -> float:
    """What a named diameter is more than the pitch diameter [m]."""
    datum = None if is_metric else outside_less_pitch(scenario.belt.section or "")
    return 0.0 if datum is None else datum.value


def _nearest_name(scenario: Scenario, length: float) -> str | None:
    """The belt to buy for a pitch length [m]."""
    near = [belt for belt in nearest(scenario.belt.section or "", length) if belt is not None]
    if not near:
        return None
    return min(near, key=lambda belt: abs(belt.pitch_length - length)).text
