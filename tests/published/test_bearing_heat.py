"""How warm plain bearings get, against worked examples of textbooks."""

import math

import pytest
from scipy.constants import Btu, foot, hour, inch, lbf, psi
from scipy.optimize import brentq

from mountcalc.formulas.bearing_heat import (
    FILM_OVER_BOX,
    FilmBearing,
    box_rise,
    rubbing_power,
    warm_film,
)
from mountcalc.formulas.bearing_rules import surface_speed
from mountcalc.formulas.film import film_state
from mountcalc.handbook.restoring import heat_shed, oiled_ways
from mountcalc.units import kelvin

RPM = 2 * math.pi / 60
RANKINE = 5 / 9
# Shigley, 12-15 (from memory): Btu/(h ft2 F) of a housing in still and in shaft-stirred air.
SHIGLEY_STILL, SHIGLEY_STIRRED = (each * Btu / hour / foot**2 / RANKINE for each in (2.0, 2.7))


def fahrenheit(temperature):
    return temperature / RANKINE - 459.67


def test_khurmi_26_3():
    """Khurmi and Gupta, Machine Design, 26.16, bearing of a pump (from memory, recomputed).

    20 kN at 900 rpm on 100 x 160 mm, f = 0.0051, film at 55 and air at 15.5 degC, 1232 W/(m2 K):
    480.7 W are made, 389.3 W are shed.
    """
    made = rubbing_power(0.0051, 20e3, surface_speed(0.1, 900 * RPM))
    assert made == pytest.approx(480.7, abs=0.1)
    above = (55 - 15.5) / FILM_OVER_BOX
    shed = 1232 * 0.16 * 0.1 * above
    assert shed == pytest.approx(389.3, abs=0.05)
    assert box_rise(389.3, 1232, 0.16 * 0.1) == pytest.approx(above, rel=1e-3)


def test_modern_shop_practice_friction():
    """Modern Shop Practice, eq. 113 and 114 (read in print): 6000 lb, 3 in, 150 rpm, 1.071 hp."""
    best = next(iter(oiled_ways()))
    power = rubbing_power(best.friction, 6000 * lbf, surface_speed(3 * inch, 150 * RPM))
    assert power / (550 * foot * lbf) == pytest.approx(1.071, abs=5e-4)
    assert [one.friction for one in oiled_ways()] == [0.05, 0.08, 0.12]
    assert best.sure == "published"


def test_shigley_12_5():
    """Shigley, Machine Design, example 12-5 (from memory): a pillow block that cools itself.

    100 lbf at 900 rpm on 2 x 2 in, radial clearance 0.001 in, SAE 20, 40 in2 of housing in
    shaft-stirred air of 70 F: film at 193 F, h0 0.00079 in, f 0.0128, some 45 Btu/h. The authors
    read charts; SAE 20 is their fit's (Seireg and Dandage), 3 % thicker there than the chart.
    """
    area, clearance = 4 * inch**2, 0.001 * inch
    shedding = SHIGLEY_STIRRED * 40 / 4

    def film(degrees):
        viscosity = 0.0136e-6 * psi * math.exp(1271.6 / (degrees + 95))
        state = film_state(100 * lbf, 900 * RPM, viscosity, 2 * inch, 2 * inch, clearance)
        return state.film

    def surplus(degrees):
        shed = shedding * area * (degrees - 70) * RANKINE / FILM_OVER_BOX
        return film(degrees).power_lost - shed

    printed = brentq(surplus, 100, 240)
    assert printed == pytest.approx(193, abs=4)
    assert film(printed).power_lost / Btu * hour == pytest.approx(45, rel=0.06)
    assert film(printed).minimum / inch == pytest.approx(0.00079, rel=0.02)
    assert film(printed).friction == pytest.approx(0.0128, rel=0.02)
    # Ours finds such a balance by itself: ISO VG 46 is a little thinner than SAE 20, 68 thicker.
    air = kelvin(70, "degF")
    ours = [
        warm_film(
            FilmBearing(2 * inch, 2 * inch, clearance, 100 * lbf, 900 * RPM, grade), shedding, air
        )
        for grade in (46.0, 68.0)
    ]
    assert fahrenheit(ours[0].film) < printed < fahrenheit(ours[1].film)
    for one in ours:
        assert box_rise(one.power, shedding, area) == pytest.approx(one.box_rise(air), rel=2e-3)


def test_what_boxes_shed_against_a_second_book():
    """Shigley's still air on a housing of 10 to 20 projected areas lies in Khurmi's range.

    10 as in his example 12-5; 15 to 20 of pedestals (ISO 7902, from memory).
    """
    least, most = (one.value for one in heat_shed())
    assert least == pytest.approx(140)
    assert most == pytest.approx(420)
    for areas, coefficient in ((15, SHIGLEY_STILL), (20, SHIGLEY_STILL), (20, 20.0)):
        assert least < areas * coefficient < most
    assert pytest.approx(least, rel=0.1) == 10 * SHIGLEY_STIRRED
    assert {one.sure for one in heat_shed()} == {"from memory"}


def test_a_film_that_breaks_down_and_one_with_hardly_a_load():
    air = kelvin(20, "degC")
    heavy = FilmBearing(0.03, 0.06, 2e-5, 50e3, 10.0, 68.0)
    assert warm_film(heavy, 140.0, air) is None
    light = FilmBearing(0.03, 0.06, 2e-5, 1.9, 300.0, 68.0)
    found = warm_film(light, 420.0, air)
    # Petroff: mu omega r 2 pi r L / c, times the speed of the surface.
    assert (found.minimum, found.side_flow) == (2e-5, 0.0)
    assert found.power == pytest.approx(found.box_rise(air) * 420.0 * light.area, rel=2e-3)
    assert warm_film(FilmBearing(0.03, 0.2, 2e-5, 100.0, 30.0, 68.0), 140.0, air) is None


def test_more_shedding_is_cooler_and_thicker():
    air = kelvin(20, "degC")
    bearing = FilmBearing(0.032, 0.076, 2.2e-5, 190.0, 60.0, 68.0)
    films = [warm_film(bearing, shedding, air) for shedding in (140.0, 250.0, 420.0)]
    assert sorted(films, key=lambda one: -one.film) == films
    assert sorted(films, key=lambda one: one.minimum) == films
    assert sorted(films, key=lambda one: one.power) == films
