"""The random mounts are worth testing with: every state and every kind comes up among them."""

from collections import Counter

import numpy as np
import pytest

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.scenario.model import Acts, AdjusterKind, Rotation
from mountcalc.table.results import TightenBy


@pytest.fixture(scope="module")
def tables(population):
    return [(one.scenario, one.table) for one in population.values() if one.table is not None]


@pytest.fixture(scope="module")
def cases(tables):
    return [
        (name, row, case)
        for _, table in tables
        for row in table.rows
        for name, case in row.cases.items()
    ]


def test_most_mounts_can_be_solved(population):
    solved = sum(one.table is not None for one in population.values())
    assert 0.85 * len(population) < solved < len(population)


def test_every_kind_and_direction_of_force_comes_up(tables):
    seen = Counter((one.adjuster.kind, one.adjuster.acts) for one, _ in tables)
    jacks_and_links = [kind for kind in AdjusterKind if kind is not AdjusterKind.NONE]
    assert all(seen[kind, acts] >= 3 for kind in jacks_and_links for acts in Acts)
    assert seen[AdjusterKind.NONE, None] >= 10


def test_every_layout_comes_up(tables):
    layouts = Counter()
    for one, _ in tables:
        layouts[one.motor.rotation] += 1
        layouts["motor above"] += one.motor.shaft[1] > one.plate.hinge[1]
        layouts["motor below"] += one.motor.shaft[1] < one.plate.hinge[1]
        layouts["larger driven"] += one.driven.pulley_radius > one.motor.pulley_radius
        layouts["larger motor"] += one.driven.pulley_radius < one.motor.pulley_radius
        layouts["weightless"] += one.motor.weight + one.plate.weight == 0
        layouts["heavy"] += one.motor.weight > 1000
        layouts["no power"] += one.driven.power == 0
        layouts["powerful"] += one.driven.power > 1000
    assert min(layouts.values()) >= 5, layouts
    assert layouts[Rotation.CCW] >= 20
    assert layouts[Rotation.CW] >= 20


def test_every_zero_and_way_to_tighten_comes_up(tables):
    seen = Counter((table.zero.kind, table.tighten_by) for _, table in tables)
    assert all(seen[zero, way] >= 5 for zero in ZeroKind for way in TightenBy), seen
    assert seen[ZeroKind.CONTACT, None] >= 10


@pytest.mark.parametrize("case_name", ["rest", "running", "starting"])
def test_every_state_comes_up_in_each_load_case(cases, case_name):
    seen = Counter(case.state for name, _, case in cases if name == case_name)
    assert set(seen) == set(State), seen
    assert seen[State.HELD] >= 100
    assert seen[State.RIDING] >= 50


@pytest.mark.parametrize("case_name", ["running", "starting"])
def test_slipping_comes_up_held_and_riding(cases, case_name):
    seen = Counter(case.state for name, _, case in cases if name == case_name and case.slips)
    assert seen[State.HELD] >= 20
    assert seen[State.RIDING] >= 5


def test_load_changes_what_the_plate_rests_on(cases):
    seen = Counter((row.rest.state, case.state) for name, row, case in cases if name != "rest")
    assert seen[State.HELD, State.RIDING] >= 3
    assert seen[State.RIDING, State.HELD] >= 1
    assert seen[State.RIDING, State.AT_STOP] >= 1


def test_mounts_that_tighten_themselves_come_up(cases):
    reasons = Counter(case.grip_reason for _, _, case in cases)
    assert any("tightens itself with the load" in str(reason) for reason in reasons)
    assert any("tightens itself to the end" in str(reason) for reason in reasons)


def test_clipped_travel_comes_up(tables):
    clipped = [any(note.id == "travel" for note in table.notes) for _, table in tables]
    assert np.sum(clipped) >= 10


@pytest.mark.parametrize(
    "words", ["does not hold the plate back", "cannot carry the plate", "too short", "between zero"]
)
def test_every_refusal_comes_up(population, words):
    assert any(words in one.refusal for one in population.values())
