"""How stiff boards and rods are: in bending, in twist, along their length.

Symbols
-------
modulus : Young's modulus E [Pa]
width : of the section, b [m]
thickness : of the section, t, not above the width [m]
length : of a rod, l [m]
area : of its section, A [m^2]
bending : its bending stiffness, EI [N m^2]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def bending_stiffness(modulus: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Array:
    """Of a board bent flatwise: EI = E b t^3 / 12 [N m^2] (any statics text)."""
    result: Array = np.asarray(modulus) * np.asarray(width) * np.power(thickness, 3) / 12.0
    return result


def torsion_constant(width: ArrayLike, thickness: ArrayLike) -> Array:
    """Of a rectangular section: J = b t^3 (1/3 - 0.21 (t/b) (1 - t^4 / (12 b^4))) [m^4].

    A bar's twist is T l / (G J) (common practice; Roark's formulas for stress and strain, from
    memory; within 0.5 % of Saint-Venant's series, to which the tests hold it).
    """
    thin, wide = np.asarray(thickness, dtype=float), np.asarray(width, dtype=float)
    ratio = thin / wide
    result: Array = wide * thin**3 * (1.0 / 3.0 - 0.21 * ratio * (1.0 - ratio**4 / 12.0))
    return result


def stretch_compliance(length: ArrayLike, modulus: ArrayLike, area: ArrayLike) -> Array:
    """What a rod gets longer or shorter by under a force: l / (E A) [m/N] (any statics text)."""
    result: Array = np.asarray(length, dtype=float) / (np.asarray(modulus) * np.asarray(area))
    return result


def cantilever_compliance(length: ArrayLike, bending: ArrayLike) -> Array:
    """What the free end of a rod that is held at the other gives to a force across it [m/N].

    l^3 / (3 EI) (Shigley, Machine Design, Table A-9, case 1).
    """
    result: Array = np.asarray(length, dtype=float) ** 3 / (3.0 * np.asarray(bending))
    return result
