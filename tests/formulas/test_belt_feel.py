"""The deflection test against an exact string of two halves, against itself, and at its ends."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from mountcalc.formulas.belt import (
    DEFLECTION_RATIO,
    coarsest_that_tells,
    mid_span_force,
    stretch_over_string,
    string_force,
)

RATIOS = [1 / 64, 1 / 100, 1 / 128, 1 / 200, 1 / 256]
# The same sums in another order.
ROUNDING = 1e-12

tensions = st.floats(1.0, 2000.0)
stiffnesses = st.floats(1e3, 1e6)
shares = st.floats(0.01, 1.0)


def deflection_of(force, tension, stiffness, span, length):
    """Where the middle of a string comes to rest under a force, no angle taken as small [m].

    The string is ``length`` long under its tension, the span between its supports a part of that;
    what it is longer when pressed in stretches all of it.
    """
    unstretched = length / (1.0 + tension / stiffness)

    def left_over(deflection):
        half = np.hypot(span / 2, deflection)
        pulled = stiffness * ((length + 2 * half - span) / unstretched - 1.0)
        return 2 * pulled * deflection / half - force

    return brentq(left_over, 0.0, span / 2, xtol=1e-15, rtol=1e-13)


@pytest.mark.parametrize("ratio", RATIOS)
@pytest.mark.parametrize("tension", [30.0, 130.0, 900.0])
@pytest.mark.parametrize("length", [0.5, 1.4])
def test_an_exact_string_is_deflected_as_far(ratio, tension, length):
    """Neglected: terms of 2 (q/t)^2, and T/EA, by which the belt is longer than when free."""
    stiffness, span = 55e3, 0.5
    force = float(mid_span_force(tension, stiffness, span / length, ratio))
    exact = deflection_of(force, tension, stiffness, span, length)
    assert exact / span == pytest.approx(ratio, rel=2 * ratio**2 + tension / stiffness)


def test_what_is_neglected_falls_with_the_square_of_the_deflection():
    def error(ratio):
        force = float(mid_span_force(100.0, 1e4, 1.0, ratio))
        # The length that the stretch is reckoned on is the free one, so it is given as that here.
        exact = deflection_of(force, 100.0, 1e4, 0.5, 0.5 * (1 + 100.0 / 1e4))
        return abs(exact / (0.5 * ratio) - 1)

    coarse, fine = error(1 / 64), error(1 / 128)
    assert 1e-5 < coarse < 2 / 64**2
    assert coarse / fine == pytest.approx(4.0, rel=0.1)


@given(tensions, stiffnesses, shares)
def test_at_a_64th_it_is_the_trade_formula(tension, stiffness, share):
    own = mid_span_force(tension, stiffness, share, DEFLECTION_RATIO)
    assert own == pytest.approx((tension + stiffness * share / 2048) / 16, rel=ROUNDING)


def test_a_hand_worked_case():
    """160 N and 51.2 kN: at span/64 (160 + 25)/16 N not creeping, (160 + 10)/16 on t/L = 0.4."""
    assert mid_span_force(160.0, 51.2e3, 1.0, 1 / 64) == pytest.approx(185 / 16)
    assert mid_span_force(160.0, 51.2e3, 0.4, 1 / 64) == pytest.approx(170 / 16)
    assert mid_span_force(160.0, 51.2e3, 0.0, 1 / 64) == pytest.approx(10.0)
    assert stretch_over_string(160.0, 51.2e3, 1.0, 1 / 64) == pytest.approx(25 / 160)


@given(tensions, stiffnesses, shares, st.sampled_from(RATIOS))
def test_ends_of_the_range(tension, stiffness, share, ratio):
    """Creeping lies between the string alone and not creeping; both ends are reached."""
    string = float(string_force(tension, ratio))
    creeping = float(mid_span_force(tension, stiffness, share, ratio))
    fixed = float(mid_span_force(tension, stiffness, 1.0, ratio))
    assert string < creeping <= fixed
    assert mid_span_force(tension, 0.0, share, ratio) == string
    assert mid_span_force(tension, stiffness, 0.0, ratio) == string
    part = float(stretch_over_string(tension, stiffness, share, ratio))
    assert creeping == pytest.approx(string * (1 + part), rel=ROUNDING)


@given(tensions, stiffnesses, shares, st.sampled_from(RATIOS), st.floats(1.01, 10))
def test_more_tension_stiffness_or_deflection_takes_more_force(
    tension, stiffness, share, ratio, more
):
    force = mid_span_force(tension, stiffness, share, ratio)
    assert mid_span_force(more * tension, stiffness, share, ratio) > force
    assert mid_span_force(tension, more * stiffness, share, ratio) > force
    assert mid_span_force(tension, stiffness, share, more * ratio) > more * force
    both = mid_span_force(more * tension, more * stiffness, share, ratio)
    assert both == pytest.approx(more * force, rel=ROUNDING)


def test_arrays_are_their_numbers():
    tension = np.linspace(10, 500, 7)[:, np.newaxis]
    ratio = np.array(RATIOS)
    forces = mid_span_force(tension, 5e4, 0.3, ratio)
    assert forces.shape == (7, 5)
    assert forces[2, 3] == mid_span_force(tension[2, 0], 5e4, 0.3, ratio[3])


@given(tensions, stiffnesses, shares)
def test_the_coarsest_that_tells_is_the_first_within_a_third(tension, stiffness, share):
    ratio, tells = coarsest_that_tells(tension, stiffness, share)
    parts = [float(stretch_over_string(tension, stiffness, share, each)) for each in RATIOS]
    within = [each for each, part in zip(RATIOS, parts, strict=True) if part <= 1 / 3]
    assert tells is bool(within)
    assert ratio == (within[0] if within else RATIOS[-1])


@pytest.mark.parametrize(
    ("tension", "wanted"),
    [
        (147.0, (1 / 64, True)),
        (146.0, (1 / 100, True)),
        (30.0, (1 / 200, True)),
        (10.0, (1 / 256, True)),
        (9.0, (1 / 256, False)),
    ],
)
def test_where_a_belt_of_100_kn_wants_a_smaller_deflection(tension, wanted):
    """2 x 100 kN / 64^2 = 48.8 N, a third of 146.5 N; 2 x 100 kN / 256^2 = 3.05 N, of 9.16 N."""
    assert coarsest_that_tells(tension, 1e5, 1.0) == wanted


def test_a_belt_that_does_not_stretch_takes_the_usual_deflection():
    assert coarsest_that_tells(1e-3, 0.0, 1.0) == (DEFLECTION_RATIO, True)
