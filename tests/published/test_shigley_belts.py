"""R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, chapter 17: belts.

- Eq. 17-1, 17-2: wraps and length of an open belt.
- A polyamide F-1 flat belt drive (end-of-chapter problem with its published solution).
- Problem 17-4: an open belt between 6 in and 18 in pulleys.
- Example 17-2: the polyamide A-3 belt at its traction limit.
- Example 17-4: three B112 V-belts. Its printed numbers are quoted from memory; recomputing them
  from its inputs gives every digit.
- Problem 17-18: two B85 V-belts.
- Section 17-3: with f' = 0.5123 a V-belt over half a turn reaches a tension ratio of 5.
"""

import math

import pytest
from scipy.constants import foot, hp, inch, lbf, minute, pound
from textbook_mounts import drive_file, open_belt, set_until

from mountcalc import parse_scenario
from mountcalc.formulas import belt as formulas
from mountcalc.table import tension_table

FT_PER_MIN = foot / minute
RPM = 2 * math.pi / minute
V_BELT_FRICTION = 0.5123

# Half of the last digit that is printed.
TENTH, HUNDREDTH, UNIT = 0.05, 0.005, 0.5
FOURTH_FIGURE_WRAP = 5e-4  # wraps printed as 3.123
SEVENTH_FIGURE_WRAP = 5e-7  # wraps printed as 3.016511
# Of the same drives, the older manual prints 225.3 in where the newer one prints 225.4: the older
# figure is cut off, not rounded (225.434).
POLYAMIDE_LENGTH = 225.4
# Forces printed with three figures are themselves computed from rounded ones (f' = 0.307, Fi, Fc).
THREE_FIGURES = 0.003


def slip_ratio(traction, wrap):
    """Ratio of the felt strand tensions at which the package lets a belt slip."""
    share = float(formulas.slip_share(traction, wrap))
    return (1 + share) / (1 - share)


def speed(diameter, rpm):
    return rpm * RPM * diameter / 2


def test_polyamide_f1_length_and_wrap():
    belt = open_belt(2, 4, 108)
    assert belt.length == pytest.approx(POLYAMIDE_LENGTH, abs=TENTH)
    assert belt.small_wrap == pytest.approx(3.123, abs=FOURTH_FIGURE_WRAP)


def test_problem_17_4_length_and_wraps():
    belt = open_belt(6, 18, 96)
    assert belt.length == pytest.approx(230.074, abs=5e-4)
    assert belt.small_wrap == pytest.approx(3.016511, abs=SEVENTH_FIGURE_WRAP)
    assert belt.large_wrap == pytest.approx(3.266674, abs=SEVENTH_FIGURE_WRAP)


def test_polyamide_f1_tensions():
    v = speed(2 * inch, 1750)
    assert v / FT_PER_MIN == pytest.approx(916.3, abs=TENTH)
    centrifugal = formulas.centrifugal_tension(0.126 * pound / foot, v) / lbf
    assert centrifugal == pytest.approx(0.913, abs=0.004)  # w = .126 is rounded: 0.4 %
    pull = formulas.pull_per_belt(2.5 * hp, v, 1) / lbf
    assert pull == pytest.approx(90.0, abs=TENTH)
    # Shigley's initial tension Fi leaves the centrifugal part out.
    tight, slack = formulas.strand_tensions(101.1 + 0.913, pull)
    assert tight == pytest.approx(147, abs=UNIT)
    assert slack == pytest.approx(57, abs=UNIT)


def test_polyamide_f1_developed_friction():
    ratio = (147 - 0.913) / (57 - 0.913)
    assert slip_ratio(0.307, 3.123) == pytest.approx(ratio, rel=THREE_FIGURES)


def test_polyamide_f1_through_the_solver():
    """At the tight tension that the belt may have, friction f' just carries 2.5 hp."""
    text = drive_file(
        "108 in",
        driven={"pulley_diameter": "4 in", "power": "2.5 hp"},
        motor={"pulley_diameter": "2 in", "speed": "1750 rpm"},
        belt={"length": f"{POLYAMIDE_LENGTH} in", "mass": "0.126 lb/ft", "traction": 0.307},
    )
    row = set_until(text, lambda row: row.running.tight, 147 * lbf)
    assert row.running.slack / lbf == pytest.approx(57, abs=UNIT)
    assert row.running.grip == pytest.approx(1, rel=THREE_FIGURES)
    # Fi + Fc: at fixed centres the rest tension holds the centrifugal part too.
    assert row.tension / lbf == pytest.approx(101.1 + 0.913, abs=TENTH)


def test_example_17_2_slip_ratio():
    assert slip_ratio(0.80, 3.037) == pytest.approx(11.35, abs=HUNDREDTH)


def test_v_belt_ratio_of_five():
    assert slip_ratio(V_BELT_FRICTION, math.pi) == pytest.approx(5.000, abs=5e-4)


def b112_mass():
    """Kg/m from Kc = .965 of Table 17-16: Fc = Kc (V/1000)^2 in lbf with V in ft/min."""
    return 0.965 * lbf / (1000 * FT_PER_MIN) ** 2


def test_example_17_4_tensions():
    """Three B112, 10 hp at a design power of 13 hp."""
    v = speed(7.4 * inch, 1750)
    assert v / FT_PER_MIN == pytest.approx(3390, abs=UNIT)
    pull = formulas.pull_per_belt(13 * hp, v, 3)
    assert pull / lbf == pytest.approx(42.2, abs=TENTH)
    centrifugal = formulas.centrifugal_tension(b112_mass(), v)
    assert centrifugal / lbf == pytest.approx(11.1, abs=TENTH)
    assert slip_ratio(V_BELT_FRICTION, 3.057) == pytest.approx(4.788, abs=0.002)  # wrap +-.0005
    least = formulas.least_tension(pull, formulas.slip_share(V_BELT_FRICTION, 3.057), centrifugal)
    tight, slack = formulas.strand_tensions(least, pull)
    assert (least - centrifugal) / lbf == pytest.approx(32.2, abs=TENTH)
    assert tight / lbf == pytest.approx(64.4, abs=TENTH)
    assert slack / lbf == pytest.approx(22.2, abs=TENTH)


def example_17_4_file():
    return drive_file(
        "42.4 in",
        driven={"pulley_diameter": "11 in", "power": "13 hp"},
        motor={"pulley_diameter": "7.4 in", "speed": "1750 rpm", "power": "13 hp"},
        belt={
            "section": "B",
            "count": 3,
            "length": "113.8 in",
            "mass": f"{b112_mass()!r} kg/m",
            "traction": V_BELT_FRICTION,
        },
    )


def test_example_17_4_center_distance_at_snug():
    table = tension_table(parse_scenario(example_17_4_file()), [0])
    assert table.snug.center_distance / inch == pytest.approx(42.4, abs=TENTH)
    assert table.belt_speed / FT_PER_MIN == pytest.approx(3390, abs=UNIT)


def test_example_17_4_grip_through_the_solver():
    """Set to the printed initial tension, the belts just carry the design power."""
    row = set_until(example_17_4_file(), lambda row: row.tension, (32.2 + 11.1) * lbf)
    assert row.running.tight / lbf == pytest.approx(64.4, abs=TENTH)
    assert row.running.slack / lbf == pytest.approx(22.2, abs=TENTH)
    assert row.running.pull / lbf == pytest.approx(42.2, abs=TENTH)
    assert row.running.grip == pytest.approx(1, rel=THREE_FIGURES)


def test_problem_17_18_center_distance_wrap_and_speed():
    text = drive_file(
        "26 in",
        driven={"pulley_diameter": "16 in", "power": "3 hp"},
        motor={"pulley_diameter": "5.4 in", "speed": "1200 rpm"},
        belt={"section": "B", "count": 2, "length": "86.8 in"},
    )
    table = tension_table(parse_scenario(text), [0])
    center = table.snug.center_distance / inch
    assert center == pytest.approx(26.05, abs=HUNDREDTH)
    assert math.degrees(open_belt(5.4, 16, center).small_wrap) == pytest.approx(156.5, abs=TENTH)
    assert table.belt_speed / FT_PER_MIN == pytest.approx(1696, abs=UNIT)
