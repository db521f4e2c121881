"""Belt mechanics: tensions and traction, and how a tension is felt and heard.

Plain functions of SI numbers or arrays that broadcast. Tensions are those of one strand of
one belt. "Felt" is what is left of a strand's tension for the pulleys after the
centrifugal part: the tension in motion less ``m' v^2``.

In the deflection test a force presses one belt in at mid-span. Both shafts stay where they are; the
belt is a string without bending stiffness, which long spans are near and short stiff ones are not.

Symbols
-------
tension : rest tension T of one belt [N]
path, free_length : belt path L and free length L0 [m]
stiffness : EA of one belt, force per unit strain [N]
mass : m' of one belt per metre [kg/m]
speed : belt speed v, above zero [m/s]
power : carried by the drive [W]
count : number of equal belts n [-]
beta : angle of the strands to the line of centres, asin((R - r)/C), below zero where the motor
    pulley is the larger [rad]
traction : coefficient mu, groove wedging included [-]
wrap : arc of contact [rad]
pull : effective pull Te of one belt, tight less slack [N]
share : q of :func:`slip_share` [-]
centrifugal : centrifugal tension Tc [N]
span : free span t [m]
ratio : deflection over span q/t, small against 1 [-]
span_over_length : free span over the length l that the stretch is spread over: t/L0 where the
    belt creeps round the pulleys, 1 where it does not (the worst), 0 where the shafts give way [-]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.tolerances import EPS, ROUNDING

__all__ = [
    "DEFLECTION_RATIO",
    "RATIOS",
    "centrifugal_tension",
    "coarsest_that_tells",
    "drowns",
    "elastic_tension",
    "least_tension",
    "mid_span_force",
    "pull_per_belt",
    "slip_share",
    "span_frequency",
    "strand_tensions",
    "stretch_over_string",
    "string_force",
    "wraps",
]

Array = NDArray[np.float64]

# Strains closer to zero than this are rounding of the belt's path, not stretch.
_STRAIN_ROUNDING = 16 * EPS

# Deflections over span that are tried, coarsest first: the trade's own, then what a rule still
# reads on a span of a foot or more (estimate).
RATIOS = (1.0 / 64.0, 1.0 / 100.0, 1.0 / 128.0, 1.0 / 200.0, 1.0 / 256.0)
DEFLECTION_RATIO = RATIOS[0]
# A stretch part above this share of the string part drowns the tension (estimate).
_DROWNS = 1.0 / 3.0


def elastic_tension(path: ArrayLike, free_length: ArrayLike, stiffness: ArrayLike) -> Array:
    """Tension at rest of a linear elastic belt: T = EA max(0, L - L0) / L0 [N].

    Hooke's law. Leather and fabric-rubber belts are near linear only over a small range of
    tension (Stolarski, Tribology in Machine Design, 4.10.4).
    """
    strain = np.asarray(path, dtype=float) / np.asarray(free_length, dtype=float) - 1.0
    result: Array = np.asarray(stiffness) * np.where(strain > _STRAIN_ROUNDING, strain, 0.0)
    return result


def centrifugal_tension(mass: ArrayLike, speed: ArrayLike) -> Array:
    """Tension that a belt's own motion asks for: Tc = m' v^2 [N].

    Shigley, Machine Design, 17-2, Fc = (w/g) (V/60)^2.
    """
    result: Array = np.asarray(mass, dtype=float) * np.square(np.asarray(speed, dtype=float))
    return result


def pull_per_belt(power: ArrayLike, speed: ArrayLike, count: ArrayLike) -> Array:
    """Effective pull of one belt: Te = T1 - T2 = P / (v n) [N] (Shigley, Machine Design, 17-2)."""
    result: Array = np.asarray(power, dtype=float) / (np.asarray(speed) * np.asarray(count))
    return result


def wraps(beta: ArrayLike) -> tuple[Array, Array]:
    """Arcs of contact of an open belt [rad] (Shigley, Machine Design, Eq. 17-1).

    pi - 2 beta on the motor pulley, pi + 2 beta on the driven one.
    """
    angle = np.asarray(beta, dtype=float)
    return np.pi - 2.0 * angle, np.pi + 2.0 * angle


def slip_share(traction: ArrayLike, wrap: ArrayLike) -> Array:
    """Half the greatest pull as a share of the felt mean tension: q = (E - 1)/(E + 1) [-].

    q = tanh(mu wrap / 2), with E = exp(mu wrap) the ratio of felt tensions at which the
    belt slips: (T1 - Tc)/(T2 - Tc) = E (Shigley, Machine Design, Eq. 17-7 and 17-9).
    """
    result: Array = np.tanh(0.5 * np.asarray(traction, dtype=float) * np.asarray(wrap))
    return result


def least_tension(pull: ArrayLike, share: ArrayLike, centrifugal: ArrayLike) -> Array:
    """Rest tension at which a held belt just carries a pull: T = Te/(2 q) + Tc [N].

    Shigley, Machine Design, Eq. 17-9, with Tc added: at fixed centres the rest tension includes it.
    """
    felt = np.asarray(pull, dtype=float) / (2.0 * np.asarray(share))
    result: Array = felt + np.asarray(centrifugal)
    return result


def strand_tensions(tension: ArrayLike, pull: ArrayLike) -> tuple[Array, Array]:
    """Tight and slack tension at fixed centres: T1 = T + Te/2 and T2 = T - Te/2 [N].

    Of a linear elastic belt whose arcs are neglected (Khurmi and Gupta, Theory of Machines, 11.21).
    """
    half = 0.5 * np.asarray(pull, dtype=float)
    return np.asarray(tension) + half, np.asarray(tension) - half


def span_frequency(tension: ArrayLike, mass: ArrayLike, span: ArrayLike) -> Array:
    """First natural frequency of a free span at rest: f = sqrt(T/m') / (2 t) [Hz], m' above zero.

    A taut string without bending stiffness, the inverse of T = 4 m' t^2 f^2 (common practice).
    """
    result: Array = np.sqrt(np.asarray(tension, dtype=float) / mass) / (2.0 * np.asarray(span))
    return result


def string_force(tension: ArrayLike, ratio: ArrayLike) -> Array:
    """Force that deflects a string whose tension stays what it is: P = 4 T q/t [N].

    T/16 at q/t = 1/64 (common practice): the force on a belt whose shafts give way, as
    those of a plate do that rides on the belt.
    """
    result: Array = 4.0 * np.asarray(ratio, dtype=float) * np.asarray(tension)
    return result


def stretch_over_string(
    tension: ArrayLike, stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> Array:
    """What the belt's stretch adds to the force over what its tension, above zero, asks for [-].

    2 (EA/T) (q/t)^2 (t/l), of :func:`mid_span_force` (common practice at 1/64).
    """
    strain = 2.0 * np.square(np.asarray(ratio, dtype=float)) * np.asarray(span_over_length)
    result: Array = np.asarray(stiffness) * strain / np.asarray(tension)
    return result


def mid_span_force(
    tension: ArrayLike, stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> Array:
    """Force at mid-span for any small deflection: P = 4 (q/t) (T + 2 EA (q/t)^2 (t/l)) [N].

    At q/t = 1/64 the P = (T + Y t/l)/16 of common practice, Y = EA/2048.

    Notes
    -----
    Pressed in by q, the span's two halves are sqrt((t/2)^2 + q^2) long: it is longer by
    sqrt(t^2 + 4 q^2) - t = 2 q^2/t, and its tension T' = T + EA (2 q^2/t)/l. Each half stands at
    an angle of sine q/sqrt((t/2)^2 + q^2) = 2 q/t, and two of them carry P = 2 T' (2 q/t). Left
    out are terms of the order of (q/t)^2: 0.05 % at 1/64.
    """
    strain = 2.0 * np.square(np.asarray(ratio, dtype=float)) * np.asarray(span_over_length)
    return string_force(np.asarray(tension) + np.asarray(stiffness) * strain, ratio)


def drowns(
    tension: ArrayLike, stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> NDArray[np.bool_]:
    """Whether the stretch part of a push is more than a third of the string part [-].

    The formula is common practice at 1/64, the third an estimate.
    """
    share = stretch_over_string(tension, stiffness, span_over_length, ratio)
    result: NDArray[np.bool_] = share > _DROWNS * (1.0 + ROUNDING)
    return result


def coarsest_that_tells(
    tension: float, stiffness: float, span_over_length: float
) -> tuple[float, bool]:
    """The largest of the usual deflections q/t [-] at which the stretch does not drown the tension.

    And whether it does not: where it does at all, it is the finest. The formula is
    common practice at 1/64, the third an estimate.
    """
    for ratio in RATIOS:
        if not drowns(tension, stiffness, span_over_length, ratio):
            return ratio, True
    return RATIOS[-1], False
