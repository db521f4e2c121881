"""What notes say of left and right is so in the picture beside them, mirrored or not."""

import re

import pytest

from mountcalc.drawing.assembly import assembly
from mountcalc.scenario.reader import read_scenario


@pytest.mark.parametrize("mirrored", [False, True])
def test_points_of_the_assembly_are_on_the_side_that_is_said(scenario_file, mirrored):
    drawing = assembly(read_scenario(str(scenario_file)))
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
    drawing = assembly(read_scenario(str(cider)))
    again = drawing.mirrored().mirrored()
    assert again.notes[2:] == drawing.notes
