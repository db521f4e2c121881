"""Where a range ends, and mounts that have none to advise: what is said of them holds."""

import re
import sys
from dataclasses import replace

import numpy as np
import pytest
from scipy.constants import lbf
from setting_mounts import rigid

from mountcalc import read_scenario
from mountcalc.card.card import bench_card
from mountcalc.card.page import card_text
from mountcalc.check.check import check
from mountcalc.check.set_point import find_set_point
from mountcalc.judgement import Verdict
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Acts
from mountcalc.setting.advice import advise
from mountcalc.setting.page import setting_text
from mountcalc.setting.weights import weight_alone
from mountcalc.table import tension_table
from mountcalc.table.page import table_text


@pytest.fixture(scope="module")
def cider_mill(request):
    return rigid(read_scenario(request.config.rootpath / "scenarios" / "cider-mill.toml"))


@pytest.fixture(scope="module")
def stone(request):
    return read_scenario(request.config.rootpath / "scenarios" / "grindstone.toml")


def stronger(scenario, times):
    """The same with other bearing metal."""
    bearings = tuple(
        replace(one, limit=times * one.limit, starting_limit=times * one.starting_limit)
        for one in scenario.driven.bearings
    )
    return replace(scenario, driven=replace(scenario.driven, bearings=bearings))


def held_back(scenario, times):
    """The motor so many times as heavy, on a bolt that pulls the plate back."""
    motor = replace(scenario.motor, weight=times * scenario.motor.weight)
    return replace(scenario, motor=motor, adjuster=replace(scenario.adjuster, acts=Acts.PULL))


def loaded(scenario, times):
    loads = tuple(replace(one, force=times * one.force) for one in scenario.driven.loads)
    return replace(scenario, driven=replace(scenario.driven, loads=loads))


def with_power(scenario, power):
    return replace(scenario, driven=replace(scenario.driven, power=power))


def words(text):
    return " ".join(text.split())


def page(scenario, *, remedies=False):
    """All that is said of a setting; what would widen it is solved where that is asked for."""
    with pytest.MonkeyPatch.context() as patch:
        if not remedies:
            patch.setattr(sys.modules["mountcalc.setting.advice"], "solved_remedies", lambda _: ())
        return words(setting_text(scenario, advise(scenario), more=True))


def stiffest(scenario):
    belt = scenario.belt
    stiffness = belt.stiffness * belt.stiffness_factor
    return replace(scenario, belt=replace(belt, stiffness=stiffness))


@pytest.mark.parametrize("times", [40.0, 200.0])
def test_what_never_reaches_a_limit_is_said_of_the_stiffest_belt(cider_mill, times):
    """Of the motor's side, of adjuster and hinge no limit is known: that is said, not the rest."""
    scenario = stronger(cider_mill, times)
    reason = gentlest_setting(scenario).governs.max_reason
    most = gentlest_setting(stiffest(scenario)).turns_max
    if most is None:
        assert "with the stiffest belt, too" in reason
    else:
        assert f'the stiffest belt has bearing "pulley end" at its limit at {most:.2f}' in reason
    assert "no limit is known of the motor's own bearings, the adjuster or the hinge" in reason
    assert "over-tightened" not in page(scenario)


def test_both_kinds_of_stiffest_belt_are_tried_above(cider_mill):
    most = [gentlest_setting(stiffest(stronger(cider_mill, n))).turns_max for n in (40.0, 200.0)]
    assert [one is None for one in most] == [False, True]


def test_what_the_weights_break_at_zero_alone_is_no_limit_of_the_stiffest_belt(stone):
    """It said: "the stiffest belt has the adjuster at its limit at 0.00 turns"."""
    held = held_back(stronger(stone, 1.8), 2.5)
    limits = replace(held.limits, adjuster=15 * lbf)
    reason = gentlest_setting(replace(held, limits=limits)).governs.max_reason
    assert "comes free" in reason
    assert "0.00 turns" not in reason


def test_a_limit_that_is_given_is_not_called_unknown(cider_mill):
    scenario = stronger(cider_mill, 200.0)
    scenario = replace(scenario, limits=replace(scenario.limits, adjuster=1e6))
    reason = gentlest_setting(scenario).governs.max_reason
    assert reason.endswith("no limit is known of the motor's own bearings or the hinge")


@pytest.mark.parametrize("times", [1.4, 37 / 24])
def test_a_bolt_that_holds_back_ends_where_it_comes_free(stone, times):
    scenario = held_back(stone, times)
    setting = gentlest_setting(scenario)
    free = setting.free_turns
    before, here, after = tension_table(scenario, [free - 1e-3, free + 1e-3, free + 5]).rows
    assert [row.rest.state for row in (before, here, after)] == ["held", "riding", "riding"]
    assert setting.set_turns <= setting.new_turns <= free < setting.new_turns + 1 / 16
    (judged,) = (one for one in check(scenario).judgements if one.name == "setting")
    assert judged.verdict is (Verdict.PASS if setting.open else Verdict.FAIL)
    freed = "turns the adjuster comes free, and more add nothing"
    assert judged.sentence == setting.why_not_open or freed in judged.sentence
    assert judged.value is None
    assert after.tension == pytest.approx(here.tension, rel=1e-9)
    assert setting.new_tension < min(after.tension, 1.3 * setting.set_tension) * (1 + 1e-6)
    assert "where the bolt comes free: leave the bolt clear, more turns add nothing" in page(
        scenario
    )
    card = bench_card(scenario)
    assert card.new is None or card.new.turns == setting.new_turns
    table = tension_table(scenario)
    assert table.rows[-1].rest.state == "riding"
    assert "turns the bolt is free: more turns add nothing" in words(
        table_text(scenario, table, more=True)
    )


def test_no_balance_is_asked_to_show_nothing(stone):
    """A new belt that takes all that weight gives is not set by a pull that no scale shows."""
    scenario = held_back(stone, 40 / 24)
    balance = gentlest_setting(scenario).spring_balance
    assert not balance.tightens
    assert balance.new_pull < scenario.limits.balance_error
    for text in (page(scenario), words(card_text(scenario, bench_card(scenario), more=True))):
        assert "For a new belt leave the bolt clear." in text


def test_a_bolt_that_holds_back_too_little_is_judged_where_it_comes_free(stone):
    scenario = held_back(stone, 1.0)
    setting = gentlest_setting(scenario)
    assert setting.turns_min is None
    assert find_set_point(scenario).turns == setting.free_turns < 2


def test_weight_that_keeps_grip_and_limits_leads_the_page(stone):
    for acts in (Acts.PULL, Acts.PUSH):
        scenario = held_back(stone, 37 / 24)
        scenario = replace(scenario, adjuster=replace(scenario.adjuster, acts=acts))
        alone = weight_alone(scenario)
        assert alone.keeps
        assert re.search(r"===+ First: Leave the bolt clear: weight alone puts", page(scenario))
        gentlest = gentlest_setting(scenario).set_tension
        grows = alone.tension > 1.01 * gentlest
        assert ("of the gentlest setting" in alone.keeps_sentence) == grows
    light = held_back(with_power(stone, 0.5 * stone.driven.power), 37 / 24)
    assert "more than the 10 lbf of the gentlest" in weight_alone(light).keeps_sentence
    for times in (1.0, 34 / 24, 60 / 24):  # slips; slips if lighter than weighed; too heavy
        alone = weight_alone(held_back(stone, times))
        assert not alone.keeps
        assert alone.keeps_sentence is None


@pytest.mark.parametrize(("name", "times"), [("cider_mill", 10.0), ("stone", 4.5)])
def test_loads_that_no_tension_takes_off_are_told_with_what_does(name, times, request):
    scenario = loaded(request.getfixturevalue(name), times)
    setting = gentlest_setting(scenario)
    assert not setting.open
    said = re.fullmatch(
        r'the loads on the shaft alone bring bearing "([\w ]+)" to (\d+) % of its limit before the '
        r"belt pulls, and no tension takes that off: bring them below (\d+) % of what they are, or "
        r'have bearing "\1" bear more',
        setting.why_not_open,
    )
    requirements = requirements_of(scenario)
    worst = [share for one, share in requirements.slack.items() if one.bearing == said[1]]
    assert max(worst) == pytest.approx(int(said[2]) / 100, abs=0.006)
    turns = np.linspace(0, requirements.last_turn, 50)
    shares = [share for one, share in requirements.shares(turns).items() if one.bearing == said[1]]
    assert np.max(np.stack(shares), axis=0).min() > 1
    lighter = requirements_of(loaded(scenario, (int(said[3]) - 0.01) / 100))
    assert max(share for one, share in lighter.slack.items() if one.bearing == said[1]) < 1
    assert "Over its limit" in words(table_text(scenario, tension_table(scenario), more=True))


@pytest.mark.parametrize("part", ["hinge", "adjuster"])
def test_a_hinge_or_bolt_that_the_weights_break_is_told_so(cider_mill, part):
    limit = {"hinge": 100.0, "adjuster": 20.0}[part]
    scenario = replace(cider_mill, limits=replace(cider_mill.limits, **{part: limit}))
    why = gentlest_setting(scenario).why_not_open
    assert why.startswith(f"the weights of motor and plate alone bring the {part} to 1")
    assert "no tension takes that off: bring them below" in why
    text = words(table_text(scenario, tension_table(scenario), more=True))
    assert f"Over its limit before the belt pulls: the {part}, at rest, and no tension" in text


@pytest.mark.parametrize("share", [0.0, 0.009])
def test_an_idle_machine_is_told_no_setting(cider_mill, share):
    scenario = with_power(cider_mill, share * cider_mill.motor.power)
    setting = gentlest_setting(scenario)
    assert (setting.set_turns, setting.new_turns, setting.spring_balance) == (None, None, None)
    assert not setting.open
    text = page(scenario, remedies=True)
    assert "Verdict: None: the machine takes 0" in text
    assert "A belt that only idles wants its slack just taken up" in text
    assert "WHAT WOULD WIDEN" not in text
    own = scenario.belt.mass * (scenario.motor.speed * scenario.motor.pulley_radius) ** 2
    assert f"takes {own / 4.4482216152605:.1f} lbf on each strand" in text
    result = check(scenario)
    assert result.ok
    assert result.turns == 0
    judged = {one.name: one.verdict for one in result.judgements}
    assert judged["setting"] is Verdict.NOTE
    assert "grip" not in judged
    assert "only idles" in bench_card(scenario).why_not
    assert "only idles wants" in words(table_text(scenario, tension_table(scenario), more=True))


def test_a_little_power_is_not_idling(cider_mill):
    scenario = with_power(cider_mill, 0.02 * cider_mill.motor.power)
    assert gentlest_setting(scenario).set_turns is not None
