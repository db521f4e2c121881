"""Preferred diameters against their rule, and pairs against a plain search."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import inch, milli

from mountcalc.errors import InputError
from mountcalc.handbook.belts.pulleys import preferred_diameters, preferred_source, pulleys_for

METRIC, INCH = True, False


def test_metric_diameters_are_the_rounded_numbers_of_40_steps_a_decade():
    """ISO 3: R40 is 10^(k/40); its rounded values are within 2 % of that."""
    diameters = preferred_diameters(metric=True)
    assert len(diameters) == 53
    for k, diameter in enumerate(diameters, start=28):
        assert diameter == pytest.approx(10 ** (k / 40) * 10 * milli, rel=0.02)


def test_inch_diameters():
    diameters = [diameter / inch for diameter in preferred_diameters(metric=False)]
    quarters, halves, wholes = (
        [step * count for count in range(round(low / step), round(high / step))]
        for step, low, high in ((0.25, 1.5, 6), (0.5, 6, 12), (1, 12, 25))
    )
    assert diameters == pytest.approx([*quarters, *halves, *wholes])


def test_sources_say_how_sure_they_are():
    assert preferred_source(metric=True).endswith("(from memory)")
    assert preferred_source(metric=False).endswith("(estimate)")


def plain_search(ratio, metric, least, largest, less):
    sizes = [
        d for d in preferred_diameters(metric=metric) if least <= d - less <= largest and d > less
    ]
    pairs = [
        ((driven - less) / (driving - less) / ratio - 1, driving + driven, driving, driven)
        for driving, driven in itertools.product(sizes, sizes)
    ]
    return sorted(pairs, key=lambda pair: (round(abs(pair[0]), 12), pair[1]))


@given(
    ratio=st.floats(0.1, 10.0),
    metric=st.booleans(),
    least=st.floats(0.04, 0.2),
    spread=st.floats(1.0, 8.0),
    count=st.integers(1, 12),
    less=st.sampled_from([0.0, 0.00635]),
)
def test_pairs_are_those_of_a_plain_search(ratio, metric, least, spread, count, less):
    found = pulleys_for(ratio, metric, least, spread * least, count, (less, less))
    wanted = plain_search(ratio, metric, least, spread * least, less)[:count]
    assert [pair.error for pair in found] == pytest.approx([pair[0] for pair in wanted])
    assert [pair.driving + pair.driven for pair in found] == pytest.approx(
        [pair[1] for pair in wanted]
    )


@given(ratio=st.floats(0.12, 8.0))
def test_the_other_way_round_is_the_inverse_ratio(ratio):
    """Where the driven shaft is the faster one, the same pair is near, its pulleys exchanged."""
    there = pulleys_for(ratio, METRIC, 0.05, 1.0, 1)[0]
    back = pulleys_for(1 / ratio, METRIC, 0.05, 1.0, 400)
    swapped = [(pair.driven, pair.driving) for pair in back]
    assert (there.driving, there.driven) in swapped


def test_exact_ratios_come_first_and_the_smallest_of_them():
    pairs = pulleys_for(2.0, METRIC, 0.05, 1.0, 3)
    assert [(pair.driving, pair.driven) for pair in pairs] == [
        (0.05, 0.1),
        (0.053, 0.106),
        (0.056, 0.112),
    ]
    assert all(pair.error == pytest.approx(0, abs=1e-12) for pair in pairs)


def test_ends_of_the_range_are_in_it():
    assert pulleys_for(2.0, INCH, 3 * inch, 6 * inch, 1)[0][:2] == pytest.approx(
        (3 * inch, 6 * inch)
    )


def test_no_pulley_of_that_size():
    assert pulleys_for(2.0, METRIC, 0.051, 0.052, 5) == ()
    assert pulleys_for(2.0, METRIC, 0.5, 0.1, 5) == ()


@pytest.mark.parametrize("ratio", [0.0, -1.0, math.nan, math.inf])
def test_no_ratio_is_refused(ratio):
    with pytest.raises(InputError, match="above zero"):
        pulleys_for(ratio, METRIC, 0.05, 1.0, 5)


def test_no_pairs_wanted_is_refused():
    with pytest.raises(InputError, match="above zero"):
        pulleys_for(2.0, METRIC, 0.05, 1.0, 0)
