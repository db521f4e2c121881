"""Remarks are data: each has its sentence, and numbers are written in the units of the drawing."""

import ast
import re
import string
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

import mountcalc
from mountcalc.draw import remarks as remarks_module
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, Remark, Remarks
from mountcalc.scenario.model import Acts
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

PACKAGE = Path(mountcalc.__file__).parent
ROWS = tomllib.loads((PACKAGE / "data" / "remarks.toml").read_text("utf-8"))
CAUTIONS = {f"{about}.{name}" for about, names in ROWS.pop("cautions").items() for name in names}
SENTENCES = {
    f"{about}.{name}": words for about, rows in ROWS.items() for name, words in rows.items()
}
# Keys of a scenario that look alike and are told, or checked, in the code of drawings.
SCENARIO_KEYS = {"base.direction", "base.floor", "guard.position"} | {
    f"guard.{size}" for size in ("clearance", "slot_clearance", "kerf", "thickness")
}
WRITTEN = {
    "", "bench", "-bench", "fine", "-fine", "bare", "by", "energy", "rate", "deg", "g", ".0f",
}  # fmt: skip


def literals():
    """All texts in the code of drawings; of those with places, what stands before the first."""
    for path in (PACKAGE / "draw").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield node.value


def test_every_sentence_is_said_and_every_remark_has_one():
    told = set(literals()) | set(Acts)
    abouts = "|".join({key.split(".")[0] for key in SENTENCES})
    asked = {one for one in told if re.fullmatch(rf"(?:{abouts})\.[a-z_]+", one)}
    assert asked - SCENARIO_KEYS <= SENTENCES.keys()
    # A key that is put together has its first half before a place, its second as a text.
    halves = {one.removesuffix(".") for one in told if one.endswith(".")} | {"title", "view"}
    for key in SENTENCES:
        about, name = key.split(".")
        assert key in told or about in halves or about == "view_of_side", key
        assert key in told or name in told, key


def test_cautions_are_sentences_that_stand_apart_from_notes():
    assert SENTENCES.keys() >= CAUTIONS
    remarks = Remarks(Display.METRIC)
    remarks.say("boards.leaves_through")
    remarks.say("boards.no_frame")
    assert remarks.cautions == (SENTENCES["boards.leaves_through"],)
    assert remarks.notes == (SENTENCES["boards.no_frame"],)


def test_places_of_numbers_say_how_these_are_written():
    for key, words in SENTENCES.items():
        for _, name, spec, _ in string.Formatter().parse(words):
            assert name is None or (re.match(r"[a-z]", name) and spec in WRITTEN), key


@pytest.mark.parametrize(
    ("display", "place", "value", "text"),
    [
        (Display.INCH, "bench", 0.0127, "1/2 in"),
        (Display.METRIC, "bench", 0.0127, "12.7 mm"),
        (Display.METRIC, "-fine", -0.0127, "12.7 mm"),
        (Display.INCH, "bare", (0.0254, 0.0381), "1, 1 1/2"),
        (Display.INCH, "by", (0.0254, 0.0381), "1 in x 1 1/2 in"),
        # One foot of a pound-force is 1.355818 J (NIST SP 811, appendix B).
        (Display.INCH, "energy", 13.55818, "10 ft lbf"),
        (Display.METRIC, "energy", 13.55818, "14 J"),
        # A pound-force is 4.448222 N (NIST SP 811, appendix B).
        (Display.INCH, "rate", 4378.17, "25 lbf/in"),
        (Display.METRIC, "rate", 4378.17, "4.4 N/mm"),
    ],
)
def test_one_table_writes_numbers(monkeypatch, display, place, value, text):
    words = {"test": {"one": f"It is {{x:{place}}}."}}
    monkeypatch.setattr(remarks_module, "load", lambda _: words)
    assert Remark("test.one", {"x": value}).text(display) == f"It is {text}."


def test_a_side_is_the_other_one_in_a_mirrored_copy_and_nothing_is_said_twice():
    remarks = Remarks(Display.METRIC)
    for _ in range(2):
        remarks.say("boards.datum_edges", side=LEFT)
    (here,) = remarks.notes
    assert "the hinged one and the left one" in here
    assert remarks.other_hand == {here: here.replace("left", "right")}


def test_what_a_user_wrote_is_no_sentence(cider):
    mill = read_scenario(str(cider))
    bearings = tuple(replace(one, name="{x:bench} {0}") for one in mill.driven.bearings)
    named = replace(mill, driven=replace(mill.driven, bearings=bearings), title="{title} {y!r}")
    view = along_shafts(Build(named))
    assert view.title == "Along the shafts: {title} {y!r}"
    assert any("{x:bench} {0}" in note for note in view.notes)
