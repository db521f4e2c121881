"""From a point of the unit cube to a layout: ranges, the plate's line, the adjuster's place."""

import dataclasses

import numpy as np
import pytest
from search_spaces import ALL, SPACE, cider, grindstone

from mountcalc.linkage.center_distance import center_distance
from mountcalc.place.feasible.layouts import (
    ACTIONS,
    DIMENSIONS,
    KINDS,
    Layouts,
    layouts_from,
    ways_of,
)
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.search import Action, MotorSide

POINTS = 2000


def sample(scenario, space, seed=3, count=POINTS):
    return layouts_from(
        np.random.default_rng(seed).random((count, len(DIMENSIONS))), space, scenario
    )


def made(layouts):
    return layouts.take(layouts.fault == 0)


def cross(one, other):
    return (one.conj() * other).imag


def dot(one, other):
    return (one.conj() * other).real


@pytest.mark.parametrize("name", ALL)
def test_the_plate_is_tangent_to_the_circle_of_the_motors_height(name):
    layouts = made(sample(*ALL[name]()))
    assert len(layouts) > POINTS / 4
    foot = layouts.hinge + layouts.foot * layouts.along
    arm = layouts.motor - foot
    np.testing.assert_allclose(np.abs(arm), layouts.motor_height, rtol=1e-12)
    np.testing.assert_allclose(dot(arm, layouts.along), 0.0, atol=1e-14)
    np.testing.assert_allclose(dot(arm, layouts.normal), layouts.motor_height)
    np.testing.assert_allclose(np.abs(layouts.along), 1.0)
    assert np.all(layouts.foot > 0)


def test_a_right_angled_plate_by_hand():
    scenario, space = cider()
    x, y = scenario.motor.shaft
    space = dataclasses.replace(
        space,
        hinge_x=(x - 0.4, x - 0.4),
        hinge_y=(y - 0.1, y - 0.1),
        reach=(0.5, 0.5),
        motor_height=(0.1, 0.1),
        motor_side=MotorSide.ABOVE,
        kinds=(AdjusterKind.JACK_IN_BASE,),
        acts=(Action.PUSH,),
        face_offset=-0.02,
    )
    layouts = sample(scenario, space, count=1)
    np.testing.assert_allclose(layouts.along, [1], atol=1e-15)
    np.testing.assert_allclose(layouts.normal, [1j], atol=1e-15)
    np.testing.assert_allclose(layouts.foot, 0.4)
    np.testing.assert_allclose(layouts.tip, [complex(x + 0.1, y - 0.12)])
    # Seen from the hinge the motor stands at 14.0 deg and the driven shaft at 12.5: up tightens.
    np.testing.assert_allclose(layouts.tightens, [1])
    np.testing.assert_allclose(layouts.axis, [1j], atol=1e-15)
    np.testing.assert_allclose(layouts.plate_length, 0.5 + 0.025)


@pytest.mark.parametrize("side", [MotorSide.ABOVE, MotorSide.BELOW])
def test_the_motor_stands_on_the_side_that_is_asked_for(side):
    scenario, space = cider()
    layouts = sample(scenario, dataclasses.replace(space, motor_side=side))
    up = 1 if side is MotorSide.ABOVE else -1
    good = layouts.fault == 0
    assert np.all(up * layouts.normal[good].imag > 0)
    refused = layouts.fault == Reason.MOTOR_SIDE
    # Only where neither tangent would do, which the other way round both do.
    both = sample(scenario, dataclasses.replace(space, motor_side=MotorSide.EITHER))
    assert np.all(up * both.normal[refused].imag < 0)
    assert np.sum(good) > POINTS / 3


def test_either_side_tries_both_tangents():
    layouts = made(sample(*cider()))
    left = cross(layouts.along, layouts.normal) > 0
    assert 0.4 < np.mean(left) < 0.6


def test_a_hinge_inside_the_motors_height_has_no_plate():
    layouts = sample(*cider())
    near = np.abs(layouts.motor - layouts.hinge) <= layouts.motor_height
    assert np.any(near)
    np.testing.assert_array_equal(layouts.fault == Reason.MOTOR_HEIGHT, near)


@pytest.mark.parametrize("name", ALL)
def test_values_fill_their_ranges_and_keep_to_them(name):
    scenario, space = ALL[name]()
    layouts = sample(scenario, space)
    for column, ends in (
        (layouts.hinge_x, space.hinge_x),
        (layouts.hinge_y, space.hinge_y),
        (layouts.reach, space.reach),
        (layouts.motor_height, space.motor_height),
    ):
        width = ends[1] - ends[0]
        assert ends[0] <= column.min() < ends[0] + 0.01 * width
        assert ends[1] - 0.01 * width < column.max() <= ends[1]
    assert set(layouts.thread) == set(range(len(space.threads)))
    assert set(layouts.belt) == set(range(max(len(space.belts), 1)))
    pairs = set(zip(layouts.kind.tolist(), layouts.acts.tolist(), strict=True))
    assert pairs == set(ways_of(space))


def test_a_screw_through_the_plate_does_not_pull():
    ways = {(KINDS[kind], ACTIONS[act]) for kind, act in ways_of(SPACE)}
    assert (AdjusterKind.JACK_IN_PLATE, Action.PULL) not in ways
    assert len(ways) == 8
    scenario, space = cider()
    space = dataclasses.replace(space, kinds=(AdjusterKind.JACK_IN_PLATE,), acts=(Action.PULL,))
    with pytest.raises(ValueError, match="cannot pull"):
        sample(scenario, space)


def test_the_motor_stands_at_each_belts_snug_distance():
    scenario, space = grindstone()
    layouts = sample(scenario, space)
    lengths = np.array([choice.belt.length for choice in space.belts])[layouts.belt]
    away = layouts.motor - complex(*scenario.driven.shaft)
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    np.testing.assert_allclose(np.abs(away), center_distance(lengths, *radii))
    direction = np.angle(away)
    low, high = space.motor_direction
    assert low <= direction.min() < direction.max() <= high


def test_without_a_direction_the_motor_stays_as_drawn():
    scenario, space = cider()
    np.testing.assert_array_equal(
        sample(scenario, space).motor, np.full(POINTS, complex(*scenario.motor.shaft))
    )


def test_a_belt_that_is_too_short_leaves_the_others_alone():
    scenario, space = grindstone()
    short = dataclasses.replace(space.belts[0].belt, length=0.5)
    belts = (dataclasses.replace(space.belts[0], belt=short), *space.belts[1:])
    layouts = sample(scenario, dataclasses.replace(space, belts=belts))
    np.testing.assert_array_equal(np.isnan(layouts.motor_x), layouts.belt == 0)
    np.testing.assert_array_equal(layouts.fault == Reason.BELT_TOO_SHORT, layouts.belt == 0)


def test_the_axis_follows_kind_and_action():
    layouts = made(sample(*cider()))
    # The way the tip moves as the belt tightens: it turns about the hinge that way.
    ahead = layouts.tightens * cross(layouts.tip - layouts.hinge, layouts.axis) > 0
    pushes = layouts.acts == ACTIONS.index(Action.PUSH)
    through = layouts.kind == KINDS.index(AdjusterKind.JACK_IN_PLATE)
    np.testing.assert_array_equal(ahead, pushes ^ through)


def test_some_of_the_layouts():
    layouts = sample(*cider())
    some = layouts.take(np.array([5, 2]))
    for field in dataclasses.fields(Layouts):
        np.testing.assert_array_equal(
            getattr(some, field.name), getattr(layouts, field.name)[[5, 2]]
        )
    assert len(some) == 2
