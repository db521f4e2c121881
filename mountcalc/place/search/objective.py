"""By what layouts are compared: five goals, less is better; which are best, and not all alike."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.feasibility import Feasibility, Feasible
from mountcalc.place.feasible.layouts import (
    Layouts,
)
from mountcalc.record import Record
from mountcalc.scenario.search import SearchSpace
from mountcalc.thresholds import SETTLED

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

GOALS = ("tension_per_turn", "tension_per_length", "worst_share", "adjuster", "plate_length")
"""Columns of goals: [N], [N/m], [-] over the hand's error, [N] in size, [m]."""

_FINE = GOALS.index("tension_per_turn")
_PREFERRED = {
    Prefer.FINE: _FINE,
    Prefer.COMPACT: GOALS.index("plate_length"),
    Prefer.LIGHT_BOLT: GOALS.index("adjuster"),
}
# Two layouts that agree in adjuster, belt and side differ by this share of a range, or by this
# many times as much of that of the motor's height, which changes little.
_APART = 0.1
_HEIGHT = 5.0


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


def _grades(goals: Array, prefer: Prefer) -> Array:
    """Goals in the order in which they decide, on a scale that makes about `SETTLED` equal.

    A fixed scale, so that what is equal does not hang on what else is compared.
    """
    order = list(dict.fromkeys((_PREFERRED[prefer], _FINE, *range(len(GOALS)))))
    with np.errstate(divide="ignore"):
        return np.asarray(np.round(np.log(np.abs(goals[..., order])) / SETTLED))


def ranking(goals: Array, prefer: Prefer) -> Ints:
    """Indices of layouts in rows of goals (..., n, 5), the best first.

    None is beaten in every way by a later one.
    """
    keys = np.moveaxis(_grades(goals, prefer), -1, 0)[::-1]
    return np.lexsort((goals.sum(axis=-1), *keys), axis=-1)


def beats(goals: Array, others: Array, prefer: Prefer) -> Bools:
    """Which layouts rank before the others."""
    one, other = np.broadcast_arrays(_grades(goals, prefer), _grades(others, prefer))
    decides = np.argmax(one != other, axis=-1)[..., None]
    first, second = (np.take_along_axis(grades, decides, axis=-1) for grades in (one, other))
    return np.asarray((first < second)[..., 0])


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


class Objective(Record):
    """Goals of layouts of which only those that beat others matter; infinite of all else.

    Whether these clear the keep-outs and their own motor is tested last, since it costs more than
    all else.
    """

    feasibility: Feasibility
    prefer: Prefer

    @cached_property
    def _but_for_room(self) -> Feasibility:
        """The feasibility without what is tested last."""
        space = replace(self.feasibility.space, bolt_beside_motor=True, keep_outs=())
        return replace(self.feasibility, space=space)

    def goals(self, layouts: Layouts, others: ArrayLike = np.inf) -> Array:
        """Goals of layouts where they beat others' goals, one row for each."""
        found = self._but_for_room.layouts(layouts)
        goals, measures = goals_of(found), found.measures
        bound = np.broadcast_to(others, (len(layouts), len(GOALS)))[found.kept]
        matter = np.flatnonzero(beats(goals, bound, self.prefer))
        swing = measures.install[matter], measures.take_up[matter]
        matter = matter[self.feasibility.room(found.layouts.take(matter), *swing) == 0]
        result = np.full((len(layouts), len(GOALS)), np.inf)
        result[found.kept[matter]] = goals[matter]
        return result


class Differences:
    """Tells which of some layouts differ from those taken before, lengths as shares of ranges."""

    def __init__(self, layouts: Layouts, space: SearchSpace) -> None:
        places = []
        for name in ("hinge_x", "hinge_y", "reach", "motor_height"):
            low, high = getattr(space, name)
            if high > low:
                share = (getattr(layouts, name) - low) / (high - low)
                places.append(share / _HEIGHT if name == "motor_height" else share)
        if space.motor_direction is not None:
            # The motor moves with its belt's length besides: compared in the hinge's ranges.
            width = max(high - low for low, high in (space.hinge_x, space.hinge_y)) or 1.0
            places += [layouts.motor_x / width, layouts.motor_y / width]
        self._places = np.array(places).reshape(len(places), len(layouts)).T
        listed = layouts.kind, layouts.acts, layouts.belt, layouts.side.astype(np.intp)
        self._listed = np.stack(listed, axis=-1)

    def differ(self, one: int, taken: list[int], apart: float = _APART) -> bool:
        """Whether a layout is another one than all that were taken."""
        same = np.all(self._listed[taken] == self._listed[one], axis=1)
        furthest = np.max(np.abs(self._places[taken] - self._places[one]), axis=1, initial=0.0)
        return bool(np.all(~same | (furthest >= apart)))

    def first(self, most: int) -> Ints:
        """The first layouts of which each differs from those before."""
        taken: list[int] = []
        for one in range(len(self._places)):
            if len(taken) == most:
                break
            if not taken or self.differ(one, taken):
                taken.append(one)
        return np.array(taken, dtype=np.intp)
