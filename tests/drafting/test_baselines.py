"""Dimensions from one datum: what they say, in which order they stand, that no two texts meet."""

import itertools
import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizes import examples

from mountcalc.drafting.annotations import feet, text_boxes
from mountcalc.drafting.dimensions import LINE_PITCH, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Circle, Label, Layer
from mountcalc.drafting.names.callouts import callouts
from mountcalc.scenario.text.writing import Display

REDUCTION = 5.0
PITCH = LINE_PITCH * REDUCTION
spots = st.floats(-1.0, 1.0).map(lambda value: round(value, 4))
points = st.lists(st.tuples(spots, spots), max_size=7)


def baseline(run=Run.ACROSS, datum=(0.1, 0.2), first=-0.3, away=-1, display=Display.METRIC):
    return Baseline(run, datum, first, away, REDUCTION, display)


def said(items):
    return [item.text for item in items]


def meets(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def length(text):
    """A text on the bench as metres."""
    number, unit = text.rsplit(" ", 1)
    return float(sum(map(Fraction, number.split()))) * {"in": 0.0254, "mm": 1e-3}[unit]


def test_distances_are_told_from_the_datum_the_nearest_first():
    found = baselines(baseline(), [(0.9, 0.0), (0.4, 0.1), (-0.1, 0.4)])
    assert said(found) == ["200.0 mm", "300.0 mm", "800.0 mm"]
    lines = [(feet(one).start, feet(one).end) for one in found]
    # 0.2 m to the left and 0.3 m to the right fit side by side on the first line.
    assert lines[0] == (pytest.approx((-0.1, -0.3)), pytest.approx((0.1, -0.3)))
    assert lines[1] == (pytest.approx((0.4, -0.3)), pytest.approx((0.1, -0.3)))
    assert lines[2] == (pytest.approx((0.9, -0.3 - PITCH)), pytest.approx((0.1, -0.3 - PITCH)))


def test_heights_are_measured_upward_on_lines_to_the_right():
    found = baselines(
        baseline(Run.UP, first=0.7, away=1, display=Display.INCH),
        [(0.0, 0.2 + 20 * 0.0254), (0.3, 0.2 + 30.5 * 0.0254)],
    )
    assert said(found) == ["20 in", "30 1/2 in"]
    for level, one in enumerate(found):
        assert feet(one).end == pytest.approx((0.7 + level * PITCH, 0.2))
        assert feet(one).start == pytest.approx((0.7 + level * PITCH, one.start[1]))
        assert feet(one).direction == math.pi / 2


def test_what_is_on_the_datum_or_as_far_as_another_is_left_out():
    assert not baselines(baseline(), [(0.1, 0.7), (0.10005, 0.1)])
    assert len(baselines(baseline(), [(0.5, 0.7), (0.50005, 0.1), (0.5, 0.3)])) == 1
    # The same distance to the other side is another dimension.
    assert len(baselines(baseline(), [(0.5, 0.7), (-0.3, 0.1)])) == 2


def test_a_text_wider_than_its_dimension_stands_on_the_other_side_of_the_datum():
    ((_, _, right, _),) = text_boxes(baselines(baseline(), [(0.11, 0.0)]), REDUCTION)
    assert right < 0.1
    ((left, _, _, _),) = text_boxes(baselines(baseline(), [(0.09, 0.0)]), REDUCTION)
    assert left > 0.1


@given(points, st.sampled_from(Run), st.sampled_from(Display), st.sampled_from((-1, 1)))
def test_all_points_are_told_right_and_no_two_texts_meet(places, run, display, away):
    datum = (0.1, 0.2)
    found = baselines(baseline(run, datum, 2.0 * away, away, display), places)
    axis = run.value
    wanted = sorted(
        {round(place[axis] - datum[axis], 4) for place in places}, key=lambda one: (abs(one), one)
    )
    told = [length(text) for text in said(found)]
    exact = [abs(feet(one).end[axis] - feet(one).start[axis]) for one in found]
    assert told == pytest.approx(exact, abs=0.0254 / 64 + 1e-9)
    assert all(any(abs(abs(one) - other) < 1e-9 for one in wanted) for other in exact)
    near = [one for one in wanted if abs(one) > 2e-4]
    assert all(any(abs(abs(one) - other) < 2e-4 for other in exact) for one in near)
    boxes = text_boxes(found, REDUCTION)
    assert not any(meets(*pair) for pair in itertools.combinations(boxes, 2))
    turned = Drawing("", "", "", found, scale=REDUCTION).mirrored().items
    boxes = text_boxes(turned, REDUCTION)
    assert not any(meets(*pair) for pair in itertools.combinations(boxes, 2))


@settings(deadline=None, max_examples=examples(20, 5))
@given(st.lists(st.tuples(spots, spots), max_size=4), st.sampled_from([1.0, 5.0, 20.0]))
def test_names_meet_no_other_text_even_if_they_point_at_one_place(places, scale):
    drawn = [Circle((0.1, 0.1), 0.2, Layer.MARK), Label((0.0, 0.0), "a text that is there")]
    wishes = [((place,), f"part {number}") for number, place in enumerate([*places, *places])]
    found = callouts(wishes, drawn, scale)
    assert [((one.at,), one.text) for one in found] == wishes
    for items in ([*drawn, *found], Drawing("", "", "", (*drawn, *found)).mirrored().items):
        boxes = text_boxes(items, scale)
        assert not any(meets(*pair) for pair in itertools.combinations(boxes, 2))


def test_a_name_keeps_off_lines_where_there_is_room():
    circle = Circle((0.0, 0.0), 0.05, Layer.MARK)
    (leader,) = callouts([(((0.05, 0.0),), "rim")], [circle], 1.0)
    ((left, bottom, right, top),) = text_boxes([leader], 1.0)
    around = [
        (0.05 * math.cos(at), 0.05 * math.sin(at))
        for at in (k * math.tau / 720 for k in range(720))
    ]
    assert not any(left < x < right and bottom < y < top for x, y in around)
