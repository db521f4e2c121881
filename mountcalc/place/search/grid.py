"""Good layouts snapped to the grid: dimensions that can be marked out, judged again, bettered."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.layouts import STEPS, Choices
from mountcalc.place.search.objective import GOALS, ranking
from mountcalc.record import Record
from mountcalc.scenario.search import SearchSpace
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
Whole = NDArray[np.int64]

_MOST_MOVES = 12
# Dimensions that are moved at once when a layout that will do is looking for a better one.
_TOGETHER = 2


class OnGrid(Record):
    """Choices whose dimensions are on the grid, and the goals of their layouts, shape (N, 5)."""

    choices: Choices
    goals: Array

    def __len__(self) -> int:
        return len(self.goals)

    def take(self, which: Ints | Bools) -> OnGrid:
        """Some of them."""
        return OnGrid(self.choices.take(which), self.goals[which])

    def and_of(self, other: OnGrid) -> OnGrid:
        """These and others that are not among them."""
        choices = Choices.joined([self.choices, other.choices])
        _, first = np.unique(np.stack([*choices.columns.values()]), axis=1, return_index=True)
        both = OnGrid(choices, np.concatenate([self.goals, other.goals]))
        return both.take(np.sort(first))


class Grid(Record):
    """The dimensions that a search rounds, and between which lines of its grid each may be.

    ``step`` [m] is from line to line; ``low`` and ``high`` count lines. A dimension that the
    search holds at one value keeps it, and so does one whose range holds no line.
    """

    step: float
    names: tuple[str, ...]
    low: Whole
    high: Whole

    @classmethod
    def of(cls, space: SearchSpace, display: Display) -> Grid:
        """That of a search: marks of a rule in its units."""
        step, found = STEPS[display], {}
        for name in ("hinge_x", "hinge_y", "reach", "motor_height"):
            low, high = getattr(space, name)
            lines = math.ceil(low / step - ROUNDING), math.floor(high / step + ROUNDING)
            if low < high and lines[0] <= lines[1]:
                found[name] = lines
        if space.motor_direction is not None:
            found |= dict.fromkeys(("motor_x", "motor_y"), (-(2**40), 2**40))
        ends = np.array(list(found.values()), dtype=np.int64).reshape(-1, 2)
        return cls(step, tuple(found), ends[:, 0], ends[:, 1])

    def nearest(self, choices: Choices) -> Whole:
        """Numbers of the nearest lines within the ranges, a column for each dimension."""
        values = [getattr(choices, name) / self.step for name in self.names]
        exact = np.array(values).reshape(len(self.names), len(choices)).T
        result: Whole = np.clip(np.rint(exact), self.low, self.high).astype(np.int64)
        return result

    def applied(self, choices: Choices, lines: Whole) -> Choices:
        """Choices with their dimensions on lines."""
        moved: dict[str, Any] = {
            name: lines[:, at] * self.step for at, name in enumerate(self.names)
        }
        return replace(choices, **moved)

    def around(self, lines: Whole, together: int | None = None) -> tuple[Whole, Whole]:
        """All places of the grid one step away, kept within their ranges, and their differences."""
        steps = np.array(list(itertools.product((0, 1, -1), repeat=len(self.names))))
        differ = np.count_nonzero(steps, axis=1)
        if together is not None:
            steps, differ = steps[differ <= together], differ[differ <= together]
        return np.clip(lines[:, None, :] + steps, self.low, self.high), differ


class SnapToGrid(Record):
    """Brings choices to the grid.

    ``goals_of`` takes choices and the goals that each must beat to their goals: infinite where a
    layout will not do or does not beat them.
    """

    goals_of: Callable[[Choices, Array], Array]
    grid: Grid
    prefer: Prefer

    def best(self, choices: Choices) -> tuple[OnGrid, int]:
        """The best layouts on the grid near some that will do, and how many were tried."""
        lines, goals, choices, tried = self._rounded(choices, nearest=False)
        moving = np.arange(len(lines))
        for _ in range(_MOST_MOVES):
            if not moving.size:
                break
            around, _ = self.grid.around(lines[moving], _TOGETHER)
            near = self._goals(choices.take(moving), around, goals[moving])
            tried += near.shape[0] * near.shape[1]
            pick = ranking(near, self.prefer)[:, 0]
            rows = np.flatnonzero(np.isfinite(near[np.arange(len(near)), pick, 0]))
            pick, moving = pick[rows], moving[rows]
            lines[moving], goals[moving] = around[rows, pick], near[rows, pick]
        return OnGrid(self.grid.applied(choices, lines), goals), tried

    def near(self, choices: Choices) -> tuple[OnGrid, int]:
        """The layouts on the grid that are nearest to some that will do."""
        lines, goals, choices, tried = self._rounded(choices, nearest=True)
        return OnGrid(self.grid.applied(choices, lines), goals), tried

    def _rounded(self, choices: Choices, *, nearest: bool) -> tuple[Whole, Array, Choices, int]:
        """Lines of choices that will do, with those choices.

        The nearest ones; where they will not do, of all around them those with the fewest
        differences or the best.
        """
        lines = self.grid.nearest(choices)
        goals = self._goals(choices, lines[:, None, :], np.full((len(lines), len(GOALS)), np.inf))
        goals = goals[:, 0]
        broken = np.flatnonzero(~np.isfinite(goals[:, 0]))
        around, differ = self.grid.around(lines[broken])
        near = self._goals(choices.take(broken), around, goals[broken])
        will_do = np.isfinite(near[..., 0])
        pick = ranking(near, self.prefer)[:, 0]
        if nearest:
            pick = np.argmin(np.where(will_do, differ, np.inf), axis=1)
        rows = np.arange(len(broken))
        lines[broken], goals[broken] = around[rows, pick], near[rows, pick]
        saved = np.flatnonzero(np.isfinite(goals[:, 0]))
        tried = len(lines) + will_do.size
        return lines[saved], goals[saved], choices.take(saved), tried

    def _goals(self, choices: Choices, around: Whole, others: Array) -> Array:
        """Goals at places of the grid around choices, shape (N, M, 5)."""
        each = np.repeat(np.arange(len(around)), around.shape[1])
        flat = self.grid.applied(choices.take(each), around.reshape(len(each), around.shape[2]))
        return self.goals_of(flat, others[each]).reshape(*around.shape[:2], len(GOALS))
