"""Remedies: each applied does what was said, and touches nothing else."""

import dataclasses
import math
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from sizes import size

from mountcalc.check import changes
from mountcalc.check.changes import hold_back, spring_in_series
from mountcalc.check.evaluation import evaluate
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import usable_travel
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import Acts, AdjusterKind, MayChange, Rotation
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.threads import finer_thread, read_thread
from mountcalc.setting.advice import advise, solved_remedies
from mountcalc.setting.page import setting_text
from mountcalc.table.table import tension_table

EVERY = sorted(path.stem for path in (Path(__file__).parents[2] / "scenarios").glob("*.toml"))


def snug_of(scenario):
    return usable_travel(Mount.of(scenario)).snug


def assert_snug_near(changed, snug, told):
    """The belt, told to so much, is as long as the path where the mount was snug."""
    assert changed.belt.length == pytest.approx(
        float(Mount.of(changed).path(snug).length), abs=told
    )
    assert changed.belt.length / told == pytest.approx(round(changed.belt.length / told), abs=1e-6)
    # By a lever of a tenth of a metre or more.
    assert snug_of(changed) == pytest.approx(snug, abs=told / 0.1)


def has_adjuster(scenario):
    return scenario.adjuster.kind is not AdjusterKind.NONE


@pytest.fixture(scope="module")
def press(scenarios):
    return read_scenario(scenarios / "job-press.toml")


@pytest.fixture(scope="module")
def scenarios(request):
    return request.path.parents[2] / "scenarios"


@pytest.fixture(scope="module")
def opened(press):
    return solved_remedies(press)


@pytest.fixture(params=size(EVERY, ["cider-mill", "forge-blower", "job-press", "wood-lathe"]))
def scenario(request, scenarios):
    return read_scenario(scenarios / f"{request.param}.toml")


def test_the_job_press_is_closed_and_its_remedies_open_it(press, opened):
    setting = gentlest_setting(press)
    assert not setting.open
    assert setting.turns_max < setting.turns_min
    opening = [remedy.name for remedy, _ in opened if remedy.opens]
    assert "lower-demand" in opening
    assert [remedy.name for remedy, _ in opened][: len(opening)] == opening  # the best come first


def test_remedies_are_ranked_by_how_much_they_widen(opened):
    ranks = [remedy.widening or math.inf for remedy, _ in opened]
    assert ranks == sorted(ranks, reverse=True)
    assert all(remedy.open for remedy, _ in opened)


def test_a_remedy_cures(scenario):
    """Each, judged again, has a setting, and nothing fails that did not; before, some did not."""
    before = evaluate(scenario).fails.keys()
    for remedy, changed in solved_remedies(scenario):
        after = evaluate(changed)
        assert after.point.setting.open, remedy.name
        assert not after.fails.keys() - before, remedy.name


def test_each_remedy_applied_does_what_was_said(scenario):
    before = gentlest_setting(scenario)
    found = solved_remedies(scenario)
    assert found
    for remedy, changed in found:
        after = gentlest_setting(changed)
        for name in ("turns_min", "turns_max", "tension_min", "tension_max", "open"):
            assert getattr(remedy, name) == getattr(after, name), (remedy.name, name)
        assert remedy.opens == (after.open and not before.open)
        if before.tension_max is not None:
            assert remedy.opening_before == before.tension_max / before.tension_min
        if after.tension_max is not None:
            assert remedy.opening_after == after.tension_max / after.tension_min
        if remedy.opening_before is not None and remedy.opening_after is not None:
            # A finer thread keeps the tensions; a spring lets the load move the plate.
            # A thread that is finer leaves a bolt that gives a little less.
            same = 1e-5 if scenario.adjuster.spring is Giving.PARTS else 1e-9
            least = 0.85 if remedy.name == "spring" else 1 - same
            assert remedy.opening_after >= least * remedy.opening_before, remedy.name


def test_the_ends_said_keep_their_promises_in_the_table(press, opened):
    wanted = press.limits.grip
    for remedy, changed in opened:
        least, most = tension_table(changed, turns=[remedy.turns_min, remedy.turns_max]).rows
        assert least.grip == pytest.approx(wanted, rel=1e-6)
        assert most.worst_share_of_limit == pytest.approx(1.0, rel=1e-6)
        assert least.tension == pytest.approx(remedy.tension_min, rel=1e-9)
        assert most.tension == pytest.approx(remedy.tension_max, rel=1e-9)


def test_larger_pulleys_keep_the_ratio_and_where_the_belt_is_snug(scenario):
    snug = snug_of(scenario)
    changed = changes.larger_pulleys(scenario, snug).scenario
    old, new = (one.driven.pulley_radius / one.motor.pulley_radius for one in (scenario, changed))
    # Diameters and belt are those that are told: to 0.01 in or 1 mm.
    told = 0.01 * 0.0254 if scenario.display == "inch" else 0.001
    sizes = [2 * part.pulley_radius / told for part in (changed.motor, changed.driven)]
    assert sizes == pytest.approx([round(size) for size in sizes], abs=1e-9)
    assert new == pytest.approx(old, rel=told / changed.motor.pulley_radius)
    step = 0.25 * 0.0254 if scenario.display == "inch" else 0.005
    small = 2 * min(changed.motor.pulley_radius, changed.driven.pulley_radius)
    assert small / step == pytest.approx(round(small / step), abs=1e-9)
    assert 1.0 < changed.motor.pulley_radius / scenario.motor.pulley_radius < 1.5
    assert_snug_near(changed, snug, told)
    assert Mount.of(changed).pull < Mount.of(scenario).pull


def test_further_apart_shifts_the_mount_as_one_piece(scenario):
    snug = snug_of(scenario)
    changed = changes.further_apart(scenario, snug).scenario
    center = [math.dist(one.motor.shaft, one.driven.shaft) for one in (scenario, changed)]
    told = 0.01 * 0.0254 if scenario.display == "inch" else 0.001
    assert center[1] == pytest.approx(1.25 * center[0], abs=told)
    assert (center[1] - center[0]) / told == pytest.approx(round((center[1] - center[0]) / told))
    points = [
        (one.plate.hinge, one.motor.center_of_mass, one.plate.center_of_mass,
         one.adjuster.tip or one.adjuster.plate_pin or one.plate.hinge,
         one.adjuster.base_pin or one.plate.hinge, one.motor.shaft)
        for one in (scenario, changed)
    ]  # fmt: skip
    shifts = np.array(points[1]) - np.array(points[0])
    np.testing.assert_allclose(shifts, np.broadcast_to(shifts[0], shifts.shape), atol=1e-12)
    assert changed.driven == scenario.driven
    assert_snug_near(changed, snug, told)


def test_one_more_belt_never_asks_more_of_each(scenario):
    change = changes.one_more_belt(scenario, 0.0)
    if change is None:
        assert scenario.belt.section.startswith("flat")
        return
    before, after = gentlest_setting(scenario), gentlest_setting(change.scenario)
    assert change.scenario.belt.count == scenario.belt.count + 1
    assert after.tension_min <= before.tension_min * (1 + 1e-9)


def test_a_heavier_section_is_the_next_one_with_its_data(press):
    changed = changes.heavier_belt(press, 0.0).scenario
    assert changed.belt.section == "4L"
    assert changed.belt.mass > press.belt.mass
    assert changed.belt.stiffness > press.belt.stiffness
    assert changed.belt.length == press.belt.length
    heaviest = dataclasses.replace(press, belt=dataclasses.replace(press.belt, section="E"))
    assert changes.heavier_belt(heaviest, 0.0) is None


def test_less_demand_never_needs_more_turns(scenario):
    changed = changes.lower_demand(scenario, 0.0).scenario
    times = changed.driven.power / scenario.driven.power
    assert 0.67 < times <= 0.75 * (1 + 1e-9)
    sentence = changes.lower_demand(scenario, 0.0).sentence
    unit, name = (745.6998715822702, "hp") if scenario.display == "inch" else (1.0, "W")
    assert f"for {changed.driven.power / unit:g} {name} instead" in sentence  # what was solved
    if has_adjuster(scenario):
        assert gentlest_setting(changed).turns_min <= gentlest_setting(scenario).turns_min


def test_rotation_and_loads_change_only_where_allowed(press):
    strict = dataclasses.replace(press, may_change=MayChange())
    assert changes.other_rotation(strict, 0.0) is None
    assert changes.loads_elsewhere(strict, 0.0) is None
    turned = changes.other_rotation(press, 0.0).scenario
    assert (press.motor.rotation, turned.motor.rotation) == (Rotation.CW, Rotation.CCW)
    moved = changes.loads_elsewhere(press, 0.0).scenario
    middle = sum(bearing.position for bearing in press.driven.bearings) / 2
    assert [load.position for load in moved.driven.loads] == [middle]
    assert changes.loads_elsewhere(moved, 0.0) is None
    both_ways = dataclasses.replace(press, motor=dataclasses.replace(press.motor, reverses=True))
    assert changes.other_rotation(both_ways, 0.0) is None
    assert not {"other-rotation", "loads-elsewhere"} & {
        remedy.name for remedy, _ in solved_remedies(strict)
    }


@pytest.mark.parametrize(
    ("position", "nearer"), [(-0.2, -0.1), (0.5, 0.4), (0.1, 0.125), (0.29, 0.22)]
)
def test_the_pulley_comes_half_way(press, position, nearer):
    first, second = press.driven.bearings
    bearings = (
        dataclasses.replace(first, position=0.3), dataclasses.replace(second, position=0.0)
    )  # fmt: skip
    driven = dataclasses.replace(press.driven, bearings=bearings, pulley_position=position)
    changed = changes.nearer_pulley(dataclasses.replace(press, driven=driven), 0.0).scenario
    # The step is the one that is told, to 0.01 in.
    assert changed.driven.pulley_position == pytest.approx(nearer, abs=0.005 * 0.0254)


@pytest.mark.parametrize("position", [0.0, 0.15, 0.3])
def test_a_pulley_that_is_near_stays(press, position):
    first, second = press.driven.bearings
    bearings = (
        dataclasses.replace(first, position=0.0), dataclasses.replace(second, position=0.3)
    )  # fmt: skip
    driven = dataclasses.replace(press.driven, bearings=bearings, pulley_position=position)
    assert changes.nearer_pulley(dataclasses.replace(press, driven=driven), 0.0) is None


@pytest.mark.parametrize(
    ("name", "finer"),
    [
        ("5/16-18", "5/16-24"),
        ("0.375-16 UNC LH", "3/8-24 LH"),
        ("#10-24", "#10-32"),
        ("M10", "M10x1.25"),
        ("M10x1.25", "M10x1"),
    ],
)
def test_the_next_finer_thread(name, finer):
    thread = read_thread(name)
    found = finer_thread(thread)
    assert found == read_thread(finer)
    assert found.pitch < thread.pitch
    assert found.right_handed == thread.right_handed


@pytest.mark.parametrize("name", ["M10x0.75", "M11x1", "1 1/4-7", "Tr20x4", "1/2-10 ACME"])
def test_no_finer_thread_is_invented(name):
    assert finer_thread(read_thread(name)) is None


def test_a_finer_thread_keeps_the_tensions_and_stretches_the_turns(scenario):
    gives = Mount.of(scenario).spring  # by a value: a finer thread leaves a thicker bolt
    scenario = replace(scenario, adjuster=replace(scenario.adjuster, spring=gives))
    change = changes.finer_screw(scenario, 0.0)
    if not has_adjuster(scenario):
        assert change is None
        return
    before, after = gentlest_setting(scenario), gentlest_setting(change.scenario)
    coarser = scenario.adjuster.thread.pitch / change.scenario.adjuster.thread.pitch
    assert after.turns_min == pytest.approx(coarser * before.turns_min, rel=1e-6)
    assert after.turns_max == pytest.approx(coarser * before.turns_max, rel=1e-6)
    assert after.tension_max == pytest.approx(before.tension_max, rel=1e-9)


def test_with_the_spring_a_turn_adds_a_quarter(scenario):
    requirements, setting = requirements_of(scenario), gentlest_setting(scenario)
    change = spring_in_series(requirements, setting)
    if not has_adjuster(scenario):
        assert change is None
        return
    turns = setting.turns_min if setting.set_turns is None else setting.set_turns
    sprung = requirements_of(change.scenario)
    tension = float(requirements.tension(np.array([turns]))[0])
    grid = np.linspace(0.0, sprung.last_turn, 2001)
    same = float(np.interp(tension, sprung.tension(grid), grid))
    rigid, soft = (
        float(np.diff(one.tension(np.array([at, at + 1e-3])))[0])
        for one, at in ((requirements, turns), (sprung, same))
    )
    # The stiffness is named to two figures, and the levers turn a little with the plate.
    assert soft / rigid == pytest.approx(0.25, rel=0.06)
    assert spring_in_series(sprung, gentlest_setting(change.scenario)) is None


@pytest.fixture(scope="module")
def heavy(scenarios):
    """A hung motor so heavy that it over-tightens the belt by itself."""
    light = read_scenario(scenarios / "grindstone.toml")
    motor = dataclasses.replace(light.motor, weight=2.5 * light.motor.weight)
    return dataclasses.replace(light, motor=motor)


def test_an_adjuster_that_holds_back_opens_what_weight_over_tightens(heavy):
    before = gentlest_setting(heavy)
    assert (before.open, before.turns_max) == (False, 0.0)
    named = {remedy.name: (remedy, changed) for remedy, changed in solved_remedies(heavy)}
    held, changed = named["hold-back"]
    assert held.opens
    assert changed.adjuster.acts is Acts.BOTH
    assert dataclasses.replace(changed, adjuster=heavy.adjuster) == heavy
    assert held.tension_max < before.tension_min


def test_holding_back_is_not_offered_where_it_is_not_needed(scenario):
    assert hold_back(requirements_of(scenario)) is None


def test_a_light_load_is_tensioned_by_weight_alone(press):
    changed = changes.weight_alone_change(press, 0.0).scenario
    assert changed.adjuster.kind is AdjusterKind.NONE
    assert dataclasses.replace(changed, adjuster=press.adjuster) == press
    assert changes.weight_alone_change(changed, 0.0) is None


def test_weights_that_suit_open_what_a_coarse_hand_cannot_set(scenarios):
    stone = read_scenario(scenarios / "grindstone.toml")
    driven = dataclasses.replace(stone.driven, power=0.6 * stone.driven.power)
    limits = dataclasses.replace(stone.limits, turn_error=1.0)
    coarse = dataclasses.replace(stone, driven=driven, limits=limits)
    assert not gentlest_setting(coarse).open
    named = {remedy.name: (remedy, changed) for remedy, changed in solved_remedies(coarse)}
    by_weight, changed = named["weight-alone"]
    assert by_weight.opens
    assert by_weight.turns_min is None
    assert gentlest_setting(changed).set_tension == pytest.approx(
        float(requirements_of(coarse).tension(np.zeros(1))[0]), rel=1e-9
    )
    assert "Nothing of what" not in setting_text(coarse, advise(coarse))  # weight does it
    page = " ".join(setting_text(coarse, advise(coarse, always_remedies=True)).split())
    assert re.search(r"Leave the adjuster off .* Then: open, 15 lbf on each strand", page)


def test_a_remedy_by_which_even_the_gentlest_tension_grows_is_told_so(scenarios):
    mill = read_scenario(scenarios / "cider-mill.toml")
    advice = advise(mill, always_remedies=True)
    low, high = advice.setting.tension_min, advice.setting.tension_max
    for times in (1.0, 1.2):
        remedy = dataclasses.replace(
            advice.remedies[0], tension_min=times * low, tension_max=2 * high
        )
        changed = dataclasses.replace(advice, remedies=(remedy,))
        told = "the gentlest tension grows from 14 lbf" in " ".join(
            setting_text(mill, changed).split()
        )
        assert told == (times > 1)
