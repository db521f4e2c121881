"""What a page shows without --more fits a screen, and has what someone acts on."""

import re
from functools import cache

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
def results(file):
    scenario = read_scenario(file)
    setting = gentlest_setting(scenario)
    return scenario, (tension_table(scenario), setting), advise(scenario), bench_card(scenario)


@cache
def pages(file, *, more):
    scenario, table, advice, card = results(file)
    return {
        "table": table_text(scenario, *table, more=more),
        "setting": setting_text(scenario, advice, more=more),
        "card": card_text(scenario, card, more=more),
    }


def test_a_default_page_fits_a_screen_and_ends_in_hazards(scenario_file):
    for name, page in pages(scenario_file, more=False).items():
        lines = page.splitlines()
        assert len(lines) <= MOST_LINES
        assert max(map(len, lines)) <= MOST_COLUMNS
        assert all(line == line.rstrip() for line in lines)
        assert not re.search(r"\n\n\n", page)
        *_, first, second, how = lines
        assert all(hazard in f"{first} {second}" for hazard in HAZARDS)
        assert how.startswith(f"mountcalc {name} FILE --more: ")


def test_with_more_the_answer_comes_first_and_all_cautions_last(scenario_file):
    for name, full in pages(scenario_file, more=True).items():
        assert full.startswith(pages(scenario_file, more=False)[name].rsplit("\n\n", 1)[0])
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
