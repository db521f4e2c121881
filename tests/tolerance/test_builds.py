"""Builds of a drawing: what is drawn, and what is found of them beside the ordinary solver."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
from random_mounts import ADJUSTED, seeded_mount
from setting_mounts import mirrored
from sizes import size

from mountcalc.belts.fitting import fit
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.requirements.window import find_window
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.tolerance.judge import judged
from mountcalc.tolerance.known import known
from mountcalc.tolerance.sample import builds_of
from mountcalc.tolerance.turned import rest_tensions, turned

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
IDS = [path.stem for path in SCENARIOS]
NONE = {
    "hinge": 0.0, "bolt": 0.0, "shaft": 0.0, "belt_length": 0.0, "weights": 0.0,
    "stiffness_factor": 1.0, "traction_factor": 1.0, "turn_error": 0.0,
    "spring_rate": 0.0, "give_factor": 1.0,
}  # fmt: skip
SAME = 1e-6  # [-] turns, and shares of tensions


def scenario_of(name):
    return read_scenario(SCENARIOS[IDS.index(name)])


def made(scenario, **errors):
    return replace(scenario, build=replace(scenario.build, **errors))


def numbers(builds):
    """All that varies, in rows."""
    mount = builds.mount
    found = [builds.beyond, *builds.hand]
    for name in ("hinge", "bears_at", "base_pin", "motor_shaft", "driven_shaft", "motor_center"):
        found += getattr(mount, name) or ()
    for name in ("stiffness", "length", "motor_weight", "plate_weight", "motor_traction",
                 "driven_traction"):  # fmt: skip
        found.append(getattr(mount, name))
    return np.array(found)


@pytest.mark.parametrize("path", SCENARIOS, ids=IDS)
def test_a_seed_draws_the_same_builds(path):
    scenario = read_scenario(path)
    first, again = (numbers(builds_of(scenario, 50, 3)) for _ in range(2))
    assert np.array_equal(first, again)
    other = builds_of(scenario, 50, 4).mount
    assert not np.any(other.length == builds_of(scenario, 50, 3).mount.length)


@pytest.mark.parametrize("path", SCENARIOS, ids=IDS)
def test_without_errors_every_build_is_the_drawing(path):
    scenario = made(read_scenario(path), **NONE)
    builds = builds_of(scenario, 20, 3)
    gives = Mount.of(scenario).spring  # of parts that of the drawing, by its value
    assert builds.alone(7) == replace(scenario, adjuster=replace(scenario.adjuster, spring=gives))
    assert np.ptp(numbers(builds), axis=1) == pytest.approx(0.0, abs=1e-15)
    tension, per_turn = rest_tensions(builds, [0.0, 0.5], as_missed=True)
    found = judged(builds, 20)
    for values in (*tension, *per_turn, found.zero, found.fewest, found.most):
        assert np.all(np.isnan(values)) or np.ptp(values) <= 1e-9 * (1.0 + np.abs(values[0]))
    assert found.share(found.open) in (0.0, 1.0)


def test_errors_spread_as_they_are_said_to():
    """19 of 20 within what is said, none past one and a half times that; scipy's distribution."""
    scenario = scenario_of("wood-lathe")
    builds, said = builds_of(scenario, 50_000, 11), known(scenario)
    mount, drawn = builds.mount, Mount.of(scenario)
    offs = {
        "hinge": (mount.hinge[0] - drawn.hinge[0], said.hinge),
        "base pin": (mount.base_pin[1] - drawn.base_pin[1], said.bolt),
        "driven shaft": (mount.driven_shaft[0] - drawn.driven_shaft[0], said.shaft),
        "belt": (mount.length - drawn.length, said.belt_length),
        "motor": (mount.motor_weight / drawn.motor_weight - 1.0, said.weights),
        "stiffness": (
            np.log(mount.stiffness / drawn.stiffness), np.log(said.stiffness_factor),
        ),
        "traction": (
            np.log(mount.driven_traction / drawn.driven_traction), np.log(said.traction_factor),
        ),
        "zero": (builds.hand[0], said.turn_error),
    }  # fmt: skip
    for name, (off, error) in offs.items():
        expected = scipy.stats.truncnorm(-3.0, 3.0, scale=error / 2.0)
        assert scipy.stats.kstest(off, expected.cdf).pvalue > 1e-3, name
        assert np.mean(np.abs(off) <= error) == pytest.approx(0.957, abs=0.004), name
        assert np.max(np.abs(off)) <= 1.5 * error, name


def test_half_an_error_is_half_as_far_in_the_same_builds():
    scenario = scenario_of("cider-mill")
    whole, half = (
        builds_of(made(scenario, hinge=one * scenario.build.hinge), 100, 5) for one in (1.0, 0.5)
    )
    drawn = scenario.plate.hinge[0]
    assert half.mount.hinge[0] - drawn == pytest.approx(0.5 * (whole.mount.hinge[0] - drawn))
    assert np.array_equal(half.mount.length, whole.mount.length)
    assert np.array_equal(half.mount.driven_shaft, whole.mount.driven_shaft)


def random_builds(kinds, seeds, count=400):
    """Builds of random mounts that have a zero, and what was found of them."""
    for seed in seeds:
        scenario = seeded_mount(seed, kinds)
        builds = builds_of(scenario, count, seed)
        try:
            yield builds, judged(builds, 0)
        except MountError:
            continue


@pytest.mark.parametrize("kind", AdjusterKind)
def test_zero_and_tensions_are_the_solvers(kind):
    turns, seen = np.array([0.0, 0.5, 2.0]), 0
    for builds, found in random_builds((kind,), range(size(60, 9)), 200):
        tension, _ = rest_tensions(builds, turns)
        for row in range(0, builds.count, 25):
            try:
                solved = solve_mount(Mount.of(builds.alone(row)))
                told = solved.at_rest(turns).tension
            except MountError:
                continue
            if kind is AdjusterKind.NONE:
                told = np.broadcast_to(told, 3)
                told = np.where(np.isnan(tension[:, row]) & np.isnan(told), 0.0, told)
                if np.isnan(tension[0, row]):
                    continue
            else:
                seen += found.reached[row]
                zero = (solved.zero_extension + builds.beyond[row]) / solved.advance
                assert found.zero[row] == pytest.approx(zero, rel=SAME, abs=SAME)
            inside = ~np.isnan(told)
            assert tension[inside, row] == pytest.approx(told[inside], rel=SAME, abs=SAME)
            seen += np.count_nonzero(inside)
    assert seen > size(150, 40)


@pytest.mark.parametrize("kind", ADJUSTED)
def test_what_is_judged_together_is_what_the_ordinary_solver_says(kind):
    """Of several hundred builds of each kind; none disagrees."""
    checked = opened = 0
    for builds, found in random_builds((kind,), range(size(150, 12))):
        scenario = builds.scenario
        for row in np.flatnonzero(~found.alone)[:8]:
            checked += 1
            try:
                window = find_window(requirements_of(builds.alone(int(row))))
            except MountError:
                assert not found.reached[row]
                assert not found.open[row]
                continue
            fewest, most = (np.inf if one is None else one for one in (window.fewest, window.most))
            assert found.fewest[row] == pytest.approx(fewest, rel=SAME, abs=SAME)
            assert found.most[row] == pytest.approx(most, rel=SAME, abs=SAME)
            idle = scenario.driven.power < 0.01 * scenario.motor.power
            opened += found.open[row]
            assert found.open[row] == (fewest <= most and np.isfinite(fewest) and not idle)
    assert checked > size(500, 30)
    assert 0 < opened < checked


@pytest.mark.parametrize("stiffness", [1e6, 1e5])
@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "job-press", "wood-lathe"])
def test_builds_that_give_are_what_the_ordinary_solver_says(name, stiffness):
    scenario = scenario_of(name).with_(adjuster={"stiffness": stiffness})
    builds, turns = builds_of(scenario, 200, 4), np.array([0.0, 0.5, 1.5])
    found, (tension, per_turn) = judged(builds, 0), rest_tensions(builds, turns)
    assert not np.any(found.alone)
    for row in range(0, 200, 80):
        requirements = requirements_of(builds.alone(row))
        solved, window = requirements.solved, find_window(requirements)
        zero = (solved.zero_extension + builds.beyond[row]) / solved.advance
        assert found.zero[row] == pytest.approx(zero, rel=SAME, abs=SAME)
        assert found.fewest[row] == pytest.approx(window.fewest, rel=SAME, abs=SAME)
        assert found.most[row] == pytest.approx(window.most or np.inf, rel=SAME, abs=SAME)
        assert found.open[row] == (window.fewest <= window.most)
        assert tension[:, row] == pytest.approx(solved.at_rest(turns).tension, rel=SAME, abs=SAME)
        low, high = solved.at_rest([1.499, 1.501]).tension
        assert per_turn[2, row] == pytest.approx((high - low) / 2e-3, rel=1e-5)


@pytest.mark.parametrize("stop", ["45 mm", "20 mm"])  # solid within the range
def test_builds_with_a_coil_spring_are_what_the_ordinary_solver_says(stop):
    scenario = scenario_of("feed-mill").with_(adjuster={"spring": {"stop": stop}})
    builds, turns = builds_of(scenario, 100, 4), np.array([0.0, 5.0, 16.0, 17.0, 20.0])
    found, (tension, _) = judged(builds, 0), rest_tensions(builds, turns)
    assert not np.any(found.alone)
    for row in range(0, 100, 30):
        requirements = requirements_of(builds.alone(row))
        window = find_window(requirements)
        assert found.fewest[row] == pytest.approx(window.fewest, rel=SAME, abs=SAME)
        assert found.most[row] == pytest.approx(window.most, rel=SAME, abs=SAME)
        rest = requirements.solved.at_rest(turns)
        assert tension[:, row] == pytest.approx(rest.tension, rel=SAME, abs=SAME)
    is_solid = np.abs(rest.adjuster) >= 4e3 * scenario.adjuster.coil.stop
    assert np.any(is_solid) == (stop == "20 mm")


@pytest.mark.parametrize("kind", ADJUSTED)
def test_random_builds_that_give_are_what_the_ordinary_solver_says(kind):
    checked = 0
    for seed in range(size(60, 10)):
        scenario = seeded_mount(seed, (kind,))
        spring = 10 ** np.random.default_rng(seed).uniform(5.0, 6.5)
        giving = replace(scenario.adjuster, spring=float(spring))
        builds = builds_of(replace(scenario, adjuster=giving), 100, seed)
        try:
            found = judged(builds, 0)
        except MountError:
            continue
        for row in np.flatnonzero(~found.alone & found.reached)[:2]:
            window = find_window(requirements_of(builds.alone(int(row))))
            fewest, most = (np.inf if one is None else one for one in (window.fewest, window.most))
            assert found.fewest[row] == pytest.approx(fewest, rel=SAME, abs=SAME)
            assert found.most[row] == pytest.approx(most, rel=SAME, abs=SAME)
            checked += 1
    assert checked > size(15, 2)


@pytest.mark.parametrize("path", SCENARIOS, ids=IDS)
def test_shipped_mounts_open_where_their_builds_are_told_to(path):
    """The whole setting, not its window alone; most builds of a drawing need no second look."""
    scenario = read_scenario(path)
    builds = builds_of(scenario, 300, 2)
    found = judged(builds, 40)
    narrow = made(scenario, hinge=4e-3, traction_factor=2.0, stiffness_factor=2.5)
    wild = judged(builds_of(narrow, 300, 2), 40)
    for some, of in ((builds, found), (builds_of(narrow, 300, 2), wild)):
        for row in np.flatnonzero(of.known)[: size(6, 2)]:
            setting = gentlest_setting(some.alone(int(row)))
            if setting.open:
                assert of.open[row]
            elif of.open[row]:  # too narrow for a hand, but a range
                assert setting.turns_min is not None
                assert setting.turns_max is None or setting.turns_min <= setting.turns_max
    if scenario.adjuster.kind is not AdjusterKind.NONE:
        assert not np.any(found.alone)


@pytest.mark.parametrize("name", ["cider-mill", "fretsaw-bench", "job-press"])
def test_room_for_the_belt_is_that_of_belts(name):
    builds = builds_of(scenario_of(name), 400, 6)
    found, designation = judged(builds, 0), builds.scenario.belt.designation
    tight = np.flatnonzero(~found.goes_on | ~found.takes_up)[:15]
    for row in (*tight[: size(15, 5)], *range(size(15, 5))):
        one = builds.alone(int(row))
        told = fit(one, one.belt.length, designation)
        if abs(told.install.there / told.install.needed - 1.0) > 1e-3:
            assert found.goes_on[row] == told.install.ok
        if abs(told.take_up.there / told.take_up.needed - 1.0) > 1e-3:
            assert found.takes_up[row] == told.take_up.ok


def test_some_of_the_builds_that_are_solved_one_by_one_stand_for_all():
    builds = builds_of(scenario_of("forge-blower"), 300, 1)
    all_of, some = judged(builds, 300), judged(builds, 60)
    assert np.all(all_of.alone)
    assert all_of.share(all_of.open) == np.mean(all_of.open)
    assert np.count_nonzero(some.known) == 60
    assert some.share(some.open) == np.mean(all_of.open[:60])


@pytest.mark.parametrize(("name", "error"), [("cider-mill", "traction_factor"),
                                             ("job-press", "stiffness_factor"),
                                             ("wood-lathe", "belt_length")])  # fmt: skip
def test_a_grown_error_never_opens_more(name, error):
    """The same standard errors, scaled: within three deviations of a share of 20,000."""
    scenario, shares = scenario_of(name), []
    if name == "job-press":  # as drawn it is shut: with its limits raised it is open
        bearings = tuple(
            replace(one, limit=1.15 * one.limit, starting_limit=1.15 * one.starting_limit)
            for one in scenario.driven.bearings
        )
        scenario = replace(scenario, driven=replace(scenario.driven, bearings=bearings))
    usual = getattr(known(scenario), error)
    for times in (0.2, 0.5, 1.0, 2.0, 4.0):
        value = usual**times if error.endswith("factor") else usual * times
        found = judged(builds_of(made(scenario, **{error: value}), 20_000, 9), 0)
        shares.append(found.share(found.open))
    assert np.all(np.diff(shares) <= 3 * np.sqrt(0.25 / 20_000))
    assert shares[-1] < shares[0]


def test_the_mirror_image_has_the_same_builds_in_law():
    scenario = made(scenario_of("grindstone"), traction_factor=1.6)
    one, image = (judged(builds_of(some, 20_000, 1), 0) for some in (scenario, mirrored(scenario)))
    assert np.mean(one.zero) == pytest.approx(np.mean(image.zero), abs=0.2)
    assert np.std(one.zero) == pytest.approx(np.std(image.zero), rel=0.03)
    assert one.share(one.open) == pytest.approx(image.share(image.open), abs=0.01)


def test_a_belt_too_short_for_the_pulleys_is_never_snug():
    scenario = made(scenario_of("cider-mill"), belt_length=1.2)
    builds = builds_of(scenario, 200, 1)
    found = judged(builds, 0)
    assert 0 < np.count_nonzero(found.reached) < 100
    assert not np.any(found.open & ~found.reached)
    assert np.all(np.isnan(turned(builds, solve_mount(Mount.of(scenario))).snug[~found.reached]))
