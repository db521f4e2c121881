"""What a taut, weightless belt with no length on its pulleys leaves out: arcs and sag.

Plain functions of SI numbers for one belt.

Symbols
-------
tension : rest tension T, above zero; for arcs above half the pull and the centrifugal tension [N]
pull : effective pull Te, which the belt carries without slip [N]
centrifugal : centrifugal tension Tc [N]
span : free span S of a strand [m]
arcs : on the motor's pulley, which drives, and on the driven one [m, rad, -]
mass : m' per metre [kg/m]
level : cosine of a strand's angle to the level, 1 for a level one [-]
stiffness : EA of the belt [N]
free_length : L0 [m]
spans : of each strand the span, times the two-thirds power of that cosine [m]
"""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = ["Arc", "dip", "sum_with_arcs", "tension_with_sag"]

# Halvings of a bracket: to the last bits of a double.
_STEPS = 60
_GRAVITY = 9.80665


class Arc(NamedTuple):
    """A belt's contact with a pulley: pitch ``radius`` [m], ``wrap`` [rad], ``traction`` [-]."""

    radius: float
    wrap: float
    traction: float


def sum_with_arcs(
    tension: float, pull: float, centrifugal: float, span: float, arcs: tuple[Arc, Arc]
) -> float:
    """Sum of the strands under load over that at rest, the stretch of the arcs counted in.

    Returns
    -------
    float [-]
        (T1 + T2) / 2T; 1 where the arcs are left out.

    Notes
    -----
    The whole belt is as long under load as at rest. It comes on to each pulley with the tension of
    the strand that it leaves, T1 on the motor's and T2 on the driven one, and keeps it up to the
    last part of the arc; there it creeps, over the angle psi = ln((T1 - Tc)/(T2 - Tc)) / mu
    (Khurmi and Gupta, Theory of Machines, 11.10 and 11.14; that it creeps last: common practice),
    where the mean of T - Tc is (T1 - T2) / (mu psi). So T1 solves

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
    for _ in range(_STEPS):
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
    for _ in range(_STEPS):
        middle = 0.5 * (low + high)
        taut = tension + stiffness * longer / (middle**2 * free_length)
        low, high = (middle, high) if middle < taut else (low, middle)
    return 0.5 * (low + high)
