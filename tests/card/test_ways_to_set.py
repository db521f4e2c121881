"""The ways to set a belt, in words: one number for one thing, and nothing that no hand can do."""

import math
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import numpy as np
from plot_mounts import CIDER

from mountcalc.card.card import bench_card
from mountcalc.card.page import card_text
from mountcalc.check.check import check
from mountcalc.check.page import check_text
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import MethodName
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.setting.weights import weight_alone

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@cache
def text_of(name):
    return (SCENARIOS / f"{name}.toml").read_text(encoding="utf-8")


@cache
def page(name):
    scenario = read_scenario(SCENARIOS / f"{name}.toml")
    card = bench_card(scenario)
    return card, " ".join(card_text(scenario, card, more=True).split())


def with_limits(scenario, factor):
    bearings = tuple(
        replace(one, limit=factor * one.limit, starting_limit=factor * one.starting_limit)
        for one in scenario.driven.bearings
    )
    return replace(scenario, driven=replace(scenario.driven, bearings=bearings))


def test_what_is_heard_is_what_the_table_has():
    card, text = page("fretsaw-bench")
    hum = next(one for one in card.methods if one.name is MethodName.HUM)
    shown = readings_of(hum, read_scenario(SCENARIOS / "fretsaw-bench.toml"))
    assert shown.aim != f"{float(shown.aim):.0f}"
    assert f"it swings {shown.aim} (new: {float(shown.new_aim):g}) times a second" in text


def test_turns_are_told_as_a_wrench_sets_them_whether_or_not_they_lead():
    mill = parse_scenario(text_of("cider-mill")).with_(
        adjuster={"stiffness": "rigid"}, belt={"stiffness_factor": 1.155}
    )
    methods = gentlest_setting(mill).methods
    turns = next(one for one in methods if one.name is MethodName.TURNS)
    assert turns.trustworthy
    assert methods[0] is not turns
    shown = readings_of(turns, mill)
    told = [shown.not_below, shown.aim, shown.new_aim, shown.never_above]
    sixteenths = [16 * sum(map(Fraction, one.split())) for one in told]
    assert sixteenths == sorted(map(int, sixteenths))
    assert abs(sixteenths[1] - 16 * turns.aim) <= 0.5


def test_a_new_belt_whose_turns_are_rounded_is_not_said_to_meet_a_limit():
    assert "bearings or the travel allow" not in page("fretsaw-bench")[1]
    assert "bearings or the travel allow 1.21 times" in page("grindstone")[1]


def test_a_motor_that_hangs_on_the_balance_asks_for_a_second_pair_of_hands():
    card, text = page("grindstone")
    assert not card.spring_balance.slack_tightens
    assert "A second pair of hands, and a block under the plate: the motor hangs" in text


def test_a_way_that_the_table_does_not_trust_is_said_to_be_too_coarse():
    card, text = page("grindstone")
    trusted = {one.name: one.trustworthy for one in card.methods}
    assert trusted[MethodName.HUM]
    assert not trusted[MethodName.PRESS]
    press = text[text.index("Press: Motor") :]
    hear = text[text.index("Hear: Pluck") : text.index("Press: Motor")]
    assert "Too coarse to set this mount by" in press
    assert "Too coarse" not in hear


def test_no_way_is_trusted_whose_least_and_greatest_reading_a_hand_cannot_tell_apart():
    """With 16 psi the press had 13.55 to 13.64 oz: a push on a strand is known to a tenth."""
    mill = CIDER
    setting = gentlest_setting(with_limits(mill, 16 / 25))
    errors = {
        MethodName.BALANCE: lambda least: least,
        MethodName.HUM: lambda least: least * (1 + mill.limits.hum_error) ** 0.25,
        MethodName.PRESS: lambda least: least * (1 + mill.limits.push_error) ** 0.25,
    }
    trusted = [one for one in setting.methods if one.trustworthy]
    assert MethodName.BALANCE in [one.name for one in trusted]
    assert MethodName.PRESS not in [one.name for one in trusted]
    for one in trusted:
        assert one.never_above >= errors[one.name](one.not_below)


def test_holding_back_is_no_advice_where_the_belt_would_slip():
    stone = text_of("grindstone").replace('force = "45 lb"', 'force = "160 lb"')
    sentence = weight_alone(parse_scenario(stone)).over_tightens_sentence
    assert "Held back, it slips" in sentence
    assert "has to hold the plate back" not in sentence


def test_an_idle_machine_is_not_sent_to_what_would_open_its_range():
    mill = text_of("cider-mill").replace('power = "0.4 hp"', 'power = "1 W"', 1)
    why = bench_card(parse_scenario(mill)).why_not
    assert "no tension follows" in why
    assert "open the range" not in why
    assert why.rstrip(".").endswith("With --turns the card is for a setting of yours")


def test_no_ceiling_is_spoken_of_where_there_is_none():
    stone = text_of("grindstone").replace('weight = "24 lb"', 'weight = "60 lb"')
    stone = stone.replace('acts = "push"', 'acts = "pull"').replace('"35 psi"', '"60 psi"')
    scenario = parse_scenario(stone)
    card = bench_card(scenario)
    assert all(one.never_above is None for one in card.methods)
    assert "last column" not in card_text(scenario, card, more=True)
    assert "Above the last column a limit may be passed" in page("grindstone")[1]


def test_setting_and_check_tell_one_share_of_a_limit_that_is_passed():
    stone = text_of("grindstone").replace('weight = "24 lb"', 'weight = "45 lb"')
    scenario = parse_scenario(f'{stone[: stone.index("[adjuster]")]}[adjuster]\nkind = "none"\n')
    share = max(float(value[0]) for value in requirements_of(scenario).shares(np.zeros(1)).values())
    assert share > 1
    assert share != round(share, 2)
    told = check_text(scenario, check(scenario), more=True)
    percent = math.ceil(100 * share)
    assert f"to {percent} % of its limit" in gentlest_setting(scenario).why_not_open
    assert f"{percent} %" in told
    assert f"to {percent} % of its limit" in " ".join(told.split())


def test_turns_that_lead_are_not_called_the_surest():
    known = text_of("cider-mill").replace(
        'stiffness = "12000 lbf"', 'stiffness = "12000 lbf"\nstiffness_factor = 1.05'
    )
    scenario = parse_scenario(known)
    card = bench_card(scenario)
    assert card.methods[0].name is MethodName.TURNS
    text = card_text(scenario, card, more=True)
    assert "the surest first" not in text
    assert "the higher its aim" not in text
    assert "HOW TO SET IT (the surest first" in page("cider-mill")[1]


def asked(name, turns):
    scenario = read_scenario(SCENARIOS / f"{name}.toml")
    card = bench_card(scenario, turns)
    return card, " ".join(card_text(scenario, card).split())


def test_a_new_belt_of_asked_turns_stays_below_what_setting_never_goes_above():
    """It said: a new belt 0.793 turn, 34 lbf, where never above 33.0 is told; and 202 N of 196."""
    card, text = asked("grindstone", 0.5)
    assert card.new.turns == 0.625
    assert "for a new belt 31 lbf" in text
    assert "Never above 33.0 (spring balance, lbf gained)" in text
    card, text = asked("wood-lathe", 2.5)
    assert card.new is None
    assert "A new belt is set no tighter" in text
    assert "Never above 192 (spring balance, N gained)" in text


def test_where_the_bolt_hangs_clear_nothing_is_held_at_a_reading_of_nothing():
    text = asked("grindstone", 0.0)[1]
    assert "The bolt just hangs clear there" in text
    assert "(0 lbf)" not in text
    assert "For a new belt, weigh." in text
    assert "until the two readings add up to 27 lbf (6.5 lbf)" in text
    assert "3/8 turn." in text


def test_a_new_belt_that_gets_less_than_it_is_to_lose_is_looked_at_sooner():
    text = asked("grindstone", None)[1]
    assert "only 1.21 of the 1.3 times wanted: look at it sooner" in text
    assert "Well within 8 hours" in text
    assert "Well within" not in asked("wood-lathe", None)[1]
