"""The front: nothing on it is beaten, everything off it is; some of it that stand for all."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from sizes import examples

from mountcalc.place.search.objective import nondominated, spread_out

# Few values, so that equals and ties occur.
GOALS = st.integers(0, 40).flatmap(
    lambda count: arrays(float, (count, 3), elements=st.integers(0, 6).map(float))
)


def beats(one, other):
    return all(one <= other) and any(one < other)


@settings(max_examples=examples(100))
@given(GOALS)
def test_the_front_is_what_a_look_at_every_pair_finds(goals):
    found = nondominated(goals)
    expected = [not any(beats(other, one) for other in goals) for one in goals]
    np.testing.assert_array_equal(found, np.array(expected, dtype=bool))


@settings(max_examples=examples(100))
@given(GOALS)
def test_whatever_is_off_the_front_is_beaten_by_some_of_it(goals):
    front = goals[nondominated(goals)]
    for one in goals[~nondominated(goals)]:
        assert any(beats(other, one) for other in front)


@settings(max_examples=examples(100))
@given(GOALS, st.permutations(range(3)))
def test_neither_the_order_of_goals_nor_of_layouts_matters(goals, order):
    found = nondominated(goals)
    np.testing.assert_array_equal(nondominated(goals[:, order]), found)
    np.testing.assert_array_equal(nondominated(goals[::-1]), found[::-1])


@settings(max_examples=examples(100))
@given(GOALS, st.integers(3, 12))
def test_those_that_stand_for_all_have_the_best_of_each_goal_and_no_copies(goals, most):
    chosen = spread_out(goals, most)
    assert len(chosen) <= most
    assert len({tuple(row) for row in goals[chosen]}) == len(chosen)
    assert len(chosen) == min(most, len(np.unique(goals, axis=0)))
    if len(goals):
        np.testing.assert_array_equal(goals[chosen].min(axis=0), goals.min(axis=0))


def test_each_that_is_taken_is_the_farthest_from_those_before():
    goals = np.random.default_rng(1).random((200, 4)) * [1.0, 10.0, 0.1, 5.0]
    chosen = spread_out(goals, 30)
    places = (goals - goals.min(axis=0)) / np.ptp(goals, axis=0)
    for count in range(len(set(np.argmin(goals, axis=0))), 30):
        apart = np.abs(places[:, None] - places[chosen[:count]]).max(axis=2).min(axis=1)
        assert apart[chosen[count]] == apart.max()


def test_ties_in_one_goal_do_not_hide_the_others():
    goals = np.array([[1.0, 2.0], [1.0, 1.0], [0.5, 3.0], [1.0, 1.0], [2.0, 0.5]])
    np.testing.assert_array_equal(nondominated(goals), [False, True, True, True, True])
