"""The best layouts so far, as points of the unit cube: not all alike, and a bounded number."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import DIMENSIONS, Layouts, ways_of
from mountcalc.place.results import Prefer
from mountcalc.place.search.objective import (
    GOALS,
    nondominated,
    ranking,
    spread_out,
    unbeaten,
)
from mountcalc.scenario.search import SearchSpace

__all__ = ["Archive", "Differences", "Kept", "acting"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

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
        side = layouts.turn.astype(np.intp)
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
