"""The search: layouts hunted for, solved one by one, and all that is told of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.drives import snug_distances
from mountcalc.place.feasible.feasibility import Measures
from mountcalc.place.feasible.layouts import Layouts
from mountcalc.place.feasible.why_not import reasons_told
from mountcalc.place.results import Advance, Placement, Prefer
from mountcalc.place.search.finish import Finished, finish
from mountcalc.place.search.hunt import Hunt, Sampled
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search

__all__ = ["Found", "Sampled", "find_layouts"]

Array = NDArray[np.float64]

# Of the time that a search takes: the hunt, and solving what it found; then reasons are weighed.
_OF_HUNT = 0.5
_OF_FINISH = 0.45


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: its answer, and what pictures and files need besides.

    ``scenarios``, ``layouts`` and ``measures`` have one entry for each of ``placement.layouts``,
    in the same order. ``goals`` are those of all layouts that were brought to marks (columns as
    in ``placement.goals.GOALS``), ``on_front`` tells which of them no other one beats.
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
) -> Found:
    """Look for layouts that keep every promise, the best by a preference first.

    More samples than 256, 512, 1024 ... never give a worse first layout than those (see
    :class:`mountcalc.place.search.hunt.Hunt`), unless the ordinary solver refuses a better one.
    """
    hunt = Hunt.of(search, prefer)

    def told(share: float) -> None:
        if progress is not None:
            progress(Advance(share, hunt.tried, hunt.feasible))

    for share in hunt.run():
        told(_OF_HUNT * share)
    finished = finish(
        *(search, hunt.judge, hunt.marked, prefer, count),
        lambda share: told(_OF_HUNT + _OF_FINISH * share),
    )
    found = _told(hunt, finished)
    told(1.0)
    return found


def _told(hunt: Hunt, finished: Finished) -> Found:
    search, space = hunt.search, hunt.search.space
    why_not, lifted = reasons_told(search, hunt.counts)
    placement = Placement(
        title=search.scenario.title,
        prefer=hunt.prefer,
        samples=space.samples,
        seed=space.seed,
        evaluated=hunt.tried,
        refined=hunt.refined,
        feasible=hunt.feasible,
        why_not=(*finished.refused_for_all, *why_not, *finished.refused),
        layouts=finished.placed,
        notes=(*lifted, *_left_out(search, finished), *_notes(hunt)),
    )
    return Found(
        placement,
        finished.scenarios,
        finished.layouts,
        finished.measures,
        hunt.sampled,
        finished.goals,
        finished.on_front,
    )


def _left_out(search: Search, finished: Finished) -> list[str]:
    """Layouts whose scenario has lost the floor, because their hinge is not above it."""
    if search.scenario.parts.base.floor is None:
        return []
    ranks = [
        str(layout.rank)
        for layout, scenario in zip(finished.placed, finished.scenarios, strict=True)
        if scenario.parts.base.floor is None
    ]
    if not ranks:
        return []
    layouts = f"layout{'s' if len(ranks) > 1 else ''} {', '.join(ranks)}"
    return [
        f"base.floor is left out of the scenario of {layouts}: the hinge there is not above it, so "
        "that drawings count heights from the hinge"
    ]


def _notes(hunt: Hunt) -> list[str]:
    """What to know of the search, then of the scenario."""
    search, space = hunt.search, hunt.search.space
    snug = snug_distances(search.scenario, space)
    notes = [
        f"belt {name} is too short to go round both pulleys: no layout with it will do"
        for name, distance in zip(_belt_names(search), snug, strict=True)
        if not np.isfinite(distance)
    ]
    return list(dict.fromkeys([*notes, *search.scenario.notes]))


def _belt_names(search: Search) -> list[str]:
    names = [choice.designation for choice in search.space.belts]
    return names or [str(search.scenario.belt.designation or "of the scenario")]
