"""The oil film of one plain bearing under its load: thickness, friction, heat, flow.

For a full round bearing, flooded, at one viscosity. A split or grooved bearing carries less,
and one that is drip-fed, greased or dry runs without a full film. The numbers come from our own
solution of Reynolds' equation, kept as a table: splines in log(L/D) and eps go through its
entries. The Sommerfeld number spans five powers of ten, so it is its ratio to the short bearing's
that is interpolated, which spans one.

Symbols
-------
load : size of the load W on the bearing [N]
speed : size of the journal's angular speed omega = 2 pi N [rad/s]
viscosity : dynamic viscosity mu of the oil in the film [Pa s]
diameter, length : D of the journal and L of the bearing [m]
radius : of the journal, r [m]
clearance : radial clearance c, half the difference of the diameters [m]
pressure : projected pressure P, above zero [Pa]
sommerfeld : Sommerfeld number S [-]
eccentricity : eccentricity ratio eps, in the table 0.001 to 0.97 [-]
attitude : angle phi from the load to the thinnest film, in the sense of rotation [rad]
ratio : length over diameter L/D, in the table 1/4 to 4 [-]
"""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.errors import InputError
from mountcalc.formulas.shaft import projected_pressure
from mountcalc.record import Record

Array = NDArray[np.float64]

LEAST_RATIO, GREATEST_RATIO = 0.25, 4.0
LEAST_ECCENTRICITY, GREATEST_ECCENTRICITY = 0.001, 0.97

_HALVINGS = 60
# Below this [Pa] a bearing has no load; a line shaft's own weight makes thousands.
_NO_PRESSURE = 1.0


class Film(Record):
    """A full film that carries the load.

    Eccentricity ratio [-], thinnest film ``minimum`` h0 = (1 - eps) c [m], ``attitude`` [rad],
    coefficient of ``friction`` f at the journal [-], ``torque`` f W r [N m], ``power_lost`` [W],
    ``flow`` of oil drawn in at the thickest film and ``side_flow`` that leaves at the ends, which
    has to be fed [m^3/s], ``greatest_pressure`` in the film [Pa].
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


class FilmState(Record):
    """What can be said of the film of one bearing in one load case.

    Projected ``pressure`` P [Pa]; S [-], None without a load; the film, or None and the ``reason``
    where there is none or the table does not reach.
    """

    pressure: float
    sommerfeld_number: float | None
    film: Film | None
    reason: str = ""


class FilmEntry(Record):
    """Dimensionless numbers of the film at one L/D and one eccentricity ratio.

    eps, S = (r/c)^2 mu N/P with N in revolutions per second, ``attitude`` [rad], ``friction``
    (r/c) f, ``flow`` Q/(r c N L), ``side_share`` Qs/Q, ``pressure_ratio`` P/p_max.
    """

    eccentricity: float
    sommerfeld: float
    attitude: float
    friction: float
    flow: float
    side_share: float
    pressure_ratio: float


def film_state(
    load: float, speed: float, viscosity: float, diameter: float, length: float, clearance: float
) -> FilmState:
    """Oil film of a full round journal bearing that is flooded with oil [SI units].

    Or why there is none to report: no load, no speed, L/D outside 1/4 to 4, or an eccentricity
    outside 0.001 to 0.97 (Raimondi and Boyd's method, Shigley, Machine Design, 12-8, on our own
    solution of Reynolds' equation). InputError: a number that no bearing can have.
    """
    if not all(map(math.isfinite, (load, speed, viscosity, diameter, length, clearance))):
        raise InputError("the oil film needs finite numbers")
    if min(viscosity, diameter, length, clearance) <= 0:
        raise InputError(
            "viscosity, journal diameter, length and clearance above zero wanted for the film"
        )
    if min(load, speed) < 0:
        raise InputError("the size of load and speed wanted for the film, not below zero")
    pressure = float(projected_pressure(load, diameter, length))
    if pressure < _NO_PRESSURE:
        return FilmState(pressure, None, None, "no load: the journal runs central")
    radius, ratio = 0.5 * diameter, length / diameter
    number = float(sommerfeld_number(pressure, speed, viscosity, radius, clearance))
    eccentricity, reason = _eccentricity(number, speed, ratio)
    if eccentricity is None:
        return FilmState(pressure, number, None, reason)
    entry = film_from_table(eccentricity, ratio)
    friction = entry.friction * clearance / radius
    torque = friction * load * radius
    flow = entry.flow * radius * clearance * speed / math.tau * length
    film = Film(
        eccentricity=entry.eccentricity,
        minimum=(1.0 - entry.eccentricity) * clearance,
        attitude=entry.attitude,
        friction=friction,
        torque=torque,
        power_lost=torque * speed,
        flow=flow,
        side_flow=entry.side_share * flow,
        greatest_pressure=pressure / entry.pressure_ratio,
    )
    return FilmState(pressure, number, film)


def _eccentricity(number: float, speed: float, ratio: float) -> tuple[float | None, str]:
    """Where the journal runs, or why that cannot be told."""
    if speed == 0:
        return None, "the journal stands still: the bearing carries its load without a film"
    if not LEAST_RATIO <= ratio <= GREATEST_RATIO:
        return None, (
            f"length/diameter {ratio:.3g} is outside the film table, "
            f"{LEAST_RATIO:g} to {GREATEST_RATIO:g}"
        )
    found = eccentricity_from_table(number, ratio)
    if found is None and number > film_from_table(GREATEST_ECCENTRICITY, ratio).sommerfeld:
        return None, (
            "so little load for this speed and oil that the journal runs practically central"
        )
    return found, (
        f"too much load for this speed and oil: a film would be thinner than "
        f"{1 - GREATEST_ECCENTRICITY:.2g} of the radial clearance, past the film table; "
        "expect the surfaces to touch"
    )


def sommerfeld_number(
    pressure: ArrayLike,
    speed: ArrayLike,
    viscosity: ArrayLike,
    radius: ArrayLike,
    clearance: ArrayLike,
) -> Array:
    """S = (r/c)^2 mu N / P [-], N in revolutions per second (Shigley, Machine Design, 12-3)."""
    turns = np.asarray(speed, dtype=float) / (2.0 * np.pi)
    shape = np.square(np.asarray(radius, dtype=float) / np.asarray(clearance))
    result: Array = shape * np.asarray(viscosity) * turns / np.asarray(pressure)
    return result


def friction_number(sommerfeld: ArrayLike, eccentricity: ArrayLike, attitude: ArrayLike) -> Array:
    """Friction at the journal: (r/c) f = 2 pi^2 S / sqrt(1 - eps^2) + eps sin(phi) / 2 [-].

    The shear of a film all round, torn or not, and the couple of load and eccentricity: the
    integral of the shear stress over the journal. It gives the friction column of the table of
    Raimondi and Boyd (Shigley, Machine Design, 12-8).
    """
    eps = np.asarray(eccentricity, dtype=float)
    shear = 2.0 * np.pi**2 * np.asarray(sommerfeld) / np.sqrt(1.0 - eps**2)
    result: Array = shear + 0.5 * eps * np.sin(attitude)
    return result


def short_bearing_sommerfeld(eccentricity: ArrayLike, ratio: ArrayLike) -> Array:
    """S of a short bearing with half a film [-], for L/D up to about 1/4.

    S = (D/L)^2 (1 - eps^2)^2 / (pi eps sqrt(16 eps^2 + pi^2 (1 - eps^2))), which is
    W = mu omega r L^3 eps sqrt(16 eps^2 + pi^2 (1 - eps^2)) / (4 c^2 (1 - eps^2)^2) of
    Ocvirk (Friswell and others, Dynamics of Rotating Machines, 5.5; Stolarski, Tribology in
    Machine Design, 5). At L/D = 1 and eps = 0.8 it wants a third of the true S.
    """
    eps = np.asarray(eccentricity, dtype=float)
    thin = 1.0 - eps**2
    load = np.pi * eps * np.sqrt(16.0 * eps**2 + np.pi**2 * thin)
    result: Array = thin**2 / load / np.square(np.asarray(ratio, dtype=float))
    return result


@lru_cache(maxsize=1)
def _table() -> tuple[Array, Array, Array]:
    """L/D, eps, and (quantity, L/D, eps): relative log S, attitude, flow, side, P/p_max."""
    text = (Path(__file__).parents[1] / "data/film_table.txt").read_text(encoding="utf-8")
    rows = np.loadtxt(text.splitlines())
    ratios, eccentricities = np.unique(rows[:, 0]), np.unique(rows[:, 1])
    values = rows[:, 2:].T.reshape(-1, len(ratios), len(eccentricities)).copy()
    values[0] = np.log(values[0] / short_bearing_sommerfeld(eccentricities, ratios[:, np.newaxis]))
    values[1] = np.radians(values[1])
    return ratios, eccentricities, values


def film_from_table(eccentricity: float, ratio: float) -> FilmEntry:
    """Numbers of the film [-] at a known eccentricity; ValueError outside the table.

    Within 0.3 % of a solution of Reynolds' equation at that place, the share that leaves at the
    ends within 0.6 % (definitions as in Shigley, Machine Design, 12-8, after Raimondi and Boyd,
    Trans. ASLE 1, 1958).
    """
    if not LEAST_ECCENTRICITY <= eccentricity <= GREATEST_ECCENTRICITY:
        raise ValueError(f"eccentricity ratio {eccentricity:.4g} is outside the film table")
    weights = _spline_weights(_table()[1], eccentricity)
    relative, attitude, flow, side, peak = (_rows(ratio) @ weights).tolist()
    sommerfeld = float(np.exp(relative) * short_bearing_sommerfeld(eccentricity, ratio))
    friction = float(friction_number(sommerfeld, eccentricity, attitude))
    return FilmEntry(eccentricity, sommerfeld, attitude, friction, flow, side, peak)


def eccentricity_from_table(sommerfeld: float, ratio: float) -> float | None:
    """Eccentricity ratio [-] at which the film carries its load, by halving: S falls all the way.

    None where S is past either end of the table; ValueError where L/D is (definitions as in
    Shigley, Machine Design, 12-8).
    """
    eccentricities, relative = _table()[1], _rows(ratio)[0]

    def heavier(eps: float) -> bool:
        log_ratio = relative @ _spline_weights(eccentricities, eps)
        return bool(np.exp(log_ratio) * short_bearing_sommerfeld(eps, ratio) < sommerfeld)

    low, high = LEAST_ECCENTRICITY, GREATEST_ECCENTRICITY
    if heavier(low) or not heavier(high):
        return None
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if heavier(middle) else (middle, high)
    return 0.5 * (low + high)


def _rows(ratio: float) -> Array:
    """Values along eps, (quantity, eps), at one L/D."""
    if not LEAST_RATIO <= ratio <= GREATEST_RATIO:
        raise ValueError(f"L/D = {ratio:.4g} is outside the film table")
    ratios, _, values = _table()
    weights = _spline_weights(np.log(ratios), float(np.log(ratio)))
    result: Array = np.einsum("qre,r->qe", values, weights)
    return result


def _spline_weights(knots: Array, place: float) -> Array:
    """Weights of the knots' values in a cubic spline at one place, "not a knot" at the ends."""
    bends = _bends(tuple(knots.tolist()))
    i = int(np.clip(np.searchsorted(knots, place) - 1, 0, len(knots) - 2))
    step = float(knots[i + 1] - knots[i])
    right = (place - float(knots[i])) / step
    left = 1.0 - right
    weights: Array = (
        ((left**3 - left) * bends[i] + (right**3 - right) * bends[i + 1]) * step**2 / 6.0
    )
    weights[i] += left
    weights[i + 1] += right
    return weights


@lru_cache(maxsize=4)
def _bends(knots: tuple[float, ...]) -> Array:
    """Second derivatives of the spline at its knots as a matrix on the knots' values."""
    count, steps = len(knots), np.diff(knots)
    slopes = np.diff(np.eye(count), axis=0) / steps[:, np.newaxis]
    matrix, right = np.zeros((count, count)), np.zeros((count, count))
    for i in range(1, count - 1):
        matrix[i, i - 1 : i + 2] = steps[i - 1], 2.0 * (steps[i - 1] + steps[i]), steps[i]
        right[i] = 6.0 * (slopes[i] - slopes[i - 1])
    matrix[0, :3] = steps[1], -(steps[0] + steps[1]), steps[0]
    matrix[-1, -3:] = steps[-1], -(steps[-2] + steps[-1]), steps[-2]
    return np.asarray(np.linalg.solve(matrix, right), dtype=float)
