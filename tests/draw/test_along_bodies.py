"""What is seen of bodies: the same edges as shapely's overlay, none twice, none in a break."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from sizes import examples

from mountcalc.drafting.dimensions import Break, HeightScale
from mountcalc.drafting.items import Layer, Path
from mountcalc.draw.along.parts import Body, seen

GRID = st.integers(0, 12).map(lambda number: 0.01 * number)
SPANS = st.tuples(GRID, GRID).filter(lambda ends: ends[0] != ends[1])
BODIES = st.lists(st.builds(Body, SPANS, SPANS), max_size=4)
CUT = st.lists(st.builds(Body, SPANS, SPANS), min_size=1, max_size=4)


def lines(items, layer):
    """All strokes of an ink, as one geometry."""
    found = []
    for item in items:
        assert isinstance(item, Path)
        if item.layer is layer:
            points = [*item.points, item.points[0]] if item.closed else item.points
            found.append(shapely.LineString(points))
    return found


def length(items, layer):
    return sum(one.length for one in lines(items, layer))


def test_a_shaft_stands_before_its_pulley():
    shaft, pulley = Body((-0.1, 0.1), (-0.01, 0.01)), Body((-0.02, 0.02), (-0.05, 0.05))
    items = seen([shaft, pulley], [], HeightScale(), 1.0)
    # The shaft's four edges, and the pulley's without 20 mm of each face.
    assert length(items, Layer.VISIBLE) == pytest.approx(2 * 0.22 + 2 * 0.14 - 2 * 0.02)


def test_of_others_what_a_cut_part_covers_is_thin():
    cut, other = Body((0.0, 0.1), (0.0, 0.1)), Body((0.05, 0.15), (0.02, 0.04))
    items = seen([cut], [other], HeightScale(), 1.0)
    assert length(items, Layer.VISIBLE) == pytest.approx(0.4 + 2 * 0.05 + 0.02)
    assert length(items, Layer.EDGE) == pytest.approx(2 * 0.05 + 0.02, rel=1e-5)


def test_a_broken_end_has_a_break_line_and_no_edge():
    (open_at,) = (0.1,)
    items = seen([Body((0.0, open_at), (0.0, 0.04), broken=(open_at,))], [], HeightScale(), 1.0)
    assert length(items, Layer.VISIBLE) == pytest.approx(0.1 + 0.1 + 0.04)
    (zigzag,) = lines(items, Layer.NOTE)
    assert zigzag.coords[0] == (open_at, 0.0)
    assert zigzag.coords[-1] == (open_at, 0.04)
    assert zigzag.length > 0.04


@settings(max_examples=examples(100))
@given(CUT, BODIES)
def test_no_stroke_is_drawn_twice_and_none_is_lost(cut, others):
    items = seen(cut, others, HeightScale(), 1.0)
    strokes = [*lines(items, Layer.VISIBLE), *lines(items, Layer.EDGE)]
    drawn = shapely.union_all(strokes) if strokes else shapely.Polygon()
    # Where strokes lay over one another, their sum would be longer than their union.
    twice = sum(one.length for one in strokes)
    assert twice == pytest.approx(drawn.length, abs=1e-4)
    # The outside of all bodies is seen whole, whatever stands before what.
    everything = shapely.union_all([body.shape for body in (*cut, *others)])
    assert everything.boundary.difference(drawn.buffer(1e-6)).length < 1e-6
    assert drawn.difference(everything.buffer(1e-6)).length < 1e-6


@settings(max_examples=examples(100))
@given(CUT, BODIES)
def test_nothing_is_drawn_in_a_break(cut, others):
    scale = HeightScale((Break(0.033, 0.077, 0.01),))
    items = seen(cut, others, scale, 1.0)
    inside = shapely.box(-1.0, 0.067 + 1e-9, 1.0, 0.077 - 1e-9)
    for one in (*lines(items, Layer.VISIBLE), *lines(items, Layer.EDGE)):
        assert not one.intersects(inside)
