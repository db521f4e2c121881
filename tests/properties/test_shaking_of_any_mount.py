"""What shakes any mount: the swing is the energy's second derivative, and bounds hold."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from random_mounts import mounts
from shaft_bodies import with_places
from sizes import examples
from tables import RESTING, solved_or_other

from mountcalc.loads import Stiffness, loads_judgements
from mountcalc.loads.shaking import PLATE, shaking, swing_of
from mountcalc.structure.yielding import Softness

TURNS = 1.5
BOARD = Stiffness(bending=1500.0, twisting=700.0, hinge=5e6, bolt=2e6)


def loaded(scenario):
    solved, _ = solved_or_other(scenario)
    cases = solved.cases(solved.place(TURNS), with_grip=False)
    assume(cases.rest.state[0] in RESTING and cases.running.state[0] in RESTING)
    return solved, cases


@settings(max_examples=examples(60))
@given(mounts())
def test_belt_and_weights_hold_the_plate_by_the_energys_second_derivative(scenario):
    solved, cases = loaded(scenario)
    case, mount, step = cases.rest, solved.mount, 1e-3
    assume(case.tension[0] > 1.0)
    found = swing_of(solved, "rest", case)
    phi = float(case.phi[0])
    at = phi + step * np.arange(-2, 3)
    assume(np.all(mount.tension(mount.path(at).length) > 0))
    levels = mount.energy(at)
    # Of fourth order: good to the step's fourth power and to rounding over its square.
    weights = np.array([-1.0, 16.0, -30.0, 16.0, -1.0]) / (12 * step**2)
    second = float(levels @ weights)
    rounding = 1e-14 * np.abs(levels).max() / step**2
    parts = abs(found.belt) + abs(found.weights)
    assert found.belt + found.weights == pytest.approx(second, abs=1e-6 * parts + rounding)


@settings(max_examples=examples(45))
@given(mounts().flatmap(with_places))
def test_frequencies_are_bounded_and_a_board_that_gives_tells_one(scenario):
    solved, _ = loaded(scenario)
    soft = Softness(bending=1 / 1500.0, twisting=1 / 700.0, leaves=2e-7, bolt=5e-7)
    found = shaking(solved, TURNS, soft)
    assert found is not None
    plate = found.modes[0]
    assert plate.name == PLATE
    assert 0 <= plate.low <= plate.frequency <= plate.high
    assert math.isfinite(plate.frequency) is (found.inertia > 0)
    assert found.inertia >= 0
    for mode in found.modes[1:]:
        assert 0 <= mode.frequency < math.inf
    for meeting in found.meetings:
        assert meeting.shaker in {one.name for one in found.shakers}
    if found.ripple is not None:
        assert found.ripple.force >= 0
        assert not found.ripple.loses_contact or found.ripple.force >= found.ripple.held


@settings(max_examples=examples(45))
@given(mounts().flatmap(with_places))
def test_what_is_said_of_any_mount_is_finite_and_fails_none(scenario):
    solved, _ = loaded(scenario)
    for stiffness in (Stiffness(), BOARD):
        for one in loads_judgements((solved,), TURNS, stiffness):
            assert one.verdict != "fail"
            assert one.value is None or math.isfinite(one.value)
            assert "nan" not in one.sentence
