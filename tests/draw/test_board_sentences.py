"""What both boards' sheets say of the bolt's thread and of what does not fit together."""

import math
import re
from dataclasses import replace

import pytest

from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.drawings import drawings_of
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.named import read_screw

pytestmark = pytest.mark.usefixtures("plain_names")

INCH = 0.0254


@pytest.fixture
def mill(cider):
    return read_scenario(str(cider))


@pytest.mark.parametrize(
    ("acts", "side"),
    [
        (Acts.PUSH, "on the side that the bolt's tip comes out of, so that the thrust"),
        (Acts.PULL, "on the side of the bolt's head, so that the pull"),
        (Acts.BOTH, "on both sides"),
    ],
)
def test_both_boards_say_where_the_bolts_thread_is(mill, acts, side):
    """A nut that the thrust pushes off its board holds by its screws alone (common practice)."""
    jacked = replace(mill, adjuster=replace(mill.adjuster, acts=acts))
    through = replace(
        jacked,
        adjuster=replace(
            jacked.adjuster, kind=AdjusterKind.JACK_IN_PLATE, axis=math.pi, face=math.pi / 2
        ),
    )
    for drawing, board in (
        (base_template(Build(jacked)), "block|base"),
        (plate_template(Build(through)), "plate"),
    ):
        (note,) = (note for note in drawing.notes if "holds no thread" in note)
        assert re.search(rf"fixed to the ({board}) so that it cannot turn, {side}", note)
    (thick,) = (note for note in base_template(Build(jacked)).notes if "what carries it" in note)
    assert "3/4 in thick (estimate)" in thick  # twice 3/8 in, as the assembly draws it
    assert not any("what carries it" in note for note in plate_template(Build(through)).notes)


def test_a_face_that_is_out_of_parallel_is_told_as_rise_over_run(mill):
    line = plate_line(mill)
    direction = math.atan2(line.along[1], line.along[0])
    tilted = replace(mill, adjuster=replace(mill.adjuster, face=direction + math.atan(1 / 24)))
    (note,) = (note for note in plate_template(Build(tilted)).notes if "not parallel" in note)
    assert note.endswith(": 1/2 in out in every 12 in.")


def test_screws_that_come_out_of_a_board_are_cautions_of_its_sheet(mill):
    def screwed(text):
        hinges = replace(mill.parts.hinges, screw=read_screw(text))
        return replace(mill, parts=replace(mill.parts, hinges=hinges))

    def told(drawing):
        return [caution for caution in drawing.cautions if "hinge's screws" in caution]

    long = screwed("#9 x 5 in")
    assert told(plate_template(Build(long))) == [
        "The hinge's screws, #9 x 5 in, are longer than the plate is thick, 1 1/2 in: they come "
        "out of its other face."
    ]
    assert len(told(base_template(Build(long)))) == 1
    for fits in ("#9 x 1/2 in", "#9"):
        assert not told(plate_template(Build(screwed(fits))))
        assert not told(base_template(Build(screwed(fits))))
    assert not told(plate_template(Build(screwed("#9 x 1 1/2 in"))))
    assert told(plate_template(Build(screwed("#9 x 1 9/16 in"))))


def test_a_shaft_that_is_drawn_off_its_frames_height_is_a_caution_of_the_plates_sheet(mill):
    """Frame 56 has its shaft 3 1/2 in over its feet (NEMA MG 1, D)."""
    line = plate_line(mill)

    def given(direction, packing=0.0):
        plate = replace(mill.parts.plate, direction=direction)
        parts = replace(mill.parts, plate=plate, packing=packing)
        (plate,) = drawings_of(Build(replace(mill, parts=parts)), ["plate"])
        return plate.cautions

    assert not [one for one in given(line.direction) if "motor's shaft is drawn" in one]
    (caution,) = (one for one in given(line.direction, INCH) if "motor's shaft is drawn" in one)
    assert "is drawn 3.5 in off the face" in caution
    assert "has it 4.5 in off" in caution
