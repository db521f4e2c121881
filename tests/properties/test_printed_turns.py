"""What is printed passes: turns read off a page and typed back keep what was promised there."""

import re
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from setting_mounts import SHIPPED, TURNED, settable
from sizes import examples

from mountcalc.card.card import bench_card
from mountcalc.card.page import card_text
from mountcalc.check.evaluation import evaluate
from mountcalc.errors import MountError
from mountcalc.pages.amounts import parse_turns
from mountcalc.requirements.notes import margins, notes
from mountcalc.requirements.results import Advice
from mountcalc.setting.page import setting_text
from mountcalc.setting.weights import weight_alone

# Turns that a page says to set.
NUMBER = r"(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"
OF_SETTING = re.compile(rf"^  turns from zero +{NUMBER} +{NUMBER}", re.MULTILINE)
OF_CARD = re.compile(rf"{NUMBER} turns?(?= from zero|\.)")


def advised(scenario, judged):
    """The turns that the setting's and the card's pages say to set."""
    point = judged.point
    advice = Advice(
        setting=point.setting,
        weight_alone=weight_alone(scenario, point.setting),
        remedies=(),
        margins=margins(point.requirements.solved),
        notes=notes(point.requirements.solved),
    )
    card = " ".join(card_text(scenario, bench_card(scenario), more=True).split())
    of_card = card.split("Tension: ")[1].split("HOW TO SET IT")[0]
    (by_turns,) = OF_SETTING.findall(setting_text(scenario, advice, more=True))
    for turns in by_turns:
        yield float(parse_turns(turns)[0])
    for turns in OF_CARD.findall(of_card):
        yield float(parse_turns(turns)[0])


def assert_passes(scenario):
    judged = evaluate(scenario)
    if not judged.point.setting.open or judged.point.turns is None:
        return
    found = set(advised(scenario, judged))
    assert any(abs(turns - judged.point.turns) < 1e-9 for turns in found)  # as JSON has it
    for turns in found:
        assert not evaluate(scenario, turns).fails.keys() - judged.fails.keys(), turns


@pytest.mark.parametrize("name", TURNED)
def test_turns_on_the_pages_of_shipped_mounts_pass(name):
    assert_passes(SHIPPED[name])


@settings(max_examples=examples(5))
@given(settable(st.booleans()))
def test_turns_on_the_pages_of_any_mount_pass(scenario):
    try:
        assert_passes(scenario)
    except MountError:
        assume(condition=False)


def test_the_mills_setting_is_typed_back(mountcalc):
    """It printed 1.17 turns, of which check said 101 %."""
    mill = Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
    setting, checked = (mountcalc(command, mill).out for command in ("setting", "check"))
    (judged,) = re.findall(rf"Judged: +at {NUMBER} turns", checked)
    for said in (*OF_SETTING.findall(setting)[0], judged):
        assert mountcalc("check", mill, "--turns", said).code == 0, said
