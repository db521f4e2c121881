"""The parts of N layouts that must clear something, as convex pieces that swing with the plate.

A piece is the convex hull of up to four corners, rounded by a radius: a plate is four corners, a
motor's body one corner with a radius, a bolt two corners. Belt and pulleys count up to their pitch
lines, bolts and links up to their axes. Points are complex numbers.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import IN_PLATE, LINK, Layouts, Points
from mountcalc.place.feasible.statics import adjusters_of
from mountcalc.record import Record
from mountcalc.scenario.search import Search, SearchSpace

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]


def shapes_of(corners: Points) -> NDArray[Any]:
    """Shapely's points, segments or polygons of corners (..., m)."""
    count, pairs = corners.shape[-1], np.stack([corners.real, corners.imag], axis=-1)
    if count == 1:
        return np.asarray(shapely.points(pairs[..., 0, :]))
    return np.asarray((shapely.linestrings if count == 2 else shapely.polygons)(pairs))  # noqa: PLR2004


class Piece(Record):
    """A piece whose ``corners`` (N, m) turn with the plate about ``hinge`` where ``turns``."""

    hinge: Points
    corners: Points
    turns: Bools
    radius: float = 0.0

    def at(self, chosen: Ints, angles: Array) -> Points:
        """Corners [m], shape (n, s, m), of n chosen layouts at their angles, shape (n, s)."""
        corners, turns = self.corners[chosen, None], self.turns[chosen, None]
        hinge = self.hinge[chosen, None, None]
        turned = hinge + (corners - hinge) * np.exp(1j * angles)[..., None]
        return turned if turns.all() else np.where(turns, turned, corners)

    def speed(self, chosen: Ints, angles: Array) -> Array:  # noqa: ARG002  # as for strands
        """How fast any point moves at most between even angles, shape (n,) [m/rad]."""
        speed: Array = self.lever[chosen]
        return speed

    @cached_property
    def lever(self) -> Array:
        """How far from the hinge the farthest corner that turns is, shape (N,) [m]."""
        away = np.abs(self.corners - self.hinge[:, None])
        lever: Array = np.where(self.turns, away, 0.0).max(axis=1)
        return lever


class Strands(Piece):
    """What lies between the strands of a belt: the four points where they meet the pulleys.

    Its one corner as drawn is the motor's shaft.
    """

    driven: complex = 0.0
    driven_radius: float = 0.0
    motor_radius: float = 0.0

    def at(self, chosen: Ints, angles: Array) -> Points:
        """Corners at the angles; see `Piece`."""
        motor = Piece.at(self, chosen, angles)
        distance = np.abs(motor - self.driven)
        # A strand is square to the radii at both its ends: they lean by (R - r) / C.
        lean = np.clip((self.driven_radius - self.motor_radius) / distance, -1.0, 1.0)
        square = np.sqrt(1.0 - lean**2)
        along = (motor - self.driven) / distance
        left, right = along * (lean + 1j * square), along * (lean - 1j * square)
        at_driven = (self.driven + self.driven_radius * side for side in (left, right))
        at_motor = (motor + self.motor_radius * side for side in (right, left))
        return np.concatenate([*at_driven, *at_motor], axis=-1)

    def speed(self, chosen: Ints, angles: Array) -> Array:
        """How fast a corner moves at most; see `Piece`.

        A strand of length l turns no faster than q/l, where q is the speed of the motor's shaft.
        """
        shaft_speed, step = self.lever[chosen], np.abs(angles[:, 1] - angles[:, 0])
        gap = np.abs(Piece.at(self, chosen, angles)[..., 0] - self.driven).min(axis=1)
        distance = gap - shaft_speed * step / 2
        squared = distance * np.abs(distance) - (self.driven_radius - self.motor_radius) ** 2
        with np.errstate(divide="ignore"):
            turning = max(self.driven_radius, self.motor_radius) / np.sqrt(np.maximum(squared, 0.0))
        result: Array = shaft_speed * (1.0 + turning)
        return result


class Part(Record):
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


def jack_ends(layouts: Layouts, angles: Array, space: SearchSpace) -> tuple[Array, Array]:
    """Least and greatest extension of each jack at plate angles (N, s); 0 of a link."""
    moved = adjusters_of(layouts, space.link_length)(angles.T).extension
    moved = np.where(layouts.kind == LINK, 0.0, moved)
    return moved.min(axis=0), moved.max(axis=0)


def parts_of(layouts: Layouts, ends: Array, search: Search) -> tuple[Part, ...]:
    """Plate, motor, bolt, wrench and belt of layouts that swing between two plate angles."""
    space, driven = search.space, complex(*search.scenario.driven.shaft)
    radii = search.scenario.driven.pulley_radius, search.scenario.motor.pulley_radius
    hinge, shaft, count = layouts.hinge, layouts.motor[:, None], len(layouts)
    one = np.ones((count, 1), dtype=bool)

    def box(start: Array, end: Array, low: float, high: Array | float) -> Piece:
        """A box that lies along the plate and turns with it."""
        side = 1j * layouts.side
        corners = [start + side * low, end + side * low, end + side * high, start + side * high]
        places = hinge[:, None] + np.stack(corners, axis=1) * layouts.along[:, None]
        return Piece(hinge, places, np.ones(places.shape, dtype=bool))

    plate = box(np.zeros(count), layouts.plate_length, space.plate_back, space.plate_face)
    half = space.motor_feet / 2
    feet = box(layouts.foot - half, layouts.foot + half, 0.0, layouts.motor_height)
    body = Piece(hinge, shaft, one, space.motor_body / 2)
    belt = (
        Strands(hinge, shaft, one, 0.0, driven, *radii),
        Piece(hinge, np.full((count, 1), driven), ~one, radii[0]),
        Piece(hinge, shaft, one, radii[1]),
    )
    # The bolt or link, and where the head of a jack is: both wherever the screw takes them.
    least, most = jack_ends(layouts, ends, space)
    link, in_plate = layouts.kind == LINK, layouts.kind == IN_PLATE
    length = np.where(link, space.link_length, space.bolt_length)

    def on_axis(*places: tuple[Array, Bools], radius: float = 0.0) -> Piece:
        along, turns = (np.stack(columns, axis=1) for columns in zip(*places, strict=True))
        corners = layouts.tip[:, None] + along * layouts.axis[:, None]
        return Piece(hinge, corners, turns, radius)

    head = least - length, in_plate
    rod = on_axis((most, in_plate | link), head)
    heads = on_axis(head, (most - length, in_plate), radius=space.wrench_space)
    always = one[:, 0]
    return (
        Part("plate", (plate,), plate.lever, always),
        Part("motor", (feet, body), np.maximum(feet.lever, body.lever), always),
        Part("bolt", (rod,), rod.lever, always),
        Part("wrench", (heads,), heads.lever, ~link),
        # No point of the hull of two discs moves more than the disc that moves.
        Part("belt", belt, belt[2].lever, always),
    )
