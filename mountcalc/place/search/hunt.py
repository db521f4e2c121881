"""The hunt for layouts: an even sample, the best of it refined and brought to marks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import CHUNK, Feasibility, Feasible
from mountcalc.place.feasible.layouts import DIMENSIONS, Choices, choices_from, layouts_from
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.feasible.why_not import judge_of
from mountcalc.place.results import Prefer
from mountcalc.place.search.archive import Archive, Kept, acting
from mountcalc.place.search.distinct import Differences
from mountcalc.place.search.goals import GOALS, goals_of, ranking
from mountcalc.place.search.marking import Marked, Marking
from mountcalc.place.search.marks import Marks
from mountcalc.place.search.pareto import spread_out
from mountcalc.place.search.refine import refined
from mountcalc.place.search.sampling import points
from mountcalc.place.search.tries import Tries
from mountcalc.scenario.search import Search

__all__ = ["Hunt", "Sampled"]

Array = NDArray[np.float64]

# Samples after which the best are refined and brought to marks: this, and its doubles.
_FIRST_CHECKPOINT = 256
_CLOUDS = 8
_TO_MARK = 12
_FRONT_TO_MARK = 24


@dataclass(frozen=True, slots=True)
class Sampled:
    """The first layouts of the sample, for a map: a spread as even as the whole one.

    ``reason`` is a code of :class:`Reason`; ``tension_per_turn`` [N]
    and the other goals are NaN where the layout will not do.
    """

    hinge_x: Array
    hinge_y: Array
    reason: NDArray[np.uint8]
    tension_per_turn: Array


@dataclass
class Hunt:
    """A search under way: what has been tried so far, and the best of it at marks.

    Samples are tried in pieces that end at 256, 512, 1024 ... samples, where the best so far are
    refined and brought to marks, and so they are at the end. What is done up to such a point does
    not depend on how many samples follow, and the best layout at marks is never given up: with
    more samples than such a number it is never worse.

    ``counts`` are the samples for each code of a reason, ``refined`` is how many layouts were tried
    besides, ``marked`` are the layouts that were brought to marks.
    """

    search: Search
    prefer: Prefer
    judge: Feasibility
    tries: Tries
    marking: Marking
    archive: Archive
    marked: Marked
    counts: NDArray[np.int64]
    refined: int = 0
    _sampled: list[Sampled] = field(default_factory=list)
    _seen: set[bytes] = field(default_factory=set)

    @classmethod
    def of(cls, search: Search, prefer: Prefer) -> Hunt:
        """A search that has tried nothing yet."""
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

    @property
    def tried(self) -> int:
        """How many samples have been tried."""
        return int(self.counts.sum())

    def run(self) -> Iterator[float]:
        """Try all samples, and tell after each piece how far the hunt has come."""
        pieces = list(_pieces(self.search.space.samples))
        for done, (start, end) in enumerate(pieces, 1):
            self._sample(start, end)
            if end & (end - 1) == 0 or done == len(pieces):
                self._checkpoint(end)
            yield done / len(pieces)

    @property
    def sampled(self) -> Sampled:
        """The first samples."""
        names = ("hinge_x", "hinge_y", "reason", "tension_per_turn")
        return Sampled(
            *(np.concatenate([getattr(part, name) for part in self._sampled]) for name in names)
        )

    def _sample(self, start: int, end: int) -> None:
        """Feasibility the next samples."""
        unit = points(start, end - start, len(DIMENSIONS), self.search.space.seed)
        unit[:, ~acting(self.search.space)] = 0.0
        judged = self.judge.samples(unit)
        self.counts += np.bincount(judged.reason, minlength=self.counts.size)
        self.archive.add(Kept(unit[judged.kept], _goals(judged)))
        if end <= CHUNK:
            self._sampled.append(self._shown(unit, judged))

    def _shown(self, unit: Array, judged: Feasible) -> Sampled:
        layouts = layouts_from(unit, self.search.space, self.search.scenario)
        per_turn = np.full(len(unit), np.nan)
        per_turn[judged.kept] = judged.measures.tension_per_turn
        return Sampled(layouts.hinge_x, layouts.hinge_y, judged.reason, per_turn)

    def _checkpoint(self, samples: int) -> None:
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
        layouts = layouts_from(best.points, self.search.space, self.search.scenario)
        return best.take(Differences(layouts, self.search.space).first(most))

    def _mark(self, way: Callable[[Choices], tuple[Marked, int]], some: Kept) -> None:
        """Bring to marks what has not been brought there before."""
        keys = [way.__name__.encode() + point.tobytes() for point in some.points]
        new = np.array([key not in self._seen for key in keys], dtype=bool)
        self._seen.update(keys)
        unit = some.points[new]
        marked, tried = way(choices_from(unit, self.search.space, self.search.scenario))
        self.refined += tried
        self.marked = self.marked.and_of(marked)


def _pieces(total: int) -> Iterator[tuple[int, int]]:
    """Starts and ends of pieces: doubling up to a chunk, then chunks; what is left at the end."""
    start, end = 0, _FIRST_CHECKPOINT
    while start < total:
        yield start, min(end, total)
        start, end = end, min(2 * end, end + CHUNK)


def _goals(judged: Feasible) -> Array:
    return goals_of(judged.measures, judged.layouts.plate_length)
