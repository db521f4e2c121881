"""How a tension is measured by hand: span frequency and deflection force.

- Span frequency: T = 4 m t^2 f^2 and its printed example (common practice).
- Deflection test: force in mid-span at a deflection of span/64, "15.6 mm per m" (common
  practice), and three rows of a tensioning table that prints the force beside the tension.
- Stretch of the belt in that test: (T + Y t/L)/16 for a single belt of length L whose span t is
  pressed in, the other shaft being free to turn; Y = 6 lbf for A, 4 for 3V, 12 for 5V and 22 for
  8V belts. Formula and constants from memory.
"""

import pytest
from scipy.constants import inch, lbf
from textbook_mounts import drive_file, open_belt, set_until

from mountcalc.formulas import belt as formulas

# The example's T = 610 N should read 615.5 N; rounded down by 1 %, so its root by 0.5 %.
PRINTED_TENSION_LOW = 0.01
# Its 221 Hz is 221.5 Hz cut off.
HERTZ = 1.0
SQUARED_HERTZ = 0.5  # half of the last digit of 49 072
ROUNDING_OF_FORCE = 0.05  # forces printed to 0.1 lbf

# Printed force [lbf] and tension [lbf], and the stretch constant Y [lbf], from memory.
TENSIONING_TABLE = {
    "3V, 2.65-3.65 in": (5.4, 83.8, 4),
    "5V, 7.1-10.9 in": (22.1, 348.2, 12),
    "8V, 12.5-17 in": (51.6, 813.6, 22),
}


def test_printed_frequency_gives_the_printed_tension():
    frequency = formulas.span_frequency(610, 0.11, 0.17)
    assert (220 / frequency) ** 2 == pytest.approx(1, rel=PRINTED_TENSION_LOW)


def test_printed_tension_gives_the_printed_frequency():
    frequency = formulas.span_frequency(624, 0.11, 0.17)
    assert frequency == pytest.approx(221, abs=HERTZ)
    assert frequency**2 == pytest.approx(49_072, abs=SQUARED_HERTZ)


@pytest.mark.parametrize("row", TENSIONING_TABLE)
def test_string_part_of_the_deflection_force(row):
    """T/16 is the printed force less what the belt's stretch asks for: between 0 and Y/16."""
    force, tension, stretch_constant = TENSIONING_TABLE[row]
    string = formulas.string_force(tension, 1 / 64)
    with_stretch = formulas.mid_span_force(tension, 2048 * stretch_constant, 1.0, 1 / 64)
    assert string <= force + ROUNDING_OF_FORCE
    assert with_stretch >= force - ROUNDING_OF_FORCE


def test_deflection_and_frequency_through_the_solver():
    """Equal pulleys 170 mm apart have the example's span; other inputs are ours.

    The row's deflection is the table's 15.6 mm per m.
    """
    text = drive_file(
        "170 mm",
        driven={"pulley_diameter": "4 in", "power": "500 W"},
        motor={"pulley_diameter": "4 in", "speed": "1450 rpm"},
        belt={
            "length": f"{open_belt(4 * inch, 4 * inch, 0.17).length!r} m",
            "mass": "0.11 kg/m",
            "traction": 0.5,
        },
    )
    row = set_until(text, lambda row: row.tension, 624)
    assert row.span_frequency**2 == pytest.approx(49_072, abs=SQUARED_HERTZ)
    assert row.deflection / row.span == pytest.approx(15.6e-3, abs=0.05e-3)


def test_stretch_in_the_deflection_test_through_the_solver():
    """A 12 000 lbf belt is one of Y = 6 lbf, an A belt; the drive is ours."""
    text = drive_file(
        "20 in",
        driven={"pulley_diameter": "9 in", "power": "0.4 hp"},
        motor={"pulley_diameter": "3 in", "speed": "1725 rpm"},
        belt={"length": "59.3 in", "stiffness": f"{2048 * 6} lbf", "mass": "0.1 kg/m"}
        | {"traction": 0.5},
    )
    row = set_until(text, lambda row: row.tension, 30 * lbf)
    stretch = 6 * row.span / (59.3 * inch)
    assert row.deflection_force / lbf == pytest.approx((30 + stretch) / 16)
    assert row.deflection_force > 1.05 * 30 * lbf / 16
