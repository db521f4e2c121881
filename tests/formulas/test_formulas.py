"""Hand-worked special cases, limits and shapes of the plain formulas."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.formulas import belt, shaft

POSITIVE = st.floats(1e-3, 1e6)
# Up to ratio 200 the slack side is a small difference of larger numbers, which costs digits.
DIFFERENCE = 1e-6
# Positions moved by 10 m keep 1e-15 m, on 2 m between the bearings and with loads of 1e4 N.
MOVED = 1e-9  # [N]


def test_elastic_tension_by_hand():
    # 1 % of stretch on 50 kN per unit strain is 500 N; slack is slack.
    assert belt.elastic_tension([1.01, 1.0, 0.99], 1.0, 50e3) == pytest.approx([500.0, 0.0, 0.0])


def test_rounding_of_the_path_is_no_tension():
    assert belt.elastic_tension(1.3 * (1 + 2e-16), 1.3, 1e5) == 0.0


def test_centrifugal_tension_by_hand():
    assert belt.centrifugal_tension(0.1, 10.0) == pytest.approx(10.0)


@given(power=POSITIVE, speed=POSITIVE)
def test_pull_times_speed_times_count_is_power(power, speed):
    assert 3 * speed * belt.pull_per_belt(power, speed, 3) == pytest.approx(power)


@given(traction=st.floats(0.05, 2.0), wrap=st.floats(0.5, 6.0))
def test_slip_share_is_the_exponential_law(traction, wrap):
    ratio = math.exp(traction * wrap)
    assert belt.slip_share(traction, wrap) == pytest.approx((ratio - 1) / (ratio + 1))


@given(pull=POSITIVE, share=st.floats(0.05, 0.99), centrifugal=st.floats(0, 1e3))
def test_at_least_tension_the_belt_is_at_its_limit(pull, share, centrifugal):
    tension = belt.least_tension(pull, share, centrifugal)
    tight, slack = belt.strand_tensions(tension, pull)
    ratio = (1 + share) / (1 - share)
    felt = slack - centrifugal
    assert tight - centrifugal == pytest.approx(ratio * felt, rel=DIFFERENCE, abs=DIFFERENCE * pull)


@given(tension=POSITIVE, mass=st.floats(0.01, 5), span=st.floats(0.05, 5))
def test_frequency_inverts_the_tension_formula(tension, mass, span):
    frequency = belt.span_frequency(tension, mass, span)
    assert 4 * mass * span**2 * frequency**2 == pytest.approx(tension)


def test_load_between_bearings_is_shared_by_the_lever():
    first, second = shaft.bearing_loads([1.0], [[0.0, -100.0]], 0.0, 4.0)
    assert first == pytest.approx([0.0, -75.0])
    assert second == pytest.approx([0.0, -25.0])


@given(origin=st.floats(-10, 10), place=st.floats(-3, 5), force=st.floats(-1e4, 1e4))
def test_bearing_loads_do_not_depend_on_the_origin(origin, place, force):
    here = shaft.bearing_loads([place], [[force, 1.0]], 0.0, 2.0)
    there = shaft.bearing_loads([place + origin], [[force, 1.0]], origin, 2.0 + origin)
    for one, other in zip(here, there, strict=True):
        assert one == pytest.approx(other, abs=MOVED)


def test_bearing_loads_broadcast_over_settings():
    forces = np.zeros((7, 2, 2))
    forces[:, 0, 0] = np.arange(7)
    first, second = shaft.bearing_loads([1.0, 3.0], forces, 0.0, 2.0)
    assert first.shape == second.shape == (7, 2)
    assert first[:, 0] + second[:, 0] == pytest.approx(np.arange(7))


def test_projected_pressure_by_hand():
    # 93.75 lbf on 1 1/4 in by 3 in is 25 psi; here 1000 N on 20 mm by 50 mm is 1 MPa.
    assert shaft.projected_pressure(1000.0, 0.020, 0.050) == pytest.approx(1e6)
