"""Sections of V-belts: what is there, and that it hangs together."""

import math
from itertools import pairwise

import pytest

from mountcalc.handbook.belts.sections import heavier_section, known_sections, section
from mountcalc.handbook.rows import Datum

SURE = {"published", "common practice", "from memory", "estimate"}
INCH = 0.0254
NUMBERS = ("stiffness", "mass", "traction", "traction_on_flat", "inside_to_pitch",
           "pitch_to_outside", "least_diameter")  # fmt: skip


@pytest.mark.parametrize("name", known_sections())
def test_every_datum_has_a_value_a_source_and_how_sure_it_is(name):
    row = section(name)
    assert 0 < row.height < row.width
    for number in (getattr(row, number) for number in NUMBERS):
        assert isinstance(number, Datum)
        assert number.value > 0
        assert len(number.source) > 8
        assert number.sure in SURE


def test_sections():
    sections = "A AX B BX C CX D E 3V 5V 8V 3L 4L 5L Z SPZ SPA SPB SPC"
    assert " ".join(known_sections()) == sections
    assert section(" spz ") is section("SPZ")
    assert section("Q") is None


def test_heavier_sections():
    assert heavier_section("a").name == "B"
    assert heavier_section("SPB").name == "SPC"
    assert heavier_section("E") is None
    assert heavier_section("Q") is None


@pytest.mark.parametrize(
    ("name", "y_lbf"),
    [("A", 6), ("AX", 7), ("B", 9), ("BX", 10), ("C", 16), ("CX", 18), ("D", 30),
     ("3V", 4), ("8V", 22)],
)  # fmt: skip
def test_stiffness_is_that_of_the_deflection_test(name, y_lbf):
    # A span pushed in by 1/64 of its length is 2 (1/64)^2 = 1/2048 longer: EA = 2048 Y.
    expected = 2048 * y_lbf * 4.4482216152605
    assert section(name).stiffness.value == pytest.approx(expected, rel=2e-3)


def test_stiffness_of_5v_covers_both_ways_to_it():
    # 2048 Y with Y = 12 lbf (from memory), and printed force and tension pairs (common practice).
    for way in (2048 * 12 * 4.4482216152605, 47e3):
        assert 0.5 < section("5V").stiffness.value / way < 2.0


@pytest.mark.parametrize(
    ("name", "kc"), [("A", 0.561), ("B", 0.965), ("C", 1.716), ("D", 3.498), ("E", 5.041)]
)
def test_mass_agrees_with_the_centrifugal_constant(name, kc):
    # Shigley's Mechanical Engineering Design, Table 17-16: Fc [lbf] = Kc (V / 1000)^2, V [ft/min];
    # so m = Kc g (60 / 1000)^2 [lb/ft]. Belt tables round to two digits, and differ by up to 9 %.
    pound_per_foot = kc * 32.174 * (60 / 1000) ** 2
    assert section(name).mass.value == pytest.approx(pound_per_foot * 1.48816, rel=0.09)


# Top width and height in inches as ANSI/RMA IP-20 has them; the data are the metric sizes.
SIZES_IN = [("A", 0.50, 0.31), ("B", 0.66, 0.41), ("C", 0.88, 0.53), ("D", 1.25, 0.75),
            ("E", 1.50, 0.91)]  # fmt: skip


@pytest.mark.parametrize(("name", "width", "height"), SIZES_IN)
def test_sizes_of_two_standards_agree(name, width, height):
    # Inch and metric sections run in one another's grooves: within 4 % of width, 9 % of height.
    row = section(name)
    assert row.width == pytest.approx(width * INCH, rel=0.04)
    assert row.height == pytest.approx(height * INCH, rel=0.09)


@pytest.mark.parametrize(("name", "mass"), [("3V", 0.082), ("5V", 0.212), ("8V", 0.565)])
def test_masses_of_narrow_belts_agree_with_a_second_source(name, mass):
    # Common practice, belts of a stiffer make-up: within an eighth.
    assert section(name).mass.value == pytest.approx(mass, rel=0.125)


@pytest.mark.parametrize(("name", "like"), [("SPZ", "3V"), ("SPB", "5V")])
def test_narrow_belts_of_two_standards_are_alike(name, like):
    row, other = section(name), section(like)
    assert row.mass.value == pytest.approx(other.mass.value, rel=0.07)
    assert row.width == pytest.approx(other.width, rel=0.04)


def test_traction_is_shigleys():
    # e^(0.5123 pi) = 5: the tension ratio at half a turn.
    assert section("A").traction.value == 0.5123


# (D - d)/C, arc on the small pulley [deg], factor of a V-belt from a grooved to a flat pulley:
# ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 12), the rows in which the factor rises.
V_FLAT = [(0.0, 180, 0.75), (0.1, 174, 0.76), (0.2, 169, 0.78), (0.3, 163, 0.79), (0.4, 157, 0.80),
          (0.5, 151, 0.81), (0.6, 145, 0.83), (0.7, 139, 0.84), (0.8, 133, 0.85)]  # fmt: skip


@pytest.mark.parametrize(("spread", "arc_deg", "factor"), V_FLAT)
def test_traction_on_a_flat_rim_follows_from_the_published_factors(spread, arc_deg, factor):
    # K = 1.25 (1 - 1/R) and R = e^(mu arc), on the larger, flat pulley. The factors have two
    # digits: 0.005 of K is 0.012 of mu at most.
    on_flat = 2 * math.pi - math.radians(arc_deg)
    implied = -math.log(1 - factor / 1.25) / on_flat
    assert section("A").traction_on_flat.value == pytest.approx(implied, abs=0.006), spread


@pytest.mark.parametrize("name", [name for name in known_sections() if "L" not in name])
def test_the_belts_height_is_between_its_inside_and_its_outside(name):
    # A belt of height h bent into a ring is 2 pi h longer outside than inside. Classical lengths
    # are nominal: the trade's differences overstate h by up to a fifth.
    row = section(name)
    height = (row.inside_to_pitch.value + row.pitch_to_outside.value) / (2 * math.pi)
    assert 0.95 < height / row.height < 1.21


def test_a_second_source_of_the_pitch_line_of_b():
    # Metric lists have the datum length of B 43 mm over its inside length, inch tables 1.8 in.
    assert section("B").inside_to_pitch.value == pytest.approx(0.043, abs=0.003)


@pytest.mark.parametrize(
    ("name", "outside_in"),
    [("A", 2), ("AX", 2), ("B", 3), ("BX", 3), ("C", 4), ("D", 5), ("E", 6)],
)
def test_outside_lengths_of_the_trade(name, outside_in):
    # Common practice: the outside length is so many inches over the designation.
    row = section(name)
    difference = row.inside_to_pitch.value + row.pitch_to_outside.value
    assert difference == pytest.approx(outside_in * INCH, rel=1e-12)


@pytest.mark.parametrize(("name", "least_in"), [("A", 3.0), ("AX", 2.2), ("B", 5.4), ("BX", 4.0),
                                                ("C", 9.0), ("CX", 6.8), ("D", 13.0)])  # fmt: skip
def test_least_diameters(name, least_in):
    # ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 9), minimum recommended datum diameter.
    assert section(name).least_diameter.value == pytest.approx(least_in * INCH, rel=1e-12)


@pytest.mark.parametrize(("name", "datum_mm"), [("A", 75), ("B", 125), ("C", 200), ("D", 355)])
def test_least_diameters_of_two_standards_agree(name, datum_mm):
    # ISO 4183 (from memory) allows up to 14 % smaller pulleys than ANSI/RMA IP-20 recommends.
    ratio = section(name).least_diameter.value / (datum_mm * 1e-3)
    assert 0.9 < ratio < 1.15


def test_larger_belts_are_stiffer_and_heavier():
    for family in (("3L", "4L", "5L"), ("Z", "A", "B", "C", "D", "E"), ("3V", "5V", "8V"),
                   ("SPZ", "SPA", "SPB", "SPC")):  # fmt: skip
        rows = [section(name) for name in family]
        for smaller, larger in pairwise(rows):
            assert smaller.stiffness.value < larger.stiffness.value
            assert smaller.mass.value < larger.mass.value
            assert smaller.least_diameter.value < larger.least_diameter.value
            assert smaller.width < larger.width
