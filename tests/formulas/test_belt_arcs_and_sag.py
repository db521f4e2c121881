"""The belt on the pulleys and its sag, against integrations of their own and a printed dip."""

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from mountcalc.formulas.belt import Arc, dip, sum_with_arcs, tension_with_sag

GRAVITY = 9.80665
# Span, motor's arc, driven arc, tension, pull and centrifugal tension: a drive as on a mill, one
# with a large driven wheel, one that steps up, one near slip, one with a fast belt.
DRIVES = {
    "mill": (0.53, Arc(0.038, 2.86, 0.5123), Arc(0.114, 3.42, 0.35), 70.0, 49.0, 5.0),
    "wheel": (0.4, Arc(0.03, 2.4, 0.5123), Arc(0.19, 3.88, 0.5123), 60.0, 70.0, 2.0),
    "up": (0.8, Arc(0.15, 3.5, 0.4), Arc(0.05, 2.78, 0.5), 200.0, 90.0, 0.0),
    "near slip": (0.5, Arc(0.05, math.pi, 0.3), Arc(0.05, math.pi, 0.3), 100.0, 86.0, 0.0),
    "fast": (1.2, Arc(0.1, 3.0, 0.3), Arc(0.2, 3.28, 0.3), 300.0, 80.0, 150.0),
}


def of_arc(arc, at_end, most, centrifugal, rises):
    """Tension times length on an arc, marched from where the belt leaves it towards where it came.

    Creep ends where the other strand's tension is reached; from there on nothing changes.
    """

    def slope(_, tension):
        there = tension[0]
        if (there >= most) if rises else (there <= most):
            return [0.0]
        return [(1 if rises else -1) * arc.traction * (there - centrifugal)]

    found = solve_ivp(
        slope, (0.0, arc.wrap), [at_end], rtol=1e-9, atol=1e-9, max_step=arc.wrap / 400
    )
    angles = np.linspace(0.0, arc.wrap, 20001)
    return arc.radius * np.trapezoid(np.interp(angles, found.t, found.y[0]), angles)


@pytest.mark.parametrize("name", DRIVES)
def test_the_sum_with_arcs_by_marching_along_the_belt(name):
    span, driving, driven, tension, pull, centrifugal = DRIVES[name]
    at_rest = tension * (2 * span + driving.radius * driving.wrap + driven.radius * driven.wrap)

    def longer(tight):
        slack = tight - pull
        loaded = span * (tight + slack)
        # Off the motor's pulley goes the slack strand, off the driven one the tight strand.
        loaded += of_arc(driving, slack, tight, centrifugal, rises=True)
        loaded += of_arc(driven, tight, slack, centrifugal, rises=False)
        return loaded - at_rest

    tight = brentq(longer, max(tension, pull + centrifugal + 1e-6), tension + pull, xtol=1e-6)
    expected = (2 * tight - pull) / (2 * tension)
    found = sum_with_arcs(tension, pull, centrifugal, span, (driving, driven))
    assert found == pytest.approx(expected, abs=2e-4)


def test_a_larger_driven_pulley_raises_the_sum_and_a_smaller_one_lessens_it():
    for name, sign in (("wheel", 1), ("up", -1)):
        span, driving, driven, *forces = DRIVES[name]
        assert sign * (sum_with_arcs(*forces, span, (driving, driven)) - 1) > 0.01
    without = [Arc(0.0, arc.wrap, arc.traction) for arc in (driving, driven)]
    assert sum_with_arcs(*forces, span, tuple(without)) == pytest.approx(1.0, rel=1e-12)


def test_the_dip_that_shigley_prints():
    """Shigley's polyamide F-1 example: 0.126 lbf/ft over 9 ft at 101.1 lbf dip by 0.151 in."""
    pounds, inch = 4.4482216152605, 0.0254
    mass = 0.126 * pounds / (12 * inch) / GRAVITY
    assert dip(101.1 * pounds, mass, 108 * inch, 1.0) / inch == pytest.approx(0.151, abs=5e-4)


@pytest.mark.parametrize("level", [1.0, 0.8])
def test_sag_by_the_length_of_its_own_arc(level):
    """A flat belt of 6 kN, 5 m from shaft to shaft, at 60 N: the arc's length integrated."""
    span, stiffness, free, mass, tension = 5.0, 6000.0, 11.0, 0.35, 60.0

    def excess(real):
        load = mass * GRAVITY * level
        length, _ = quad(lambda x: math.sqrt(1 + (load * (x - span / 2) / real) ** 2), 0, span)
        return tension + stiffness * 2 * (length - span) / free - real

    expected = brentq(excess, tension, 10 * tension)
    assert expected > 1.05 * tension
    found = tension_with_sag(tension, stiffness, free, mass, (span * level ** (2 / 3),) * 2)
    assert found == pytest.approx(expected, rel=2e-3)
