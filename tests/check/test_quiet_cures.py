"""What is said against shaking, knocking, lifting and a thread that turns back does it."""

from dataclasses import replace
from functools import cache

import pytest
from made_mounts import made
from random_mounts import seeded_mount

from mountcalc.check.check import check
from mountcalc.check.evaluation import evaluate
from mountcalc.check.quiet_changes import OTHERWISE, QUIETED, quieter
from mountcalc.check.results import NOTHING
from mountcalc.judgement import Verdict, key_of
from mountcalc.scenario.reader import read_scenario
from mountcalc.strength.changes import NAMES

BAD = {Verdict.FAIL, Verdict.CAUTION}


@cache
def mill():
    return read_scenario("scenarios/cider-mill.toml")


def loose_pins(seed):
    """A random mount whose hinges' pins have play."""
    mount = seeded_mount(seed)
    hinges = replace(mount.parts.hinges, pin_diameter=0.005, play=0.0003)
    return replace(mount, parts=replace(mount.parts, hinges=hinges))


def bad(judgements):
    return {key_of(one) for one in judgements if one.verdict in BAD}


def told(scenario, name):
    return next(one.what_to_change for one in check(scenario).judgements if one.name == name)


# What the sentence says to do, typed into the scenario.
@pytest.mark.parametrize(
    ("name", "tables", "begins", "done"),
    [
        (
            "plate-shaking",
            {"plate": {"thickness": "2 in"}},
            "Make the plate 1 3/4 in thick.",
            {"plate": {"thickness": "1 3/4 in"}},
        ),
        (
            "two-bolts",
            {"adjuster": {"bolt": [{"across": "-3 in"}, {"across": "3 in"}]}},
            "Use one bolt, in the middle between the two.",
            {"adjuster": {"bolt": None, "across": "0 in"}},
        ),
        (
            "bolt-holding",
            {"adjuster": {"friction": 0.02}},
            "Clean the thread and leave it dry, for a friction of about 0.2.",
            {"adjuster": {"friction": 0.2}},
        ),
    ],
)
def test_what_it_says_to_do_does_it(name, tables, begins, done):
    before = mill().with_(**tables)
    said, _, anew = told(before, name).partition(" Then set it anew: ")
    assert said == begins
    assert not anew or before.adjuster.gives
    after = bad(evaluate(before.with_(**done)).judgements)
    was = bad(evaluate(before).judgements)
    assert name in {key[0] for key in was}
    assert after < was
    assert name not in {key[0] for key in after}


def test_a_wider_belt_of_the_blower_is_as_much_stiffer_and_heavier():
    """What the cure reckons is what the reader makes of the width."""
    blower = read_scenario("scenarios/forge-blower.toml")
    assert told(blower, "plate-shaking") == "Fit a belt 50 mm wide, on pulleys that are as wide."
    after = evaluate(blower.with_(belt={"width": "50 mm"}))
    assert bad(after.judgements) == set()
    (made,) = [
        one.scenario.belt
        for one in quieter(evaluate(blower), "plate-shaking")
        if one.sentence.startswith("Fit a belt 50 mm")
    ]
    typed = after.point.scenario.belt
    assert (made.stiffness, made.mass) == pytest.approx((typed.stiffness, typed.mass))


@pytest.mark.parametrize(
    ("seed", "name", "begins"),
    [
        (521, "hinge-knock", "Set the hinges at the very ends of the plate."),
        (7, "start-lift", "Let the adjuster hold the plate both ways"),
        (13, "bolt-ripple", "Let the adjuster hold the plate both ways"),
    ],
)
def test_a_cure_of_any_mount_leaves_nothing_worse(seed, name, begins):
    before = evaluate(loose_pins(seed))
    sentence = told(before.point.scenario, name)
    assert sentence.startswith(begins)
    change = next(one for one in quieter(before, name) if sentence.startswith(one.sentence))
    after = evaluate(change.scenario)
    assert bad(after.judgements) < bad(before.judgements)
    assert name not in {one.name for one in after.judgements if one.verdict in BAD}


def test_what_nothing_cures_says_what_is_left_to_do():
    sentence = told(loose_pins(547), "hinge-knock")
    assert sentence == f"{NOTHING} {OTHERWISE['hinge-knock']}"
    assert OTHERWISE.keys() <= QUIETED | NAMES


@pytest.mark.parametrize(
    "tables",
    [
        {"adjuster": {"thread": "#0-80", "stands_out": "18 in", "pad": None}},
        {"plate": {"material": "MDF", "thickness": "5 mm"}, "hinge": {"mortise_depth": "0.5 mm"}},
    ],
)
def test_nothing_that_is_amiss_of_boards_and_hardware_is_left_without_a_word(tables):
    amiss = [
        one
        for one in check(made(**tables)).judgements
        if one.name in NAMES | QUIETED and one.verdict in BAD
    ]
    assert amiss
    assert all(one.what_to_change for one in amiss)


def test_a_frequency_is_told_what_moves_it_and_by_how_much():
    """A tenth more of motor's weight, typed, moves it as the sentence says."""
    stiff = mill().with_(plate={"thickness": "2 in"})
    (swing,) = [one for one in check(stiff).judgements if one.name == "plate-shaking"]
    assert "a tenth more of the stiffness at the bolt moves it" in swing.sentence
    assert "of the motor's weight moves it 4.3 % down" in swing.sentence
    point = evaluate(stiff).point
    weighty = stiff.with_(motor={"weight": 1.1 * stiff.motor.weight})
    (heavier,) = [
        one for one in evaluate(weighty, point.turns).judgements if one.name == "plate-shaking"
    ]
    assert heavier.value / swing.value == pytest.approx(1 - 0.043, abs=0.004)
