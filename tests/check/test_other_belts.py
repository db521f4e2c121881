"""A new belt, the softest and the stiffest one: judged by check, held to the table's rows."""

import dataclasses
from pathlib import Path

import pytest

from mountcalc.check.evaluation import evaluate
from mountcalc.judgement import Verdict
from mountcalc.pages.amounts import in_figures
from mountcalc.scenario.reader import read_scenario
from mountcalc.table.table import tension_table

SCENARIOS = Path(__file__).parents[2] / "scenarios"
PSI = 6894.757293168362


@pytest.fixture(scope="module")
def mill():
    return read_scenario(SCENARIOS / "cider-mill.toml")


def found(scenario, name, turns=None):
    every = [one for one in evaluate(scenario, turns).judgements if one.name == name]
    assert len(every) == 1
    return every[0]


def with_belt(scenario, **changes):
    return dataclasses.replace(scenario, belt=dataclasses.replace(scenario.belt, **changes))


def with_limits(scenario, **changes):
    return dataclasses.replace(scenario, limits=dataclasses.replace(scenario.limits, **changes))


def test_a_new_belt_is_judged_as_far_past_its_turns_as_a_hand_may_miss_them(mill):
    setting = evaluate(mill).point.setting
    judged = found(mill, "new-belt")
    row = tension_table(mill, [setting.new_turns + setting.turn_error]).rows[0]
    shares = [one.share_of_limit for case in row.cases.values() for one in case.bearings]
    assert judged.verdict is Verdict.PASS
    assert judged.value == pytest.approx(max(shares), rel=1e-6)
    times = setting.new_tension / setting.set_tension
    assert f"{in_figures(times)} times the tension" in judged.sentence


def test_a_new_belt_that_stands_too_hard_on_its_bearing_fails_though_a_bedded_one_does_not(mill):
    """Trumpler's 300 psi before it turns, which no limit of the scenario says anything of."""
    worst = max(
        (one for one in evaluate(mill).judgements if one.name == "start-up-pressure"),
        key=lambda one: one.value,
    )
    near = mill.driven.bearings[0]
    assert worst.subject == near.name
    # So short that a bedded belt just passes; its load does not depend on the length.
    length = near.length * worst.value * 1e6 / (290 * PSI)
    short = dataclasses.replace(near, length=length, limit=1e4, starting_limit=1e4)
    bearings = (short, mill.driven.bearings[1])
    driven = dataclasses.replace(mill.driven, bearings=bearings)
    judged = evaluate(dataclasses.replace(mill, driven=driven))
    assert {name for name, _, _ in judged.fails} == {"new-belt"}
    (bad,) = judged.fails.values()
    assert "300 psi is the most" in bad.sentence
    assert bad.share > 1


def test_a_new_belt_that_cannot_be_set_tight_enough_is_a_caution(mill):
    judged = found(with_limits(mill, bedding=4.0), "new-belt")
    assert judged.verdict is Verdict.CAUTION
    assert judged.share > 1


@pytest.mark.parametrize("turns", [1.0, 1.5, 2.0, 2.5])
def test_softest_and_stiffest_belt_at_turns_that_are_asked_for(mill, turns):
    """The same mount with another stiffness, from its own zero, is what they are held to."""
    soft = tension_table(with_belt(mill, stiffness=mill.belt.stiffness / 2), [turns]).rows[0]
    stiff = tension_table(with_belt(mill, stiffness=mill.belt.stiffness * 2), [turns]).rows[0]
    judged = found(mill, "softest-belt", turns)
    assert judged.value == pytest.approx(soft.running.grip, rel=1e-6)
    good = soft.running.grip >= mill.limits.grip
    assert judged.verdict is (Verdict.PASS if good else Verdict.CAUTION)
    judged = found(mill, "stiffest-belt", turns)
    shares = [one.share_of_limit for case in stiff.cases.values() for one in case.bearings]
    assert judged.value == pytest.approx(max(shares), rel=1e-6)
    assert judged.verdict is (Verdict.PASS if max(shares) <= 1 else Verdict.CAUTION)


def test_a_belt_whose_stiffness_is_known_makes_no_caution(mill):
    known = with_belt(mill, stiffness_factor=1.0)
    assert found(known, "softest-belt", 1.5).verdict is Verdict.PASS
    assert found(known, "stiffest-belt", 1.5).verdict is Verdict.PASS


def test_weight_alone_has_no_other_belts():
    blower = read_scenario(SCENARIOS / "forge-blower.toml")
    names = {one.name for one in evaluate(blower).judgements}
    assert not names & {"new-belt", "softest-belt", "stiffest-belt"}
