"""Turns that are printed keep what was reckoned."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.pages.amounts import parse_turns, turns_text, turns_to_set

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
