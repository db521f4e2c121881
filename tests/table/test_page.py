"""What the table says in words."""

import dataclasses
import re
from pathlib import Path

import pytest
from setting_mounts import rigid

from mountcalc import read_scenario
from mountcalc.equilibrium.states import State
from mountcalc.pages.page import Side
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.text.writing import Display
from mountcalc.setting.advice import advise
from mountcalc.setting.page import setting_text
from mountcalc.table import tension_table, words
from mountcalc.table.page import table_text
from mountcalc.table.results import TightenBy

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture
def solved(scenario_file):
    scenario = read_scenario(scenario_file)
    return scenario, tension_table(scenario)


def flat(text):
    return re.sub(r"\s+", " ", text)


def test_units_stand_in_the_headers(solved):
    scenario, table = solved
    force = "lbf" if scenario.display is Display.INCH else "N"
    text = table_text(scenario, table, more=True)
    assert f"LOADS ({force};" in text
    header = text.split("THE SETTING")[1].splitlines()[2]
    assert header.split().count(force) == (2 if table.tighten_by is None else 3)
    assert text.split("BY HAND")[1].splitlines()[2].split() == [force, "Hz"]


def test_every_row_is_there_in_both_blocks(solved):
    scenario, table = solved
    text = table_text(scenario, table, more=True)
    setting = text.split("THE SETTING")[1].split("\n\n")[0].splitlines()[3:]
    loads = text.split("LOADS (")[1].split("\n\n")[0].splitlines()[3:]
    for block in (setting, loads):
        legend = next(i for i, line in enumerate(block) if re.match(r"  [A-Za-z]", line))
        numbers = [line for line in block[:legend] if re.match(r" {2,7}[-\d]", line)]
        assert len(numbers) == len(table.rows)


def test_tension_is_a_range_with_two_figures(cider):
    scenario = rigid(read_scenario(cider))
    row = (
        table_text(scenario, tension_table(scenario, [1]), more=True)
        .split("THE SETTING")[1]
        .splitlines()[3]
    )
    low, high = re.search(r"([\d.]+)-([\d.]+)", row).groups()
    for text in (low, high):
        assert len(text.replace(".", "").lstrip("0")) == 2
    assert float(high) == pytest.approx(4 * float(low), rel=0.05)


def test_margins_notes_and_cautions_are_there(solved):
    scenario, table = solved
    text = flat(table_text(scenario, table, more=True))
    for margin in table.margins:
        assert f"{margin.factor:.2f} x {margin.name}" in text
    assert {note.side for note in table.notes} >= set(Side) - {Side.MOUNT}
    for note in table.notes:
        assert flat(note.text) in text
    for word in ("Unplug", "Block the plate", "local codes", "licensed electrician"):
        assert word in text


def test_nobody_is_told_that_anything_is_safe(solved):
    scenario, table = solved
    assert not re.search(r"\bsafe(ly|ty)?\b", table_text(scenario, table, more=True), re.IGNORECASE)


def test_which_way_covers_hand_and_kind(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario, [0])
    assert "clockwise seen from the head" in words.which_way(scenario, table)
    back = dataclasses.replace(table, tighten_by=TightenBy.RETRACT)
    assert "counter-clockwise seen from the head" in words.which_way(scenario, back)
    assert "draws back" in words.which_way(scenario, back)
    plain = dataclasses.replace(
        scenario, adjuster=dataclasses.replace(scenario.adjuster, thread=None)
    )
    assert "clockwise" not in words.which_way(plain, table)
    link = dataclasses.replace(
        scenario,
        adjuster=dataclasses.replace(scenario.adjuster, kind=AdjusterKind.LINK, acts=Acts.BOTH),
    )
    assert "link gets shorter" in words.which_way(link, back)


def test_two_bolts_are_turned_both_and_told_together(cider):
    scenario = rigid(read_scenario(cider))
    two = scenario.with_(adjuster={"bolt": [{"across": -0.07}, {"across": 0.07}]})
    table, of_one = tension_table(two), tension_table(scenario)
    way = words.which_way(two, table)
    assert way.startswith(words.which_way(scenario, table))
    assert "There are two: turn both as far" in way
    text = flat(table_text(two, table, more=True))
    assert "bolt: both together, pressed +, pulled -" in text
    assert "The bolts together: pressed +, pulled -." in text
    assert [one.running.adjuster for one in table.rows] == [
        one.running.adjuster for one in of_one.rows
    ]


def test_a_link_has_no_flats_and_opens_no_gap():
    """It gets shorter or longer, and is counted in turns; its column is as wide as its head."""
    lathe = read_scenario(SCENARIOS / "wood-lathe.toml").with_(adjuster={"stiffness": "rigid"})
    table = tension_table(lathe)
    text = table_text(lathe, table, more=True)
    assert "flats" not in text
    assert "gap" not in text
    head, unit, *rows = text.split("THE SETTING")[1].splitlines()[1:6]
    ends = {line.rindex(word) + len(word) for line, word in ((head, "shorter"), (unit, " mm"))}
    ends |= {row.index(number) + 4 for row, number in zip(rows, ("0.00", "0.75"), strict=False)}
    assert len(ends) == 1
    longer = dataclasses.replace(table, tighten_by=TightenBy.EXTEND)
    assert words.moved(lathe, longer) == "link longer"
    page = setting_text(lathe, advise(lathe), more=True)
    assert "turns" in page
    assert "flats" not in page


def test_a_tip_comes_out_or_draws_back(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario, [0])
    assert words.moved(scenario, table) == "tip out"
    back = dataclasses.replace(table, tighten_by=TightenBy.RETRACT)
    assert words.moved(scenario, back) == "tip in"


def test_what_the_plate_rests_on_in_words(cider):
    scenario = read_scenario(cider)
    row = tension_table(scenario, [1]).rows[0]
    assert words.rests_on(scenario, row) == "bolt"
    running = dataclasses.replace(row.running, state=State.RIDING)
    changed = dataclasses.replace(row, running=running)
    assert words.rests_on(scenario, changed) == "bolt (run belt)"
    gone = dataclasses.replace(row.rest, state=State.NO_BALANCE)
    assert words.rests_on(scenario, dataclasses.replace(row, rest=gone)).startswith("nothing")


def test_limit_and_slip_marks_agree_with_the_numbers(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario)
    for row in table.rows:
        mark = words.marks(row)
        assert ("LIMIT" in mark) == (row.worst_share_of_limit >= 1)
        assert ("LIMIT?" in mark) == (row.over_limit_if_stiff and row.worst_share_of_limit < 1)
        assert ("slips" in mark) == row.running.slips
        assert ("slips?" in mark) == (row.slips_if_soft and not row.running.slips)
        assert ("start" in mark) == (row.starting.slips and not row.running.slips)
    text = flat(table_text(scenario, table, more=True))
    assert (
        "Running, the belt stops slipping by 1 1/2 turns; starting, by 2 turns. All known limits "
        'are kept up to 3 1/2 turns; at 4 turns bearing "pulley end" is over its limit, at rest.'
    ) in text
    assert "Do not go by turns alone" in text


def test_marks_with_a_question_are_those_of_the_softest_and_stiffest_belt(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario)
    turns = [row.turns for row in table.rows]
    sides = {}
    for name, factor in (("soft", 0.5), ("stiff", 2.0)):
        belt = dataclasses.replace(scenario.belt, stiffness=scenario.belt.stiffness * factor)
        sides[name] = tension_table(dataclasses.replace(scenario, belt=belt), turns)
    for row, soft, stiff in zip(table.rows, sides["soft"].rows, sides["stiff"].rows, strict=True):
        assert row.slips_if_soft == soft.running.slips
        assert row.over_limit_if_stiff == (stiff.worst_share_of_limit >= 1)


def test_a_mount_that_pulls_itself_tight_is_warned_of_first(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario, [1, 2])
    first, second = table.rows
    running = dataclasses.replace(second.running, state=State.AT_STOP)
    rows = (first, dataclasses.replace(second, running=running))
    text = flat(table_text(scenario, dataclasses.replace(table, rows=rows), more=True))
    assert "Verdict: WARNING: at settings marked so the mount pulls itself tight" in text
    assert "(run PULLS ITSELF TIGHT)" in text


def test_speed_and_rating_are_warned_of(cider):
    scenario = read_scenario(cider)
    driven = dataclasses.replace(scenario.driven, power=1e3, max_speed=10.0)
    scenario = dataclasses.replace(scenario, driven=driven)
    text = flat(table_text(scenario, tension_table(scenario, [1]), more=True))
    assert "the motor is rated below what the machine takes" in text
    assert "the driven shaft turns faster than its given maximum" in text


def test_loosening_is_the_other_way_for_a_bolt_that_holds_back(cider):
    scenario = read_scenario(cider)
    table = tension_table(scenario, [0])
    assert "Loosen first: turn the bolt counter-clockwise" in words.finding_zero(scenario, table)
    back = dataclasses.replace(table, tighten_by=TightenBy.RETRACT)
    assert "Loosen first: turn the bolt clockwise" in words.finding_zero(scenario, back)


def test_rows_without_values_show_dashes(cider):
    scenario = read_scenario(cider)
    text = table_text(scenario, tension_table(scenario, [0, 500]), more=True)
    assert "past the travel" in text
    assert not re.search(r"None|nan", text)


def test_rows_past_the_travel_are_not_said_to_keep_limits():
    scenario = read_scenario(SCENARIOS / "wood-lathe.toml")
    text = table_text(scenario, tension_table(scenario, [100000, 100001]))
    assert "Verdict:  No row is within the travel.\n" in text
    assert "limits are kept" not in text


def test_a_row_that_comes_off_the_bolt_as_it_starts_stays_on_its_line():
    scenario = read_scenario(SCENARIOS / "wood-lathe.toml")
    table = tension_table(scenario, [2.75, 3])
    off = [
        dataclasses.replace(row, starting=dataclasses.replace(row.starting, state=State.RIDING))
        for row in table.rows
    ]
    off[1] = dataclasses.replace(off[1], rest=off[1].starting, running=off[1].starting)
    text = table_text(scenario, dataclasses.replace(table, rows=tuple(off)))
    rows = text.split("% used\n")[1].splitlines()[:2]
    assert rows[0].endswith("(start belt)  LIMIT")
    assert "  belt" in rows[1]
    assert "belt: the plate rides on it, the link is clear." in flat(text)
    assert max(map(len, text.splitlines())) <= 80


def test_a_part_of_a_turn_is_a_turn():
    said = [words.counted_turns(turns) for turns in (0, 5 / 16, 1, 1.25, 0.793)]
    assert said == ["0 turns", "5/16 turn", "1 turn", "1 1/4 turns", "0.793 turns"]


def test_table_and_setting_lead_with_one_verdict():
    """Where weight alone will do, both say so first; then the way to set it by that leads."""
    scenario = read_scenario(SCENARIOS / "wood-lathe.toml")
    setting = advise(scenario)
    lead = "Leave the link unpinned: weight alone"
    said = flat(table_text(scenario, tension_table(scenario), setting.setting))
    assert f"Verdict: {lead} keeps grip and limits. By link, set it by spring balance" in said
    page = flat(setting_text(scenario, setting))
    assert page.index(f"First: {lead}") < page.index("Verdict:") < page.index("spring balance, N")


def test_the_page_of_a_setting_says_how_deep_to_press_and_how_to_weigh():
    for name, deep in (("grindstone", "press 15/64 in deep"), ("wood-lathe", "press 3.4 mm deep")):
        scenario = read_scenario(SCENARIOS / f"{name}.toml")
        text = setting_text(scenario, advise(scenario))
        assert deep in text
        assert "\nWeigh:" in text
