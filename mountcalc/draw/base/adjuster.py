"""Where the adjuster meets what is fixed: the line that it is measured along, and the places."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from mountcalc.draw.boards.plate_adjuster import Meeting, bolt_hole, contact_points
from mountcalc.draw.build import Build, Swing, once
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["adjuster_line", "meeting_on_base", "meeting_place"]

_STEPS = 65
_FLAT = 1e-3  # [m]


@once
def adjuster_line(build: Build) -> BoardFrame:
    """The face that one board for hinges and adjuster would have, seen from the plate."""
    adjuster, hinge = build.scenario.adjuster, build.scenario.plate.hinge
    plate = build.frame
    if adjuster.kind is AdjusterKind.LINK and adjuster.base_pin is not None:
        way = _minus(adjuster.base_pin, hinge)
        assert adjuster.plate_pin is not None
        return _facing(hinge, way, _minus(adjuster.plate_pin, hinge), plate)
    if adjuster.face is None or adjuster.axis is None or adjuster.tip is None:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    way = (math.cos(adjuster.face), math.sin(adjuster.face))
    to_tip = _minus(adjuster.tip, hinge)
    if way[0] * to_tip[0] + way[1] * to_tip[1] < 0:
        way = (-way[0], -way[1])
    # A screw in the base pushes away from it; one in the plate pushes onto it.
    sign = 1.0 if adjuster.kind is AdjusterKind.JACK_IN_BASE else -1.0
    towards = (sign * math.cos(adjuster.axis), sign * math.sin(adjuster.axis))
    return _facing(hinge, way, towards, plate)


def meeting_on_base(build: Build, line: BoardFrame, swing: Swing, *, board: str) -> Meeting | None:
    """Where the adjuster meets the base, along the adjuster's line from the hinge's axis."""
    adjuster = build.scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE:
        return None
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        at = line.distance(adjuster.base_pin)
        return Meeting("pin", at, at, at, None, "link's pin", ())
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return bolt_hole(build, line, board=board)
    points = contact_points(build, np.linspace(swing.low, swing.high, _STEPS), on_plate=False)
    snug = contact_points(build, np.array([swing.snug]), on_plate=False)[0]
    places = [line.distance(point) for point in (*points, snug)]
    height, display = line.height(snug), build.display
    wanders = bench_length(max(places) - min(places), display)
    notes = [f"The bolt's tip moves {wanders} along the {board}: hard metal under all of it."]
    if board == "base" and abs(height) > _FLAT:
        way = "off" if height > 0 else "behind"
        notes.append(
            f"The face that the tip bears on is {bench_length(abs(height), display)} {way} the "
            "line of the base's face."
        )
    text = "bolt's tip bears here"
    return Meeting("pad", places[-1], min(places), max(places), None, text, tuple(notes))


def meeting_place(build: Build, line: BoardFrame, meeting: Meeting, swing: Swing) -> Vector:
    """Where that is from the hinge's axis in the drawing's plane, as the belt is snug."""
    if meeting.kind == "pad":
        points = contact_points(build, np.array([swing.snug]), on_plate=False)
        return _minus(points[0], line.hinge)
    return meeting.at * line.along[0], meeting.at * line.along[1]


def _facing(hinge: Vector, way: Vector, towards: Vector, plate: BoardFrame) -> BoardFrame:
    """A board along a way whose face looks towards a direction."""
    length = math.hypot(*way)
    if length == 0.0:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    along = (way[0] / length, way[1] / length)
    left = (-along[1], along[0])
    looks_left = left[0] * towards[0] + left[1] * towards[1] >= 0
    return BoardFrame(hinge, along, left if looks_left else (-left[0], -left[1]))


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1]
