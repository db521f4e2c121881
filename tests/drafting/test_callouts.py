"""Names and their leaders: in all views that ship, and among anything that may be drawn."""

import itertools
import math

import pytest
import shapely
import shapely.ops
from hypothesis import given, settings
from hypothesis import strategies as st
from sizes import examples

from mountcalc.drafting.annotations import label_of, text_boxes
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Circle, Label, Layer, Leader, Line, Path
from mountcalc.drafting.names.callouts import callouts

LONGEST = 0.045  # [m] on paper that the eye still follows (our own judgement)


def boxes_of(items, scale):
    return [shapely.box(*one) for one in text_boxes(items, scale)]


def leaders_of(items):
    return [one for one in items if isinstance(one, Leader)]


def line(leader):
    return shapely.LineString([leader.at, leader.to])


def crossed_leaders(items):
    pairs = itertools.combinations(leaders_of(items), 2)
    return [
        (one.text, other.text)
        for one, other in pairs
        if line(one).crosses(line(other)) or line(one).overlaps(line(other))
    ]


def crossed_texts(items, scale):
    """Leaders with texts of others that they run through."""
    texts = [one for one in items if text_boxes([one], scale)]
    boxes = boxes_of(texts, scale)
    return [
        (leader.text, getattr(other, "text", ""))
        for leader in leaders_of(items)
        for other, box in zip(texts, boxes, strict=True)
        if other is not leader and line(leader).crosses(box)
    ]


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("name", ["assembly", "along-shafts"])
def test_leaders_are_short_and_cross_neither_each_other_nor_texts(
    scenario_file, views, name, mirrored
):
    view = views(scenario_file)[name]
    drawing = view.mirrored() if mirrored else view
    found = leaders_of(drawing.items)
    assert found
    lengths = {one.text: line(one).length / drawing.scale for one in found}
    assert max(lengths.values()) <= LONGEST, lengths
    assert not crossed_leaders(drawing.items)
    assert not crossed_texts(drawing.items, drawing.scale)


def solid_crossings(drawing):
    """How often a leader meets a solid line beyond a millimetre on paper from its tip."""
    count = 0
    solid = [
        one
        for one in drawing.items
        if isinstance(one, Line | Path | Circle) and one.layer is Layer.VISIBLE
    ]
    for leader in leaders_of(drawing.items):
        whole = line(leader)
        past = shapely.ops.substring(whole, 0.001 * drawing.scale, whole.length)
        for item in solid:
            met = past.intersection(shape(item))
            count += len(getattr(met, "geoms", [met])) if not met.is_empty else 0
    return count


def shape(item):
    match item:
        case Line():
            return shapely.LineString([item.start, item.end])
        case Path():
            return shapely.LineString([*item.points, *(item.points[:1] * item.closed)])
        case Circle():
            return shapely.Point(item.centre).buffer(item.radius, quad_segs=64).exterior


def test_leaders_run_across_few_solid_lines(scenario_file, views):
    # One for every other name is what the most crowded of them needs (our own judgement).
    drawing = views(scenario_file)["assembly"]
    assert 2 * solid_crossings(drawing) <= len(leaders_of(drawing.items))


points = st.tuples(st.floats(-0.1, 0.1), st.floats(-0.08, 0.08))
words = st.text("abcdefgh ", min_size=1, max_size=24).filter(str.strip)
wishes = st.lists(st.tuples(st.lists(points, min_size=1, max_size=4).map(tuple), words), max_size=9)
obstacles = st.lists(
    st.one_of(
        st.builds(Line, points, points, st.sampled_from([Layer.VISIBLE, Layer.CENTRE, Layer.EDGE])),
        st.builds(Circle, points, st.floats(0.002, 0.05), st.just(Layer.VISIBLE)),
        st.builds(Label, points, words),
    ),
    max_size=12,
)
scales = st.sampled_from([1.0, 2.0, 10.0])


def scaled(wanted, items, scale):
    """What is on paper, as the thing that is drawn at a reduction."""

    def large(point):
        return point[0] * scale, point[1] * scale

    grown = []
    for item in items:
        match item:
            case Line():
                grown.append(Line(large(item.start), large(item.end), item.layer))
            case Circle():
                grown.append(Circle(large(item.centre), item.radius * scale, item.layer))
            case Label():
                grown.append(Label(large(item.at), item.text))
    return [(tuple(map(large, at)), text) for at, text in wanted], grown


@settings(deadline=None, max_examples=examples(60, 5))
@given(wishes, obstacles, scales, st.booleans())
def test_names_keep_clear_of_all_texts_whatever_is_drawn(wanted, items, scale, is_in_room):
    wanted, items = scaled(wanted, items, scale)
    room = (-0.12 * scale, -0.1 * scale, 0.12 * scale, 0.1 * scale) if is_in_room else None
    found = callouts(wanted, items, scale, room)
    assert [one.text for one in found] == [text for _, text in wanted]
    for leader, (at, _) in zip(found, wanted, strict=True):
        assert leader.at in at
    names = boxes_of(found, scale)
    for one, other in itertools.combinations(names, 2):
        assert one.intersection(other).area < 1e-12
    for one, other in itertools.product(names, boxes_of(items, scale)):
        assert one.intersection(other).area < 1e-12
    assert callouts(wanted, items, scale, room) == found


@settings(deadline=None, max_examples=examples(40, 5))
@given(wishes, obstacles)
def test_a_mirrored_copy_keeps_clear_too(wanted, items):
    found = callouts(wanted, items, 1.0)
    over = Drawing("", "", "", (*items, *found)).mirrored().items if items or found else ()
    boxes = boxes_of(over, 1.0)[len(boxes_of(items, 1.0)) :]
    for one, other in itertools.combinations(boxes, 2):
        assert one.intersection(other).area < 1e-12


@settings(deadline=None, max_examples=examples(40, 5))
@given(st.lists(st.tuples(points.map(lambda at: (at,)), words), min_size=1, max_size=4))
def test_few_names_stay_near_what_they_name_and_inside_the_view(wanted):
    frame = Path(((-0.25, -0.2), (0.25, -0.2), (0.25, 0.2), (-0.25, 0.2)), True, Layer.CENTRE)  # noqa: FBT003
    found = callouts(wanted, [frame], 1.0)
    assert all(line(one).length <= LONGEST for one in found)
    around = shapely.box(-0.25, -0.2, 0.25, 0.2)
    assert all(around.contains(box) for box in boxes_of(found, 1.0))


def test_names_go_elsewhere_rather_than_let_leaders_cross():
    # Both would stand on the other's side of a wall of text if each took the nearest place.
    wanted = [
        (((0.0, 0.0),), "one name"),
        (((0.003, 0.0),), "another"),
        (((0.0, 0.003),), "a third"),
    ]
    found = callouts(wanted, [], 1.0)
    assert not crossed_leaders(found)
    assert not crossed_texts(found, 1.0)


def test_a_name_at_true_scale_stays_in_its_room():
    wanted = [(((0.099, 0.05),), "slot for a long name")]
    (found,) = callouts(wanted, [], 1.0, (0.0, 0.0, 0.1, 0.1))
    label = label_of(found, 1.0)
    assert label.align == "right"
    assert shapely.box(0, 0, 0.1, 0.1).contains(boxes_of([found], 1.0)[0])


def test_names_beside_each_other_point_at_different_places():
    bar = Line((0.0, 0.0), (0.06, 0.0), Layer.EDGE)
    along = tuple((0.005 * step, 0.0) for step in range(13))
    found = callouts([(along, "one part"), (along, "the other part")], [bar], 1.0)
    assert abs(found[0].at[0] - found[1].at[0]) >= 0.004


def test_the_last_bit_of_a_place_moves_no_name():
    """What other arithmetic, or another processor, makes of the same parts."""

    def named(turn):
        # As good on one side as on the other: any sum's rounding could decide.
        spots = [
            (0.03 * math.cos(math.tau * part / 8 + turn), 0.03 * math.sin(math.tau * part / 8))
            for part in range(8)
        ]
        rims = [Circle(spot, 0.0071, Layer.VISIBLE) for spot in spots]
        wishes = [((spot,), f"part number {number}") for number, spot in enumerate(spots)]
        return callouts(wishes, rims, 1.0)

    ends = [[one.to for one in named(bits * 1e-15)] for bits in range(4)]
    for other in ends[1:]:
        for end, first in zip(other, ends[0], strict=True):
            assert end == pytest.approx(first, abs=1e-9)
