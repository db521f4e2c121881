"""All places that a name may take, with what each costs whatever the other names do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.annotations import leader_label
from mountcalc.drafting.extent import extremes
from mountcalc.drafting.model import TEXT_HEIGHT, Leader, Point
from mountcalc.drafting.names.ground import HARD, Floats, Ground
from mountcalc.drafting.names.straight_pieces import crossing, through

__all__ = ["AIR", "LONGEST", "Places", "grown", "joined", "places"]

AIR = 0.3 * TEXT_HEIGHT
"""Around a text [m on paper], in which no other stands."""

LONGEST = 0.044
"""How long a leader may be [m on paper] wherever that leaves a free place."""

_NEAREST, _GROWS = 0.006, 1.16  # [m] on paper from a part to its name, and from ring to ring
_DIRECTIONS = 36
_SAME_PLACE = 0.003  # [m] on paper within which only the cheapest place of a text is kept
_CLOSELY = 4  # times as many places are looked at for what their leaders cross
_AT_TIP = 0.001  # [m] on paper from its tip, where a leader may meet lines
_SHALLOW = 0.25  # sine of the angle below which a crossing is no harder to follow
# What a metre of leader costs, and what it costs besides beyond the length that is easy to follow.
_PER_LENGTH, _PER_LONG, _EASY = 400.0, 1200.0, 0.015


@dataclass(frozen=True, slots=True)
class Places:
    """Places of one name on paper, the cheapest first.

    Attributes
    ----------
    lines : ndarray of shape (n, 4) [m]
        The leaders: from the part to the text.
    boxes : ndarray of shape (n, 4) [m]
        Left, bottom, right and top of the text.
    costs : ndarray of shape (n,) [-]
        Of what is there already.
    """

    lines: Floats
    boxes: Floats
    costs: Floats

    def __len__(self) -> int:
        return len(self.costs)

    def where(self, chosen: NDArray[np.int_]) -> Places:
        """Some of them."""
        return Places(self.lines[chosen], self.boxes[chosen], self.costs[chosen])


def joined(several: Sequence[Places]) -> Places:
    """Places of several names, one after the other."""
    return Places(
        np.concatenate([one.lines for one in several]),
        np.concatenate([one.boxes for one in several]),
        np.concatenate([one.costs for one in several]),
    )


def grown(boxes: Floats) -> Floats:
    """Texts with their air."""
    return boxes + AIR * np.array([-1.0, -1.0, 1.0, 1.0])


def places(at: Sequence[Point], text: str, ground: Ground, reach: float, most: int) -> Places:
    """Places for a name that meet no text of the ground."""
    found = _free(_all_round(np.array(at), text, reach), ground)
    costs = _of_length(found.lines) + ground.ink.under(grown(found.boxes))
    growth = ground.growth(np.empty((0, 4)), found.boxes)
    near = _apart(found, costs + growth, _CLOSELY * most)
    costs[near] += _crossings(found.lines[near], ground)
    found = Places(found.lines[near], found.boxes[near], costs[near])
    return found.where(_apart(found, found.costs + growth[near], most))


def _apart(found: Places, costs: Floats, most: int) -> NDArray[np.int_]:
    """Which are the cheapest, but of texts that stand nearly in one place only the first."""
    order = np.argsort(costs, kind="stable")
    cells = np.round(found.boxes[order, :2] / _SAME_PLACE).astype(int)
    _, first = np.unique(cells, axis=0, return_index=True)
    return order[np.sort(first)[:most]]


def _all_round(at: Floats, text: str, reach: float) -> Places:
    """Leaders of every length in every direction; none is upright, so that it can be mirrored."""
    count = 1 + max(1, round(np.log(reach / _NEAREST) / np.log(_GROWS)))
    radii = np.geomspace(_NEAREST, reach, count)
    turns = (np.arange(_DIRECTIONS) + 0.5) * 2.0 * np.pi / _DIRECTIONS
    ways = np.column_stack([np.cos(turns), np.sin(turns)])
    ends = at[:, np.newaxis, np.newaxis] + radii[:, np.newaxis, np.newaxis] * ways
    tips = np.broadcast_to(at[:, np.newaxis, np.newaxis], ends.shape)
    lines = np.concatenate([tips, ends], axis=-1).reshape(-1, 4)
    beside = np.array([_beside(text, way) for way in (-1.0, 1.0)])
    is_right = (lines[:, 2] >= lines[:, 0]).astype(int)
    boxes = np.tile(lines[:, 2:], 2) + beside[is_right]
    return Places(lines, boxes, np.zeros(len(lines)))


def _beside(text: str, way: float) -> tuple[float, float, float, float]:
    """The text's rectangle about the end of a leader that comes from its other side."""
    label = leader_label(Leader((-way, 0.0), (0.0, 0.0), text), 1.0)
    across, up = zip(*extremes(label, 1.0), strict=True)
    return min(across), min(up), max(across), max(up)


def _free(found: Places, ground: Ground) -> Places:
    left, bottom, right, top = grown(found.boxes).T[:, :, np.newaxis]
    others = ground.boxes.T[:, np.newaxis, :]
    meets = (left < others[2]) & (others[0] < right) & (bottom < others[3]) & (others[1] < top)
    return found.where(np.flatnonzero(~meets.any(axis=1)))


def _of_length(lines: Floats) -> Floats:
    lengths = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
    return _PER_LENGTH * lengths + _PER_LONG * np.maximum(0.0, lengths - _EASY)


def _crossings(lines: Floats, ground: Ground) -> Floats:
    """What it costs that leaders run across lines and texts: the more, the less steeply."""
    ways = lines[:, 2:] - lines[:, :2]
    share = np.minimum(1.0, _AT_TIP / np.hypot(ways[:, 0], ways[:, 1]))[:, np.newaxis]
    past = np.column_stack([lines[:, :2] + share * ways, lines[:, 2:]])
    sines = crossing(past, ground.lines)
    weights = np.divide(1.0, np.maximum(sines, _SHALLOW), out=np.zeros_like(sines), where=sines > 0)
    texts = through(lines, grown(ground.boxes)).sum(axis=1)
    across: Floats = weights @ ground.costs + HARD * texts
    return across
