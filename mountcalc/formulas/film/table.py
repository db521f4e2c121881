"""Numbers of the oil film at any L/D and eccentricity, from the solved table of the package.

Splines in log(L/D) and eps through the table's entries. The Sommerfeld number spans five powers
of ten, so it is its ratio to the short bearing's that is interpolated, which spans one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from mountcalc.formulas.film.limits import friction_number, short_bearing_sommerfeld

__all__ = [
    "GREATEST_ECCENTRICITY",
    "GREATEST_RATIO",
    "LEAST_ECCENTRICITY",
    "LEAST_RATIO",
    "FilmEntry",
    "eccentricity_from_table",
    "film_from_table",
]

Array = NDArray[np.float64]

LEAST_RATIO, GREATEST_RATIO = 0.25, 4.0
LEAST_ECCENTRICITY, GREATEST_ECCENTRICITY = 0.001, 0.97

_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class FilmEntry:
    """Dimensionless numbers of the film at one L/D and one eccentricity ratio.

    Attributes
    ----------
    eccentricity : float [-]
        eps.
    sommerfeld : float [-]
        S = (r/c)^2 mu N/P with N in revolutions per second.
    attitude : float [rad]
        Angle from the load to the thinnest film.
    friction : float [-]
        (r/c) f.
    flow : float [-]
        Q/(r c N L).
    side_share : float [-]
        Qs/Q.
    pressure_ratio : float [-]
        P/p_max.
    """

    eccentricity: float
    sommerfeld: float
    attitude: float
    friction: float
    flow: float
    side_share: float
    pressure_ratio: float


@dataclass(frozen=True)
class _Table:
    """Knots and ``values`` (quantity, L/D, eps): relative log S, attitude, flow, side, P/p_max."""

    ratios: Array
    eccentricities: Array
    values: Array


@lru_cache(maxsize=1)
def _table() -> _Table:
    text = (Path(__file__).parents[2] / "data/film_table.txt").read_text(encoding="utf-8")
    rows = np.loadtxt(text.splitlines())
    ratios, eccentricities = np.unique(rows[:, 0]), np.unique(rows[:, 1])
    values = rows[:, 2:].T.reshape(-1, len(ratios), len(eccentricities)).copy()
    values[0] = np.log(values[0] / short_bearing_sommerfeld(eccentricities, ratios[:, np.newaxis]))
    values[1] = np.radians(values[1])
    return _Table(ratios, eccentricities, values)


def film_from_table(eccentricity: float, ratio: float) -> FilmEntry:
    """Numbers of the film at a known eccentricity.

    Parameters
    ----------
    eccentricity : float [-]
        Eccentricity ratio eps, 0.001 to 0.97.
    ratio : float [-]
        Length over diameter L/D, 1/4 to 4.

    Returns
    -------
    FilmEntry [-]
        Within 0.3 % of a solution of Reynolds' equation at that place, the share that leaves at
        the ends within 0.6 % (definitions as in
        Shigley, Machine Design, 12-8, after Raimondi and Boyd, Trans. ASLE 1, 1958).

    Raises
    ------
    ValueError
        Outside the table.
    """
    if not LEAST_ECCENTRICITY <= eccentricity <= GREATEST_ECCENTRICITY:
        raise ValueError(f"eccentricity ratio {eccentricity:.4g} is outside the film table")
    table = _table()
    weights = _spline_weights(table.eccentricities, eccentricity)
    relative, attitude, flow, side, peak = (_rows(ratio) @ weights).tolist()
    sommerfeld = float(np.exp(relative) * short_bearing_sommerfeld(eccentricity, ratio))
    return FilmEntry(
        eccentricity,
        sommerfeld,
        attitude,
        float(friction_number(sommerfeld, eccentricity, attitude)),
        flow,
        side,
        peak,
    )


def eccentricity_from_table(sommerfeld: float, ratio: float) -> float | None:
    """Eccentricity at which the film carries its load.

    Parameters
    ----------
    sommerfeld : float [-]
        Sommerfeld number S.
    ratio : float [-]
        Length over diameter L/D, 1/4 to 4.

    Returns
    -------
    float or None [-]
        Eccentricity ratio eps by halving, S falling all the way; None where S is past either
        end of the table (definitions as in Shigley, Machine Design, 12-8).

    Raises
    ------
    ValueError
        L/D outside the table.
    """
    table, relative = _table(), _rows(ratio)[0]

    def heavier(eps: float) -> bool:
        log_ratio = relative @ _spline_weights(table.eccentricities, eps)
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
    table = _table()
    weights = _spline_weights(np.log(table.ratios), float(np.log(ratio)))
    result: Array = np.einsum("qre,r->qe", table.values, weights)
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
