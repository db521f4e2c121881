"""Where what does not move with the plate may stand: a bolt's block, or the face it bears on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.placed_parts import PlacedParts
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["Span", "block_room", "face_wanted"]

Array = NDArray[np.float64]

_POSITIONS = 65  # of the plate between its stops


@dataclass(frozen=True, slots=True)
class Span:
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
    arm, axis = _arm(parts), np.array(parts.axis)
    normal = _turned(np.array(parts.normal), _angles(parts))
    rise, gain = normal @ arm, normal @ axis
    face, back = parts.space.plate_face, parts.space.plate_back
    # How far along the bolt's line from the tip as drawn it meets what bears, and both faces.
    tip, upper, lower = ((across - rise) / gain for across in (parts.offset, face, back))
    start = float(tip.max()) - parts.space.bolt_length
    return _span(parts, axis, start, float(np.minimum(tip, np.minimum(upper, lower)).min()))


def face_wanted(parts: PlacedParts) -> Span | None:
    """The part of a fixed face that the tip of a bolt through the plate slides on."""
    if parts.kind is not AdjusterKind.JACK_IN_PLATE:
        return None
    arm, angles = _arm(parts), _angles(parts)
    along, normal = np.array(parts.along), np.array(parts.normal)
    bolt = _turned(normal, angles)
    # From where the bolt crosses the plate's line, out to the fixed face.
    foot = parts.placed.reach * _turned(along, angles) - arm
    places = (foot - (foot @ normal / (bolt @ normal))[:, None] * bolt) @ along
    return _span(parts, along, float(places.min()), float(places.max()))


def _arm(parts: PlacedParts) -> Array:
    """From the hinge to the tip as drawn."""
    arm: Array = np.array(parts.placed.tip) - np.array(parts.placed.hinge)
    return arm


def _angles(parts: PlacedParts) -> Array:
    return np.linspace(*parts.scenario.plate.travel, _POSITIONS)


def _turned(vector: Array, angles: Array) -> Array:
    """A vector of the plate at its angles, one a row."""
    x, y = vector
    cos, sin = np.cos(angles), np.sin(angles)
    result: Array = np.stack([x * cos - y * sin, x * sin + y * cos], axis=-1)
    return result


def _span(parts: PlacedParts, way: Array, start: float, end: float) -> Span:
    """Two points on a line through the tip as drawn."""
    (x, y), (dx, dy) = parts.placed.tip, (float(part) for part in way)
    return Span((x + start * dx, y + start * dy), (x + end * dx, y + end * dy), end - start)
