"""The strip laid out straight, and what is told to mark out the panel, against the drawn panel."""

import math
import re
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
import shapely

from mountcalc.drafting.items import Arc, Circle, Label, Layer, Leader, Line
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.guard.shape import Disc, hull
from mountcalc.draw.guard.strip import Cuts, strip_round
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

INCH = 0.0254
FINEST = {Display.INCH: INCH / 64, Display.METRIC: 0.05e-3}


@pytest.fixture
def mill(cider):
    return read_scenario(str(cider))


def with_guard(scenario, **changed):
    parts = scenario.parts
    return replace(scenario, parts=replace(parts, guard=replace(parts.guard, **changed)))


def length(text, display):
    """Such as "14 17/32" or "-369.1" [m]."""
    sign = -1 if text.startswith("-") else 1
    parts = sum(Fraction(part) for part in text.lstrip("-").split())
    return sign * float(parts) * (INCH if display is Display.INCH else 1e-3)


def outline(drawing):
    """Lines and arcs of the outline, in the order in which it is cut."""
    cut = [item for item in drawing.items if getattr(item, "layer", None) is Layer.CUT]
    return [item for item in cut[:-5] if isinstance(item, Line | Arc)]


def at(arc, angle):
    return (
        arc.centre[0] + arc.radius * math.cos(angle),
        arc.centre[1] + arc.radius * math.sin(angle),
    )


def ends(arc):
    return at(arc, arc.start), at(arc, arc.end)


def note_of(drawing, start):
    (note,) = (one for one in drawing.notes if one.startswith(start))
    return note


def test_the_bends_are_along_the_strip_where_an_outline_further_out_has_them(scenario_file):
    """Measured on the outline that the polygon library moves out to the middle of the skin."""
    scenario = read_scenario(str(scenario_file))
    drawing, display = guard_panel(Build(scenario)), scenario.display
    arcs = [item for item in outline(drawing) if isinstance(item, Arc)]
    points = [
        at(arc, angle)
        for arc in arcs
        for angle in np.linspace(arc.start, arc.start + (arc.end - arc.start) % math.tau, 2000)
    ]
    thick = (
        scenario.parts.guard.thickness
        or {Display.INCH: 0.375 * INCH, Display.METRIC: 0.009}[display]
    )
    neutral = thick - min(0.002, 0.3 * thick) / 2
    middle = shapely.Polygon(points).buffer(neutral, quad_segs=2000).exterior
    middle = shapely.LinearRing(list(middle.coords)[:: 1 if middle.is_ccw else -1])
    lines = [item for item in outline(drawing) if isinstance(item, Line)]
    longest = max(lines, key=lambda one: math.dist(one.start, one.end))
    butt = [0.5 * (a + b) for a, b in zip(longest.start, longest.end, strict=True)]
    zero = middle.project(shapely.Point(butt))
    drawn = sorted(
        tuple(
            (middle.project(shapely.Point(at_radius(arc, angle, neutral))) - zero) % middle.length
            for angle in (arc.start, arc.end)
        )
        for arc in arcs
    )
    note = note_of(drawing, "Along the straight strip")
    told = [
        (length(start, display), length(end, display))
        for start, end in re.findall(r"bend \d+ from ([\d./ ]+) to ([\d./ ]+),", note)
    ]
    assert [int(one) for one in re.findall(r"bend (\d+) from", note)] == list(
        range(1, len(arcs) + 1)
    )
    near = FINEST[display] + 2e-5
    assert np.ravel(told) == pytest.approx(np.ravel(drawn), abs=near)
    (total,) = re.findall(r"the butt at ([\d./ ]+)\.$", note)
    assert length(total.rstrip("."), display) == pytest.approx(middle.length, abs=near)
    assert drawing.facts["strip_length"] == pytest.approx(middle.length, abs=2e-5)
    assert "counter-clockwise round this picture" in note
    assert ", clockwise round this picture" in note_of(drawing.mirrored(), "Along the straight")


def at_radius(arc, angle, further):
    return at(replace(arc, radius=arc.radius + further), angle)


def test_marks_stand_where_bends_begin_and_end_and_at_the_butt(scenario_file):
    drawing = guard_panel(Build(read_scenario(str(scenario_file))))
    arcs = [item for item in outline(drawing) if isinstance(item, Arc)]
    lines = [item for item in outline(drawing) if isinstance(item, Line)]
    longest = max(lines, key=lambda one: math.dist(one.start, one.end))
    middle = tuple(0.5 * (a + b) for a, b in zip(longest.start, longest.end, strict=True))
    marks = [item for item in drawing.items if isinstance(item, Line) and item.layer is Layer.MARK]
    wanted = [*(end for arc in arcs for end in ends(arc)), middle]
    for place in wanted:
        assert any(math.dist(mark.start, place) < 1e-6 for mark in marks)
    for mark in marks:
        assert any(math.dist(mark.start, place) < 1e-6 for place in wanted)
    inside = shapely.MultiPoint([end for arc in arcs for end in ends(arc)]).convex_hull
    edge = [at(arc, a) for arc in arcs for a in np.linspace(arc.start, arc.end, 200)]
    whole = shapely.MultiPoint([*edge, *inside.exterior.coords]).convex_hull.buffer(1e-4)
    assert all(whole.contains(shapely.Point(mark.end)) for mark in marks)
    names = {one.text: one.at for one in drawing.items if isinstance(one, Leader)}
    assert math.dist(names["butt of the strip"], middle) < 1e-9
    for number in range(1, len(arcs) + 1):
        place = names[f"bend {number}"]
        off = [abs(math.dist(place, arc.centre) - arc.radius) for arc in arcs]
        assert min(off) < 1e-9


@pytest.mark.parametrize("mirrored", [False, True])
def test_outline_slot_and_opening_are_where_they_are_told(scenario_file, mirrored):
    scenario = read_scenario(str(scenario_file))
    display, drawing = scenario.display, guard_panel(Build(scenario))
    side, hand = ("right", -1) if mirrored else ("left", 1)
    arcs = [item for item in outline(drawing) if isinstance(item, Arc)]
    cut = [item for item in drawing.items if getattr(item, "layer", None) is Layer.CUT]
    shown = drawing.mirrored() if mirrored else drawing
    number = r"(-?[\d./ ]+)"
    note = note_of(shown, "Outline on a blank")
    assert f"from the {side} and from the lower datum edge" in note
    told = [
        tuple(length(one, display) for one in found)
        for found in re.findall(rf"of radius {number} about {number}, {number}(?:;|,|\.)", note)
    ]
    near = FINEST[display] + 1e-9
    # Distances from the datum edge are positive in the picture's own way, mirrored or not.
    assert len(told) == len(arcs)
    for radius, *centre in told:
        assert any(
            max(abs(radius - arc.radius), *np.abs(np.subtract(centre, arc.centre))) < near
            for arc in arcs
        )
    in_picture = [item for item in shown.items if getattr(item, "layer", None) is Layer.CUT]
    opening = next(item for item in in_picture if isinstance(item, Circle))
    note = note_of(shown, "Slot ")
    found = re.search(
        rf"hinge {number}, {number}; its round ends about {number}, {number} and {number}, "
        rf"{number}\. Opening .* across about {number}, {number}\.$",
        note,
    )
    hinge, one, other, middle = (
        tuple(length(text.strip(), display) for text in found.groups()[at : at + 2])
        for at in (0, 2, 4, 6)
    )
    assert (hand * middle[0], middle[1]) == pytest.approx(opening.centre, abs=near)
    slot = [item for item in cut if isinstance(item, Arc)][-4:]
    rounds = sorted(item.centre for item in (slot[1], slot[3]))
    assert np.ravel(sorted((one, other))) == pytest.approx(np.ravel(rounds), abs=near)
    assert hinge == pytest.approx(slot[0].centre, abs=near)
    assert ("below zero" in note) == (min(*hinge, *np.ravel([arc.centre for arc in arcs])) < 0)


def counted(radius, turn, kerf, thick):
    """Cuts of a bend by hand: those that close, or leave no more than half a millimetre."""
    neutral = thick - min(0.002, 0.3 * thick) / 2
    closing = math.ceil(turn * neutral / kerf - 1e-9)
    flat = math.ceil(turn / (2 * math.acos(radius / (radius + 0.0005))) - 1e-9)
    count = max(1, closing, flat)
    return count, (radius + neutral) * turn / count


def nearest_kerf(said):
    text = re.search(r"the nearest kerf that leaves that is ([\d/ ]+) in", said)[1]
    return length(text, Display.INCH)


def test_a_kerf_that_leaves_no_wood_is_told_with_the_largest_that_does(mill):
    wide = with_guard(mill, kerf=INCH)
    drawing = guard_panel(Build(wide))
    (said,) = (
        one for one in drawing.cautions if one.startswith("Relief cuts with a kerf of 1 in leave")
    )
    assert "nothing of the strip between cuts" in said
    assert said.endswith("The strip is told as one that is bent whole.")
    bends = [
        (arc.radius, (arc.end - arc.start) % math.tau)
        for arc in outline(drawing)
        if isinstance(arc, Arc)
    ]
    nearest = nearest_kerf(said)

    def left(kerf):
        return min(counted(*one, kerf, INCH / 4)[1] - kerf for one in bends)

    # The next 32nd up is too wide.
    assert left(nearest) >= 0.003 > left(nearest + INCH / 32)
    narrow = guard_panel(Build(with_guard(mill, kerf=nearest)))
    assert not any("leave too little wood" in one for one in narrow.cautions)
    # It is then told and laid out as one that is bent whole, and no cuts are drawn.
    assert not any("Detail" in one.text for one in drawing.items if isinstance(one, Label))
    note = note_of(drawing, "Along the straight strip")
    assert "cut" not in note
    outside = guard_panel(Build(mill)).facts["outline_length"]
    assert drawing.facts["strip_length"] == pytest.approx(outside + math.pi * INCH / 4)


def test_a_kerf_so_narrow_that_the_cuts_have_to_be_many_is_told_with_the_least_that_does(mill):
    thick, thin = 1.5 * INCH, INCH / 32
    drawing = guard_panel(Build(with_guard(mill, kerf=thin, thickness=thick)))
    (said,) = (one for one in drawing.cautions if one.startswith("Relief cuts with a kerf of 1/32"))
    arcs = [one for one in outline(drawing) if isinstance(one, Arc)]
    bends = [(arc.radius, (arc.end - arc.start) % math.tau) for arc in arcs]

    def left(kerf):
        return min(counted(*one, kerf, thick)[1] - kerf for one in bends)

    assert 0 < left(thin) < 0.003
    nearest = nearest_kerf(said)
    tried = [INCH / 32 * number for number in range(2, 1 + round(nearest / INCH * 32))]
    assert [left(kerf) >= 0.003 for kerf in tried] == [False] * (len(tried) - 1) + [True]
    # There is still wood: the cuts are laid out.
    assert "cuts" in note_of(drawing, "Along the straight strip")


def test_a_round_panels_strip_has_one_bend_from_butt_to_butt():
    layout = strip_round(hull([Disc((0.1, 0.2), 0.3)]), Cuts(0.003, 0.005, 0.002), 0.001)
    (run,) = layout.bends
    assert layout.straight == 0.0
    assert (run.start, run.end) == pytest.approx((0.0, math.tau * 0.304))
    assert layout.length == pytest.approx(math.tau * 0.304)
    assert math.dist(layout.butt, (0.1, 0.2)) == pytest.approx(0.3)
