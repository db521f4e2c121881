"""Force tables of the trade: against each other, their own ratios, and printed tensions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import inch, lbf, milli

from mountcalc.belts.data import load
from mountcalc.belts.deflection_tables import (
    force_range,
    implied_tension,
    metric_deflection,
    stretch_constant,
    table_force,
)
from mountcalc.belts.sections import section
from mountcalc.formulas.belt import deflection_force

TABLES = load("deflection_tables")
POUND_ROWS = TABLES["pound"]["rows"]


def cells():
    """Every printed pair: section, diameter, speed, column, new and used [lbf]."""
    for row in POUND_ROWS:
        for column in ("plain", "cogged"):
            for name in row[f"{column}_sections"]:
                if row[column]:
                    yield name, row["diameter_in"], row["rpm"], column, row[column]


CELLS = list(cells())


@pytest.mark.parametrize(("name", "diameters", "speeds", "column", "forces"), CELLS)
def test_every_cell_is_found_at_its_corners(name, diameters, speeds, column, forces):
    for diameter in diameters:
        for rpm in speeds:
            found = table_force(name, diameter * inch, rpm)
            assert found.new / lbf == pytest.approx(forces[0])
            assert column in found.row
            if len(forces) > 1:
                assert found.used / lbf == pytest.approx(forces[1])
            else:
                assert found.used is None


def test_new_over_used_is_about_one_and_a_half():
    """1.49 with two figures' rounding; a 3V row stands at 1.42, and none near the slip's 1.65."""
    ratios = [forces[0] / forces[1] for *_, forces in CELLS if len(forces) > 1]
    assert len(ratios) > 35
    assert sum(ratios) / len(ratios) == pytest.approx(1.49, abs=0.01)
    assert all(1.41 < ratio < 1.52 for ratio in ratios)
    assert sum(ratio < 1.46 for ratio in ratios) == 1


def test_the_one_slip_is_left_out():
    lone = [cell for cell in CELLS if len(cell[-1]) == 1]
    assert [cell[0] for cell in lone] == ["AX"]
    assert table_force("AX", 6 * inch, 1750).used is None
    assert table_force("AX", 6 * inch, 1750).new / lbf == pytest.approx(9.4)


def test_cogged_by_name_or_by_word():
    assert table_force("A", 4 * inch, 1725, cogged=True).new == table_force("ax", 0.1016, 1725).new
    assert table_force("BX", 4 * inch, 1725).used / lbf == pytest.approx(4.9)
    assert table_force("B", 4 * inch, 1725) is None  # plain B belts want larger pulleys


def test_between_rows_the_gentler_row_counts():
    assert table_force("A", 3.7 * inch, 1725).new / lbf == pytest.approx(5.5)
    assert table_force("A", 4.9 * inch, 3450).used / lbf == pytest.approx(3.8)


@pytest.mark.parametrize(
    ("name", "inches", "rpm"),
    [
        ("A", 2.9, 1725),
        ("A", 7.1, 1725),
        ("A", 3.0, 900),
        ("A", 3.0, 4001),
        ("D", 13, 1160),
        ("SPZ", 4, 1725),
        ("4L", 4, 1725),
        ("A", math.nan, 1725),
        ("A", 3.0, math.nan),
        ("A", math.inf, 1725),
        ("A", 3.0, math.inf),
    ],
)
def test_nothing_outside_the_table(name, inches, rpm):
    assert table_force(name, inches * inch, rpm) is None


def test_speeds_between_the_rows_of_whole_turns():
    assert table_force("A", 3 * inch, 2500.4).new / lbf == pytest.approx(5.5)
    assert table_force("A", 3 * inch, 2500.6).new / lbf == pytest.approx(4.2)


@given(
    name=st.sampled_from(["A", "AX", "B", "BX", "C", "3V", "5V", "SPB"]),
    inches=st.floats(2.0, 17.0),
    more=st.floats(1.0, 2.0),
    rpm=st.floats(400, 4100),
)
def test_a_larger_pulley_is_never_set_slacker(name, inches, more, rpm):
    small = table_force(name, inches * inch, rpm)
    large = table_force(name, more * inches * inch, rpm)
    assert small is None or large is None or large.new >= small.new


@pytest.mark.parametrize("row", TABLES["compressor"]["rows"])
def test_second_table(row):
    """Initial = 1.5 times the least, greatest = 1.3 times it, within the rounding to 0.1 lbf."""
    for end in row["diameter_in"]:
        inches = min(end, 20.0)
        found = force_range(row["section"].lower(), inches * inch)
        assert found.initial / lbf == pytest.approx(row["initial"])
        assert found.initial / lbf == pytest.approx(1.5 * found.least / lbf, abs=0.21)
        assert found.greatest / lbf == pytest.approx(1.3 * found.least / lbf, abs=0.13)


def test_second_table_outside_and_between():
    assert force_range("A", 2.9 * inch) is None
    assert force_range("C", 9 * inch) is None
    assert force_range("B", 5.65 * inch).least / lbf == pytest.approx(5.8)
    assert force_range("A", 5.1 * inch).row == "section A, 5.1 and up in"


@pytest.mark.parametrize(("name", "inches"), [("A", 3.0), ("A", 4.0), ("A", 5.0), ("B", 5.6)])
def test_the_two_tables_differ_as_the_trade_does(name, inches):
    """The compressor maker's forces are 0.6 to 1.2 of the common ones."""
    common, gentle = table_force(name, inches * inch, 1750), force_range(name, inches * inch)
    assert 0.6 < gentle.initial / common.new < 1.2
    assert 0.6 < gentle.least / common.used < 1.2


@pytest.mark.parametrize("row", TABLES["metric"]["rows"])
def test_metric_table(row):
    low, high = row["diameter_mm"]
    inside = 1.1 * low if math.isinf(high) else (low + high) / 2
    found = metric_deflection(row["section"], inside * milli)
    assert found.deflection_ratio == pytest.approx(row["deflection_mm"] / 100)
    assert found.force == row["force_N"]
    # The string part alone, T = P t/(4 q), is some hundred newtons to a few thousand.
    assert 200 < found.force / (4 * found.deflection_ratio) < 2000


def test_metric_table_at_an_end_that_two_rows_share_and_outside():
    assert metric_deflection("SPZ", 125 * milli).deflection_ratio == pytest.approx(0.0205)
    assert metric_deflection("SPZ", 126 * milli).deflection_ratio == pytest.approx(0.0190)
    assert metric_deflection("SPZ", 73 * milli).deflection_ratio == pytest.approx(0.0245)
    assert metric_deflection("SPZ", 60 * milli) is None
    assert metric_deflection("A", 100 * milli) is None


def test_metric_deflections_fall_with_diameter():
    for name in ("SPZ", "SPA", "SPB", "SPC"):
        falls = [row["deflection_mm"] for row in TABLES["metric"]["rows"] if row["section"] == name]
        assert falls == sorted(set(falls), reverse=True)


# A table of the trade (common practice) that prints force and tension, lbf: 3V at 2.65 to 3.65 in,
# 5V at 7.1 to 10.9 in, 8V at 12.5 to 17 in, new belts.
PRINTED = [("3V", 5.4, 83.8), ("5V", 22.1, 348.2), ("8V", 51.6, 813.6)]


@pytest.mark.parametrize(("name", "force", "tension"), PRINTED)
def test_printed_tensions_imply_a_smaller_stretch_constant(name, force, tension):
    implied = 16 * force - tension
    constant = stretch_constant(name).value / lbf
    assert 0.4 < implied / constant < 0.85
    found = implied_tension(force * lbf, constant * lbf) / lbf
    assert found == pytest.approx(tension, rel=0.02)
    assert found < tension


def test_stretch_constants():
    for name, pounds in (("A", 6), ("AX", 7), ("B", 9), ("D", 30), ("8v", 22)):
        assert stretch_constant(name).value == pytest.approx(pounds * lbf)
        assert stretch_constant(name).sure == "from memory"
    for name in ("SPZ", "4L", "sure", "source", ""):
        assert stretch_constant(name) is None


@pytest.mark.parametrize("name", ["A", "AX", "B", "BX", "C", "D"])
def test_stretch_constants_are_those_behind_the_stiffness(name):
    """EA = 2048 Y, to the three figures of the data on sections."""
    assert 2048 * stretch_constant(name).value == pytest.approx(
        section(name).stiffness.value, rel=0.005
    )


@given(tension=st.floats(1.0, 2000.0), constant=st.floats(0.0, 100.0), share=st.floats(0.05, 0.5))
def test_implied_tension_is_the_inverse_of_the_deflection_force(tension, constant, share):
    force = float(deflection_force(tension, 2048 * constant, share, 1.0))
    assert implied_tension(force, constant, share) == pytest.approx(tension, rel=1e-9)


def test_implied_tension_is_never_below_zero():
    assert implied_tension(0.1, 100.0) == 0.0
