"""How warm a plain bearing gets in still air: what rubs or shears in it against what its box sheds.

A box is taken to shed its heat to the room alone. A shaft, a pulley or an iron frame takes some
of it away, so that a real box stays cooler.

Symbols
-------
load : size of the load W on the bearing [N]
surface : speed V of the journal's surface [m/s]
friction : coefficient of friction f [-]
power : what turns into heat [W]
shedding : heat that a box sheds per projected area and kelvin, C [W/(m^2 K)]
area : projected area, diameter times length [m^2]
air, film : temperature of the room and of the oil film [K]
bearing : a flooded bearing [SI units]
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.errors import InputError
from mountcalc.formulas.film import (
    GREATEST_RATIO,
    LEAST_ECCENTRICITY,
    LEAST_RATIO,
    film_from_table,
    film_state,
    friction_number,
)
from mountcalc.formulas.oil import GREATEST_TEMPERATURE, dynamic_viscosity
from mountcalc.record import Record

Array = NDArray[np.float64]

FILM_OVER_BOX = 2.0
"""How many times as far above the room's temperature the film is as the box (Khurmi and Gupta,
Machine Design, 26.16; Shigley, 12-15, with alpha = 1; both from memory)."""
_HALVINGS = 18  # to a thousandth of a kelvin
_SETTLED = 1e-3  # share of the power by which what is made and what is shed may differ


def rubbing_power(friction: ArrayLike, load: ArrayLike, surface: ArrayLike) -> Array:
    """Heat of a journal that rubs: f W V [W] (Modern Shop Practice, eq. 113 and 114)."""
    result: Array = np.asarray(friction, dtype=float) * np.asarray(load) * np.asarray(surface)
    return result


def box_rise(power: ArrayLike, shedding: ArrayLike, area: ArrayLike) -> Array:
    """How far a box settles above the room: Q / (C A) [K].

    Khurmi and Gupta, Machine Design, 26.16 (from memory).
    """
    result: Array = np.asarray(power, dtype=float) / (np.asarray(shedding) * np.asarray(area))
    return result


class WarmFilm(Record):
    """A full film that has come to its own temperature.

    ``film`` [K], ``power`` lost in it [W], coefficient of ``friction`` [-], its thinnest place
    ``minimum`` [m], the oil that leaves at the ends ``side_flow`` [m^3/s]. Of a journal that runs
    practically central ``minimum`` is the whole radial clearance and no oil leaves.
    """

    film: float
    power: float
    friction: float
    minimum: float
    side_flow: float

    def box_rise(self, air: float) -> float:
        """How far the box is above the room [K]."""
        return (self.film - air) / FILM_OVER_BOX


class FilmBearing(Record):
    """A flooded bearing: lengths [m], ``load`` [N], angular ``speed`` [rad/s], ISO grade."""

    diameter: float
    length: float
    clearance: float
    load: float
    speed: float
    grade: float

    @property
    def area(self) -> float:
        """Projected area [m^2]."""
        return self.diameter * self.length

    def at(self, film: float) -> WarmFilm | None:
        """The film at a temperature [K]; None where it does not carry, or the oil is too thin."""
        diameter, clearance = self.diameter, self.clearance
        try:
            viscosity = dynamic_viscosity(self.grade, film)
        except InputError:
            return None
        state = film_state(self.load, self.speed, viscosity, diameter, self.length, clearance)
        if state.film is not None:
            found = state.film
            return WarmFilm(film, found.power_lost, found.friction, found.minimum, found.side_flow)
        number, ratio = state.sommerfeld_number, self.length / diameter
        if number is None or not LEAST_RATIO <= ratio <= GREATEST_RATIO:
            return None
        if number <= film_from_table(LEAST_ECCENTRICITY, ratio).sommerfeld:
            return None  # the load breaks it down
        friction = float(friction_number(number, 0.0, 0.0)) * clearance / (0.5 * diameter)
        surface = 0.5 * diameter * self.speed
        power = float(rubbing_power(friction, self.load, surface))
        return WarmFilm(film, power, friction, clearance, 0.0)


def warm_film(bearing: FilmBearing, shedding: float, air: float) -> WarmFilm | None:
    """The film [K] at which it makes as much heat as its box sheds.

    Hotter oil is thinner and makes less; the balance is found by halving (the way of Shigley,
    Machine Design, 12-15, for a bearing that cools itself). None where no film carries at that
    temperature: it breaks down before it is as warm as that.
    """

    def makes_more(film: float) -> bool:
        found = bearing.at(film)
        return found is not None and found.power > found.box_rise(air) * shedding * bearing.area

    low, high = air, GREATEST_TEMPERATURE
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if makes_more(middle) else (low, middle)
    found = bearing.at(low)
    if found is None:
        return None
    shed = found.box_rise(air) * shedding * bearing.area
    return found if math.isclose(shed, found.power, rel_tol=_SETTLED) else None
