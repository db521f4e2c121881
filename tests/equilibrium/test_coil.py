"""A coil spring between bolt and plate: its law, its energy, its stop, and what it keeps."""

import dataclasses

import numpy as np
import pytest

from mountcalc.equilibrium.give import (
    plate_stiffness,
    tension_over_extension,
    tension_over_growth,
)
from mountcalc.equilibrium.many import Group, solve_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.scenario.model import Coil
from mountcalc.scenario.reader import read_scenario

FAR = 10.0  # [m]: a stop that nothing reaches


def with_coil(scenario, rate=5e3, stop=0.02, spring=None):
    adjuster = dataclasses.replace(
        scenario.adjuster, coil=Coil(rate, 2 * stop, stop), spring=spring
    )
    return dataclasses.replace(scenario, adjuster=adjuster)


@pytest.fixture(params=["cider-mill", "feed-mill", "grindstone"])
def scenario(cider, request):
    """One that is pushed away, one that is pulled, one that holds its plate back."""
    return read_scenario(cider.with_name(f"{request.param}.toml"))


def solved(scenario):
    return solve_mount(Mount.of(scenario))


def turns_to(mount, share=0.98, count=41):
    return np.linspace(0.0, share, count) * mount.turns_at(mount.travel.tight_end)


def test_short_of_its_stop_it_is_a_give_of_its_rate(scenario):
    coil = solved(with_coil(scenario, stop=FAR))
    adjuster = dataclasses.replace(scenario.adjuster, coil=None, spring=5e3)
    give = solved(dataclasses.replace(scenario, adjuster=adjuster))
    turns = turns_to(give, 0.5)
    for case, other in zip(
        coil.cases(coil.place(turns)), give.cases(give.place(turns)), strict=True
    ):
        assert list(case.state) == list(other.state)
        np.testing.assert_allclose(case.tension, other.tension, rtol=1e-12)
        np.testing.assert_allclose(case.grip.value, other.grip.value, rtol=1e-12)


def test_once_solid_it_is_a_rigid_adjuster_that_is_shorter_by_its_travel(scenario):
    stop = 0.012
    coil, rigid = solved(with_coil(scenario, stop=stop)), solved(scenario_rigid(scenario))
    turns = turns_to(coil, 0.4)
    rest = coil.at_rest(turns)
    solid = np.abs(rest.adjuster) > 5e3 * stop * (1 + 1e-9)
    assert 3 < np.count_nonzero(solid) < turns.size - 3
    end = coil.place(turns[solid]).extension
    shorter = end - np.sign(rest.adjuster[solid]) * stop
    same = rigid.at_rest((shorter - rigid.zero_extension) / rigid.advance)
    np.testing.assert_allclose(rest.tension[solid], same.tension, rtol=1e-9)
    at = rest.phi[solid]
    np.testing.assert_allclose(
        tension_over_extension(coil.mount, at), tension_over_extension(rigid.mount, at), rtol=1e-12
    )


def scenario_rigid(scenario):
    adjuster = dataclasses.replace(scenario.adjuster, coil=None, spring=None)
    return dataclasses.replace(scenario, adjuster=adjuster)


@pytest.mark.parametrize("spring", [None, 2e5])
def test_in_every_case_the_adjuster_is_as_much_shorter_as_its_force_says(scenario, spring):
    mount = solved(with_coil(scenario, stop=0.004, spring=spring))
    placed = mount.place(turns_to(mount))
    for case in mount.cases(placed):
        held = case.state == State.HELD
        assert np.any(held)
        given = placed.extension[held] - mount.mount.adjuster(case.phi[held]).extension
        np.testing.assert_allclose(mount.mount.give(case.adjuster[held]), given, atol=1e-12)


@pytest.mark.parametrize("spring", [None, 2e5])
@pytest.mark.parametrize("stop", [0.004, FAR])
def test_the_bolt_s_work_is_the_energy_of_belt_weights_and_spring(scenario, spring, stop):
    mount = solved(with_coil(scenario, stop=stop, spring=spring))
    last = 0.7 * mount.turns_at(mount.travel.tight_end)
    # The force has a corner where the spring becomes solid: many short steps, Simpson's rule.
    turns = np.linspace(0.0, last, 4001)
    rest, extension = mount.at_rest(turns), mount.place(turns).extension
    if not np.all(rest.state == State.HELD):  # it comes free on the way
        held = int(np.argmin(rest.state == State.HELD)) // 2 * 2 - 1
        turns, extension = turns[:held], extension[:held]
        rest = mount.at_rest(turns)
    step = extension[1] - extension[0]
    weights = np.tile([2.0, 4.0], turns.size // 2 + 1)[: turns.size]
    weights[[0, -1]] = 1.0
    work = float(np.sum(weights * rest.adjuster) * step / 3)
    ends = rest.phi[[0, -1]], rest.adjuster[[0, -1]]
    stored = np.diff(mount.mount.energy(ends[0]) + mount.mount.strain_energy(ends[1]))[0]
    assert abs(stored) > 0.01
    assert work == pytest.approx(stored, rel=1e-6)


@pytest.mark.parametrize("stop", [0.004, FAR])
def test_as_the_belt_grows_the_spring_keeps_the_share_that_the_energies_say(scenario, stop):
    """Against mounts with a longer belt whose bolt stays where it is."""
    mount = solved(with_coil(scenario, stop=stop))
    turns = turns_to(mount, 0.5, 9)[3:]
    placed, rest = mount.place(turns), mount.at_rest(turns)
    held = rest.state == State.HELD
    assert np.any(held)
    tensions = []
    for growth in (-1e-6, 1e-6):
        belt = dataclasses.replace(scenario.belt, length=scenario.belt.length + growth)
        longer = with_coil(dataclasses.replace(scenario, belt=belt), stop=stop)
        other = solved(longer)
        at = SolvedMount(other.mount, other.travel, other.balance, other.zero)
        turned = (placed.extension - at.zero_extension) / at.advance
        tensions.append(at.at_rest(turned).tension[held])
    lost = (tensions[0] - tensions[1]) / 2e-6
    phi = rest.phi[held]
    np.testing.assert_allclose(tension_over_growth(mount.mount, phi), lost, rtol=1e-5)
    rigid = tension_over_growth(mount.mount, phi, rigid=True)
    assert np.all(lost <= rigid * (1 + 1e-6))
    if stop is FAR:
        own = plate_stiffness(mount.mount, phi)
        path, slope = mount.mount.path(phi), mount.mount.adjuster(phi).extension_slope
        of_belt = scenario.belt.stiffness / scenario.belt.length * (path.length_slope / slope) ** 2
        np.testing.assert_allclose(lost / rigid, 1 - of_belt / (5e3 + own), rtol=1e-5)
        if scenario.title.startswith("Cider"):  # weights and geometry count little there
            of_energies = (1 / own) / (1 / own + 1 / 5e3)
            np.testing.assert_allclose(lost / rigid, of_energies, atol=0.03)


def test_many_with_springs_of_their_own_are_as_alone(scenario):
    random, turns = np.random.default_rng(5), np.array([0.0, 1.0, 5.0, 12.0])
    rates, stops = 10 ** random.uniform(3.3, 4.5, 20), random.uniform(0.001, 0.02, 20)

    def alone(row):
        return Mount.of(with_coil(scenario, float(rates[row]), float(stops[row])))

    many = dataclasses.replace(
        Mount.of(scenario_rigid(scenario)), coil=(rates[:, np.newaxis], stops[:, np.newaxis])
    )
    together = 0
    for found in solve_many(many, 20, turns, alone):
        assert isinstance(found, Group)
        together += found.rows.size if found.rows.size > 1 else 0
        for place, row in enumerate(found.rows):
            one = solve_mount(alone(row))
            for case, other in zip(found.cases, one.cases(one.place(turns)), strict=True):
                assert list(np.atleast_2d(case.state)[place]) == list(other.state)
                tension = np.atleast_2d(case.tension)[place]
                np.testing.assert_allclose(tension, other.tension, rtol=1e-9)
    assert together > 10
