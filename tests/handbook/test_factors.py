"""Factors on ratings: each published column against a rule or a second list."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import inch

from mountcalc.errors import InputError
from mountcalc.formulas.belt_rating import arc_factor, arc_factor_polynomial
from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.ratings import arc_factor_of, length_factor, service_factor
from mountcalc.handbook.belts.sections import Shock, Torque
from mountcalc.handbook.rows import load

PRINTED = 0.005  # half of the last digit that is printed
ARC = load("belt_factors")["arc"]
LENGTH = load("belt_factors")["length"]
ROWS = list(
    zip(
        ARC["difference_over_center"],
        ARC["arc_deg"],
        ARC["both_grooved"],
        ARC["large_flat"],
        strict=True,
    )
)


def factor_of(section, number):
    return length_factor(section, number).value


@pytest.mark.parametrize(("ratio", "degrees", "grooved", "flat"), ROWS)
def test_arc_table_by_both_closed_forms(ratio, degrees, grooved, flat):
    """Machinery's Handbook 31, p. 2581, Table 12; Shigley, Table 17-13, footnote."""
    wrap = 2 * math.acos(ratio / 2)
    assert math.degrees(wrap) == pytest.approx(degrees, abs=0.5)  # printed in whole degrees
    assert arc_factor(wrap) == pytest.approx(grooved, abs=PRINTED)
    # The polynomial leaves the table at its last row, 83 deg, where it is 0.009 high.
    off = PRINTED if ratio < 1.5 else 0.009
    assert arc_factor_polynomial(wrap) == pytest.approx(grooved, abs=off)
    assert flat <= grooved


@pytest.mark.parametrize(("ratio", "degrees", "grooved", "flat"), ROWS)
def test_lookup_gives_the_rows(ratio, degrees, grooved, flat):
    wrap = 2 * math.acos(ratio / 2)
    sides = (1.0, 1.0 + 2.0 * ratio, 2.0)
    both = arc_factor_of(wrap, *sides, flat_driven=False)
    assert both.value == pytest.approx(grooved, abs=PRINTED)
    large_flat = arc_factor_of(wrap, *sides, flat_driven=True)
    assert large_flat.value == pytest.approx(flat, abs=1e-12)
    assert large_flat.source == ARC["source"]
    assert large_flat.remark is None
    assert degrees <= 180


def test_large_pulley_flat_between_rows_and_beyond_them():
    between = arc_factor_of(2.9, 0.1, 0.125, 0.1, flat_driven=True)
    assert between.value == pytest.approx(0.785)  # half way from .78 to .79
    wrap = 2 * math.acos(0.8)
    beyond = arc_factor_of(wrap, 0.1, 0.9, 0.5, flat_driven=True)
    assert beyond.value == arc_factor(wrap) < 0.65
    assert "beyond the table" in beyond.remark
    just = arc_factor_of(2 * math.acos(0.7501), 0.1, 0.25002, 0.1, flat_driven=True)
    assert just.value == 0.65


@given(ratio=st.floats(0.0, 1.9), more=st.floats(0.0, 0.1))
def test_more_wrap_is_never_worth_less_in_two_grooves(ratio, more):
    low, high = (
        arc_factor_of(2 * math.acos(x / 2), 1.0, 1.0 + x, 1.0, flat_driven=False).value
        for x in (min(1.9, ratio + more), ratio)
    )
    assert 0 < low <= high <= 1


@given(ratio=st.floats(0.0, 1.9))
def test_a_flat_large_pulley_is_never_worth_more_than_a_groove(ratio):
    """Within the rounding of the print."""
    wrap = 2 * math.acos(ratio / 2)
    flat, grooved = (
        arc_factor_of(wrap, 1.0, 1.0 + ratio, 1.0, flat_driven=each).value for each in (True, False)
    )
    assert 0 < flat <= grooved + 0.01


def test_large_flat_column_follows_from_friction_on_the_flat_rim_until_the_small_one_slips():
    """0.75 at 180 deg is 1.25 (1 - 1/R) with R = 2.5: the flat rim, on its larger arc, decides."""
    friction = math.log(2.5) / math.pi
    for ratio, _, grooved, flat in ROWS:
        arc = 2 * math.pi - 2 * math.acos(ratio / 2)
        on_flat = 1.25 * (1 - math.exp(-friction * arc))
        assert min(on_flat, grooved) == pytest.approx(flat, abs=0.012)


@pytest.mark.parametrize(
    "case",
    [
        (0, 1, 2, 3),
        (3.3, 1, 2, 3),
        (2, 2, 1, 3),
        (2, 0, 1, 3),
        (2, 1, 2, 0),
        (math.nan, 1, 2, 3),
        (2, math.nan, 2, 3),
        (2, 1, math.inf, 3),
        (2, 1, 2, math.nan),
    ],
)
def test_what_is_no_drive_is_refused(case):
    for is_flat in (True, False):
        with pytest.raises(InputError, match="an arc factor is for"):
            arc_factor_of(*case, flat_driven=is_flat)


LISTED = [
    (section, number, factor)
    for section in ("A", "B", "C")
    for run in LENGTH["runs"][section]
    for number, factor in zip(run["number"], run["factor"], strict=True)
]


@pytest.mark.parametrize(("section", "number", "factor"), LISTED)
def test_the_continuous_list_is_looked_up_first(section, number, factor):
    for name in (section, f"{section}X"):
        found = length_factor(name, number)
        assert found.value == factor
        assert found.sure == "published"


def band_factor(section, number):
    """By first and last of the bands, None between two."""
    band = LENGTH["bands"][section]
    ends = [*band["last"], math.inf]
    for first, last, factor in reversed(
        list(zip(band["first"], ends, band["factor"], strict=True))
    ):
        if first <= number <= last:
            return factor
    return None


def test_bands_against_the_continuous_list():
    """They differ by 0.04 at the shortest belts (A 26, B 35), where a band has no first number.

    Elsewhere by no more than 0.02, and neither way more often.
    """
    apart = {
        (section, number): round(band_factor(section, number) - factor, 3)
        for section, number, factor in LISTED
    }
    assert max(apart.values()) == 0.04
    assert {belt for belt, off in apart.items() if off > 0.02} == {("A", 26), ("B", 35)}
    assert min(apart.values()) == -0.02


@pytest.mark.parametrize(
    ("section", "number", "factor"),
    [
        ("B", 85, 1.00),  # met in Shigley's problem 17-18
        ("D", 360, 1.10),  # met in a worked example
        ("A", 54, 0.95),
        ("A", 128, 1.15),
        ("CX", 144, 1.00),
        ("D", 660, 1.20),
        ("B", 300, 1.20),
    ],
)
def test_bands_where_the_list_has_nothing(section, number, factor):
    found = length_factor(section, number)
    assert found.value == factor
    assert found.source == LENGTH["bands"]["source"]


def test_between_two_bands_the_shorter_one_counts():
    assert band_factor("A", 57) is None
    assert factor_of("A", 57) == factor_of("A", 55) == 0.95
    assert band_factor("D", 136) is None
    assert factor_of("D", 136) == factor_of("D", 128) == 0.85


def test_within_a_run_of_the_list_a_value_is_read_between():
    assert factor_of("A", 40) == pytest.approx(0.89)
    assert factor_of("B", 93.5) == pytest.approx(1.01)


def test_runs_are_not_joined():
    """Between A 48 and A 90 the list has nothing: a straight line there would not be published."""
    found = length_factor("A", 68)
    assert found.value == 1.00
    assert found.sure == "from memory"


@given(section=st.sampled_from("ABCD"), number=st.floats(15, 700), more=st.floats(0, 50))
def test_a_longer_belt_is_hardly_ever_worth_less(section, number, more):
    """Only past A 112, where the list (1.11) ends and the band (1.10) is taken up."""
    assert factor_of(section, number + more) >= factor_of(section, number) - 0.0101


def test_belts_shorter_than_the_list_are_worth_no_more_than_its_first():
    assert factor_of("A", 20) == factor_of("A", 26) == 0.81
    assert factor_of("BX", 30) == factor_of("B", 35) == 0.81
    assert factor_of("C", 51) == 0.85


def test_metric_lengths_by_their_inches():
    metric = read_designation("A 1100")
    assert metric.inside_inches == pytest.approx(metric.inside_length / inch)
    assert length_factor("A", metric.inside_inches).value == pytest.approx(0.90, abs=1e-4)
    assert length_factor("B", read_designation("B 2000").inside_inches).value == 0.95


@pytest.mark.parametrize("section", ["3V", "4L", "SPZ", "Z"])
def test_sections_without_a_length_factor_say_so(section):
    found = length_factor(section, 50)
    assert found.value is None
    assert found.remark == f"no length factor of section {section} is known"


SECTIONS = ("A", "B", "C", "D", "E")


@pytest.mark.parametrize("section", SECTIONS)
def test_bands_follow_one_law_of_length(section):
    """K = (L / L0)^0.21: each band by its middle within 0.007, E as its neighbours do."""
    band = LENGTH["bands"][section]
    middles = np.log(np.sqrt(np.multiply(band["first"][1:-1], band["last"][1:])))
    factors = np.log(band["factor"][1:-1])
    slope, _ = np.polyfit(middles, factors, 1)
    assert slope == pytest.approx(0.21, abs=0.008)
    assert np.polyval(np.polyfit(middles, factors, 1), middles) == pytest.approx(factors, abs=0.007)


@pytest.mark.parametrize("section", SECTIONS)
def test_bands_end_at_belts_that_there_are(section):
    """Table 17-14 speaks of the lengths of Table 17-10, both of them from memory."""
    band = LENGTH["bands"][section]
    for number in (*band["first"][1:], *band["last"]):
        assert read_designation(f"{section}{number}").in_series


def test_e_belts_have_a_length_factor():
    factors = [factor_of("E", number) for number in (144, 180, 240, 285, 360, 480, 540, 660)]
    assert factors == [0.90, 0.90, 0.95, 1.00, 1.05, 1.10, 1.15, 1.20]


def test_columns_rise():
    for section in SECTIONS:
        band = LENGTH["bands"][section]
        assert len(band["first"]) == len(band["factor"]) == len(band["last"]) + 1
        turns = np.array([[*band["last"]], band["first"][1:]])
        assert (np.diff(turns, axis=0) >= 0).all()
        assert band["factor"] == sorted(band["factor"])
        assert band["first"] == sorted(band["first"])


# Shigley, Table 17-15, quoted from memory.
SERVICE = [
    ("uniform", 1.0, 1.2, 1.1, 1.3),
    ("light", 1.1, 1.3, 1.2, 1.4),
    ("medium", 1.2, 1.4, 1.4, 1.6),
    ("heavy", 1.3, 1.5, 1.5, 1.8),
]


@pytest.mark.parametrize(("shock", "low", "high", "low_high", "high_high"), SERVICE)
def test_service_factors(shock, low, high, low_high, high_high):
    assert service_factor(Shock(shock), Torque.NORMAL)[:2] == (low, high)
    found = service_factor(Shock(shock), Torque.HIGH)
    assert (found.low, found.high) == (low_high, high_high)
    assert found.sure == "from memory"
    assert "17-15" in found.source


def test_service_factors_rise_with_shock_and_torque():
    for torque in Torque:
        lows = [service_factor(shock, torque).low for shock in Shock]
        assert lows == sorted(set(lows))
    for shock in Shock:
        assert service_factor(shock, Torque.HIGH) > service_factor(shock, Torque.NORMAL)
