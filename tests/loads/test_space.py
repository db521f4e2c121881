"""Loads along the shafts by plain statics: levers, shared twist, racking between two bolts."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from shaft_bodies import plain_body

from mountcalc.loads.feet import feet_forces
from mountcalc.loads.results import RIGID, Stiffness
from mountcalc.loads.space import racking, share_out
from mountcalc.scenario.model import Acts

LEAF = 0.08
BOARD = Stiffness(twisting=250.0, hinge=3e6, bolt=2e6)
PAIR = (-0.09, 0.07)


def shared(body, stiffness=RIGID, acts=Acts.PUSH, ahead=0.0):
    return share_out(body, stiffness, LEAF, acts, ahead)


def test_two_hinges_and_a_bolt_are_a_beam_on_two_supports():
    """R_B = P (L + a)/L and R_A = -P a/L of an overhung force, and levers of what lies between."""
    body = plain_body()
    near, far = shared(body).hinges
    shares = np.zeros((2, 2))
    for across, force in (
        (body.places.pulley, body.belts.force),
        (body.places.motor, body.weight.force),
        (body.places.plate, body.board.force),
        (0.0, body.bolts * body.push),
    ):
        at_far = (across + 0.1) / 0.2
        shares -= np.outer([1.0 - at_far, at_far], force[:2])
    assert near.force == pytest.approx(shares[0])
    assert far.force == pytest.approx(shares[1])


def test_a_belt_outboard_of_the_hinges_loads_one_with_more_than_the_whole_and_lifts_the_other():
    for beyond in (0.05, 0.1):
        body = plain_body(pulley=0.1 + beyond)
        bare = replace(
            body, bolts=0.0, weight=replace(body.weight, force=np.zeros(3)),
            board=replace(body.board, force=np.zeros(3)), hinges=-body.belts.force,
        )  # fmt: skip
        near, far = (np.array(one.force) for one in shared(bare).hinges)
        pull = body.belts.force[:2]
        assert far == pytest.approx(-pull * (1 + beyond / 0.2))
        assert near == pytest.approx(pull * beyond / 0.2)


def test_more_hinges_share_as_bolts_of_a_bracket_do():
    """Alike springs on one line: each its part of the sum, and by its distance of the couple."""
    body = plain_body(hinges=(-0.15, -0.05, 0.1))
    forces = np.array([one.force for one in shared(body).hinges])
    across = np.array(body.places.hinges)
    slopes = np.diff(forces, axis=0) / np.diff(across)[:, np.newaxis]
    assert slopes[0] == pytest.approx(slopes[1])
    assert forces.sum(axis=0) == pytest.approx(body.hinges[:2])


def test_a_single_hinge_holds_the_couple_that_two_close_ones_would():
    one, two = plain_body(hinges=(0.02,)), plain_body(hinges=(0.0199, 0.0201))
    alone, (near, far) = shared(one).hinges[0], shared(two).hinges
    assert alone.force == pytest.approx(tuple(np.add(near.force, far.force)))
    apart = 0.0001 * np.subtract(far.force, near.force)
    # r x F of forces along the shafts' direction: -z Fy about x, z Fx about y.
    assert alone.couple == pytest.approx((-apart[1], apart[0]), abs=1e-9)


def energy(body, stiffness, first, ahead=0.0):
    """Complementary energy of hinges, plate and bolts with so much on the first of two bolts."""
    at, forces = body.meets[0], (first, body.bolts - first)
    torques = [(at, -z * force) for z, force in zip(body.places.bolts, forces, strict=True)]
    for place, force in zip(*feet_forces(body), strict=True):
        torques.append((place[0], -place[2] * force[1]))
    torques.append((body.board.at[0], body.board.about_hinge[0]))

    def held(place):
        return sum(torque for where, torque in torques if where > place)

    stations = sorted({0.0, *(where for where, _ in torques)})
    twisted = sum(
        quad(lambda place: held(place) ** 2, one, other)[0] for one, other in pairwise(stations)
    )
    spread = np.var(body.places.hinges) * len(body.places.hinges)
    return (
        0.5 * held(-1.0) ** 2 / (stiffness.hinge * spread)
        + 0.5 * twisted / stiffness.twisting
        + 0.5 * np.dot(forces, forces) / stiffness.bolt
        - 0.5 * ahead * (forces[0] - forces[1])
    )


@pytest.mark.parametrize("ahead", [0.0, 2e-4, -3e-4])
def test_two_bolts_share_so_that_the_energy_is_least(ahead):
    body = plain_body(bolts=PAIR)
    least = minimize_scalar(lambda first: energy(body, BOARD, first, ahead)).x
    found = shared(body, BOARD, Acts.BOTH, ahead)
    assert found.bolts[0].force == pytest.approx(least, rel=1e-6)
    assert found.bolts[0].force + found.bolts[1].force == pytest.approx(body.bolts)


def test_where_nothing_is_known_to_give_bolts_and_hinges_count_as_alike():
    body = plain_body(bolts=PAIR)
    alike = shared(body, Stiffness(hinge=5e5, bolt=5e5), Acts.BOTH)
    assert shared(body, RIGID, Acts.BOTH).bolts == tuple(
        replace(one, force=pytest.approx(one.force)) for one in alike.bolts
    )


def test_rigid_is_the_limit_of_stiff():
    body, errors = plain_body(bolts=PAIR), []
    limit = shared(body, Stiffness(twisting=250.0), Acts.BOTH)
    for stiff in (1e8, 1e9, 1e10):
        near = shared(body, Stiffness(twisting=250.0, hinge=stiff, bolt=stiff), Acts.BOTH)
        errors.append(abs(near.bolts[0].force - limit.bolts[0].force))
    assert errors[1] == pytest.approx(errors[0] / 10, rel=0.02)
    assert errors[2] == pytest.approx(errors[1] / 10, rel=0.02)


def test_a_bolt_that_can_only_push_comes_loose_and_the_other_carries_all():
    body = plain_body(bolts=PAIR)
    slack = shared(body, BOARD, Acts.PUSH, ahead=0.02)
    assert slack.loose
    assert [one.force for one in slack.bolts] == pytest.approx([body.bolts, 0.0])
    held = shared(body, BOARD, Acts.BOTH, ahead=0.02)
    assert not held.loose
    assert held.bolts[1].force < 0


def test_tilt_is_the_twist_of_the_hinges_and_of_the_plate_up_to_the_feet():
    """One bolt in the middle holds no twist: the motor's is a bar's, T l / GJ, and the hinges'."""
    body = plain_body()
    body = replace(body, places=replace(body.places, feet_middle=0.0))
    torque = body.belts.about_hinge[0] + body.weight.about_hinge[0]
    near, far = 0.25 - 0.06, 0.25 + 0.06
    # Half of it enters at each row of feet, and the motor turns as the mean of both.
    bar = 0.25 * (near + near + near + far) / 250.0
    expected = torque * (bar + 1 / (3e6 * 2 * 0.1**2))
    assert shared(body, BOARD).tilt_along == pytest.approx(expected)
    assert shared(body, RIGID).tilt == 0.0


@pytest.mark.parametrize("stiffness", [BOARD, Stiffness(twisting=250.0), Stiffness(bolt=1e6)])
def test_racking_is_what_a_turn_of_one_bolt_changes(stiffness):
    body, apart = plain_body(bolts=PAIR), 1e-4
    before, after = (shared(body, stiffness, Acts.BOTH, ahead) for ahead in (0.0, apart))
    slope = racking(body, stiffness, LEAF)
    gained = after.bolts[0].force - before.bolts[0].force
    assert gained == pytest.approx(slope.force * apart)
    tilted = abs(after.tilt_along - before.tilt_along)
    assert tilted == pytest.approx(slope.pulley * apart, abs=1e-15)


def test_between_rigid_hinges_and_bolts_the_plate_turns_as_its_bolts_do():
    """So far out over so far apart at the bolts, and at the motor by its share of the way."""
    body = plain_body(bolts=PAIR)
    for stiffness in (RIGID, Stiffness(twisting=250.0)):
        found = racking(body, stiffness, LEAF)
        assert found.plate == pytest.approx(1 / 0.16)
        assert found.pulley == pytest.approx(0.25 / 0.4 / 0.16)
    assert math.isinf(racking(body, RIGID, LEAF).force)
    assert racking(plain_body(), BOARD, LEAF) is None
