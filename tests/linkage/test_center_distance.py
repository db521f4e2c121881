"""Centre distance from belt length: the inverse put back into the formula, and its limits."""

import time

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import (
    approximate_center_distance,
    center_distance,
    least_length,
)

# What is promised, in metres; found is about 1e-14.
METRES = 1e-12
# Seconds that a million may take on a slow and busy machine; found is half a second.
SECONDS = 10
MILLION = 1_000_000
# Rounding of a handful of operations on numbers of the size of the result.
ROUNDING = 1e-13

radii = st.floats(0.005, 1.0)
gaps = st.floats(0.0, 20.0)


def drives(size, seed):
    """Pulleys of 10 mm to 2 m and shafts from touching pulleys to 20 m apart, evenly by size."""
    random = np.random.default_rng(seed)
    r, big_r = 0.5 * np.exp(random.uniform(np.log(0.01), np.log(2.0), (2, size)))
    distance = np.exp(random.uniform(np.log(r + big_r), np.log(20.0)))
    touching = slice(0, size, 10)
    distance[touching] = (r + big_r)[touching]
    return distance, r, big_r


def exact_length_of(distance, r, big_r):
    """The textbook's form with arcsine, in as many digits as mpmath is set to."""
    lean = mpmath.asin((big_r - r) / distance)
    return (
        2 * mpmath.sqrt(distance**2 - (big_r - r) ** 2)
        + mpmath.pi * (big_r + r)
        + 2 * (big_r - r) * lean
    )


def test_a_million_lengths_come_back():
    distance, r, big_r = drives(MILLION, 11)
    belt = kernels.open_belt(distance, r, big_r)
    start = time.perf_counter()
    found = center_distance(belt.length, r, big_r)
    assert time.perf_counter() - start < SECONDS
    assert found.shape == (MILLION,)
    assert np.abs(found - distance).max() <= METRES
    forward = kernels.open_belt(found, r, big_r)
    assert (np.abs(forward.length - belt.length) / forward.length_slope).max() <= METRES
    assert np.abs(forward.length - belt.length).max() <= METRES


def test_million_has_the_hard_ones():
    """Pulleys 200 to 1 and touching, where the length hardly changes with the distance."""
    distance, r, big_r = drives(MILLION, 11)
    slope = kernels.open_belt(distance, r, big_r).length_slope
    ratio = np.maximum(r, big_r) / np.minimum(r, big_r)
    assert ratio.max() > 150
    assert slope.min() < 0.35


def exact_center(length, r, big_r):
    """Newton's method in many digits, from the side where it cannot overshoot."""
    length, r, big_r = (mpmath.mpf(float(value)) for value in (length, r, big_r))
    distance = length / 2  # the strands alone are shorter than the belt
    for _ in range(60):
        slope = 2 * mpmath.sqrt(distance**2 - (big_r - r) ** 2) / distance
        distance -= (exact_length_of(distance, r, big_r) - length) / slope
    assert abs(exact_length_of(distance, r, big_r) - length) < mpmath.mpf(10) ** -35
    return distance


def test_against_forty_digits():
    """200 drives, every tenth touching, some of those a ten-thousandth the size of the other."""
    distance, r, big_r = drives(200, 3)
    r[::20] = 1e-4
    big_r[::20] = 1.0
    distance[::20] = 1.0001
    length = kernels.open_belt(distance, r, big_r).length
    found = center_distance(length, r, big_r)
    with mpmath.workdps(40):
        for index in range(200):
            exact = exact_center(length[index], r[index], big_r[index])
            assert float(abs(exact - mpmath.mpf(float(found[index])))) <= METRES


def test_forward_formula_against_forty_digits():
    distance, r, big_r = drives(200, 4)
    belt = kernels.open_belt(distance, r, big_r)
    with mpmath.workdps(40):
        for index in range(200):
            drive = (distance[index], r[index], big_r[index])
            exact = exact_length_of(*(mpmath.mpf(float(value)) for value in drive))
            assert float(abs(exact - float(belt.length[index]))) <= ROUNDING


@given(r=radii, big_r=radii, gap=gaps)
def test_either_pulley_may_be_the_motors(r, big_r, gap):
    length = least_length(r, big_r) + gap
    assert center_distance(length, r, big_r) == pytest.approx(
        center_distance(length, big_r, r), rel=ROUNDING
    )


@given(r=radii, big_r=radii, gap=gaps, more=st.floats(1e-9, 1.0))
def test_a_longer_belt_puts_the_shafts_further_apart(r, big_r, gap, more):
    """By half of what it is longer at least: dL/dC is 2 cos(beta), 2 at most."""
    length = least_length(r, big_r) + gap
    near, far = center_distance([length, length + more], r, big_r)
    assert far - near >= 0.5 * more - METRES


@given(r=radii, big_r=radii, gap=gaps, factor=st.floats(1e-3, 1e3))
def test_lengths_of_another_unit_scale(r, big_r, gap, factor):
    length = 1.001 * least_length(r, big_r) + gap
    scaled = center_distance(factor * length, factor * r, factor * big_r)
    assert scaled == pytest.approx(factor * center_distance(length, r, big_r), rel=1e-12)


@given(r=radii, big_r=radii)
def test_shortest_belt_has_the_pulleys_touching(r, big_r):
    assert center_distance(least_length(r, big_r), r, big_r) == pytest.approx(r + big_r, rel=1e-13)


@given(r=radii, big_r=radii, gap=gaps)
def test_published_closed_form_is_near_and_too_far(r, big_r, gap):
    """Short of the exact length by (D - d)^4/(192 C^3) and, touching, up to 1.7 times that."""
    length = least_length(r, big_r) + gap
    exact = center_distance(length, r, big_r)
    belt = kernels.open_belt(exact, r, big_r)
    off = approximate_center_distance(length, r, big_r) - exact
    short = (2 * (big_r - r)) ** 4 / (192 * exact**3)
    assert -METRES <= off <= 1.7 * short / belt.length_slope + METRES
    assert off >= 0.4 * short - METRES


def test_equal_pulleys_need_no_root():
    length = 2 * 0.7 + 2 * np.pi * 0.05
    assert center_distance(length, 0.05, 0.05) == pytest.approx(0.7, rel=1e-15)
    assert approximate_center_distance(length, 0.05, 0.05) == pytest.approx(0.7, rel=1e-15)


def test_arrays_broadcast_and_equal_scalars():
    lengths = np.array([2.0, 3.0, 4.0])[:, np.newaxis]
    r, big_r = np.array([0.05, 0.06]), np.array([0.2, 0.03])
    table = center_distance(lengths, r, big_r)
    assert table.shape == (3, 2)
    for row in range(3):
        for column in range(2):
            one = center_distance(float(lengths[row, 0]), r[column], big_r[column])
            assert one.shape == ()
            assert table[row, column] == pytest.approx(float(one), rel=1e-15)


@pytest.mark.parametrize("function", [center_distance, approximate_center_distance])
def test_a_belt_too_short_is_refused_with_the_least_length(function):
    least = float(least_length(0.1, 0.2))
    with pytest.raises(ValueError, match=f"overlap below {least:.6g}"):
        function([2.0, 0.999 * least], 0.1, 0.2)


@pytest.mark.parametrize("function", [center_distance, approximate_center_distance])
@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("place", [0, 1, 2])
def test_what_is_no_length_is_refused(function, wrong, place):
    arguments = [2.0, 0.1, 0.2]
    arguments[place] = [arguments[place], wrong]
    with pytest.raises(ValueError, match="is not a number above zero"):
        function(*arguments)
