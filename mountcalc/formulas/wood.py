"""Boards over the years: layers, strength under a load that stays, creep, and what moisture moves.

Symbols
-------
width : of the board, square to the way it spans, b [m]
thickness : of all layers together, t [m]
layers : how many slide on one another; 1 for one piece, or where all are glued [-]
modulus : Young's modulus E across the board, through its thickness [Pa]
diameter : of a pad on its face, d [m]
strength : that nearly all pieces reach in a short test [Pa]
duration_factor : share of it that is left after the load's time, k_mod [-]
material_factor : what it is divided by for the sake of what varies yet, gamma_M [-]
creep : what the first deflection grows by, in units of itself, k_def [-]
time, whole : that the load has stood, and that after which all of ``creep`` has come [s]
exponent : of the power of time [-]
elsewhere : give of all that does not creep, seen from the same place [m/N]
give : of the wood for a newton more, before it creeps [m/N]
loaded : all that the wood gives before it creeps, over the force; ``give`` where nothing else
    loads it [m/N]
length : across the grain [m]
coefficient : share of a length per percent of moisture [-]
moisture_from, moisture_to : of the wood, percent of its dry weight [-]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def section_modulus(width: ArrayLike, thickness: ArrayLike, layers: ArrayLike = 1) -> Array:
    """Section modulus of a board bent flat: b t^2 / (6 n) [m^3] (any statics text).

    Layers that slide share the moment, each with b (t/n)^2 / 6.
    """
    square = np.asarray(thickness, dtype=float) ** 2
    result: Array = np.asarray(width) * square / (6.0 * np.asarray(layers))
    return result


def second_moment(width: ArrayLike, thickness: ArrayLike, layers: ArrayLike = 1) -> Array:
    """Second moment of area of a board bent flat: b t^3 / (12 n^2) [m^4] (any statics text)."""
    cube = np.asarray(thickness, dtype=float) ** 3
    result: Array = np.asarray(width) * cube / (12.0 * np.asarray(layers, dtype=float) ** 2)
    return result


def pad_compliance(modulus: ArrayLike, diameter: ArrayLike) -> Array:
    """How far a stiff round pad sinks into a board under a force: 1 / (E d) [m/N].

    A rigid die on an elastic half-space, P (1 - nu^2) / (2 a E) (Boussinesq; Timoshenko and
    Goodier, Theory of Elasticity, 139; from memory), without what Poisson's ratio takes off.
    """
    result: Array = 1.0 / (np.asarray(modulus, dtype=float) * np.asarray(diameter))
    return result


def design_strength(
    strength: ArrayLike, duration_factor: ArrayLike, material_factor: ArrayLike
) -> Array:
    """What a board may be stressed to: f k_mod / gamma_M [Pa] (EN 1995-1-1, 2.14)."""
    lasting = np.asarray(strength, dtype=float) * np.asarray(duration_factor)
    result: Array = lasting / np.asarray(material_factor)
    return result


def creep_after(creep: ArrayLike, time: ArrayLike, whole: ArrayLike, exponent: ArrayLike) -> Array:
    """What the first deflection has grown by after some time: k_def (t / t_whole)^m [-].

    Creep of wood follows a power of time (Wood Handbook, time under load); exponent and the time of
    the whole are for the caller to vouch for.
    """
    share = np.asarray(time, dtype=float) / np.asarray(whole)
    result: Array = np.asarray(creep) * share ** np.asarray(exponent)
    return result


def force_left(elsewhere: ArrayLike, give: ArrayLike, loaded: ArrayLike, creep: ArrayLike) -> Array:
    """Share of a force that is left where its ends stay and the wood between creeps [-].

    1 - k_def c_F / (c0 + c (1 + k_def)): all that the wood gives grows, and what the force falls by
    is taken up by a spring that has become softer (final modulus E / (1 + k_def), EN 1995-1-1,
    2.3.2.2). The least that may be left: creep falls with the force.
    """
    rest, wood = np.asarray(elsewhere, dtype=float), np.asarray(give, dtype=float)
    grown = np.asarray(creep)
    result: Array = 1.0 - grown * np.asarray(loaded) / (rest + wood * (1.0 + grown))
    return result


def movement(
    length: ArrayLike,
    coefficient: ArrayLike,
    moisture_from: ArrayLike,
    moisture_to: ArrayLike,
) -> Array:
    """What a length across the grain grows by as its moisture changes [m].

    Delta D = D C (M_F - M_I), between 6 and 14 % (Wood Handbook, equation 13-2).
    """
    change = np.asarray(moisture_to, dtype=float) - np.asarray(moisture_from)
    result: Array = np.asarray(length) * np.asarray(coefficient) * change
    return result
