"""Where ranges of random mounts end: each claim is tried out on the mount.

Only some random mounts have such an end: their seeds are listed, and each test says why.
"""

import random
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount

from mountcalc.requirements.requirements import requirements_of, weight_alone_of, weight_keeps
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.table.table import tension_table

ALMOST = 1e-6
NO_LIMIT = (1, 11, 24, 97, 119)
FREED = (14, 75, 87, 108)
KEEPS = (8, 34, 58, 78)


@cache
def solved(seed):
    scenario = seeded_mount(seed, ADJUSTED)
    return scenario, requirements_of(scenario), gentlest_setting(scenario)


def rest_tensions(scenario, *turns):
    return [row.tension for row in tension_table(scenario, turns).rows]


@pytest.mark.parametrize("seed", NO_LIMIT)
def test_what_is_said_of_the_stiffest_belt_holds(seed):
    scenario, _, setting = solved(seed)
    assert setting.turns_max is None
    belt = scenario.belt
    stiff = replace(belt, stiffness=belt.stiffness * belt.stiffness_factor)
    stiffest = requirements_of(replace(scenario, belt=stiff))
    worst = stiffest.worst(np.linspace(0, stiffest.last_turn, 200)).max()
    assert ("with the stiffest belt, too" in setting.governs.max_reason) == (worst < 1)


@pytest.mark.parametrize("seed", FREED)
def test_no_setting_lies_past_where_the_adjuster_comes_free(seed):
    scenario, requirements, setting = solved(seed)
    free, last = setting.free_turns, requirements.last_turn
    for turns in (setting.set_turns, setting.new_turns):
        assert turns is None or turns <= free + ALMOST
    before, here, end = rest_tensions(scenario, 0.9 * free, min(free + 1e-4, last), last)
    assert before < here
    assert end == pytest.approx(here, rel=1e-3)


@pytest.mark.parametrize("seed", KEEPS)
def test_weight_that_is_said_to_keep_all_keeps_it_however_it_was_weighed(seed):
    scenario = seeded_mount(seed, ADJUSTED)
    assert weight_keeps(scenario)
    hand = random.Random(seed)  # noqa: S311  # no secret
    error, factor = scenario.motor.weight_error, scenario.belt.stiffness_factor
    for _ in range(10):
        times, stiffness = 1 + hand.uniform(-error, error), factor ** hand.uniform(-1, 1)
        belt, motor, plate = scenario.belt, scenario.motor, scenario.plate
        tried = replace(
            weight_alone_of(scenario),
            belt=replace(belt, stiffness=stiffness * belt.stiffness),
            motor=replace(motor, weight=times * motor.weight),
            plate=replace(plate, weight=times * plate.weight),
        )
        requirements = requirements_of(tried)
        assert all(margin[0] >= 1 - ALMOST for margin in requirements.grip_margins(0.0).values())
        assert requirements.worst(0.0)[0] <= 1 + ALMOST
