"""What the hinge's play is worth, against rigid bodies placed by scipy's root finder."""

import math

import numpy as np
import pytest
from invented_scenarios import BASES
from made_mounts import setup
from scipy.optimize import brentq

from mountcalc import parse_scenario
from mountcalc.strength.play import tension_of_play

PUSH = ["jack-in-base", "jack-in-plate", "link"]


def rotated(point, hinge, angle):
    turn = complex(math.cos(angle), math.sin(angle))
    return complex(*hinge) + turn * (complex(*point) - complex(*hinge))


def extension(scenario, angle, by):
    """Length of the adjuster from as drawn, its plate moved by a complex number."""
    adjuster, hinge = scenario.adjuster, scenario.plate.hinge
    if adjuster.base_pin:
        pin = rotated(adjuster.plate_pin, hinge, angle) + by
        base = complex(*adjuster.base_pin)
        return abs(pin - base) - abs(complex(*adjuster.plate_pin) - base)
    axis, face = adjuster.axis, adjuster.face
    if adjuster.kind == "jack-in-base":
        point, normal = rotated(adjuster.tip, hinge, angle) + by, 1j * np.exp(1j * (face + angle))
        away, way = point - complex(*adjuster.tip), np.exp(1j * axis)
    else:
        point, normal = rotated(adjuster.tip, hinge, angle) + by, 1j * np.exp(1j * face)
        away, way = complex(*adjuster.tip) - point, np.exp(1j * (axis + angle))
    return (away * normal.conjugate()).real / (way * normal.conjugate()).real


def tension(scenario, angle, by):
    """Of one strand, by the exact length of an open belt."""
    motor, driven, belt = scenario.motor, scenario.driven, scenario.belt
    apart = abs(rotated(motor.shaft, scenario.plate.hinge, angle) + by - complex(*driven.shaft))
    large, small = driven.pulley_radius, motor.pulley_radius
    lean = math.asin((large - small) / apart)
    path = (
        2 * math.sqrt(apart**2 - (large - small) ** 2)
        + math.pi * (large + small)
        + 2 * (large - small) * lean
    )
    return belt.stiffness * max(path - belt.length, 0) / belt.length


@pytest.mark.parametrize("kind", PUSH)
@pytest.mark.parametrize("by", [(2e-4, 0.0), (0.0, -1.5e-4), (1e-4, 1e-4)])
def test_play_by_rigid_bodies(kind, by):
    scenario = parse_scenario(BASES[kind])
    at = setup(scenario)
    solved = at.ways[0]
    case = solved.at_rest([at.turns])
    phi = float(case.phi[0])
    held = extension(scenario, phi, 0)
    assert held == pytest.approx(solved.zero_extension + at.turns * solved.advance, abs=1e-9)
    assert tension(scenario, phi, 0) == pytest.approx(float(case.tension[0]), rel=1e-6)
    there = brentq(
        lambda angle: extension(scenario, angle, complex(*by)) - held, phi - 0.02, phi + 0.02
    )
    wanted = tension(scenario, there, complex(*by)) - tension(scenario, phi, 0)
    assert tension_of_play(at, by) == pytest.approx(wanted, rel=1e-3, abs=1e-3)
    assert tension_of_play(at, (0.0, 0.0)) == pytest.approx(0, abs=1e-9)


def test_without_an_adjuster_nothing_holds_the_plate():
    at = setup(parse_scenario(BASES["none"]))
    assert tension_of_play(at, (1e-4, 0.0)) is None
