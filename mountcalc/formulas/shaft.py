"""Statics and bending of a uniform driven shaft on its two plain bearings.

Forces act in two planes at once, anywhere along the shaft, overhangs included. Each bearing is a
simple support at its middle, but for :func:`edge_loads`: a shaft that bends bears harder at one end
of a stiff box, so the place of the support is only known to lie somewhere along it. Shear strain
and the stiffness that a long box lends to the shaft are left out.

Symbols
-------
positions : where along the shaft the forces act, shape (..., k), any origin [m]
forces : the forces' components, shape (..., k, 2) [N]
first, second : middles of the two bearings, in different places [m]
middles, lengths : the same of both bearings, and the lengths of their boxes [m]
pulley_position : where the pulley is [m]
place : where along the shaft [m]
load : size of the load F on a bearing [N]
diameter : of shaft or journal, d [m]
length : of a bearing, l [m]
modulus : Young's modulus E [Pa]
stiffness : EI, the same all along [N m^2]
moment : components of the bending moment M, shape (..., 2) [N m]
slope : size of the slope theta of the shaft at a bearing [rad]
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.errors import InputError
from mountcalc.record import Record

Array = NDArray[np.float64]

_STEEL_MODULUS = 205e9  # [Pa] Young's modulus of shafting steel, common practice


def bearing_loads(
    positions: ArrayLike, forces: ArrayLike, first: float, second: float
) -> tuple[Array, Array]:
    """Load vectors [N] on both bearings of a shaft with forces across it, shape (..., 2) each.

    The shaft as a beam on two simple supports: for an overhung pulley the same as
    R_B = P (L + a)/L and R_A = -P a/L (any statics text).
    """
    force = np.asarray(forces, dtype=float)
    share = (np.asarray(positions, dtype=float) - first) / (second - first)
    on_second = np.sum(force * share[..., np.newaxis], axis=-2)
    return np.sum(force, axis=-2) - on_second, on_second


def projected_pressure(load: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Load on the projected area: p = F / (d l) [Pa] (Shigley, Machine Design, 12-8)."""
    result: Array = np.asarray(load, dtype=float) / (np.asarray(diameter) * np.asarray(length))
    return result


class Edge(IntEnum):
    """Where in a box the load acts."""

    MIDDLE = 0
    TOWARDS_PULLEY = 1
    AWAY_FROM_PULLEY = 2


# Places of (first, second) support that are compared.
_PAIRS = (
    (Edge.MIDDLE, Edge.MIDDLE),
    (Edge.TOWARDS_PULLEY, Edge.TOWARDS_PULLEY),
    (Edge.TOWARDS_PULLEY, Edge.AWAY_FROM_PULLEY),
    (Edge.AWAY_FROM_PULLEY, Edge.TOWARDS_PULLEY),
    (Edge.AWAY_FROM_PULLEY, Edge.AWAY_FROM_PULLEY),
)


class EdgeLoads(Record):
    """Loads of both bearings for supports at the middles and ends of their boxes.

    Load vectors [N] (..., bearing, 2) with both supports at their ``middle`` and with both at the
    end ``towards_pulley``; ``greatest`` size [N] (..., bearing) over middles and all pairs of ends,
    and the :class:`Edge` of the bearing itself and of the other one at which it is reached.
    """

    middle: Array
    towards_pulley: Array
    greatest: Array
    own_edge: NDArray[np.int_]
    other_edge: NDArray[np.int_]


def edge_loads(
    positions: ArrayLike,
    forces: ArrayLike,
    middles: tuple[float, float],
    lengths: tuple[float, float],
    pulley_position: float,
) -> EdgeLoads:
    """Loads [N] on two bearings whose supports may be anywhere along their boxes.

    Of a bearing right under the pulley the end nearer to the other bearing counts as the one
    towards the pulley. Each load is linear in 1/L as either support moves, its size convex: no
    place inside a box is worse than its ends (any statics text: R_B = P (L + a)/L with L and a
    from the supports). InputError where the boxes touch or overlap.
    """
    if abs(middles[1] - middles[0]) <= 0.5 * (lengths[0] + lengths[1]):
        raise InputError("the bearings overlap along the shaft")
    places = []  # of each bearing its middle, end towards the pulley, end away from it
    for middle, length, other in zip(middles, lengths, middles[::-1], strict=True):
        towards = np.sign(pulley_position - middle) or np.sign(other - middle)
        half = 0.5 * length * float(towards)
        places.append((middle, middle + half, middle - half))
    loads = np.stack(
        [
            np.stack(bearing_loads(positions, forces, places[0][a], places[1][b]), axis=-2)
            for a, b in _PAIRS
        ]
    )
    sizes = np.hypot(loads[..., 0], loads[..., 1])
    pairs = np.array(_PAIRS)
    worst = np.argmax(sizes, axis=0)
    bearing = np.arange(2)
    return EdgeLoads(
        middle=loads[0],
        towards_pulley=loads[1],
        greatest=np.max(sizes, axis=0),
        own_edge=pairs[worst, bearing],
        other_edge=pairs[worst, 1 - bearing],
    )


def bending_stiffness(diameter: ArrayLike, modulus: ArrayLike = _STEEL_MODULUS) -> Array:
    """Of a round shaft: EI = E pi d^4 / 64 [N m^2] (Shigley, Machine Design, Table A-18)."""
    result: Array = np.asarray(modulus) * np.pi * np.asarray(diameter, dtype=float) ** 4 / 64.0
    return result


def bending_moment(
    place: float, positions: ArrayLike, forces: ArrayLike, first: float, second: float
) -> Array:
    """Bending moment [N m] at one place: of all forces and bearings on one side of it.

    Components in the planes of the forces' components, shape (..., 2), positive where the forces
    beyond bend the shaft their way (any statics text). Its greatest size is at a force or a
    bearing; at the overhang, at the bearing next to the pulley.
    """
    force = np.asarray(forces, dtype=float)
    beyond = np.maximum(np.asarray(positions, dtype=float) - place, 0.0)
    moment: Array = np.sum(force * beyond[..., np.newaxis], axis=-2)
    for support, load in zip(
        (first, second), bearing_loads(positions, forces, first, second), strict=True
    ):
        moment = moment - load * max(support - place, 0.0)
    return moment


def bending_stress(moment: ArrayLike, diameter: ArrayLike) -> Array:
    """Greatest bending stress of a round shaft: sigma = 32 M / (pi d^3) [Pa].

    Without stress concentration; it reverses with each turn (Shigley, Machine Design, 3-10).
    """
    size = np.linalg.norm(np.asarray(moment, dtype=float), axis=-1)
    result: Array = 32.0 * size / (np.pi * np.asarray(diameter) ** 3)
    return result


def bearing_slopes(
    positions: ArrayLike, forces: ArrayLike, first: float, second: float, stiffness: float
) -> tuple[Array, Array]:
    """Slopes dy/dx [rad] of the shaft's axis at both bearings, shape (..., 2), x as the positions.

    The sum over the forces of the cases of a beam on two supports with a load between them and
    with one on an overhang (Shigley, Machine Design, Table A-9, cases 6 and 10).
    """
    force = np.asarray(forces, dtype=float)
    span = second - first
    share = (np.asarray(positions, dtype=float) - first) / span
    rest, inside, beyond = 1.0 - share, (share > 0.0) & (share < 1.0), share >= 1.0
    # Slopes times 6 EI / (F L^2) of a unit span.
    at_first = np.where(beyond, rest, np.where(inside, rest * (1.0 - rest**2), 2.0 * share))
    at_second = np.where(beyond, -2.0 * rest, np.where(inside, -share * (1.0 - share**2), -share))
    scale = span * abs(span) / (6.0 * stiffness)
    first_slope, second_slope = (
        np.sum(force * (scale * unit)[..., np.newaxis], axis=-2) for unit in (at_first, at_second)
    )
    return first_slope, second_slope


def edge_rise(slope: ArrayLike, length: ArrayLike) -> Array:
    """Height by which a tilted journal rises towards the end of its bearing: theta l / 2 [m].

    To be held against the thinnest film, or half the diametral clearance where none is computed
    (common practice; from memory).
    """
    result: Array = 0.5 * np.asarray(slope, dtype=float) * np.asarray(length)
    return result
