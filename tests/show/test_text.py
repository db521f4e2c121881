"""What the table says in words."""

import dataclasses
import re

import pytest

from mountcalc import read_scenario, tension_table
from mountcalc.results import State, TightenBy
from mountcalc.scenario.model import Acts, AdjusterKind, Display
from mountcalc.show import words
from mountcalc.show.text import table_text


@pytest.fixture
def solved(scenario_file):
    scenario = read_scenario(scenario_file)
    return scenario, tension_table(scenario)


def flat(text):
    return re.sub(r"\s+", " ", text)


def test_units_stand_in_the_headers(solved):
    scenario, table = solved
    force = "lbf" if scenario.display is Display.INCH else "N"
    text = table_text(scenario, table)
    assert f"LOADS ({force};" in text
    header = text.split("THE SETTING")[1].splitlines()[2]
    assert header.split().count(force) == 2
    assert "Hz" in header


def test_every_row_is_there_in_both_blocks(solved):
    scenario, table = solved
    text = table_text(scenario, table)
    setting = text.split("THE SETTING")[1].split("\n\n")[0].splitlines()[3:]
    loads = text.split("LOADS (")[1].split("\n\n")[0].splitlines()[3:]
    for block in (setting, loads):
        numbers = [line for line in block if re.match(r"\s+[-\d]", line)]
        assert len(numbers) == len(table.rows)


def test_tension_is_a_range_with_two_figures(cider):
    scenario = read_scenario(cider)
    row = table_text(scenario, tension_table(scenario, [1])).split("THE SETTING")[1].splitlines()[3]
    low, high = re.search(r"([\d.]+)-([\d.]+)", row).groups()
    for text in (low, high):
        assert len(text.replace(".", "").lstrip("0")) == 2
    assert float(high) == pytest.approx(4 * float(low), rel=0.05)


def test_margins_notes_and_cautions_are_there(solved):
    scenario, table = solved
    text = flat(table_text(scenario, table))
    for margin in table.margins:
        assert f"{margin.factor:.2f} x {margin.name}" in text
    for note in table.notes:
        assert flat(note) in text
    for word in ("Unplug", "Block the plate", "local codes", "licensed electrician"):
        assert word in text


def test_nobody_is_told_that_anything_is_safe(solved):
    scenario, table = solved
    assert not re.search(r"\bsafe(ly|ty)?\b", table_text(scenario, table), re.IGNORECASE)


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
        assert ("slips" in mark) == bool(row.running.slips or row.starting.slips)
    assert 'First limit: bearing "pulley end"' in flat(table_text(scenario, table))


def test_rows_without_values_show_dashes(cider):
    scenario = read_scenario(cider)
    text = table_text(scenario, tension_table(scenario, [0, 500]))
    assert "past the travel" in text
    assert not re.search(r"None|nan", text)
