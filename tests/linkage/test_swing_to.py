"""Plate angles at which the shafts are so far apart: against the swing itself."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mountcalc.linkage import kernels

# A distance near an in-line position hardly changes with the angle: it is the distance that is
# put back, in metres.
METRES = 1e-13
RADIUS = 0.05

coordinates = st.floats(-1.0, 1.0)
points = st.tuples(coordinates, coordinates)


def distance_at(phi, hinge, motor, driven):
    return kernels.belt_path(phi, *hinge, *motor, *driven, RADIUS, RADIUS).center_distance


def reach(hinge, motor, driven):
    arm = np.hypot(motor[0] - hinge[0], motor[1] - hinge[1])
    base = np.hypot(driven[0] - hinge[0], driven[1] - hinge[1])
    return abs(arm - base), arm + base


@given(hinge=points, motor=points, driven=points, share=st.floats(0.0, 1.0))
def test_at_both_angles_the_shafts_are_that_far_apart(hinge, motor, driven, share):
    near, far = reach(hinge, motor, driven)
    assume(far - near > 1e-3)
    wanted = min(max(near + share * (far - near), near * (1 + 1e-15)), far * (1 - 1e-15))
    assume(wanted > 1e-3)
    with np.errstate(invalid="ignore"):
        found = kernels.swing_to(wanted, *hinge, *motor, *driven)
    assume(found.past_nearest >= 0 and found.within_farthest >= 0)  # rounding at the very ends
    for angle in (found.counter_clockwise, found.clockwise):
        assert -np.pi <= angle <= np.pi
        assert distance_at(angle, hinge, motor, driven) == pytest.approx(wanted, abs=METRES)


@given(hinge=points, motor=points, driven=points, phi=st.floats(-3.1, 3.1))
def test_an_angle_comes_back_from_its_distance(hinge, motor, driven, phi):
    """Against the other kernels; away from in line, where two angles run together."""
    near, far = reach(hinge, motor, driven)
    assume(far - near > 1e-2)
    x, y, _ = kernels.plate_point(phi, *hinge, *motor)
    distance = float(np.hypot(driven[0] - x, driven[1] - y))
    assume(near + 0.01 * (far - near) < distance < far - 0.01 * (far - near))
    found = kernels.swing_to(distance, *hinge, *motor, *driven)
    angles = np.array([found.counter_clockwise, found.clockwise])
    off = np.abs(np.angle(np.exp(1j * (angles - phi))))
    assert off.min() <= 1e-10
    # The motor's shaft is there where the other kernel puts it: which of the two it is.
    side = (driven[0] - hinge[0]) * (y - hinge[1]) - (driven[1] - hinge[1]) * (x - hinge[0])
    assert (off.argmin() == 0) == (side > 0)


def test_against_a_walk_over_all_angles():
    random = np.random.default_rng(8)
    angles = np.linspace(-np.pi, np.pi, 20_001)
    step = angles[1] - angles[0]
    for _ in range(50):
        hinge, motor, driven = random.uniform(-1, 1, (3, 2))
        near, far = reach(hinge, motor, driven)
        wanted = near + random.uniform(0.02, 0.98) * (far - near)
        above = distance_at(angles, hinge, motor, driven) > wanted
        crossings = angles[:-1][above[:-1] != above[1:]] + 0.5 * step
        found = kernels.swing_to(wanted, *hinge, *motor, *driven)
        both = sorted([float(found.counter_clockwise), float(found.clockwise)])
        assert both == pytest.approx(sorted(crossings), abs=step)


@pytest.mark.parametrize("distance", [0.3999, 1.6001])
def test_out_of_reach_is_told(distance):
    """A motor 0.6 m from the hinge and a shaft 1 m from it: 0.4 m to 1.6 m."""
    with np.errstate(invalid="ignore"):
        found = kernels.swing_to(distance, 0, 0, 0.6, 0, 0, 1)
    assert min(found.past_nearest, found.within_farthest) < 0
    assert np.isnan(found.counter_clockwise)


def test_right_angle_by_hand():
    """Three and four with a five between: square to the base, on either side of it."""
    found = kernels.swing_to(5.0, 0, 0, 3, 0, 4, 0)
    assert found.counter_clockwise == pytest.approx(np.pi / 2, rel=1e-15)
    assert found.clockwise == pytest.approx(-np.pi / 2, rel=1e-15)


def test_nearly_in_line_is_as_good_as_the_distance():
    """A nanometre from the nearest: an angle of 2 asin(sqrt(C^2 - (a - b)^2)/(2 sqrt(a b)))."""
    near, extra = 0.4, 1e-9
    found = kernels.swing_to(near + extra, 0, 0, 0.6, 0, 1, 0)
    exact = 2 * np.arcsin(np.sqrt(extra * (2 * near + extra) / (4 * 0.6 * 1.0)))
    # 1e-16 of 0.4 is 1e-7 of the nanometre, and half of that of the angle.
    assert found.counter_clockwise == pytest.approx(exact, rel=2e-7)
    assert found.clockwise == pytest.approx(-exact, rel=2e-7)
