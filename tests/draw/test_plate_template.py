"""The plate's template: foot patterns by the standards, hinges, the bolt, from two datum edges."""

import cmath
import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path as File

import numpy as np
import pytest
import shapely
from setting_mounts import rigid

from mountcalc.drafting.items import Arc, Circle, Label, Layer, Leader, Line, Offset, Path
from mountcalc.draw.boards.board import foot_slots
from mountcalc.draw.boards.side import board_sizes
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build, turned
from mountcalc.equilibrium.mount import Mount
from mountcalc.handbook.machine import motor_frame
from mountcalc.pages.amounts import bench_length, bench_size
from mountcalc.scenario.boards import evenly_spaced, hinge_leaves
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.parts import Parts
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.threads import bolt_diameter, read_thread
from mountcalc.scenario.text.writing import Display

INCH = 0.0254


def shipped(name):
    return read_scenario(str(File(__file__).parents[2] / "scenarios" / f"{name}.toml"))


@pytest.fixture
def mill(cider):
    return rigid(read_scenario(str(cider)))


def slot_centres(drawing):
    """Middles of the slots, from the round ends that are cut."""
    ends = [item for item in drawing.items if isinstance(item, Arc) and item.layer is Layer.CUT]
    pairs = zip(ends[::2], ends[1::2], strict=True)
    return [tuple(np.add(one.centre, other.centre) / 2) for one, other in pairs]


# NEMA MG 1 part 4: 2E, 2F, H in inches; IEC 60072-1: A, B, K in millimetres.
@pytest.mark.parametrize(
    ("frame", "across", "along", "hole", "unit"),
    [
        ("48", 4.25, 2.75, 11 / 32, INCH),
        ("56", 4.875, 3.0, 11 / 32, INCH),
        ("145T", 5.5, 5.0, 11 / 32, INCH),
        ("184T", 7.5, 5.5, 13 / 32, INCH),
        ("IEC 71", 112, 90, 7, 1e-3),
        ("IEC 90L", 140, 125, 10, 1e-3),
    ],
)
def test_foot_slots_stand_in_the_pattern_of_the_frame(mill, frame, across, along, hole, unit):
    parts = replace(mill.parts, frame=motor_frame(frame))
    drawing = plate_template(Build(replace(mill, parts=parts)))
    x, y = zip(*slot_centres(drawing), strict=True)
    assert max(y) - min(y) == pytest.approx(across * unit)
    assert max(x) - min(x) == pytest.approx(along * unit)
    assert len(x) == 4
    assert (max(x) + min(x)) / 2 == pytest.approx(drawing.facts["width"] / 2)
    assert drawing.facts["slot_width"] == pytest.approx(hole * unit)
    # Lengthened along the shaft by a quarter of an inch to each side, and said.
    assert drawing.facts["slot_length"] == pytest.approx(hole * unit + 0.5 * INCH)
    assert any("slots are 1/4 in longer to each side" in note for note in drawing.notes)


def test_a_foot_with_two_pairs_of_holes_shares_the_one_at_the_shafts_end():
    frame = motor_frame("56H")
    for end in (1, -1):
        slots = foot_slots(frame, (0.1, 0.2), end, 0.0)
        places = sorted({round(end * (slot.centre[0] - 0.1) / INCH, 6) for slot in slots})
        # 5 in overall; the pair of 3 in begins at the same hole as that of 5 in.
        assert places == pytest.approx([-2.5, -0.5, 2.5])


def test_feet_stand_square_under_the_motors_shaft(mill):
    drawing = plate_template(Build(mill))
    hinge, shaft = mill.plate.hinge, mill.motor.shaft
    from_axis = math.sqrt(math.dist(hinge, shaft) ** 2 - (3.5 * INCH) ** 2)
    middle = np.mean([y for _, y in slot_centres(drawing)])
    assert middle + drawing.facts["axis_below_edge"] == pytest.approx(from_axis)


def test_the_pulley_is_on_the_side_where_a_viewer_has_it(mill):
    # The mill's plate stands up with the motor to its right, seen facing the pulley. Who steps
    # round to the motor's side has the pulley, nearer to where they stood, at their left hand.
    assert plate_line(mill).pulley_side == -1
    assert "pulley on the left" in plate_template(Build(mill)).view
    # Turned as a whole it is the same plate; mirrored it is one of the other hand.
    assert plate_line(turned_scenario(mill, 2.1)).pulley_side == -1
    assert plate_line(mirror_scenario(mill)).pulley_side == 1
    # The lathe's lies level with the hinge at its left and the motor on top: looking down with the
    # hinge at one's own side, where one stood to face the pulley is at the right hand.
    assert plate_line(shipped("wood-lathe")).pulley_side == 1


def turned_scenario(scenario, angle):
    return moved_scenario(scenario, lambda z: z * cmath.rect(1.0, angle), lambda a: a + angle)


def mirror_scenario(scenario):
    return moved_scenario(scenario, lambda z: -z.conjugate(), lambda a: math.pi - a)


def moved_scenario(scenario, move, direct):
    def point(at):
        if at is None:
            return None
        z = move(complex(*at))
        return z.real, z.imag

    def way(angle):
        return None if angle is None else direct(angle)

    board = replace(scenario.parts.plate, direction=way(scenario.parts.plate.direction))
    motor, plate, adjuster = scenario.motor, scenario.plate, scenario.adjuster
    return replace(
        scenario,
        driven=replace(scenario.driven, shaft=point(scenario.driven.shaft)),
        motor=replace(motor, shaft=point(motor.shaft), center_of_mass=point(motor.center_of_mass)),
        plate=replace(plate, hinge=point(plate.hinge), center_of_mass=point(plate.center_of_mass)),
        adjuster=replace(
            adjuster,
            tip=point(adjuster.tip),
            axis=way(adjuster.axis),
            face=way(adjuster.face),
            base_pin=point(adjuster.base_pin),
            plate_pin=point(adjuster.plate_pin),
        ),
        parts=replace(scenario.parts, plate=board),
    )


def test_the_template_does_not_change_as_the_mount_is_turned(mill):
    one, other = plate_template(Build(mill)), plate_template(Build(turned_scenario(mill, 0.7)))
    assert other.facts == pytest.approx(one.facts)
    assert slot_centres(other) == [pytest.approx(at) for at in slot_centres(one)]


def test_the_bolts_pad_holds_the_tip_over_the_whole_swing(mill):
    drawing = plate_template(Build(mill))
    (pad,) = (
        item
        for item in drawing.items
        if isinstance(item, Path) and item.layer is Layer.MARK and item.closed
    )
    low, high = min(y for _, y in pad.points), max(y for _, y in pad.points)
    frame, swing = plate_line(mill), Build(mill).swing
    # Found otherwise: the screw's axis meets the face of the plate as it stands at each angle.
    tip, axis, face = mill.adjuster.tip, mill.adjuster.axis, mill.adjuster.face
    for angle in np.linspace(swing.low, swing.high, 21):
        on_face = turned(tip, mill.plate.hinge, angle)
        along_axis = np.array([math.cos(axis), math.sin(axis)])
        along_face = np.array([math.cos(face + angle), math.sin(face + angle)])
        steps = np.linalg.solve(
            np.column_stack([along_axis, -along_face]), np.subtract(on_face, tip)
        )
        meets = np.add(tip, steps[0] * along_axis)
        back = turned(tuple(meets), mill.plate.hinge, -angle)
        y = frame.distance(back) - drawing.facts["axis_below_edge"]
        half = 0.5 * 3 / 4 * INCH  # adjuster.pad
        assert low + half - 1e-9 <= y <= high - half + 1e-9
    assert drawing.facts["bolt_y"] + drawing.facts["axis_below_edge"] == pytest.approx(
        frame.distance(
            turned(
                (
                    float(Mount.of(mill).adjuster(swing.snug).at_x),
                    float(Mount.of(mill).adjuster(swing.snug).at_y),
                ),
                mill.plate.hinge,
                -swing.snug,
            )
        )
    )


def test_a_bolt_through_the_plate_is_bored_where_its_axis_meets_the_face(mill):
    lean = 0.2
    line = plate_line(mill)
    direction = math.atan2(line.along[1], line.along[0])
    # The tip 60 mm behind the face; the axis leans away from the hinge as it goes in.
    out = math.atan2(-line.normal[1], -line.normal[0])
    towards = 1 if math.cos(out + math.pi / 2 - direction) > 0 else -1
    axis = out + towards * lean
    at = 0.31
    tip = tuple(
        np.array(mill.plate.hinge)
        + at * np.array(line.along)
        + 0.06 / math.cos(lean) * np.array([math.cos(axis), math.sin(axis)])
    )
    bolted = replace(
        mill,
        adjuster=replace(
            mill.adjuster,
            kind=AdjusterKind.JACK_IN_PLATE,
            tip=tip,
            axis=axis,
            face=direction,
            thread=read_thread("M10x1.5"),
        ),
    )
    drawing = plate_template(Build(bolted))
    assert drawing.facts["bolt_y"] + drawing.facts["axis_below_edge"] == pytest.approx(at)
    assert drawing.facts["bolt_hole"] == pytest.approx(0.010 + INCH / 32)
    (note,) = (note for note in drawing.notes if "not square" in note)
    # 1 1/2 in x tan(0.2) = 0.304 in, by hand; the nearest 32nd is 5/16.
    assert "through 1 1/2 in of the plate it comes out 5/16 in further from the hinge" in note


def test_a_links_pin_is_where_the_scenario_has_it():
    drawing = plate_template(Build(shipped("wood-lathe")))
    # The plate runs to the right from the hinge; the pin is 530 - 190 mm along, 20 mm below.
    assert drawing.facts["bolt_y"] + drawing.facts["axis_below_edge"] == pytest.approx(0.34)
    assert any("20.0 mm behind the face" in note for note in drawing.notes)
    assert "pulley on the right" in drawing.view


def test_leaves_are_pockets_with_their_screws_inside(mill):
    drawing = plate_template(Build(mill))
    pockets = [
        item for item in drawing.items if isinstance(item, Path) and item.layer is Layer.POCKET
    ]
    screws = [
        item for item in drawing.items if isinstance(item, Circle) and item.layer is Layer.DRILL
    ]
    hinges = mill.parts.hinges
    assert len(pockets) == hinges.number
    assert len(screws) == hinges.number * hinges.screws_per_leaf
    shapes = [shapely.Polygon(pocket.points) for pocket in pockets]
    assert not shapes[0].intersects(shapes[1])
    for screw in screws:
        hole = shapely.Point(screw.centre).buffer(2 * screw.radius)
        assert sum(shape.contains(hole) for shape in shapes) == 1
    board = shapely.box(0, 0, drawing.facts["width"], drawing.facts["length"])
    assert all(board.covers(shape) for shape in shapes)
    deep = hinges.leaf_width - hinges.knuckle_diameter / 2
    assert shapes[0].area == pytest.approx(hinges.leaf_length * deep)


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("width", [0.25, 0.4])
def test_hinges_stand_evenly_and_alike_from_both_ends(mill, number, width):
    sizes = board_sizes(Build(replace(mill, parts=Parts())))
    middles = evenly_spaced(number, sizes.leaf_length, width)
    leaves = hinge_leaves(replace(sizes, width=width, hinges=middles))
    assert len(leaves) == number
    assert leaves[0].left == pytest.approx(width - leaves[-1].right)
    assert leaves[0].left >= 0
    gaps = [after.left - one.right for one, after in pairwise(leaves)]
    assert all(gap > 0 for gap in gaps)
    assert gaps == pytest.approx([gaps[0]] * len(gaps)) if gaps else number == 1


def test_screws_of_a_leaf_stand_in_two_rows_by_turns(mill):
    sizes = board_sizes(Build(replace(mill, parts=Parts())))
    (leaf, _) = hinge_leaves(sizes)
    rows = [y for _, y in leaf.screws]
    assert rows[0] == rows[2] != rows[1]
    x = [x for x, _ in leaf.screws]
    assert np.diff(x) == pytest.approx([sizes.leaf_length / 3] * 2)
    assert x[0] - leaf.left == pytest.approx(leaf.right - x[2])


@pytest.mark.usefixtures("placed_names")
def test_every_dimension_is_true_and_stands_apart(scenario_file):
    from mountcalc.drafting.annotations import extremes, label_of

    scenario = read_scenario(str(scenario_file))
    drawing = plate_template(Build(scenario))
    labels = [item for item in drawing.items if isinstance(item, Label)]
    for item in drawing.items:
        if isinstance(item, Leader):
            labels.append(label_of(item, 1.0))
        if isinstance(item, Offset):
            if not item.text:  # it stands beside the dimension
                continue
            labels.append(label_of(item, 1.0))
            axis = 0 if abs(math.cos(item.direction)) > 0.5 else 1
            number, fine = run_of(item.text), 1e-4 if "mm" in item.text else INCH / 63
            assert abs(item.end[axis] - item.start[axis]) == pytest.approx(number, abs=fine)
    boxes = []
    for label in labels:
        across, up = zip(*extremes(label, 1.0), strict=True)
        boxes.append(shapely.box(min(across), min(up), max(across), max(up)))
    for number, box in enumerate(boxes):
        for other in range(number):
            assert not box.intersects(boxes[other]), (labels[number].text, labels[other].text)


def run_of(text):
    """The length that a dimension's text says [m]."""
    number, unit = text.rsplit(" ", 1)
    total = 0.0
    for part in number.split():
        over, _, under = part.partition("/")
        total += float(over) / float(under or 1)
    return total * {"in": INCH, "mm": 1e-3}[unit]


def test_without_a_frame_no_slots_are_drawn_and_that_is_said(mill):
    drawing = plate_template(Build(replace(mill, parts=Parts())))
    assert not [item for item in drawing.items if isinstance(item, Arc)]
    assert any(note.startswith("motor.frame is not given") for note in drawing.notes)
    (taken,) = (note for note in drawing.notes if note.startswith("Taken where"))
    for key in ("hinge.leaf_length 3 in", "hinge.number 2", "plate.width 10 in"):
        assert key in taken


def test_metric_defaults_are_round_in_millimetres(mill):
    drawing = plate_template(Build(replace(mill, parts=Parts(), display=Display.METRIC)))
    (taken,) = (note for note in drawing.notes if note.startswith("Taken where"))
    assert "hinge.leaf_length 80.0 mm" in taken
    assert "plate.width 250.0 mm" in taken


def test_a_board_too_short_for_feet_and_bolt_is_told(mill):
    short = replace(mill.parts, plate=replace(mill.parts.plate, length=0.2))
    cautions = plate_template(Build(replace(mill, parts=short))).cautions
    assert any("feet do not stand on the plate" in text for text in cautions)
    assert any("from the hinged edge: off the board" in text for text in cautions)
    assert plate_template(Build(mill)).cautions == ()


def test_material_layers_and_direction_are_told(mill):
    notes = plate_template(Build(mill)).notes
    assert notes[0] == "Plate of birch plywood, 1 1/2 in thick in 2 layers glued together."
    assert any("motor.frame has it" in note and "3 1/2 in above it" in note for note in notes)


def test_mirrored_the_slots_stand_at_the_other_hand(mill):
    drawing = plate_template(Build(mill))
    mirrored = drawing.mirrored()
    back = sorted((-x, y) for x, y in slot_centres(mirrored))
    assert back == [pytest.approx(at) for at in sorted(slot_centres(drawing))]


def test_grain_runs_along_the_long_side(mill):
    wide = replace(mill.parts, plate=replace(mill.parts.plate, width=0.6))
    for parts, axis in ((mill.parts, 1), (wide, 0)):
        drawing = plate_template(Build(replace(mill, parts=parts)))
        (arrow,) = (
            item for item in drawing.items if isinstance(item, Line) and item.layer is Layer.NOTE
        )
        assert abs(arrow.end[axis] - arrow.start[axis]) == pytest.approx(0.06)
        assert arrow.end[1 - axis] == arrow.start[1 - axis]


@pytest.mark.parametrize(
    ("name", "diameter"),
    [
        ("3/8-16", 0.375 * INCH),
        ("1 1/4-7", 1.25 * INCH),
        ("1/2-13 UNC-2A", 0.5 * INCH),
        ("#10-24", 0.190 * INCH),
        ("M10x1.5", 0.010),
        ("M8 LH", 0.008),
        ("Tr 16x4", 0.016),
        ("½-13", 0.5 * INCH),
    ],
)
def test_a_bolts_diameter_is_told_by_its_threads_name(name, diameter):
    assert bolt_diameter(read_thread(name)) == pytest.approx(diameter)


@pytest.mark.parametrize(
    ("display", "text"), [(Display.INCH, "1/2 x 1 1/4 in"), (Display.METRIC, "12.7 x 31.8 mm")]
)
def test_a_size_has_its_unit_once(display, text):
    assert bench_size(0.5 * 0.0254, 1.25 * 0.0254, display) == text


def test_leaves_that_are_bolted_through_have_holes_as_wide(mill):
    """No. 9 is 0.177 in; a bolt's hole is 1/32 in wider. The base keeps its pilot holes."""
    through = mill.with_(hinge={"into_plate": "through", "screw": "#9 x 2 in"})
    assert not any("longer than the plate" in note for note in through.notes)
    drawing = plate_template(Build(through))
    circles = [item for item in drawing.items if isinstance(item, Circle)]
    holes = [item for item in circles if item.layer is Layer.DRILL]
    assert [2 * one.radius / INCH for one in holes[:6]] == pytest.approx([0.177 + 1 / 32] * 6)
    notes = " ".join(drawing.notes)
    assert "let the leaves' machine screws through" in notes
    assert "Pilot holes" not in notes
    assert "longer than the plate" in " ".join(mill.with_(hinge={"screw": "#9 x 2 in"}).notes)


def test_layers_are_told_as_they_are_joined(mill):
    for joined in ("glued", "screwed"):
        notes = plate_template(Build(mill.with_(plate={"joined": joined}))).notes
        assert any(f"in 2 layers {joined} together" in note for note in notes)
    assert any("in 2 layers glued together" in note for note in plate_template(Build(mill)).notes)


@pytest.mark.parametrize("board", ["plate", "base"])
def test_leaves_on_an_edge_are_drawn_on_it(mill, board):
    """No hole in the face: screws go into the edge, and the notes count from this face."""
    sizes = board_sizes(Build(mill))
    template = plate_template if board == "plate" else base_template
    face = template(Build(mill))
    drawing = template(Build(mill.with_(hinge={f"into_{board}": "edge", "screw": "#9 x 1 1/2 in"})))
    deep = 1.5 * INCH - sizes.leaf_thickness + sizes.mortise
    under = sizes.leaf_width - sizes.edge
    holes = [one for one in drawing.items if isinstance(one, Circle) and 0 < one.centre[1] < under]
    assert [one for one in face.items if isinstance(one, Circle) and 0 < one.centre[1] < under]
    assert holes == []
    lines = [one for one in drawing.items if isinstance(one, Line)]
    into = [one for one in lines if one.end == pytest.approx((one.start[0], deep))]
    assert len(into) == sizes.number * sizes.screws
    # Two thirds and one third of the leaf past its knuckle, from the pin's axis in this face.
    notes = " ".join(drawing.notes)
    assert "not on this face" in notes
    for share in (1 / 3, 2 / 3):
        row = bench_length(sizes.edge + share * under, mill.display)
        assert f"({row} from this face)" in notes
    thin = mill.with_(**{board: {"thickness": "3/4 in"}}, hinge={f"into_{board}": "edge"})
    assert any("past the edge that it is on" in one for one in template(Build(thin)).cautions)
