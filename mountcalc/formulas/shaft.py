"""Statics of the driven shaft on its two plain bearings."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["bearing_loads", "projected_pressure"]

Array = NDArray[np.float64]


def bearing_loads(
    positions: ArrayLike, forces: ArrayLike, first: float, second: float
) -> tuple[Array, Array]:
    """Loads that a shaft with forces across it puts on two bearings.

    Parameters
    ----------
    positions : array_like [m]
        Where along the shaft the forces act, shape (..., k); any origin.
    forces : array_like [N]
        The forces' components, shape (..., k, 2).
    first : float [m]
        Middle of the first bearing.
    second : float [m]
        Middle of the second bearing, elsewhere than the first.

    Returns
    -------
    tuple of ndarray [N]
        Load vectors on the first and second bearing, shape (..., 2) each: the shaft as a beam
        on two simple supports (for an overhung pulley the same as R_B = P (L + a)/L and
        R_A = -P a/L, any statics text).
    """
    force = np.asarray(forces, dtype=float)
    share = (np.asarray(positions, dtype=float) - first) / (second - first)
    on_second = np.sum(force * share[..., np.newaxis], axis=-2)
    return np.sum(force, axis=-2) - on_second, on_second


def projected_pressure(load: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Bearing load on the projected area: p = F / (d l).

    Parameters
    ----------
    load : array_like [N]
        Size of the load F.
    diameter : array_like [m]
        Journal diameter d.
    length : array_like [m]
        Bearing length l.

    Returns
    -------
    ndarray [Pa]
        Projected pressure (Shigley, Machine Design, 12-8, P = W / (l d)).
    """
    result: Array = np.asarray(load, dtype=float) / (np.asarray(diameter) * np.asarray(length))
    return result
