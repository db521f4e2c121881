"""Centre distances that other people found from a belt's length.

- M. Wentzell, Machine Design, 14.2: 4 in and 6 in pulleys, "take L = 54 in".
- Mott, Machine Elements in Mechanical Design, example 7-1, by its equation 7-4, in which 6.28
  stands for 2 pi.
- Shigley, Mechanical Engineering Design: example 17-4 (three B112) and problem 17-18 (two B85).
- H. Roloff and W. Matek, Maschinenelemente, an example in the style of that book (L = 990 mm).
- Lengths: see ``test_open_belt_lengths``, which sends them through the solver.
"""

import math

import pytest

from mountcalc.linkage.center_distance import approximate_center_distance, center_distance

# Half of the last digit that is printed.
HALF, TENTH, HUNDREDTH = 0.5, 0.05, 0.005
# Mott prints 23.30 where 2 pi for 6.28 would give 23.28.
MOTT_ROUNDS = 0.02

# Diameters, length, centre distance as published, in one unit; half of its last digit.
EXAMPLES = {
    "Wentzell 14.2": (4, 6, 54, 19.12, HUNDREDTH),
    "Shigley, example 17-4": (7.4, 11, 113.8, 42.4, TENTH),
    "Shigley, problem 17-18": (5.4, 16, 86.8, 26.05, HUNDREDTH),
    "Roloff and Matek": (60.48, 181.44, 990, 299, HALF),
    "Mott, example 7-1": (12.4, 21.1, 100, 23.30, MOTT_ROUNDS),
}
# Lengths that are published for a centre distance; the length's last digit moves the distance by
# 1/(2 cos beta) of it, less than 0.56 in these.
LENGTHS = {
    "Shigley, polyamide F-1": (2, 4, 225.4, 108, TENTH),
    "Shigley, problem 17-4": (6, 18, 230.074, 96, 5e-4),
    "Khurmi and Gupta, 11.15": (0.24, 0.6, 7.33, 3, HUNDREDTH),
    "Khurmi and Gupta, 11.19": (1 / 3, 1, 5.66, 1.75, HUNDREDTH),
    "Jindal, 21-2": (0.3, 0.6, 3.239, 0.9, 5e-4),
    "Hamrock, problem 19.1": (16, 36, 442.2, 180, TENTH),
}


@pytest.mark.parametrize("inverse", [center_distance, approximate_center_distance])
@pytest.mark.parametrize("name", EXAMPLES)
def test_published_center_distance(name, inverse):
    """These drives are so slender that the closed form and the exact inverse print alike."""
    small, large, length, center, half_digit = EXAMPLES[name]
    assert inverse(length, small / 2, large / 2) == pytest.approx(center, abs=half_digit)


@pytest.mark.parametrize("name", LENGTHS)
def test_published_length(name):
    small, large, length, center, half_digit = LENGTHS[name]
    assert center_distance(length, small / 2, large / 2) == pytest.approx(
        center, abs=0.56 * half_digit
    )


def test_mott_equation_7_4():
    """C = [B + sqrt(B^2 - 32 (D - d)^2)]/16 with the B of the page: what its 6.28 costs."""
    total, difference = 21.1 + 12.4, 21.1 - 12.4
    b = 4 * 100 - 6.28 * total
    assert b == pytest.approx(189.6, abs=TENTH)
    by_page = (b + math.sqrt(b**2 - 32 * difference**2)) / 16
    assert by_page == pytest.approx(23.30, abs=HUNDREDTH)
    too_far = (2 * math.pi - 6.28) * total / 8  # dC/dB is an eighth, the root being nearly B
    assert by_page - approximate_center_distance(100, 6.2, 10.55) == pytest.approx(
        too_far, rel=0.05
    )
