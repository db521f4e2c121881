"""Bending of a uniform driven shaft on two plain bearings: moments, stress, slopes.

Forces act in two planes at once, anywhere along the shaft, overhangs included. Shear strain and
the stiffness that a long box lends to the shaft are left out.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.formulas.shaft import bearing_loads

__all__ = [
    "STEEL_MODULUS",
    "bearing_slopes",
    "bending_moment",
    "bending_stiffness",
    "bending_stress",
    "diameter_for_slope",
    "edge_rise",
]

Array = NDArray[np.float64]

# Young's modulus of shafting steel [Pa], common practice.
STEEL_MODULUS = 205e9


def bending_stiffness(diameter: ArrayLike, modulus: ArrayLike = STEEL_MODULUS) -> Array:
    """Bending stiffness of a round shaft: EI = E pi d^4 / 64.

    Parameters
    ----------
    diameter : array_like [m]
        Shaft diameter d.
    modulus : array_like [Pa]
        Young's modulus E.

    Returns
    -------
    ndarray [N m^2]
        EI (Shigley, Machine Design, Table A-18; E of steel is common practice).
    """
    result: Array = np.asarray(modulus) * np.pi * np.asarray(diameter, dtype=float) ** 4 / 64.0
    return result


def bending_moment(
    place: float, positions: ArrayLike, forces: ArrayLike, first: float, second: float
) -> Array:
    """Bending moment of the shaft at one place: of all forces and bearings on one side of it.

    Parameters
    ----------
    place : float [m]
        Where along the shaft.
    positions : array_like [m]
        Where the forces act, shape (..., k); any origin.
    forces : array_like [N]
        The forces' components, shape (..., k, 2).
    first : float [m]
        Middle of the first bearing.
    second : float [m]
        Middle of the second bearing, elsewhere than the first.

    Returns
    -------
    ndarray [N m]
        The moment's components in the planes of the forces' components, shape (..., 2), positive
        where the forces beyond bend the shaft their way (any statics text). Its greatest size
        is at a force or a bearing; at the overhang, at the bearing next to the pulley.
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
    """Greatest bending stress of a round shaft: sigma = 32 M / (pi d^3).

    Parameters
    ----------
    moment : array_like [N m]
        Components of the bending moment, shape (..., 2).
    diameter : array_like [m]
        Shaft diameter d.

    Returns
    -------
    ndarray [Pa]
        sigma, without stress concentration; it reverses with each turn (Shigley, Machine
        Design, 3-10).
    """
    size = np.linalg.norm(np.asarray(moment, dtype=float), axis=-1)
    result: Array = 32.0 * size / (np.pi * np.asarray(diameter) ** 3)
    return result


def bearing_slopes(
    positions: ArrayLike, forces: ArrayLike, first: float, second: float, stiffness: float
) -> tuple[Array, Array]:
    """Slopes of the shaft's axis at two bearings, each taken as a simple support at its middle.

    Parameters
    ----------
    positions : array_like [m]
        Where the forces act, shape (..., k); any origin.
    forces : array_like [N]
        The forces' components, shape (..., k, 2).
    first : float [m]
        Middle of the first bearing.
    second : float [m]
        Middle of the second bearing, elsewhere than the first.
    stiffness : float [N m^2]
        EI, the same all along.

    Returns
    -------
    tuple of ndarray [rad]
        Slopes dy/dx at first and second, shape (..., 2), x along the positions: the sum over
        the forces of the cases of a beam on two supports with a load between them and with one
        on an overhang (Shigley, Machine Design, Table A-9, cases 6 and 10).
    """
    force = np.asarray(forces, dtype=float)
    span = second - first
    share = (np.asarray(positions, dtype=float) - first) / span
    scale = span * abs(span) / (6.0 * stiffness)
    at_first, at_second = (
        np.sum(force * (scale * unit)[..., np.newaxis], axis=-2) for unit in _unit_slopes(share)
    )
    return at_first, at_second


def _unit_slopes(share: Array) -> tuple[Array, Array]:
    """Slopes times 6 EI / (F L^2) at 0 and 1 of a unit span for a load at ``share``."""
    rest = 1.0 - share
    inside = (share > 0.0) & (share < 1.0)
    at_first = np.where(share >= 1.0, rest, np.where(inside, rest * (1.0 - rest**2), 2.0 * share))
    at_second = np.where(
        share >= 1.0, -2.0 * rest, np.where(inside, -share * (1.0 - share**2), -share)
    )
    return at_first, at_second


def edge_rise(slope: ArrayLike, length: ArrayLike) -> Array:
    """Height by which a tilted journal rises towards the end of its bearing: theta L / 2.

    Parameters
    ----------
    slope : array_like [rad]
        Size of the slope theta at the bearing.
    length : array_like [m]
        Bearing length L.

    Returns
    -------
    ndarray [m]
        The rise, to be held against the thinnest film, or half the diametral clearance where
        none is computed (common practice; from memory).
    """
    result: Array = 0.5 * np.asarray(slope, dtype=float) * np.asarray(length)
    return result


def diameter_for_slope(
    diameter: ArrayLike, slope: ArrayLike, wanted: ArrayLike, factor: ArrayLike = 1.0
) -> Array:
    """Diameter at which a uniform shaft has a wanted slope: d (n theta / theta_all)^(1/4).

    Parameters
    ----------
    diameter : array_like [m]
        Diameter d of the shaft as it is.
    slope : array_like [rad]
        Its slope theta, of either sign.
    wanted : array_like [rad]
        Slope theta_all that is allowed, above zero.
    factor : array_like [-]
        Design factor n.

    Returns
    -------
    ndarray [m]
        The diameter (Shigley, Machine Design, Eq. 7-18).
    """
    share = np.abs(np.asarray(factor) * np.asarray(slope, dtype=float) / np.asarray(wanted))
    result: Array = np.asarray(diameter) * share**0.25
    return result
