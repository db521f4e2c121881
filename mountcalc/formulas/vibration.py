"""Free vibration: of a body on a spring, of a strand that runs, and how much a ripple is magnified.

Symbols
-------
stiffness : moment for each radian about the axis that a body swings on, k [N m]
inertia : of the body about that axis, J [kg m^2]
tension : of a strand, centrifugal part included, T [N]
mass : of the strand per metre, m', above zero [kg/m]
speed : of the strand along itself, v [m/s]
span : free span, t [m]
frequency : of the ripple, f [Hz]
natural : frequency of the body itself, f0; infinite where it is held rigidly [Hz]
damping : damping over the critical, zeta [-]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def natural_frequency(stiffness: ArrayLike, inertia: ArrayLike) -> Array:
    """Frequency of small swings: f = sqrt(k/J) / (2 pi) [Hz]; 0 where nothing brings it back.

    Khurmi and Gupta, Theory of Machines, 23.13 (torsional vibrations), from memory.
    """
    restoring = np.maximum(np.asarray(stiffness, dtype=float), 0.0)
    result: Array = np.sqrt(restoring / np.asarray(inertia)) / (2.0 * np.pi)
    return result


def running_span_frequency(
    tension: ArrayLike, mass: ArrayLike, speed: ArrayLike, span: ArrayLike
) -> Array:
    """First frequency of a taut strand that runs: f = (c^2 - v^2) / (2 t c), c^2 = T/m' [Hz].

    At a standstill that of a string; 0 where it runs as fast as its waves, at T = Tc (the axially
    moving string, common practice).
    """
    square = np.asarray(tension, dtype=float) / np.asarray(mass)
    waves = np.sqrt(np.maximum(square, np.finfo(float).tiny))
    excess = np.maximum(square - np.square(np.asarray(speed, dtype=float)), 0.0)
    result: Array = excess / (2.0 * np.asarray(span) * waves)
    return result


def magnification(frequency: ArrayLike, natural: ArrayLike, damping: ArrayLike) -> Array:
    """Force that a spring passes on over the ripple that shakes the body on it [-].

    sqrt((1 + (2 z r)^2) / ((1 - r^2)^2 + (2 z r)^2)), r = f/f0 (transmissibility; Khurmi and
    Gupta, Theory of Machines, 23.19, from memory).
    """
    ratio = np.asarray(frequency, dtype=float) / np.asarray(natural, dtype=float)
    damped = np.square(2.0 * np.asarray(damping) * ratio)
    result: Array = np.sqrt((1.0 + damped) / (np.square(1.0 - np.square(ratio)) + damped))
    return result
