"""The film of a bearing with units: properties, limits, and what is said where there is none."""

import math
from dataclasses import astuple, fields

import pytest
from film_limits import petroff_friction, petroff_torque
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.errors import InputError
from mountcalc.formulas.film import Film, film_state

# An invented line-shaft bearing: 1 1/4 in by 3 in, 0.001 in per inch, 600 rpm, VG 68 at 50 deg C.
SHAFT = {
    "load": 400.0,
    "speed": 62.83,
    "viscosity": 0.036,
    "diameter": 0.03175,
    "length": 0.0762,
    "clearance": 16e-6,
}
# Dimensions (length, force, time) of each number that goes in and comes out.
GIVEN = {
    "load": (0, 1, 0),
    "speed": (0, 0, -1),
    "viscosity": (-2, 1, 1),
    "diameter": (1, 0, 0),
    "length": (1, 0, 0),
    "clearance": (1, 0, 0),
}
FOUND = {
    "eccentricity": (0, 0, 0),
    "minimum": (1, 0, 0),
    "attitude": (0, 0, 0),
    "friction": (0, 0, 0),
    "torque": (1, 1, 0),
    "power_lost": (1, 1, -1),
    "flow": (3, 0, -1),
    "side_flow": (3, 0, -1),
    "greatest_pressure": (-2, 1, 0),
}

LIGHT = 20.0
STEP = st.floats(0.2, 5.0)


def state(**changes):
    return film_state(**(SHAFT | changes))


@given(load=st.floats(50, 8e3), more=st.floats(1.001, 3))
def test_more_load_makes_the_film_thinner(load, more):
    lighter, heavier = state(load=load).film, state(load=load * more).film
    if heavier:
        assert heavier.minimum < lighter.minimum
        assert heavier.torque > lighter.torque
        assert heavier.greatest_pressure > lighter.greatest_pressure


@given(factor=st.floats(1.001, 3))
def test_faster_or_thicker_oil_makes_the_film_thicker(factor):
    here = state().film.minimum
    assert state(speed=SHAFT["speed"] * factor).film.minimum > here
    assert state(viscosity=SHAFT["viscosity"] * factor).film.minimum > here


@given(length=STEP, force=STEP, time=STEP)
def test_results_scale_by_their_dimension(length, force, time):
    def scale(powers):
        return length ** powers[0] * force ** powers[1] * time ** powers[2]

    scaled = film_state(**{key: SHAFT[key] * scale(powers) for key, powers in GIVEN.items()})
    here = state()
    assert scaled.sommerfeld_number == pytest.approx(here.sommerfeld_number)
    assert scaled.pressure == pytest.approx(here.pressure * scale((-2, 1, 0)))
    assert set(FOUND) == {field.name for field in fields(Film)}
    for key, powers in FOUND.items():
        assert getattr(scaled.film, key) == pytest.approx(
            getattr(here.film, key) * scale(powers), rel=1e-6
        ), key


def test_numbers_belong_together():
    film = state().film
    assert film.torque == pytest.approx(film.friction * SHAFT["load"] * SHAFT["diameter"] / 2)
    assert film.power_lost == pytest.approx(film.torque * SHAFT["speed"])
    assert film.minimum == pytest.approx(SHAFT["clearance"] * (1 - film.eccentricity))
    assert 0 < film.side_flow < film.flow


def test_light_load_tends_to_petroff():
    radius = SHAFT["diameter"] / 2
    light = state(load=LIGHT)
    friction = petroff_friction(
        light.pressure, SHAFT["speed"], SHAFT["viscosity"], radius, SHAFT["clearance"]
    )
    torque = petroff_torque(
        SHAFT["speed"], SHAFT["viscosity"], radius, SHAFT["length"], SHAFT["clearance"]
    )
    assert friction * LIGHT * radius == pytest.approx(torque)
    assert light.film.eccentricity < 0.02
    assert light.film.friction == pytest.approx(friction, rel=1e-3)
    assert light.film.torque == pytest.approx(torque, rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"load": 0.0}, "no load"),
        ({"load": 1e-300}, "no load"),
        ({"speed": 0.0}, "stands still"),
        ({"length": 0.005}, "length/diameter 0.157 is outside the film table, 0.25 to 4"),
        ({"length": 0.2}, "length/diameter 6.3 is outside"),
        ({"load": 1e6}, "too much load"),
        ({"load": 0.01}, "practically central"),
    ],
)
def test_where_there_is_no_film_to_report_it_says_why(changes, words):
    result = state(**changes)
    assert result.film is None
    assert words in result.reason
    assert math.isfinite(result.pressure)
    assert result.sommerfeld_number is None or math.isfinite(result.sommerfeld_number)


@pytest.mark.parametrize("key", list(SHAFT))
@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_numbers_that_no_bearing_has_are_refused(key, value):
    with pytest.raises(InputError, match="film"):
        state(**{key: value})


@given(
    load=st.floats(0, 1e7),
    speed=st.floats(0, 1e4),
    viscosity=st.floats(1e-5, 100),
    clearance=st.floats(1e-7, 1e-2),
)
def test_never_a_number_that_is_none(load, speed, viscosity, clearance):
    result = state(load=load, speed=speed, viscosity=viscosity, clearance=clearance)
    assert bool(result.film) != bool(result.reason)
    if result.film:
        assert all(math.isfinite(value) for value in astuple(result.film))
