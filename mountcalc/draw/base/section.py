"""The base in the plane of the drawing: the strip or board that carries the other leaves."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial

from mountcalc.draw.base.adjuster import adjuster_line, meeting_on_base
from mountcalc.draw.base.room import Met, deepest, stop_to_stop
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.boards.sizes import TemplateSizes, template_size
from mountcalc.draw.build import Build, Swing, once
from mountcalc.scenario.drawn_plate import BoardFrame, plate_line
from mountcalc.scenario.model import Vector

__all__ = ["BaseSection", "Stands", "base_section", "one_face"]

_ONE_WAY = math.cos(math.radians(0.5))  # of the angle between ways that are one at the bench
_NEARLY = math.radians(20.0)  # from flat open, within which a level or upright strip is looked for


class Stands(Enum):
    """What the way of a base was taken from."""

    GIVEN = "base.direction"
    ADJUSTER = "the adjuster's line"
    CLOSED = "the plate at that end of the swing where the hinge closes"
    OPEN = "the plate on the other side of the pin"


@dataclass(frozen=True, slots=True)
class BaseSection:
    """The base, cut across the hinge's axis.

    Attributes
    ----------
    frame : BoardFrame
        Its face through the axis: the way it runs, and to where the leaf on it looks.
    stands : Stands
        What that was taken from.
    edge, length : float [m]
        From the axis to its hinged edge, and to its far one.
    thickness : float [m]
        Of the wood behind its face.
    drop : float [m]
        How far the wood lies behind the axis: by what a leaf stands out of it.
    with_adjuster : bool
        Whether the adjuster meets the same board; else it wants a block of its own.
    met : Met or None
        What of plate and motor comes into it.
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
        back = self.drop + self.thickness
        places = (
            (self.edge, self.drop),
            (self.length, self.drop),
            (self.length, back),
            (self.edge, back),
        )
        return tuple(
            (
                hinge[0] + along * way[0] - behind * out[0],
                hinge[1] + along * way[1] - behind * out[1],
            )
            for along, behind in places
        )

    @property
    def top(self) -> float:
        """Height of its highest point in the drawing's plane [m]."""
        return max(y for _, y in self.corners)


@once
def base_section(build: Build) -> BaseSection:
    """The base as it is given, or as the first way to stand that keeps clear of plate and motor."""
    swing = build.swing
    board = board_side(build)
    angles = stop_to_stop(swing, board)
    tried: list[BaseSection] = []
    for candidate in _candidates(build, swing, angles):
        met = deepest(build, board, candidate.corners, angles)
        if met is None:
            return candidate
        tried.append(replace(candidate, met=met))
    return min(tried, key=lambda one: one.met.depth if one.met else 0.0)


def one_face(frame: BoardFrame, other: BoardFrame) -> bool:
    """Whether two faces through the hinge's axis are one, as near as a bench tells."""
    ways = zip((frame.along, frame.normal), (other.along, other.normal), strict=True)
    return all(one[0] * two[0] + one[1] * two[1] >= _ONE_WAY for one, two in ways)


def _candidates(build: Build, swing: Swing, angles: tuple[float, float]) -> Iterator[BaseSection]:
    """What is looked at in turn; ``met`` is open yet."""
    sizes = TemplateSizes(build.scenario)
    hinges, line = sizes.hinges(), adjuster_line(build)
    beyond = template_size(build.scenario, "length_beyond").value
    thickness = build.scenario.parts.base.thickness
    if thickness is None:
        thickness = template_size(build.scenario, "thickness").value
    strip = partial(
        BaseSection,
        edge=hinges.edge,
        length=hinges.edge + hinges.leaf_width + beyond,
        thickness=thickness,
        drop=hinges.leaf_thickness - hinges.mortise,
        with_adjuster=False,
        met=None,
    )
    meeting = meeting_on_base(build, line, swing, board="base")
    furthest = hinges.edge + hinges.leaf_width if meeting is None else meeting.high
    given = build.scenario.parts.base.direction
    if given is not None:
        frame = _on_hinge(build, given)
        if meeting is not None and one_face(frame, line):
            longest = max(furthest, hinges.edge + hinges.leaf_width) + beyond
            yield strip(frame, Stands.GIVEN, length=longest, with_adjuster=True)
        yield strip(frame, Stands.GIVEN)
        return
    along_line = _on_hinge(build, math.atan2(line.along[1], line.along[0]))
    if meeting is not None and one_face(along_line, line):
        longest = max(furthest, hinges.edge + hinges.leaf_width) + beyond
        yield strip(along_line, Stands.ADJUSTER, length=longest, with_adjuster=True)
    for direction, stands in _turned_ways(build, angles):
        yield strip(_on_hinge(build, direction), stands)


def _turned_ways(build: Build, angles: tuple[float, float]) -> Iterator[tuple[float, Stands]]:
    """Ways of a strip that no adjuster holds [rad]."""
    plate = plate_line(build.scenario)
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
    way = math.cos(direction), math.sin(direction)
    side = plate_line(build.scenario).side
    return BoardFrame(build.scenario.plate.hinge, way, (side * way[1], -side * way[0]))
