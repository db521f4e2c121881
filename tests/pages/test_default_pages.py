"""What a page shows without --more fits a screen, and has what someone acts on."""

import re
from functools import cache

import pytest

from mountcalc.card.card import bench_card
from mountcalc.card.page import card_text
from mountcalc.pages.page import CAUTIONS
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import read_scenario
from mountcalc.setting.advice import advise
from mountcalc.setting.page import setting_text
from mountcalc.table.page import table_text
from mountcalc.table.table import tension_table

MOST_LINES, MOST_COLUMNS = 45, 80
HAZARDS = ("Unplug and lock out", "it can fall", "pinch", "local codes", "licensed electrician")


@cache
def pages(file, *, more):
    scenario = read_scenario(file)
    setting = gentlest_setting(scenario)
    return {
        "table": table_text(scenario, tension_table(scenario), setting, more=more),
        "setting": setting_text(scenario, advise(scenario), more=more),
        "card": card_text(scenario, bench_card(scenario), more=more),
    }


@pytest.mark.parametrize("name", ["table", "setting", "card"])
def test_a_default_page_fits_a_screen_and_ends_in_hazards(scenario_file, name):
    lines = pages(scenario_file, more=False)[name].splitlines()
    assert len(lines) <= MOST_LINES
    assert max(map(len, lines)) <= MOST_COLUMNS
    assert all(line == line.rstrip() for line in lines)
    assert not re.search(r"\n\n\n", "\n".join(lines))
    *_, first, second, how = lines
    assert all(hazard in f"{first} {second}" for hazard in HAZARDS)
    assert how.startswith(f"mountcalc {name} FILE --more: ")


@pytest.mark.parametrize("name", ["table", "setting", "card"])
def test_with_more_the_answer_comes_first_and_all_cautions_last(scenario_file, name):
    short, full = (pages(scenario_file, more=more)[name] for more in (False, True))
    assert full.startswith(short.rsplit("\n\n", 1)[0])
    end = " ".join(full.split("\nCAUTIONS\n")[1].split())
    assert all(caution in end for caution in CAUTIONS)
    assert "--more" not in full


def test_each_page_says_why_a_mount_is_closed(scenario_file):
    setting = gentlest_setting(read_scenario(scenario_file))
    for page in pages(scenario_file, more=False).values():
        if setting.set_tension is None:
            assert setting.why_not_open in " ".join(page.split())
        else:
            assert "Closed" not in page


def test_what_is_turned_weighed_and_kept_from_stands_on_the_default_page(scenario_file):
    scenario = read_scenario(scenario_file)
    setting, found = gentlest_setting(scenario), pages(scenario_file, more=False)
    assert ("Loosen first" in found["table"]) == (setting.set_turns is not None or not setting.open)
    if not setting.methods:
        return
    for name in ("setting", "card"):
        assert "not below   never above" in found[name]
        assert "more is tighter" in found[name]
        if "Weigh:" in found[name] and not setting.spring_balance.slack_tightens:
            assert "a block under the plate" in " ".join(found[name].split())
