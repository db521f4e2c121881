"""Heat of a plain bearing that rubs: surface speed and pressure times speed (pV)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["pressure_speed", "surface_speed"]

Array = NDArray[np.float64]


def surface_speed(diameter: ArrayLike, speed: ArrayLike) -> Array:
    """Speed of the journal's surface: V = omega d / 2.

    Parameters
    ----------
    diameter : array_like [m]
        Journal diameter d.
    speed : array_like [rad/s]
        Angular speed omega.

    Returns
    -------
    ndarray [m/s]
        V = pi d n / 12 in ft/min for inches and rev/min (Shigley, Machine Design, ch. 12).
    """
    result: Array = 0.5 * np.asarray(diameter, dtype=float) * np.asarray(speed)
    return result


def pressure_speed(pressure: ArrayLike, surface: ArrayLike) -> Array:
    """Projected pressure times surface speed, to which the heat of rubbing is proportional: p V.

    Parameters
    ----------
    pressure : array_like [Pa]
        Projected pressure p.
    surface : array_like [m/s]
        Surface speed V.

    Returns
    -------
    ndarray [Pa m/s]
        pV (Mott, Machine Elements in Mechanical Design, ch. 16; Shigley, Machine Design, ch. 12).
        It judges boundary lubrication, not a bearing that runs on a full film.
    """
    result: Array = np.asarray(pressure, dtype=float) * np.asarray(surface)
    return result
