"""The same mount seen in a mirror, turned, made larger or run at other forces: the same numbers."""

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from likeness import Scales, assert_alike
from random_mounts import TURNS, mounts
from sizes import examples
from tables import table_or_other

from mountcalc.errors import MountError
from mountcalc.scenario.model import Rotation
from mountcalc.table.table import tension_table


def redrawn(scenario, point, direction):
    """The scenario with every point and every direction [rad] of its drawing moved."""
    driven, motor, plate, jack = scenario.driven, scenario.motor, scenario.plate, scenario.adjuster
    loads = [
        replace(load, direction=unit(direction(math.atan2(load.direction[1], load.direction[0]))))
        for load in driven.loads
    ]
    return replace(
        scenario,
        driven=replace(driven, shaft=point(driven.shaft), loads=tuple(loads)),
        motor=replace(motor, shaft=point(motor.shaft), center_of_mass=point(motor.center_of_mass)),
        plate=replace(plate, hinge=point(plate.hinge), center_of_mass=point(plate.center_of_mass)),
        adjuster=replace(
            jack,
            tip=jack.tip and point(jack.tip),
            axis=None if jack.axis is None else direction(jack.axis),
            face=None if jack.face is None else direction(jack.face),
            base_pin=jack.base_pin and point(jack.base_pin),
            plate_pin=jack.plate_pin and point(jack.plate_pin),
        ),
    )


def unit(angle):
    return math.cos(angle), math.sin(angle)


def mirrored(scenario):
    """Left is right: what turned counter-clockwise turns clockwise."""
    flipped = redrawn(scenario, lambda p: (-p[0], p[1]), lambda angle: math.pi - angle)
    motor, plate = flipped.motor, flipped.plate
    other = {Rotation.CW: Rotation.CCW, Rotation.CCW: Rotation.CW}[motor.rotation]
    low, high = plate.travel
    return replace(
        flipped,
        motor=replace(motor, rotation=other),
        plate=replace(plate, travel=(-high, -low)),
    )


def angle_between(one, other):
    return abs((one - other + math.pi) % (2 * math.pi) - math.pi)


@settings(max_examples=examples(40))
@given(mounts())
def test_mirror_image_with_the_other_rotation_gives_the_same_numbers(scenario):
    table, image = table_or_other(scenario), table_or_other(mirrored(scenario))
    assert_alike(table, image, Scales(angle_sign=-1))
    assert_directions(table, image, lambda direction: math.pi - direction)


@settings(max_examples=examples(40))
@given(mounts(), st.floats(-math.pi, math.pi), st.floats(-2.0, 2.0))
def test_without_gravity_it_does_not_matter_which_way_is_up(scenario, turn, move):
    weightless = replace(
        scenario,
        motor=replace(scenario.motor, weight=0.0),
        plate=replace(scenario.plate, weight=0.0),
    )

    def point(drawn):
        placed = complex(*drawn) * cmath.rect(1.0, turn) + complex(move, -move)
        return placed.real, placed.imag

    turned = redrawn(weightless, point, lambda angle: angle + turn)
    table, other = table_or_other(weightless), table_or_other(turned)
    assert_alike(table, other)
    assert_directions(table, other, lambda direction: direction + turn)


def test_with_gravity_it_does_matter(population):
    one = population[1].scenario
    upside_down = redrawn(one, lambda p: (-p[0], -p[1]), lambda angle: angle + math.pi)
    tension = [row.tension for row in population[1].table.rows]
    try:
        other = [row.tension for row in tension_table(upside_down, TURNS).rows]
    except MountError:
        return
    assert other != pytest.approx(tension, rel=1e-3)


def assert_directions(table, other, expected):
    """Directions of the bearing loads that are large enough to have one."""
    for row, second in zip(table.rows, other.rows, strict=True):
        for name in row.cases:
            pairs = zip(row.cases[name].bearings, second.cases[name].bearings, strict=True)
            for bearing, twin in pairs:
                if bearing.load is not None and bearing.load > 1e-3:
                    wanted = expected(bearing.direction)
                    assert angle_between(twin.direction, wanted) < 1e-5


factors = st.floats(0.2, 5.0)


@settings(max_examples=examples(40))
@given(mounts(), factors, factors, factors)
def test_lengths_forces_and_speeds_scale_every_result_by_its_dimension(
    scenario, length, force, speed
):
    scales = Scales(length, force, speed)
    assert_alike(table_or_other(scenario), table_or_other(scaled(scenario, scales)), scales)


def scaled(scenario, scales):
    """Belt mass follows, so that m' v^2 stays a force; power is force times belt speed."""
    larger = redrawn(
        scenario, lambda p: (p[0] * scales.length, p[1] * scales.length), lambda angle: angle
    )
    driven, motor, belt, jack = larger.driven, larger.motor, larger.belt, larger.adjuster
    belt_speed = scales.length * scales.speed
    advance = jack.advance_per_turn
    return replace(
        larger,
        driven=replace(
            driven,
            pulley_radius=driven.pulley_radius * scales.length,
            pulley_position=driven.pulley_position * scales.length,
            power=driven.power * scales.force * belt_speed,
            bearings=tuple(scaled_bearing(bearing, scales) for bearing in driven.bearings),
            loads=tuple(
                replace(
                    load,
                    position=load.position * scales.length,
                    force=load.force * scales.force,
                )
                for load in driven.loads
            ),
        ),
        motor=replace(
            motor,
            pulley_radius=motor.pulley_radius * scales.length,
            power=motor.power * scales.force * belt_speed,
            speed=motor.speed * scales.speed,
            weight=motor.weight * scales.force,
        ),
        belt=replace(
            belt,
            length=belt.length * scales.length,
            stiffness=belt.stiffness * scales.force,
            mass=belt.mass * scales.force / belt_speed**2,
        ),
        plate=replace(larger.plate, weight=larger.plate.weight * scales.force),
        adjuster=replace(jack, advance_per_turn=advance and advance * scales.length),
    )


def scaled_bearing(bearing, scales):
    return replace(
        bearing,
        position=bearing.position * scales.length,
        journal_diameter=bearing.journal_diameter * scales.length,
        length=bearing.length * scales.length,
        limit=bearing.limit * scales.force,
        starting_limit=bearing.starting_limit * scales.force,
    )
