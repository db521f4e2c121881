"""Layouts at marks in their order: those that hold are reported, the others counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import Feasibility, Measures
from mountcalc.place.feasible.layouts import Layouts, layouts_of
from mountcalc.place.results import PlacedLayout, Prefer, WhyNot
from mountcalc.place.search.distinct import Differences
from mountcalc.place.search.goals import ranking
from mountcalc.place.search.marking import Marked
from mountcalc.place.search.pareto import nondominated, spread_out
from mountcalc.place.verify import Refusal, Verified, placed_layout, verify
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search

__all__ = ["Finished", "finish"]

Array = NDArray[np.float64]

_MORE_OF_FRONT = 5
# Layouts that are solved before it is given up, for each one that is wanted and at least; fewer
# where they all fail in the same words.
_TRIES_EACH = 3
_LEAST_TRIES = 12
_HOPELESS = 3
# Judgements that are the same for every layout of a search.
_OF_MOUNT = frozenset({"driven-speed", "motor-rating"})
# And those that are where one belt is tried.
_OF_BELT = frozenset({"belt-pulley", "motor-pulley"})
# What is nearer than this share of a range to a layout that was refused is not solved besides.
_TWIN = 0.01


@dataclass(frozen=True, slots=True)
class Finished:
    """What is reported, and what was refused at last.

    ``layouts`` and ``measures`` have one entry for each of ``placed``; ``goals`` and ``on_front``
    one for each layout that was brought to marks.
    """

    placed: tuple[PlacedLayout, ...]
    scenarios: tuple[Scenario, ...]
    layouts: Layouts
    measures: Measures
    goals: Array
    on_front: NDArray[np.bool_]
    refused_for_all: tuple[WhyNot, ...]
    refused: tuple[WhyNot, ...]


def finish(
    search: Search,
    judge: Feasibility,
    marked: Marked,
    prefer: Prefer,
    count: int,
    advanced: Callable[[float], None] = lambda _: None,
) -> Finished:
    """Solve the best layouts one by one, and report those that hold."""
    ranked = marked.take(ranking(marked.goals, prefer))
    return _Finish.of(search, judge, ranked, prefer, advanced).run(count)


@dataclass
class _Finish:
    """Layouts at marks in their order, and what has become of each."""

    search: Search
    marked: Marked
    layouts: Layouts
    measures: Measures
    differences: Differences
    prefer: Prefer
    advanced: Callable[[float], None]
    held: dict[int, Verified] = field(default_factory=dict)
    refused: dict[int, tuple[Refusal, ...]] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        search: Search,
        judge: Feasibility,
        marked: Marked,
        prefer: Prefer,
        advanced: Callable[[float], None],
    ) -> _Finish:
        judged = judge.layouts(layouts_of(marked.choices, search.space, search.scenario))
        differences = Differences(judged.layouts, search.space)
        return cls(search, marked, judged.layouts, judged.measures, differences, prefer, advanced)

    def run(self, count: int) -> Finished:
        """Report the best, and some of the front."""
        most = count + _MORE_OF_FRONT
        self._solve(range(len(self.marked)), count, most)
        front = np.flatnonzero(nondominated(self.marked.goals))
        others = front[spread_out(self.marked.goals[front], len(front))]
        self._solve((int(one) for one in others), len(self.held) + _MORE_OF_FRONT, most)
        kept = np.array([one not in self.refused for one in range(len(self.marked))], dtype=bool)
        every = self._goals_told()
        goals = every[kept]
        on_front = np.zeros(len(self.marked), dtype=bool)
        on_front[kept] = nondominated(goals)
        held = list(self.held)
        best = ranking(every[held[:count]], self.prefer)
        # Rounding may have taken one of the others off the front.
        order = [*(held[index] for index in best), *(one for one in held[count:] if on_front[one])]
        which = np.array(order, dtype=np.intp)
        placed = tuple(
            placed_layout(self.search, self.held[one], rank=rank, pareto=bool(on_front[one]))
            for rank, one in enumerate(order, 1)
        )
        for_all, others_refused = self._refusals()
        return Finished(
            placed,
            tuple(self.held[one].scenario for one in order),
            self.layouts.take(which),
            self.measures.take(which),
            goals,
            on_front[kept],
            for_all,
            others_refused,
        )

    def _goals_told(self) -> Array:
        """Goals of all layouts: of those that hold what is told, of the rounded mount."""
        goals = self.marked.goals.copy()
        for one, mount in self.held.items():
            loads, per_length = mount.loads, mount.tension_per_length
            told = loads.tension_per_turn, per_length, loads.worst_share, abs(loads.adjuster)
            goals[one, :4] = told
        return goals

    def _solve(self, candidates: Iterable[int], most: int, of: int) -> None:
        """Solve layouts that differ from those that hold, until so many hold; ``of`` in the end."""
        tries = max(_LEAST_TRIES, _TRIES_EACH * (most - len(self.held)))
        for one in candidates:
            if len(self.held) >= most or tries == 0 or self._is_hopeless():
                return
            if not self._is_new(one):
                continue
            tries -= 1
            answer = verify(self.search, self.layouts, self.measures, one)
            if isinstance(answer, Verified):
                self.held[one] = answer
            else:
                self.refused[one] = answer
            self.advanced(min((len(self.held) + len(self.refused)) / of, 1.0))

    def _is_new(self, one: int) -> bool:
        """Whether a layout differs from those that hold, and is no near twin of a refused one."""
        return self.differences.differ(one, list(self.held)) and self.differences.differ(
            one, list(self.refused), _TWIN
        )

    def _is_hopeless(self) -> bool:
        """Whether it is the mount that fails, whatever the layout."""
        return not self.held and len(self.refused) >= _HOPELESS and bool(self._common())

    def _common(self) -> set[tuple[str, str]]:
        """Judgements of the mount itself that all refused layouts fail in the same words."""
        of_all = _OF_MOUNT if len(self.search.space.belts) > 1 else _OF_MOUNT | _OF_BELT
        said = [
            {(one.name, one.sentence) for one in fails if one.name in of_all}
            for fails in self.refused.values()
        ]
        return set.intersection(*said) if said else set()

    def _refusals(self) -> tuple[tuple[WhyNot, ...], tuple[WhyNot, ...]]:
        """What failed at last: for every layout, and for some."""
        common = self._common() if not self.held else set()
        counts = Counter(one.name for fails in self.refused.values() for one in fails)
        first = {one.name: one for fails in self.refused.values() for one in fails}
        for_all, others = [], []
        for name, count in counts.most_common():
            why = first[name]
            if (name, why.sentence) in common:
                told = f"this is of the mount itself, whatever the layout: {why.sentence}"
                for_all.append(WhyNot(f"check:{name}", count, told))
            else:
                told = f"of layouts that passed all else and were solved one by one: {why.sentence}"
                others.append(WhyNot(f"check:{name}", count, told))
        return tuple(for_all), tuple(others)
