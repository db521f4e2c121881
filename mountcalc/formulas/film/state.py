"""The oil film of one plain bearing under its load: thickness, friction, heat, flow.

For a full round bearing, flooded, at one viscosity. A split or grooved bearing carries less,
and one that is drip-fed, greased or dry runs without a full film.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.errors import InputError
from mountcalc.formulas.film.limits import sommerfeld_number
from mountcalc.formulas.film.table import (
    GREATEST_ECCENTRICITY,
    GREATEST_RATIO,
    LEAST_RATIO,
    FilmEntry,
    eccentricity_from_table,
    film_from_table,
)
from mountcalc.formulas.shaft import projected_pressure

__all__ = ["Film", "FilmState", "film_state"]

# Below this [Pa] a bearing has no load; a line shaft's own weight makes thousands.
_NO_PRESSURE = 1.0


@dataclass(frozen=True, slots=True)
class Film:
    """A full film that carries the load.

    Attributes
    ----------
    eccentricity : float [-]
        Eccentricity ratio eps.
    minimum : float [m]
        Thinnest film h0 = (1 - eps) c.
    attitude : float [rad]
        Angle from the load to the thinnest film, in the sense of rotation.
    friction : float [-]
        Coefficient of friction f at the journal.
    torque : float [N m]
        Friction torque f W r.
    power_lost : float [W]
        Torque times speed.
    flow : float [m^3/s]
        Oil drawn in at the thickest film.
    side_flow : float [m^3/s]
        Oil that leaves at the ends, which has to be fed.
    greatest_pressure : float [Pa]
        Peak of the film's pressure.
    """

    eccentricity: float
    minimum: float
    attitude: float
    friction: float
    torque: float
    power_lost: float
    flow: float
    side_flow: float
    greatest_pressure: float


@dataclass(frozen=True, slots=True)
class FilmState:
    """What can be said of the film of one bearing in one load case.

    Attributes
    ----------
    pressure : float [Pa]
        Projected pressure P.
    sommerfeld_number : float or None [-]
        S; None without a load.
    film : Film or None
        The film; None where there is none or the table does not reach.
    reason : str
        Why there is no film to report; empty if there is.
    """

    pressure: float
    sommerfeld_number: float | None
    film: Film | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Case:
    load: float
    speed: float
    viscosity: float
    diameter: float
    length: float
    clearance: float

    def require_sense(self) -> None:
        if not all(math.isfinite(getattr(self, name)) for name in self.__slots__):
            raise InputError("the oil film needs finite numbers")
        if min(self.viscosity, self.diameter, self.length, self.clearance) <= 0:
            raise InputError(
                "viscosity, journal diameter, length and clearance above zero wanted for the film"
            )
        if min(self.load, self.speed) < 0:
            raise InputError("the size of load and speed wanted for the film, not below zero")


def film_state(
    load: float,
    speed: float,
    viscosity: float,
    diameter: float,
    length: float,
    clearance: float,
) -> FilmState:
    """Oil film of a full round journal bearing that is flooded with oil.

    Parameters
    ----------
    load : float [N]
        Size of the load W on the bearing.
    speed : float [rad/s]
        Size of the journal's angular speed.
    viscosity : float [Pa s]
        Dynamic viscosity mu of the oil in the film.
    diameter : float [m]
        Journal diameter D.
    length : float [m]
        Bearing length L.
    clearance : float [m]
        Radial clearance c, half the difference of the diameters.

    Returns
    -------
    FilmState [SI units, as its attributes say]
        The film, or why there is none to report: no load, no speed, L/D outside 1/4 to 4, or
        an eccentricity outside 0.001 to 0.97 (Raimondi and Boyd's method, Shigley, Machine
        Design, 12-8, on our own solution of Reynolds' equation).

    Raises
    ------
    InputError
        A number that no bearing can have.
    """
    case = _Case(load, speed, viscosity, diameter, length, clearance)
    case.require_sense()
    pressure = float(projected_pressure(load, diameter, length))
    if pressure < _NO_PRESSURE:
        return FilmState(pressure, None, None, "no load: the journal runs central")
    number = float(sommerfeld_number(pressure, speed, viscosity, diameter / 2.0, clearance))
    ratio = length / diameter
    if reason := _no_film(speed, ratio):
        return FilmState(pressure, number, None, reason)
    eccentricity = eccentricity_from_table(number, ratio)
    if eccentricity is None:
        return FilmState(pressure, number, None, _past_the_table(number, ratio))
    return FilmState(pressure, number, _film(case, film_from_table(eccentricity, ratio), pressure))


def _no_film(speed: float, ratio: float) -> str:
    if speed == 0:
        return "the journal stands still: the bearing carries its load without a film"
    if not LEAST_RATIO <= ratio <= GREATEST_RATIO:
        return (
            f"length/diameter {ratio:.3g} is outside the film table, "
            f"{LEAST_RATIO:g} to {GREATEST_RATIO:g}"
        )
    return ""


def _past_the_table(number: float, ratio: float) -> str:
    if number > film_from_table(GREATEST_ECCENTRICITY, ratio).sommerfeld:
        return "so little load for this speed and oil that the journal runs practically central"
    return (
        f"too much load for this speed and oil: a film would be thinner than "
        f"{1 - GREATEST_ECCENTRICITY:.2g} of the radial clearance, past the film table; "
        "expect the surfaces to touch"
    )


def _film(case: _Case, entry: FilmEntry, pressure: float) -> Film:
    radius = case.diameter / 2.0
    friction = entry.friction * case.clearance / radius
    torque = friction * case.load * radius
    turns = case.speed / (2.0 * math.pi)
    flow = entry.flow * radius * case.clearance * turns * case.length
    return Film(
        eccentricity=entry.eccentricity,
        minimum=(1.0 - entry.eccentricity) * case.clearance,
        attitude=entry.attitude,
        friction=friction,
        torque=torque,
        power_lost=torque * case.speed,
        flow=flow,
        side_flow=entry.side_share * flow,
        greatest_pressure=pressure / entry.pressure_ratio,
    )
