"""The base in the plane of the drawing: the board of the other leaves, what the adjuster meets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial

import numpy as np

from mountcalc.draw.base.swept import Met, deepest, stop_to_stop
from mountcalc.draw.boards.side import Meeting, bolt_hole, contact_points
from mountcalc.draw.boards.sizes import board_sizes, template_size
from mountcalc.draw.build import Build, once
from mountcalc.draw.remarks import Remark
from mountcalc.scenario.drawn_plate import BoardFrame, plate_line
from mountcalc.scenario.model import AdjusterKind, Vector

_ONE_WAY = math.cos(math.radians(0.5))  # of the angle between ways that are one at the bench
_NEARLY = math.radians(20.0)  # from flat open, within which a level or upright strip is looked for
_STEPS = 65
_FLAT = 1e-3  # [m]


class Stands(Enum):
    """What the way of a base was taken from."""

    GIVEN = "base.direction"
    ADJUSTER = "the adjuster's line"
    CLOSED = "the plate at that end of the swing where the hinge closes"
    OPEN = "the plate on the other side of the pin"


@dataclass(frozen=True, slots=True)
class BaseSection:
    """The base, cut across the hinge's axis; lengths [m].

    ``frame`` is its face through the axis, ``edge`` and ``length`` are from there to its hinged
    edge and its far one; its wood lies a ``drop`` behind: by what a leaf stands out of it. It
    carries hinges and adjuster where it stands ``with_adjuster``; ``met`` comes into it.
    """

    frame: BoardFrame
    stands: Stands
    edge: float
    length: float
    thickness: float
    drop: float
    with_adjuster: bool
    met: Met | None

    @property
    def corners(self) -> tuple[Vector, ...]:
        """Near and far on the face, far and near on the back, in the drawing's plane [m]."""
        hinge, way, out = self.frame.hinge, self.frame.along, self.frame.normal
        near, far, face, back = self.edge, self.length, self.drop, self.drop + self.thickness
        return tuple(
            (
                hinge[0] + along * way[0] - behind * out[0],
                hinge[1] + along * way[1] - behind * out[1],
            )
            for along, behind in ((near, face), (far, face), (far, back), (near, back))
        )

    @property
    def top(self) -> float:
        """Height of its highest point in the drawing's plane [m].

        On a level face that is the wood under a leaf: the faces of a butt hinge's leaves meet in
        the plane of its pin, so the wood is as far below the pin as a leaf is thick, less what the
        leaf is let in.
        """
        return max(y for _, y in self.corners)


@once
def base_section(build: Build) -> BaseSection:
    """The base as it is given, or as the first way to stand that keeps clear of plate and motor."""
    tried: list[BaseSection] = []
    for candidate in _candidates(build):
        met = deepest(build, candidate.corners)
        if met is None:
            return candidate
        tried.append(replace(candidate, met=met))
    return min(tried, key=lambda one: one.met.depth if one.met else 0.0)


def is_one_face(frame: BoardFrame, other: BoardFrame) -> bool:
    """Whether two faces through the hinge's axis are one, as near as a bench tells."""
    ways = zip((frame.along, frame.normal), (other.along, other.normal), strict=True)
    return all(one[0] * two[0] + one[1] * two[1] >= _ONE_WAY for one, two in ways)


def _candidates(build: Build) -> Iterator[BaseSection]:
    """What is looked at in turn; ``met`` is open yet."""
    sizes, line, base = board_sizes(build), adjuster_line(build), build.scenario.parts.base
    hinges, thickness = sizes.hinges, base.thickness
    if thickness is None:
        thickness = template_size(build, "thickness").value
    under_leaf = hinges.edge + hinges.leaf_width
    strip = partial(
        BaseSection,
        edge=hinges.edge,
        length=under_leaf + sizes.beyond,
        thickness=thickness,
        drop=hinges.leaf_thickness - hinges.mortise,
        with_adjuster=False,
        met=None,
    )
    direction, stands = base.direction, Stands.GIVEN
    if direction is None:
        direction, stands = math.atan2(line.along[1], line.along[0]), Stands.ADJUSTER
    frame = _on_hinge(build, direction)
    meeting = meeting_on_base(build, board="base")
    if meeting is not None and is_one_face(frame, line):
        longest = max(meeting.high, under_leaf) + sizes.beyond
        yield strip(frame, stands, length=longest, with_adjuster=True)
    if stands is Stands.GIVEN:
        yield strip(frame, stands)
        return
    for turned, how in _turned_ways(build):
        yield strip(_on_hinge(build, turned), how)


def _turned_ways(build: Build) -> Iterator[tuple[float, Stands]]:
    """Ways of a strip that no adjuster holds [rad]."""
    plate, angles = plate_line(build.scenario), stop_to_stop(build)
    # The hinge closes where the plate turns towards the side that the motor stands on.
    closing, opening = angles[::-1] if plate.side > 0 else angles
    yield plate.direction + closing, Stands.CLOSED
    middle = plate.direction + 0.5 * (closing + opening) + math.pi
    square = 0.5 * math.pi * round(middle / (0.5 * math.pi))
    if abs(middle - square) <= _NEARLY:
        yield square, Stands.OPEN
    yield plate.direction + opening + math.pi, Stands.OPEN


def _on_hinge(build: Build, direction: float) -> BoardFrame:
    """The face of a base in a direction [rad]: the leaf on it looks at that of the closed plate."""
    way, side = (math.cos(direction), math.sin(direction)), plate_line(build.scenario).side
    return BoardFrame(build.hinge, way, (side * way[1], -side * way[0]))


@once
def adjuster_line(build: Build) -> BoardFrame:
    """The face that one board for hinges and adjuster would have, seen from the plate."""
    adjuster, hinge, plate = build.scenario.adjuster, build.hinge, build.frame
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        assert adjuster.plate_pin is not None
        way, towards = _minus(adjuster.base_pin, hinge), _minus(adjuster.plate_pin, hinge)
    elif adjuster.face is not None and adjuster.axis is not None and adjuster.tip is not None:
        way = (math.cos(adjuster.face), math.sin(adjuster.face))
        to_tip = _minus(adjuster.tip, hinge)
        if way[0] * to_tip[0] + way[1] * to_tip[1] < 0:
            way = (-way[0], -way[1])
        # A screw in the base pushes away from it; one in the plate pushes onto it.
        sign = 1.0 if adjuster.kind is AdjusterKind.JACK_IN_BASE else -1.0
        towards = (sign * math.cos(adjuster.axis), sign * math.sin(adjuster.axis))
    else:
        way, towards = (0.0, 0.0), (0.0, 0.0)
    length = math.hypot(*way)
    if length == 0.0:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    along = (way[0] / length, way[1] / length)
    left = (-along[1], along[0])
    looks_left = left[0] * towards[0] + left[1] * towards[1] >= 0
    return BoardFrame(hinge, along, left if looks_left else (-left[0], -left[1]))


def meeting_on_base(build: Build, *, board: str) -> Meeting | None:
    """Where the adjuster meets the base, along the adjuster's line from the hinge's axis."""
    adjuster, line, swing = build.scenario.adjuster, adjuster_line(build), build.swing
    if adjuster.kind is AdjusterKind.NONE:
        return None
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        at = line.distance(adjuster.base_pin)
        return Meeting("pin", at, at, at, None, "link's pin", ())
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return bolt_hole(build, line, board=board)
    angles = np.append(np.linspace(swing.low, swing.high, _STEPS), swing.snug)
    points = contact_points(build, angles, on_plate=False)
    places, height = [line.distance(point) for point in points], line.height(points[-1])
    remarks = [
        Remark("adjuster.pad_on_base", {"wanders": max(places) - min(places), "board": board})
    ]
    if board == "base" and abs(height) > _FLAT:
        way = "off" if height > 0 else "behind"
        remarks.append(Remark("adjuster.face_off_base", {"off": abs(height), "way": way}))
    text = "bolt's tip bears here"
    return Meeting("pad", places[-1], min(places), max(places), None, text, tuple(remarks))


def meeting_place(build: Build, meeting: Meeting) -> Vector:
    """Where that is from the hinge's axis in the drawing's plane, as the belt is snug."""
    if meeting.kind == "pad":
        points = contact_points(build, np.array([build.swing.snug]), on_plate=False)
        return _minus(points[0], build.hinge)
    along = adjuster_line(build).along
    return meeting.at * along[0], meeting.at * along[1]


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1]
