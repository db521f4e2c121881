"""The search: the best of what the optimiser found, verified one by one, and all remarks on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.drives import snug_distances
from mountcalc.place.feasible.feasibility import Measures
from mountcalc.place.feasible.layouts import Layouts, layouts_of
from mountcalc.place.results import Advance, PlacedLayout, Placement, WhyNot
from mountcalc.place.search.grid import OnGrid
from mountcalc.place.search.objective import Differences, nondominated, ranking, spread_out
from mountcalc.place.search.optimiser import Optimiser, Sampled
from mountcalc.place.search.relaxation import reasons_of
from mountcalc.place.verify import Refusal, Verified, verify
from mountcalc.record import Record
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search

Array = NDArray[np.float64]

# Of the time that a search takes: the optimiser, and verifying what it found; then reasons.
_OF_OPTIMISER, _OF_SELECTION = 0.5, 0.45

_MORE_OF_FRONT = 5
# Layouts that are verified before it is given up, for each one that is wanted and at least; fewer
# where they all fail in the same words.
_TRIES_EACH, _LEAST_TRIES, _HOPELESS = 3, 12, 3
# Judgements that are the same for every layout of a search, and those that are where one belt is
# tried.
_OF_MOUNT = frozenset({"driven-speed", "motor-rating"})
_OF_BELT = frozenset({"belt-pulley", "motor-pulley"})
# What is nearer than this share of a range to a layout that was refused is not verified besides.
_TWIN = 0.01


class Found(Record):
    """What a search found: its answer, and what pictures and files need besides.

    ``scenarios``, ``layouts`` and ``measures`` have one entry for each of ``placement.layouts``,
    in the same order. ``goals`` are those of all layouts that were snapped to the grid (columns as
    in ``objective.GOALS``) and not refused, ``on_front`` tells which of them no other one beats.
    """

    placement: Placement
    scenarios: tuple[Scenario, ...]
    layouts: Layouts
    measures: Measures
    sampled: Sampled
    goals: Array
    on_front: NDArray[np.bool_]


def find_layouts(
    search: Search,
    prefer: Prefer,
    count: int = 10,
    progress: Callable[[Advance], None] | None = None,
    *,
    samples: int | None = None,
    seed: int | None = None,
) -> Found:
    """Look for layouts that keep every requirement, the best by a preference first.

    More samples than 256, 1024, 4096 ... never give a worse first layout than those (see
    :class:`mountcalc.place.search.optimiser.Optimiser`), unless the ordinary solver refuses a
    better one. ``samples`` and ``seed`` take the place of the search's own.
    """
    space = search.space
    samples = space.samples if samples is None else samples
    seed = space.seed if seed is None else seed
    search = replace(search, space=replace(space, samples=samples, seed=seed))
    optimiser = Optimiser.of(search, prefer)

    def advanced(share: float) -> None:
        if progress is not None:
            progress(Advance(share, optimiser.tried, optimiser.feasible))

    for share in optimiser.run():
        advanced(_OF_OPTIMISER * share)
    selection = Selection.of(
        optimiser, lambda share: advanced(_OF_OPTIMISER + _OF_SELECTION * share)
    )
    layouts, order = selection.best(count)
    scenarios = tuple(selection.held[one].scenario for one in order)
    for_all, others = selection.refusals()
    why_not, first = reasons_of(search, optimiser.counts)
    goals, kept = selection.goals()
    placement = Placement(
        title=search.scenario.title,
        prefer=prefer,
        samples=search.space.samples,
        seed=search.space.seed,
        evaluated=optimiser.tried,
        refined=optimiser.refined,
        feasible=optimiser.feasible,
        why_not=(*for_all, *why_not, *others),
        layouts=layouts,
        notes=(*first, *_notes(search, layouts, scenarios)),
    )
    advanced(1.0)
    return Found(
        placement=placement,
        scenarios=scenarios,
        layouts=selection.layouts.take(order),
        measures=selection.measures.take(order),
        sampled=optimiser.sampled,
        goals=goals[kept],
        on_front=nondominated(goals[kept]),
    )


@dataclass
class Selection:
    """Layouts on the grid in their order, and what has become of each that was verified."""

    search: Search
    prefer: Prefer
    on_grid: OnGrid
    layouts: Layouts
    measures: Measures
    advanced: Callable[[float], None]
    held: dict[int, Verified] = field(default_factory=dict)
    refused: dict[int, tuple[Refusal, ...]] = field(default_factory=dict)

    @classmethod
    def of(
        cls, optimiser: Optimiser, advanced: Callable[[float], None] = lambda _: None
    ) -> Selection:
        """What an optimiser found, of which nothing has been verified."""
        search, prefer = optimiser.search, optimiser.prefer
        on_grid = optimiser.on_grid.take(ranking(optimiser.on_grid.goals, prefer))
        layouts = layouts_of(on_grid.choices, search.space, search.scenario)
        found = optimiser.feasibility.layouts(layouts)
        return cls(search, prefer, on_grid, found.layouts, found.measures, advanced)

    def best(self, count: int) -> tuple[tuple[PlacedLayout, ...], NDArray[np.intp]]:
        """The best that hold, and some of the front; with their indices."""
        most, goals = count + _MORE_OF_FRONT, self.on_grid.goals
        self._verify(range(len(goals)), count, most)
        front = np.flatnonzero(nondominated(goals))
        others = front[spread_out(goals[front], len(front))].tolist()
        self._verify(others, len(self.held) + _MORE_OF_FRONT, most)
        goals, kept = self.goals()
        on_front = np.zeros(len(goals), dtype=bool)
        on_front[kept] = nondominated(goals[kept])
        held = list(self.held)
        order = [held[index] for index in ranking(goals[held], self.prefer)[:count]]
        # Rounding may have taken one of the others off the front.
        order += [one for one in held if on_front[one] and one not in order]
        placed = tuple(
            replace(self.held[one].placed, rank=rank, pareto=bool(on_front[one]))
            for rank, one in enumerate(order, 1)
        )
        return placed, np.array(order, dtype=np.intp)

    def goals(self) -> tuple[Array, NDArray[np.bool_]]:
        """Goals of all layouts, and which were not refused.

        Of those that hold they are what is told, of the rounded mount.
        """
        goals = self.on_grid.goals.copy()
        for index, mount in self.held.items():
            one = mount.placed
            per_turn, per_length = one.tension_per_turn, one.tension_per_mm
            goals[index, :4] = per_turn, per_length, one.worst_share_of_limit, abs(one.adjuster)
        return goals, ~np.isin(np.arange(len(goals)), list(self.refused))

    def _verify(self, candidates: Iterable[int], most: int, of: int) -> None:
        """Verify layouts that differ from those that hold, until so many do; ``of`` at last.

        It is given up where it is the mount that fails, whatever the layout.
        """
        differ = Differences(self.layouts, self.search.space).differ
        tries = max(_LEAST_TRIES, _TRIES_EACH * (most - len(self.held)))
        for one in candidates:
            hopeless = not self.held and len(self.refused) >= _HOPELESS and self._common()
            if len(self.held) >= most or tries == 0 or hopeless:
                return
            # Neither like one that holds nor a near twin of one that was refused.
            if not (differ(one, list(self.held)) and differ(one, list(self.refused), _TWIN)):
                continue
            tries -= 1
            answer = verify(self.search, self.layouts, self.measures, one)
            if isinstance(answer, Verified):
                self.held[one] = answer
            else:
                self.refused[one] = answer
            self.advanced(min((len(self.held) + len(self.refused)) / of, 1.0))

    def _common(self) -> set[tuple[str, str]]:
        """Judgements of the mount itself that all refused layouts fail in the same words."""
        of_all = _OF_MOUNT if len(self.search.space.belts) > 1 else _OF_MOUNT | _OF_BELT
        said = [
            {(one.name, one.sentence) for one in fails if one.name in of_all}
            for fails in self.refused.values()
        ]
        return set.intersection(*said) if said else set()

    def refusals(self) -> tuple[tuple[WhyNot, ...], tuple[WhyNot, ...]]:
        """What failed at last: for every layout, and for some."""
        common = self._common() if not self.held else set()
        every = [one for fails in self.refused.values() for one in fails]
        sentences = {one.name: one.sentence for one in every}
        for_all: list[WhyNot] = []
        others: list[WhyNot] = []
        for name, count in Counter(one.name for one in every).most_common():
            sentence, of_mount = sentences[name], (name, sentences[name]) in common
            text = "of layouts that passed all else and were solved one by one"
            if of_mount:
                text = "this is so whatever the layout"
            reasons = for_all if of_mount else others
            reasons.append(WhyNot(f"check:{name}", count, f"{text}: {sentence}"))
        return tuple(for_all), tuple(others)


def _notes(
    search: Search, layouts: tuple[PlacedLayout, ...], scenarios: tuple[Scenario, ...]
) -> list[str]:
    """What to know of the layouts, of the search, then of the scenario."""
    notes, scenario = [], search.scenario
    if scenario.adjuster.gives:
        notes.append(
            "the search takes what stands between bolt and plate as rigid; the layouts that are "
            "told were solved and judged with what gives, their bolt's travel as well"
        )
    pairs = zip(layouts, scenarios, strict=True)
    ranks = [str(one.rank) for one, mount in pairs if mount.parts.base.floor is None]
    if scenario.parts.base.floor is not None and ranks:
        text = f"layout{'s' if len(ranks) > 1 else ''} {', '.join(ranks)}"
        notes.append(
            f"base.floor is left out of the scenario of {text}: the hinge there is not above it, "
            "so that drawings count heights from the hinge"
        )
    names = [choice.designation for choice in search.space.belts]
    names = names or [str(scenario.belt.designation or "of the scenario")]
    notes += [
        f"belt {name} is too short to go round both pulleys: no layout with it will do"
        for name, distance in zip(names, snug_distances(scenario, search.space), strict=True)
        if not np.isfinite(distance)
    ]
    return list(dict.fromkeys([*notes, *scenario.notes]))
