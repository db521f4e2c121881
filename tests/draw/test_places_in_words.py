"""What notes say of places and sides is so in the picture beside them, mirrored or not."""

import re
from fractions import Fraction

import pytest

from mountcalc.drafting.items import Circle, Layer
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.side import board_sizes
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display


@pytest.mark.parametrize("mirrored", [False, True])
def test_points_of_the_assembly_are_on_the_side_that_is_said(scenario_file, mirrored):
    drawing = assembly(Build(read_scenario(scenario_file)))
    facts = drawing.facts
    if mirrored:
        drawing = drawing.mirrored()
    for name, key in (
        ("Hinge pin", "hinge_pin_x"),
        ("Motor shaft at snug", "motor_shaft_at_snug_x"),
    ):
        (note,) = (one for one in drawing.notes if one.startswith(f"{name}:"))
        across = -facts[key] if mirrored else facts[key]
        found = re.findall(r"\b(left|right)\b", note)
        assert found == (["left" if across < 0 else "right"] if abs(across) > 1e-4 else [])
    if mirrored:
        assert drawing.notes[0] == "A mirrored copy: right and left are those of this picture."


def test_mirrored_twice_the_notes_say_the_first_sides_again(cider):
    drawing = assembly(Build(read_scenario(cider)))
    again = drawing.mirrored().mirrored()
    assert again.notes[2:] == drawing.notes


@pytest.mark.parametrize("draw", [plate_template, base_template])
@pytest.mark.parametrize("mirrored", [False, True])
def test_screws_are_where_the_list_says(scenario_file, draw, mirrored):
    scenario = read_scenario(str(scenario_file))
    drawing = draw(Build(scenario))
    hole = 0.5 * board_sizes(Build(scenario)).pilot
    if draw is plate_template and scenario.parts.hinges.into_plate == "through":
        # A bolt's hole is a millimetre wider than it (all such scenarios are metric).
        hole = 0.5 * (scenario.parts.hinges.screw.diameter + 1e-3)
    side = "right" if mirrored else "left"
    if mirrored:
        drawing = drawing.mirrored()
    (note,) = (one for one in drawing.notes if one.startswith("Screw centres"))
    assert f"from the {side} datum edge" in note
    listed = [
        (across, lengths(row, scenario.display)[0])
        for numbers, row in re.findall(r"([0-9., /]+) \(([0-9./ ]+) (?:in|mm) from", note)
        for across in lengths(numbers, scenario.display)
    ]
    hand = -1 if mirrored else 1
    drawn = [
        (hand * item.centre[0], item.centre[1])
        for item in drilled(drawing)
        if item.radius == pytest.approx(hole)
    ]
    meet(listed, drawn, scenario.display)


@pytest.mark.parametrize("mirrored", [False, True])
def test_fixing_holes_are_where_the_list_says(scenario_file, mirrored):
    scenario = read_scenario(str(scenario_file))
    drawing = guard_panel(Build(scenario))
    if mirrored:
        drawing = drawing.mirrored()
    (note,) = (one for one in drawing.notes if one.startswith("Fixing holes, in"))
    assert f"from the {'right' if mirrored else 'left'} and" in note
    pairs = note.rstrip(".").split(": ")[1].split("; ")
    hand = -1 if mirrored else 1
    drawn = [(hand * item.centre[0], item.centre[1]) for item in drilled(drawing)]
    meet([tuple(lengths(pair, scenario.display)) for pair in pairs], drawn, scenario.display)


def drilled(drawing):
    return [
        item for item in drawing.items if isinstance(item, Circle) and item.layer is Layer.DRILL
    ]


def lengths(listed, display):
    """Lengths of a text such as "1 5/32, 27/32" [m]."""
    unit = 0.0254 if display is Display.INCH else 1e-3
    return [unit * float(sum(Fraction(part) for part in one.split())) for one in listed.split(",")]


def meet(listed, drawn, display):
    """Both are the same points, within what a rule shows."""
    finest = 0.0254 / 64 if display is Display.INCH else 0.05e-3
    assert len(listed) == len(drawn)
    for x, y in drawn:
        assert any(max(abs(x - a), abs(y - b)) < finest + 1e-9 for a, b in listed)
