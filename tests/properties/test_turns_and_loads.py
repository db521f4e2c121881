"""How results move with turns and with the load: never the wrong way, and without jumps."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from likeness import assert_alike
from random_mounts import ADJUSTED, TURNS, mounts
from sizes import examples
from slow_balance import Load, SlowBalance
from slow_geometry import SlowMount
from slow_travel import find_travel
from tables import RESTING, table_or_other

from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.scenario.model import Acts
from mountcalc.table.table import tension_table

MANY_TURNS = np.linspace(-1.0, 8.0, 37)


def with_power(scenario, power):
    return replace(scenario, driven=replace(scenario.driven, power=power))


@settings(max_examples=examples(35))
@given(mounts(ADJUSTED))
def test_tension_never_falls_as_turns_grow(scenario):
    table = table_or_other(scenario, MANY_TURNS)
    tension = [row.tension for row in table.rows if row.tension is not None]
    assert np.all(np.diff(tension) >= -1e-9 * max(tension, default=0.0))
    lengths = [row.center_distance for row in table.rows if row.state in RESTING]
    assert np.all(np.diff(lengths) >= -1e-12)


@settings(max_examples=examples(35))
@given(mounts(ADJUSTED))
def test_tension_per_turn_is_what_the_next_turn_brings(scenario):
    turns, step = np.array(TURNS) + 0.1, 1e-4
    tables = [table_or_other(scenario, turns + change) for change in (-step, 0.0, step)]
    checked = 0
    for below, here, above in zip(*(table.rows for table in tables), strict=True):
        if not here.state == below.state == above.state == State.HELD or not below.tension:
            continue
        difference = (above.tension - below.tension) / (2 * step)
        assert here.tension_per_turn == pytest.approx(difference, rel=1e-5)
        checked += 1
    assume(checked)


@settings(max_examples=examples(30))
@given(mounts(ADJUSTED), st.lists(st.sampled_from(TURNS), min_size=2, max_size=4))
def test_every_turn_is_solved_as_if_alone(scenario, turns):
    together = table_or_other(scenario, turns)
    for index, turn in enumerate(turns):
        alone = tension_table(scenario, [turn])
        assert_alike(replace(together, rows=together.rows[index : index + 1]), alone)


@settings(max_examples=examples(35))
@given(mounts())
def test_strands_are_alike_without_power(scenario):
    table = table_or_other(with_power(scenario, 0.0))
    for row in table.rows:
        for case in row.cases.values():
            assert case.tight == case.slack
            assert case.grip is None
            assert case.grip_reason
            assert case.pull in (0.0, None)
            assert not case.slips
        if row.state in RESTING:
            # Rest is rest, and starting without a pull is rest.
            assert row.starting.tight == row.tension
            assert row.starting.adjuster == row.rest.adjuster
            assert row.starting.hinge == row.rest.hinge


@settings(max_examples=examples(30))
@given(mounts(), st.floats(1.0, 3.0), st.floats(1.0, 3.0))
def test_a_harder_start_changes_only_the_start(scenario, factor, more):
    scenario = with_power(scenario, scenario.driven.power or 400.0)

    def started(value):
        driven = replace(scenario.driven, starting_factor=value)
        return table_or_other(replace(scenario, driven=driven))

    for easy, hard in zip(started(factor).rows, started(factor * more).rows, strict=True):
        assert replace(easy, starting=hard.starting) == hard
        assert easy.starting.grip == hard.starting.grip
        if easy.starting.state in RESTING and hard.starting.state in RESTING:
            assert hard.starting.pull >= easy.starting.pull * (1 - 1e-9)
            assert hard.starting.slips >= easy.starting.slips
        if easy.starting.state == hard.starting.state == State.HELD:
            assert hard.starting.tight >= easy.starting.tight
            assert hard.starting.slack <= easy.starting.slack


@settings(max_examples=examples(45))
@given(mounts())
def test_what_is_delivered_is_what_is_asked_or_what_the_belt_can_carry(scenario):
    assume(scenario.driven.power > 0)
    speed = scenario.motor.speed * scenario.motor.pulley_radius
    needed = scenario.driven.power / speed / scenario.belt.count
    centrifugal = scenario.belt.mass * speed**2
    for row in table_or_other(scenario).rows:
        for case, factor, own_tension in (
            (row.running, 1.0, centrifugal),
            (row.starting, scenario.driven.starting_factor, 0.0),
        ):
            if case.state not in RESTING:
                continue
            assert case.tight - case.slack == pytest.approx(case.pull, abs=1e-9 * case.tight)
            if case.slips:
                assert case.grip < factor
                # Where the plate falls off the adjuster as it slips, less is left than grip says.
                assert case.pull <= case.grip * needed * (1 + 1e-6) + 1e-9
                assert_at_limit(scenario, case, own_tension)
            else:
                assert case.grip is None or case.grip >= factor
                assert case.pull == pytest.approx(factor * needed, rel=1e-12)


def assert_at_limit(scenario, case, own_tension):
    """The ratio of felt tensions is that at which the first pulley slips, or none are felt."""
    tight, slack = (max(one - own_tension, 0.0) for one in (case.tight, case.slack))
    wraps = SlowMount(scenario).wraps(np.asarray(case.plate_angle))
    exponents = np.multiply((scenario.motor.traction, scenario.driven.traction), wraps)
    assert tight == pytest.approx(slack * np.exp(exponents.min()), rel=1e-6, abs=1e-9 * case.tight)


@settings(max_examples=examples(30))
@given(mounts())
def test_a_softer_and_a_stiffer_belt_enclose_the_tension(scenario):
    table = table_or_other(scenario)
    factor = scenario.belt.stiffness_factor
    bounds = [table]
    for stiffness in (scenario.belt.stiffness / factor, scenario.belt.stiffness * factor):
        try:
            other = replace(scenario, belt=replace(scenario.belt, stiffness=stiffness))
            bounds.append(tension_table(other, TURNS))
        except MountError:
            continue
    for index, row in enumerate(table.rows):
        if row.tension is None:
            assert row.tension_low is None
            assert row.tension_high is None
            continue
        known = [other.rows[index].tension for other in bounds]
        known = [tension for tension in known if tension is not None]
        assert row.tension_low <= row.tension <= row.tension_high
        assert row.tension_low == pytest.approx(min(known), rel=1e-9, abs=1e-9)
        assert row.tension_high == pytest.approx(max(known), rel=1e-9, abs=1e-9)


@settings(max_examples=examples(20))
@given(mounts(ADJUSTED), st.sampled_from(["rest", "running", "starting"]))
def test_forces_do_not_jump_where_the_plate_leaves_or_meets_the_adjuster(scenario, case_name):
    assume(scenario.adjuster.acts is not Acts.BOTH)
    held, riding = switch_between_held_and_riding(scenario, case_name)
    largest = max(held.tight, held.hinge, abs(held.adjuster))
    # What the adjuster carries fades to nothing before the plate leaves it, always.
    assert abs(held.adjuster) <= 1e-5 * largest
    assume(is_restored(scenario, case_name, held))  # else the plate falls into another balance
    assert riding.plate_angle == pytest.approx(held.plate_angle, abs=1e-6)
    for name in ("tight", "slack", "shaft_load", "hinge"):
        assert getattr(riding, name) == pytest.approx(getattr(held, name), abs=1e-5 * largest)


def switch_between_held_and_riding(scenario, case_name):
    """The cases on both sides of a switch, as near in turns as numbers go."""
    low, high = -1.0, 12.0
    for _ in range(8):
        turns = np.linspace(low, high, 33)
        rows = table_or_other(scenario, turns).rows
        states = [row.cases[case_name].state for row in rows]
        at = next((i for i in range(32) if set(states[i : i + 2]) == set(RESTING)), None)
        assume(at is not None)
        low, high = turns[at], turns[at + 1]
    pair = [row.cases[case_name] for row in rows[at : at + 2]]
    return sorted(pair, key=lambda case: case.state is State.RIDING)


def is_restored(scenario, case_name, held):
    """Whether a free plate comes back to this angle when it is moved a little."""
    mount = SlowMount(scenario)
    balance = SlowBalance(mount, find_travel(mount), scenario.belt.stiffness)
    speed = scenario.motor.speed * scenario.motor.pulley_radius
    load = Load(held.pull, scenario.belt.mass * speed**2 if case_name == "running" else 0.0)
    below, above = (
        balance.net(balance.arms(held.plate_angle + step), load) for step in (-1e-7, 1e-7)
    )
    return bool(below > above)
