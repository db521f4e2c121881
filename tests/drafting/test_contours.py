"""Loose lines and arcs joined: one closed contour of the same area and length in any order."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from ezdxf.math import bulge_to_arc
from hypothesis import assume, given
from hypothesis import strategies as st

from mountcalc.drafting.formats.contours import Contour, joined
from mountcalc.drafting.items import Arc, Circle, Label, Layer, Line, Path, along, sweep
from mountcalc.draw.guard.shape import Disc, disc_family, hull

SAMPLES = 400  # of an arc; its area is short by 1e-5 of that of its circle
CORNERS = ((0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2))


def box(corners=CORNERS, layer=Layer.CUT):
    return [Line(start, end, layer) for start, end in pairwise((*corners, corners[0]))]


def arc_between(start, end, turn, layer=Layer.CUT):
    """The arc that turns so far on its way; the library's own arithmetic."""
    centre, first, last, radius = bulge_to_arc(start, end, math.tan(turn / 4))
    return Arc(tuple(centre), radius, first, last, layer)


def sampled(start, end, turn):
    """Points along a leg, without its end."""
    if not turn:
        return [start]
    arc = arc_between(start, end, turn)
    angles = np.linspace(arc.start, arc.start + sweep(arc), SAMPLES)
    points = [along(arc.centre, angle, arc.radius) for angle in angles]
    return points[:-1] if turn > 0 else points[:0:-1]


@st.composite
def outlines(draw):
    """Corners around a middle, and how far the outline turns between them; any shape of arcs."""
    count = draw(st.integers(2, 9))
    lengths = st.floats(0.02, 0.5)
    corners = [
        along((0.1, -0.2), math.tau * number / count, draw(lengths)) for number in range(count)
    ]
    turns = [
        draw(st.one_of(st.just(0.0), st.floats(0.05, 5.5), st.floats(-5.5, -0.05)))
        for _ in range(count)
    ]
    return corners, turns


def pieces_of(corners, turns, layer=Layer.CUT):
    return [
        arc_between(start, end, turn, layer) if turn else Line(start, end, layer)
        for (start, end), turn in zip(pairwise((*corners, corners[0])), turns, strict=True)
    ]


def length_of(contour):
    ends = [leg.start for leg in contour.legs]
    return sum(
        abs(leg.turn) * leg.radius if leg.turn else math.dist(start, end)
        for leg, (start, end) in zip(contour.legs, pairwise((*ends, ends[0])), strict=True)
    )


@given(outlines(), st.data())
def test_any_closed_outline_is_found_whatever_the_order_and_directions(outline, data):
    corners, turns = outline
    pieces = pieces_of(corners, turns)
    points = [
        point
        for (start, end), turn in zip(pairwise((*corners, corners[0])), turns, strict=True)
        for point in sampled(start, end, turn)
    ]
    across, up = np.transpose(points)
    area = abs(float(np.dot(across, np.roll(up, -1)) - np.dot(up, np.roll(across, -1)))) / 2
    circles = sum(math.pi * one.radius**2 for one in pieces if isinstance(one, Arc))
    assume(area > 1e-3 * (0.01 + circles))
    shuffled = data.draw(st.permutations(pieces))
    loose = [
        Line(one.end, one.start, one.layer)
        if isinstance(one, Line) and data.draw(st.booleans())
        else one
        for one in shuffled
    ]
    (contour,) = joined(loose)
    assert isinstance(contour, Contour)
    assert len(contour.legs) == len(pieces)
    assert contour.area == pytest.approx(area, abs=1e-4 * (area + circles))
    assert length_of(contour) == pytest.approx(
        sum(
            math.dist(one.start, one.end) if isinstance(one, Line) else one.radius * sweep(one)
            for one in pieces
        )
    )
    finer = contour.in_pieces(math.pi / 2)
    assert max(abs(leg.turn) for leg in finer.legs) <= math.pi / 2 + 1e-9
    assert finer.area == pytest.approx(contour.area, rel=1e-6, abs=1e-9)
    assert length_of(finer) == pytest.approx(length_of(contour))


def test_a_box_is_a_contour_from_its_first_line_on():
    (contour,) = joined(box())
    assert [leg.start for leg in contour.legs] == list(CORNERS)
    assert contour.area == pytest.approx(0.06)
    assert contour.layer is Layer.CUT


def test_contours_run_counter_clockwise():
    (contour,) = joined(box(CORNERS[::-1]))
    assert contour.area == pytest.approx(0.06)
    ring = shapely.LinearRing([leg.start for leg in contour.legs])
    assert ring.is_ccw


def test_two_half_circles_are_a_contour():
    halves = [
        Arc((0, 0), 0.05, 0.0, math.pi, Layer.CUT),
        Arc((0, 0), 0.05, math.pi, math.tau, Layer.CUT),
    ]
    (contour,) = joined(halves)
    assert contour.area == pytest.approx(math.pi * 0.05**2)
    assert [leg.bulge for leg in contour.legs] == pytest.approx([1.0, 1.0])


def test_several_outlines_are_several_contours_and_all_else_is_left_in_order():
    away = [(x + 1.0, y) for x, y in CORNERS]
    hole, text = Circle((0.1, 0.1), 0.01, Layer.CUT), Label((0.0, 0.0), "text")
    one, two = box(), box(away)
    mixed = [text, *(line for pair in zip(one, two, strict=True) for line in pair), hole]
    first, second, third, fourth = joined(mixed)
    assert (first, fourth) == (text, hole)
    assert second.legs[0].start == CORNERS[0]
    assert third.legs[0].start == away[0]


@pytest.mark.parametrize(
    "strokes",
    [
        box()[:3],
        [*box(), Line((0.3, 0.2), (0.4, 0.2), Layer.CUT), Line((0.0, 0.0), (0.3, 0.2), Layer.CUT)],
        [Line((0, 0), (0.3, 0), Layer.CUT), Line((0, 0), (0.3, 0), Layer.CUT)],
        [*box()[:3], Line((0.0, 0.2), (0.0, 1e-6), Layer.CUT)],
        [*box()[:3], Line((0.0, 0.2), (0.0, 0.0), Layer.POCKET)],
        box(layer=Layer.CENTRE),
        box(layer=Layer.NOTE),
        [Path(CORNERS, closed=True, layer=Layer.CUT)],
        [],
    ],
    ids=["open", "joint", "there and back", "gap", "two inks", "centre", "note", "path", "nothing"],
)
def test_what_is_no_outline_is_left_as_it_is(strokes):
    assert joined(strokes) == strokes


def test_ends_that_differ_by_rounding_meet():
    lines = box()
    lines[1] = Line((0.3 + 5e-10, 0.0), (0.3, 0.2), Layer.CUT)
    assert len(joined(lines)) == 1


def test_what_has_no_length_is_left_out():
    point = Line((0.3, 0.0), (0.3 + 1e-12, 0.0), Layer.CUT)
    speck = Arc((0.3, 0.0), 0.1, 1.0, 1.0 + 1e-12, Layer.CUT)
    assert joined([point, speck]) == []
    lines = box()
    (contour,) = joined([lines[0], point, *lines[1:]])
    assert len(contour.legs) == 4


def test_an_arc_all_round_is_a_circle():
    for turn in (math.tau, math.tau - 1e-10):
        whole = Arc((0.0, 0.1), 0.05, 1.0, 1.0 + turn, Layer.CUT)
        assert joined([whole]) == [Circle((0.0, 0.1), 0.05, Layer.CUT)]


def test_strings_round_discs_close_without_false_lines():
    """Discs on an arc and one more, as for a guard; some touch each other from inside."""
    chance = np.random.default_rng(7)

    def place():
        return tuple(map(float, chance.uniform(-0.6, 0.6, 2)))

    for _ in range(400):
        disc = Disc(place(), float(chance.uniform(0.03, 0.4)))
        turns = (-float(chance.uniform(0, 0.5)), float(chance.uniform(0, 0.5)))
        family = disc_family(place(), place(), turns, float(chance.uniform(0.03, 0.3)))
        outline = hull((disc, *family))
        items = outline.items
        lines = [one for one in items if isinstance(one, Line)]
        assert all(math.dist(one.start, one.end) > 1e-6 for one in lines)
        (closed,) = joined(items)
        if isinstance(closed, Contour):
            assert length_of(closed) == pytest.approx(outline.perimeter)
        else:
            assert isinstance(closed, Circle)
