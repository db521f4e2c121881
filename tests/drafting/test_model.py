"""Drawings as data: what they span, moved and turned over."""

import math
from dataclasses import replace

import numpy as np
import pytest

from mountcalc.drafting.annotations import (
    extremes,
    feet,
    label_of,
    readable,
    strokes_of,
    text_width,
)
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Arc,
    Circle,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Path,
)

HALF = math.sqrt(0.5)
ITEMS = (
    Line((0.1, 0.2), (-0.3, 0.4), Layer.CUT),
    Circle((0.1, 0.1), 0.05, Layer.DRILL),
    Arc((0.2, -0.1), 0.3, 0.2, 1.9, Layer.CUT),
    Path(((0, 0), (0.2, 0), (0.1, 0.3)), closed=True, layer=Layer.MARK),
    Label((0.3, 0.4), "bolt", 0.004, Layer.NOTE, "right", 0.3),
    Offset((0, 0), (0.2, 0.1), 0.02, "223.6 mm"),
    Offset((0, 0), (0.2, 0.1), -0.03, "100 mm", direction=math.pi / 2),
    Leader((0, 0), (0.1, 0.05), "the hinge"),
)


def drawing(*items, scale=1.0):
    return Drawing("plate", "Plate", "from above", items, scale=scale)


def close(found, wanted):
    np.testing.assert_allclose(found, wanted, rtol=0, atol=1e-12)


@pytest.mark.parametrize(
    ("item", "bounds"),
    [
        (Line((1, 2), (-3, 4), Layer.CUT), (-3, 2, 1, 4)),
        (Circle((1, 1), 0.5, Layer.DRILL), (0.5, 0.5, 1.5, 1.5)),
        (Path(((0, 0), (2, 0), (1, 3)), closed=True, layer=Layer.CUT), (0, 0, 2, 3)),
        (Arc((0, 0), 1, math.pi / 4, 3 * math.pi / 4, Layer.CUT), (-HALF, HALF, HALF, 1)),
        (Arc((0, 0), 2, math.pi, math.tau, Layer.CUT), (-2, -2, 2, 0)),
        (Arc((0, 0), 1, 0.1, math.tau, Layer.CUT), (-1, -1, 1, 1)),
        (
            Arc((0, 0), 1, -0.1 - 4 * math.pi, 0.1, Layer.CUT),
            (math.cos(0.1), -math.sin(0.1), 1, math.sin(0.1)),
        ),
    ],
)
def test_bounds(item, bounds):
    close(drawing(item).bounds(), bounds)


@pytest.mark.parametrize("scale", [1, 5])
@pytest.mark.parametrize(("align", "before"), [("left", 0.0), ("centre", 0.5), ("right", 1.0)])
def test_texts_take_room_where_they_stand_and_more_where_it_is_reduced(align, before, scale):
    text = Label((1, 2), "snug", 0.003, Layer.NOTE, align)
    left, bottom, right, top = drawing(text, scale=scale).bounds()
    width = text_width("snug", 0.003) * scale
    close((left, right), (1 - before * width, 1 - before * width + width))
    close(top, 2 + 0.003 * scale)
    assert bottom < 2


def test_no_drawing_of_nothing():
    with pytest.raises(ValueError, match="nothing is drawn"):
        drawing().bounds()


def test_moved_there_and_back():
    once = drawing(*ITEMS)
    left, bottom, right, top = once.bounds()
    there = once.moved((0.5, -0.25))
    close(there.bounds(), (left + 0.5, bottom - 0.25, right + 0.5, top - 0.25))
    back = there.moved((-0.5, 0.25))
    close(back.bounds(), once.bounds())


@pytest.mark.parametrize("item", ITEMS, ids=lambda item: type(item).__name__)
def test_mirrored_points_are_the_mirror_images(item):
    """All that an item spans lies where its mirror image does, texts included."""
    left, bottom, right, top = drawing(item).bounds()
    after = drawing(item).mirrored().bounds()
    # A text keeps its base line below it, and stands above its dimension line, also mirrored.
    tolerance = 2 * TEXT_HEIGHT if isinstance(item, Label | Offset) else 1e-12
    assert after == pytest.approx((-right, bottom, -left, top), abs=tolerance)


def test_mirrored_is_named_and_twice_is_the_same():
    once = drawing(*ITEMS).mirrored()
    assert once.title == "Plate, mirrored"
    assert once.view == "from above, mirrored left for right"
    assert once.notes[0].startswith("A mirrored copy: right and left")
    close(once.mirrored().bounds(), drawing(*ITEMS).bounds())
    for item, other in zip(once.mirrored().items, ITEMS, strict=True):
        assert type(item) is type(other)
        close(list(extremes(item, 1.0)), list(extremes(other, 1.0)))


def test_an_arc_is_passed_counter_clockwise_when_mirrored_too():
    first = Arc((0, 0), 1, 0.0, 0.5, Layer.CUT)
    (turned,) = drawing(first).mirrored().items
    close((turned.start, turned.end), (math.pi - 0.5, math.pi))


def test_a_dimension_stands_to_the_left_of_what_is_measured():
    aligned = feet(Offset((0, 0), (3, 4), 0.5, "5"))
    close(aligned.start, (-0.4, 0.3))
    close(aligned.end, (2.6, 4.3))
    across = feet(Offset((0, 0), (3, 4), 0.5, "3", direction=0.0))
    close((across.start, across.end), ((0, 0.5), (3, 0.5)))
    upright = feet(Offset((0, 0), (3, 4), 0.5, "4", direction=math.pi / 2))
    close((upright.start, upright.end), ((-0.5, 0), (-0.5, 4)))


@pytest.mark.parametrize(
    ("direction", "angle"),
    [
        (0, 0),
        (math.pi, 0),
        (math.pi / 2, math.pi / 2),
        (-math.pi / 2, math.pi / 2),
        (2.0, 2.0 - math.pi),
        (-2.0, math.pi - 2.0),
        (1.5, 1.5),
    ],
)
def test_texts_are_read_from_below_or_from_the_right(direction, angle):
    close(readable(direction), angle)


@pytest.mark.parametrize("length", [0.004, 0.05])
@pytest.mark.parametrize("back", [False, True])
def test_arrows_touch_the_ends_and_stand_outside_a_short_dimension(length, back):
    end = (-length if back else length, 0.0)
    offset = Offset((0, 0), end, 0.01, "x", direction=0.0)
    arrows = [line for line in strokes_of(offset, 1.0) if isinstance(line, Path)]
    assert sorted(arrow.points[1] for arrow in arrows) == sorted([(0.0, 0.01), (end[0], 0.01)])
    low, high = sorted((0.0, end[0]))
    barbs = [point[0] for arrow in arrows for point in (arrow.points[0], arrow.points[2])]
    within = [low < barb < high for barb in barbs]
    assert within == [length > 0.01] * 4


def test_text_of_a_dimension_is_over_the_middle_of_its_line():
    label = label_of(Offset((0, 0), (0.1, 0), 0.02, "100 mm"), 2.0)
    assert label.at[0] == pytest.approx(0.05)
    assert label.at[1] == pytest.approx(0.022)
    assert (label.align, label.height) == ("centre", TEXT_HEIGHT)


@pytest.mark.parametrize(("to", "align"), [((0.1, 0.1), "left"), ((-0.1, 0.1), "right")])
def test_text_of_a_leader_goes_on_where_its_line_ends(to, align):
    label = label_of(Leader((0, 0), to, "pin"), 1.0)
    assert label.align == align
    assert abs(label.at[0]) == pytest.approx(0.101)
    assert label.at[1] + TEXT_HEIGHT / 2 == pytest.approx(0.1)


@pytest.mark.parametrize("turn", [0.0, 1.0, math.pi / 2, 2.5, math.pi, 4.0])
def test_text_of_a_short_dimension_stands_clear_of_its_extension_lines(turn):
    end = (0.005 * math.cos(turn), 0.005 * math.sin(turn))
    label = label_of(Offset((0, 0), end, 0.01, "13/64 in"), 1.0)
    corners = [
        x * math.cos(turn) + y * math.sin(turn) for x, y in extremes(label, 1.0)
    ]  # along the measured direction
    assert min(corners) > 0.005 + 0.006
    assert math.cos(label.angle) > -1e-9


def test_words_that_name_a_side_are_those_of_the_mirrored_picture():
    sided = replace(
        drawing(*ITEMS),
        view="pulley on the left",
        notes=("from the left edge", "kept"),
        other_hand={
            "pulley on the left": "pulley on the right",
            "from the left edge": "from the right edge",
        },
    )
    once = sided.mirrored()
    assert once.view == "pulley on the right"
    assert once.notes[1:] == ("from the right edge", "kept")
    assert once.mirrored().view == sided.view
