"""Points that fill the cube: exact at any index, nested, even, another set for another seed."""

from decimal import Decimal, getcontext

import numpy as np
import pytest
from scipy.stats import qmc

from mountcalc.place.search.optimiser import points, shifts

SIZE = 9
# What a point is cut off to, and what its recurrence is (a step has 64 places, an index 24).
HELD, EXACT = 2.0**-53, 2.0**-40


def golden(dimensions):
    """The root of g^(d+1) = g + 1, by Newton's method."""
    getcontext().prec = 60
    g = Decimal("1.5")
    for _ in range(60):
        g -= (g ** (dimensions + 1) - g - 1) / ((dimensions + 1) * g**dimensions - 1)
    return g


def test_a_piece_is_a_piece_of_the_whole():
    whole = points(0, 1000, SIZE, 3)
    np.testing.assert_array_equal(whole, np.concatenate([points(0, 7, SIZE, 3), whole[7:]]))
    np.testing.assert_array_equal(whole[300:700], points(300, 400, SIZE, 3))


@pytest.mark.parametrize("dimensions", [1, 2, SIZE])
@pytest.mark.parametrize("index", [1, 1000, 16_777_215])
def test_a_point_is_what_the_recurrence_says_however_far_along(dimensions, index):
    start = points(0, 1, dimensions, 5)[0]
    there = points(index, 1, dimensions, 5)[0]
    root = golden(dimensions)
    for axis in range(dimensions):
        step = 1 / root ** (axis + 1)
        expected = float((Decimal(float(start[axis])) + index * step) % 1)
        apart = abs(there[axis] - expected)
        assert min(apart, 1 - apart) <= EXACT


def test_whole_numbers_that_overflow_keep_the_fraction():
    index = 16_777_215
    one = points(1, 1, SIZE, 0)[0], points(0, 1, SIZE, 0)[0]
    first = shifts(SIZE, 0)
    for axis, shift in enumerate(first):
        low = (one[0][axis] - one[1][axis]) % 1
        step = round(low / HELD)  # to the places that a point holds
        there = ((int(shift) >> 11) + index * step) % 2**53 * HELD
        apart = abs(points(index, 1, SIZE, 0)[0][axis] - there)
        assert min(apart, 1 - apart) <= index * 2 * HELD


def test_points_lie_in_the_cube_and_their_mean_in_its_middle():
    sample = points(0, 2**16, SIZE, 1)
    assert sample.shape == (2**16, SIZE)
    assert sample.min() >= 0.0
    assert sample.max() < 1.0
    np.testing.assert_allclose(sample.mean(axis=0), 0.5, atol=2e-3)


@pytest.mark.parametrize("start", [0, 10_000_000])
def test_points_are_more_even_than_random_ones(start):
    even = points(start, 2048, SIZE, 4)
    random = [np.random.default_rng(seed).random((2048, SIZE)) for seed in range(5)]
    assert qmc.discrepancy(even) < 0.5 * min(map(qmc.discrepancy, random))


def test_another_seed_gives_other_points():
    one, other = points(0, 500, SIZE, 1), points(0, 500, SIZE, 2)
    assert np.all(one != other)
    np.testing.assert_array_equal(one, points(0, 500, SIZE, 1))
    np.testing.assert_array_equal(points(0, 5, SIZE, 2**32 - 1), points(0, 5, SIZE, 2**32 - 1))
