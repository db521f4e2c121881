"""Better layouts near good ones: clouds of trials that shrink where they find nothing better."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.results import Prefer
from mountcalc.place.search.archive import Kept
from mountcalc.place.search.goals import ranking

__all__ = ["refined"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

_ROUNDS = 14
_CLOUD = 96
_RADIUS = 0.12  # of each range
_SHRINK = 0.5
_GROW = 1.3
# Along the last step, further and further.
_FURTHER = np.array([0.5, 1.0, 2.0, 4.0])
# What is chosen from a list is drawn anew in so many trials.
_REDRAWN = 0.15
_LISTED = np.isin(DIMENSIONS, ("motor_side", "adjuster", "thread", "belt"))
_JUST_BELOW_ONE = np.nextafter(1.0, 0.0)


def refined(
    goals_of: Callable[[Array, Array], Array],
    starts: Kept,
    prefer: Prefer,
    act: Bools,
    seed: tuple[int, int],
) -> tuple[Kept, int]:
    """Search around points for layouts that are better by the preferred goal."""
    random = np.random.default_rng(seed)
    now, found, tried = starts, Kept.none(), 0
    last_step, radius = np.zeros_like(now.points), np.full(len(now), _RADIUS)
    for _ in range(_ROUNDS if len(starts) else 0):
        trials = _cloud(random, now.points, radius, last_step, act)
        owners = np.repeat(np.arange(len(now)), trials.shape[1])
        points = trials.reshape(-1, trials.shape[2])
        goals = goals_of(points, now.goals[owners])
        tried += len(points)
        better_ones = np.isfinite(goals[:, 0])
        good = Kept(points[better_ones], goals[better_ones])
        found = found.and_of(good)
        owner = np.concatenate([np.arange(len(now)), owners[better_ones]])
        better = _best_of_each(now.and_of(good), owner, prefer)
        last_step = better.points - now.points
        moved = np.any(last_step != 0.0, axis=1)
        radius = np.minimum(radius * np.where(moved, _GROW, _SHRINK), _RADIUS)
        now = better
    return found, tried


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


def _best_of_each(every: Kept, owner: Ints, prefer: Prefer) -> Kept:
    """The best layout of each owner; of equals the first."""
    order = ranking(every.goals, prefer)
    _, first = np.unique(owner[order], return_index=True)
    return every.take(order[first])
