"""Put labels where nothing is drawn, with a leader where they cannot stand close.

The figure is drawn once; what is not white is ink. Every label then has places around its
anchor, each with a cost: ink under it, distance, the side that is wanted, what its leader
crosses. Labels choose one after the other, then again knowing where all others stand; of a few
orders of choosing the best is kept.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.transforms import Bbox
from numpy.typing import NDArray

from mountcalc.pages.plot_style import FONT_SIZE, INK, SOFT, agg_canvas, text_size

__all__ = ["Label", "Placer"]

Array = NDArray[np.float64]
Point = tuple[float, float]

_POINTS = 72.0
_PAD = 1.8  # points that stay free around a label
_DISTANCES = np.array([3, 6, 10, 15, 21, 28, 36, 46, 58, 72, 90, 112, 140, 175, 215.0])  # points
_WAYS = 32
_APART = np.array([14.0, 4.0, 14.0, 4.0])  # pixels between two labels: words need more room
_WHITE = 250
_SWEEPS = 3
_STRAY = 5.0  # points from another anchor within which a leader seems to mean that one
_SAMPLES = np.linspace(0.0, 1.0, 240)
# Costs in points of distance: a label on ink, a leader through ink, a side that is not wanted,
# two leaders that cross, and what must not be.
_ON_INK = 900.0
_TOUCHES_INK = 160.0
_THROUGH_INK = 2.2
_WRONG_SIDE = 9.0
_CROSSING = 60.0
_FORBIDDEN = 1e6


@dataclass(frozen=True, slots=True)
class Label:
    """A text for a point of the figure [pixels].

    ``way`` [rad] is the side it had best stand on; a leader is drawn from ``leader_from``
    points between anchor and text on.
    """

    text: str
    anchor: Point
    way: float | None = None
    colour: str = INK
    leader_from: float = 7.0


@dataclass(frozen=True)
class _Places:
    """All places of one label: boxes (K, 4) as x0, y0, x1, y1 [pixels], leaders and costs."""

    label: Label
    boxes: Array
    leader_ends: Array
    cost: Array


class Placer:
    """Places labels and other boxes in one figure, inside a frame [pixels]."""

    def __init__(self, figure: Figure, frame: Bbox) -> None:
        self.figure = figure
        self.frame = frame
        self.point = figure.dpi / _POINTS
        self.taken: list[Bbox] = []

    @cached_property
    def ink(self) -> NDArray[np.bool_]:
        """Which pixels are not white, from the bottom up, when first asked."""
        canvas = agg_canvas(self.figure)
        canvas.draw()  # type: ignore[no-untyped-call]
        image = np.asarray(canvas.buffer_rgba())[::-1, :, :3]  # type: ignore[no-untyped-call]
        return np.asarray((image < _WHITE).any(axis=2))

    @cached_property
    def _sums(self) -> NDArray[np.int64]:
        """Ink in each rectangle from the lower left corner."""
        return np.pad(self.ink.cumsum(axis=0, dtype=np.int64).cumsum(axis=1), ((1, 0), (1, 0)))

    def reserve(self, width: float, height: float) -> Bbox | None:
        """A box of that size [pixels] without ink, as near to a corner as can be, or None."""
        margin, step = 6 * self.point, 4 * self.point
        lefts = np.arange(self.frame.x0 + margin, self.frame.x1 - margin - width, step)
        bottoms = np.arange(self.frame.y0 + margin, self.frame.y1 - margin - height, step)
        x, y = (grid.ravel() for grid in np.meshgrid(lefts, bottoms))
        boxes = np.stack([x, y, x + width, y + height], axis=-1)
        cost = np.minimum(x - x.min(initial=np.inf), x.max(initial=-np.inf) - x)
        cost += np.minimum(y - y.min(initial=np.inf), y.max(initial=-np.inf) - y)
        cost += _FORBIDDEN * (self._ink_in(_padded(boxes, margin)) > 0)
        for box in self.taken:
            cost += _FORBIDDEN * _overlaps(boxes, _padded(np.array(box.extents), margin))
        if cost.size == 0 or cost.min() >= _FORBIDDEN:
            return None
        found = Bbox.from_extents(*boxes[int(np.argmin(cost))].tolist())
        self.taken.append(found)
        return found

    def place(self, labels: Sequence[Label]) -> None:
        """Place labels and draw them."""
        anchors = [label.anchor for label in labels]
        alone = [self._places(label) for label in labels]
        places = [
            replace(own, cost=own.cost + _strays(own, anchors, _STRAY * self.point))
            for own in alone
        ]
        # Who chooses first decides much; those that find no cheap place have a claim to.
        hardest = sorted(range(len(places)), key=lambda index: -float(places[index].cost.min()))
        orders = (list(range(len(places))), hardest, hardest[::-1])
        arrangements = [_arrange(places, order) for order in orders]
        best = min(arrangements, key=lambda picks: _total(places, picks))
        for own, pick in zip(places, best, strict=True):
            self._draw(own, pick)

    def _places(self, label: Label) -> _Places:
        size = np.array(text_size(self.figure, label.text))
        anchor = np.array(label.anchor)
        ways = 2 * np.pi * np.arange(_WAYS) / _WAYS
        around = np.stack([np.cos(ways), np.sin(ways)], axis=-1)
        distances = _DISTANCES[:, np.newaxis, np.newaxis] * self.point
        middles = (anchor + around * (distances + size / 2)).reshape(-1, 2)
        boxes = np.concatenate([middles - size / 2, middles + size / 2], axis=-1)
        nearest = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
        length = np.hypot(*(nearest - anchor).T)
        leaders = (length > label.leader_from * self.point)[:, np.newaxis]
        cost = length / self.point + self._cost(label, boxes, nearest)
        if label.way is not None:
            towards = np.arctan2(*(middles - anchor).T[::-1])
            cost += _WRONG_SIDE * (1 - np.cos(towards - label.way))
        return _Places(label, boxes, np.where(leaders, nearest, anchor), cost)

    def _cost(self, label: Label, boxes: Array, nearest: Array) -> Array:
        """What does not depend on the other labels."""
        padded = _padded(boxes, _PAD * self.point)
        sizes = (padded[:, 2] - padded[:, 0]) * (padded[:, 3] - padded[:, 1])
        ink = self._ink_in(padded)
        cost = _ON_INK * ink / sizes + _TOUCHES_INK * (ink > 0)
        cost += _THROUGH_INK * self._ink_along(np.array(label.anchor), nearest) / self.point
        outside = (padded[:, :2] < self.frame.min).any(1) | (padded[:, 2:] > self.frame.max).any(1)
        cost += 10 * _FORBIDDEN * outside
        for box in self.taken:
            extents = np.array(box.extents)
            hit = _overlaps(padded, extents) | _passes(np.array(label.anchor), nearest, extents)
            cost += _FORBIDDEN * hit
        return cost

    def _ink_in(self, boxes: Array) -> Array:
        limits = np.array([*self.ink.shape[::-1], *self.ink.shape[::-1]])
        x0, y0, x1, y1 = np.clip(np.round(boxes).astype(int), 0, limits).T
        sums = self._sums
        ink = sums[y1, x1] - sums[y0, x1] - sums[y1, x0] + sums[y0, x0]
        return np.asarray(ink, dtype=float)

    def _ink_along(self, anchor: Array, ends: Array) -> Array:
        """Pixels of ink on the way from an anchor to each end, but for the anchor's own."""
        steps = ends - anchor
        length = np.hypot(*steps.T)
        points = anchor + _SAMPLES[:, np.newaxis, np.newaxis] * steps
        columns, lines = np.moveaxis(points, -1, 0).astype(int)
        height, width = self.ink.shape
        ink = self.ink[np.clip(lines, 0, height - 1), np.clip(columns, 0, width - 1)]
        far = _SAMPLES[:, np.newaxis] * length > 4 * self.point
        return np.asarray((ink & far).mean(axis=0) * length)

    def _draw(self, own: _Places, pick: int) -> None:
        box, label = own.boxes[pick], own.label
        width, height = self.figure.bbox.width, self.figure.bbox.height
        self.figure.text(
            (box[0] + box[2]) / 2 / width,
            (box[1] + box[3]) / 2 / height,
            label.text,
            fontsize=FONT_SIZE,
            color=label.colour,
            ha="center",
            va="center",
            parse_math=False,
            zorder=10,
            gid="label",
        )
        self.taken.append(Bbox.from_extents(*box.tolist()))
        end = own.leader_ends[pick]
        if math.dist(end, label.anchor) > 0:
            self._leader(label.anchor, (float(end[0]), float(end[1])))

    def _leader(self, start: Point, end: Point) -> None:
        width, height = self.figure.bbox.width, self.figure.bbox.height
        self.figure.add_artist(
            Line2D(
                [start[0] / width, end[0] / width],
                [start[1] / height, end[1] / height],
                transform=self.figure.transFigure,
                color=SOFT,
                linewidth=0.6,
                marker="o",
                markersize=2.0,
                markevery=[0],
                gid="leader",
            )
        )


def _arrange(places: Sequence[_Places], order: Sequence[int]) -> list[int]:
    """Which place each label takes if they choose in this order, and then again."""
    picks: dict[int, int] = {}
    for _ in range(_SWEEPS):
        before = dict(picks)
        for index in order:
            others = [(places[k], pick) for k, pick in picks.items() if k != index]
            cost = places[index].cost.copy()
            for other, pick in others:
                cost += _conflict(places[index], other, pick)
            picks[index] = int(np.argmin(cost))
        if picks == before:
            break
    return [picks[index] for index in range(len(places))]


def _strays(own: _Places, anchors: Sequence[Point], near: float) -> Array:
    """Cost of leaders that pass so near [pixels] to another label's anchor."""
    cost = np.zeros_like(own.cost)
    start = np.array(own.label.anchor)
    for anchor in anchors:
        if math.dist(anchor, own.label.anchor) > near:
            point = np.array(anchor)
            around = np.concatenate([point - near, point + near])
            cost += _CROSSING * _passes(start, own.leader_ends, around)
    return cost


def _total(places: Sequence[_Places], picks: Sequence[int]) -> float:
    """Cost of an arrangement: of each place, and of each pair."""
    total = 0.0
    for index, (own, pick) in enumerate(zip(places, picks, strict=True)):
        total += float(own.cost[pick])
        for other, taken in zip(places[:index], picks[:index], strict=True):
            total += float(_conflict(own, other, taken)[pick])
    return total


def _conflict(own: _Places, other: _Places, pick: int) -> Array:
    """Cost of each of a label's places against where another stands."""
    box, end = other.boxes[pick], other.leader_ends[pick]
    anchor, other_anchor = np.array(own.label.anchor), np.array(other.label.anchor)
    hit = _overlaps(own.boxes + _APART * np.array([-1.0, -1.0, 1.0, 1.0]), box)
    hit |= _passes(anchor, own.leader_ends, _padded(box, 3.0))
    hit |= _passes(other_anchor, end, _padded(own.boxes, 3.0))
    crossing = _cross(anchor, own.leader_ends, other_anchor, end)
    return _FORBIDDEN * hit + _CROSSING * crossing


def _padded(boxes: Array, by: float) -> Array:
    return boxes + by * np.array([-1.0, -1.0, 1.0, 1.0])


def _overlaps(boxes: Array, box: Array) -> NDArray[np.bool_]:
    return np.asarray(
        (boxes[..., 0] < box[2])
        & (boxes[..., 2] > box[0])
        & (boxes[..., 1] < box[3])
        & (boxes[..., 3] > box[1])
    )


def _passes(starts: Array, ends: Array, boxes: Array) -> NDArray[np.bool_]:
    """Whether segments pass through boxes (all broadcast)."""
    steps = ends - starts
    steps = np.where(np.abs(steps) < 1e-9, 1e-9, steps)  # noqa: PLR2004 (a pixel's billionth)
    first, last = (boxes[..., :2] - starts) / steps, (boxes[..., 2:] - starts) / steps
    enters = np.minimum(first, last).max(axis=-1)
    leaves = np.maximum(first, last).min(axis=-1)
    return np.asarray((enters < leaves) & (leaves > 0) & (enters < 1))


def _cross(start: Array, ends: Array, other_start: Array, other_end: Array) -> NDArray[np.bool_]:
    """Whether segments cross another one."""

    def side(a: Array, b: Array, c: Array) -> Array:
        return np.asarray(
            (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1])
            - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
        )

    return np.asarray(
        (side(start, ends, other_start) * side(start, ends, other_end) < 0)
        & (side(other_start, other_end, start) * side(other_start, other_end, ends) < 0)
    )
