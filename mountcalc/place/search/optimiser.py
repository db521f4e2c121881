"""The optimiser: an even sample, clouds of trials around the best of it, and the grid of a rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.feasibility import CHUNK, Feasibility
from mountcalc.place.feasible.layouts import (
    DIMENSIONS,
    Choices,
    choices_from,
    layouts_from,
    layouts_of,
    ways_of,
)
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.search.grid import Grid, OnGrid, SnapToGrid
from mountcalc.place.search.objective import (
    GOALS,
    Differences,
    Objective,
    goals_of,
    nondominated,
    ranking,
    spread_out,
)
from mountcalc.record import Record
from mountcalc.requirements.held import Columns
from mountcalc.scenario.search import Search, SearchSpace

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

# Samples after which the best are refined and snapped to the grid: this, and always so many times
# as many.
_FIRST_CHECKPOINT, _TIMES = 256, 4
_CLOUDS = 16
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

# One layout is kept for each cell, so that those that are kept are not all alike; and of the front
# so many that stand for all.
_CELLS = {"hinge_x": 6, "hinge_y": 6, "reach": 4, "motor_direction": 4, "motor_side": 2}
_MOST_CELLS, _MOST_ON_FRONT = 512, 256

# Places after the binary point: of a sample's step, and of what a number below 1 holds.
_BITS, _HELD, _GUARD = 64, 53, 32


class Kept(Record):
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
        points, goals = (self.points, other.points), (self.goals, other.goals)
        return Kept(np.concatenate(points), np.concatenate(goals))


_NONE = Kept(np.empty((0, len(DIMENSIONS))), np.empty((0, len(GOALS))))


class Sampled(Columns):
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

    Samples are tried in pieces. After 256, 1024, 4096 ... samples the best so far are refined and
    snapped to the grid, and so they are at the end. What is done up to such a point does not depend
    on how many samples follow, and the best layout on the grid is never given up: with more samples
    than such a number it is never worse.

    ``counts`` are the samples for each code of a reason, ``refined`` is how many layouts were tried
    besides. Of what will do the best of each cell by the preferred goal is kept, and the Pareto
    front, thinned; ``on_grid`` are the layouts that were snapped to the grid.
    """

    search: Search
    prefer: Prefer
    feasibility: Feasibility
    objective: Objective
    on_grid: OnGrid
    counts: NDArray[np.int64]
    refined: int = 0
    _best: Kept = _NONE
    _front: Kept = _NONE
    _sampled: list[Sampled] = field(default_factory=list)
    _seen: set[bytes] = field(default_factory=set)

    @classmethod
    def of(cls, search: Search, prefer: Prefer) -> Optimiser:
        """A search that has tried nothing yet."""
        feasibility = Feasibility.of(search)
        nothing = choices_from(_NONE.points, search.space, search.scenario)
        codes = Reason.KEEP_OUT + len(search.space.keep_outs)
        return cls(
            search,
            prefer,
            feasibility,
            Objective(feasibility, prefer),
            OnGrid(nothing, _NONE.goals),
            np.zeros(codes, dtype=np.int64),
        )

    @property
    def feasible(self) -> int:
        """How many of the samples will do."""
        return int(self.counts[Reason.FEASIBLE])

    @property
    def tried(self) -> int:
        """How many samples have been tried."""
        return int(self.counts.sum())

    @property
    def sampled(self) -> Sampled:
        """The first samples."""
        return Sampled.joined(self._sampled)

    def run(self) -> Iterator[float]:
        """Try all samples, and tell after each piece how far it has come."""
        start, total, checkpoint = 0, self.search.space.samples, _FIRST_CHECKPOINT
        while start < total:
            end = min(max(2 * start, _FIRST_CHECKPOINT), start + CHUNK, checkpoint, total)
            self._sample(start, end)
            if end in {checkpoint, total}:
                self._checkpoint(end)
            checkpoint *= _TIMES if end == checkpoint else 1
            start = end
            yield end / total

    def _sample(self, start: int, end: int) -> None:
        """Judge the next samples."""
        space = self.search.space
        unit = points(start, end - start, len(DIMENSIONS), space.seed)
        unit[:, ~acting(space)] = 0.0
        found = self.feasibility.samples(unit)
        self.counts += np.bincount(found.reason, minlength=self.counts.size)
        self._add(Kept(unit[found.kept], goals_of(found)))
        if end <= CHUNK:
            choices = choices_from(unit, space, self.search.scenario)
            per_turn = np.full(len(unit), np.nan)
            per_turn[found.kept] = found.measures.tension_per_turn
            shown = Sampled(choices.hinge_x, choices.hinge_y, found.reason, per_turn)
            self._sampled.append(shown)

    def _add(self, new: Kept) -> None:
        """Keep what is good of layouts that will do; the best by the preferred goal always is."""
        every = self._best.and_of(new)
        every = every.take(ranking(every.goals, self.prefer))
        space, cell = self.search.space, np.zeros(len(every), dtype=np.int64)
        own = {"adjuster": len(ways_of(space)), "belt": max(len(space.belts), 1)}
        for name, count in (_CELLS | own).items():
            index = (every.points[:, DIMENSIONS.index(name)] * count).astype(np.int64)
            cell = cell * count + np.minimum(index, count - 1)
        _, first = np.unique(cell, return_index=True)
        self._best = every.take(np.sort(first)[:_MOST_CELLS])
        every = self._front.and_of(new)
        every = every.take(nondominated(every.goals))
        if len(every) > _MOST_ON_FRONT:
            every = every.take(spread_out(every.goals, _MOST_ON_FRONT))
        self._front = every

    def _checkpoint(self, samples: int) -> None:
        """Refine the best so far, and snap them to the grid."""
        self._add(self._refined(self._distinct(_CLOUDS), samples))
        spread = self._front.take(spread_out(self._front.goals, _FRONT_TO_SNAP))
        scenario, space = self.search.scenario, self.search.space
        snap = SnapToGrid(
            lambda choices, others: self.objective.goals(
                layouts_of(choices, space, scenario), others
            ),
            Grid.of(space, scenario.display),
            self.prefer,
        )
        self._snap(snap.best, self._distinct(_TO_SNAP))
        self._snap(snap.near, spread)

    def _distinct(self, most: int) -> Kept:
        """The best so far that differ from each other."""
        layouts = layouts_from(self._best.points, self.search.space, self.search.scenario)
        return self._best.take(Differences(layouts, self.search.space).first(most))

    def _snap(self, way: Callable[[Choices], tuple[OnGrid, int]], some: Kept) -> None:
        """Snap to the grid what has not been snapped before."""
        keys = [way.__name__.encode() + point.tobytes() for point in some.points]
        new = np.array([key not in self._seen for key in keys], dtype=bool)
        self._seen.update(keys)
        found, tried = way(choices_from(some.points[new], self.search.space, self.search.scenario))
        self.refined += tried
        self.on_grid = self.on_grid.and_of(found)

    def _refined(self, starts: Kept, samples: int) -> Kept:
        """Better layouts near good ones: clouds of trials that shrink."""
        space, scenario = self.search.space, self.search.scenario
        random = np.random.default_rng((space.seed, samples))
        now, found, act = starts, _NONE, acting(space)
        last_step, radius = np.zeros_like(now.points), np.full(len(now), _RADIUS)
        for _ in range(_ROUNDS if len(starts) else 0):
            trials = _cloud(random, now.points, radius, last_step, act)
            owners = np.repeat(np.arange(len(now)), trials.shape[1])
            unit = trials.reshape(-1, trials.shape[2])
            goals = self.objective.goals(layouts_from(unit, space, scenario), now.goals[owners])
            self.refined += len(unit)
            better = np.isfinite(goals[:, 0])
            good = Kept(unit[better], goals[better])
            found = found.and_of(good)
            # The best of each cloud, of equals the first.
            every, owner = now.and_of(good), np.concatenate([np.arange(len(now)), owners[better]])
            order = ranking(every.goals, self.prefer)
            before, now = now, every.take(order[np.unique(owner[order], return_index=True)[1]])
            last_step = now.points - before.points
            moved = np.any(last_step != 0.0, axis=1)
            radius = np.minimum(radius * np.where(moved, _GROW, _SHRINK), _RADIUS)
        return found


def acting(space: SearchSpace) -> Bools:
    """Which columns of a sample make a difference."""
    counts = {"adjuster": ways_of(space), "thread": space.threads, "belt": space.belts}
    acts = {name: len(some) > 1 for name, some in counts.items()} | {"motor_side": True}
    for name in DIMENSIONS:
        if name not in acts:
            low, high = getattr(space, name) or (0.0, 0.0)
            acts[name] = high > low
    return np.array([acts[name] for name in DIMENSIONS])


def _cloud(
    random: np.random.Generator, centers: Array, radius: Array, last_step: Array, act: Bools
) -> Array:
    """Trials around each center, shape (centers, trials, columns)."""
    shape = (len(centers), _CLOUD, len(DIMENSIONS))
    step = (random.random(shape) - random.random(shape)) * radius[:, None, None]
    # Some trials change everything, some only one thing or two: edges are met either way.
    share = random.random(shape[:2])[:, :, None]
    changed = (random.random(shape) < share) & ~_LISTED
    redrawn = (random.random(shape) < _REDRAWN) & _LISTED
    trials = centers[:, None, :] + np.where(changed, step, 0.0)
    trials = np.where(redrawn, random.random(shape), trials)
    further = _FURTHER[:, None] * np.where(_LISTED, 0.0, last_step)[:, None, :]
    trials = np.concatenate([trials, centers[:, None, :] + further], axis=1)
    return np.where(act, np.clip(trials, 0.0, _JUST_BELOW_ONE), centers[:, None, :])


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
