"""Plate and adjuster that give: beside the solver's own spring, and found from centres."""

import math
from dataclasses import replace

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount
from reading_logs import read_at
from setting_mounts import rigid
from sizes import size

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountcalcError, MountError
from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.scenario.reader import read_scenario

MILL = rigid(read_scenario("scenarios/cider-mill.toml"))
FEED = read_scenario("scenarios/feed-mill.toml")


def with_spring(scenario, spring):
    return replace(scenario, adjuster=replace(scenario.adjuster, spring=spring))


def test_a_mount_that_gives_is_at_rest_where_the_solver_has_it():
    compared = 0
    for seed in range(size(30, 9)):
        scenario = seeded_mount(seed, ADJUSTED)
        try:
            rigid = solve_mount(Mount.of(scenario))
            rate = scenario.belt.count * scenario.belt.stiffness / scenario.belt.length
            spring = solve_mount(Mount.of(with_spring(scenario, 2.0 * rate)))
        except MountError:
            continue
        turns = np.linspace(0.2, 0.6, 4) * min(rigid.turns_at(rigid.travel.tight_end), 6.0)
        rest = spring.at_rest(turns)
        if not np.all(rest.state == "held"):
            continue
        readings = [Reading(2, float(turn), ReadingMethod.CENTRES, 1.0) for turn in turns]
        model = model_of(rigid, readings, 0.5 / rate)
        one = np.ones((1, 1))
        found = model.at_rest(scenario.belt.stiffness * one, one, turns[np.newaxis])
        assert found.phi[0] == pytest.approx(rest.phi, abs=1e-7)
        assert found.tension[0] == pytest.approx(rest.tension, rel=1e-5)
        compared += 1
    assert compared >= size(10, 3)


def test_give_is_found_from_centres_beside_turns():
    """A give as great as the belt's: without it the belt would read at half its stiffness."""
    rng, rate = np.random.default_rng(3), 4e4
    soft = with_spring(MILL, rate)
    log = [
        Reading(2 + 2 * n + second, 1.5 * n, method, 1.0)
        for n in range(1, 7)
        for second, method in enumerate((ReadingMethod.BALANCE, ReadingMethod.CENTRES))
    ]
    log.append(Reading(99, None, ReadingMethod.BALANCE, 1.0))
    readings, _ = read_at(soft, log, times=1.2, zero=0.3, rng=rng)
    fit = fit_readings(MILL, readings)
    assert fit.give is not None
    assert fit.give.low < rate < fit.give.high
    assert fit.stiffness.low <= 1.2 * MILL.belt.stiffness <= fit.stiffness.high
    assert fit.zero_turns.low <= 0.3 <= fit.zero_turns.high
    assert not any("How far plate" in one for one in fit.cannot_tell)
    known = fit_readings(soft, readings)
    assert math.log(known.stiffness.high / known.stiffness.low) < math.log(
        fit.stiffness.high / fit.stiffness.low
    )
    stiff, _ = read_at(MILL, log, times=1.2, zero=0.3, rng=rng)
    assert fit_readings(MILL, stiff).give is None


def test_a_springs_length_tells_the_tension():
    """By hand: pulled by F it is shorter by F/k; many lengths tell no more of k than one."""
    mill, coil = FEED, FEED.adjuster.coil
    solved = solve_mount(Mount.of(mill))
    turns = (5.0, 9.0, 14.0, 19.0, 37.0)
    log = [Reading(2 + n, one, ReadingMethod.SPRING, 1.0) for n, one in enumerate(turns)]
    read, _ = read_at(mill, log, times=1.0, zero=0.0)
    force = np.abs(solved.at_rest(list(turns)).adjuster)
    pressed = np.minimum(force / coil.rate, coil.stop)
    assert [one.value for one in read] == pytest.approx(coil.free_length - pressed)
    assert read[-1].value == pytest.approx(coil.free_length - coil.stop)
    # Another free length, as it was measured on the bench.
    (longer,), _ = read_at(mill, [replace(log[1], at=0.082)], times=1.0, zero=0.0)
    assert longer.value == pytest.approx(0.082 - pressed[1])
    # Ten of one length are as sure of the force as one, but for the rule.
    rule = math.sqrt(2) * coil.length_error
    one, ten = (
        model_of(solved, [replace(read[2], row=row) for row in range(n)], coil=coil).errors
        for n in (1, 10)
    )
    rate = 0.5 * coil.rate_error * pressed[2]
    assert one[0] == pytest.approx(math.hypot(rule, rate))
    assert ten[0] == pytest.approx(math.hypot(rule, rate * math.sqrt(10)))


@pytest.mark.parametrize(
    ("name", "reading", "why"),
    [
        ("cider-mill", (0.05, None), "this mount has no spring to measure"),
        ("feed-mill", (0.09, None), "shorter than under no load"),
        ("feed-mill", (0.075, 0.070), "shorter than under no load"),
    ],
)
def test_a_length_that_tells_nothing_is_refused(name, reading, why):
    mount = read_scenario(f"scenarios/{name}.toml")
    log = [Reading(7, 2.0, ReadingMethod.SPRING, *reading)]
    with pytest.raises(MountcalcError, match=why):
        fit_readings(mount, log, "log.csv")


def test_a_belt_is_found_behind_a_coil_spring_and_where_that_is_solid():
    mill, rng = read_scenario("scenarios/feed-mill.toml"), np.random.default_rng(4)
    log = [
        Reading(2 + 2 * n + second, turns, method, 1.0)
        for n, turns in enumerate((4.0, 9.0, 14.0, 19.0, 33.0, 36.0))
        for second, method in enumerate((ReadingMethod.SWINGS, ReadingMethod.CENTRES))
    ]
    log += [
        Reading(20 + n, turns, ReadingMethod.SPRING, 1.0) for n, turns in enumerate((9.0, 19.0))
    ]
    readings, _ = read_at(mill, log, times=1.4, zero=-0.5, rng=rng)
    fit = fit_readings(mill, readings)
    lengths = [one for one in fit.readings if one.method is ReadingMethod.SPRING]
    assert all(one.tension is not None and not one.suspect for one in lengths)
    assert any("The spring's rate: taken as the scenario says, within 10%" in one
               for one in fit.cannot_tell)  # fmt: skip
    assert fit.stiffness.low <= 1.4 * mill.belt.stiffness <= fit.stiffness.high
    assert fit.zero_turns.low <= -0.5 <= fit.zero_turns.high
    assert fit.stiffness.high < 6.0 * fit.stiffness.low
    # Taken as rigid, a turn would tell of a belt a tenth as stiff.
    rigid = replace(mill, adjuster=replace(mill.adjuster, coil=None))
    others = [one for one in readings if one.method is not ReadingMethod.SPRING]
    assert fit_readings(rigid, others).stiffness.high < mill.belt.stiffness
