"""Lengths, wraps and centre distances of open belts: single examples of several texts.

The last test sends the lengths of this folder's other examples through the reader and solver too.

- Sarkar, illustration 3, p. 58 (its crossed belt is not of a kind that the package does).
- U. C. Jindal, Machine Design, 21-2. The length is as computed there; the belt that the book goes
  on to name, 3251 mm, is another.
- B. J. Hamrock, Fundamentals of Machine Elements, problem 19.1: published answers, the diameters
  and the centre distance from memory.
- H. Roloff and W. Matek, Maschinenelemente, an example in the style of that book.
"""

import math

import pytest
from scipy.constants import inch
from textbook_mounts import drive_file, open_belt

from mountcalc import parse_scenario
from mountcalc.table import tension_table

# Half of the last digit that is printed.
TENTH, HUNDREDTH, THOUSANDTH, MILLIMETRE = 0.05, 0.005, 5e-4, 0.5
# Sarkar takes pi = 3.141, and cuts off 1125.86 cm at the first decimal.
SARKAR_CM = 0.1


# Small and large diameter, centre distance, length as published, unit; half of its last digit.
PUBLISHED_LENGTHS = {
    "Shigley, polyamide F-1": ("2", "4", "108", "225.4", "in", TENTH),
    "Shigley, problem 17-4": ("6", "18", "96", "230.074", "in", THOUSANDTH),
    "Mott, example 7-1": ("12.4", "21.1", "24", "101.4", "in", TENTH),
    "Khurmi and Gupta, 11.15": ("0.24", "0.6", "3", "7.33", "m", HUNDREDTH),
    "Khurmi and Gupta, 11.19": ("0.333333", "1", "1.75", "5.66", "m", HUNDREDTH),
    "Sarkar, illustration 3": ("30", "50", "500", "1125.8", "cm", SARKAR_CM),
    "Jindal, 21-2": ("0.3", "0.6", "0.9", "3.239", "m", THOUSANDTH),
    "Hamrock, problem 19.1": ("16", "36", "180", "442.2", "in", TENTH),
}


def test_sarkar_illustration_3():
    assert open_belt(30, 50, 500).length == pytest.approx(1125.8, abs=SARKAR_CM)


def test_jindal_21_2():
    assert open_belt(0.3, 0.6, 0.9).length == pytest.approx(3.239, abs=THOUSANDTH)


def test_hamrock_problem_19_1():
    belt = open_belt(16, 36, 180)
    assert belt.length == pytest.approx(442.2, abs=TENTH)
    alpha = (math.pi - belt.small_wrap) / 2
    assert math.degrees(alpha) == pytest.approx(3.185, abs=THOUSANDTH)


def test_roloff_matek_center_distance():
    """60.48 mm and 181.44 mm with a 990 mm belt; the mount is drawn with 300 mm centres."""
    text = drive_file(
        "300 mm",
        driven={"pulley_diameter": "181.44 mm", "power": "1 kW"},
        motor={"pulley_diameter": "60.48 mm", "speed": "1450 rpm"},
        belt={"length": "990 mm", "traction": 0.5},
    )
    table = tension_table(parse_scenario(text), [0])
    assert table.snug.center_distance * 1000 == pytest.approx(299, abs=MILLIMETRE)


@pytest.mark.parametrize("name", PUBLISHED_LENGTHS)
def test_published_length_gives_the_centers_back(name):
    """A belt of the length that is printed is snug where its example has the shafts.

    Half of the last digit of a length is half as much on the centres, or little more: dL/dC is
    2 cos(beta), above 1.8 in all of these.
    """
    small, large, center, length, unit, half_digit = PUBLISHED_LENGTHS[name]
    text = drive_file(
        f"{center} {unit}",
        driven={"pulley_diameter": f"{large} {unit}", "power": "1 kW"},
        motor={"pulley_diameter": f"{small} {unit}", "speed": "1450 rpm"},
        belt={"length": f"{length} {unit}", "traction": 0.5},
    )
    snug = tension_table(parse_scenario(text), [0]).snug
    in_unit = snug.center_distance / {"in": inch, "m": 1.0, "cm": 0.01}[unit]
    assert in_unit == pytest.approx(float(center), abs=half_digit / 1.8)
