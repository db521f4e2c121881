"""A hinged board under the loads of a motor mount: bent as a beam from hinge to bolt, and twisted.

The board lies on two lines square to the way it runs: the hinge's, at 0, and the bolt's, at
``support``. Forces on it (the motor's feet) may act anywhere, beyond the bolt too; they count
positive as they press the board on its supports.

Symbols
-------
places : where along the board, from the hinge's line, shape (m,) [m]
positions : where the forces act, shape (k,) [m]
forces : square to the board, shape (..., k) [N]
support : where the bolt holds it, not at the hinge [m]
stiffness : bending stiffness EI [N m^2]
moment : bending moment M [N m]
force : shear force V [N]
section : section modulus [m^3]
width, thickness : of the board's section, b and t, the width not the smaller [m]
torque : that twists the board about the way it runs [N m]
length : over which it is twisted [m]
shear_modulus : G [Pa]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.formulas.section import torsion_constant

Array = NDArray[np.float64]


def _beyond(places: ArrayLike, at: ArrayLike, power: int) -> Array:
    """Macaulay's brackets <x - a>^n, shape (places, forces)."""
    reach = np.asarray(places, dtype=float)[:, np.newaxis] - np.atleast_1d(at)
    result: Array = np.maximum(reach, 0.0) ** power
    return result


def support_forces(positions: ArrayLike, forces: ArrayLike, support: float) -> tuple[Array, Array]:
    """What hinge and bolt press the board with [N], against its loads (any statics text)."""
    force = np.asarray(forces, dtype=float)
    on_bolt = np.sum(force * np.asarray(positions, dtype=float), axis=-1) / support
    return np.sum(force, axis=-1) - on_bolt, on_bolt


def board_moment(
    places: ArrayLike, positions: ArrayLike, forces: ArrayLike, support: float
) -> Array:
    """Bending moment [N m] at places, shape (..., m); hollow on the loaded side positive.

    M = R x - sum P <x - a> + B <x - l> (any statics text): greatest at a force or at the bolt.
    """
    hinge, bolt = support_forces(positions, forces, support)
    where, force = np.asarray(places, dtype=float), np.asarray(forces, dtype=float)
    result: Array = (
        hinge[..., np.newaxis] * where
        + bolt[..., np.newaxis] * _beyond(where, support, 1)[:, 0]
        - np.sum(force[..., np.newaxis, :] * _beyond(where, positions, 1), axis=-1)
    )
    return result


def board_deflection(
    places: ArrayLike, positions: ArrayLike, forces: ArrayLike, support: float, stiffness: float
) -> Array:
    """How far the board gives at places, the way its loads press [m], shape (..., m).

    EI y integrates the moment twice from nothing at hinge and bolt (Shigley, Machine Design,
    4-6 and Table A-9, cases 6 and 10).
    """
    hinge, bolt = support_forces(positions, forces, support)
    where, force = np.asarray(places, dtype=float), np.asarray(forces, dtype=float)

    def bent(at: Array) -> Array:
        total: Array = (
            hinge[..., np.newaxis] * at**3
            + bolt[..., np.newaxis] * _beyond(at, support, 3)[:, 0]
            - np.sum(force[..., np.newaxis, :] * _beyond(at, positions, 3), axis=-1)
        )
        return total

    slope = bent(np.array([support])) / support
    result: Array = (slope * where - bent(where)) / (6.0 * stiffness)
    return result


def bending_stress(moment: ArrayLike, section: ArrayLike) -> Array:
    """Greatest bending stress of a board: M / W [Pa] (any statics text)."""
    result: Array = np.abs(np.asarray(moment, dtype=float)) / np.asarray(section)
    return result


def shear_stress(force: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Array:
    """Greatest shear stress of a board bent flat: 3 V / (2 b t) [Pa] (any statics text)."""
    area = np.asarray(width, dtype=float) * np.asarray(thickness)
    result: Array = 1.5 * np.abs(np.asarray(force, dtype=float)) / area
    return result


def twist(
    torque: ArrayLike,
    length: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    shear_modulus: ArrayLike,
) -> Array:
    """Angle by which one end of a board turns against the other: T l / (G J) [rad].

    The ends free to warp (Shigley, Machine Design, 3-12).
    """
    resists = np.asarray(shear_modulus) * torsion_constant(width, thickness)
    result: Array = np.asarray(torque, dtype=float) * np.asarray(length) / resists
    return result


def torsion_stress(torque: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Array:
    """Greatest shear stress of a twisted board: T (3 + 1.8 t/b) / (b t^2) [Pa].

    Amid the longer side (Shigley, Machine Design, 3-40, within some percent).
    """
    long, short = np.asarray(width, dtype=float), np.asarray(thickness, dtype=float)
    size = np.abs(np.asarray(torque, dtype=float))
    result: Array = size * (3.0 + 1.8 * short / long) / (long * short**2)
    return result
