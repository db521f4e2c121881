"""By what layouts are compared: five things of which less is better, and the preferred one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.placement.judged import Measures
from mountcalc.results.place import Prefer

__all__ = ["GOALS", "goals_of", "ranking", "wanted"]

Array = NDArray[np.float64]

GOALS = ("tension_per_turn", "tension_per_length", "worst_share", "adjuster", "plate_length")
"""Columns of goals: [N], [N/m], [-] over the hand's error, [N] in size, [m]."""

_PREFERRED = {
    Prefer.FINE: GOALS.index("tension_per_turn"),
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


def wanted(goals: Array, prefer: Prefer) -> Array:
    """The preferred goal of each.

    Parameters
    ----------
    goals : ndarray [each in its SI unit]
        Shape (N, 5).
    prefer : Prefer
        By what layouts are ranked.
    """
    return goals[..., _PREFERRED[prefer]]


def ranking(goals: Array, prefer: Prefer) -> NDArray[np.intp]:
    """Indices of layouts, the best first; of equals the finer one.

    Parameters
    ----------
    goals : ndarray [each in its SI unit]
        Shape (N, 5).
    prefer : Prefer
        By what layouts are ranked.
    """
    return np.lexsort((goals[:, 0], wanted(goals, prefer)))
