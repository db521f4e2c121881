"""By what layouts are compared: five goals of which less is better, the preferred one first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.feasibility import Feasibility, Feasible
from mountcalc.place.feasible.layouts import Choices, Layouts, layouts_from, layouts_of
from mountcalc.place.results import Prefer

__all__ = [
    "GOALS",
    "Objective",
    "beats",
    "first_in_rows",
    "goals_of",
    "nondominated",
    "ranking",
    "spread_out",
    "unbeaten",
]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

GOALS = ("tension_per_turn", "tension_per_length", "worst_share", "adjuster", "plate_length")
"""Columns of goals: [N], [N/m], [-] over the hand's error, [N] in size, [m]."""

_SAME = 1e-6  # [-] to which goals are equal: less is rounding
_FINE = GOALS.index("tension_per_turn")
_PREFERRED = {
    Prefer.FINE: _FINE,
    Prefer.COMPACT: GOALS.index("plate_length"),
    Prefer.LIGHT_BOLT: GOALS.index("adjuster"),
}


def goals_of(found: Feasible) -> Array:
    """What layouts that will do are compared by."""
    measures = found.measures
    columns = (
        measures.tension_per_turn,
        measures.tension_per_length,
        measures.worst_share_tight,
        np.abs(measures.adjuster),
        found.layouts.plate_length,
    )
    return np.stack(columns, axis=-1)


def ranking(goals: Array, prefer: Prefer) -> Ints:
    """Indices of layouts, the best first; none is beaten in every way by a later one."""
    grades = _grades(goals)
    columns = [grades[:, column] for column in reversed(_order(prefer))]
    return np.lexsort((goals.sum(axis=1), *columns))


def _order(prefer: Prefer) -> list[int]:
    """Columns in the order in which they decide."""
    return list(dict.fromkeys((_PREFERRED[prefer], _FINE, *range(len(GOALS)))))


def _grades(goals: Array) -> Array:
    """Goals on a scale on which those that agree to about `_SAME` are equal.

    A fixed scale, so that what is equal does not hang on what else is compared.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(np.round(np.log(np.abs(goals)) / _SAME))


def beats(goals: Array, others: Array, prefer: Prefer) -> Bools:
    """Which layouts rank before the others."""
    one, other = _grades(goals), _grades(others)
    shape = np.broadcast_shapes(one.shape, other.shape)[:-1]
    better, tied = np.zeros(shape, dtype=bool), np.ones(shape, dtype=bool)
    for column in _order(prefer):
        better |= tied & (one[..., column] < other[..., column])
        tied &= one[..., column] == other[..., column]
    return better


def first_in_rows(goals: Array, prefer: Prefer) -> Ints:
    """Index of the layout in each row that ranks first."""
    grades = _grades(goals)
    least = np.ones(goals.shape[:-1], dtype=bool)
    for column in _order(prefer):
        value = np.where(least, grades[..., column], np.inf)
        least &= value == value.min(axis=1, keepdims=True)
    result: Ints = np.argmax(least, axis=1)
    return result


def nondominated(goals: Array) -> Bools:
    """Which rows no other row beats in every way."""
    kept = np.zeros(len(goals), dtype=bool)
    # A row that beats another has the smaller sum of ranks: whoever comes first is not beaten.
    ranks = [np.unique(column, return_inverse=True)[1].ravel() for column in goals.T]
    left = np.argsort(np.sum(ranks, axis=0), kind="stable")
    while left.size:
        first, others = left[0], left[1:]
        kept[first] = True
        worse = goals[others] >= goals[first]
        beaten = np.all(worse, axis=1) & np.any(goals[others] > goals[first], axis=1)
        left = others[~beaten]
    return kept


def unbeaten(goals: Array, others: Array) -> Ints:
    """Rows that are better in some way than each of some others; a copy is not."""
    left, columns = np.arange(len(goals)), np.ascontiguousarray(goals.T)
    # Those that are good all round beat most: what they beat is not looked at again.
    scale = np.maximum(np.abs(others).max(axis=0, initial=0.0), np.finfo(float).tiny)
    for other in others[np.argsort((others / scale).sum(axis=1), kind="stable")]:
        better = columns[0] < other[0]
        for column, value in zip(columns[1:], other[1:], strict=True):
            better |= column < value
        if not better.all():
            left, columns = left[better], columns[:, better]
    return left


def spread_out(goals: Array, most: int) -> Ints:
    """Rows that stand for all: the best of each goal, then always the one that is farthest."""
    if len(goals) == 0:
        return np.empty(0, dtype=np.intp)
    low, high = goals.min(axis=0), goals.max(axis=0)
    places = (goals - low) / np.where(high > low, high - low, 1.0)
    chosen = list(dict.fromkeys(np.argmin(goals, axis=0).tolist()))[:most]
    apart = np.min([np.abs(places - places[one]).max(axis=1) for one in chosen], axis=0)
    while len(chosen) < min(most, len(goals)):
        farthest = int(np.argmax(apart))
        if apart[farthest] == 0.0:
            break  # the rest are copies
        chosen.append(farthest)
        apart = np.minimum(apart, np.abs(places - places[farthest]).max(axis=1))
    return np.array(chosen, dtype=np.intp)


@dataclass(frozen=True)
class Objective:
    """Goals of layouts of which only those that beat others matter; infinite of all else.

    Whether these clear the keep-outs and their own motor is tested last, since it costs more than
    all else.

    Parameters
    ----------
    feasibility : Feasibility
        Of the search.
    prefer : Prefer
        By what layouts are ranked.
    """

    feasibility: Feasibility
    prefer: Prefer

    @cached_property
    def _but_for_room(self) -> Feasibility:
        """The feasibility without what is tested here."""
        space = replace(self.feasibility.space, bolt_beside_motor=True)
        return replace(self.feasibility, clear=None, space=space)

    def points(self, unit: Array, others: ArrayLike = np.inf) -> Array:
        """Goals of the layouts of points of the unit cube, where they beat others' goals."""
        space, scenario = self.feasibility.space, self.feasibility.scenario
        return self._goals(layouts_from(unit, space, scenario), others)

    def choices(self, choices: Choices, others: ArrayLike = np.inf) -> Array:
        """Goals of the layouts of choices; see `points`."""
        space, scenario = self.feasibility.space, self.feasibility.scenario
        return self._goals(layouts_of(choices, space, scenario), others)

    def _goals(self, layouts: Layouts, others: ArrayLike) -> Array:
        found = self._but_for_room.layouts(layouts)
        goals, measures = goals_of(found), found.measures
        bound = np.broadcast_to(others, (found.reason.size, len(GOALS)))[found.kept]
        matter = np.flatnonzero(beats(goals, bound, self.prefer))

        swing = measures.install[matter], measures.take_up[matter]
        matter = matter[self.feasibility.room(found.layouts.take(matter), *swing) == 0]
        result = np.full((found.reason.size, len(GOALS)), np.inf)
        result[found.kept[matter]] = goals[matter]
        return result
