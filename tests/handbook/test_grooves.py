"""Grooves: both standards row by row, and every way from a measured diameter to the pitch one."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.handbook.belts.grooves import (
    groove_angle,
    has_datum_diameter,
    outside_less_pitch,
    pitch_from_rim,
)
from mountcalc.handbook.belts.sections import known_sections, section
from mountcalc.handbook.rows import load

INCH = 0.0254
IP20 = load("grooves")["ip20"]
COMBINATION = load("grooves")["combination"]
# Widths of grooves in inches, whose tops the print rounds off a little.
DIGITS = 0.004


# ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 9), in inches and in mm.
ANGLES_IN = [("A", 5.4, 34, 38), ("B", 7.0, 34, 38), ("C", 7.99, 34, 36), ("C", 12.0, 36, 38),
             ("D", 12.99, 34, 36), ("D", 17.0, 36, 38)]  # fmt: skip
ANGLES_MM = [("A", 137, 34, 38), ("B", 178, 34, 38), ("C", 203, 34, 36), ("C", 305, 36, 38),
             ("D", 330, 34, 36), ("D", 432, 36, 38)]  # fmt: skip
# ISO 4183, from memory, in mm.
ANGLES_ISO = [("Z", 80, 34, 38), ("SPZ", 80, 34, 38), ("SPA", 118, 34, 38), ("SPB", 190, 34, 38),
              ("SPC", 315, 34, 38), ("E", 600, 36, 38)]  # fmt: skip


def degrees(name, diameter):
    return math.degrees(groove_angle(name, diameter).value)


@pytest.mark.parametrize(("name", "to", "below", "above"), ANGLES_IN)
def test_inch_groove_angles(name, to, below, above):
    for cogged in ("", "X") if name != "D" else ("",):
        assert degrees(name + cogged, to * INCH) == pytest.approx(below)
        assert degrees(name + cogged, (to + 0.011) * INCH) == pytest.approx(above)
    assert groove_angle(name, to * INCH).sure == "published"


@pytest.mark.parametrize(("name", "to", "below", "above"), ANGLES_MM)
def test_inch_groove_angles_agree_with_the_metric_print(name, to, below, above):
    # The same diameters rounded to 1 mm: just below and above they are as the inches have it.
    assert degrees(name, (to - 1) * 1e-3) == pytest.approx(below)
    assert degrees(name, (to + 1) * 1e-3) == pytest.approx(above)


@pytest.mark.parametrize(("name", "to", "below", "above"), ANGLES_ISO)
def test_metric_groove_angles(name, to, below, above):
    assert degrees(name, to * 1e-3) == pytest.approx(below)
    assert degrees(name, (to + 0.1) * 1e-3) == pytest.approx(above)
    assert groove_angle(name, 0.1).sure == "from memory"


def test_narrow_inch_grooves_go_by_the_outside_diameter():
    # ANSI/RMA IP-22, from memory: 36 deg up to 3.49 in over the rims, 0.05 in over the pitch line.
    assert degrees("3V", 3.44 * INCH) == pytest.approx(36)
    assert degrees("3V", 3.45 * INCH) == pytest.approx(38)
    assert degrees("8V", 30 * INCH) == pytest.approx(42)


def test_where_no_angle_is_known():
    assert groove_angle("4L", 0.1) is None
    assert groove_angle("Q", 0.1) is None


@given(name=st.sampled_from(known_sections()), first=st.floats(0.01, 2), second=st.floats(0.01, 2))
def test_larger_pulleys_have_wider_grooves(name, first, second):
    if groove_angle(name, first) is not None:
        small, large = sorted((first, second))
        assert groove_angle(name, small).value <= groove_angle(name, large).value


@pytest.mark.parametrize("name", ["A", "B", "C", "D"])
def test_a_groove_widens_from_its_datum_width_to_its_top(name):
    # b_g = b_d + 2 h_d tan(half the angle), the table's own numbers.
    row = IP20[name]
    for groove in row["grooves"]:
        slope = math.tan(math.radians(groove["deg"]) / 2)
        assert groove["b_g"] == pytest.approx(row["b_d"] + row["two_h_d"] * slope, abs=DIGITS)
    assert row["h_g"] > row["two_h_d"] / 2
    assert row["s_g"] > max(groove["b_g"] for groove in row["grooves"])
    assert row["s_e"] > row["b_d"] / 2


def test_the_combination_groove_is_between_its_sections():
    narrow, wide = IP20["A"], IP20["B"]
    for groove, small, large in zip(
        COMBINATION["grooves"], narrow["grooves"], wide["grooves"], strict=True
    ):
        assert small["b_g"] < groove["b_g"] < large["b_g"]
        assert groove["deg"] == small["deg"] == large["deg"]
    # An A belt sinks deeper into it than a B belt, but its pitch line still is further out than the
    # groove's datum line.
    assert COMBINATION["two_a_p"]["A"] > 0 > COMBINATION["two_a_p"]["B"]
    for name, least in COMBINATION["least_diameter"].items():
        alone = section(name).least_diameter.value / INCH
        assert alone < least < alone + 0.7
    assert (COMBINATION["s_g"], COMBINATION["s_e"]) == (wide["s_g"], wide["s_e"])


@pytest.mark.parametrize(
    ("name", "inches"),
    [("A", 0.250), ("AX", 0.250), ("B", 0.350), ("BX", 0.350), ("C", 0.400), ("CX", 0.400),
     ("D", 0.600)],
)  # fmt: skip
def test_outside_diameters(name, inches):
    # ANSI/RMA IP-20-1988 (Machinery's Handbook 31, Table 9), outside diameter = datum + 2 h_d.
    over = outside_less_pitch(name)
    assert over.value == pytest.approx(inches * INCH)
    assert over.sure == "published"
    assert has_datum_diameter(name)


@pytest.mark.parametrize("name", known_sections())
def test_rims_are_no_lower_than_the_belts_pitch_line_and_near_its_top(name):
    # The belt's top is pitch_to_outside / (2 pi) over the pitch line; rims are about there.
    over, belt = outside_less_pitch(name).value / 2, section(name)
    top = belt.pitch_to_outside.value / (2 * math.pi)
    assert 0 < over < belt.height
    assert over == pytest.approx(top, abs=0.2 * belt.height)


@given(name=st.sampled_from(known_sections()), pitch=st.floats(0.02, 3))
def test_diameters_lead_back(name, pitch):
    assert outside_less_pitch(name.lower()) == outside_less_pitch(name)
    # On a flat rim the belt's inside is as long as the rim: pi d.
    rim = pitch - section(name).inside_to_pitch.value / math.pi
    assert pitch_from_rim(name, rim) == pytest.approx(pitch, abs=1e-12)


def test_flat_belts_and_what_is_not_known():
    assert pitch_from_rim("flat leather", 0.3, 0.005) == pytest.approx(0.305)
    assert pitch_from_rim("", 0.3, 0.005) == pytest.approx(0.305)
    assert pitch_from_rim("flat leather", 0.3) is None
    assert outside_less_pitch("Q") is None
    # Narrow inch and light-duty grooves have no datum diameter.
    for name in ("Q", "3V", "8V", "4L"):
        assert not has_datum_diameter(name)
