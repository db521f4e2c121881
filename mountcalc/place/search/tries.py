"""Goals of trial layouts, their clearances tested only where they could be an improvement."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.clearance.clearances import motor_clearing
from mountcalc.place.feasible.feasibility import Feasibility, Feasible
from mountcalc.place.feasible.layouts import Choices, Layouts, layouts_from, layouts_of
from mountcalc.place.results import Prefer
from mountcalc.place.search.goals import GOALS, beats, goals_of

__all__ = ["Tries"]

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Tries:
    """Judges layouts of which only those that beat others matter.

    Parameters
    ----------
    judge : Feasibility
        Of the search, with its keep-outs: testing these and whether the bolt clears the motor
        costs more than all else.
    prefer : Prefer
        By what layouts are ranked.
    """

    judge: Feasibility
    prefer: Prefer

    @cached_property
    def _but_for_room(self) -> Feasibility:
        """The judge without what is tested here."""
        space = replace(self.judge.space, bolt_beside_motor=True)
        return replace(self.judge, clear=None, space=space)

    @cached_property
    def _clear_of_motor(self) -> Callable[[Layouts, Array, Array], NDArray[np.bool_]]:
        return motor_clearing(self.judge.scenario, self.judge.space)

    def points(self, unit: Array, others: ArrayLike = np.inf) -> Array:
        """Goals of the layouts of points of the unit cube."""
        return self._goals(layouts_from(unit, self.judge.space, self.judge.scenario), others)

    def choices(self, choices: Choices, others: ArrayLike = np.inf) -> Array:
        """Goals of the layouts of choices; see `points`."""
        return self._goals(layouts_of(choices, self.judge.space, self.judge.scenario), others)

    def _goals(self, layouts: Layouts, others: ArrayLike) -> Array:
        judged = self._but_for_room.layouts(layouts)
        goals = goals_of(judged.measures, judged.layouts.plate_length)
        bound = np.broadcast_to(others, (judged.reason.size, len(GOALS)))[judged.kept]
        matter = np.flatnonzero(beats(goals, bound, self.prefer))
        matter = matter[self._clear_of_motor(*_swinging(judged, matter))]
        if self.judge.clear is not None and matter.size:
            matter = matter[self.judge.clear(*_swinging(judged, matter))[0]]
        result = np.full((judged.reason.size, len(GOALS)), np.inf)
        result[judged.kept[matter]] = goals[matter]
        return result


def _swinging(judged: Feasible, which: NDArray[np.intp]) -> tuple[Layouts, Array, Array]:
    """Some layouts that were judged, and their plate angles at install and take-up."""
    measures = judged.measures
    return judged.layouts.take(which), measures.install[which], measures.take_up[which]
