"""Two bolts, hinges that are placed, and feet beside the middle, as they are marked out."""

import re
from pathlib import Path

import pytest

from mountcalc.drafting.items import Circle, Label, Layer, Leader, Offset
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.boards.board import foot_slots
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.stop import stop_place
from mountcalc.errors import ScenarioError
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
INCH = 0.0254
TWO = {"bolt": [{"across": -3 * INCH}, {"across": 2 * INCH}]}


def mill(**tables):
    return read_scenario(SCENARIOS / "cider-mill.toml").with_(**tables)


def texts(drawing):
    return [one.text for one in drawing.items if isinstance(one, Label | Leader | Offset)]


def test_the_plate_has_a_pad_for_each_bolt_where_it_bears():
    drawing = plate_template(Build(mill(adjuster=TWO)))
    # The pulley is on the left of this face: 4 in to the middle.
    assert "pulley on the left" in drawing.view
    assert drawing.facts["bolt_x"] == pytest.approx(7 * INCH)
    assert drawing.facts["bolt_2_x"] == pytest.approx(2 * INCH)
    assert drawing.facts["bolt_y"] == drawing.facts["bolt_2_y"]
    assert {"7 in", "2 in"} <= set(texts(drawing))
    (told,) = (one for one in drawing.notes if one.startswith("Two bolts"))
    assert "3 in away from it and 2 in towards it" in told


def test_the_block_on_the_base_has_both_holes_as_far_apart_as_they_are():
    drawing = base_template(Build(mill(adjuster=TWO)))
    holes = [
        one for one in drawing.items
        if isinstance(one, Circle) and one.layer is Layer.DRILL
        and 2 * one.radius == pytest.approx(drawing.facts["bolt_hole"])
    ]  # fmt: skip
    one, other = holes
    assert abs(one.centre[0] - other.centre[0]) == pytest.approx(5 * INCH)
    assert any(one.startswith("block, 7 in x 2 in") for one in texts(drawing))


def test_the_view_along_the_shafts_measures_both():
    drawing = along_shafts(Build(mill(adjuster=TWO)))
    told = " ".join(drawing.notes)
    # 4 1/4 in from the motor's face to the middle of its feet, which is that of the plate.
    assert "middle of the first bolt 7 1/4 in" in told
    assert "middle of the second bolt 2 1/4 in" in told


def test_a_stop_has_the_room_beside_the_bolt_on_either_side():
    def found(*across):
        bolts = {"bolt": [{"across": one * INCH} for one in across]}
        build = Build(mill(adjuster=bolts, plate={"width": 4.5 * INCH}, hinge={"number": 1}))
        turn = 1 if build.swing.install > build.swing.take_up else -1
        return stop_place(build, turn, build.swing.install).beside

    assert found(-1.9, -1.0) == found(1.0, 1.9)
    assert found(-1.9, 1.9) != found(1.0, 1.9)


def test_hinges_stand_where_they_are_put():
    drawing = plate_template(
        Build(mill(hinge={"number": None, "across": [-2.25 * INCH, 1.75 * INCH]}))
    )
    # From the left, where the pulley is: 4 - 1.75 - 1.5 and 4 + 2.25 - 1.5 in.
    assert {"3/4 in", "3 3/4 in", "4 3/4 in", "7 3/4 in"} <= set(texts(drawing))
    assert not any("half a leaf from the ends" in one for one in drawing.notes)


def test_feet_beside_the_middle_take_their_slots_and_the_pulley_with_them():
    still, moved = (
        plate_template(Build(mill(**tables))) for tables in ({}, {"motor": {"across": INCH}})
    )
    frame = mill().parts.frame
    middle = 3 * INCH, still.facts["shaft_line"]
    wanted = {slot.centre for slot in foot_slots(frame, middle, -1, 0.25 * INCH)}
    ends = [text for text in texts(moved) if text in {"1 1/2 in", "4 1/2 in"}]
    assert len(ends) == 2
    assert {round(x / INCH, 6) for x, _ in wanted} == {1.5, 4.5}
    told = [
        re.search(r"the pulley's middle is (.*) in from the middle", " ".join(one.notes))[1]
        for one in (still, moved)
    ]
    assert told == ["5 3/4", "6 3/4"]


def test_a_bolt_beyond_the_plate_is_told_whichever_it_is():
    with pytest.raises(ScenarioError) as told:
        mill(adjuster={"bolt": [{"across": -INCH}, {"across": 4.5 * INCH}]})
    assert "adjuster.bolt: the bolt is 4.5 in from the middle of the plate" in str(told.value)
