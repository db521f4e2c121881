"""The measuring sheet: one page that nothing leaves or covers, and a text that is read back."""

import itertools
import re
import tomllib
from pathlib import Path

import pypdfium2
import pytest

import mountcalc
from mountcalc.drafting.items import Label, around
from mountcalc.drafting.paper.sheets import PAPERS, span
from mountcalc.drafting.paper.text import text_box
from mountcalc.new.answers import from_sheet, marks, measured
from mountcalc.new.measurements import questions
from mountcalc.new.sheet import on_sheet, sheet_page, sheet_pdf, sheet_text

SKETCHES = tomllib.loads(
    (Path(mountcalc.__file__).parent / "data" / "sketches.toml").read_text(encoding="utf-8")
)
SHEETS = (
    {},
    {"units": "metric", "way": "both", "title": "Saw"},
    {"built": "no"},
    {"motor_frame": "56", "belt_kind": "leather"},
    {"way": "distances", "adjuster": "eye-bolt"},
)


@pytest.fixture(params=SHEETS, ids=lambda one: "-".join(one.values()) or "usual")
def given_answers(request):
    return measured(request.param)


def test_sketches_fit_and_show_questions_of_their_group():
    groups = {mark: questions()[key].group for key, mark in marks().items()}
    for name, sketch in SKETCHES.items():
        assert max(map(len, sketch.splitlines())) <= 76, name
        assert sketch.isascii()
        found = re.findall(r"\b[A-Z][0-9]+\b", sketch)
        assert found
        assert {groups[mark] for mark in found} == {name.split()[0]}


def test_sketches_show_only_what_is_asked(given_answers):
    """In every sketch of the sheet; and each question that a sketch was drawn with is in one."""
    text = sheet_text(given_answers)
    drawn = set(re.findall(r"\b[A-J][0-9]+\b", "\n".join(re.findall(r"^# .*", text, re.MULTILINE))))
    asked = {marks()[one.key] for one in on_sheet(given_answers)}
    assert drawn - {"A1"} <= asked  # named in the heading
    assert {"C2", "D4", "E3", "G3"} <= drawn
    if given_answers.text("built") == "yes":
        way = given_answers.text("way")
        assert {"F4", "F10", "E7"} <= drawn
        assert ("F7" in drawn) == (way != "heights")
        assert ("F5" in drawn) == ("F9" in drawn) == (way != "distances")


@pytest.mark.parametrize(
    ("mark", "key"),
    [
        ("B1", "motor_power"), ("B3", "motor_start"), ("B6", "motor_turns"),
        ("C2", "motor_pulley_across"), ("C3", "motor_pulley_round"),
        ("C5", "driven_pulley_across"), ("C6", "driven_pulley_round"), ("C9", "belt_width"),
        ("D4", "driven_height"), ("D5", "driven_wall"), ("D6", "motor_height"),
        ("D7", "motor_wall"), ("D8", "hinge_height"), ("D9", "hinge_wall"),
        ("D10", "driven_to_motor"), ("D11", "hinge_to_driven"), ("D12", "hinge_to_motor"),
        ("E2", "shaft_height"), ("E3", "plate_length"), ("E4", "plate_width"),
        ("E5", "plate_thickness"), ("E7", "swing_tighter"), ("E8", "swing_looser"),
        ("F4", "hinge_to_bolt"), ("F5", "bolt_height"), ("F6", "bolt_wall"),
        ("F7", "driven_to_bolt"), ("F8", "post_height"), ("F9", "post_wall"),
        ("F10", "bolt_to_post"), ("G3", "journal_diameter"), ("G4", "journal_length"),
        ("G5", "bearings_apart"), ("G7", "pulley_to_bearing"), ("J1", "room_left"),
        ("J2", "room_right"), ("J3", "room_above"), ("J4", "room_below"),
    ],
)  # fmt: skip
def test_the_marks_that_sketches_were_drawn_with(mark, key):
    assert marks()[key] == mark


def test_it_is_one_page_of_the_shops_paper(given_answers):
    page = pypdfium2.PdfDocument(sheet_pdf(given_answers, "s.txt"))
    paper = PAPERS["a4" if given_answers.text("units") == "metric" else "letter"]
    assert len(page) == 1
    wide, high = page[0].get_size()
    assert (wide / 72 * 0.0254, high / 72 * 0.0254) == pytest.approx(
        (paper.width, paper.height), abs=1e-5
    )
    text = page[0].get_textpage().get_text_range()
    for question in on_sheet(given_answers):
        assert marks()[question.key] in text.split()
        assert question.brief in " ".join(text.split())


def test_nothing_leaves_the_page_and_no_words_meet(given_answers):
    paper = PAPERS["letter"]
    (patch,) = sheet_page(given_answers, paper, "measuring-sheet.txt").patches
    lines = [one for one in patch.strokes if not isinstance(one, Label)]
    boxes = [(one.text, text_box(one)) for one in patch.strokes if isinstance(one, Label)]
    corners = [point for _, box in (*boxes, ("", span(lines))) for point in (box[:2], box[2:])]
    left, bottom, right, top = around(corners)
    assert left > 0.005
    assert bottom > 0.005
    assert right < paper.width - 0.005
    assert top < paper.height - 0.005
    met = [
        (one, other)
        for (one, a), (other, b) in itertools.combinations(boxes, 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]
    assert met == []


def test_all_that_may_matter_is_asked(given_answers):
    """What hangs on a question of the sheet stays on it; what hangs on the sheet's kind goes."""
    keys = {one.key for one in on_sheet(given_answers)}
    if given_answers.text("built") == "yes" and "adjuster" not in given_answers:
        assert {"bolt_to_post", "hinge_to_bolt", "load_to_bearing"} <= keys
    assert ("driven_to_motor" in keys) == (given_answers.text("way") != "heights")
    assert ("room_left" in keys) == (given_answers.text("built") == "no")


def test_the_text_filled_in_is_read_back(given_answers):
    text = sheet_text(given_answers)
    answers = {
        question.key: next(iter(question.choices), None)
        or {"belt": "A60", "frame": "56", "thread": "3/8-16", "name": "My saw: old"}.get(
            question.kind
        )
        or {"speed": "1725 rpm", "weight": "28 lb"}.get(question.kind)
        or ("1/2 hp" if "power" in question.kind else f"{number + 1} 1/2 in")
        for number, question in enumerate(on_sheet(given_answers))
        if question.key not in given_answers
    }
    filled = []
    for line in text.splitlines():
        key = next((key for key in answers if line.startswith(f"{marks()[key]} ")), None)
        filled.append(f"{line} {answers[key]}" if key else line)
    back, _ = from_sheet("\n".join(filled), "s.txt")
    assert back == answers | dict(given_answers.answers)


def test_an_empty_sheet_answers_nothing():
    assert from_sheet(sheet_text(measured({})), "s.txt") == ({}, {})
