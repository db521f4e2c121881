"""Screws in wood and panels: pulled out, pushed aside, both at once; heads and washers.

Published forms, each in the units of its print inside and in SI outside. "Ultimate" is a mean of
tests that broke; "allowable" has the factor of its source on it (about five), for ten years' load.
All hold with lead holes and for the threaded length in the wood that counts.

Symbols
-------
gravity : specific gravity of the wood, oven-dry weight over volume, G [-]
diameter : of the screw's shank, D [m]
length : of thread in the piece that holds the point, L [m]
constant : C of a group of species [Pa]
pull : along the screw, out of the wood [N]
side : square to the screw [N]
withdrawal, lateral : what it may carry of each alone [N]
head : diameter of a head or washer [m]
hole : diameter of the hole under it [m]
thickness : of the piece under the head [m]
force : on a washer [N]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_INCH = 0.0254
_POUND = 4.4482216152605
_PSI = _POUND / _INCH**2


def _in_inches(length: ArrayLike) -> Array:
    result: Array = np.asarray(length, dtype=float) / _INCH
    return result


def withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Ultimate pull of a wood screw in side grain: 15 700 psi G^2 D L [N].

    Wood Handbook, equation 8-10; from memory.
    """
    area = np.asarray(diameter, dtype=float) * np.asarray(length)
    result: Array = 15700.0 * _PSI * np.asarray(gravity) ** 2 * area
    return result


def allowed_withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Allowable pull of a wood screw in side grain: 2 850 psi G^2 D L [N].

    Hicks, Civil Engineering Formulas, equation 6.37. None may be pulled out of end grain (ib.).
    """
    area = np.asarray(diameter, dtype=float) * np.asarray(length)
    result: Array = 2850.0 * _PSI * np.asarray(gravity) ** 2 * area
    return result


def allowed_lag_withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Allowable pull of a lag screw in side grain: 1 800 G^1.5 D^0.75 L [N] (lb, in).

    NDS; from memory. 75 % of it in end grain.
    """
    sizes = _in_inches(diameter) ** 0.75 * _in_inches(length)
    result: Array = 1800.0 * _POUND * np.asarray(gravity) ** 1.5 * sizes
    return result


def lag_withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Ultimate pull of a lag screw in side grain: 8 100 G^1.5 D^0.75 L [N] (lb, in).

    Wood Handbook, chapter 8; from memory.
    """
    return allowed_lag_withdrawal(gravity, diameter, length) * (8100.0 / 1800.0)


def panel_face_withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Ultimate pull in the face of fibreboard or particleboard [N].

    2 655 D^0.5 (L - D/3)^1.25 G^2 (lb, in): Wood Handbook, chapter 8; from memory.
    """
    across, deep = _in_inches(diameter), _in_inches(length)
    held = np.maximum(deep - across / 3.0, 0.0) ** 1.25
    result: Array = 2655.0 * _POUND * np.sqrt(across) * held * np.asarray(gravity) ** 2
    return result


def panel_edge_withdrawal(gravity: ArrayLike, diameter: ArrayLike, length: ArrayLike) -> Array:
    """Ultimate pull in the edge of fibreboard or particleboard [N].

    As in the face, with 2 055 for 2 655 (Wood Handbook, chapter 8; from memory).
    """
    return panel_face_withdrawal(gravity, diameter, length) * (2055.0 / 2655.0)


def slip_modulus(gravity: ArrayLike, diameter: ArrayLike) -> Array:
    """Force over slip of a screw or bolt between steel and wood: 2 rho^1.5 d / 23 [N/m].

    In N/mm with rho in kg/m^3, at 12 % moisture 1 120 G, and d in mm (EN 1995-1-1, Table 7.1 and
    7.1(3); from memory). Play of holes comes on top.
    """
    mean = 1120.0 * np.asarray(gravity, dtype=float)
    result: Array = 2.0 * mean**1.5 * 1e3 * np.asarray(diameter) / 23.0 * 1e3
    return result


def allowed_lateral(constant: ArrayLike, diameter: ArrayLike) -> Array:
    """Allowable push on a wood screw, side grain, seven diameters deep or more: C D^2 [N].

    Hicks, Civil Engineering Formulas, equation 6.38.
    """
    result: Array = np.asarray(constant, dtype=float) * np.asarray(diameter) ** 2
    return result


def depth_share(diameter: ArrayLike, length: ArrayLike) -> Array:
    """Share of the lateral strength that a screw has which is less than seven diameters deep [-].

    In proportion down to four diameters, nothing below (NDS of 1991; from memory).
    """
    deep = np.asarray(length, dtype=float) / np.asarray(diameter)
    result: Array = np.where(deep < 4.0 * (1 - 1e-9), 0.0, np.minimum(deep / 7.0, 1.0))
    return result


def combined_share(
    pull: ArrayLike, side: ArrayLike, withdrawal: ArrayLike, lateral: ArrayLike
) -> Array:
    """Share used up of a screw that is pulled out and pushed aside at once [-].

    Load over W Z / (W cos^2 + Z sin^2), the angle from the wood's face (NDS, 11.4.1, Hankinson's
    form; from memory). A screw that is pressed in has no pull. It must be able to carry both.
    """
    out = np.maximum(np.asarray(pull, dtype=float), 0.0)
    across = np.abs(np.asarray(side, dtype=float))
    load = np.hypot(out, across)
    mixed = out**2 / np.asarray(withdrawal) + across**2 / np.asarray(lateral)
    result: Array = np.divide(mixed, load, out=np.zeros_like(load), where=load > 0)
    return result


def pull_through(gravity: ArrayLike, head: ArrayLike, thickness: ArrayLike) -> Array:
    """Allowable pull of a round head through a side member: 690 pi D_H G^2 t [N] (lb, in).

    No more than 2.5 heads of thickness count (NDS, 12.2.5; from memory).
    """
    across = _in_inches(head)
    deep = np.minimum(_in_inches(thickness), 2.5 * across)
    result: Array = 690.0 * _POUND * np.pi * across * np.asarray(gravity) ** 2 * deep
    return result


def washer_pressure(force: ArrayLike, head: ArrayLike, hole: ArrayLike) -> Array:
    """Pressure of a washer round its hole: 4 F / (pi (D^2 - d^2)) [Pa] (any statics text)."""
    ring = np.asarray(head, dtype=float) ** 2 - np.asarray(hole, dtype=float) ** 2
    result: Array = 4.0 * np.asarray(force, dtype=float) / (np.pi * ring)
    return result
