"""By what layouts are compared: five goals, less is better; and the best so far, not all alike."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.feasibility import Feasibility, Feasible
from mountcalc.place.feasible.layouts import (
    DIMENSIONS,
    Choices,
    Layouts,
    layouts_from,
    layouts_of,
    ways_of,
)
from mountcalc.place.results import Prefer
from mountcalc.scenario.search import SearchSpace

__all__ = [
    "GOALS",
    "Archive",
    "Differences",
    "Kept",
    "Objective",
    "acting",
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
        space = replace(self.feasibility.space, bolt_beside_motor=True, keep_outs=())
        return replace(self.feasibility, space=space)

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


# One layout is kept for each cell, so that those that are kept are not all alike.
_CELLS = {"hinge_x": 6, "hinge_y": 6, "reach": 4, "motor_direction": 4, "motor_side": 2}
_MOST_CELLS = 512
_MOST_ON_FRONT = 256

# Two layouts that agree in adjuster, belt and side differ by this share of a range, or by this
# many times as much of that of the motor's height, which changes little.
_APART = 0.1
_HEIGHT = 5.0


@dataclass(frozen=True, slots=True)
class Kept:
    """Points of the unit cube, shape (N, 9), and the goals of their layouts, shape (N, 5)."""

    points: Array
    goals: Array

    def __len__(self) -> int:
        return len(self.points)

    def take(self, which: Ints | Bools) -> Kept:
        """Some of them."""
        return Kept(self.points[which], self.goals[which])

    def and_of(self, other: Kept) -> Kept:
        """These and others."""
        return Kept(
            np.concatenate([self.points, other.points]), np.concatenate([self.goals, other.goals])
        )

    @staticmethod
    def none() -> Kept:
        """No points at all."""
        return Kept(np.empty((0, len(DIMENSIONS))), np.empty((0, len(GOALS))))


def acting(space: SearchSpace) -> Bools:
    """Which columns of a sample make a difference."""
    ranges = ("hinge_x", "hinge_y", "reach", "motor_height", "motor_direction")
    spans = {name: getattr(space, name) or (0.0, 0.0) for name in ranges}
    counts = {"adjuster": len(ways_of(space)), "thread": len(space.threads)}
    counts["belt"] = len(space.belts)
    act = {name: high > low for name, (low, high) in spans.items()}
    act |= {name: count > 1 for name, count in counts.items()}
    return np.array([act.get(name, True) for name in DIMENSIONS])


@dataclass
class Archive:
    """The best layout of each cell by the preferred goal, and the Pareto front, thinned.

    Parameters
    ----------
    space : SearchSpace
        What the search may try.
    prefer : Prefer
        By what layouts are ranked.
    """

    space: SearchSpace
    prefer: Prefer
    best: Kept = field(default_factory=Kept.none)
    front: Kept = field(default_factory=Kept.none)

    def add(self, new: Kept) -> None:
        """Keep what is good of layouts that will do; the best by the preferred goal always is."""
        every = self.best.and_of(new)
        every = every.take(ranking(every.goals, self.prefer))
        _, first = np.unique(self._cell(every.points), return_index=True)
        self.best = every.take(np.sort(first)[:_MOST_CELLS])
        # What the front beats is soon out; the rest is compared with each other.
        every = self.front.and_of(new.take(unbeaten(new.goals, self.front.goals)))
        every = every.take(nondominated(every.goals))
        if len(every) > _MOST_ON_FRONT:
            every = every.take(spread_out(every.goals, _MOST_ON_FRONT))
        self.front = every

    def _cell(self, points: Array) -> NDArray[np.int64]:
        """Number of the cell of each point; what has its own adjuster or belt has its own."""
        counts = {
            **_CELLS,
            "adjuster": len(ways_of(self.space)),
            "belt": max(len(self.space.belts), 1),
        }
        number = np.zeros(len(points), dtype=np.int64)
        for name, count in counts.items():
            index = (points[:, DIMENSIONS.index(name)] * count).astype(np.int64)
            number = number * count + np.minimum(index, count - 1)
        return number


class Differences:
    """Tells which of some layouts differ from those taken before.

    Parameters
    ----------
    layouts : Layouts
        N layouts.
    space : SearchSpace
        What the search may try; lengths are compared in its ranges.
    """

    def __init__(self, layouts: Layouts, space: SearchSpace) -> None:
        self._places = _places(layouts, space)
        side = layouts.side.astype(np.intp)
        self._listed = np.stack([layouts.kind, layouts.acts, layouts.belt, side], axis=-1)

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


def _places(layouts: Layouts, space: SearchSpace) -> Array:
    """Where each layout lies in the ranges of the search."""
    columns = [
        (getattr(layouts, name) - low) / (high - low) / (_HEIGHT if name == "motor_height" else 1.0)
        for name in ("hinge_x", "hinge_y", "reach", "motor_height")
        for low, high in (getattr(space, name),)
        if high > low
    ]
    if space.motor_direction is not None:
        # The motor moves with its belt's length besides: compared in the hinge's ranges.
        width = max(high - low for low, high in (space.hinge_x, space.hinge_y)) or 1.0
        columns += [layouts.motor_x / width, layouts.motor_y / width]
    count = len(layouts)
    return np.array(columns).reshape(len(columns), count).T
