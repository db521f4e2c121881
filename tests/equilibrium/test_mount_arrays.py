"""One mount of arrays, every number of it another, is as many mounts as solved one by one."""

from dataclasses import replace

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount

from mountcalc.equilibrium.many import Group, solve_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount as solved

COUNT, TURNS = 12, np.array([0.0, 0.5, 1.5])


def varied(scenario, random):
    """Scenarios that are like one to a few per mille, and all of them as one mount."""

    def near(value):
        return value * (1 + 2e-3 * random.standard_normal())

    def moved(point):
        return tuple(np.add(point, 1e-4 * random.standard_normal(2)).tolist())

    ones = []
    for _ in range(COUNT):
        motor, driven, plate, belt = scenario.motor, scenario.driven, scenario.plate, scenario.belt
        motor = replace(
            motor, shaft=moved(motor.shaft), weight=near(motor.weight),
            traction=near(motor.traction), center_of_mass=moved(motor.center_of_mass),
        )  # fmt: skip
        ones.append(
            replace(
                scenario,
                motor=motor,
                driven=replace(
                    driven, shaft=moved(driven.shaft), traction=near(driven.traction)
                ),
                plate=replace(
                    plate, hinge=moved(plate.hinge), weight=near(plate.weight),
                    center_of_mass=moved(plate.center_of_mass),
                ),
                belt=replace(
                    belt, length=belt.length + 1e-4 * random.standard_normal(),
                    stiffness=near(belt.stiffness),
                ),
            )
        )  # fmt: skip
    mounts = [Mount.of(one) for one in ones]
    numbers = {
        name: tuple(
            np.array([getattr(one, name)[axis] for one in mounts])[:, None] for axis in (0, 1)
        )
        if isinstance(getattr(mounts[0], name), tuple)
        else np.array([getattr(one, name) for one in mounts])[:, None]
        for name in Mount.__match_args__[1:]
        if getattr(mounts[0], name) is not None
    }
    return mounts, replace(Mount.of(scenario), **numbers)


@pytest.mark.parametrize("kind", ADJUSTED)
def test_every_number_may_be_an_array(kind):
    together = 0
    for seed in range(12):
        scenario = seeded_mount(seed, (kind,))
        mounts, mount = varied(scenario, np.random.default_rng(seed))
        for found in solve_many(mount, COUNT, TURNS, mounts.__getitem__):
            if not isinstance(found, Group) or found.rows.size == 1:
                continue
            together += found.rows.size
            for row, one in enumerate(found.rows):
                alone = Group.of(np.array([one]), solved(mounts[one]), TURNS)
                for many, single in zip(found.cases, alone.cases, strict=True):
                    assert np.array_equal(many.state[row], single.state)
                    for name in ("tension", "adjuster", "hinge", "shaft_force"):
                        many_of, own = getattr(many, name)[row], getattr(single, name)
                        scale = 1e-7 * (1 + np.nanmax(np.abs(own), initial=0.0))
                        assert np.allclose(many_of, own, rtol=1e-7, atol=scale, equal_nan=True)
                    grips = many.grip.value[row]
                    assert np.allclose(grips, single.grip.value, rtol=1e-6, equal_nan=True)
    assert together > 50
