"""Layouts of which no other is better in every way."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["nondominated", "spread_out", "unbeaten"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]


def nondominated(goals: Array) -> Bools:
    """Which rows no other row beats."""
    left = np.arange(len(goals))
    kept = np.zeros(len(goals), dtype=bool)
    # A row that beats another has the smaller sum of ranks: whoever comes first is not beaten.
    ranks = sum(np.unique(column, return_inverse=True)[1].ravel() for column in goals.T)
    left = np.argsort(ranks, kind="stable") if len(goals) else left
    while left.size:
        first, others = left[0], left[1:]
        kept[first] = True
        worse = goals[others] >= goals[first]
        beaten = np.all(worse, axis=1) & np.any(goals[others] > goals[first], axis=1)
        left = others[~beaten]
    return kept


def unbeaten(goals: Array, others: Array) -> Ints:
    """Rows that are better in some way than each of some others; a copy is not."""
    left, columns = np.arange(len(goals)), np.ascontiguousarray(goals.T)
    # Those that are good all round beat most: what they beat is not looked at again.
    scale = np.maximum(np.abs(others).max(axis=0, initial=0.0), np.finfo(float).tiny)
    for other in others[np.argsort((others / scale).sum(axis=1), kind="stable")]:
        better = columns[0] < other[0]
        for column, value in zip(columns[1:], other[1:], strict=True):
            better |= column < value
        if not better.all():
            left, columns = left[better], columns[:, better]
    return left


def spread_out(goals: Array, most: int) -> Ints:
    """Rows that stand for all: the best of each goal, then always the one that is farthest."""
    if len(goals) == 0:
        return np.empty(0, dtype=np.intp)
    low, high = goals.min(axis=0), goals.max(axis=0)
    places = (goals - low) / np.where(high > low, high - low, 1.0)
    chosen = list(dict.fromkeys(np.argmin(goals, axis=0).tolist()))[:most]
    apart = np.min([np.abs(places - places[one]).max(axis=1) for one in chosen], axis=0)
    while len(chosen) < min(most, len(goals)):
        farthest = int(np.argmax(apart))
        if apart[farthest] == 0.0:
            break  # the rest are copies
        chosen.append(farthest)
        apart = np.minimum(apart, np.abs(places - places[farthest]).max(axis=1))
    return np.array(chosen, dtype=np.intp)
