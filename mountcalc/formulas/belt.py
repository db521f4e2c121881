"""Belt mechanics: tensions, traction, and how a tension is measured by hand.

Plain functions of SI numbers or arrays that broadcast. Tensions are those of one strand of
one belt. "Felt" is what is left of a strand's tension for the pulleys after the
centrifugal part: the tension in motion less ``m' v^2``.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "centrifugal_tension",
    "deflection_force",
    "elastic_tension",
    "least_tension",
    "pull_per_belt",
    "slip_share",
    "span_frequency",
    "strand_tensions",
    "wraps",
]

Array = NDArray[np.float64]

# Mid-span deflection of span/64 is the trade's test; it lengthens the span by 2 (1/64)^2.
DEFLECTION_RATIO = 1.0 / 64.0

# Strains closer to zero than this are rounding of the belt's path, not stretch.
_STRAIN_ROUNDING = 16 * np.finfo(float).eps


def elastic_tension(path: ArrayLike, free_length: ArrayLike, stiffness: ArrayLike) -> Array:
    """Tension at rest of a linear elastic belt: T = EA max(0, L - L0) / L0.

    Parameters
    ----------
    path : array_like [m]
        Belt path L.
    free_length : array_like [m]
        Free length L0.
    stiffness : array_like [N]
        EA, force per unit strain.

    Returns
    -------
    ndarray [N]
        Tension T; zero where the belt is slack.

    Notes
    -----
    Hooke's law. Leather and fabric-rubber belts are near linear only over a small range of
    tension (Stolarski, Tribology in Machine Design, 4.10.4).
    """
    strain = np.asarray(path, dtype=float) / np.asarray(free_length, dtype=float) - 1.0
    result: Array = np.asarray(stiffness) * np.where(strain > _STRAIN_ROUNDING, strain, 0.0)
    return result


def centrifugal_tension(mass: ArrayLike, speed: ArrayLike) -> Array:
    """Tension that a belt's own motion asks for: Tc = m' v^2.

    Parameters
    ----------
    mass : array_like [kg/m]
        Mass m' of one belt per metre.
    speed : array_like [m/s]
        Belt speed v.

    Returns
    -------
    ndarray [N]
        Centrifugal tension (Shigley, Machine Design, 17-2, Fc = (w/g) (V/60)^2).
    """
    result: Array = np.asarray(mass, dtype=float) * np.square(np.asarray(speed, dtype=float))
    return result


def pull_per_belt(power: ArrayLike, speed: ArrayLike, count: ArrayLike) -> Array:
    """Effective pull of one belt, the difference of its strands: Te = P / (v n).

    Parameters
    ----------
    power : array_like [W]
        Power carried by the drive.
    speed : array_like [m/s]
        Belt speed v, above zero.
    count : array_like [-]
        Number of equal belts n.

    Returns
    -------
    ndarray [N]
        Te = T1 - T2 (Shigley, Machine Design, 17-2).
    """
    result: Array = np.asarray(power, dtype=float) / (np.asarray(speed) * np.asarray(count))
    return result


def wraps(beta: ArrayLike) -> tuple[Array, Array]:
    """Arcs of contact of an open belt: pi - 2 beta on the motor pulley, pi + 2 beta on the driven.

    Parameters
    ----------
    beta : array_like [rad]
        Angle of the strands to the line of centres, asin((R - r)/C); below zero where the motor
        pulley is the larger.

    Returns
    -------
    tuple of ndarray [rad]
        Wrap on the motor pulley and on the driven pulley (Shigley, Machine Design, Eq. 17-1).
    """
    angle = np.asarray(beta, dtype=float)
    return np.pi - 2.0 * angle, np.pi + 2.0 * angle


def slip_share(traction: ArrayLike, wrap: ArrayLike) -> Array:
    """Half the greatest pull as a share of the felt mean tension: q = (E - 1)/(E + 1).

    Parameters
    ----------
    traction : array_like [-]
        Coefficient mu, groove wedging included.
    wrap : array_like [rad]
        Arc of contact.

    Returns
    -------
    ndarray [-]
        q = tanh(mu wrap / 2), with E = exp(mu wrap) the ratio of felt tensions at which the
        belt slips: (T1 - Tc)/(T2 - Tc) = E (Shigley, Machine Design, Eq. 17-7 and 17-9).
    """
    result: Array = np.tanh(0.5 * np.asarray(traction, dtype=float) * np.asarray(wrap))
    return result


def least_tension(pull: ArrayLike, share: ArrayLike, centrifugal: ArrayLike) -> Array:
    """Rest tension at which a held belt just carries a pull: T = Te/(2 q) + Tc.

    Parameters
    ----------
    pull : array_like [N]
        Effective pull Te of one belt.
    share : array_like [-]
        q of :func:`slip_share`.
    centrifugal : array_like [N]
        Tc.

    Returns
    -------
    ndarray [N]
        Least rest tension (Shigley, Machine Design, Eq. 17-9, with Tc added: at fixed centres
        the rest tension includes it).
    """
    result: Array = np.asarray(pull, dtype=float) / (2.0 * np.asarray(share)) + np.asarray(
        centrifugal
    )
    return result


def strand_tensions(tension: ArrayLike, pull: ArrayLike) -> tuple[Array, Array]:
    """Tight and slack tension at fixed centres: T1 = T + Te/2 and T2 = T - Te/2.

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T.
    pull : array_like [N]
        Effective pull Te of one belt.

    Returns
    -------
    tuple of ndarray [N]
        (T1, T2) of a linear elastic belt whose arcs are neglected (Khurmi and Gupta, Theory of
        Machines, 11.21).
    """
    half = 0.5 * np.asarray(pull, dtype=float)
    return np.asarray(tension) + half, np.asarray(tension) - half


def span_frequency(tension: ArrayLike, mass: ArrayLike, span: ArrayLike) -> Array:
    """First natural frequency of a free span at rest: f = sqrt(T/m') / (2 t).

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T of one belt.
    mass : array_like [kg/m]
        Mass m' per metre, above zero.
    span : array_like [m]
        Free span t.

    Returns
    -------
    ndarray [Hz]
        Frequency of a taut string without bending stiffness, the inverse of T = 4 m' t^2 f^2
        (common practice).
    """
    result: Array = np.sqrt(np.asarray(tension, dtype=float) / mass) / (2.0 * np.asarray(span))
    return result


def deflection_force(
    tension: ArrayLike, stretch_stiffness: ArrayLike, span: ArrayLike, free_length: ArrayLike
) -> Array:
    """Force at mid-span that deflects one belt by span/64: (T + EA t / (2048 L0)) / 16.

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T.
    stretch_stiffness : array_like [N]
        EA; zero where the shafts give way so that the deflection does not stretch the belt.
    span : array_like [m]
        Free span t.
    free_length : array_like [m]
        Free length L0 over which the stretch is spread.

    Returns
    -------
    ndarray [N]
        Force. The string's part is 4 T q / t with q = t/64; the span's strain 2 (1/64)^2 is
        spread over the whole belt (trade formula P = (T + Y t/L)/16, common practice).
    """
    strain = 2.0 * DEFLECTION_RATIO**2 * np.asarray(span) / np.asarray(free_length)
    result: Array = (
        4.0 * DEFLECTION_RATIO * (np.asarray(tension) + np.asarray(stretch_stiffness) * strain)
    )
    return result
