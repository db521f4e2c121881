"""The page of a measured drive: its width, what must stand on it, and its JSON."""

import json

import pytest
from scipy.constants import inch

from mountcalc.measure.drive import MeasureQuestion
from mountcalc.measure.measure import measure_drive
from mountcalc.measure.page import measure_text
from mountcalc.pages.as_json import as_json
from mountcalc.scenario.text.writing import Display

PULLEYS = {"motor_pulley": 3 * inch, "driven_pulley": 9 * inch}
QUESTIONS = {
    "inside": {"inside": 54 * inch, "section": "A"},
    "outside, by width": {"outside": 88 * inch, "width": 0.66 * inch},
    "pitch, any section": {"pitch": 1.4},
    "string": {"string": 62 * inch, "section": "A", **PULLEYS},
    "string on flat rims": {
        "string": 62 * inch,
        "section": "B",
        "motor_flat": True,
        "driven_flat": True,
    },
    "string, one flat": {"string": 62 * inch, "section": "A", "driven_flat": True, **PULLEYS},
    "center": {"center": 20 * inch, **PULLEYS},
    "long": {"pitch": 15.9, "section": "D"},
    "designation": {"designation": "A54", **PULLEYS},
    "designation alone": {"designation": "spz1250"},
    "designation, overlapping": {"designation": "A31", "motor_pulley": 0.2, "driven_pulley": 0.4},
}


@pytest.mark.parametrize("display", Display)
@pytest.mark.parametrize("name", QUESTIONS)
def test_page_is_no_wider_than_paper(name, display):
    page = measure_text(
        measure_drive(MeasureQuestion(display=display, **QUESTIONS[name])), display, more=True
    )
    assert max(map(len, page.splitlines())) <= 80
    assert "None" not in page
    assert "nan" not in page


def page(name, display=Display.INCH):
    return measure_text(
        measure_drive(MeasureQuestion(display=display, **QUESTIONS[name])), display, more=True
    )


@pytest.mark.parametrize("display", Display)
@pytest.mark.parametrize("name", QUESTIONS)
def test_the_short_page_fits_a_screen(name, display):
    text = measure_text(measure_drive(MeasureQuestion(display=display, **QUESTIONS[name])), display)
    assert len(text.splitlines()) <= 45
    assert max(map(len, text.splitlines())) <= 80
    assert text.splitlines()[-1].startswith("mountcalc measure ... --more: ")
    assert ("MAY MISLEAD" in text) is ("designation" not in name)


def test_what_to_buy_is_said_first():
    lines = page("inside").splitlines()
    assert lines[0] == "Measured: a belt 54.00 in long on its inside"
    assert lines[3].startswith("Buy:")
    assert "55.3 in" in page("inside")


def test_a_belt_is_named_in_both_units():
    (row,) = [line for line in page("designation").splitlines() if line.startswith("  A54 ")]
    assert "55.30" in row
    assert "1404.6" in row
    assert " off" not in page("designation")


def test_sections_that_differ_are_told_apart_by_width():
    text = " ".join(page("pitch, any section").split())
    assert "top width and the pulleys' grooves tell which section it is" in text


def test_a_single_section_is_told_in_full():
    text = page("string")
    assert "SECTION A" in text
    assert "SECTION B" not in text
    assert "longer by pi times" in " ".join(text.split())


def test_what_a_string_reads_is_said_of_a_designation():
    text = " ".join(page("designation").split())
    assert "A string over the rims of grooved pulleys" in text
    assert "Groove of the motor's pulley" in text


def test_overlap_is_said():
    text = page("designation, overlapping")
    assert "No centre distance: the pulleys would overlap." in text


@pytest.mark.parametrize("name", QUESTIONS)
def test_json_has_every_length_with_its_unit(name):
    plain = json.loads(as_json(measure_drive(MeasureQuestion(**QUESTIONS[name]))))
    belts = (
        [plain["facts"]["belt"]] if plain["facts"] else [one["buy"] for one in plain["candidates"]]
    )
    for belt in belts:
        assert {"inside_length_mm", "pitch_length_mm", "outside_length_mm"} < set(belt)
        assert {"difference_mm", "tolerance_short_mm", "wrap_motor_deg"} < set(belt)
        assert belt["inside_length_mm"] < belt["pitch_length_mm"] < belt["outside_length_mm"]
