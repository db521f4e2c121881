"""Good layouts brought to marks: rounded, judged again, and better marks taken where there are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import Choices
from mountcalc.place.results import Prefer
from mountcalc.place.search.goals import GOALS, first_in_rows
from mountcalc.place.search.marks import Marks

__all__ = ["Marked", "Marking"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
Whole = NDArray[np.int64]

_MOST_MOVES = 12
# Dimensions that are moved at once when a layout that will do is looking for a better one.
_TOGETHER = 2


@dataclass(frozen=True, slots=True)
class Marked:
    """Choices whose dimensions are at marks, and the goals of their layouts, shape (N, 5)."""

    choices: Choices
    goals: Array

    def __len__(self) -> int:
        return len(self.goals)

    def take(self, which: Ints | Bools) -> Marked:
        """Some of them."""
        return Marked(self.choices.take(which), self.goals[which])

    def and_of(self, other: Marked) -> Marked:
        """These and others that are not among them."""
        pairs = (
            np.concatenate([getattr(self.choices, name), getattr(other.choices, name)])
            for name in (field.name for field in fields(Choices))
        )
        both = Marked(Choices(*pairs), np.concatenate([self.goals, other.goals]))
        columns = np.stack(
            [getattr(both.choices, field.name) for field in fields(Choices)], axis=-1
        )
        _, first = np.unique(columns, axis=0, return_index=True)
        return both.take(np.sort(first))


@dataclass(frozen=True)
class Marking:
    """Brings choices to marks.

    Parameters
    ----------
    goals_of : callable
        Of choices and the goals that each must beat, to their goals; infinite where a layout
        will not do or does not beat them.
    marks : Marks
        The marks.
    prefer : Prefer
        By what layouts are ranked.
    """

    goals_of: Callable[[Choices, Array], Array]
    marks: Marks
    prefer: Prefer

    def best(self, choices: Choices) -> tuple[Marked, int]:
        """The best layouts at marks near some that will do."""
        marks, goals, choices, tried = self._rounded(choices, nearest=False)
        moving = np.arange(len(marks))
        for _ in range(_MOST_MOVES):
            if not moving.size:
                break
            around, _ = self.marks.around(marks[moving], _TOGETHER)
            near = self._goals(choices.take(moving), around, goals[moving])
            tried += near.shape[0] * near.shape[1]
            pick = first_in_rows(near, self.prefer)
            rows = np.flatnonzero(np.isfinite(near[np.arange(len(near)), pick, 0]))
            pick, moving = pick[rows], moving[rows]
            marks[moving], goals[moving] = around[rows, pick], near[rows, pick]
        return Marked(self.marks.applied(choices, marks), goals), tried

    def near(self, choices: Choices) -> tuple[Marked, int]:
        """The layouts at marks that are nearest to some that will do."""
        marks, goals, choices, tried = self._rounded(choices, nearest=True)
        return Marked(self.marks.applied(choices, marks), goals), tried

    def _rounded(self, choices: Choices, *, nearest: bool) -> tuple[Whole, Array, Choices, int]:
        """Marks of choices that will do, with those choices.

        The nearest ones; where they will not do, of all around them those with the fewest
        differences or the best.
        """
        marks = self.marks.nearest(choices)
        goals = self._goals(choices, marks[:, None, :], np.full((len(marks), len(GOALS)), np.inf))
        goals = goals[:, 0]
        broken = np.flatnonzero(~np.isfinite(goals[:, 0]))
        around, differ = self.marks.around(marks[broken])
        near = self._goals(choices.take(broken), around, goals[broken])
        will_do = np.isfinite(near[..., 0])
        pick = first_in_rows(near, self.prefer)
        if nearest:
            pick = np.argmin(np.where(will_do, differ, np.inf), axis=1)
        rows = np.arange(len(broken))
        marks[broken], goals[broken] = around[rows, pick], near[rows, pick]
        saved = np.flatnonzero(np.isfinite(goals[:, 0]))
        tried = len(marks) + will_do.size
        return marks[saved], goals[saved], choices.take(saved), tried

    def _goals(self, choices: Choices, around: Whole, others: Array) -> Array:
        """Goals at the marks around choices, shape (N, M, 5)."""
        each = np.repeat(np.arange(len(around)), around.shape[1])
        flat = self.marks.applied(choices.take(each), around.reshape(len(each), around.shape[2]))
        return self.goals_of(flat, others[each]).reshape(*around.shape[:2], len(GOALS))
