"""Numbers as a shop reads them; turns that are printed keep what was reckoned."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.pages.amounts import (
    UNITS,
    figures,
    parse_turns,
    percent,
    turns_text,
    turns_to_set,
)
from mountcalc.scenario.text.writing import Display


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
    assert inch.fine(0.0254 / 16) == "0.063"
    assert metric.fine(-1e-9) == "0.00"
    assert inch.strength(4.4482216152605 * 12.3) == "12.3"
    assert metric.strength(None) == metric.long(None) == "-"
    assert inch.of(0.00508, inch.speed) == pytest.approx(1.0)
    assert metric.of(math.pi, "deg") == pytest.approx(180.0)


def test_a_share_past_the_whole_is_never_rounded_down_to_look_kept():
    assert [percent(share) for share in (0.426, 1.0, 1.004, 2.011, None)] == [
        "43", "100", "101", "202", "-",
    ]  # fmt: skip


TURNS = st.floats(-20.0, 400.0, allow_subnormal=False)


@pytest.mark.parametrize(
    ("aim", "low", "high", "printed", "text"),
    [
        (1.1746, 1.1746, 2.57, 1.1875, "1 3/16"),  # to the nearest hundredth it would be too few
        (2.57, 1.1746, 2.57, 2.5625, "2 9/16"),
        (2.0, 1.0, 3.0, 2.0, "2"),
        (0.318, 0.315, 0.321, 0.32, "0.32"),
        (0.3177, 0.3171, 0.3185, 0.318, "0.318"),
        (0.3177, 0.31771, 0.31779, None, "-"),
        (1.0, 2.0, 1.5, None, "-"),
    ],
)
def test_rounds_inside_the_ends(aim, low, high, printed, text):
    assert turns_to_set(aim, low, high) == printed
    assert turns_text(printed) == text


@given(TURNS, TURNS, st.floats(0.001, 2.0))
def test_what_is_printed_is_read_back_the_same_and_inside(aim, low, width):
    printed = turns_to_set(aim, low, low + width)
    assert low - 1e-9 <= printed <= low + width + 1e-9
    assert parse_turns(turns_text(printed))[0] == pytest.approx(printed, abs=1e-12)
    # Flats as well: six of them to a turn.
    assert parse_turns(turns_text(6 * printed))[0] == pytest.approx(6 * printed, abs=1e-9)
