"""The view along the shafts: every number by hand, the sides alike, each missing key named."""

import itertools
import math
import pathlib
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from setting_mounts import rigid
from sizes import examples

from mountcalc.drafting.annotations import extremes, text_boxes
from mountcalc.drafting.drawing import fits_sheet
from mountcalc.drafting.items import Layer, Leader, Offset, Path
from mountcalc.draw.along.along_shafts import along_shafts, levels_of
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.guard.shape import Slot, guard_shape
from mountcalc.handbook.machine import motor_frame
from mountcalc.pages.amounts import bench_length
from mountcalc.scenario.parts import AlongShafts, Base, Guard, Hinges, Parts
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

CIDER = pathlib.Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
INCH = 0.0254
# From the drawing of a mount that is counted against the outward way, in inches: the first bearing
# ends at -1 1/2, the driven pulley is at -3, the motor's frame 56 has a shaft of 1 7/8.
ALONG = AlongShafts(
    motor_pulley=-3.05 * INCH,
    motor_pulley_width=0.75 * INCH,
    motor_face=-1.5 * INCH,
    driven_pulley_width=1.5 * INCH,
    driven_shaft_end=-4.75 * INCH,
)
GUARD = Guard(clearance=0.5 * INCH, thickness=0.25 * INCH, strip_width=4 * INCH)
PARTS = Parts(
    hinges=Hinges(leaf_thickness=0.1 * INCH, mortise_depth=0.04 * INCH),
    guard=GUARD,
    base=Base(floor=-32 * INCH, direction=0.0),
    along=ALONG,
    frame=motor_frame("56"),
)


@pytest.fixture
def mount(plain_names):  # noqa: ARG001
    return replace(rigid(read_scenario(CIDER)), parts=PARTS)


def with_along(scenario, **places):
    along = replace(scenario.parts.along, **places)
    return replace(scenario, parts=replace(scenario.parts, along=along))


def with_guard(scenario, **sizes):
    guard = replace(scenario.parts.guard, **sizes)
    return replace(scenario, parts=replace(scenario.parts, guard=guard))


def inches(drawing):
    return {name: value / INCH for name, value in drawing.facts.items()}


def words(drawing):
    return " ".join([*drawing.notes, *drawing.cautions])


def test_the_stack_by_hand(mount):
    facts = inches(along_shafts(Build(mount)))
    # Outward: bearing and motor end at 1.5, the driven pulley's back is at 2.25: 0.75 of room.
    assert facts["panel_gap"] == pytest.approx(0.75)
    assert facts["panel_air_behind"] == pytest.approx(0.25)
    assert facts["panel_air_before"] == pytest.approx(0.25)
    assert facts["spacer"] == pytest.approx(0.25)
    # The motor's shaft ends at 1.5 + 1.875, its pulley's front is at 3.05 + 0.375.
    assert facts["motor_shaft_beyond_pulley"] == pytest.approx(-0.05)
    assert facts["motor_bore_held"] == pytest.approx(0.7)
    # Of the driven shaft 4.75 less the pulley's front at 3.75.
    assert facts["driven_end_projects"] == pytest.approx(1.0)
    assert facts["driven_cap_length"] == pytest.approx(1.5)
    # From the panel's back at 1.75 to half an inch past the driven shaft's end.
    assert facts["strip_least_width"] == pytest.approx(4.75 + 0.5 - 1.75)
    assert facts["pulley_offset"] == pytest.approx(-0.05)
    assert facts["hinge_above_floor"] == pytest.approx(19)
    assert facts["base_top"] == pytest.approx(19 - 0.1 + 0.04)


def test_the_pulleys_slant_is_over_the_distance_at_snug(mount):
    facts = along_shafts(Build(mount)).facts
    shaft = turned(mount.motor.shaft, mount.plate.hinge, Build(mount).swing.snug)
    distance = math.dist(shaft, mount.driven.shaft)
    assert facts["pulley_slant"] == pytest.approx(math.atan(0.05 * INCH / distance))
    assert facts["pulley_offset_limit"] == pytest.approx(distance * 0.1 / 12)


@pytest.mark.parametrize(("middle", "is_out"), [(-3.17, False), (-3.18, True), (-2.82, True)])
def test_pulleys_out_of_one_plane_are_a_caution(mount, middle, is_out):
    # 21 in between the shafts allow 0.175 in.
    drawing = along_shafts(Build(with_along(mount, motor_pulley=middle * INCH)))
    assert any("out of one plane" in text for text in drawing.cautions) is is_out
    assert any("out of one plane" in text for text in drawing.notes) is not is_out


def test_a_shaft_that_ends_short_of_its_pulley_is_a_caution(mount):
    (text,) = (one for one in along_shafts(Build(mount)).cautions if "short of the pulley's" in one)
    assert "3/64 in (0.050 in) short" in text
    flush = along_shafts(Build(with_along(mount, motor_pulley=-3.0 * INCH)))
    assert any("flush with the pulley's front" in one for one in flush.notes)


@pytest.mark.parametrize(("end", "ok"), [(-4.37, True), (-4.38, False)])
def test_half_a_diameter_of_the_shaft_may_stick_out(mount, end, ok):
    # The journal beside the pulley has 1 1/4 in: 5/8 in past the pulley's front at 3 3/4 in.
    drawing = along_shafts(Build(with_along(mount, driven_shaft_end=end * INCH)))
    assert ("driven_cap_length" in drawing.facts) is not ok
    assert any("1910.219(c)(4)" in one for one in (drawing.notes if ok else drawing.cautions))


def test_an_end_on_the_far_side_is_measured_from_the_far_bearing(mount):
    # The far bearing, at 14 in and 3 in long, ends at 15 1/2 in.
    facts = inches(along_shafts(Build(with_along(mount, driven_shaft_end=16 * INCH))))
    assert facts["driven_end_projects"] == pytest.approx(0.5)


@pytest.mark.parametrize(("thickness", "fits"), [(0.5, True), (0.52, False)])
def test_the_panel_wants_three_millimetres_on_each_side(mount, thickness, fits):
    # 0.75 in less 6 mm are 0.514 in.
    drawing = along_shafts(Build(with_guard(mount, thickness=thickness * INCH)))
    assert any("does not stand clear" in one for one in drawing.cautions) is not fits


def test_no_room_at_all_is_said_by_how_much(mount):
    drawing = along_shafts(Build(with_along(mount, motor_face=-2.5 * INCH)))
    assert drawing.facts["panel_gap"] == pytest.approx(-0.25 * INCH)
    assert any("overlap by 1/4 in" in one for one in drawing.cautions)
    assert "spacer" not in drawing.facts


def test_a_given_place_of_the_panel_is_judged(mount):
    drawing = along_shafts(Build(with_guard(mount, position=-1.7 * INCH)))
    facts = inches(drawing)
    assert facts["panel_air_behind"] == pytest.approx(0.075)
    assert facts["panel_air_before"] == pytest.approx(0.425)
    assert facts["spacer"] == pytest.approx(0.075)
    assert any("At guard.position" in one for one in drawing.cautions)


def test_a_panel_in_front_of_all_that_turns_guards_nothing(mount):
    # Its back at -5.875 in, past the driven shaft's end at -4 3/4 in by more than the clearance.
    drawing = along_shafts(Build(with_guard(mount, position=-6 * INCH)))
    assert any("it guards none of them" in one for one in drawing.cautions)
    # The pulleys' backs are at 2 1/4 in and 2.675 in outward, the panel's front at 6 1/8 in.
    assert any("3 7/8 in past the back of the driven pulley" in one for one in drawing.cautions)
    assert not any(" -" in one for one in [*drawing.notes, *drawing.cautions])  # no size below zero
    assert not any("Spacers" in one for one in drawing.notes)
    guard = guard_panel(Build(with_guard(mount, position=-6 * INCH)))
    assert any("does not stand clear of the pulleys at all" in one for one in guard.cautions)
    assert any("it guards none of them" in one for one in guard.cautions)


def test_a_shaft_that_is_short_by_rounding_is_not_too_short(mount):
    # The whole bore on a shaft of 1 7/8 in: 1/4 in and twice 3 mm before the pulley leave a least
    # place that is the greatest one, but for rounding.
    thick = 1.875 - 0.75 - 2 * 3 / 25.4
    for off in (-1e-12, 1e-12):
        one = with_guard(mount, thickness=(thick + off) * INCH)
        assert not any(
            "too short for its pulley" in text for text in along_shafts(Build(one)).cautions
        )
    one = with_guard(mount, thickness=(thick + 0.05) * INCH)
    assert any("too short for its pulley" in text for text in along_shafts(Build(one)).cautions)


def test_a_narrow_strip_is_a_caution(mount):
    narrow = along_shafts(Build(with_guard(mount, strip_width=3 * INCH)))
    assert any("1/2 in short" in one for one in narrow.cautions)
    assert not any("strip_width" in one for one in along_shafts(Build(mount)).cautions)


def edges_at(drawing, across):
    """Heights [in] over which solid upright edges stand at a position [in]."""
    spans = []
    for item in drawing.items:
        if isinstance(item, Path) and item.layer is Layer.VISIBLE:
            points = [*item.points, item.points[0]] if item.closed else item.points
            spans += [
                tuple(sorted((one[1] / INCH, other[1] / INCH)))
                for one, other in itertools.pairwise(points)
                if abs(one[0] / INCH - across) < 1e-6 and abs(other[0] / INCH - across) < 1e-6
            ]
    return sorted(spans)


def test_the_drawn_parts_stand_where_the_scenario_has_them(mount):
    drawing = along_shafts(Build(mount))
    motor = turned(mount.motor.shaft, mount.plate.hinge, Build(mount).swing.snug)[1] / INCH
    # The driven shaft, 1 1/4 in thick, stands before its pulley (outside radius under 4 1/2 in).
    for across in (-3.75, -2.25):
        (low, high) = edges_at(drawing, across)[0], edges_at(drawing, across)[-1]
        assert low[1] == pytest.approx(-0.625)
        assert high[0] == pytest.approx(0.625)
        assert high[1] == pytest.approx(-low[0])
        assert 4 < high[1] < 4.5
    # The bearing: twice its journal, 1 1/4 in, high; also in one line with the motor's face.
    assert (0.625, 1.25) in [
        tuple(round(end, 6) for end in span) for span in edges_at(drawing, 1.5)
    ]
    (end,) = edges_at(drawing, -4.75)
    assert end == pytest.approx((-0.625, 0.625))  # end of the driven shaft
    # Panel: from -2 to -1 3/4 in, open round both shafts by 1/2 in and more.
    for across in (-2.0, -1.75):
        spans = edges_at(drawing, across)
        assert not any(low < 0.62 and high > -0.62 for low, high in spans)
        assert not any(low < motor + 0.3 and high > motor - 0.3 for low, high in spans)
    # Frame 56 has a shaft of 5/8 in; what its pulley sticks out of the driven one is solid.
    assert any(low < motor - 1 and high < motor for low, high in edges_at(drawing, -3.425))


def test_the_guard_is_cut_with_its_strip_and_its_spacers(mount):
    drawing = along_shafts(Build(with_guard(mount, position=-1.75 * INCH)))
    shape = guard_shape(Build(with_guard(mount, position=-1.75 * INCH)))
    low, high = shape.outline.bounds[1] / INCH, shape.outline.bounds[3] / INCH
    front = edges_at(drawing, -1.625 - 4)  # 4 in of strip from the panel's back
    assert front == [
        pytest.approx((low - 0.25, low)),
        pytest.approx((high, high + 0.25)),
    ]
    named = {item.text for item in drawing.items if isinstance(item, Leader)}
    assert {"strip", "guard panel", "spacer"} <= named
    # Without guard.strip_width it is drawn with its least, and that is said.
    least = along_shafts(Build(with_guard(mount, position=-1.75 * INCH, strip_width=None)))
    assert edges_at(least, -1.625 - least.facts["strip_least_width"] / INCH)
    assert any("least width; guard.strip_width" in note for note in least.notes)


def test_a_hole_given_for_the_bearing_bounds_its_housing(mount):
    drawing = along_shafts(Build(with_guard(mount, bearing_opening=2 * INCH)))
    heights = [round(high, 6) for _, high in edges_at(drawing, 1.5)]
    assert 1.0 in heights
    assert 1.25 not in heights


@settings(deadline=None, max_examples=examples(60, 5))
@given(
    st.floats(0.05, 1.0),
    st.floats(0.005, 0.04),
    st.floats(-math.pi, math.pi),
    st.floats(0.02, 1.5),
    st.floats(0.0, 1.0),
)
def test_the_slot_is_cut_where_it_is_open(radius, half, start, turn, share):
    slot = Slot((0.1, -0.2), radius, half, start, start + turn)
    across = slot.at(start + share * turn)
    low, high = slot.open_at(across[0])
    arc = [slot.at(start + turn * number / 2000) for number in range(2001)]

    def distance(height):
        return min(math.dist(point, (across[0], height)) for point in arc)

    # Both ends of the cut lie on the slot's edge, the shaft itself between them.
    assert low < across[1] < high
    assert distance(low) == pytest.approx(half, abs=1e-4)
    assert distance(high) == pytest.approx(half, abs=1e-4)


def test_distances_are_told_in_words_too(mount):
    # Inches from the bearing's face at -1 1/2, to the nearest 32nd.
    notes = along_shafts(Build(mount)).notes
    (text,) = (one for one in notes if "towards the pulleys" in one)
    assert text.startswith("From the face of bearing 'pulley end', ")
    for part in (
        "driven pulley 3/4 in to 2 1/4 in",
        "end of the driven shaft 3 1/4 in",
        "end of the motor's shaft 1 7/8 in",
        "motor pulley 1 3/16 in to 1 15/16 in",
        "guard panel 1/4 in to 1/2 in",
        "front of the strip 4 1/4 in",
    ):
        assert part in text
    assert "In one plane with the face of bearing 'pulley end': motor's face." in notes
    # Behind the face: the other way.
    back = along_shafts(
        Build(with_along(mount, motor_face=-1 * INCH, motor_pulley=-2.9 * INCH))
    ).notes
    assert any("away from them: motor's face 1/2 in" in one for one in back)


@pytest.mark.usefixtures("plain_names")
@settings(deadline=None, max_examples=examples(25, 5))
@given(st.floats(-0.3, 0.3), st.floats(0.005, 0.1))
@example(-0.078125, 0.07421875)  # one distance is below 1/8 in
def test_every_dimension_is_told_in_words(pulley, width):
    along = AlongShafts(pulley, width, -0.05, 0.03, -0.12)
    drawing = along_shafts(Build(replace(rigid(read_scenario(CIDER)), parts=Parts(along=along))))
    told = " ".join(drawing.notes)
    across = {
        item.text for item in drawing.items if isinstance(item, Offset) and item.direction == 0.0
    }
    assert across
    assert all(text in told for text in across)


def heights_told(drawing):
    """Texts of the dimensions that are measured upward."""
    return {
        item.text
        for item in drawing.items
        if isinstance(item, Offset) and item.direction == pytest.approx(math.pi / 2)
    }


def test_heights_are_true_whatever_is_left_out(mount):
    drawing = along_shafts(Build(mount))
    motor = turned(mount.motor.shaft, mount.plate.hinge, Build(mount).swing.snug)[1] / INCH
    assert {"19 in", "18 15/16 in", "32 in"} <= heights_told(drawing)
    assert bench_length((32 + motor) * INCH, Display.INCH) in heights_told(drawing)
    names = {item.text for item in drawing.items if isinstance(item, Leader)}
    assert {"hinge", "top of base", "floor", "driven shaft", "motor shaft at snug"} <= names


def heights_drawn(drawing):
    """The same as they are drawn."""
    return {
        bench_length(abs(item.end[1] - item.start[1]), Display.INCH)
        for item in drawing.items
        if isinstance(item, Offset) and item.direction == pytest.approx(math.pi / 2)
    }


def test_a_stretch_is_left_out_where_that_draws_it_larger_and_nowhere_else():
    # As it ships, the mill fits one small sheet at 1:4 only without some of the 32 in.
    shipped = along_shafts(Build(read_scenario(CIDER)))
    assert shipped.scale == 4
    assert "32 in" in heights_told(shipped) - heights_drawn(shipped)
    assert any("not drawn to scale" in note for note in shipped.notes)
    assert shipped.scale_note
    # The press fits as it is.
    press = along_shafts(Build(read_scenario(CIDER.with_name("job-press.toml"))))
    assert heights_drawn(press) == heights_told(press)
    assert "17 in" in heights_told(press)
    assert not any("not drawn to scale" in note for note in press.notes)
    assert not press.scale_note


def test_a_hinge_beside_the_drive_is_drawn_thin_and_told(mount):
    hinge = (mount.plate.hinge[0], -5 * INCH)
    beside = replace(mount, plate=replace(mount.plate, hinge=hinge))
    levels = levels_of(Build(beside), (-8 * INCH, 5 * INCH))
    assert [(one.name, one.layer) for one in levels] == [
        ("hinge", Layer.CENTRE),
        ("top of base", Layer.EDGE),
        ("floor", Layer.VISIBLE),
    ]
    above = levels_of(Build(beside), (-20 * INCH, -9 * INCH))
    assert [one.name for one in above] == ["floor"]


MISSING = {
    "motor_pulley": "motor.pulley_position",
    "motor_pulley_width": "motor.pulley_width",
    "motor_face": "motor.face_position",
    "driven_pulley_width": "driven.pulley_width",
    "driven_shaft_end": "driven.shaft_end",
}


@pytest.mark.parametrize(("place", "key"), MISSING.items())
def test_a_missing_place_is_named_and_nothing_is_made_up(mount, place, key):
    drawing = along_shafts(Build(with_along(mount, **{place: None})))
    assert any(key in note and "needed to tell" in note for note in drawing.notes)
    tells = {
        "motor_pulley": "pulley_offset",
        "motor_pulley_width": "motor_bore_held",
        "motor_face": "motor_shaft_beyond_pulley",
        "driven_pulley_width": "driven_end_projects",
        "driven_shaft_end": "driven_end_projects",
    }
    assert tells[place] not in drawing.facts


def test_missing_frame_and_floor_are_named(mount):
    parts = replace(mount.parts, frame=None, base=Base())
    text = words(along_shafts(Build(replace(mount, parts=parts))))
    assert "motor.frame is needed" in text
    assert "base.floor is needed" in text


def test_without_any_parts_all_keys_are_named(mount):
    text = words(along_shafts(Build(replace(mount, parts=Parts()))))
    keys = {*MISSING.values(), "motor.frame", "base.floor"}
    assert all(key in text for key in keys)


def mirrored(scenario):
    """The same mount, counted along the shafts the other way."""
    along = scenario.parts.along
    driven = scenario.driven
    bearings = tuple(replace(one, position=-one.position) for one in driven.bearings)
    scenario = replace(
        scenario,
        driven=replace(driven, pulley_position=-driven.pulley_position, bearings=bearings),
    )
    return with_along(
        scenario,
        motor_pulley=-along.motor_pulley,
        motor_face=-along.motor_face,
        driven_shaft_end=-along.driven_shaft_end,
    )


def test_counting_the_other_way_changes_no_number_but_the_offsets_sign(mount):
    one, other = along_shafts(Build(mount)), along_shafts(Build(mirrored(mount)))
    assert other.facts["pulley_offset"] == pytest.approx(-one.facts["pulley_offset"])
    for name in one.facts.keys() - {"pulley_offset"}:
        assert other.facts[name] == pytest.approx(one.facts[name]), name
    assert "from the right" in one.view
    assert "from the left" in other.view


def meets(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def assert_legible(drawing):
    for view in (drawing, drawing.mirrored()):
        boxes = text_boxes(view.items, view.scale)
        assert not any(meets(*pair) for pair in itertools.combinations(boxes, 2))
    ends = [end for item in drawing.items for end in extremes(item, drawing.scale)]
    assert all(math.isfinite(part) for end in ends for part in end)
    assert all(math.isfinite(value) for value in drawing.facts.values())
    assert "nan" not in words(drawing)


@pytest.mark.usefixtures("placed_names")
def test_every_shipped_mount_is_legible_on_one_small_sheet(scenario_file):
    drawing = along_shafts(Build(read_scenario(scenario_file)))
    assert not drawing.true_scale
    assert fits_sheet(drawing)
    assert_legible(drawing)


places = st.none() | st.floats(-0.3, 0.3)
widths = st.none() | st.floats(0.005, 0.2)


@pytest.mark.usefixtures("placed_names")
@settings(deadline=None, max_examples=examples(30, 5))
@given(places, widths, places, widths, places, widths, st.sampled_from(Display), st.booleans())
def test_any_positions_give_a_drawing(pulley, width, face, wide, end, thickness, display, floor):
    parts = Parts(
        guard=Guard(thickness=thickness),
        base=Base(-0.6 if floor else None),
        along=AlongShafts(pulley, width, face, wide, end),
        frame=motor_frame("IEC 80") if floor else None,
    )
    mill = rigid(read_scenario(CIDER))
    drawing = along_shafts(Build(replace(mill, parts=parts, display=display)))
    assert_legible(drawing)
    if {"panel_air_behind", "panel_gap"} <= drawing.facts.keys():
        air = drawing.facts["panel_air_behind"] + drawing.facts["panel_air_before"]
        assert drawing.facts["panel_gap"] > air


def test_a_motor_shaft_that_sticks_out_wants_a_cap_past_half_its_diameter(mount):
    # The shaft of a frame 56 has 5/8 in and ends at 3 3/8 in; the pulley's front is at 2.575 in.
    drawing = along_shafts(Build(with_along(mount, motor_pulley=-2.2 * INCH)))
    assert inches(drawing)["motor_end_projects"] == pytest.approx(0.8)
    assert inches(drawing)["motor_cap_length"] == pytest.approx(0.8 + 0.5)
    assert any("more than half its diameter, 5/16 in" in one for one in drawing.cautions)
