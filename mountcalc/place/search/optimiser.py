"""The optimiser: an even sample, clouds of trials around the best of it, and the grid of a rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import CHUNK, Feasibility, Feasible
from mountcalc.place.feasible.layouts import DIMENSIONS, Choices, choices_from, layouts_from
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.results import Prefer
from mountcalc.place.search.grid import Grid, OnGrid, SnapToGrid
from mountcalc.place.search.objective import (
    GOALS,
    Archive,
    Differences,
    Kept,
    Objective,
    acting,
    goals_of,
    ranking,
    spread_out,
)
from mountcalc.scenario.search import Search

__all__ = ["Optimiser", "Sampled", "points", "shifts"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

# Samples after which the best are refined and snapped to the grid: this, and its doubles.
_FIRST_CHECKPOINT = 256
_CLOUDS = 8
_TO_SNAP, _FRONT_TO_SNAP = 12, 24

# Rounds of a refinement, trials of a cloud, and its radius as a share of each range: it shrinks
# where nothing better is found.
_ROUNDS, _CLOUD, _RADIUS = 14, 96, 0.12
_SHRINK, _GROW = 0.5, 1.3
# Along the last step, further and further.
_FURTHER = np.array([0.5, 1.0, 2.0, 4.0])
# What is chosen from a list is drawn anew in so many trials.
_REDRAWN = 0.15
_LISTED = np.isin(DIMENSIONS, ("motor_side", "adjuster", "thread", "belt"))
_JUST_BELOW_ONE = np.nextafter(1.0, 0.0)

# Places after the binary point: of a sample's step, and of what a number below 1 holds.
_BITS, _HELD, _GUARD = 64, 53, 32


@dataclass(frozen=True, slots=True)
class Sampled:
    """The first layouts of the sample, for a map: a spread as even as the whole one.

    ``reason`` is a code of :class:`Reason`; ``tension_per_turn`` [N] is NaN where the layout will
    not do.
    """

    hinge_x: Array
    hinge_y: Array
    reason: NDArray[np.uint8]
    tension_per_turn: Array


@dataclass
class Optimiser:
    """A search under way: what has been tried so far, and the best of it on the grid.

    Samples are tried in pieces that end at 256, 512, 1024 ... samples, where the best so far are
    refined and snapped to the grid, and so they are at the end. What is done up to such a point
    does not depend on how many samples follow, and the best layout on the grid is never given up:
    with more samples than such a number it is never worse.

    ``counts`` are the samples for each code of a reason, ``refined`` is how many layouts were tried
    besides, ``on_grid`` are the layouts that were snapped to the grid.
    """

    search: Search
    prefer: Prefer
    feasibility: Feasibility
    objective: Objective
    snap: SnapToGrid
    archive: Archive
    on_grid: OnGrid
    counts: NDArray[np.int64]
    refined: int = 0
    _sampled: list[Sampled] = field(default_factory=list)
    _seen: set[bytes] = field(default_factory=set)

    @classmethod
    def of(cls, search: Search, prefer: Prefer) -> Optimiser:
        """A search that has tried nothing yet."""
        scenario, space = search.scenario, search.space
        feasibility = Feasibility.of(search)
        objective = Objective(feasibility, prefer)
        none = choices_from(np.empty((0, len(DIMENSIONS))), space, scenario)
        return cls(
            search,
            prefer,
            feasibility,
            objective,
            SnapToGrid(objective.choices, Grid.of(space, scenario.display), prefer),
            Archive(space, prefer),
            OnGrid(none, np.empty((0, len(GOALS)))),
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
        """Try all samples, and tell after each piece how far it has come."""
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
        """Judge the next samples."""
        unit = points(start, end - start, len(DIMENSIONS), self.search.space.seed)
        unit[:, ~acting(self.search.space)] = 0.0
        found = self.feasibility.samples(unit)
        self.counts += np.bincount(found.reason, minlength=self.counts.size)
        self.archive.add(Kept(unit[found.kept], goals_of(found)))
        if end <= CHUNK:
            self._sampled.append(self._shown(unit, found))

    def _shown(self, unit: Array, found: Feasible) -> Sampled:
        choices = choices_from(unit, self.search.space, self.search.scenario)
        per_turn = np.full(len(unit), np.nan)
        per_turn[found.kept] = found.measures.tension_per_turn
        return Sampled(choices.hinge_x, choices.hinge_y, found.reason, per_turn)

    def _checkpoint(self, samples: int) -> None:
        """Refine the best so far, and snap them to the grid."""
        better, tried = self._refined(self._distinct(_CLOUDS), samples)
        self.archive.add(better)
        self.refined += tried
        front = self.archive.front
        spread = front.take(spread_out(front.goals, _FRONT_TO_SNAP))
        self._snap(self.snap.best, self._distinct(_TO_SNAP))
        self._snap(self.snap.near, spread)

    def _distinct(self, most: int) -> Kept:
        """The best so far that differ from each other."""
        best = self.archive.best.take(ranking(self.archive.best.goals, self.prefer))
        layouts = layouts_from(best.points, self.search.space, self.search.scenario)
        return best.take(Differences(layouts, self.search.space).first(most))

    def _snap(self, way: Callable[[Choices], tuple[OnGrid, int]], some: Kept) -> None:
        """Snap to the grid what has not been snapped before."""
        keys = [way.__name__.encode() + point.tobytes() for point in some.points]
        new = np.array([key not in self._seen for key in keys], dtype=bool)
        self._seen.update(keys)
        unit = some.points[new]
        found, tried = way(choices_from(unit, self.search.space, self.search.scenario))
        self.refined += tried
        self.on_grid = self.on_grid.and_of(found)

    def _refined(self, starts: Kept, samples: int) -> tuple[Kept, int]:
        """Better layouts near good ones, and how many were tried: clouds of trials that shrink."""
        random = np.random.default_rng((self.search.space.seed, samples))
        act = acting(self.search.space)
        now, found, tried = starts, Kept.none(), 0
        last_step, radius = np.zeros_like(now.points), np.full(len(now), _RADIUS)
        for _ in range(_ROUNDS if len(starts) else 0):
            trials = _cloud(random, now.points, radius, last_step, act)
            owners = np.repeat(np.arange(len(now)), trials.shape[1])
            unit = trials.reshape(-1, trials.shape[2])
            goals = self.objective.points(unit, now.goals[owners])
            tried += len(unit)
            better_ones = np.isfinite(goals[:, 0])
            good = Kept(unit[better_ones], goals[better_ones])
            found = found.and_of(good)
            owner = np.concatenate([np.arange(len(now)), owners[better_ones]])
            better = self._best_of_each(now.and_of(good), owner)
            last_step = better.points - now.points
            moved = np.any(last_step != 0.0, axis=1)
            radius = np.minimum(radius * np.where(moved, _GROW, _SHRINK), _RADIUS)
            now = better
        return found, tried

    def _best_of_each(self, every: Kept, owner: Ints) -> Kept:
        """The best layout of each owner; of equals the first."""
        order = ranking(every.goals, self.prefer)
        _, first = np.unique(owner[order], return_index=True)
        return every.take(order[first])


def _pieces(total: int) -> Iterator[tuple[int, int]]:
    """Starts and ends of pieces: doubling up to a chunk, then chunks; what is left at the end."""
    start, end = 0, _FIRST_CHECKPOINT
    while start < total:
        yield start, min(end, total)
        start, end = end, min(2 * end, end + CHUNK)


def _cloud(
    random: np.random.Generator, centers: Array, radius: Array, last_step: Array, act: Bools
) -> Array:
    """Trials around each center, shape (centers, trials, columns)."""
    shape = (len(centers), _CLOUD, len(DIMENSIONS))
    step = (random.random(shape) - random.random(shape)) * radius[:, None, None]
    # Some trials change everything, some only one thing or two: edges are met either way.
    share = random.random(shape[:2])[:, :, None]
    trials = centers[:, None, :] + np.where(random.random(shape) < share, step, 0.0)
    redrawn = (random.random(shape) < _REDRAWN) & _LISTED
    trials = np.where(redrawn, random.random(shape), trials)
    trials[:, :, _LISTED] = np.where(
        redrawn[:, :, _LISTED], trials[:, :, _LISTED], centers[:, None, _LISTED]
    )
    further = centers[:, None, :] + _FURTHER[:, None] * last_step[:, None, :]
    further[:, :, _LISTED] = centers[:, None, _LISTED]
    every = np.clip(np.concatenate([trials, further], axis=1), 0.0, _JUST_BELOW_ONE)
    result: Array = np.where(act, every, centers[:, None, :])
    return result


def points(start: int, count: int, dimensions: int, seed: int) -> Array:
    """Some points of the sequence that belongs to a seed and fills the unit cube evenly.

    Point i is the fractional part of (shift + i a), an additive recurrence (Weyl, Kronecker; H.
    Niederreiter, "Random Number Generation and Quasi-Monte Carlo Methods", 1992, chapter 3, from
    memory). Steps and shifts are whole numbers of 2^-64, so that whole numbers that overflow keep
    the fractional part exactly: the ten-millionth point is as good as the first, and point i is
    the same however many are taken and in what pieces.
    """
    index = np.arange(start, start + count, dtype=np.uint64)[:, None]
    whole = index * np.array(_steps(dimensions), dtype=np.uint64) + shifts(dimensions, seed)
    return (whole >> np.uint64(_BITS - _HELD)).astype(np.float64) * 2.0**-_HELD


def shifts(dimensions: int, seed: int) -> NDArray[np.uint64]:
    """By how much a seed shifts the points, in units of 2^-64."""
    return np.random.SeedSequence(seed).generate_state(dimensions, np.uint64).astype(np.uint64)


@lru_cache(maxsize=4)
def _steps(dimensions: int) -> tuple[int, ...]:
    """The powers 1/g, 1/g^2, ... in units of 2^-64, cut off.

    g is the root of g^(d+1) = g + 1, the golden ratio for d = 1 (such roots: V. Krcadinac,
    Fibonacci Quarterly 44, 2006, from memory); 1/g, where x^(d+1) + x^d = 1, is found by halving.
    """
    unit = 1 << (_BITS + _GUARD)
    low, high = 0, unit
    while high - low > 1:
        middle = (low + high) // 2
        x = Fraction(middle, unit)
        if x**dimensions * (x + 1) < 1:
            low = middle
        else:
            high = middle
    root = Fraction(low, unit)
    return tuple(int(root**power * 2**_BITS) for power in range(1, dimensions + 1))
