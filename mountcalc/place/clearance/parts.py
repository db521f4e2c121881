"""The parts of N layouts that must clear the keep-outs, as corners and radii for numpy.

The same parts as outlines, for one layout, are in :mod:`mountcalc.place.clearance.shapes`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.linkage import kernels
from mountcalc.place.clearance.pieces import BeltStrands, Piece, Turning
from mountcalc.place.layouts.layouts import KINDS, Layouts
from mountcalc.scenario.model import AdjusterKind, Scenario, Vector
from mountcalc.scenario.search import SearchSpace

__all__ = [
    "Part",
    "Sizes",
    "extensions",
    "parts_of",
]

Array = NDArray[np.float64]

_IN_BASE, _IN_PLATE, _LINK = (
    KINDS.index(kind)
    for kind in (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
)


@dataclass(frozen=True, slots=True)
class Sizes:
    """What is the same for all layouts of a search; lengths in m.

    Attributes
    ----------
    driven : tuple of float
        The driven shaft.
    driven_radius, motor_radius : float
        Pitch radii of the pulleys.
    plate_face, plate_back : float
        How far from the plate's line, to the motor's side, the plate's two faces are.
    motor_body : float
        Diameter of the motor's body about its shaft.
    motor_feet : float
        How far the feet reach along the plate; they count as a block up to the shaft's height.
    bolt_length : float
        From a jack's tip as drawn to its head.
    link_length : float
        From pin to pin as drawn.
    wrench_space : float
        Radius of the circle about a jack's head that must stay free.
    """

    driven: Vector
    driven_radius: float
    motor_radius: float
    plate_face: float
    plate_back: float
    motor_body: float
    motor_feet: float
    bolt_length: float
    link_length: float
    wrench_space: float

    @classmethod
    def of(cls, scenario: Scenario, space: SearchSpace) -> Sizes:
        """Those of a search."""
        return cls(
            driven=scenario.driven.shaft,
            driven_radius=scenario.driven.pulley_radius,
            motor_radius=scenario.motor.pulley_radius,
            plate_face=space.plate_face,
            plate_back=space.plate_back,
            motor_body=space.motor_body,
            motor_feet=space.motor_feet,
            bolt_length=space.bolt_length,
            link_length=space.link_length,
            wrench_space=space.wrench_space,
        )


@dataclass(frozen=True, slots=True)
class Part:
    """A named part: its ``pieces``, and ``lever`` (N,) [m], from the hinge to what moves most.

    ``there`` (N,) tells which layouts have it.
    """

    name: str
    pieces: tuple[Piece, ...]
    lever: Array
    there: NDArray[np.bool_]


def extensions(layouts: Layouts, angles: Array) -> Array:
    """Extension of each layout's adjuster at plate angles."""
    where = (layouts.hinge, layouts.tip, layouts.axis, layouts.normal)
    columns = [column[:, axis, None] for column in where for axis in (0, 1)]
    in_base = kernels.jack_in_base(angles, *columns).extension
    in_plate = kernels.jack_in_plate(angles, *columns).extension
    kind = layouts.kind[:, None]
    result: Array = np.where(kind == _IN_BASE, in_base, np.where(kind == _IN_PLATE, in_plate, 0.0))
    return result


def parts_of(layouts: Layouts, ends: Array, sizes: Sizes) -> tuple[Part, ...]:
    """All parts of layouts that swing between two plate angles."""
    return (
        _plate(layouts, sizes),
        _motor(layouts, sizes),
        *_bolt(layouts, ends, sizes),
        _belt(layouts, sizes),
    )


def _on_plate(layouts: Layouts, along: Array, across: Array) -> Array:
    """Points at distances along and across the plate, each of shape (N, m)."""
    return (
        layouts.hinge[:, None, :]
        + along[..., None] * layouts.along[:, None, :]
        + across[..., None] * layouts.normal[:, None, :]
    )


def _box(layouts: Layouts, along: tuple[Array, Array], across: tuple[Array, Array]) -> Turning:
    """A box that lies along the plate and turns with it."""
    corners = _on_plate(
        layouts,
        np.stack([along[0], along[1], along[1], along[0]], axis=1),
        np.stack([across[0], across[0], across[1], across[1]], axis=1),
    )
    return Turning(layouts.hinge, corners, np.ones(corners.shape[:2], dtype=bool))


def _whole(name: str, *pieces: Turning) -> Part:
    """A part that every layout has."""
    lever = np.max([piece.lever for piece in pieces], axis=0)
    return Part(name, pieces, lever, np.ones(len(lever), dtype=bool))


def _plate(layouts: Layouts, sizes: Sizes) -> Part:
    zero = np.zeros(len(layouts))
    across = zero + sizes.plate_back, zero + sizes.plate_face
    return _whole("plate", _box(layouts, (zero, layouts.plate_length), across))


def _motor(layouts: Layouts, sizes: Sizes) -> Part:
    arm = layouts.motor - layouts.hinge
    foot = np.sum(arm * layouts.along, axis=1)
    height = np.sum(arm * layouts.normal, axis=1)
    half = sizes.motor_feet / 2
    feet = _box(layouts, (foot - half, foot + half), (np.zeros(len(foot)), height))
    one = np.ones((len(foot), 1), dtype=bool)
    body = Turning(layouts.hinge, layouts.motor[:, None, :], one, sizes.motor_body / 2)
    return _whole("motor", feet, body)


def _bolt(layouts: Layouts, ends: Array, sizes: Sizes) -> tuple[Part, Part]:
    """The bolt or link, and where the head of a jack is: both wherever the screw takes them."""
    kind = layouts.kind
    moved = extensions(layouts, ends)
    least, most = moved.min(axis=1), moved.max(axis=1)
    link = kind == _LINK
    length = np.where(link, sizes.link_length, sizes.bolt_length)

    def on_axis(at: Array) -> Array:
        return layouts.tip + at[:, None] * layouts.axis

    bolt = np.stack([on_axis(most), on_axis(least - length)], axis=1)
    heads = np.stack([on_axis(least - length), on_axis(most - length)], axis=1)
    in_plate = kind == _IN_PLATE
    turns = np.stack([in_plate | link, in_plate], axis=1)
    rod = Turning(layouts.hinge, bolt, turns)
    head = Turning(layouts.hinge, heads, np.stack([in_plate, in_plate], 1), sizes.wrench_space)
    return (_whole("bolt", rod), Part("wrench", (head,), head.lever, ~link))


def _belt(layouts: Layouts, sizes: Sizes) -> Part:
    hinge, count = layouts.hinge, len(layouts)
    one = np.ones((count, 1), dtype=bool)
    motor = Turning(hinge, layouts.motor[:, None, :], one, sizes.motor_radius)
    place = np.broadcast_to(np.asarray(sizes.driven), (count, 1, 2))
    driven = Turning(hinge, place, ~one, sizes.driven_radius)
    strands = BeltStrands(
        hinge, layouts.motor, sizes.driven, sizes.driven_radius, sizes.motor_radius
    )
    # No point of the hull of two discs moves more than the disc that moves.
    return Part("belt", (strands, driven, motor), motor.lever, one[:, 0])
