"""Texts of the views against everything that is drawn in them, as it is taken apart for paper."""

import itertools
import math

import pytest
import shapely

from mountcalc.drafting.annotations import plain_strokes, text_boxes
from mountcalc.drafting.items import Arc, Circle, Label, Layer, Leader, Line, Path
from mountcalc.drafting.names.callouts import callouts

SOLID = {Layer.CUT, Layer.VISIBLE, Layer.DIMENSION, Layer.NOTE}
NOTHING = 1e-4  # [m] on paper


def drawn(stroke):
    match stroke:
        case Line():
            return shapely.LineString([stroke.start, stroke.end])
        case Path():
            return shapely.LineString([*stroke.points, *(stroke.points[:1] * stroke.closed)])
        case Circle():
            return shapely.Point(stroke.centre).buffer(stroke.radius, quad_segs=64).exterior
        case Arc():
            turn = (stroke.end - stroke.start) % math.tau or math.tau
            angles = [stroke.start + turn * step / 128 for step in range(129)]
            x, y = stroke.centre
            return shapely.LineString(
                [
                    (x + stroke.radius * math.cos(at), y + stroke.radius * math.sin(at))
                    for at in angles
                ]
            )


def crossed(items, scale):
    """Each text with each solid straight or round line that runs through its rectangle."""
    strokes = list(plain_strokes(items, scale))
    lines = [one for one in strokes if not isinstance(one, Label) and one.layer in SOLID]
    # Arrows lie on the lines that they end; what crosses them crosses those.
    lines = [one for one in lines if not (isinstance(one, Path) and one.layer is Layer.DIMENSION)]
    for label in (one for one in strokes if isinstance(one, Label)):
        box = shapely.box(*text_boxes([label], scale)[0])
        for line in lines:
            if box.intersection(drawn(line)).length > NOTHING * scale:
                yield label, line


@pytest.mark.parametrize("mirrored", [False, True])
def test_what_crosses_a_solid_line_has_a_ground_and_names_keep_clear(
    scenario_file, views, mirrored
):
    for view in views(scenario_file).values():
        drawing = view.mirrored() if mirrored else view
        names = {one.text for one in drawing.items if isinstance(one, Leader)}
        assert names
        found = list(crossed(drawing.items, drawing.scale))
        assert all(label.ground for label, _ in found), found
        # Where a sheet has no room left, a name stands on its ground across a line.
        assert len({label.text for label, _ in found} & names) <= 1, found


@pytest.mark.parametrize("mirrored", [False, True])
def test_no_text_meets_another(scenario_file, views, mirrored):
    for view in views(scenario_file).values():
        drawing = view.mirrored() if mirrored else view
        boxes = [shapely.box(*one) for one in text_boxes(drawing.items, drawing.scale)]
        for one, other in itertools.combinations(boxes, 2):
            assert one.intersection(other).area < 1e-9


def test_the_crossing_of_a_line_is_seen_by_these_tests():
    wall = Line((0.01, -0.1), (0.01, 0.1), Layer.VISIBLE)
    across = Leader((0.0, 0.0), (0.002, 0.0), "a name across a wall")
    assert [line for _, line in crossed([wall, across], 1.0)] == [wall]


def test_a_name_goes_round_solid_lines_first():
    walls = [Line((x, -0.1), (x, 0.1), Layer.VISIBLE) for x in (-0.02, 0.02)]
    walls += [Line((-0.08, y), (0.08, y), Layer.VISIBLE) for y in (-0.1, 0.1)]
    found = callouts([(((0.0, 0.0),), "longer than the room")], walls, 1.0)
    assert not list(crossed([*walls, *found], 1.0))
