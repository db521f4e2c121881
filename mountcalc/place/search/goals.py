"""By what layouts are compared: five things of which less is better, and the preferred one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import Measures
from mountcalc.place.results import Prefer

__all__ = ["GOALS", "beats", "first_in_rows", "goals_of", "ranking"]

Array = NDArray[np.float64]

GOALS = ("tension_per_turn", "tension_per_length", "worst_share", "adjuster", "plate_length")
"""Columns of goals: [N], [N/m], [-] over the hand's error, [N] in size, [m]."""

_SAME = 1e-6  # [-] to which goals are equal: less is rounding
_FINE = GOALS.index("tension_per_turn")
_PREFERRED = {
    Prefer.FINE: _FINE,
    Prefer.COMPACT: GOALS.index("plate_length"),
    Prefer.LIGHT_BOLT: GOALS.index("adjuster"),
}


def goals_of(measures: Measures, plate_length: Array) -> Array:
    """What layouts that will do are compared by."""
    columns = (
        measures.tension_per_turn,
        measures.tension_per_length,
        measures.worst_share_tight,
        np.abs(measures.adjuster),
        plate_length,
    )
    return np.stack(columns, axis=-1)


def ranking(goals: Array, prefer: Prefer) -> NDArray[np.intp]:
    """Indices of layouts, the best first; none is beaten in every way by a later one."""
    grades, order = _grades(goals), _order(prefer)
    return np.lexsort((goals.sum(axis=1), *(grades[:, column] for column in reversed(order))))


def _order(prefer: Prefer) -> list[int]:
    """Columns in the order in which they decide."""
    return list(dict.fromkeys((_PREFERRED[prefer], _FINE, *range(len(GOALS)))))


def _grades(goals: Array) -> Array:
    """Goals on a scale on which those that agree to about `_SAME` are equal.

    A fixed scale, so that what is equal does not hang on what else is compared.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(np.round(np.log(np.abs(goals)) / _SAME))


def beats(goals: Array, others: Array, prefer: Prefer) -> NDArray[np.bool_]:
    """Which layouts rank before the others."""
    one, other = _grades(goals), _grades(others)
    shape = np.broadcast_shapes(one.shape, other.shape)[:-1]
    better, tied = np.zeros(shape, dtype=bool), np.ones(shape, dtype=bool)
    for column in _order(prefer):
        better |= tied & (one[..., column] < other[..., column])
        tied &= one[..., column] == other[..., column]
    return better


def first_in_rows(goals: Array, prefer: Prefer) -> NDArray[np.intp]:
    """Index of the layout in each row that ranks first."""
    grades = _grades(goals)
    least = np.ones(goals.shape[:-1], dtype=bool)
    for column in _order(prefer):
        value = np.where(least, grades[..., column], np.inf)
        least &= value == value.min(axis=1, keepdims=True)
    result: NDArray[np.intp] = np.argmax(least, axis=1)
    return result
