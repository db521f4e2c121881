"""Keep-outs in drawings: shown, and what comes into them is told, by sizes reckoned by hand."""

import math
import pathlib
from dataclasses import replace

import pytest

from mountcalc.drafting.items import Layer, Leader, Offset, Path
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.section import stop_to_stop
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.pages.amounts import bench_length
from mountcalc.scenario.model import BarredPart, KeepOut
from mountcalc.scenario.reader import read_scenario

pytestmark = pytest.mark.usefixtures("plain_names")

SCENARIOS = pathlib.Path(__file__).parents[2] / "scenarios"
INCH = 0.0254


def box(name, left, bottom, right, top, *parts):
    """A box of so many inches."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    metres = tuple((x * INCH, y * INCH) for x, y in corners)
    return KeepOut(name, metres, parts or tuple(BarredPart))


def mill(*keep_outs):
    return replace(read_scenario(SCENARIOS / "cider-mill.toml"), keep_outs=keep_outs)


def names(drawing):
    return [item.text for item in drawing.items if isinstance(item, Leader)]


def test_the_reader_gives_the_mount_its_keep_outs():
    scenario = read_scenario(SCENARIOS / "polishing-lathe.toml")
    assert scenario.keep_outs[0].name == "wall"
    assert scenario.keep_outs[0].corners[0] == pytest.approx((-0.9, -0.7))


def test_a_base_in_the_ground_is_told_on_its_sheet_and_in_the_assembly():
    # The strip lies from 13 in to 14 1/2 in below the mill's shaft, and reaches to 20 25/32 in.
    mount = mill(box("bench", -22, -20, -10, -14))
    told = 'The base stands 1/2 in in the keep-out "bench".'
    assert told in assembly(Build(mount)).cautions
    assert told in base_template(Build(mount)).cautions
    assert told not in plate_template(Build(mount)).cautions
    assert told not in assembly(Build(mill(box("bench", -22, -20, -10, -15)))).cautions


def test_a_motor_that_swings_into_a_wall_is_told_with_the_place_and_how_deep():
    mount = mill()
    angles = stop_to_stop(Build(mount))
    reach = [
        turned(mount.motor.shaft, mount.plate.hinge, angle)[0] - mount.parts.frame.body_radius
        for angle in angles
    ]
    wall = min(reach) / INCH + 0.75  # three quarters of an inch into it at the stop
    mount = mill(box("wall", wall - 30, -60, wall, 60, BarredPart.MOTOR))
    (told,) = [
        one for one in assembly(Build(mount)).cautions if "keep-out" in one and "body" in one
    ]
    assert told.startswith('The motor\'s body comes 3/4 in into the keep-out "wall", ')
    assert told.endswith(", at the stop beyond take-up.")
    assert told in plate_template(Build(mount)).cautions
    assert told not in base_template(Build(mount)).cautions


def test_what_a_keep_out_does_not_bar_is_not_told():
    everywhere = -60, -60, 60, 60
    said = keep_out_cautions(Build(mill(box("all", *everywhere))))
    for part in (
        *("The plate", "The motor's feet", "The motor's body", "The belt", "The bolt"),
        *("The room for the wrench", "The base", "The stop beyond install", "The guard"),
    ):
        assert any(one.startswith(f"{part} ") for one in said), part
    (guard, belt) = sorted(
        keep_out_cautions(Build(mill(box("all", *everywhere, BarredPart.BELT))))
    )[::-1]
    assert guard.startswith("The guard")
    assert belt.startswith("The belt")
    assert guard in guard_panel(Build(mill(box("all", *everywhere, BarredPart.BELT)))).cautions


def test_a_stop_in_the_ground_is_told():
    # 22 7/16 in left, 34 11/32 in above the floor: 2 11/32 in above the shaft, by the view.
    said = keep_out_cautions(
        Build(mill(box("post", -22.4, 2.0, -20, 3.0, BarredPart.PLATE))), "the stop"
    )
    assert len(said) == 1
    assert said[0].startswith("The stop beyond install stands ")


def test_ground_with_a_corner_inwards_is_met_only_where_it_is():
    # An L around the base: its box would hold it, it does not.
    corners = ((-30, -20), (-10, -20), (-10, -16), (-28, -16), (-28, 0), (-30, 0))
    around = KeepOut("L", tuple((x * INCH, y * INCH) for x, y in corners))
    assert not keep_out_cautions(Build(mill(around)), "the base")


def test_the_assembly_shows_ground_that_is_near_and_names_it():
    long_name = "the wall of the old barn that is to stay as it is because of the swallows in it"
    near = box("post", -22, -20, -21, -18)
    wide = box(long_name, -400, -40, -29, 400)
    drawing = assembly(Build(mill(near, wide, box("far away", 100, 100, 101, 101))))
    assert "keep-out: post" in names(drawing)
    assert any(one.startswith("keep-out: the wall of") and "…" in one for one in names(drawing))
    assert not any("far away" in one for one in names(drawing))
    paths = [item for item in drawing.items if isinstance(item, Path) and item.layer is Layer.EDGE]
    corner = (-22 * INCH, -20 * INCH)
    assert any(any(math.dist(at, corner) < 1e-9 for at in path.points) for path in paths)
    plain = assembly(Build(mill())).bounds()
    bounds = drawing.bounds()
    assert bounds[2] - bounds[0] < 2 * (plain[2] - plain[0])


def test_ground_between_mount_and_floor_is_shown():
    """A step on the floor, 28 to 30 in below the mill's shaft, with 32 in to the floor."""
    assert "keep-out: step" in names(assembly(Build(mill(box("step", -10, -30, -2, -28)))))


def test_strip_and_block_are_measured_from_floor_and_upright():
    drawing, sheet = assembly(Build(mill())), " ".join(base_template(Build(mill())).notes)
    # The hinge is 24 in left and 19 in up; half a knuckle of 7/32 in, then 3 in of strip.
    assert (
        "The near edge of the base's face is 19 in above the floor and 23 25/32 in from the "
        "upright through the driven shaft; its far edge is 19 in above the floor and 20 25/32 in "
    ) in sheet
    assert "A point of the bolt's axis is 33 1/2 in above the floor" in sheet
    dimensions = {item.text for item in drawing.items if isinstance(item, Offset)}
    assert {"20 25/32 in", "19 in", "33 1/2 in"} <= dimensions
    across = drawing.facts["face_of_the_bolt_block_x"]
    assert bench_length(abs(across), mill().display) in dimensions
    assert any(one.startswith("Face of the bolt's block: ") for one in drawing.notes)
