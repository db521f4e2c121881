"""Answers as they are written at a bench: numbers alone, words begun, options, sheets."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mountcalc.errors import InputError, ScenarioError
from mountcalc.new.answers import completed, from_options, from_sheet, marks, measured, names_text
from mountcalc.new.measurements import questions
from mountcalc.scenario.text.writing import Display

INCH = 0.0254


def value(key, text, display=Display.INCH):
    question = questions()[key]
    return question.read(completed(question, text, display))


@pytest.mark.parametrize(
    ("key", "text", "wanted"),
    [
        ("hinge_height", "14 1/2", 14.5 * INCH),
        ("hinge_height", ' 14 1/2" ', 14.5 * INCH),
        ("hinge_height", "370 mm", 0.370),
        ("hinge_height", "0", 0.0),
        ("motor_speed", "1725", 1725 * 3.141592653589793 / 30),
        ("motor_power", "1/2", 0.5 * 745.6998715822702),
        ("motor_weight", "28", 28 * 0.45359237 * 9.80665),
        ("motor_start", "Cap", "capacitor"),
        ("built", "y", "yes"),
    ],
)
def test_what_a_bench_leaves_out_is_added(key, text, wanted):
    assert value(key, text) == pytest.approx(wanted) if not isinstance(wanted, str) else wanted


@pytest.mark.parametrize(
    ("key", "text", "wanted"),
    [
        ("hinge_height", "370", 0.370),
        ("motor_power", "370", 370.0),
        ("motor_weight", "12", 117.6798),
    ],
)
def test_in_a_metric_shop_numbers_are_metric(key, text, wanted):
    assert value(key, text, Display.METRIC) == pytest.approx(wanted)


def test_a_beginning_of_two_words_is_neither():
    with pytest.raises(InputError, match='"left", "right", "below" or "above" wanted, got ""'):
        value("hinge_lies", "")
    with pytest.raises(InputError, match="wanted, got "):
        value("adjuster", "x")


def test_marks_are_a_letter_and_a_number_of_their_own():
    assert len(set(marks().values())) == len(questions())
    assert marks()["units"] == "A1"
    assert marks()["driven_height"] == "D4"


def test_options_and_files_in_any_order():
    rest, answers = from_options(["--built=no", "saw.toml", "--load-to-bearing", "-3 in"])
    assert rest == ["saw.toml"]
    assert answers == {"built": "no", "load_to_bearing": "-3 in"}


@pytest.mark.parametrize(
    ("tokens", "said"),
    [
        (["--motor-pwer", "1"], 'no such option: "--motor-pwer"; did you mean --motor-power?'),
        (["--motor-power"], "--motor-power: an answer is wanted after it"),
        (["--title", "a", "--title=b"], "--title: one answer is wanted, this is given twice"),
        (["--motor-power", "3 in"], "--motor-power: power wanted (such as"),
        (["--units", "metric", "--motor-power", "1/2"], "--motor-power: power of 1 W or more"),
        (["--built", "maybe"], '--built: "yes" or "no" wanted, got "maybe"'),
    ],
)
def test_options_that_say_nothing_are_named(tokens, said):
    with pytest.raises(InputError) as caught:
        from_options(tokens)
    assert str(caught.value).startswith(said)
    assert "\n" not in str(caught.value)


def test_every_mistake_of_a_sheet_is_told_with_its_line():
    text = (
        "# a remark\nD4 x: 31 1/2\n\nd4: 32\nno answer here\nZ9 x: 3\nB1 power: 1 inn\nB4: \n"
        " b 3 : cap"
    )
    with pytest.raises(ScenarioError) as caught:
        from_sheet(text, "sheet.txt")
    assert caught.value.lines() == [
        "sheet.txt:4: D4: answered in line 2 already",
        'sheet.txt:5: a line such as "D4 machine\'s shaft above the floor: 31 1/2 in" is wanted, '
        'found "no answer here"',
        "sheet.txt:6: Z9: nothing is asked by that mark",
        "sheet.txt:7: B1 motor's rated power: unit not known: "
        '"inn" (near: "in") in "1 inn"; power wanted (such as "3/4 hp" or "550 W")',
    ]


def test_the_units_of_a_sheet_hold_wherever_they_stand():
    answers, lines = from_sheet("D4: 800\nA1: met\n", "sheet.txt")
    assert lines == {"driven_height": 1, "units": 2}
    assert measured(answers).value("driven_height") == pytest.approx(0.8)


@settings(max_examples=50)
@given(st.text(max_size=40))
def test_no_line_of_a_sheet_is_a_fault(line):
    try:
        from_sheet(f"D4{line}", "s")
    except ScenarioError as error:
        assert all(one.startswith("s:") for one in error.lines())


def test_all_names_are_on_a_page():
    page = names_text()
    assert max(map(len, page.splitlines())) <= 80
    assert all(f"--{key.replace('_', '-')}" in page for key in questions())
