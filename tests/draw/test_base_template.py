"""The base's template: the other leaves, and where the adjuster is fixed or bears."""

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest

from mountcalc.drafting.items import Circle, Label, Layer, Leader, Offset, Path
from mountcalc.drafting.paper.joints import Taken
from mountcalc.drafting.paper.pages import pages
from mountcalc.drafting.paper.sheets import on_paper
from mountcalc.drafting.paper.text import text_box
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build, turned
from mountcalc.scenario.reader import read_scenario

SCENARIOS = File(__file__).parents[2] / "scenarios"


@pytest.fixture
def mill(cider):
    return read_scenario(str(cider))


def pockets(drawing):
    return [item for item in drawing.items if isinstance(item, Path) and item.layer is Layer.POCKET]


def test_a_screw_through_the_base_is_bored_on_its_axis(mill):
    drawing = base_template(Build(mill))
    facts = drawing.facts
    # Level bolt: 1 1/2 + 13 in above the hinge's axis, wherever its block stands along it.
    assert facts["block_up"] == pytest.approx(14.5 * 0.0254)
    assert facts["block_across"] == pytest.approx(0.0, abs=1e-9)
    assert any("is 14 1/2 in up from the hinge's axis" in note for note in drawing.notes)
    # 3/8 in and 1/32 in of clearance.
    assert facts["bolt_hole"] == pytest.approx((3 / 8 + 1 / 32) * 0.0254)
    holes = [
        item for item in drawing.items if isinstance(item, Circle) and item.layer is Layer.DRILL
    ]
    assert any(hole.centre == (facts["bolt_x"], facts["bolt_y"]) for hole in holes)
    assert any(note == "The bolt's hole is square to the block." for note in drawing.notes)


def test_a_screw_that_is_not_square_to_the_base_is_bored_where_it_meets_it(mill):
    lean = math.radians(10)
    tilted = replace(mill, adjuster=replace(mill.adjuster, axis=math.pi - lean))
    # The axis goes up as it comes out to the left; behind the face it is lower, towards the hinge.
    (note,) = (note for note in base_template(Build(tilted)).notes if "not square" in note)
    # 3/4 in x tan(10 deg) = 0.132 in, by hand.
    assert "through 3/4 in of the block it comes out 1/8 in nearer the hinge" in note


def test_plate_and_base_have_their_leaves_at_the_same_places(scenario_file):
    scenario = read_scenario(str(scenario_file))
    plate, base = plate_template(Build(scenario)), base_template(Build(scenario))
    assert [item.points for item in pockets(plate)] == [item.points for item in pockets(base)]
    assert plate.facts["width"] == base.facts["width"]


def test_seen_from_the_other_side_the_pulley_is_at_the_other_hand(mill):
    # The mill's plate and the block that its bolt goes through face each other.
    assert "pulley on the left" in plate_template(Build(mill)).view
    assert "pulley on the right" in base_template(Build(mill)).view


def test_a_link_is_fixed_where_its_pin_is():
    lathe = read_scenario(str(SCENARIOS / "wood-lathe.toml"))
    facts = base_template(Build(lathe)).facts
    # 530 - 190 and 623 - 343 by the scenario, away from the driven shaft and down.
    assert (facts["block_across"], facts["block_up"]) == pytest.approx((0.340, -0.280))
    notes = [note for note in base_template(Build(lathe)).notes if "The link's pin is" in note]
    # The floor is 850 mm under the driven shaft.
    assert "227.0 mm above the floor and 530.0 mm from the upright" in notes[0]
    note = notes[1]
    assert "280.0 mm down and 340.0 mm away from the driven shaft" in note


def test_a_screw_in_the_plate_bears_on_the_base_over_a_stretch():
    stone = read_scenario(str(SCENARIOS / "grindstone.toml"))
    drawing = base_template(Build(stone))
    (pad,) = (
        item
        for item in drawing.items
        if isinstance(item, Path) and item.layer is Layer.MARK and item.closed
    )
    low, high = min(y for _, y in pad.points), max(y for _, y in pad.points)
    tip, face = np.array(stone.adjuster.tip), stone.adjuster.face
    facts, hinge = drawing.facts, np.array(stone.plate.hinge)
    snug = hinge + np.array([facts["block_across"], facts["block_up"]])
    along, swing = np.array([math.cos(face), math.sin(face)]), Build(stone).swing
    for angle in np.linspace(swing.low, swing.high, 11):
        # The screw's axis, turned with the plate, meets the fixed face.
        start = np.array(turned(stone.adjuster.tip, stone.plate.hinge, angle))
        axis = stone.adjuster.axis + angle
        way = np.array([math.cos(axis), math.sin(axis)])
        steps = np.linalg.solve(np.column_stack([way, -along]), tip - start)
        meets = start + steps[0] * way
        # On the sheet it is at another distance from the strip: from snug on it is true.
        y = facts["bolt_y"] + (meets - snug) @ along
        assert low + 0.0127 - 1e-9 <= y <= high - 0.0127 + 1e-9


def test_without_an_adjuster_the_base_has_hinges_only():
    blower = read_scenario(str(SCENARIOS / "forge-blower.toml"))
    drawing = base_template(Build(blower))
    assert "bolt_y" not in drawing.facts
    assert pockets(drawing)
    assert drawing.notes[0] == "Without an adjuster the base carries the hinges only."


def test_mirrored_templates_have_the_pulley_at_the_other_hand(mill):
    assert "pulley on the right" in plate_template(Build(mill)).mirrored().view
    assert "pulley on the left" in base_template(Build(mill)).mirrored().view
    said = " ".join(plate_template(Build(mill)).mirrored().notes)
    assert "the right one" in said
    assert "the left one" not in said


def outlines(drawing):
    return [item for item in drawing.items if isinstance(item, Path) and item.layer is Layer.CUT]


def upright(scenario):
    """A base that runs along the face that the mill's bolt bears on, and so meets the plate."""
    base = replace(scenario.parts.base, direction=0.5 * math.pi)
    return replace(scenario, parts=replace(scenario.parts, base=base))


def test_where_the_motor_stands_there_is_a_strip_and_a_block_but_no_board(mill):
    # The mill's motor stands on the plate's face, behind the face that the base would have.
    drawing = base_template(Build(upright(mill)))
    block, strip = sorted(outlines(drawing), key=lambda one: -min(y for _, y in one.points))
    top = max(y for _, y in strip.points)
    feet = math.dist(mill.plate.hinge, mill.motor.shaft) - mill.parts.frame.feet_across / 2
    assert top < feet
    low, high = min(y for _, y in block.points), max(y for _, y in block.points)
    assert top < low < drawing.facts["bolt_y"] < high
    assert any("A base in one board with" in caution for caution in drawing.cautions)
    assert any("two pieces" in note for note in drawing.notes)


@pytest.mark.parametrize("given", [False, True])
def test_a_base_away_from_the_motor_is_one_board(mill, given):
    # A bolt that pushes along a base at 30 deg, wide open to the plate over all of its swing.
    face = math.radians(30)
    adjuster = replace(mill.adjuster, face=face, axis=face + 0.5 * math.pi)
    base = replace(mill.parts.base, direction=face if given else None)
    leaning = replace(mill, adjuster=adjuster, parts=replace(mill.parts, base=base))
    drawing = base_template(Build(leaning))
    assert len(outlines(drawing)) == 1
    assert not drawing.cautions
    tip = np.array(mill.adjuster.tip) - np.array(mill.plate.hinge)
    place = drawing.facts["bolt_y"] + drawing.facts["axis_below_edge"]
    assert place == pytest.approx(tip @ [math.cos(face), math.sin(face)])
    assert any("square to the base" in note for note in drawing.notes)


def names(drawing):
    return {item.text for item in drawing.items if isinstance(item, Leader)}


def test_strip_and_block_bear_their_names_and_sizes(mill):
    drawing = base_template(Build(upright(mill)))
    # 8 in of plate; a leaf of 1 1/2 in and 1 1/2 in beyond; twice 1/2 in on each side of the bolt.
    assert {"strip for the hinges, 8 x 3 in", "block, 2 in x 2 in"} <= names(drawing)
    block = max(outlines(drawing), key=lambda one: max(y for _, y in one.points))
    left, right = min(x for x, _ in block.points), max(x for x, _ in block.points)
    low, high = min(y for _, y in block.points), max(y for _, y in block.points)
    assert (right - left, high - low) == pytest.approx((2 * 0.0254, 2 * 0.0254))
    measured = [
        item.text for item in drawing.items if isinstance(item, Offset) and item.start[1] >= low
    ]
    # The hole from the block's edges, the block itself, and the hole from the strip's datum edges.
    assert sorted(measured) == ["1 in", "1 in", "14 9/32 in", "2 in", "2 in", "4 in"]
    (note,) = (note for note in drawing.notes if "two pieces" in note)
    assert "14 9/32 in above the strip's hinged edge and 4 in from its upright datum edge" in note


@pytest.mark.usefixtures("placed_names")
def test_no_dimension_of_strip_and_block_is_crossed_by_a_line_of_another(mill):
    views = [base_template(Build(mill)), base_template(Build(upright(mill)))]
    for drawing in (*views, *(view.mirrored() for view in views)):
        for item in (one for one in drawing.items if isinstance(one, Offset)):
            others = (one for one in drawing.items if one is not item)
            lines = Taken.by(on_paper(replace(drawing, items=tuple(others)), 1.0))
            text = text_box(on_paper(replace(drawing, items=(item,)), 1.0)[-1])
            assert lines.met_by(text) == (0, 0), item.text


@pytest.mark.usefixtures("placed_names")
def test_strip_and_block_of_the_mill_take_few_sheets(mill):
    """8 in and the dimensions beside it lie across the sheet; of 16 in up the middle is empty."""
    for scenario, sheets in ((mill, 2), (upright(mill), 2)):
        said = [
            label.text
            for page in pages(base_template(Build(scenario)), "letter")
            for patch in page.patches
            for label in patch.strokes
            if isinstance(label, Label)
        ]
        assert len([text for text in said if text.startswith("column ")]) == sheets


def test_a_block_that_is_not_at_its_distance_says_where_it_is(mill):
    drawing = base_template(Build(mill))
    (name,) = (text for text in names(drawing) if text.startswith("block"))
    assert name == "block, 2 in x 2 in; its place is in the notes"
    strip, block = sorted(outlines(drawing), key=lambda one: one.points[0][1])
    assert max(y for _, y in strip.points) + 0.03 < min(y for _, y in block.points)
    # The bolt through the block is at the same place as in the view to scale.
    told = " ".join(drawing.notes)
    assert "14 1/2 in up from the hinge's axis" in told
    assert "comes out level, away from the driven shaft" in told
    assert "the face with its hole running straight up." in told


def test_what_no_key_gives_is_told_as_taken(mill):
    base = replace(mill.parts.base, thickness=None)
    open_yet = replace(mill, parts=replace(mill.parts, base=base))
    said = " ".join(base_template(Build(open_yet)).notes)
    for taken_so in (
        "taken 3/4 in thick (estimate)",
        "1/32 in wider than the bolt (common practice)",
        "half a leaf from the ends where there is room (estimates)",
        "in the middle of the plate's width (estimate",
        "2 in x 2 in, is an estimate",
    ):
        assert taken_so in said
