"""V-belts of R. L. Mott, Machine Elements in Mechanical Design: Eq. 7-3 and Example 7-1."""

import math

import pytest
from scipy.constants import inch
from textbook_mounts import drive_file, open_belt

from mountcalc import parse_scenario
from mountcalc.table import tension_table

TENTH = 0.05  # half of the last digit that is printed
# The book rounds B to 189.6 in and takes the length by Eq. 7-3 before it takes the centres.
CENTER_IN = 0.02
# The wrap is printed as 158 deg, cut off from 158.5.
WRAP_DEG = 0.5

# Drives of this folder's examples: smaller and larger diameter, centre distance.
DRIVES = [
    (2, 4, 108),
    (6, 18, 96),
    (4, 6, 19.12),
    (8, 16, 20),
    (12.4, 21.1, 24),
    (7.4, 11, 42.4),
    (5.4, 16, 26.05),
    (60.48, 181.44, 299),
]


def test_example_7_1_length():
    assert open_belt(12.4, 21.1, 24).length == pytest.approx(101.4, abs=TENTH)


def test_example_7_1_center_distance_and_wrap():
    text = drive_file(
        "24 in",
        driven={"pulley_diameter": "21.1 in", "power": "50 hp"},
        motor={"pulley_diameter": "12.4 in", "speed": "1160 rpm"},
        belt={"section": "5V", "length": "100 in"},
    )
    center = tension_table(parse_scenario(text), [0]).snug.center_distance / inch
    assert center == pytest.approx(23.30, abs=CENTER_IN)
    assert math.degrees(open_belt(12.4, 21.1, center).small_wrap) == pytest.approx(
        158, abs=WRAP_DEG
    )


@pytest.mark.parametrize(("small", "large", "center"), DRIVES)
def test_equation_7_3_is_the_exact_length_less_its_next_term(small, large, center):
    """Eq. 7-3 is the series of the exact length in s = (D - d)/(2C), cut off after s^2.

    The next terms are C s^4/12 + C s^6/40 + ..., all positive; and 1.57 stands for pi/2.
    """
    approximate = 2 * center + 1.57 * (large + small) + (large - small) ** 2 / (4 * center)
    ratio = (large - small) / (2 * center)
    cut_off = center * ratio**4 / 12 + (math.pi / 2 - 1.57) * (large + small)
    beyond = center * ratio**6 / 40
    remainder = open_belt(small, large, center).length - approximate
    assert cut_off <= remainder <= cut_off + 2 * beyond + 1e-12 * center
