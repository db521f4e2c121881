"""How much tension the play of the hinge's pin is worth: the plate moved, and solved again."""

from __future__ import annotations

import math
from dataclasses import replace

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.scenario.model import Adjuster, AdjusterKind, Scenario
from mountcalc.scenario.text.writing import Vector
from mountcalc.strength.carried import Setup


def tension_of_play(setup: Setup, moved: Vector) -> float | None:
    """What the tension at rest changes by as the plate moves with its pin by so much [m], in N.

    The bolt stays as far out as it is. None where nothing holds the plate, or not where it goes to.
    """
    solved, turns = setup.ways[0], setup.turns
    if turns is None:
        return None
    scenario, longer = _moved(setup.scenario, moved)
    try:
        there = solve_mount(Mount.of(scenario))
        extension = solved.zero_extension + turns * solved.advance
        at = (extension - longer - there.zero_extension) / there.advance
        tensions = [
            float(one.at_rest([place]).tension[0]) for one, place in ((solved, turns), (there, at))
        ]
    except MountError:
        return None
    change = tensions[1] - tensions[0]
    return change if math.isfinite(change) else None


def _moved(scenario: Scenario, by: Vector) -> tuple[Scenario, float]:
    """The mount with its plate and all on it moved, and how much longer its adjuster is [m]."""

    def shifted(point: Vector) -> Vector:
        return point[0] + by[0], point[1] + by[1]

    motor, plate, adjuster = scenario.motor, scenario.plate, scenario.adjuster
    motor = replace(motor, shaft=shifted(motor.shaft), center_of_mass=shifted(motor.center_of_mass))
    plate = replace(plate, hinge=shifted(plate.hinge), center_of_mass=shifted(plate.center_of_mass))
    adjuster, longer = _adjuster(adjuster, by)
    return replace(scenario, motor=motor, plate=plate, adjuster=adjuster), longer


def _adjuster(adjuster: Adjuster, by: Vector) -> tuple[Adjuster, float]:
    """The adjuster as it meets the moved plate, with its length counted from there."""
    if adjuster.kind is AdjusterKind.LINK:
        base, pin = adjuster.base_pin, adjuster.plate_pin
        assert base is not None
        assert pin is not None
        there = pin[0] + by[0], pin[1] + by[1]
        return replace(adjuster, plate_pin=there), math.dist(there, base) - math.dist(pin, base)
    tip, axis, face = adjuster.tip, adjuster.axis, adjuster.face
    assert tip is not None
    assert axis is not None
    assert face is not None
    unit, normal = (math.cos(axis), math.sin(axis)), (-math.sin(face), math.cos(face))
    # How far along its axis the tip finds the face again.
    along = (by[0] * normal[0] + by[1] * normal[1]) / (unit[0] * normal[0] + unit[1] * normal[1])
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return replace(adjuster, tip=(tip[0] + along * unit[0], tip[1] + along * unit[1])), along
    moved = tip[0] + by[0] - along * unit[0], tip[1] + by[1] - along * unit[1]
    return replace(adjuster, tip=moved), -along
