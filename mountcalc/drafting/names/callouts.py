"""Names of parts beside a drawing, each where it covers no other text and little else."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.model import Bounds, Item, Leader, Point
from mountcalc.drafting.names.candidates import LONGEST, Places, places
from mountcalc.drafting.names.choice import TEXTS_MEET, chosen, conflict
from mountcalc.drafting.names.ground import HARD, Ground
from mountcalc.drafting.names.text_boxes import text_boxes

__all__ = ["callouts", "text_boxes"]

_MOST, _MANY = 60, 1000  # places of a name to choose from; where these are too few
_LONGEST_ON_TEMPLATE = (
    0.120  # [m] that a leader may be long where the paper is as large as the thing
)
_TRIES = 12  # with leaders twice as long each time: far enough out there is room
_TRIES_TO_UNCROSS = 2

_Wish = tuple[tuple[Point, ...], str]


def callouts(
    wishes: Sequence[_Wish],
    items: Sequence[Item],
    reduction: float,
    room: Bounds | None = None,
) -> tuple[Leader, ...]:
    """Name parts of a drawing."""
    ground = Ground.of(items, reduction, room)
    asked = [(tuple((x / reduction, y / reduction) for x, y in at), text) for at, text in wishes]
    if not asked:
        return ()
    longest = LONGEST if room is None else _LONGEST_ON_TEMPLATE
    choices = [_places(wish, ground, longest, _MOST) for wish in asked]
    found = chosen(choices, ground)
    for number in range(_TRIES):
        costs = _in_the_way(found)
        if not (costs >= (HARD if number < _TRIES_TO_UNCROSS else TEXTS_MEET)).any():
            break
        # All places of these, then further ones.
        for one in np.flatnonzero(costs >= HARD):
            choices[one] = _places(asked[one], ground, longest * 2.0**number, _MANY)
        found = chosen(choices, ground)
    return tuple(
        _leader(line, *wish, reduction) for line, wish in zip(found.lines, wishes, strict=True)
    )


def _in_the_way(found: Places) -> NDArray[np.float64]:
    """What each costs for the others, and for what its leader should never run across."""
    pairs = conflict(found, found)
    np.fill_diagonal(pairs, 0.0)
    costs: NDArray[np.float64] = np.maximum(pairs, pairs.T).sum(axis=1) + found.costs
    return costs


def _places(wish: _Wish, ground: Ground, reach: float, most: int) -> Places:
    """Some places that are free: of leaders that are longer, if need be."""
    found = places(*wish, ground, reach, most)
    while not len(found):
        reach *= 2.0
        found = places(*wish, ground, reach, most)
    return found


def _leader(
    line: NDArray[np.float64], points: Sequence[Point], text: str, reduction: float
) -> Leader:
    """Back from paper, at the point that was asked for to the last bit."""
    x, y, end_x, end_y = (float(part) * reduction for part in line)
    return Leader(min(points, key=lambda at: math.dist(at, (x, y))), (end_x, end_y), text)
