"""The stop beside the motor: room for its block found again by polygons, at every plate angle."""

import math
import pathlib
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from sizes import examples

from mountcalc.drafting.items import Layer, Leader, Path
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.build import Build, motor_size, rim_radii
from mountcalc.draw.stop import STOP_DEPTH, STOP_HALF, Beside, catches
from mountcalc.errors import MountError
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_scenario

pytestmark = pytest.mark.usefixtures("plain_names")

CIDER = pathlib.Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
LATHE, STONE, FRETSAW = (
    CIDER.with_name(f"{name}.toml") for name in ("wood-lathe", "grindstone", "fretsaw-bench")
)
SHIPPED = sorted(CIDER.parent.glob("*.toml"))
INCH = 0.0254
AIR = 0.006  # [m] that is promised beside the block
SAMPLED = 0.0005  # [m] what may be missed between the plate angles that are looked at


def polygon_at(scenario, board, reach, side, plate_angle):
    """The block as it lies on a face of the plate at an angle, by turning a rectangle."""
    low = 0.0 if side > 0 else -board.thickness - STOP_DEPTH
    flat = shapely.box(reach - STOP_HALF, low, reach + STOP_HALF, low + STOP_DEPTH)
    (a, b), (c, d), (x, y) = board.frame.along, board.frame.normal, scenario.plate.hinge
    drawn = affinity.affine_transform(flat, [a, c, b, d, x, y])
    return affinity.rotate(drawn, plate_angle, origin=(x, y), use_radians=True)


def turned(scenario, shape, angle):
    return affinity.rotate(shape, angle, origin=scenario.plate.hinge, use_radians=True)


def motor_room(scenario, swing, stop, block):
    """The least distance of the block from body and pulley, over all plate angles to the stop."""
    radius = max(motor_size(Build(scenario)).body, rim_radii(Build(scenario))[0])
    ends = swing.install, swing.snug, swing.take_up, stop.plate_angle
    shaft = shapely.Point(scenario.motor.shaft)
    return min(
        block.distance(turned(scenario, shaft, angle)) - radius
        for angle in np.linspace(min(ends), max(ends), 401)
    )


def found(scenario):
    swing = Build(scenario).swing
    board = board_side(Build(scenario))
    return swing, board, catches(Build(scenario))


def on_side(board, stop):
    """+1 where the stop stands on the motor's side of the plate."""
    out = shapely.Point(stop.normal)
    normal = affinity.rotate(
        shapely.Point(board.frame.normal), stop.plate_angle, origin=(0, 0), use_radians=True
    )
    return 1 if out.distance(normal) < 1 else -1


def check(scenario):
    swing, board, stops = found(scenario)
    for stop in stops:
        block = polygon_at(
            scenario, board, stop.place.reach, on_side(board, stop), stop.plate_angle
        )
        plate = shapely.Polygon(board.corners(0.0))
        if stop.place.beside is not Beside.NO_ROOM:
            for angle in np.linspace(swing.low, swing.high, 41):
                assert turned(scenario, plate, angle).intersection(block).area < 1e-9
            assert turned(scenario, plate, stop.plate_angle).distance(block) < 1e-9
        if stop.place.beside in {Beside.NOTHING, Beside.ADJUSTER}:
            assert motor_room(scenario, swing, stop, block) >= AIR - SAMPLED
        if stop.place.beside is Beside.NO_ROOM:
            # No place on the outer half of the plate lets the motor pass.
            for reach in np.arange(0.5 * board.length, board.length - 0.02, 0.004):
                other = polygon_at(scenario, board, reach, on_side(board, stop), stop.plate_angle)
                feet = abs(reach - board.frame.distance(scenario.motor.shaft))
                near_feet = feet < motor_size(Build(scenario)).half_feet + STOP_HALF + AIR
                assert near_feet or motor_room(scenario, swing, stop, other) < AIR + 2 * SAMPLED
    return stops


def test_the_motor_passes_the_stop_of_every_shipped_mount(scenario_file):
    assert check(read_scenario(scenario_file))


@settings(deadline=None, max_examples=examples(30))
@given(
    st.sampled_from(SHIPPED),
    st.floats(-0.08, 0.08),
    st.floats(-0.05, 0.05),
    st.one_of(st.none(), st.floats(0.15, 0.6)),
)
def test_the_motor_passes_the_stop_of_any_mount(path, along, up, length):
    scenario = read_scenario(path)
    x, y = scenario.motor.shaft
    motor = replace(scenario.motor, shaft=(x + along, y + up))
    parts = replace(scenario.parts, plate=replace(scenario.parts.plate, length=length))
    try:
        check(replace(scenario, motor=motor, parts=parts))
    except MountError:
        return


@pytest.mark.parametrize("path", [FRETSAW, LATHE])
def test_a_stop_in_line_with_the_adjuster_is_clear_of_it(path):
    scenario = read_scenario(path)
    swing, board, stops = found(scenario)
    adjuster = scenario.adjuster
    for stop in stops:
        assert stop.place.beside is Beside.NOTHING
        block = polygon_at(
            scenario, board, stop.place.reach, on_side(board, stop), stop.plate_angle
        )
        if adjuster.kind is AdjusterKind.LINK:
            for angle in (swing.install, swing.snug, swing.take_up, stop.plate_angle):
                pin = turned(scenario, shapely.Point(adjuster.plate_pin), angle)
                link = shapely.LineString([pin, shapely.Point(adjuster.base_pin)])
                assert link.buffer(0.010).distance(block) > 0
        else:
            way = math.cos(adjuster.axis), math.sin(adjuster.axis)
            back, ahead = (
                (adjuster.tip[0] + far * way[0], adjuster.tip[1] + far * way[1])
                for far in (-0.2, -0.03)
            )
            bolt = shapely.LineString([back, ahead]).buffer(0.1875 * INCH)
            assert bolt.distance(block) > 0


def wide(scenario, width, length=None):
    """With a wide plate that ends over the motor's body."""
    plate = replace(scenario.parts.plate, width=width, length=length)
    return replace(scenario, parts=replace(scenario.parts, plate=plate))


def names(drawing):
    return {one.text for one in drawing.items if isinstance(one, Leader)}


def blocks(drawing):
    """Rectangles of the block's size among what is drawn solid."""
    for item in drawing.items:
        if isinstance(item, Path) and item.layer is Layer.VISIBLE and len(item.points) == 4:
            sides = sorted(math.dist(item.points[i], item.points[i - 1]) for i in range(4))
            if sides == pytest.approx([2 * STOP_HALF] * 2 + [STOP_DEPTH] * 2):
                yield item


def test_a_short_plate_that_is_wide_has_its_stop_beside_the_motor_and_says_so():
    scenario = read_scenario(CIDER)
    _, _, (stop,) = found(wide(scenario, 24 * INCH, 12 * INCH))
    assert stop.place.beside is Beside.MOTOR
    drawing = assembly(Build(wide(scenario, 24 * INCH, 12 * INCH)))
    assert "stop beyond install, beside the motor" in names(drawing)
    assert any("not in line with the motor but beside it" in note for note in drawing.notes)
    assert len(list(blocks(drawing))) == 1


def test_a_short_plate_that_is_narrow_has_no_room_and_a_longer_one_has():
    scenario = read_scenario(CIDER)
    short = wide(scenario, 8 * INCH, 12 * INCH)
    _, _, (stop,) = found(short)
    assert stop.place.beside is Beside.NO_ROOM
    drawing = assembly(Build(short))
    assert "strap instead of a stop, install" in names(drawing)
    assert not list(blocks(drawing))
    assert not any(name.startswith("stop beyond") for name in names(drawing))
    (note,) = [note for note in drawing.notes if "no room for a stop" in note]
    assert "strap or chain" in note
    assert " long with the stop past them" in note
    _, _, (longer,) = found(wide(scenario, 8 * INCH, stop.place.wanted_length + 1e-6))
    assert longer.place.beside is Beside.NOTHING


def test_nobody_knows_how_long_a_motor_without_a_frame_is():
    scenario = read_scenario(CIDER)
    short = wide(replace(scenario, parts=replace(scenario.parts, frame=None)), 24 * INCH, 11 * INCH)
    _, _, (stop,) = found(short)
    assert stop.place.beside is Beside.NO_ROOM


def test_sizes_that_nobody_gave_are_told_as_estimates(scenario_file):
    drawing, scenario = assembly(Build(read_scenario(scenario_file))), read_scenario(scenario_file)
    said = " ".join(drawing.notes)
    if list(blocks(drawing)):
        assert "its size, " in said
    if scenario.adjuster.kind in {AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE}:
        assert "for lock nut and washers under its head (estimate)" in said
    if scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE:
        assert "its size an estimate" in said
    if scenario.adjuster.kind is AdjusterKind.LINK:
        assert "body and pins are drawn as estimates" in said
    body = "The motor's body and the height of its feet are estimates."
    assert (body in said) == (scenario.parts.frame is not None)
