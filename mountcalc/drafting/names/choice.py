"""Which of its places each name takes, so that all of them together cost least."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.items import TEXT_HEIGHT
from mountcalc.drafting.names.geometry import Floats, apart, crossing, overlapping, through

__all__ = ["HARD", "TEXTS_MEET", "Places", "cheapest", "chosen", "conflict", "grown"]

# All costs are relative to each other.
HARD = 1000.0
"""What it costs that a leader runs across another, or across a text: more than all else."""

TEXTS_MEET = 1000.0 * HARD
"""What it costs that two names stand on each other: it never pays."""

_AIR = 0.3 * TEXT_HEIGHT  # around a text [m on paper], in which no other stands
# What it costs that two leaders point at one place, less and less up to so far apart [m] on paper.
_TIPS_MEET, _TIPS_APART = 100.0, 0.007
_PAST_TIP = 0.003  # the same for a leader that runs past the tip of another [m] on paper
_SAME_PLACE = 0.003  # [m] on paper within which only the cheapest place of a text is kept
_PASSES = 12
_KICKS = 80  # times that some names are put elsewhere, to see whether that leads to less
_KICKED = 3
_NONE = np.empty((0, 4))

Growth = Callable[[Floats, Floats], Floats]
"""What it costs that texts (second) beside others (first) make the drawing larger."""


@dataclass(frozen=True, slots=True)
class Places:
    """Places of one name on paper [m].

    ``lines`` (n, 4) are the leaders, from the part to the text; ``boxes`` (n, 4) left, bottom,
    right and top of the text; ``costs`` (n,) those of what is there already.
    """

    lines: Floats
    boxes: Floats
    costs: Floats

    def __len__(self) -> int:
        return len(self.costs)

    def where(self, chosen: NDArray[np.int_]) -> Places:
        """Some of them."""
        return Places(self.lines[chosen], self.boxes[chosen], self.costs[chosen])


def grown(boxes: Floats) -> Floats:
    """Texts with their air."""
    return boxes + _AIR * np.array([-1.0, -1.0, 1.0, 1.0])


def cheapest(found: Places, costs: Floats, most: int) -> NDArray[np.int_]:
    """Which are the cheapest, but of texts that stand nearly in one place only the first."""
    order = np.argsort(costs, kind="stable")
    cells = np.round(found.boxes[order, :2] / _SAME_PLACE).astype(int)
    _, first = np.unique(cells, axis=0, return_index=True)
    return order[np.sort(first)[:most]]


def conflict(ones: Places, others: Places) -> Floats:
    """What it costs that names or their leaders are in each other's way, or point at one place."""
    around = grown(ones.boxes)
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
    meets = overlapping(around, others.boxes)
    return TEXTS_MEET * meets + HARD * in_the_way + _TIPS_MEET * near


def chosen(choices: Sequence[Places], growth: Growth | None = None) -> Places:
    """One place for each name."""
    choice = _Choice(choices, growth or (lambda _, boxes: np.zeros(len(boxes))))
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
    return _joined([one.where(np.array([at])) for one, at in zip(choices, best, strict=True)])


def _joined(several: Sequence[Places]) -> Places:
    """Places of several names, one after the other."""
    return Places(
        np.concatenate([one.lines for one in several]),
        np.concatenate([one.boxes for one in several]),
        np.concatenate([one.costs for one in several]),
    )


class _Choice:
    """Places of all names, one after the other, and what each costs beside each other one."""

    def __init__(self, choices: Sequence[Places], growth: Growth) -> None:
        self._growth = growth
        self._starts = np.cumsum([0, *(len(one) for one in choices)])
        self._names = [slice(*ends) for ends in pairwise(self._starts)]
        self._all = _joined(choices)
        self._pairs = conflict(self._all, self._all)
        # What stands in the room does not make it larger, wherever the others stand.
        self._grows = [np.flatnonzero(growth(_NONE, one.boxes) > 0) for one in choices]
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
        growth = float(self._growth(_NONE, around[np.newaxis])[0])
        return float(self._all.costs[at].sum()) + pairs + growth

    def _cheapest(self, number: int, taken: NDArray[np.int_]) -> int:
        at, own = self._starts[:-1] + taken, self._names[number]
        costs = self._all.costs[own] + self._pairs[own, at].sum(axis=1)
        grows = self._grows[number]
        if len(grows):
            others = self._all.boxes[np.delete(at, number)]
            costs[grows] += self._growth(others, self._all.boxes[own][grows])
        return int(costs.argmin())
