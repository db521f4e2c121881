"""Which place each name takes, so that all of them together cost least."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from mountcalc.drawing.callout_candidates import Places, grown, joined
from mountcalc.drawing.callout_ground import HARD, Floats, Ground
from mountcalc.drawing.straight_pieces import crossing, through

__all__ = ["TEXTS_MEET", "chosen", "conflict"]

TEXTS_MEET = 1000.0 * HARD
"""What it costs that two names stand on each other: it never pays."""

_PASSES = 12


def chosen(choices: Sequence[Places], ground: Ground) -> Places:
    """One place for each name.

    Parameters
    ----------
    choices : sequence of Places
        Of each name, at least one.
    ground : Ground
        What is there already.

    Returns
    -------
    Places
        As many as there are names, in their order: each costs the least beside the others, and of
        several such choices the one that costs less together.
    """
    found = [_settled(choices, ground, order) for order in _orders(choices)]
    return min(found, key=lambda one: _together(one, ground))


def _orders(choices: Sequence[Places]) -> Iterator[list[int]]:
    """Ways to begin: as they come, and the ones first that have the dearest, the fewest places."""
    numbers = list(range(len(choices)))
    yield numbers
    yield sorted(numbers, key=lambda number: -float(choices[number].costs[0]))
    yield sorted(numbers, key=lambda number: -float(choices[number].costs[:40].mean()))


def _settled(choices: Sequence[Places], ground: Ground, order: Sequence[int]) -> Places:
    """Each name beside those before it, then each again beside all others until none moves."""
    taken: dict[int, int] = {}
    for _ in range(_PASSES):
        before = dict(taken)
        for number in order:
            others = [choices[one].where(np.array([at])) for one, at in taken.items()]
            others = [other for one, other in zip(taken, others, strict=True) if one != number]
            taken[number] = _cheapest(choices[number], others, ground)
        if taken == before:
            break
    return joined([choices[number].where(np.array([taken[number]])) for number in sorted(taken)])


def _cheapest(one: Places, others: Sequence[Places], ground: Ground) -> int:
    if not others:
        return int(np.argmin(one.costs + ground.growth(np.empty((0, 4)), one.boxes)))
    beside = joined(others)
    costs = one.costs + conflict(one, beside).sum(axis=1) + ground.growth(beside.boxes, one.boxes)
    return int(np.argmin(costs))


def _together(found: Places, ground: Ground) -> float:
    """What all places cost."""
    apart = float(found.costs.sum())
    pairs = float(np.triu(conflict(found, found), 1).sum())
    around = np.concatenate([found.boxes[:, :2].min(axis=0), found.boxes[:, 2:].max(axis=0)])
    return apart + pairs + float(ground.growth(np.empty((0, 4)), around[np.newaxis])[0])


def conflict(ones: Places, others: Places) -> Floats:
    """What it costs that names stand on each other, or their leaders in each other's way.

    Parameters
    ----------
    ones, others : Places
        n and m of them.

    Returns
    -------
    ndarray of shape (n, m) [-]
    """
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
    return TEXTS_MEET * meets + HARD * in_the_way
