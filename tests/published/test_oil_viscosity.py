"""Viscosities of ISO grades: ISO 3448 at 40 deg C, viscosity index 95 (ASTM D2270) at 100 deg C,
Walther's law between (ASTM D341). The table is computed from those standards with an open
library's D2270; the grades' ranges at 40 deg C are read in print.
"""

import math

import pytest

from mountcalc.errors import InputError
from mountcalc.formulas.oil import (
    dynamic_viscosity,
    kinematic_viscosity,
    oil_density,
    oil_grades,
)

ZERO_C = 273.15
LAST_DIGIT = 0.005  # the thinnest is given to 0.1 of 11 mm2/s

# Grade: least and greatest of the grade at 40 deg C; A, B; at 20, 30, 50, 60, 100 deg C [mm2/s].
GRADES = {
    22: ((19.8, 24.2), (9.6501, 3.8136), (54.8, 33.6, 15.3, 11.1, 4.25)),
    32: ((28.8, 35.2), (9.6755, 3.8046), (87.8, 51.0, 21.4, 15.0, 5.29)),
    46: ((41.4, 50.6), (9.5663, 3.7439), (136.5, 76.0, 29.8, 20.4, 6.65)),
    68: ((61.2, 74.8), (9.4259, 3.6710), (218.4, 116.6, 42.6, 28.4, 8.53)),
    100: ((90, 110), (9.2202, 3.5735), (342.7, 176.9, 61.0, 39.6, 11.07)),
    150: ((135, 165), (9.0265, 3.4813), (549.7, 273.9, 88.9, 56.3, 14.55)),
    220: ((198, 242), (8.8833, 3.4111), (861.4, 414.4, 126.8, 78.3, 18.75)),
}


def at(grade, celsius):
    return kinematic_viscosity(grade, celsius + ZERO_C) * 1e6


def test_grades_are_those_of_the_table():
    assert oil_grades() == tuple(GRADES)


@pytest.mark.parametrize("grade", GRADES)
def test_table(grade):
    (least, greatest), (a, b), points = GRADES[grade]
    assert least < at(grade, 40) < greatest
    assert at(grade, 40) == pytest.approx(grade, rel=1e-9)
    for celsius, viscosity in zip((20, 30, 50, 60, 100), points, strict=True):
        assert at(grade, celsius) == pytest.approx(viscosity, rel=LAST_DIGIT)
        by_law = 10**10 ** (a - b * math.log10(celsius + ZERO_C)) - 0.7
        assert at(grade, celsius) == pytest.approx(by_law, rel=LAST_DIGIT)


def test_viscosity_index_example():
    """ASTM D2270's printed example: an oil of 73.30 and 8.86 mm2/s; L = 119.94, H = 69.48, VI 92.

    L and H belong to 8.86 mm2/s at 100 deg C, so by them an oil of index 95 has 72.00 at 40: the
    grades on both sides of it in the data file must lead there too, on a line of logarithms.
    """
    upper, lower = 119.94, 69.48
    assert 100 * (upper - 73.30) / (upper - lower) == pytest.approx(92.43, abs=0.005)
    of_index_95 = upper - 0.95 * (upper - lower)
    share = math.log(of_index_95 / 68) / math.log(100 / 68)
    hot = at(68, 100) ** (1 - share) * at(100, 100) ** share
    assert hot == pytest.approx(8.86, rel=0.002)


def test_dynamic_is_density_times_kinematic():
    assert oil_density(15 + ZERO_C) == pytest.approx(870)
    assert oil_density(75 + ZERO_C) == pytest.approx(870 - 0.65 * 60)
    # By hand for VG 68 at 40: 870 - 0.65 * 25 = 853.75 kg/m3 times 68 mm2/s.
    assert dynamic_viscosity(68, 40 + ZERO_C) == pytest.approx(853.75 * 68e-6)


def test_warmer_is_thinner():
    values = [dynamic_viscosity(100, ZERO_C + celsius) for celsius in range(0, 121, 10)]
    assert values == sorted(values, reverse=True)


@pytest.mark.parametrize(
    ("grade", "celsius", "words"),
    [
        (50, 40, "no viscosity is known for ISO VG 50; known are 22, 32, 46"),
        (68.5, 40, "no viscosity is known"),
        (68, -1, "outside 0 to 120"),
        (68, 121, "outside 0 to 120"),
        (68, math.nan, "outside 0 to 120"),
        (math.nan, 40, "no viscosity is known"),
    ],
)
def test_what_is_not_known_is_refused(grade, celsius, words):
    with pytest.raises(InputError, match=words):
        kinematic_viscosity(grade, celsius + ZERO_C)


def test_kinematic_viscosity_stays_where_the_law_holds():
    for grade in oil_grades():
        assert at(grade, 120) > 2.0
