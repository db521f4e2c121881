"""Where the bolt stands across the plate: on the sheets of both boards, and along the shafts."""

import math
import pathlib
from dataclasses import replace

import pytest

from mountcalc.drafting.items import Circle, Layer, Leader
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.stop import Beside, stop_place
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.reader import read_scenario

SCENARIOS = pathlib.Path(__file__).parents[2] / "scenarios"
INCH = 0.0254


def mount(name, across=None):
    scenario = read_scenario(SCENARIOS / f"{name}.toml")
    return replace(scenario, adjuster=replace(scenario.adjuster, across=across))


def drilled(drawing, diameter):
    return [
        item
        for item in drawing.items
        if isinstance(item, Circle)
        and item.layer is Layer.DRILL
        and item.radius == pytest.approx(diameter / 2)
    ]


def names(drawing):
    return [item.text for item in drawing.items if isinstance(item, Leader)]


# The plate is 8 in and 170 mm wide; the views say on which side the pulley is.
@pytest.mark.parametrize(
    ("name", "half", "side"), [("cider-mill", 4 * INCH, "left"), ("wood-lathe", 0.085, "right")]
)
@pytest.mark.parametrize("across", [0.03, -0.02])
def test_the_plates_sheet_has_it_on_the_pulleys_side(name, half, side, across):
    drawing = plate_template(Build(mount(name, across)))
    assert f"pulley on the {side}" in drawing.view
    toward = -1 if side == "left" else 1
    assert drawing.facts["bolt_x"] == pytest.approx(half + toward * across)
    words = "towards" if across > 0 else "away from"
    assert any(f"{words} the pulley's end of the motor's shaft" in one for one in drawing.notes)


def test_without_the_key_it_is_in_the_middle_and_told_as_an_estimate():
    for draw in (plate_template, base_template, along_shafts, assembly):
        drawing = draw(Build(mount("cider-mill")))
        assert any("in the middle of the plate's width (estimate" in one for one in drawing.notes)


def test_the_base_has_it_opposite_the_plate():
    across = -0.02
    for name in ("cider-mill", "wood-lathe"):
        plate, base = (
            plate_template(Build(mount(name, across))),
            base_template(Build(mount(name, across))),
        )
        # Told where block and strip are apart; a block that stands in its place is shifted.
        assert any("away from the pulley's end" in one for one in base.notes)
        if "is in the notes" in " ".join(names(base)):
            continue
        mirrored = ("pulley on the left" in plate.view) != ("pulley on the left" in base.view)
        width = plate.facts["width"]
        there = width - plate.facts["bolt_x"] if mirrored else plate.facts["bolt_x"]
        assert base.facts["bolt_x"] == pytest.approx(there)


def test_the_view_along_the_shafts_measures_it():
    # The motor's face is in line with the bearing's; frame 56: 2 3/4 in from there to the first
    # feet, 1 1/2 in more to their middle (NEMA MG 1 part 4: BA and half of 2F).
    for across, told in ((None, "4 1/4 in"), (INCH, "3 1/4 in"), (-INCH, "5 1/4 in")):
        drawing = along_shafts(Build(mount("cider-mill", across)))
        assert "bolt at the plate" in names(drawing)
        assert any(f"middle of the bolt {told}" in one for one in drawing.notes)


def bolted_under_the_motor(across):
    """A bolt through the plate, square to it, under the middle of the motor."""
    mill, stone = mount("cider-mill"), mount("grindstone", across)
    frame = plate_line(mill)
    at = frame.distance(mill.motor.shaft)
    point = tuple(pin + at * way for pin, way in zip(frame.hinge, frame.along, strict=True))
    tip = tuple(one - 0.06 * way for one, way in zip(point, frame.normal, strict=True))
    adjuster = replace(stone.adjuster, tip=tip, axis=0.0, face=0.5 * math.pi)
    away = 0.0 if frame.normal[0] < 0 else math.pi
    return replace(mill, adjuster=replace(adjuster, axis=away))


def test_no_hole_is_drilled_up_into_the_motor():
    for across in (None, 0.0, 2 * INCH):
        drawing = plate_template(Build(bolted_under_the_motor(across)))
        assert not drilled(drawing, drawing.facts["bolt_hole"])
        assert "not to be drilled here: under the motor" in names(drawing)
        assert any("the motor stands in its way" in one for one in drawing.cautions)


def test_a_hole_beside_the_motor_is_drilled():
    # The face of its body is 4 1/4 in from the middle of its feet.
    drawing = plate_template(Build(bolted_under_the_motor(4.5 * INCH)))
    (hole,) = drilled(drawing, drawing.facts["bolt_hole"])
    assert hole.centre == pytest.approx((drawing.facts["bolt_x"], drawing.facts["bolt_y"]))
    assert not any("the motor stands in its way" in one for one in drawing.cautions)


def test_a_stop_finds_room_beside_a_bolt_that_stands_aside():
    # Of 100 mm half the block and air take 35 mm: 15 mm to each side, the stop wants 40 mm.
    def beside(across):
        mill = mount("cider-mill", across)
        board = replace(mill.parts.plate, width=0.1)
        mill = replace(mill, parts=replace(mill.parts, plate=board))
        swing = Build(mill).swing
        turn = 1 if swing.install > swing.take_up else -1
        return stop_place(Build(mill), turn, swing.install).beside

    assert beside(None) is not Beside.ADJUSTER
    assert beside(0.03) is Beside.ADJUSTER
