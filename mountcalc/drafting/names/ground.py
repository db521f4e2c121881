"""What is drawn before names are placed, on paper, and what it costs to cover or to cross it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.extent import extremes
from mountcalc.drafting.geometry import mirrored
from mountcalc.drafting.model import Bounds, Ink, Item, Leader
from mountcalc.drafting.names.ink_map import InkMap
from mountcalc.drafting.names.straight_pieces import pieces
from mountcalc.drafting.names.text_boxes import text_boxes
from mountcalc.drafting.reductions import SMALLEST_ROOMS

__all__ = ["HARD", "Floats", "Ground", "mirrored_boxes"]

Floats = NDArray[np.float64]

HARD = 1000.0
"""What it costs that a leader runs across another, or across a text: more than all else."""

# All costs are relative to each other. What it costs to run across a line: thin, solid.
_ACROSS: Mapping[Ink, float] = {Ink.EDGE: 2.0, Ink.CENTRE: 2.0, Ink.DIMENSION: 6.0}
_ACROSS_SOLID = 60.0
# For a metre of line under a text: thin broken ones, those that a template is cut by, all others.
_UNDER: Mapping[Ink, float] = {
    Ink.EDGE: 3300.0,
    Ink.CENTRE: 3300.0,
    Ink.CUT: 66000.0,
    Ink.DRILL: 66000.0,
    Ink.POCKET: 66000.0,
}
_UNDER_SOLID = 16500.0
# For a metre by which a view grows, by which it grows out of the smallest sheet, and by which a
# text leaves the room that it is given.
_OUT, _OVER, _OUTSIDE = 1000.0, 200000.0, 2000.0
_ROOMS = np.array(SMALLEST_ROOMS)


@dataclass(frozen=True, slots=True)
class Ground:
    """What is there already.

    Attributes
    ----------
    room : ndarray of shape (4,) [m]
        On paper: left, bottom, right and top of what texts should not leave.
    is_given : bool
        Whether that is a room of its own; else it is what the view spans, which grows.
    boxes : ndarray of shape (k, 4) [m]
        Around its texts, and around where they stand in a mirrored copy.
    lines : ndarray of shape (m, 4) [m]
        Straight pieces of its lines.
    costs : ndarray of shape (m,) [-]
        What it costs to run across each.
    ink : InkMap
        The lines by what they cost under a text.
    """

    room: Floats
    is_given: bool
    boxes: Floats
    lines: Floats
    costs: Floats
    ink: InkMap

    @classmethod
    def of(cls, items: Sequence[Item], reduction: float, room: Bounds | None) -> Ground:
        """The ground of a drawing."""
        drawn = [pieces(item, reduction) / reduction for item in items]
        inks = [Ink.NOTE if isinstance(item, Leader) else item.ink for item in items]
        counts = [len(one) for one in drawn]
        costs = [
            HARD if isinstance(item, Leader) else _ACROSS.get(ink, _ACROSS_SOLID)
            for item, ink in zip(items, inks, strict=True)
        ]
        lines = np.concatenate([np.empty((0, 4)), *drawn])
        under = np.repeat([_UNDER.get(ink, _UNDER_SOLID) for ink in inks], counts)
        boxes = [*text_boxes(items, reduction), *mirrored_boxes(items, reduction)]
        return cls(
            room=np.array(_around(items, reduction) if room is None else room) / reduction,
            is_given=room is not None,
            boxes=np.array(boxes, dtype=float).reshape(-1, 4) / reduction,
            lines=lines,
            costs=np.repeat(np.array(costs, dtype=float), counts),
            ink=InkMap.of(lines, under),
        )

    def growth(self, others: Floats, boxes: Floats) -> Floats:
        """What it costs that texts make the drawing larger."""
        taken = np.concatenate([self.room[np.newaxis], others])
        low, high = taken[:, :2].min(axis=0), taken[:, 2:].max(axis=0)
        before = high - low
        after = np.maximum(boxes[:, 2:], high) - np.minimum(boxes[:, :2], low)
        grown = (after - before).sum(axis=1)
        over = 0.0 if self.is_given else _over(after) - _over(before[np.newaxis])
        costs: Floats = (_OUTSIDE if self.is_given else _OUT) * grown + _OVER * over
        return costs


def mirrored_boxes(items: Iterable[Item], reduction: float) -> tuple[Bounds, ...]:
    """Where texts stand in a mirrored copy, turned back: upright ones change sides."""
    over = text_boxes(map(mirrored, items), reduction)
    return tuple((-right, bottom, -left, top) for left, bottom, right, top in over)


def _around(items: Iterable[Item], reduction: float) -> Bounds:
    """What is drawn already; nothing is a point."""
    points = [point for item in items for point in extremes(item, reduction)]
    across, up = zip(*(points or [(0.0, 0.0)]), strict=True)
    return min(across), min(up), max(across), max(up)


def _over(sizes: Floats) -> Floats:
    """How far drawings reach past the smallest sheet, whichever way that lies [m]."""
    past = np.maximum(0.0, sizes[:, np.newaxis] - _ROOMS).sum(axis=2)
    least: Floats = past.min(axis=1)
    return least
