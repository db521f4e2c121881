"""A plate held through a spring, against its definition and against the rigid adjuster."""

import dataclasses

import numpy as np
import pytest

from mountcalc.equilibrium.balance import Demand
from mountcalc.equilibrium.give import plate_stiffness, tension_over_extension
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.reader import read_scenario

SPRINGS = (5e3, 2e4, 1e5)  # [N/m], softer to harder than the belts seen from the adjusters
RIGID = 1e12  # [N/m]


def with_spring(scenario, stiffness):
    adjuster = dataclasses.replace(scenario.adjuster, spring=stiffness, coil=None)
    return dataclasses.replace(scenario, adjuster=adjuster)


@pytest.fixture
def adjusted(scenario_file):
    scenario = read_scenario(scenario_file)
    if scenario.adjuster.kind is AdjusterKind.NONE:
        pytest.skip("no adjuster to put a spring at")
    return with_spring(scenario, None)


def solved_at(scenario, turns):
    mount = solve_mount(Mount.of(scenario))
    return mount, mount.place(turns), mount.cases(mount.place(turns))


def some_turns(mount):
    return np.linspace(0.0, 0.98, 12) * mount.turns_at(mount.travel.tight_end)


def test_a_spring_without_end_is_a_rigid_adjuster(adjusted):
    rigid = solve_mount(Mount.of(adjusted))
    turns = some_turns(rigid)
    wanted = rigid.cases(rigid.place(turns))
    _, _, found = solved_at(with_spring(adjusted, RIGID), turns)
    for expected, case in zip(wanted, found, strict=True):
        assert list(case.state) == list(expected.state)
        for name in ("phi", "tension", "tight", "slack", "shaft_force", "adjuster", "hinge"):
            value, other = getattr(case, name), getattr(expected, name)
            np.testing.assert_allclose(value, other, rtol=2e-5, atol=1e-3, err_msg=name)
        np.testing.assert_allclose(case.grip.value, expected.grip.value, rtol=2e-5, atol=1e-6)


@pytest.mark.parametrize("name", ["tension", "adjuster", "phi"])
def test_what_a_stiff_spring_changes_goes_with_its_give_over_three_decades(adjusted, name):
    rigid = solve_mount(Mount.of(adjusted))
    turns = some_turns(rigid)[4:5]
    wanted = float(getattr(rigid.at_rest(turns), name)[0])
    own = abs(float(plate_stiffness(rigid.mount, rigid.at_rest(turns).phi)[0]))
    changes = []
    for times in (1e2, 1e3, 1e4, 1e5):
        solved = solve_mount(Mount.of(with_spring(adjusted, times * own)))
        changes.append(float(getattr(solved.at_rest(turns), name)[0]) - wanted)
    assert changes[0] != 0
    tenth = np.array(changes[1:]) / changes[:-1]
    np.testing.assert_allclose(tenth, 0.1, rtol=0.02)


@pytest.mark.parametrize("stiffness", SPRINGS)
def test_a_turn_does_the_share_that_both_springs_leave(adjusted, stiffness):
    """In series the plate takes k / (k + K) of what the bolt moves."""
    mount = solve_mount(Mount.of(with_spring(adjusted, stiffness)))
    turns, step = some_turns(mount)[3:9], 1e-4
    rest = mount.at_rest(turns)
    assert np.all(rest.state == State.HELD)
    by_steps = (mount.at_rest(turns + step).tension - mount.at_rest(turns - step).tension) / (
        2 * step * mount.advance
    )
    rigid = tension_over_extension(mount.mount, rest.phi, rigid=True)
    own = plate_stiffness(mount.mount, rest.phi)
    np.testing.assert_allclose(tension_over_extension(mount.mount, rest.phi), by_steps, rtol=1e-6)
    np.testing.assert_allclose(by_steps, rigid * stiffness / (stiffness + own), rtol=1e-6)


def test_seen_from_the_adjuster_the_plate_is_a_spring(adjusted):
    mount = solve_mount(Mount.of(adjusted))
    turns, step = some_turns(mount)[3:9], 1e-4
    force = mount.at_rest(turns + step).adjuster - mount.at_rest(turns - step).adjuster
    own = plate_stiffness(mount.mount, mount.at_rest(turns).phi)
    np.testing.assert_allclose(own, force / (2 * step * mount.advance), rtol=1e-6)


@pytest.mark.parametrize("stiffness", SPRINGS)
def test_the_spring_holds_the_plate_with_its_own_force(adjusted, stiffness):
    mount = solve_mount(Mount.of(with_spring(adjusted, stiffness)))
    placement = mount.place(some_turns(mount))
    held_somewhere = False
    for name, demand in mount.demands.items():
        case = mount.case(placement, demand)
        loaded = np.isin(case.state, (State.HELD, State.RIDING))
        phi = case.phi[loaded]
        adjuster, at = mount.mount.adjuster(phi), mount.balance.at(phi)
        by_law = stiffness * (placement.extension[loaded] - adjuster.extension)
        if adjusted.adjuster.acts is Acts.PUSH:
            by_law = np.maximum(by_law, 0.0)
        arms = np.abs(at.pulls.tight_arm), np.abs(at.pulls.slack_arm)
        pulled = sum(felt * arm for felt, arm in zip(at.felt(demand), arms, strict=True))
        scale = mount.mount.count * pulled + mount.mount.weight_scale
        residual = mount.balance.net(at, demand) - by_law * adjuster.extension_slope
        assert np.all(np.abs(residual) <= 1e-9 * scale), name
        np.testing.assert_allclose(
            by_law, case.adjuster[loaded], atol=1e-8 * np.max(np.abs(by_law) + 1.0)
        )
        held_somewhere |= bool(np.any(case.state == State.HELD))
    assert held_somewhere


@pytest.mark.parametrize("stiffness", SPRINGS)
def test_at_rest_the_energy_with_the_spring_is_least(adjusted, stiffness):
    mount, placement, (rest, _, _) = solved_at(
        with_spring(adjusted, stiffness), np.linspace(0.25, 3.0, 9)
    )
    loaded = np.isin(rest.state, (State.HELD, State.RIDING))
    assert np.any(loaded)
    phi, ends, step = rest.phi[loaded], placement.extension[loaded], 1e-5

    def energy(angle):
        force = stiffness * (ends - mount.mount.adjuster(angle).extension)
        if adjusted.adjuster.acts is Acts.PUSH:
            force = np.maximum(force, 0.0)
        return mount.mount.energy(angle) + 0.5 * force**2 / stiffness

    lower, middle, upper = (energy(phi + shift) for shift in (-step, 0.0, step))
    curvature = (upper - 2 * middle + lower) / step**2
    assert np.all(curvature > 0)
    # A slope that is not nothing would put the least energy elsewhere by slope / curvature.
    assert np.all(np.abs((upper - lower) / (2 * step)) < 1e-7 * curvature)


def test_a_spring_leaves_zero_where_the_hand_finds_it(adjusted):
    rigid = solve_mount(Mount.of(adjusted))
    _, _, (rest, _, _) = solved_at(with_spring(adjusted, 2e4), [0.0])
    assert rest.phi[0] == pytest.approx(rigid.zero.plate_angle, abs=1e-9)


def test_a_softer_spring_makes_a_turn_do_less(adjusted):
    added = []
    for stiffness in SPRINGS:
        _, _, (rest, _, _) = solved_at(with_spring(adjusted, stiffness), [1.0, 1.5])
        added.append(float(np.diff(rest.tension)[0]))
    assert added == sorted(added)
    assert 0 < added[0] < added[-1]


def test_the_load_moves_a_sprung_plate(cider):
    scenario = read_scenario(cider)
    _, _, cases = solved_at(with_spring(scenario, 1e4), [6.0])
    assert cases.rest.state[0] == cases.starting.state[0] == State.HELD
    assert abs(cases.starting.phi[0] - cases.rest.phi[0]) > 1e-5


@pytest.mark.parametrize("stiffness", SPRINGS)
def test_grip_is_where_the_pull_asked_is_no_longer_delivered(adjusted, stiffness):
    mount = solve_mount(Mount.of(with_spring(adjusted, stiffness)))
    placement = mount.place(some_turns(mount)[4:5])
    demand = mount.demands["running"]
    grip = float(mount.case(placement, demand).grip.value[0])
    assert 0 < grip < np.inf
    for factor, delivered in ((0.999, True), (1.001, False)):
        asked = factor * grip * mount.mount.pull
        pull = float(mount.case(placement, Demand(asked, demand.centrifugal)).pull[0])
        assert (pull == pytest.approx(asked, rel=1e-9)) is delivered


def test_turns_past_the_travel_are_beyond_it(adjusted):
    mount = solve_mount(Mount.of(with_spring(adjusted, 2e4)))
    end = mount.turns_at(mount.travel.tight_end)
    rest = mount.cases(mount.place([0.999 * end, 1.001 * end])).rest
    assert rest.state[0] != State.BEYOND_TRAVEL
    assert rest.state[1] == State.BEYOND_TRAVEL
    assert np.isnan(rest.tension[1])
