"""Ranking: the preferred goal decides, and where it ties no layout stands before its better."""

import numpy as np
import pytest

from mountcalc.console.choices import Prefer
from mountcalc.place.search.objective import GOALS, beats, ranking

TWINS = np.array([[5.0, 40.0, 0.7, 30.0, 0.4], [5.0 * (1 + 1e-12), 40.0, 0.6, 30.0, 0.3]])


@pytest.mark.parametrize("prefer", list(Prefer))
def test_none_is_beaten_by_a_later_one(prefer):
    values = np.random.default_rng(1).integers(1, 4, (300, len(GOALS))).astype(float)
    ranked = values[ranking(values, prefer)]
    for one in range(len(ranked)):
        later = ranked[one + 1 :]
        beaten = np.all(later <= ranked[one], axis=1) & np.any(later < ranked[one], axis=1)
        assert not beaten.any()


def test_rounding_does_not_put_a_twin_first():
    assert ranking(TWINS, Prefer.FINE).tolist() == [1, 0]
    assert beats(TWINS[1], TWINS[0], Prefer.FINE)
    assert not beats(TWINS[0], TWINS[1], Prefer.FINE)
    assert not beats(TWINS[0], TWINS[0], Prefer.FINE)
    assert ranking(TWINS[None], Prefer.FINE).tolist() == [[1, 0]]


def test_what_differs_by_more_decides():
    finer = TWINS * [[1 - 1e-5], [1.0]]
    assert ranking(finer, Prefer.FINE).tolist() == [0, 1]
    assert ranking(finer, Prefer.COMPACT).tolist() == [1, 0]


@pytest.mark.parametrize("prefer", list(Prefer))
def test_rows_are_ranked_by_themselves_and_none_beats_the_first(prefer):
    values = np.random.default_rng(2).integers(0, 3, (40, 6, len(GOALS))).astype(float)
    values[0, 2] = np.inf
    for row, order in zip(values, ranking(values, prefer), strict=True):
        np.testing.assert_array_equal(order, ranking(row, prefer))
        assert not beats(row, row[order[0]], prefer).any()
