"""The search: layouts tried in an even spread, the best refined and brought to marks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mountcalc.placement.archive import Archive, Kept, acting
from mountcalc.placement.choices import DIMENSIONS, Choices, choices_from
from mountcalc.placement.distinct import Differences
from mountcalc.placement.finish import Finished, finish
from mountcalc.placement.goals import GOALS, goals_of, ranking
from mountcalc.placement.judge import CHUNK, Judge
from mountcalc.placement.judged import Judged, Measures
from mountcalc.placement.layouts import Layouts, layouts_from
from mountcalc.placement.marking import Marked, Marking
from mountcalc.placement.marks import Marks
from mountcalc.placement.pareto import spread_out
from mountcalc.placement.reasons import Reason
from mountcalc.placement.refine import refined
from mountcalc.placement.sampling import points, rounded_up
from mountcalc.placement.tries import Tries
from mountcalc.placement.why_not import judge_of, reasons_told
from mountcalc.results.place import Advance, Placement, Prefer
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search_model import Search

__all__ = ["Found", "Sampled", "find_layouts"]

Array = NDArray[np.float64]

# Samples after which the best are refined and brought to marks: this, and its doubles.
_FIRST_CHECKPOINT = 256
_CLOUDS = 8
_TO_MARK = 12
_FRONT_TO_MARK = 24


@dataclass(frozen=True, slots=True)
class Sampled:
    """The first layouts of the sample, for a map: a spread as even as the whole one.

    ``reason`` is a code of :class:`mountcalc.placement.reasons.Reason`; ``tension_per_turn`` [N]
    and the other goals are NaN where the layout will not do.
    """

    hinge_x: Array
    hinge_y: Array
    reason: NDArray[np.uint8]
    tension_per_turn: Array


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

    Samples are tried in pieces that end at 256, 512, 1024 ... samples, where the best so far are
    refined and brought to marks. What is done up to such a point does not depend on how many
    samples follow, and the best layout at marks is never given up: twice the samples never give a
    worse first layout (unless the ordinary solver refuses it, which has not been seen).

    Parameters
    ----------
    search : Search
        The scenario and what may be tried; its ``samples`` are rounded up to a power of two.
    prefer : Prefer
        By what layouts are ranked.
    count : int
        How many of the best to report; up to five more of the Pareto front follow.
    progress : callable, optional
        Told how far the search has come.

    Returns
    -------
    Found
        Every layout that it reports has been solved by the ordinary solver, rounded as it is.
    """
    run = _Run.of(search, prefer)
    total = rounded_up(search.space.samples, _FIRST_CHECKPOINT)
    for start, end in _pieces(total):
        run.sample(start, end)
        if end & (end - 1) == 0:
            run.checkpoint(end)
        if progress is not None:
            progress(Advance(end, total, run.feasible))
    finished = finish(search, run.judge, run.marked, prefer, count)
    return _told(run, finished, total)


def _pieces(total: int) -> Iterator[tuple[int, int]]:
    """Starts and ends of pieces: doubling up to a chunk, then chunks."""
    start, end = 0, _FIRST_CHECKPOINT
    while start < total:
        yield start, end
        start, end = end, min(2 * end, end + CHUNK)


@dataclass
class _Run:
    """One search under way."""

    search: Search
    prefer: Prefer
    judge: Judge
    tries: Tries
    marking: Marking
    archive: Archive
    marked: Marked
    counts: NDArray[np.int64]
    refined: int = 0
    sampled: list[Sampled] = field(default_factory=list)
    seen: set[bytes] = field(default_factory=set)

    @classmethod
    def of(cls, search: Search, prefer: Prefer) -> _Run:
        scenario, space = search.scenario, search.space
        judge = judge_of(search)
        tries = Tries(judge, prefer)
        none = choices_from(np.empty((0, len(DIMENSIONS))), space, scenario)
        return cls(
            search,
            prefer,
            judge,
            tries,
            Marking(tries.choices, Marks.of(space, scenario.display), prefer),
            Archive(space, prefer),
            Marked(none, np.empty((0, len(GOALS)))),
            np.zeros(Reason.KEEP_OUT + len(space.keep_outs), dtype=np.int64),
        )

    @property
    def feasible(self) -> int:
        """How many of the samples will do."""
        return int(self.counts[Reason.FEASIBLE])

    def sample(self, start: int, end: int) -> None:
        """Judge the next samples."""
        unit = points(start, end - start, len(DIMENSIONS), self.search.space.seed)
        unit[:, ~acting(self.search.space)] = 0.0
        judged = self.judge.samples(unit)
        self.counts += np.bincount(judged.reason, minlength=self.counts.size)
        self.archive.add(Kept(unit[judged.kept], _goals(judged)))
        if end <= CHUNK:
            self.sampled.append(self._shown(unit, judged))

    def _shown(self, unit: Array, judged: Judged) -> Sampled:
        layouts = layouts_from(unit, self.search.space, self.search.scenario)
        per_turn = np.full(len(unit), np.nan)
        per_turn[judged.kept] = judged.measures.tension_per_turn
        return Sampled(layouts.hinge_x, layouts.hinge_y, judged.reason, per_turn)

    def checkpoint(self, samples: int) -> None:
        """Refine the best so far, and bring them to marks."""
        space = self.search.space
        better, tried = refined(
            self.tries.points,
            self._distinct(_CLOUDS),
            self.prefer,
            acting(space),
            (space.seed, samples),
        )
        self.archive.add(better)
        self.refined += tried
        front = self.archive.front
        spread = front.take(spread_out(front.goals, _FRONT_TO_MARK))
        self._mark(self.marking.best, self._distinct(_TO_MARK))
        self._mark(self.marking.near, spread)

    def _distinct(self, most: int) -> Kept:
        """The best so far that differ from each other."""
        best = self.archive.best.take(ranking(self.archive.best.goals, self.prefer))
        choices = choices_from(best.points, self.search.space, self.search.scenario)
        return best.take(Differences(choices, self.search.space).first(most))

    def _mark(self, way: Callable[[Choices], tuple[Marked, int]], some: Kept) -> None:
        """Bring to marks what has not been brought there before."""
        keys = [way.__name__.encode() + point.tobytes() for point in some.points]
        new = np.array([key not in self.seen for key in keys], dtype=bool)
        self.seen.update(keys)
        unit = some.points[new]
        marked, tried = way(choices_from(unit, self.search.space, self.search.scenario))
        self.refined += tried
        self.marked = self.marked.and_of(marked)


def _goals(judged: Judged) -> Array:
    return goals_of(judged.measures, judged.layouts.plate_length)


def _told(run: _Run, finished: Finished, total: int) -> Found:
    search, space = run.search, run.search.space
    notes = list(search.scenario.notes)
    if total != space.samples:
        notes.append(
            f"{space.samples:,} samples were asked for; {total:,}, the next power of two, were "
            "tried, so that more samples never give a worse answer"
        )
    why_not, lifted = reasons_told(search, run.counts)
    placement = Placement(
        title=search.scenario.title,
        prefer=run.prefer,
        samples=space.samples,
        seed=space.seed,
        evaluated=total,
        refined=run.refined,
        feasible=run.feasible,
        why_not=(*finished.refused_for_all, *why_not, *finished.refused),
        layouts=finished.placed,
        notes=(*lifted, *notes),
    )
    parts = run.sampled
    sampled = Sampled(
        *(
            np.concatenate([getattr(part, name) for part in parts])
            for name in ("hinge_x", "hinge_y", "reason", "tension_per_turn")
        )
    )
    return Found(
        placement,
        finished.scenarios,
        finished.layouts,
        finished.measures,
        sampled,
        finished.goals,
        finished.on_front,
    )
