"""By what layouts are compared: five things of which less is better, and the preferred one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.placement.judged import Measures
from mountcalc.results.place import Prefer

__all__ = ["GOALS", "beats", "first_in_rows", "goals_of", "ranking"]

Array = NDArray[np.float64]

GOALS = ("tension_per_turn", "tension_per_length", "worst_share", "adjuster", "plate_length")
"""Columns of goals: [N], [N/m], [-] over the hand's error, [N] in size, [m]."""

_FINE = GOALS.index("tension_per_turn")
_PREFERRED = {
    Prefer.FINE: _FINE,
    Prefer.COMPACT: GOALS.index("plate_length"),
    Prefer.LIGHT_BOLT: GOALS.index("adjuster"),
}


def goals_of(measures: Measures, plate_length: Array) -> Array:
    """What layouts that will do are compared by.

    Parameters
    ----------
    measures : Measures
        Of N layouts.
    plate_length : ndarray [m]
        Of each.

    Returns
    -------
    ndarray [each in its SI unit]
        Shape (N, 5).
    """
    columns = (
        measures.tension_per_turn,
        measures.tension_per_length,
        measures.worst_share_tight,
        np.abs(measures.adjuster),
        plate_length,
    )
    return np.stack(columns, axis=-1)


def ranking(goals: Array, prefer: Prefer) -> NDArray[np.intp]:
    """Indices of layouts, the best first; of equals the finer one.

    Parameters
    ----------
    goals : ndarray [each in its SI unit]
        Shape (N, 5).
    prefer : Prefer
        By what layouts are ranked.
    """
    return np.lexsort((goals[:, _FINE], goals[:, _PREFERRED[prefer]]))


def beats(goals: Array, others: Array, prefer: Prefer) -> NDArray[np.bool_]:
    """Which layouts rank before the others.

    Parameters
    ----------
    goals, others : ndarray [each in its SI unit]
        Shapes that broadcast, (..., 5); infinite for a layout that is none.
    prefer : Prefer
        By what layouts are ranked.
    """
    column = _PREFERRED[prefer]
    one, other = goals[..., column], others[..., column]
    finer = goals[..., _FINE] < others[..., _FINE]
    result: NDArray[np.bool_] = (one < other) | ((one == other) & finer)
    return result


def first_in_rows(goals: Array, prefer: Prefer) -> NDArray[np.intp]:
    """Index of the layout in each row that ranks first.

    Parameters
    ----------
    goals : ndarray [each in its SI unit]
        Shape (N, M, 5).
    prefer : Prefer
        By what layouts are ranked.
    """
    value = goals[..., _PREFERRED[prefer]]
    least = value == value.min(axis=1, keepdims=True)
    result: NDArray[np.intp] = np.argmin(np.where(least, goals[..., _FINE], np.inf), axis=1)
    return result
