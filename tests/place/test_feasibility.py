"""The fast judge against the slow one, against a mirror, and with each constraint lifted."""

import dataclasses
from functools import cache

import numpy as np
import pytest
from search_spaces import (
    ALL,
    INSTALL,
    TAKE_UP,
    cider,
    grindstone,
    heavy,
    judge,
    lathe,
    mirrored,
    press,
    why_not,
)
from sizes import size
from slow_judge import slow_verdict

from mountcalc.place.feasible import feasibility
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.feasibility import CHUNK, Feasibility, Measures
from mountcalc.place.feasible.layouts import DIMENSIONS, layouts_from
from mountcalc.place.feasible.reasons import Reason, reason_name
from mountcalc.scenario.model import KeepOut, Limits
from mountcalc.scenario.search import Action, MotorSide

# Random layouts of each search: over all of them more than so many are accepted.
POINTS = dict.fromkeys(ALL, size(1600, 100))
POINTS |= dict.fromkeys(("known", "plucked", "pressed"), size(300, 60))
POINTS["heavy"] = size(1600, 500)  # few of it will do
MANY = size(20_000, 5_000)
ACCEPTED = size(1000, 80)
# Fast and slow judge solve the same equations to rounding; a force is a small difference of
# large ones.
SAME = {"rtol": 1e-9, "atol": 1e-9}
ANGLES = ("install", "snug", "zero", "loose", "set", "tight", "take_up")


def unit(count, seed=7):
    return np.random.default_rng(seed).random((count, len(DIMENSIONS)))


def judged(scenario, space, points, install=INSTALL, take_up=TAKE_UP):
    drives = drives_of(scenario, space, install, take_up)
    return Feasibility(scenario, space, drives).samples(points)


@cache
def sample_of(name):
    """Layouts of a search and the fast judge's verdict on them."""
    scenario, space = ALL[name]()
    layouts = layouts_from(unit(POINTS[name]), space, scenario)
    return scenario, space, layouts, judge(scenario, space, layouts, INSTALL, TAKE_UP)


@pytest.mark.parametrize("name", ALL)
def test_the_slow_judge_says_and_measures_the_same_of_every_layout(name):
    scenario, space, layouts, fast = sample_of(name)
    slow = [
        slow_verdict(scenario, space, layouts, index, (INSTALL, TAKE_UP))
        for index in range(POINTS[name])
    ]
    assert [reason_name(code) for code in fast.reason] == [
        reason_name(reason) for reason, _ in slow
    ]
    for place, index in enumerate(fast.kept):
        for key, value in slow[index][1].items():
            np.testing.assert_allclose(getattr(fast.measures, key)[place], value, **SAME)


def test_many_accepted_layouts_and_all_reasons_but_keep_outs_are_compared():
    verdicts = [sample_of(name)[3] for name in ALL]
    assert sum(len(fast.kept) for fast in verdicts) >= ACCEPTED
    assert all(
        size(40, 3) < len(fast.kept) < 0.7 * points
        for fast, points in zip(verdicts, POINTS.values(), strict=True)
    )
    found = set().union(*(fast.reason.tolist() for fast in verdicts))
    assert set(range(Reason.KEEP_OUT)) - found <= {Reason.HINGE_LOAD, Reason.BELT_TOO_SHORT}


@pytest.mark.parametrize("name", ALL)
def test_every_measure_is_a_number(name):
    measures = sample_of(name)[3].measures
    for field in dataclasses.fields(Measures):
        assert np.all(np.isfinite(getattr(measures, field.name))), field.name


@pytest.mark.parametrize("name", ALL)
def test_a_mirror_image_has_the_same_verdict(name):
    scenario, space = ALL[name]()
    points = unit(size(4000, 1000))
    other = points.copy()
    for mirror in ("hinge_x", "motor_side", "motor_direction"):
        other[:, DIMENSIONS.index(mirror)] = 1.0 - points[:, DIMENSIONS.index(mirror)]
    scenario_there, space_there = mirrored(scenario, space)
    if space.motor_direction is None:
        other[:, DIMENSIONS.index("motor_direction")] = 0.0
    here, there = judged(scenario, space, points), judged(scenario_there, space_there, other)
    np.testing.assert_array_equal(here.reason, there.reason)
    for field in dataclasses.fields(Measures):
        sign = -1 if field.name in ANGLES else 1
        one, two = getattr(here.measures, field.name), getattr(there.measures, field.name)
        np.testing.assert_allclose(one, sign * two, rtol=1e-7, atol=1e-9)


def test_blocks_do_not_matter():
    scenario, space = grindstone()
    points = unit(CHUNK + 700)
    whole = judged(scenario, space, points)
    parts = [judged(scenario, space, part) for part in np.array_split(points, 3)]
    np.testing.assert_array_equal(whole.reason, np.concatenate([part.reason for part in parts]))
    turns = np.concatenate([part.measures.set_turns for part in parts])
    np.testing.assert_allclose(whole.measures.set_turns, turns, rtol=1e-12)
    layouts = layouts_from(points, space, scenario)
    again = judge(scenario, space, layouts, INSTALL, TAKE_UP)
    np.testing.assert_array_equal(again.reason, whole.reason)
    np.testing.assert_array_equal(np.flatnonzero(whole.reason == 0), whole.kept)
    np.testing.assert_array_equal(whole.layouts.reach, layouts.reach[whole.kept])


def test_nothing_to_judge():
    scenario, space = cider()
    none = judged(scenario, space, np.empty((0, len(DIMENSIONS))))
    assert none.reason.size == none.kept.size == len(none.layouts) == 0
    assert why_not(none) == {}


def counted(scenario, space, install=INSTALL, take_up=TAKE_UP):
    return why_not(judged(scenario, space, unit(MANY), install, take_up))


LIFTED = {
    "motor_height": (cider, {}, {"motor_height": (1e-9, 1e-9)}),
    "motor_side": (grindstone, {}, {"motor_side": MotorSide.EITHER}),
    "plate_length": (grindstone, {}, {"plate_length": 5.0}),
    "feet_past_hinge": (cider, {}, {"motor_feet": 1e-9, "hinge_y": (-0.5, -0.3)}),
    "motor_in_the_way": (cider, {}, {"bolt_beside_motor": True}),
    "dead_centre": (lathe, {}, {"leverage": 0.0}),
    "thread_length": (grindstone, {}, {"thread_length": np.inf}),
    "adjuster_load": (heavy, {"limits": Limits(adjuster=None, hinge=900.0)}, {}),
    "hinge_load": (heavy, {"limits": Limits(adjuster=1200.0, hinge=None)}, {}),
}


@pytest.mark.parametrize("reason", LIFTED)
def test_a_reason_goes_when_its_constraint_is_lifted(reason):
    make, of_scenario, of_space = LIFTED[reason]
    scenario, space = make()
    assert counted(scenario, space)[reason] > 0
    scenario = dataclasses.replace(scenario, **of_scenario)
    assert reason not in counted(scenario, dataclasses.replace(space, **of_space))


def test_install_goes_when_a_belt_can_be_put_on_where_it_is_snug():
    assert counted(*press())["install"] > 0
    assert "install" not in counted(*press(), install=0.0)


def test_take_up_goes_when_next_to_none_is_asked_of_a_stiff_belt():
    scenario, space = press()
    assert counted(scenario, space)["take_up"] > 0
    belt = dataclasses.replace(scenario.belt, stiffness=1e16)
    limits = dataclasses.replace(scenario.limits, turn_error=0.0)
    scenario = dataclasses.replace(scenario, belt=belt, limits=limits)
    assert "take_up" not in counted(scenario, space, take_up=1e-12)


def test_adjuster_geometry_goes_when_the_plate_swings_little():
    assert counted(*heavy())["adjuster_geometry"] > 0
    scenario, space = heavy()
    space = dataclasses.replace(space, reach=(0.3, 0.55), leverage=0.2, face_offset=None)
    assert "adjuster_geometry" not in counted(scenario, space, install=0.001, take_up=0.003)


def test_the_plate_stays_on_the_adjuster_without_weights_and_with_even_strands():
    scenario, space = cider()
    assert counted(scenario, space)["leaves_adjuster"] > 0
    motor = dataclasses.replace(scenario.motor, weight=1e-6, traction=0.01)
    plate = dataclasses.replace(scenario.plate, weight=0.0)
    driven = dataclasses.replace(scenario.driven, power=1.0)
    scenario = dataclasses.replace(scenario, motor=motor, plate=plate, driven=driven)
    space = dataclasses.replace(space, acts=(Action.PUSH, Action.PULL), leverage=0.3)
    result = judged(scenario, space, unit(MANY))
    assert "leaves_adjuster" not in why_not(result)
    assert len(result.kept) > MANY / 20


def test_bearing_goes_with_bearings_that_carry_all():
    scenario, space = press()
    assert counted(scenario, space)["bearing"] > 0
    bearings = tuple(
        dataclasses.replace(bearing, limit=1e9, starting_limit=1e9)
        for bearing in scenario.driven.bearings
    )
    driven = dataclasses.replace(scenario.driven, bearings=bearings)
    assert "bearing" not in counted(dataclasses.replace(scenario, driven=driven), space)


def test_keep_outs_are_asked_last_and_named(monkeypatch):
    scenario, space = cider()
    points = unit(3000)
    free = judged(scenario, space, points)
    asked = []

    def clear(layouts, ends, *_):
        asked.append(len(layouts))
        assert np.all(ends[1] > ends[0])
        first = np.where(layouts.hinge_x < -0.5, 1, 0)
        return np.where(layouts.hinge_y < -0.2, -1, first)

    walls = (KeepOut("wall", ((0, 0), (1, 0), (1, 1))), KeepOut("leg", ((0, 0), (1, 0), (1, 1))))
    monkeypatch.setattr(feasibility, "clear", clear)
    walled = judged(scenario, space, points)
    assert sum(asked) == len(free.kept)
    low = free.layouts.hinge_y < -0.2
    np.testing.assert_array_equal(walled.kept, free.kept[low])
    left = free.layouts.hinge_x[~low] < -0.5
    why = why_not(walled, walls)
    assert (why["keep_out:leg"], why["keep_out:wall"]) == (np.sum(left), np.sum(~left))
    assert {key: value for key, value in why.items() if ":" not in key} == why_not(free)


def test_a_load_that_needs_no_pull_is_set_by_what_a_balance_or_a_hand_may_miss():
    scenario, space = cider()
    driven = dataclasses.replace(scenario.driven, power=0.0)
    measures = judged(dataclasses.replace(scenario, driven=driven), space, unit(500)).measures
    assert measures.set_turns.size > 0
    assert np.all(measures.set_turns >= scenario.limits.turn_error - 1e-9)
    assert np.all(np.isposinf(measures.grip_low))
