"""The parts of N layouts that must clear something, as convex pieces that swing with the plate.

A piece is the convex hull of up to four corners, rounded by a radius: a plate is four corners, a
motor's body one corner with a radius, a bolt two corners. Belt and pulleys count up to their pitch
lines, bolts and links up to their axes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from mountcalc.linkage import kernels
from mountcalc.place.feasible.layouts import IN_BASE, IN_PLATE, LINK, Layouts
from mountcalc.scenario.model import Vector
from mountcalc.scenario.search import Search, SearchSpace

__all__ = ["Part", "Piece", "Strands", "extensions", "parts_of", "shapes_of"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]


def shapes_of(corners: Array) -> NDArray[Any]:
    """Shapely's points, segments or polygons of corners (..., m, 2)."""
    if corners.shape[-2] == 1:
        return np.asarray(shapely.points(corners[..., 0, :]))
    made = shapely.linestrings if corners.shape[-2] == 2 else shapely.polygons  # noqa: PLR2004
    return np.asarray(made(corners))


@dataclass(frozen=True)
class Piece:
    """A piece whose ``corners`` (N, m, 2) turn with the plate about ``hinge`` where ``turns``."""

    hinge: Array
    corners: Array
    turns: Bools
    radius: float = 0.0

    def at(self, chosen: Ints, angles: Array) -> Array:
        """Corners [m], shape (n, s, m, 2), of n chosen layouts at their angles, shape (n, s)."""
        corners, turns = self.corners[chosen], self.turns[chosen]
        hinge_x, hinge_y = self.hinge[chosen].T[..., None, None]
        x, y = (corners[:, None, :, axis] for axis in (0, 1))
        from_x, from_y = x - hinge_x, y - hinge_y
        cos, sin = np.cos(angles)[..., None], np.sin(angles)[..., None]
        turned = np.empty((*angles.shape, *corners.shape[1:]))
        turned[..., 0] = hinge_x + from_x * cos - from_y * sin
        turned[..., 1] = hinge_y + from_x * sin + from_y * cos
        return (
            turned if turns.all() else np.where(turns[:, None, :, None], turned, corners[:, None])
        )

    def speed(self, chosen: Ints, angles: Array) -> Array:  # noqa: ARG002  # as for strands
        """How fast any point moves at most between even angles, shape (n,) [m/rad]."""
        speed: Array = self.lever[chosen]
        return speed

    @cached_property
    def lever(self) -> Array:
        """How far from the hinge the farthest corner that turns is, shape (N,) [m]."""
        x, y = (self.corners[..., axis] - self.hinge[:, None, axis] for axis in (0, 1))
        lever: Array = np.where(self.turns, np.hypot(x, y), 0.0).max(axis=1)
        return lever


@dataclass(frozen=True)
class Strands(Piece):
    """What lies between the strands of a belt: the four points where they meet the pulleys.

    Its one corner as drawn is the motor's shaft.
    """

    driven: Vector = (0.0, 0.0)
    driven_radius: float = 0.0
    motor_radius: float = 0.0

    def at(self, chosen: Ints, angles: Array) -> Array:
        """Corners at the angles; see `Piece`."""
        motor, driven = Piece.at(self, chosen, angles)[:, :, 0, :], np.asarray(self.driven)
        gap = motor - driven
        distance = np.hypot(gap[..., 0], gap[..., 1])[..., None]
        along = gap / distance
        across = np.stack([-along[..., 1], along[..., 0]], axis=-1)
        # A strand is square to the radii at both its ends: they lean by (R - r) / C.
        lean = np.clip((self.driven_radius - self.motor_radius) / distance, -1.0, 1.0)
        left, right = (lean * along + side * np.sqrt(1.0 - lean**2) * across for side in (1, -1))
        at_driven = (driven + self.driven_radius * side for side in (left, right))
        at_motor = (motor + self.motor_radius * side for side in (right, left))
        return np.stack([*at_driven, *at_motor], axis=-2)

    def speed(self, chosen: Ints, angles: Array) -> Array:
        """How fast a corner moves at most; see `Piece`.

        A strand of length l turns no faster than q/l, where q is the speed of the motor's shaft.
        """
        shaft_speed = self.lever[chosen]
        gap = Piece.at(self, chosen, angles)[:, :, 0, :] - np.asarray(self.driven)
        step = np.abs(angles[:, 1] - angles[:, 0])
        distance = np.hypot(gap[..., 0], gap[..., 1]).min(axis=1) - shaft_speed * step / 2
        squared = distance * np.abs(distance) - (self.driven_radius - self.motor_radius) ** 2
        with np.errstate(divide="ignore"):
            turning = max(self.driven_radius, self.motor_radius) / np.sqrt(np.maximum(squared, 0.0))
        result: Array = shaft_speed * (1.0 + turning)
        return result


@dataclass(frozen=True, slots=True)
class Part:
    """A named part: its ``pieces``, and ``lever`` (N,) [m], from the hinge to what moves most.

    ``there`` (N,) tells which layouts have it. The part "wrench" is the circle about a jack's head.
    """

    name: str
    pieces: tuple[Piece, ...]
    lever: Array
    there: Bools

    def apart(self, polygon: Any, chosen: Ints, angles: Array) -> Array:  # noqa: ANN401
        """Distance of the pieces from a polygon at angles, shape (pieces, n, s) [m]."""
        return np.stack(
            [
                shapely.distance(shapes_of(piece.at(chosen, angles)), polygon) - piece.radius
                for piece in self.pieces
            ]
        )


def extensions(layouts: Layouts, angles: Array) -> Array:
    """Extension of each layout's jack at plate angles, shape (N, s) [m]; 0 of a link."""
    where = (layouts.hinge, layouts.tip, layouts.axis, layouts.normal)
    columns = [column[:, axis, None] for column in where for axis in (0, 1)]
    in_base = kernels.jack_in_base(angles, *columns).extension
    in_plate = kernels.jack_in_plate(angles, *columns).extension
    kind = layouts.kind[:, None]
    result: Array = np.where(kind == IN_BASE, in_base, np.where(kind == IN_PLATE, in_plate, 0.0))
    return result


def parts_of(layouts: Layouts, ends: Array, search: Search) -> tuple[Part, ...]:
    """Plate, motor, bolt, wrench and belt of layouts that swing between two plate angles."""
    space, driven = search.space, search.scenario.driven
    radii = driven.pulley_radius, search.scenario.motor.pulley_radius
    hinge, motor, count = layouts.hinge, layouts.motor, len(layouts)
    zero, one = np.zeros(count), np.ones((count, 1), dtype=bool)
    plate = _box(layouts, (zero, layouts.plate_length), (space.plate_back, space.plate_face))
    arm = motor - hinge
    foot = np.sum(arm * layouts.along, axis=1)
    height = np.sum(arm * layouts.normal, axis=1)
    half = space.motor_feet / 2
    feet = _box(layouts, (foot - half, foot + half), (0.0, height))
    shaft = motor[:, None, :]
    body = Piece(hinge, shaft, one, space.motor_body / 2)
    on_driven = np.broadcast_to(np.asarray(driven.shaft), (count, 1, 2))
    belt = (
        Strands(hinge, shaft, one, 0.0, driven.shaft, *radii),
        Piece(hinge, on_driven, ~one, radii[0]),
        Piece(hinge, shaft, one, radii[1]),
    )
    rod, head = _bolt(layouts, ends, space)
    return (
        _part("plate", plate),
        _part("motor", feet, body),
        _part("bolt", rod),
        Part("wrench", (head,), head.lever, layouts.kind != LINK),
        # No point of the hull of two discs moves more than the disc that moves.
        Part("belt", belt, belt[2].lever, one[:, 0]),
    )


def _part(name: str, *pieces: Piece) -> Part:
    """A part that every layout has."""
    lever = np.max([piece.lever for piece in pieces], axis=0)
    return Part(name, pieces, lever, np.ones(len(lever), dtype=bool))


def _box(
    layouts: Layouts, along: tuple[Array, Array], across: tuple[float, Array | float]
) -> Piece:
    """A box that lies along the plate and turns with it."""
    start, end = along
    low, high = (np.broadcast_to(side, start.shape) for side in across)
    corners = (
        layouts.hinge[:, None, :]
        + np.stack([start, end, end, start], axis=1)[..., None] * layouts.along[:, None, :]
        + np.stack([low, low, high, high], axis=1)[..., None] * layouts.normal[:, None, :]
    )
    return Piece(layouts.hinge, corners, np.ones(corners.shape[:2], dtype=bool))


def _bolt(layouts: Layouts, ends: Array, space: SearchSpace) -> tuple[Piece, Piece]:
    """The bolt or link, and where the head of a jack is: both wherever the screw takes them."""
    moved = extensions(layouts, ends)
    least, most = moved.min(axis=1), moved.max(axis=1)
    link, in_plate = layouts.kind == LINK, layouts.kind == IN_PLATE
    length = np.where(link, space.link_length, space.bolt_length)

    def on_axis(*places: Array) -> Array:
        along = np.stack(places, axis=1)[..., None]
        return layouts.tip[:, None, :] + along * layouts.axis[:, None, :]

    bolt, heads = on_axis(most, least - length), on_axis(least - length, most - length)
    rod = Piece(layouts.hinge, bolt, np.stack([in_plate | link, in_plate], axis=1))
    turns = np.stack([in_plate, in_plate], axis=1)
    return rod, Piece(layouts.hinge, heads, turns, space.wrench_space)
