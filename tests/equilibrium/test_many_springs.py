"""Many mounts whose adjusters give, solved at once, against each alone."""

import dataclasses

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount
from sizes import examples

from mountcalc.equilibrium.many import Group, solve_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.reader import read_scenario

TURNS = np.array([0.0, 0.25, 1.0, 2.0, 4.0, 7.0])
COUNT = 12
FIELDS = ("phi", "tension", "pull", "tight", "slack", "shaft_force", "adjuster", "hinge")


def with_spring(scenario, stiffness):
    adjuster = dataclasses.replace(scenario.adjuster, spring=float(stiffness), coil=None)
    return dataclasses.replace(scenario, adjuster=adjuster)


def solved_alone(mount):
    solved = solve_mount(mount)
    return solved.cases(solved.place(TURNS))


def as_alone(scenario, springs, hinges):
    """Solve them at once, compare each with its own solution; how many went together."""

    def alone(row):
        hinge = tuple(map(float, hinges[row]))
        plate = dataclasses.replace(scenario.plate, hinge=hinge)
        return Mount.of(with_spring(dataclasses.replace(scenario, plate=plate), springs[row]))

    many = dataclasses.replace(
        Mount.of(scenario), spring=springs[:, np.newaxis], hinge=tuple(hinges.T[..., np.newaxis])
    )
    together = 0
    seen = np.zeros(COUNT, dtype=int)
    for found in solve_many(many, COUNT, TURNS, alone):
        if not isinstance(found, Group):
            row, error = found
            seen[row] += 1
            with pytest.raises(MountError) as caught:
                solved_alone(alone(row))
            assert str(caught.value) == str(error)
            continue
        if found.rows.size > 1:
            together += found.rows.size
        for place, row in enumerate(found.rows):
            seen[row] += 1
            for case, wanted in zip(found.cases, solved_alone(alone(row)), strict=True):
                shape = (found.rows.size, *wanted.state.shape)
                state = np.broadcast_to(case.state, shape)[place]
                assert list(state) == list(wanted.state)
                for name in FIELDS:
                    value, other = getattr(case, name), getattr(wanted, name)
                    value = np.broadcast_to(value, (found.rows.size, *other.shape))[place]
                    size = np.nanmax(np.abs(other), initial=1e-12)
                    np.testing.assert_allclose(value, other, rtol=0, atol=1e-9 * size, err_msg=name)
                grip = np.broadcast_to(case.grip.value, shape)[place]
                np.testing.assert_allclose(grip, wanted.grip.value, rtol=1e-9, atol=1e-12)
    assert np.all(seen == 1)
    return together


@pytest.mark.parametrize("acts", [None, *Acts])
def test_each_is_as_alone(scenario_file, acts):
    scenario = read_scenario(scenario_file)
    if scenario.adjuster.kind is AdjusterKind.NONE:
        pytest.skip("no adjuster that could give")
    if acts is not None:
        adjuster = dataclasses.replace(scenario.adjuster, acts=acts)
        scenario = dataclasses.replace(scenario, adjuster=adjuster)
    scenario = dataclasses.replace(
        scenario, adjuster=dataclasses.replace(scenario.adjuster, coil=None)
    )
    random = np.random.default_rng(3)
    springs = 10 ** random.uniform(3.0, 7.0, COUNT)
    hinges = scenario.plate.hinge + random.uniform(-0.01, 0.01, (COUNT, 2))
    together = as_alone(scenario, springs, hinges)
    assert together >= COUNT // 2 or acts is not None


def test_each_of_any_mount_is_as_alone():
    together = []
    for seed in range(examples(10)):
        scenario = seeded_mount(seed, ADJUSTED)
        springs = 10 ** np.random.default_rng(seed).uniform(3.0, 7.0, COUNT)
        together.append(as_alone(scenario, springs, np.tile(scenario.plate.hinge, (COUNT, 1))))
    assert np.mean(together) >= COUNT / 4
