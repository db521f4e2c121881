"""The assembly against the mount's own numbers, plain geometry, and paper."""

import itertools
import math
import pathlib
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from setting_mounts import rigid
from sizes import examples

from mountcalc.belts.fitting import fit
from mountcalc.drafting.annotations import extremes, text_boxes
from mountcalc.drafting.drawing import fits_sheet
from mountcalc.drafting.items import Arc, Circle, Layer, Leader, Line, Offset, Path
from mountcalc.draw.assembly import assembly
from mountcalc.draw.build import Build, turned
from mountcalc.errors import MountError
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.parts import Base, Parts
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

CIDER = pathlib.Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
LATHE = CIDER.with_name("wood-lathe.toml")
INCH = 0.0254
HALF_A_32ND = INCH / 64 + 1e-9


def inked(drawing, layer, kind):
    return [item for item in drawing.items if isinstance(item, kind) and item.layer is layer]


def length(text):
    number, unit = text.rsplit(" ", 1)
    return float(sum(map(Fraction, number.split()))) * {"in": INCH, "mm": 1e-3}[unit]


def named(drawing, text):
    (at,) = [one.at for one in drawing.items if isinstance(one, Leader) and one.text == text]
    return at


def test_the_belt_that_is_drawn_has_the_belts_length(scenario_file):
    scenario = read_scenario(scenario_file)
    drawing = assembly(Build(read_scenario(scenario_file)))
    floor = scenario.parts.base.floor
    strands = [
        math.dist(line.start, line.end)
        for line in inked(drawing, Layer.VISIBLE, Line)
        if (line.start[1], line.end[1]) != (floor, floor)
    ]
    arcs = [
        arc.radius * ((arc.end - arc.start) % math.tau)
        for arc in inked(drawing, Layer.VISIBLE, Arc)
    ]
    assert len(strands) == len(arcs) == 2
    assert sum(strands) + sum(arcs) == pytest.approx(scenario.belt.length, rel=1e-9)


def test_strands_touch_both_pitch_circles_square_to_a_radius():
    drawing = assembly(Build(read_scenario(CIDER)))
    motor, driven = (arc.centre for arc in inked(drawing, Layer.VISIBLE, Arc))
    for line in (one for one in inked(drawing, Layer.VISIBLE, Line) if one.start[1] != one.end[1]):
        way = line.end[0] - line.start[0], line.end[1] - line.start[1]
        for centre, touch, radius in (
            (motor, line.start, 1.5 * INCH),
            (driven, line.end, 4.5 * INCH),
        ):
            arm = touch[0] - centre[0], touch[1] - centre[1]
            assert math.hypot(*arm) == pytest.approx(radius)
            assert arm[0] * way[0] + arm[1] * way[1] == pytest.approx(0, abs=1e-12)


def test_plate_and_motor_at_snug_install_and_take_up():
    scenario = read_scenario(CIDER)
    drawing = assembly(Build(read_scenario(CIDER)))
    found = fit(scenario, scenario.belt.length, None)
    plate = inked(drawing, Layer.VISIBLE, Path)[0]
    near, far, back, _ = plate.points
    assert math.dist(near, far) == pytest.approx(16 * INCH)
    assert math.dist(far, back) == pytest.approx(1.5 * INCH)
    hinge = scenario.plate.hinge
    assert math.dist(hinge, near) == pytest.approx(0.5 * 7 / 16 * INCH)
    x, y = drawing.facts["motor_shaft_at_snug_x"], drawing.facts["motor_shaft_at_snug_y"]
    assert math.hypot(x, y - 32 * INCH) == pytest.approx(found.center_distance)
    # The shaft stands off the face by the shaft height of a frame 56.
    shaft = x, y - 32 * INCH
    way = (far[0] - near[0]) / (16 * INCH), (far[1] - near[1]) / (16 * INCH)
    off = way[0] * (shaft[1] - near[1]) - way[1] * (shaft[0] - near[0])
    assert abs(off) == pytest.approx(3.5 * INCH)
    others = [path for path in inked(drawing, Layer.EDGE, Path) if same_size(path, plate)]
    assert len(others) == 2
    swing = Build(scenario).swing
    turns = sorted(turn_between(hinge, plate.points[1], path.points[1]) for path in others)
    assert turns == pytest.approx(sorted([swing.install - swing.snug, swing.take_up - swing.snug]))


def same_size(path, other):
    sides = [[math.dist(*pair) for pair in itertools.pairwise(one.points)] for one in (path, other)]
    return sides[0] == pytest.approx(sides[1])


def turn_between(centre, start, end):
    angles = [math.atan2(at[1] - centre[1], at[0] - centre[0]) for at in (start, end)]
    return math.remainder(angles[1] - angles[0], math.tau)


def test_dimensions_tell_what_they_measure(scenario_file):
    drawing = assembly(Build(read_scenario(scenario_file)))
    offsets = [item for item in drawing.items if isinstance(item, Offset)]
    assert len(offsets) >= 6
    for one in offsets:
        axis = 0 if one.direction == 0 else 1
        assert length(one.text) == pytest.approx(
            abs(one.end[axis] - one.start[axis]), abs=HALF_A_32ND
        )


def test_datum_edges_are_the_floor_and_the_upright_through_the_driven_shaft():
    scenario = read_scenario(LATHE)
    drawing = assembly(Build(read_scenario(LATHE)))
    facts = drawing.facts
    assert facts["driven_shaft_x"] == 0
    assert facts["driven_shaft_y"] == pytest.approx(-scenario.parts.base.floor)
    for one in (item for item in drawing.items if isinstance(item, Offset)):
        datum = (scenario.driven.shaft[0], scenario.parts.base.floor)
        assert one.end[0 if one.direction == 0 else 1] == datum[0 if one.direction == 0 else 1]
    without = assembly(Build(replace(rigid(scenario), parts=Parts(base=Base()))))
    assert without.facts["hinge_pin_y"] == 0
    assert any("base.floor is needed" in note for note in without.notes)


def test_the_tip_lies_on_the_bolts_axis_and_on_the_plates_face():
    scenario = read_scenario(CIDER)
    drawing, swing = assembly(Build(read_scenario(CIDER))), Build(scenario).swing
    tip = named(drawing, "tip bears here")
    # The bolt moves level, 14 1/2 in above the hinge; its face as drawn is upright at the hinge.
    assert tip[1] - scenario.plate.hinge[1] == pytest.approx(14.5 * INCH)
    assert tip[0] - scenario.plate.hinge[0] == pytest.approx(-14.5 * INCH * math.tan(swing.snug))


def test_room_for_the_wrench_holds_the_head_over_the_whole_swing():
    scenario = read_scenario(CIDER)
    drawing, swing = assembly(Build(read_scenario(CIDER))), Build(scenario).swing
    across = [14.5 * INCH * math.tan(angle) for angle in (swing.install, swing.take_up)]
    touched = shapely.Point(named(drawing, "room for the wrench"))
    (room,) = [
        path
        for path in inked(drawing, Layer.EDGE, Path)
        if path.closed and shapely.LinearRing(path.points).distance(touched) < 1e-9
    ]
    wide = max(x for x, _ in room.points) - min(x for x, _ in room.points)
    high = max(y for _, y in room.points) - min(y for _, y in room.points)
    head = 0.65 * 3 / 8 * INCH
    assert wide == pytest.approx(abs(across[0] - across[1]) + head)
    assert high == pytest.approx(2 * 1.1 * 9 / 16 * INCH)
    assert any("9/16 in across flats" in note for note in drawing.notes)


def test_a_bolt_in_the_plate_passes_through_its_face_or_says_that_it_does_not():
    stone = read_scenario(CIDER.with_name("grindstone.toml"))
    assert any("plate.direction would say" in note for note in assembly(Build(stone)).notes)
    board, hinge = replace(stone.parts.plate, direction=0.0), stone.plate.hinge
    stone = replace(stone, parts=replace(stone.parts, plate=board))
    drawing = assembly(Build(stone))
    # As drawn: the plate is level, the bolt upright, 14 in from the hinge and 1 1/4 in
    # past the face that the motor hangs from, 1/2 in past the back of a 3/4 in board.
    through = turned(named(drawing, "bolt through the plate"), hinge, -Build(stone).swing.snug)
    assert (through[0] - hinge[0]) / INCH == pytest.approx(14)
    assert through[1] == pytest.approx(hinge[1])
    assert any("stands 1/2 in out" in note and "meets what" in note for note in drawing.notes)
    high = replace(stone, adjuster=replace(stone.adjuster, tip=(5 * INCH, -17 * INCH)))
    assert not any("meets what the tip" in note for note in assembly(Build(high)).notes)


def test_the_link_runs_from_pin_to_pin():
    scenario = read_scenario(LATHE)
    drawing, swing = assembly(Build(read_scenario(LATHE))), Build(scenario).swing
    pin = turned(scenario.adjuster.plate_pin, scenario.plate.hinge, swing.snug)
    for name, at in (("plate pin at snug", pin), ("base pin", scenario.adjuster.base_pin)):
        drawn = [one for one in inked(drawing, Layer.VISIBLE, Circle) if one.centre == at]
        assert any(math.isclose(math.dist(named(drawing, name), at), one.radius) for one in drawn)
    assert sum(circle.centre == pin for circle in inked(drawing, Layer.VISIBLE, Circle)) == 1


def meets(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def assert_legible(drawing):
    for view in (drawing, drawing.mirrored()):
        boxes = text_boxes(view.items, view.scale)
        assert not any(meets(*pair) for pair in itertools.combinations(boxes, 2))
    ends = [end for item in drawing.items for end in extremes(item, drawing.scale)]
    assert all(math.isfinite(part) for end in ends for part in end)
    assert all(math.isfinite(value) for value in drawing.facts.values())
    assert "nan" not in " ".join([*drawing.notes, *drawing.cautions])


@pytest.mark.parametrize("display", Display)
@pytest.mark.usefixtures("placed_names")
def test_every_shipped_mount_is_legible_on_one_small_sheet(scenario_file, display):
    drawing = assembly(Build(replace(read_scenario(scenario_file), display=display)))
    assert not drawing.true_scale
    assert "facing the motor's pulley" in drawing.view
    assert fits_sheet(drawing)
    assert_legible(drawing)


def test_mirrored_says_so_and_keeps_the_numbers():
    drawing = assembly(Build(read_scenario(CIDER)))
    turned_over = drawing.mirrored()
    assert "mirrored" in turned_over.view
    assert turned_over.facts == drawing.facts
    assert named(turned_over, "hinge pin")[0] == -named(drawing, "hinge pin")[0]


offsets_of_points = st.floats(-0.03, 0.03)


@pytest.mark.usefixtures("placed_names")
@settings(deadline=None, max_examples=examples(12))
@given(
    st.sampled_from([CIDER, LATHE]),
    st.tuples(*[offsets_of_points] * 4),
    st.floats(0.5, 3.0),
    st.sampled_from(AdjusterKind),
    st.booleans(),
)
def test_any_mount_is_drawn_or_refused_in_words(path, moved, size, kind, with_parts):
    scenario = rigid(read_scenario(path))
    scenario = replace(
        scenario,
        plate=replace(
            scenario.plate,
            hinge=(scenario.plate.hinge[0] + moved[0], scenario.plate.hinge[1] + moved[1]),
        ),
        driven=replace(scenario.driven, shaft=(moved[2], moved[3])),
        parts=scenario.parts if with_parts else Parts(),
    )
    if kind is AdjusterKind.NONE:
        scenario = replace(scenario, adjuster=replace(scenario.adjuster, kind=kind))
    try:
        drawing = assembly(Build(scaled(scenario, size)))
    except MountError as error:
        assert "belt" in str(error) or "travel" in str(error)
        return
    assert_legible(drawing)


def scaled(scenario, size):
    """All points and sizes of the plane so many times larger."""

    def point(at):
        return None if at is None else (at[0] * size, at[1] * size)

    adjuster, parts = scenario.adjuster, scenario.parts
    floor = parts.base.floor
    return replace(
        scenario,
        driven=replace(
            scenario.driven,
            shaft=point(scenario.driven.shaft),
            pulley_radius=scenario.driven.pulley_radius * size,
        ),
        motor=replace(
            scenario.motor,
            shaft=point(scenario.motor.shaft),
            center_of_mass=point(scenario.motor.center_of_mass),
            pulley_radius=scenario.motor.pulley_radius * size,
        ),
        belt=replace(scenario.belt, length=scenario.belt.length * size, designation=None),
        plate=replace(
            scenario.plate,
            hinge=point(scenario.plate.hinge),
            center_of_mass=point(scenario.plate.center_of_mass),
        ),
        adjuster=replace(
            adjuster,
            tip=point(adjuster.tip),
            base_pin=point(adjuster.base_pin),
            plate_pin=point(adjuster.plate_pin),
        ),
        parts=replace(parts, base=Base(None if floor is None else floor * size)),
    )
