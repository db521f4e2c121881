"""Rounding to marks: whole multiples within the ranges; neighbours save what rounding broke."""

import dataclasses
import itertools

import numpy as np
import pytest
from search_spaces import cider, grindstone

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.layouts import DIMENSIONS, choices_from
from mountcalc.place.search.grid import Grid, SnapToGrid
from mountcalc.place.search.objective import GOALS
from mountcalc.scenario.text.writing import Display

MARK = {Display.INCH: 0.0254 / 16, Display.METRIC: 0.001}
ROUNDED = ("hinge_x", "hinge_y", "reach", "motor_height")


def drawn(make, count=300):
    scenario, space = make()
    unit = np.random.default_rng(2).random((count, len(DIMENSIONS)))
    return scenario, space, choices_from(unit, space, scenario)


@pytest.mark.parametrize("display", Display)
@pytest.mark.parametrize("make", [cider, grindstone])
def test_the_nearest_marks_are_whole_and_in_range_and_less_than_a_mark_away(make, display):
    _, space, choices = drawn(make)
    marks = Grid.of(space, display)
    moved = space.motor_direction is not None
    assert marks.names == (*ROUNDED, *(("motor_x", "motor_y") if moved else ()))
    at = marks.applied(choices, marks.nearest(choices))
    for name in marks.names:
        value = getattr(at, name)
        number = value / MARK[display]
        np.testing.assert_allclose(number, np.round(number), atol=1e-9)
        assert np.max(np.abs(value - getattr(choices, name))) < MARK[display]
        if name in ROUNDED:
            low, high = getattr(space, name)
            assert np.all((value >= low - 1e-12) & (value <= high + 1e-12))
    for name in ("side", "kind", "acts", "thread", "belt"):
        np.testing.assert_array_equal(getattr(at, name), getattr(choices, name))


def test_one_value_is_kept_and_so_is_a_range_without_a_mark():
    scenario, space, _ = drawn(cider)
    space = dataclasses.replace(space, reach=(0.3003, 0.3003), motor_height=(0.0802, 0.0808))
    choices = choices_from(np.full((4, 9), 0.5), space, scenario)
    marks = Grid.of(space, Display.METRIC)
    assert marks.names == ("hinge_x", "hinge_y")
    at = marks.applied(choices, marks.nearest(choices))
    np.testing.assert_array_equal(at.reach, 0.3003)
    np.testing.assert_array_equal(at.motor_height, choices.motor_height)


def test_all_marks_around_are_one_step_away():
    _, space, choices = drawn(cider, 5)
    marks = Grid.of(space, Display.METRIC)
    middle = marks.nearest(choices)
    middle = np.clip(middle, marks.low + 1, marks.high - 1)
    around, differ = marks.around(middle)
    assert around.shape == (5, 3**4, 4)
    np.testing.assert_array_equal(around[:, 0], middle)
    steps = {tuple(row) for row in around[0] - middle[0]}
    assert steps == set(itertools.product((-1, 0, 1), repeat=4))
    np.testing.assert_array_equal(differ, np.count_nonzero(around[0] - middle[0], axis=1))
    assert marks.around(middle, 1)[0].shape == (5, 1 + 2 * 4, 4)
    assert np.all(marks.around(marks.low[None])[0] >= marks.low)


def bowl(center, edge):
    """A made-up judge: best at a center [m]; nothing will do beyond an edge in hinge_x [m]."""

    def goals_of(choices, others):
        value = np.hypot(choices.hinge_x - center[0], choices.hinge_y - center[1]) + choices.reach
        goals = np.repeat(value[:, None], len(GOALS), axis=1)
        bad = (choices.hinge_x > edge) | (value >= others[:, 0])
        goals[bad] = np.inf
        return goals

    return goals_of


@pytest.mark.parametrize("prefer", Prefer)
def test_marks_go_downhill_to_the_best_that_will_do(prefer):
    _, space, choices = drawn(cider, 1)
    x, y = round(float(choices.hinge_x[0]), 3), round(float(choices.hinge_y[0]), 3)
    marking = SnapToGrid(bowl((x + 0.005, y - 0.004), x + 0.002), Grid.of(space, "metric"), prefer)
    found, tried = marking.best(choices)
    assert tried > 33
    assert found.choices.hinge_x[0] == pytest.approx(x + 0.002, abs=1e-12)
    assert found.choices.hinge_y[0] == pytest.approx(y - 0.004, abs=1e-12)
    assert found.choices.reach[0] < choices.reach[0]


def test_what_rounding_broke_is_saved_by_a_neighbour_or_dropped():
    _, space, choices = drawn(cider, 200)
    marks = Grid.of(space, "metric")
    nearest = marks.applied(choices, marks.nearest(choices)).hinge_x
    edge = float(np.median(choices.hinge_x))
    marking = SnapToGrid(bowl((0.0, 0.0), edge), marks, Prefer.FINE)
    found, _ = marking.near(choices)
    assert np.all(found.choices.hinge_x <= edge)
    assert np.sum(nearest <= edge) < len(found) == np.sum(nearest - 0.001 <= edge + 1e-12)
    kept = nearest <= edge
    assert set(nearest[kept]) <= set(found.choices.hinge_x)


def test_equal_choices_are_kept_once():
    _, space, choices = drawn(cider, 6)
    marking = SnapToGrid(bowl((0.0, 0.0), 9.0), Grid.of(space, "inch"), Prefer.FINE)
    found, _ = marking.near(choices)
    both = found.and_of(found.take(np.array([3, 1])))
    np.testing.assert_array_equal(both.goals, found.goals)
