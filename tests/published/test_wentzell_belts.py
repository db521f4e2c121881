"""Belt examples of T. H. Wentzell, Machine Design: 14.1, 14.2 (p. 310) and 14.3 (p. 315).

14.3 prints no length, only the belt to take. Its neighbours in the range of stock, 78 and 80 in,
are those of Shigley's Mechanical Engineering Design, Table 17-10, A section, from memory.
"""

import math

import pytest
from scipy.constants import foot, hp, inch, lbf, minute
from textbook_mounts import drive_file, open_belt, set_until

from mountcalc import parse_scenario
from mountcalc.formulas import belt as formulas
from mountcalc.table import tension_table

FT_PER_MIN = foot / minute
RPM = 2 * math.pi / minute

# Half of the last digit that is printed.
HUNDREDTH, UNIT = 0.005, 0.5
# The book's torque constant is 63 000 lbf in rpm/hp where 550 ft lbf/s makes it 63 025.
TORQUE_CONSTANT = 25 / 63_000
PULL = HUNDREDTH + TORQUE_CONSTANT * 17.14
TORQUE = HUNDREDTH + TORQUE_CONSTANT * 51.43
# Wraps are printed to 0.01 deg from a centre distance rounded to 0.01 in.
WRAP_DEG = 0.01
STOCKED_BELOW = 78  # [in], the stocked length before 80 in


def test_example_14_1_pull():
    pull = formulas.pull_per_belt(2 * hp, 2450 * RPM * 3 * inch, 1) / lbf
    assert pull == pytest.approx(17.14, abs=PULL)
    assert pull * 3 == pytest.approx(51.43, abs=TORQUE)


def test_example_14_1_through_the_solver():
    """2 hp at 2450 rpm on a 6 in pulley, 10 lb on the slack side; 10 in driven pulley.

    The example adds the two strands up as if they were parallel, so the shafts are put far apart.
    """
    text = drive_file(
        "400 in",
        driven={"pulley_diameter": "10 in", "power": "2 hp"},
        motor={"pulley_diameter": "6 in", "speed": "2450 rpm"},
        belt={"length": "825.14 in", "traction": 0.5},
    )
    row = set_until(text, lambda row: row.running.slack, 10 * lbf)
    assert row.running.tight / lbf == pytest.approx(27.14, abs=PULL)
    assert row.running.shaft_load / lbf == pytest.approx(37.14, abs=PULL)
    table = tension_table(parse_scenario(text), [0])
    assert table.belt_speed / FT_PER_MIN == pytest.approx(3848, abs=UNIT)
    assert table.driven / RPM == pytest.approx(1470, abs=UNIT)


def test_example_14_2_center_distance_and_wrap():
    """4 in and 6 in pulleys about 19 in apart: the next belt, 54 in, fixes the centres."""
    text = drive_file(
        "19 in",
        driven={"pulley_diameter": "6 in", "power": "1 hp"},
        motor={"pulley_diameter": "4 in", "speed": "1750 rpm"},
        belt={"length": "54 in", "traction": 0.5},
    )
    center = tension_table(parse_scenario(text), [0]).snug.center_distance / inch
    assert center == pytest.approx(19.12, abs=HUNDREDTH)
    assert math.degrees(open_belt(4, 6, center).small_wrap) == pytest.approx(174.01, abs=WRAP_DEG)


def test_example_14_3_length_rounded_up_to_a_stocked_one():
    """8 in and 16 in pulleys 20 in apart: "use 80 in", so the belt of 78 in is too short."""
    assert STOCKED_BELOW < open_belt(8, 16, 20).length <= 80
