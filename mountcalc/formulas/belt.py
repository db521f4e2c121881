"""Belt mechanics: tensions, traction, how a tension is felt and heard, what a taut belt leaves out.

Plain functions of SI numbers or arrays that broadcast. Tensions are those of one strand of
one belt. "Felt" is what is left of a strand's tension for the pulleys after the
centrifugal part: the tension in motion less ``m' v^2``.

What that leaves out, arcs and sag, are functions of plain numbers.

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
span : free span t of a strand [m]
force : across a strand at mid-span, P [N]
ratio : deflection over span q/t, small against 1 [-]
span_over_length : free span over the length l that the stretch is spread over: t/L0 where the
    belt creeps round the pulleys, 1 where it does not (the worst), 0 where the shafts give way [-]
arcs : on the motor's pulley, which drives, and on the driven one [m, rad, -]
level : cosine of a strand's angle to the level, 1 for a level one [-]
spans : of each strand the span, times the two-thirds power of that cosine [m]
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.thresholds import EPS, ROUNDING

Array = NDArray[np.float64]

# Strains closer to zero than this are rounding of the belt's path, not stretch.
_STRAIN_ROUNDING = 16 * EPS

# Deflections over span that are tried, coarsest first: the trade's own, then what a rule still
# reads on a span of a foot or more (estimate).
RATIOS = (1.0 / 64.0, 1.0 / 100.0, 1.0 / 128.0, 1.0 / 200.0, 1.0 / 256.0)
DEFLECTION_RATIO = RATIOS[0]
# A stretch part above this share of the string part drowns the tension (estimate).
_DROWNS = 1.0 / 3.0

_HALVINGS = 60  # of a bracket: to the last bits of a double
_GRAVITY = 9.80665


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


def mid_span_ratio(
    force: ArrayLike, tension: ArrayLike, stiffness: ArrayLike, span_over_length: ArrayLike
) -> Array:
    """Deflection over span that a force at mid-span makes: the way back of the last [-].

    The one root r of P = 4 r T + 8 EA (t/l) r^3; P, EA and t/l above zero
    (statics text; a cubic's root by sinh: Abramowitz and Stegun, 3.8 and 4.6).
    """
    cubic = 8.0 * np.asarray(stiffness) * np.asarray(span_over_length)
    of_string = 4.0 * np.asarray(tension, dtype=float) / cubic
    # Of a slack belt a hair of tension, so that one root serves both.
    of_string = np.maximum(of_string, 1e-12)
    halfway = np.sqrt(of_string / 3.0)
    sine = 0.5 * np.asarray(force) / cubic / halfway**3
    result: Array = 2.0 * halfway * np.sinh(np.arcsinh(sine) / 3.0)
    return result


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


class Arc(NamedTuple):
    """A belt's contact with a pulley: pitch ``radius`` [m], ``wrap`` [rad], ``traction`` [-]."""

    radius: float
    wrap: float
    traction: float


def sum_with_arcs(
    tension: float, pull: float, centrifugal: float, span: float, arcs: tuple[Arc, Arc]
) -> float:
    """Sum of the strands under load over that at rest, the stretch of the arcs counted in [-].

    (T1 + T2) / 2T; 1 where the arcs are left out. T is above half the pull, which the belt carries
    without slip, and above Tc. The whole belt is as long under load as at rest. It comes on to
    each pulley with the tension of the strand that it leaves, T1 on the motor's and T2 on the
    driven one, and keeps it up to the last part of the arc; there it creeps, over the angle
    psi = ln((T1 - Tc)/(T2 - Tc)) / mu (Khurmi and Gupta, Theory of Machines, 11.10 and 11.14; that
    it creeps last: common practice), where the mean of T - Tc is (T1 - T2) / (mu psi). So T1 solves

        S (T1 + T2) + r (T1 (w - psi) + (T1 - T2)/mu + Tc psi) + the like with T2 on the driven
        pulley = T (2 S + sum of r w).
    """
    driving, driven = arcs
    whole = tension * (2.0 * span + sum(arc.radius * arc.wrap for arc in arcs))

    def stretch(tight: float) -> float:
        slack = tight - pull
        return (
            span * (tight + slack)
            + _of_arc(driving, tight, tight, slack, centrifugal)
            + _of_arc(driven, slack, tight, slack, centrifugal)
        )

    # All at one strand's tension, or all at the other's, are the ends of what can be.
    low, high = max(tension, pull + centrifugal), tension + pull
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if stretch(middle) < whole else (low, middle)
    return (low + high - pull) / (2.0 * tension)


def _of_arc(arc: Arc, coming: float, tight: float, slack: float, centrifugal: float) -> float:
    """Tension times length over one arc [N m]."""
    felt = slack - centrifugal
    if felt <= 0:
        return arc.radius * arc.wrap * coming
    creeping = min(arc.wrap, math.log((tight - centrifugal) / felt) / arc.traction)
    return arc.radius * (
        coming * (arc.wrap - creeping) + (tight - slack) / arc.traction + centrifugal * creeping
    )


def dip(tension: float, mass: float, span: float, level: float) -> float:
    """How far a strand hangs in its middle, square to itself: m' g cos(a) S^2 / 8T [m].

    A flat parabola's (Shigley, Machine Design, 17-2, dip = 3 C^2 w / 2 F_i).
    """
    return mass * _GRAVITY * level * span**2 / (8.0 * tension)


def tension_with_sag(
    tension: float, stiffness: float, free_length: float, mass: float, spans: tuple[float, ...]
) -> float:
    """Tension at rest [N] with the strands' sag counted in, at the place where it is T without.

    A strand that dips by d is longer than its chord by 8 d^2/3S = (m' g cos a)^2 S^3 / 24 T^2,
    so that T' = T + EA sum((m' g)^2 S^3 / 24 T'^2) / L0 (parabola; statics text).
    """
    longer = (mass * _GRAVITY) ** 2 * sum(span**3 for span in spans) / 24.0
    low, high = tension, tension + stiffness * longer / (tension**2 * free_length)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        taut = tension + stiffness * longer / (middle**2 * free_length)
        low, high = (middle, high) if middle < taut else (low, middle)
    return 0.5 * (low + high)
