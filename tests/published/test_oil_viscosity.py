"""Viscosities of ISO grades: ISO 3448 at 40 deg C, viscosity index 95 (ASTM D2270) at 100 deg C,
Walther's law between (ASTM D341). The table is computed from those standards with an open
library's D2270; the grades' ranges at 40 deg C are read in print. Grades 10, 15, 320 and 460 are by
D2270's equations below, which are from memory.
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
from mountcalc.handbook.rows import load

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


FROM_MEMORY = (10, 15, 320, 460)
# ASTM D2270: up to Y [mm2/s] at 100 deg C, L = a Y^2 + b Y + c and H = d Y^2 + e Y + f.
D2270 = (
    (3.8, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077),
    (4.4, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183),
    (5.0, 2.5, -7.2143, 13.812, 0.82143, 1.5679, 0.119),
    (6.4, 0.101, 16.635, -45.469, 0.04985, 9.1613, -18.557),
    (7.0, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656),
    (7.7, 0.01191, 21.475, -72.87, 0.79762, -0.7321, 14.61),
    (9.0, 0.41858, 16.1558, -56.04, 0.05794, 10.5156, -28.24),
    (12, 0.88779, 7.5527, -16.6, 0.26665, 6.7015, -10.81),
    (15, 0.7672, 10.7972, -38.18, 0.20073, 8.4658, -22.49),
    (18, 0.97305, 5.3135, -2.2, 0.28889, 5.9741, -4.93),
    (22, 0.97256, 5.25, -0.98, 0.24504, 7.416, -16.73),
    (28, 0.91413, 7.4759, -21.82, 0.20323, 9.1267, -34.23),
    (40, 0.87031, 9.7157, -50.77, 0.18411, 10.1015, -46.75),
)


def at(grade, celsius):
    return kinematic_viscosity(grade, celsius + ZERO_C) * 1e6


def test_grades_are_those_of_the_table():
    assert oil_grades() == tuple(sorted((*GRADES, *FROM_MEMORY)))
    assert load("oils")["from_memory"] == list(FROM_MEMORY)


@pytest.mark.parametrize("grade", GRADES)
def test_table(grade):
    (least, greatest), (a, b), points = GRADES[grade]
    assert least < at(grade, 40) < greatest
    assert at(grade, 40) == pytest.approx(grade, rel=1e-9)
    for celsius, viscosity in zip((20, 30, 50, 60, 100), points, strict=True):
        assert at(grade, celsius) == pytest.approx(viscosity, rel=LAST_DIGIT)
        by_law = 10**10 ** (a - b * math.log10(celsius + ZERO_C)) - 0.7
        assert at(grade, celsius) == pytest.approx(by_law, rel=LAST_DIGIT)


@pytest.mark.parametrize("grade", [*GRADES, *FROM_MEMORY])
def test_viscosity_index_is_95_by_the_equations(grade):
    """The seven that are from the library agree too, so the equations are recalled right."""
    hot = at(grade, 100)
    a, b, c, d, e, f = next(row[1:] for row in D2270 if hot <= row[0])
    upper, lower = a * hot**2 + b * hot + c, d * hot**2 + e * hot + f
    assert upper - 0.95 * (upper - lower) == pytest.approx(grade, rel=0.004)


@pytest.mark.parametrize("grade", [*GRADES, *FROM_MEMORY])
def test_grades_are_a_sixth_of_a_decade_apart(grade):
    """ISO 3448: each is 1.5 times the one before; Walther's slope goes on as in the table."""
    k = round(6 * math.log10(grade))
    assert grade == pytest.approx(10 ** (k / 6), rel=0.03)
    cold, hot = (math.log10(math.log10(at(grade, celsius) + 0.7)) for celsius in (40, 100))
    slope = (cold - hot) / math.log10(373.15 / 313.15)
    assert 3.3 < slope < 3.9


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
        (50, 40, "no viscosity is known for ISO VG 50; known are 10, 15, 22"),
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
    for grade in oil_grades()[1:]:
        assert at(grade, 120) > 2.0
    with pytest.raises(InputError, match="ISO VG 10 is too thin at 120 degC"):
        at(10, 120)
