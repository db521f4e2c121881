"""Numbers as a shop reads them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.pages.amounts import UNITS, figures, nearest_percent, turns_text
from mountcalc.scenario.model import Display


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0, 3, "0"), (0.04, 3, "0"), (-0.01, 2, "0"), (0.06, 2, "0.1"), (1.234, 3, "1.2"),
        (9.96, 2, "10.0"), (12.34, 3, "12.3"), (12.34, 2, "12"), (123.4, 3, "123"),
        (1349.9, 3, "1350"), (98765.0, 3, "98800"), (123456.0, 3, "1.23e5"), (-45.67, 3, "-45.7"),
    ],
)  # fmt: skip
def test_figures(value, digits, text):
    assert figures(value, digits) == text


@given(st.floats(-1e30, 1e30, allow_nan=False), st.integers(2, 4))
def test_figures_stay_short_and_right(value, digits):
    text = figures(value, digits)
    assert len(text) <= 10
    assert float(text) == pytest.approx(value, rel=0.6 * 10 ** (1 - digits), abs=0.051)


@pytest.mark.parametrize(
    ("turns", "text"),
    [
        (0.0, "0"), (0.25, "1/4"), (2.25, "2 1/4"), (-0.5, "-1/2"), (-1.75, "-1 3/4"), (3.0, "3"),
        (0.0625, "1/16"), (1 / 3, "1/3"), (0.123456, "0.123"), (None, "-"),
    ],
)  # fmt: skip
def test_turns_text(turns, text):
    assert turns_text(turns) == text


def test_units_of_both_displays():
    inch, metric = UNITS[Display.INCH], UNITS[Display.METRIC]
    assert inch.long(0.0254) == "1.00"
    assert metric.long(0.0254) == "25.4"
    assert inch.fine(0.0254 / 16) == "0.062"
    assert metric.fine(-1e-9) == "0.00"
    assert inch.strength(4.4482216152605 * 12.3) == "12.3"
    assert metric.strength(None) == metric.long(None) == "-"
    assert inch.of(0.00508, inch.speed) == pytest.approx(1.0)
    assert metric.of(math.pi, "deg") == pytest.approx(180.0)


def test_percent():
    assert nearest_percent(0.426) == "43"
    assert nearest_percent(None) == "-"
