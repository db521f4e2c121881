"""Forces and moments of every result close, recomputed from geometry by construction."""

import math

import numpy as np
import pytest
from closure import CLOSURE, of_rounding
from hypothesis import assume, given, settings
from random_mounts import mounts
from sizes import examples
from slow_geometry import SlowMount, cross
from tables import RESTING, solved_or_other, table_or_other

from mountcalc.equilibrium.states import State
from mountcalc.scenario.driven import When
from mountcalc.scenario.model import AdjusterKind


def loaded_cases(table):
    found = [
        (name, case)
        for row in table.rows
        for name, case in row.cases.items()
        if case.state in RESTING
    ]
    assume(found)
    return found


def felt_pulls(scenario, name, case):
    """Points on the plate with the force vectors that all belts exert there."""
    speed = scenario.motor.speed * scenario.motor.pulley_radius
    centrifugal = scenario.belt.mass * speed**2 if name == "running" else 0.0
    strands = SlowMount(scenario).tight_and_slack(np.asarray(case.plate_angle))
    for strand, tension in zip(strands, (case.tight, case.slack), strict=True):
        felt = max(tension - centrifugal, 0.0)
        yield strand.on_motor, scenario.belt.count * felt * strand.pull_direction


def forces_on_plate(scenario, name, case):
    """Everything but the hinge."""
    mount = SlowMount(scenario)
    yield from felt_pulls(scenario, name, case)
    yield from mount.weights(np.asarray(case.plate_angle))
    if scenario.adjuster.kind is not AdjusterKind.NONE:
        lever = mount.lever(case.plate_angle)
        yield lever.at, case.adjuster * lever.push


@settings(max_examples=examples(45))
@given(mounts())
def test_plate_balances_about_the_hinge_and_the_hinge_carries_the_rest(scenario):
    table = table_or_other(scenario)
    for name, case in loaded_cases(table):
        forces = list(forces_on_plate(scenario, name, case))
        sizes = [np.hypot(*force) for _, force in forces]
        moments = [float(cross(at - scenario.plate.hinge, force)) for at, force in forces]
        arms = [np.hypot(*(at - scenario.plate.hinge)) for at, _ in forces]
        in_play = max(size * arm for size, arm in zip(sizes, arms, strict=True))
        assert abs(sum(moments)) <= CLOSURE * in_play + of_rounding(scenario) * max(arms)
        reaction = sum(force for _, force in forces)
        assert case.hinge == pytest.approx(np.hypot(*reaction), abs=CLOSURE * max(sizes))


@settings(max_examples=examples(40))
@given(mounts())
def test_hinge_reaction_closes_the_balance_about_any_point(scenario):
    table, (_, solutions) = table_or_other(scenario), solved_or_other(scenario)
    elsewhere = np.array(scenario.driven.shaft)
    for index, row in enumerate(table.rows):
        for (name, case), solution in zip(row.cases.items(), solutions, strict=True):
            if case.state not in RESTING:
                continue
            forces = list(forces_on_plate(scenario, name, case))
            forces.append((np.array(scenario.plate.hinge), solution.hinge[index]))
            moments = [float(cross(at - elsewhere, force)) for at, force in forces]
            arms = [np.hypot(*(at - elsewhere)) for at, _ in forces]
            in_play = max(np.hypot(*f) * arm for (_, f), arm in zip(forces, arms, strict=True))
            largest = max(np.hypot(*force) for _, force in forces)
            assert abs(sum(moments)) <= CLOSURE * in_play + of_rounding(scenario) * max(arms)
            assert np.hypot(*sum(force for _, force in forces)) <= CLOSURE * largest


def vector(size, direction):
    return size * np.array([math.cos(direction), math.sin(direction)])


@settings(max_examples=examples(40))
@given(mounts())
def test_shaft_and_bearings_carry_what_the_belts_pull(scenario):
    table = table_or_other(scenario)
    driven = scenario.driven
    for name, case in loaded_cases(table):
        on_plate = sum(force for _, force in felt_pulls(scenario, name, case))
        assert case.shaft_load == pytest.approx(np.hypot(*on_plate), rel=CLOSURE, abs=1e-12)
        loads = [(driven.pulley_position, -on_plate)]
        loads += [
            (load.position, load.force * np.array(load.direction))
            for load in driven.loads
            if load.when is When.ALWAYS or name != "rest"
        ]
        carried = [
            (bearing.position, vector(result.load, result.direction))
            for bearing, result in zip(driven.bearings, case.bearings, strict=True)
        ]
        largest = max(np.hypot(*force) for _, force in loads + carried)
        arm = max(abs(at) for at, _ in loads + carried)
        difference = sum(force for _, force in loads) - sum(force for _, force in carried)
        assert np.hypot(*difference) <= CLOSURE * largest + 1e-300
        moment = sum(at * force for at, force in loads) - sum(at * force for at, force in carried)
        assert np.hypot(*moment) <= CLOSURE * largest * arm + 1e-300


@settings(max_examples=examples(45))
@given(mounts())
def test_adjuster_and_belt_only_carry_what_they_can(scenario):
    acts = scenario.adjuster.acts
    for _, case in loaded_cases(table_or_other(scenario)):
        assert case.slack >= 0
        assert case.tight >= case.slack
        assert case.state is State.HELD or case.adjuster == 0
        assert acts != "push" or case.adjuster >= 0
        assert acts != "pull" or case.adjuster <= 0


@settings(max_examples=examples(45))
@given(mounts())
def test_strand_arms_add_up_to_the_slope_of_the_path(scenario):
    solved, _ = solved_or_other(scenario)
    angles = np.linspace(solved.travel.low.angle, solved.travel.high.angle, 9)[1:-1]
    pulls, path = solved.mount.pulls(angles), solved.mount.path(angles)
    arms = pulls.tight_arm + pulls.slack_arm
    # To rounding of the arms, which may be far larger than what is left of them.
    reach = np.abs(pulls.tight_arm) + np.abs(pulls.slack_arm)
    assert np.all(np.abs(arms - path.length_slope) <= 1e-12 * (1 + reach))
    own, step = SlowMount(scenario), 1e-5
    slope = (own.path(angles + step) - own.path(angles - step)) / (2 * step)
    assert arms == pytest.approx(slope, abs=1e-6)


@settings(max_examples=examples(45))
@given(mounts())
def test_energy_is_least_where_the_plate_rides_at_rest(scenario):
    solved, (rest, _, _) = solved_or_other(scenario)
    mount = solved.mount
    angles = np.unique(rest.phi[rest.state == State.RIDING])
    assume(angles.size)
    path = mount.path(angles)
    belt = mount.count * mount.tension(path.length) * path.length_slope
    weight = mount.weight_moment(angles)
    assert np.all(np.abs(belt + weight) <= CLOSURE * np.abs(weight))
    # A step that leaves the belt taut, for the energy's slope jumps in its change at snug.
    room = (path.length - scenario.belt.length) / np.abs(path.length_slope)
    step = np.minimum(1e-6, room / 2)
    below, here, above = (mount.energy(angles + change * step) for change in (-1, 0, 1))
    forces = (
        scenario.motor.weight + scenario.plate.weight + mount.count * mount.tension(path.length)
    )
    rounding = 1e-14 * 3.0 * forces  # heights and belts are at most some three metres
    assert np.all(np.abs(above - below) / (2 * step) <= 1e-4 * np.abs(weight) + rounding / step)
    assert np.all(below + above - 2 * here >= -2 * rounding)
