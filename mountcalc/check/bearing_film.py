"""What oil film a bearing of the scenario runs on, or why none can be told."""

from __future__ import annotations

from mountcalc.errors import InputError
from mountcalc.formulas.film.state import FilmState, film_state
from mountcalc.formulas.oil import dynamic_viscosity
from mountcalc.formulas.shaft_bending import edge_rise
from mountcalc.formulas.trumpler import DESIGN_FACTOR, least_film
from mountcalc.judgement.results import BearingFilm
from mountcalc.scenario.model import Bearing, Oil

__all__ = ["running_film"]


def running_film(
    bearing: Bearing, oil: Oil | None, load: float | None, speed: float, slope: float | None
) -> tuple[BearingFilm | None, str | None]:
    """The film of a bearing that runs flooded with oil, were it full and round."""
    if bearing.clearance is None or oil is None:
        missing = [
            key for key, value in (("clearance", bearing.clearance), ("oil", oil)) if value is None
        ]
        return None, f"the scenario does not give {' and '.join(missing)}"
    if load is None:
        return None, "there is no running load to tell"
    try:
        viscosity = dynamic_viscosity(oil.grade, oil.temperature)
        state, doubled = (
            _state(bearing, bearing.clearance, viscosity, factor * load, speed)
            for factor in (1.0, DESIGN_FACTOR)
        )
    except InputError as error:
        return None, str(error)
    if state.film is None or state.sommerfeld_number is None:
        return None, state.reason
    tilt = None if slope is None else float(edge_rise(slope, bearing.length))
    return _told(bearing, viscosity, state, doubled, tilt), None


def _told(
    bearing: Bearing, viscosity: float, state: FilmState, doubled: FilmState, tilt: float | None
) -> BearingFilm:
    film, number = state.film, state.sommerfeld_number
    assert film is not None
    assert number is not None
    return BearingFilm(
        viscosity=viscosity,
        sommerfeld=number,
        eccentricity=film.eccentricity,
        minimum_film=film.minimum,
        minimum_film_doubled=None if doubled.film is None else doubled.film.minimum,
        least_film=float(least_film(bearing.journal_diameter)),
        edge_rise=tilt,
        friction=film.friction,
        friction_torque=film.torque,
        power_lost=film.power_lost,
    )


def _state(
    bearing: Bearing, clearance: float, viscosity: float, load: float, speed: float
) -> FilmState:
    return film_state(
        load, speed, viscosity, bearing.journal_diameter, bearing.length, 0.5 * clearance
    )
