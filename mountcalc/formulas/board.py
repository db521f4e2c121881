"""A hinged board under the loads of a motor mount: bent as a beam along its length, and twisted.

Forces may act on it anywhere along its length, hinge and bolt among them: together they balance.
Positive is out of the face that the motor stands on.

Symbols
-------
places : where along the board forces act, rising, shape (..., k) [m]
forces : square to the board, shape (..., k) [N]
couples : that bend it there, shape (..., k) [N m]
ends, others : of two lines, at both ends of each piece, shape (..., k - 1) each [of any unit]
lengths : of the pieces, shape (..., k - 1) [m]
moment : bending moment M [N m]
force : shear force V [N]
section : section modulus [m^3]
width, thickness : of the board's section, b and t, the width not the smaller [m]
torque : that twists the board about the way it runs [N m]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Ends = tuple[Array, Array]


def piece_moments(places: ArrayLike, forces: ArrayLike, couples: ArrayLike) -> Ends:
    """Bending moment [N m] at both ends of each piece between places, shape (..., k - 1) each.

    M = sum F <x - a> + sum C <x - a>^0, straight between the places (any statics text): hollow on
    the face that positive forces point out of where it is positive.
    """
    lengths = np.diff(np.asarray(places, dtype=float), axis=-1)
    grows = np.cumsum(forces, axis=-1)[..., :-1] * lengths
    end = np.cumsum(couples, axis=-1)[..., :-1] + np.cumsum(grows, axis=-1)
    return end - grows, end


def product_of_lines(ends: Ends, others: Ends, lengths: ArrayLike) -> Array:
    """Integral over the pieces of two lines' product, [m] times the units of both, shape (...).

    With moments of a load and of a unit load it is EI times the deflection under the latter
    (virtual work; Shigley, Machine Design, 4-8).
    """
    (start, end), (first, last) = ends, others
    mean = (2.0 * start * first + start * last + end * first + 2.0 * end * last) / 6.0
    result: Array = np.sum(mean * np.asarray(lengths), axis=-1)
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


def torsion_stress(torque: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Array:
    """Greatest shear stress of a twisted board: T (3 + 1.8 t/b) / (b t^2) [Pa].

    Amid the longer side (Shigley, Machine Design, 3-40, within some percent).
    """
    long, short = np.asarray(width, dtype=float), np.asarray(thickness, dtype=float)
    size = np.abs(np.asarray(torque, dtype=float))
    result: Array = size * (3.0 + 1.8 * short / long) / (long * short**2)
    return result
