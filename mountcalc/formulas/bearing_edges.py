"""Loads of two long bearings if each bears at an end of its box rather than at its middle.

A shaft that bends bears harder at one end of a stiff box, so the place of the support is only
known to lie somewhere along it. The loads are those of the shaft on two simple supports, which
stand at the middles, at the ends towards the pulley, or at any of the four pairs of ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.errors import InputError
from mountcalc.formulas.shaft import bearing_loads

__all__ = ["Edge", "EdgeLoads", "edge_loads"]

Array = NDArray[np.float64]
Index = NDArray[np.int_]


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


@dataclass(frozen=True)
class EdgeLoads:
    """Loads of both bearings for supports at the middles and ends of their boxes.

    Attributes
    ----------
    middle : ndarray [N]
        Load vectors, (..., bearing, 2), both supports at their middles.
    towards_pulley : ndarray [N]
        The same, both supports at the ends towards the pulley.
    greatest : ndarray [N]
        Greatest size of each bearing's load, (..., bearing), over middles and all pairs of ends.
    own_edge, other_edge : ndarray [-]
        :class:`Edge` of the bearing itself and of the other one at which it is reached.
    """

    middle: Array
    towards_pulley: Array
    greatest: Array
    own_edge: Index
    other_edge: Index


def edge_loads(
    positions: ArrayLike,
    forces: ArrayLike,
    middles: tuple[float, float],
    lengths: tuple[float, float],
    pulley_position: float,
) -> EdgeLoads:
    """Loads on two bearings whose supports may be anywhere along their boxes.

    Parameters
    ----------
    positions : array_like [m]
        Where along the shaft the forces act, shape (..., k); any origin.
    forces : array_like [N]
        The forces' components, shape (..., k, 2).
    middles : tuple of float [m]
        Middles of the first and second bearing.
    lengths : tuple of float [m]
        Their lengths.
    pulley_position : float [m]
        Where the pulley is; of a bearing right under it the end nearer to the other bearing
        counts as the one towards the pulley.

    Returns
    -------
    EdgeLoads [N]
        Loads at the middles, at the ends towards the pulley, and the greatest with the ends
        that govern (any statics text: R_B = P (L + a)/L with L and a from the supports). Each
        load is linear in 1/L as either support moves, its size convex: no place inside a box is
        worse than its ends.

    Raises
    ------
    InputError
        The boxes touch or overlap.
    """
    if abs(middles[1] - middles[0]) <= 0.5 * (lengths[0] + lengths[1]):
        raise InputError("the bearings overlap along the shaft")
    places = [_places(middles[i], lengths[i], middles[1 - i], pulley_position) for i in range(2)]
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


def _places(middle: float, length: float, other: float, pulley: float) -> tuple[float, ...]:
    """Middle, end towards the pulley, end away from it."""
    towards = np.sign(pulley - middle) or np.sign(other - middle)
    half = 0.5 * length * float(towards)
    return middle, middle + half, middle - half
