"""A layout that was found, as points that can be drawn: its plate at any angle, its adjuster."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mountcalc.linkage import kernels
from mountcalc.place.results import PlacedLayout
from mountcalc.record import Record
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import SearchSpace
from mountcalc.scenario.text.writing import Vector

_POSITIONS = 65  # of the plate between its stops


class PlacedParts(Record):
    """One layout, its scenario as the solver knows it, and the sizes that only a search tells.

    ``along`` and ``normal`` are unit vectors as drawn: from the hinge along the plate, and square
    to it on the motor's side.
    """

    placed: PlacedLayout
    scenario: Scenario
    space: SearchSpace
    along: Vector
    normal: Vector

    @classmethod
    def of(cls, placed: PlacedLayout, scenario: Scenario, space: SearchSpace) -> PlacedParts:
        """Those of a layout."""
        line = plate_line(scenario)
        return cls(placed, scenario, space, line.along, line.normal)

    @property
    def offset(self) -> float:
        """How far from the plate's face the adjuster bears, to the motor's side [m]."""
        (x, y), (hinge_x, hinge_y) = self.placed.tip, self.placed.hinge
        return (x - hinge_x) * self.normal[0] + (y - hinge_y) * self.normal[1]

    @property
    def kind(self) -> AdjusterKind:
        """Kind of adjuster."""
        return self.scenario.adjuster.kind

    def on_plate(self, along: float, across: float, angle: float = 0.0) -> Vector:
        """A point of the plate."""
        (ux, uy), (vx, vy) = self.along, self.normal
        x, y = self.placed.hinge
        place = x + along * ux + across * vx, y + along * uy + across * vy
        at = kernels.plate_point(angle, *self.placed.hinge, *place)
        return float(at.x), float(at.y)

    def plate(self, angle: float = 0.0) -> list[Vector]:
        """Corners of the plate, the hinge in the face that the motor stands on."""
        length, low, high = self.placed.plate_length, self.space.plate_back, self.space.plate_face
        corners = (0.0, low), (length, low), (length, high), (0.0, high)
        return [self.on_plate(*corner, angle) for corner in corners]

    @property
    def axis(self) -> Vector:
        """The way the adjuster's end moves as it gets longer, as drawn."""
        adjuster, tip = self.scenario.adjuster, self.placed.tip
        if adjuster.axis is not None:
            return math.cos(adjuster.axis), math.sin(adjuster.axis)
        base = adjuster.base_pin or tip
        length = math.dist(base, tip) or 1.0
        return (tip[0] - base[0]) / length, (tip[1] - base[1]) / length

    @property
    def other_end(self) -> Vector:
        """As drawn: a jack's head, or the pin of a link in the base."""
        if self.scenario.adjuster.base_pin is not None:
            return self.scenario.adjuster.base_pin
        (ex, ey), (x, y) = self.axis, self.placed.tip
        return x - self.space.bolt_length * ex, y - self.space.bolt_length * ey


class Span(Record):
    """Two points [m] on a straight line, and how far ``end`` is past ``start`` [m] along it."""

    start: Vector
    end: Vector
    length: float

    @property
    def middle(self) -> Vector:
        """Half-way between the two [m]."""
        return 0.5 * (self.start[0] + self.end[0]), 0.5 * (self.start[1] + self.end[1])


def block_room(parts: PlacedParts) -> Span | None:
    """The part of a bolt's line that is between its head and the plate over the whole travel."""
    if parts.kind is not AdjusterKind.JACK_IN_BASE:
        return None
    arm, turned = _arm_and_turn(parts)
    to_tip, axis = (complex(*way) / complex(*parts.normal) / turned for way in (arm, parts.axis))
    face, back = parts.space.plate_face, parts.space.plate_back
    # How far along the bolt's line from the tip as drawn it meets what bears, and both faces.
    tip, upper, lower = ((at - to_tip.real) / axis.real for at in (parts.offset, face, back))
    start = float(tip.max()) - parts.space.bolt_length
    return _span(parts, parts.axis, start, float(np.minimum(tip, np.minimum(upper, lower)).min()))


def face_wanted(parts: PlacedParts) -> Span | None:
    """The part of a fixed face that the tip of a bolt through the plate slides on."""
    if parts.kind is not AdjusterKind.JACK_IN_PLATE:
        return None
    arm, turned = _arm_and_turn(parts)
    along = complex(*parts.along)
    # From where the bolt crosses the plate's line, out to the fixed face: both seen along it.
    foot = parts.placed.reach * turned - complex(*arm) / along
    bolt = complex(*parts.normal) / along * turned
    places = foot.real - foot.imag / bolt.imag * bolt.real
    return _span(parts, parts.along, float(places.min()), float(places.max()))


def _arm_and_turn(parts: PlacedParts) -> tuple[Vector, NDArray[np.complex128]]:
    """From the hinge to the tip as drawn, and the plate's turns at angles over its travel."""
    (x, y), (hinge_x, hinge_y) = parts.placed.tip, parts.placed.hinge
    angles = np.linspace(*parts.scenario.plate.travel, _POSITIONS)
    return (x - hinge_x, y - hinge_y), np.exp(1j * angles)


def _span(parts: PlacedParts, way: Vector, start: float, end: float) -> Span:
    """Two points on a line through the tip as drawn."""
    (x, y), (dx, dy) = parts.placed.tip, way
    return Span((x + start * dx, y + start * dy), (x + end * dx, y + end * dy), end - start)
