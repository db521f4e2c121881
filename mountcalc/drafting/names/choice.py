"""Which place each name takes, so that all of them together cost least."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.names.candidates import Places, grown, joined
from mountcalc.drafting.names.ground import HARD, Floats, Ground
from mountcalc.drafting.names.straight_pieces import apart, crossing, through

__all__ = ["TEXTS_MEET", "chosen", "conflict"]

TEXTS_MEET = 1000.0 * HARD
"""What it costs that two names stand on each other: it never pays."""

# What it costs that two leaders point at one place, less and less up to so far apart [m] on paper.
_TIPS_MEET, _TIPS_APART = 100.0, 0.007
_PAST_TIP = 0.003  # the same for a leader that runs past the tip of another [m] on paper
_PASSES = 12
_KICKS = 80  # times that some names are put elsewhere, to see whether that leads to less
_KICKED = 3
_NONE = np.empty((0, 4))


def chosen(choices: Sequence[Places], ground: Ground) -> Places:
    """One place for each name."""
    choice = _Choice(choices, ground)
    best = choice.settled(np.array([int(np.argmin(one.costs)) for one in choices]))
    least = choice.cost(best)
    chance = np.random.default_rng(len(choices))
    for _ in range(_KICKS if len(choices) > 1 else 0):
        tried = best.copy()
        for number in chance.integers(len(choices), size=_KICKED):
            tried[number] = chance.integers(len(choices[number]))
        tried = choice.settled(tried)
        cost = choice.cost(tried)
        if cost < least:
            best, least = tried, cost
    return joined([one.where(np.array([at])) for one, at in zip(choices, best, strict=True)])


class _Choice:
    """Places of all names, one after the other, and what each costs beside each other one."""

    def __init__(self, choices: Sequence[Places], ground: Ground) -> None:
        self._ground = ground
        self._starts = np.cumsum([0, *(len(one) for one in choices)])
        self._names = [slice(*ends) for ends in pairwise(self._starts)]
        self._all = joined(choices)
        self._pairs = conflict(self._all, self._all)
        # What stands in the room does not make it larger, wherever the others stand.
        self._grows = [np.flatnonzero(ground.growth(_NONE, one.boxes) > 0) for one in choices]
        for own in self._names:
            self._pairs[own, own] = 0.0

    def settled(self, taken: NDArray[np.int_]) -> NDArray[np.int_]:
        """Names moved one after the other to where each costs least, until none moves."""
        taken = taken.copy()
        for _ in range(_PASSES):
            before = taken.copy()
            for number in range(len(taken)):
                taken[number] = self._cheapest(number, taken)
            if (taken == before).all():
                break
        return taken

    def cost(self, taken: NDArray[np.int_]) -> float:
        """What all places cost together."""
        at = self._starts[:-1] + taken
        pairs = float(np.triu(self._pairs[np.ix_(at, at)], 1).sum())
        boxes = self._all.boxes[at]
        around = np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])
        growth = float(self._ground.growth(_NONE, around[np.newaxis])[0])
        return float(self._all.costs[at].sum()) + pairs + growth

    def _cheapest(self, number: int, taken: NDArray[np.int_]) -> int:
        at, own = self._starts[:-1] + taken, self._names[number]
        costs = self._all.costs[own] + self._pairs[own, at].sum(axis=1)
        grows = self._grows[number]
        if len(grows):
            others = self._all.boxes[np.delete(at, number)]
            costs[grows] += self._ground.growth(others, self._all.boxes[own][grows])
        return int(costs.argmin())


def conflict(ones: Places, others: Places) -> Floats:
    """What it costs that names or their leaders are in each other's way, or point at one place."""
    around = grown(ones.boxes)
    left, bottom, right, top = around.T[:, :, np.newaxis]
    other = others.boxes.T[:, np.newaxis, :]
    meets: NDArray[np.bool_] = (
        (left < other[2]) & (other[0] < right) & (bottom < other[3]) & (other[1] < top)
    )
    in_the_way = (
        (crossing(ones.lines, others.lines) > 0).astype(float)
        + through(ones.lines, grown(others.boxes))
        + through(others.lines, around).T
    )
    tips = ones.lines[:, np.newaxis, :2] - others.lines[np.newaxis, :, :2]
    near = np.maximum(0.0, 1.0 - np.hypot(tips[..., 0], tips[..., 1]) / _TIPS_APART)
    past = np.minimum(
        apart(ones.lines[:, :2], others.lines), apart(others.lines[:, :2], ones.lines).T
    )
    near += np.maximum(0.0, 1.0 - past / _PAST_TIP)
    return TEXTS_MEET * meets + HARD * in_the_way + _TIPS_MEET * near
