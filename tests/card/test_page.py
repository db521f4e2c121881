"""The page of the bench card: what to do comes first, numbers are in the units of its reader."""

import math
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from plot_mounts import CIDER
from scipy.constants import g, inch, lbf

from mountcalc.card.card import bench_card, timing_of
from mountcalc.card.page import card_text, hearing_text
from mountcalc.pages.amounts import deflection_text, force_ranges
from mountcalc.pages.page import CAUTIONS
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.setting.weights import weight_alone

SCENARIOS = Path(__file__).parents[2] / "scenarios"
OUNCE = lbf / 16

card_of = cache(bench_card)


@pytest.fixture(scope="module")
def mill():
    return CIDER


@pytest.fixture(scope="module")
def blower():
    return read_scenario(SCENARIOS / "forge-blower.toml")


def page(scenario, turns=None):
    return card_text(scenario, card_of(scenario, turns), more=True)


def one_line(text):
    return " ".join(text.split())


def numbers_after(text, label):
    """Every number on the line that starts so."""
    line = next(line for line in text.splitlines() if line.strip().startswith(label))
    return [float(number) for number in re.findall(r"\d+\.?\d*", line.split(label, 1)[1])]


def test_pages_of_the_shipped_scenarios(scenario_file):
    scenario = read_scenario(scenario_file)
    for display in Display:
        text = page(replace(scenario, display=display))
        assert max(map(len, text.splitlines())) <= 80
        assert text.splitlines()[0].startswith(scenario.title[:40])
        assert not {"nan", "inf", "none"} & set(re.findall(r"\w+", text.lower()))
        assert not re.search(r"\bsafe", text.lower())
        for caution in CAUTIONS:
            assert caution in one_line(text)
    assert all(line == line.rstrip() for line in text.splitlines())


def test_what_to_do_comes_before_the_numbers_and_cautions_are_last(mill):
    text = page(mill)
    order = ["Tension:", "HOW TO SET IT", "Weigh:", "Hear:", "Press:", "Again:"]
    order += ["WHY NOT A FORCE TABLE", "NOTES", "CAUTIONS"]
    places = [text.index(head) for head in order]
    assert places == sorted(places)
    assert text.count("CAUTIONS") == 1
    assert text[places[-1] :].count("\n\n") == 0


def test_each_method_has_its_aim_its_least_and_its_greatest_on_one_line(mill):
    text, card = page(mill), card_of(mill)
    labels = {
        "spring balance": ("spring balance, lbf gained", lbf),
        "press": ("press 13/64 in deep, oz", OUNCE),
        "hum": ("plucked strand, swings/s", 1.0),
    }
    for one in card.methods:
        if one.name not in labels:
            assert "do not trust it here" in next(
                line for line in text.splitlines() if "turns from zero  " in line
            )
            continue
        label, unit = labels[one.name]
        aim, new, least, most = numbers_after(text, label)
        assert one.not_below / unit <= least <= aim <= new <= most <= one.never_above / unit
        assert (aim, new) == pytest.approx((one.aim / unit, one.new_aim / unit), rel=0.03)


def test_what_is_asked_for_is_felt_between_creeping_and_not(mill):
    text, card = page(mill, 1.25), card_of(mill, 1.25)
    assert card.methods == ()
    assert "HOW TO SET IT" not in text
    for name, test in (("bedded in:", card.bedded), ("new belt:", card.new)):
        low, high = numbers_after(text, name)
        assert low == pytest.approx(test.press.force_creeping / OUNCE, abs=0.5)
        assert high == pytest.approx(test.press.force_not_creeping / OUNCE, abs=0.5)
    assert f"(1/{card.bedded.press.span_over_deflection} of the span)" in one_line(text)


def test_all_cards_of_a_mount_have_their_press_in_one_unit(mill):
    """It said ounces at the gentlest setting and pounds at two turns."""
    assert "press 13/64 in deep, oz" in page(mill)
    for turns in (1.0, 2.5):
        assert re.search(r"bedded in: +[\d.]+ to [\d.]+ oz\n", page(mill, turns))


def test_metric_pages_have_newtons_and_grams(mill):
    metric, card = replace(mill, display=Display.METRIC), card_of(mill, 1.25)
    text = page(metric, 1.25)
    foreign = r"\boz\b|\blbf\b|\bhp\b|\d in\b"
    assert "Here, by the common table, section A, plain, 76 mm to 91 mm" in one_line(text)
    assert not re.search(foreign, text)
    assert re.search(r"\d in\b", page(mill)[: page(mill).index("WHY NOT")])
    low, high, light, heavy = numbers_after(text, "bedded in:")
    press = card.bedded.press
    assert low == pytest.approx(press.force_creeping, abs=0.05)
    assert high == pytest.approx(press.force_not_creeping, abs=0.05)
    assert light == pytest.approx(press.force_creeping / g * 1000, abs=5)
    assert heavy == pytest.approx(press.force_not_creeping / g * 1000, abs=5)
    how_far = f"{1000 * press.deflection:.1f} mm (1/{press.span_over_deflection} of the span)"
    assert how_far in one_line(text)


@pytest.mark.parametrize(
    ("low", "high", "display", "text"),
    [
        (0.99 * lbf, 1.2 * lbf, Display.INCH, "16 to 19 oz"),
        (0.5 * lbf, 0.5 * lbf, Display.INCH, "8.0 oz"),
        (1.01 * lbf, 1.5 * lbf, Display.INCH, "1.0 to 1.5 lbf"),
        (12.0 * lbf, 12.1 * lbf, Display.INCH, "12 lbf"),
        (4.9, 6.0, Display.METRIC, "4.9 to 6.0 N (500 to 610 g)"),
        (1.0, 1.0, Display.METRIC, "1.0 N (100 g)"),
        (5.1, 9.81, Display.METRIC, "5.1 to 9.8 N (0.5 to 1.0 kg)"),
        (51.0, 64.0, Display.METRIC, "51 to 64 N (5.2 to 6.5 kg)"),
    ],
)
def test_forces_switch_units_below_a_pound_and_masses_at_5_newtons(low, high, display, text):
    assert force_ranges([(low, high)], display) == [text]


def test_forces_beside_each_other_are_in_one_unit():
    pair = [(0.8 * lbf, 0.9 * lbf), (1.1 * lbf, 1.2 * lbf)]
    assert force_ranges(pair, Display.INCH) == ["13 to 14 oz", "18 to 19 oz"]
    assert force_ranges([(4.0, 4.0), (9.81, 9.81)], Display.METRIC) == [
        "4.0 N (410 g)",
        "9.8 N (1000 g)",
    ]


@pytest.mark.parametrize(
    ("deflection", "display", "text"),
    [
        (5 / 16 * inch, Display.INCH, "5/16 in"),
        (13.1 / 64 * inch, Display.INCH, "13/64 in"),
        (70 / 64 * inch, Display.INCH, "1 3/32 in"),
        (2 * inch, Display.INCH, "2 in"),
        (5.4 / 64 * inch, Display.INCH, "0.084 in"),
        (0.3 / 64 * inch, Display.INCH, "0.005 in"),
        (5.16e-3, Display.METRIC, "5.2 mm"),
    ],
)
def test_deflections_as_a_rule_shows_them(deflection, display, text):
    assert deflection_text(deflection, display) == text


def heard(mill, frequency, times=1.0):
    """What is said of a span that swings so often, and of a new belt that does so more often."""
    card = card_of(mill)
    old, new = (
        replace(test, span_frequency=value, timing=timing_of(value))
        for test, value in ((card.bedded, frequency), (card.new, times * frequency))
    )
    return one_line(hearing_text(mill, old, None if times == 1.0 else new))


def test_what_to_do_with_a_span_that_a_telephone_hears(mill):
    text = heard(mill, 120.0, 1.1)
    assert "telephone held close shows 120 (new: 132) Hz" in text
    assert "too low" not in text


def test_what_to_do_with_a_span_that_it_does_not_hear(mill):
    text = heard(mill, 30.0, 1.2)
    assert "too low for most telephones' tuner programs" in text
    assert "240 frames a second" in text
    assert "10 swings take 80 (new: 67) frames" in text


def test_what_to_do_with_a_span_that_can_be_counted(mill):
    text = heard(mill, 2.54)
    assert "swings 2.5 times a second" in text
    assert "Count by eye: 25 swings in 10 s" in text
    assert "frames" not in text


def test_nothing_is_said_of_an_unknown_frequency(mill):
    light = replace(mill, belt=replace(mill.belt, mass=0.0))
    text = page(light)
    assert "Hear:" not in text
    assert "plucked" not in text
    assert "frequency is not known" in one_line(text)


def test_weight_alone_has_one_column_one_force_and_no_spring_balance(blower):
    text = page(blower)
    assert "Weigh:" not in text
    assert "new belt" not in text
    assert "turns from zero" not in text
    assert "softest to stiffest" not in text
    newtons, grams = numbers_after(text, "old or new:")
    force = card_of(blower).bedded.tension / 16
    assert newtons == pytest.approx(force, abs=0.05)
    assert grams == pytest.approx(force / g * 1000, abs=5)
    assert "gives way as a strand is pressed in" in one_line(text)
    assert "the common table cannot be used" in one_line(text)


def test_a_card_without_a_setting_is_words_and_cautions(mill):
    text = page(mill, -0.5)
    assert "No card:  There is no tension to feel: the belt is slack there." in text
    assert "HOW TO SET IT" not in text
    assert "CAUTIONS" in text


def test_what_is_wrong_with_the_turns_asked_for_stands_at_the_top(mill):
    text = page(mill, 0.5)
    assert text.index("But:") < text.index("Press:")
    assert "A grip of 1.3 needs" in one_line(text)


def test_the_table_of_this_mount(mill):
    text, table = one_line(page(mill)), card_of(mill).table
    assert table.published in text
    times, share, as_set = (
        table.bedded.times_tension,
        table.bedded.share_of_limit,
        table.bedded.share_as_set,
    )
    assert f"bedded in: 3.7 lbf at span/64 is 53 lbf on each strand, {times:.1f} times" in text
    assert share > 1.0  # never rounded down to look kept
    assert (
        f"at {math.ceil(100 * share)} % of its limit, where this card has {100 * as_set:.0f} %"
        in text
    )
    assert "from memory" in text[text.index("Here, by the common table, section A") :]


def test_the_metric_table_is_named_on_the_page(mill):
    text = one_line(page(replace(mill, belt=replace(mill.belt, section="SPZ"))))
    assert "Here, by the metric table, section SPZ, 2.95 in to 3.54 in, 5.6 lbf at 2.2 % of" in text
    assert "bedded in:" in text[text.index("Here, by the metric table") :]
    assert "new belt:" not in text[text.index("Here, by the metric table") :]
    metric = replace(mill, display=Display.METRIC, belt=replace(mill.belt, section="SPZ"))
    assert "section SPZ, 75 mm to 90 mm, 25 N at 2.2 % of the centre" in one_line(page(metric))


def test_turns_that_were_left_aside_are_told_on_the_page(blower):
    assert "Turns were asked for (3), but there is no adjuster" in one_line(page(blower, 3.0))
    assert "left aside" not in page(blower)


def test_fewer_frames_are_tighter_with_too_slack_and_too_tight_beside_it(mill):
    text, hum = one_line(page(mill)), next(one for one in card_of(mill).methods if one.unit == "Hz")
    slack, tight = re.search(
        r"frames; more than (\d+) is too slack; fewer than (\d+) is too tight",
        text,
    ).groups()
    assert 2400 / int(slack) >= hum.not_below
    assert 2400 / int(tight) <= hum.never_above
    assert "tuner program on a telephone" not in text


def test_the_balance_is_read_slack_and_then_gains(mill):
    text, balance = one_line(page(mill)), card_of(mill).spring_balance
    assert f"just hang on it: about {round(2 * balance.slack_pull / lbf) / 2:g} lbf." in text
    assert "pull until it shows 18.5 lbf more (25 lbf), for a new belt 24.5 lbf more" in text
    assert "to the left, away from the driven shaft" in text
    assert "A lever or a strap, a second pair of hands, and a block under the plate." in text
    light = replace(mill, driven=replace(mill.driven, power=0.6 * mill.driven.power))
    assert "second pair of hands" not in page(light)


@pytest.mark.parametrize("display", Display)
def test_readings_of_the_balance_add_up_and_are_marks_of_its_scale(scenario_file, display):
    """It said: 6.5 lbf, then 18.5 lbf more, about 24.9 lbf, on a balance marked in half pounds."""
    scenario = replace(read_scenario(scenario_file), display=display)
    balance = card_of(scenario).spring_balance
    if balance is None:
        assert "Weigh:" not in page(scenario)
        return
    text = one_line(page(scenario).split("Weigh:")[1].split("\n\n")[0])
    text = text.split("just hang on it: about ")[1].split(" Hold it there")[0]
    for unit, mark in {Display.INCH: {"lbf": 0.5}, Display.METRIC: {"N": 2, "kg": 0.2}}[
        display
    ].items():
        slack, *pairs = map(float, re.findall(rf"([\d.]+) {unit}\b", text))
        assert pairs
        for gain, total in zip(pairs[::2], pairs[1::2], strict=True):
            both = slack + gain if balance.slack_tightens else abs(gain - slack)
            assert total == pytest.approx(both)
        assert all(one / mark == pytest.approx(round(one / mark)) for one in (slack, *pairs))


def test_several_belts_are_pressed_one_by_one(mill):
    pair = replace(mill, belt=replace(mill.belt, count=2))
    text = one_line(page(pair))
    assert "of each of the 2 belts" in text
    assert "Do so with each belt." in text
    assert "Do so with each belt." not in one_line(page(mill))


def test_the_card_leads_with_weight_alone_where_the_setting_does():
    scenario = read_scenario(SCENARIOS / "wood-lathe.toml")
    said = weight_alone(scenario, gentlest_setting(scenario)).keeps_sentence
    assert said is not None
    assert bench_card(scenario).weight_alone == said
    text = one_line(page(scenario))
    assert text.index("First: Leave the link unpinned") < text.index("Tension:")
    asked = bench_card(scenario, 1.0)
    assert asked.weight_alone is None
    assert "First:" not in card_text(scenario, asked, more=True)
