"""Heights where a stretch is left out: there and back, in order, and true outside the breaks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.drafting.dimensions import Break, HeightScale, empty_stretches

lengths = st.floats(0.01, 1.0)
stretches = st.lists(st.tuples(lengths, lengths, lengths), max_size=4)


@st.composite
def scales(draw):
    """Breaks from the top down, each with some length drawn to scale above it."""
    at, breaks = 0.0, []
    for between, length, shown in draw(stretches):
        at -= between
        breaks.append(Break(at - length, at, shown))
        at -= length
    return HeightScale(tuple(breaks))


heights = st.floats(-10.0, 1.0)


@given(scales(), heights)
def test_back_again_is_the_same_height(heights, height):
    assert heights.actual(heights.drawn(height)) == pytest.approx(height, abs=1e-9)


@given(scales(), heights, heights)
def test_what_is_higher_is_drawn_higher(heights, one, other):
    low, high = sorted((one, other))
    assert heights.drawn(low) <= heights.drawn(high) + 1e-12


@given(scales())
def test_each_break_is_as_long_as_it_shows_and_the_rest_as_it_is(heights):
    assert heights.drawn(0.5) == 0.5
    for one in heights.breaks:
        assert heights.drawn(one.high) - heights.drawn(one.low) == pytest.approx(one.shown)
    for upper, lower in zip(heights.breaks, heights.breaks[1:], strict=False):
        true = upper.low - lower.high
        assert heights.drawn(upper.low) - heights.drawn(lower.high) == pytest.approx(true)


def test_by_hand():
    heights = HeightScale((Break(1.0, 3.0, 0.5),))
    assert [heights.drawn(at) for at in (4.0, 3.0, 2.0, 1.0, 0.0)] == [4.0, 3.0, 2.75, 2.5, 1.5]


spans = st.lists(st.tuples(st.floats(-5, 5), st.floats(0, 1)), min_size=1, max_size=8)


@given(spans, st.floats(0.01, 0.2), st.floats(0.0, 0.2))
def test_nothing_stands_in_a_stretch_that_is_left_out(spans, shown, air):
    taken = [(low, low + length) for low, length in spans]
    found = empty_stretches(taken, shown, air)
    for one in found:
        assert one.high - one.low > one.shown
        assert all(
            high <= one.low - air + 1e-9 or low >= one.high + air - 1e-9 for low, high in taken
        )
    assert [one.high for one in found] == sorted((one.high for one in found), reverse=True)
    # A long empty stretch is always found.
    far = empty_stretches([*taken, (-20.0, -19.0)], shown, air)
    assert far[-1].low == pytest.approx(-19.0 + air)
