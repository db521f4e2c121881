"""Templates of random mounts: no other error than that of the mount, all inside, no NaN."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import event, given, settings
from hypothesis import strategies as st
from random_mounts import mounts
from sizes import examples

from mountcalc.drafting.items import Arc, Circle, Layer, Line, Path
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.errors import MountError
from mountcalc.handbook.belts.sections import known_sections
from mountcalc.handbook.machine import known_frames, motor_frame
from mountcalc.scenario.parts import Guard, Parts
from mountcalc.scenario.pulleys import PulleyFace

SWINGS = 50
# Arcs are taken as chords here: 1000 of a turn miss a circle of 1 m by 5 um.
CHORDS = 6e-6


@st.composite
def drawn_mounts(draw):
    """A random mount with a frame or none, and sizes of a guard or none."""
    scenario = draw(mounts())
    frame = draw(st.sampled_from((None, *known_frames())))
    sizes = st.one_of(st.none(), st.floats(0.002, 0.05))
    guard = Guard(
        clearance=draw(sizes),
        slot_clearance=draw(sizes),
        thickness=draw(sizes),
        kerf=draw(st.one_of(st.none(), st.floats(0.0005, 0.006))),
    )
    section = draw(st.sampled_from((None, *known_sections())))
    faces = st.sampled_from(tuple(PulleyFace))
    return replace(
        scenario,
        belt=replace(scenario.belt, section=section),
        motor=replace(scenario.motor, pulley_face=draw(faces)),
        driven=replace(scenario.driven, pulley_face=draw(faces)),
        parts=Parts(guard=guard, frame=None if frame is None else motor_frame(frame)),
    )


def numbers(item):
    """All numbers of an item."""
    match item:
        case Path():
            return [value for point in item.points for value in point]
        case Circle():
            return [*item.centre, item.radius]
        case Arc():
            return [*item.centre, item.radius, item.start, item.end]
        case Line():
            return [*item.start, *item.end]
    return []


def outline_of(panel):
    """The panel's outline, in the scenario's coordinates."""
    back = panel.moved((panel.facts["datum_x"], panel.facts["datum_y"]))
    cut = [item for item in back.items if getattr(item, "layer", None) is Layer.CUT]
    points = []
    for item in cut[:-5]:  # the slot is cut by four arcs, the opening by a circle
        if isinstance(item, Line):
            points += [item.start, item.end]
            continue
        start, sweep = (0.0, math.tau) if isinstance(item, Circle) else swept(item)
        points += around(item, np.linspace(start, start + sweep, 1000))
    outline = shapely.Polygon(points)
    assert outline.is_valid
    return outline


def swept(arc):
    return arc.start, (arc.end - arc.start) % math.tau


def around(item, angles):
    x, y = item.centre
    return [(x + item.radius * math.cos(a), y + item.radius * math.sin(a)) for a in angles]


@pytest.mark.usefixtures("plain_names")
@given(drawn_mounts())
@settings(max_examples=examples(25))
def test_the_outline_keeps_the_clearance_everywhere(scenario):
    try:
        swing = Build(scenario).swing
    except MountError:
        event("never snug")
        return
    panel = guard_panel(Build(scenario))
    outline = outline_of(panel).buffer(CHORDS)
    clearance = scenario.parts.guard.clearance or 0.0
    driven = shapely.Point(scenario.driven.shaft).buffer(scenario.driven.pulley_radius)
    for angle in np.linspace(swing.low, swing.high, SWINGS):
        shaft = turned(scenario.motor.shaft, scenario.plate.hinge, angle)
        motor = shapely.Point(shaft).buffer(scenario.motor.pulley_radius)
        assert outline.contains(shapely.union(driven, motor).convex_hull.buffer(clearance))
    assert panel.facts["strip_length"] > outline_of(panel).exterior.length


@pytest.mark.usefixtures("plain_names")
@given(drawn_mounts())
@settings(max_examples=examples(25))
def test_every_template_is_drawn_or_the_mount_refused(scenario):
    try:
        assert Build(scenario).swing
    except MountError:
        event("never snug")
        return
    for drawing in (
        guard_panel(Build(scenario)),
        plate_template(Build(scenario)),
        base_template(Build(scenario)),
    ):
        values = [value for item in drawing.items for value in numbers(item)]
        assert all(math.isfinite(value) for value in (*values, *drawing.facts.values()))
        for item in drawing.items:
            if isinstance(item, Arc | Circle):
                assert item.radius > 0
        left, bottom, right, top = drawing.bounds()
        assert right - left > 0 < top - bottom
        for text in (*drawing.notes, *drawing.cautions):
            assert "nan" not in text.split()
            assert text.endswith(".")
