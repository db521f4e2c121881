"""Labels of a picture where nothing is drawn, with a leader where they cannot stand close.

The figure is drawn once; what is not white is ink. Every label has places around its anchor,
each with a cost: ink under it, distance, the side that is wanted, what its leader crosses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.transforms import Bbox
from numpy.typing import NDArray

from mountcalc.drafting.items import Point
from mountcalc.drafting.names.choice import (
    Floats,
    LineMap,
    Places,
    cheapest,
    chosen,
    overlapping,
    through,
)
from mountcalc.pages.plot_style import BLACK, FONT_SIZE, SOFT, agg_canvas, text_size

__all__ = ["Label", "Placer"]

_INCH = 0.0254
_POINTS = 72.0
_PAD = 1.8  # points that stay free around a label
_BESIDE = 2.5  # points more to either side: two labels in one line must not read as one
_DISTANCES = np.array([3, 6, 10, 15, 21, 28, 36, 46, 58, 72, 90, 112, 140, 175, 215.0])  # points
_WAYS = 32
_MOST = 60  # places of a label to choose from
_WHITE = 250
_SAMPLES = np.linspace(0.0, 1.0, 240)
_HARDLY = 1e-3  # of the way to its text: a label without a leader still points at its anchor
# Costs in points of distance: a label on ink, a leader through ink, a side that is not wanted,
# and what must not be.
_ON_INK = 900.0
_TOUCHES_INK = 160.0
_THROUGH_INK = 2.2
_WRONG_SIDE = 9.0
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
    colour: str = BLACK
    leader_from: float = 7.0


class Placer:
    """Places labels and other boxes in one figure, inside a frame [pixels]."""

    def __init__(self, figure: Figure, frame: Bbox) -> None:
        self.figure = figure
        self.frame = frame
        self.point = figure.dpi / _POINTS
        self.taken: list[Bbox] = []

    def anew(self) -> Placer:
        """The same with all that is taken, for the figure as it is now."""
        other = Placer(self.figure, self.frame)
        other.taken = self.taken
        return other

    @cached_property
    def ink(self) -> NDArray[np.bool_]:
        """Which pixels are not white, from the bottom up, when first asked."""
        canvas = agg_canvas(self.figure)
        canvas.draw()  # type: ignore[no-untyped-call]
        image = np.asarray(canvas.buffer_rgba())[::-1, :, :3]  # type: ignore[no-untyped-call]
        return np.asarray((image < _WHITE).any(axis=2))

    @cached_property
    def _map(self) -> LineMap:
        return LineMap.summed(np.zeros(2), self.ink.T.astype(float), 1.0)

    def reserve(self, width: float, height: float) -> Bbox | None:
        """A box of that size [pixels] without ink, as near to a corner as can be, or None."""
        margin, step = 6 * self.point, 4 * self.point
        lefts = np.arange(self.frame.x0 + margin, self.frame.x1 - margin - width, step)
        bottoms = np.arange(self.frame.y0 + margin, self.frame.y1 - margin - height, step)
        x, y = (grid.ravel() for grid in np.meshgrid(lefts, bottoms))
        boxes = np.stack([x, y, x + width, y + height], axis=-1)
        cost = np.minimum(x - x.min(initial=np.inf), x.max(initial=-np.inf) - x)
        cost += np.minimum(y - y.min(initial=np.inf), y.max(initial=-np.inf) - y)
        around = _padded(boxes, margin)
        taken = self._map.under(around) > 0
        taken |= overlapping(around, self._taken).any(axis=1)
        if taken.all():
            return None
        best = int(np.argmin(np.where(taken, np.inf, cost)))
        self.taken.append(Bbox.from_extents(*boxes[best].tolist()))
        return self.taken[-1]

    @property
    def _taken(self) -> Floats:
        return np.array([box.extents for box in self.taken], dtype=float).reshape(-1, 4)

    def place(self, labels: Sequence[Label]) -> None:
        """Place labels and draw them."""
        if not labels:
            return
        found = chosen([self._places(label) for label in labels])
        pixels = _INCH / self.figure.dpi
        for label, box in zip(labels, found.boxes / pixels, strict=True):
            self._draw(label, box + _BESIDE * self.point * np.array([1, 0, -1, 0]))

    def _places(self, label: Label) -> Places:
        """The cheapest places of a label, on paper."""
        size = np.array(text_size(self.figure, label.text))
        anchor = np.array(label.anchor)
        ways = 2 * np.pi * np.arange(_WAYS) / _WAYS
        around = np.stack([np.cos(ways), np.sin(ways)], axis=-1)
        distances = _DISTANCES[:, np.newaxis, np.newaxis] * self.point
        middles = (anchor + around * (distances + size / 2)).reshape(-1, 2)
        boxes = np.concatenate([middles - size / 2, middles + size / 2], axis=-1)
        nearest = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
        cost = self._cost(label, boxes, nearest)
        if label.way is not None:
            towards = np.arctan2(*(middles - anchor).T[::-1])
            cost += _WRONG_SIDE * (1 - np.cos(towards - label.way))
        length = np.hypot(*(nearest - anchor).T)
        is_led = (length > label.leader_from * self.point)[:, np.newaxis]
        ends = anchor + np.where(is_led, 1.0, _HARDLY) * (nearest - anchor)
        lines = np.concatenate([np.broadcast_to(anchor, ends.shape), ends], axis=1)
        wide = boxes + _BESIDE * self.point * np.array([-1, 0, 1, 0])
        pixel = _INCH / self.figure.dpi
        found = Places(lines * pixel, wide * pixel, cost)
        return found.where(cheapest(found, cost, _MOST))

    def _cost(self, label: Label, boxes: Floats, nearest: Floats) -> Floats:
        """What does not depend on the other labels."""
        padded = _padded(boxes, _PAD * self.point)
        sizes = (padded[:, 2] - padded[:, 0]) * (padded[:, 3] - padded[:, 1])
        ink = self._map.under(padded)
        anchor = np.array(label.anchor)
        cost = np.hypot(*(nearest - anchor).T) / self.point
        cost += _ON_INK * ink / sizes + _TOUCHES_INK * (ink > 0)
        cost += _THROUGH_INK * self._ink_along(anchor, nearest) / self.point
        outside = (padded[:, :2] < self.frame.min).any(1) | (padded[:, 2:] > self.frame.max).any(1)
        leaders = np.concatenate([np.broadcast_to(anchor, nearest.shape), nearest], axis=1)
        hits = overlapping(padded, self._taken) | through(leaders, self._taken)
        costs: Floats = cost + _FORBIDDEN * (10 * outside + hits.sum(axis=1))
        return costs

    def _ink_along(self, anchor: Floats, ends: Floats) -> Floats:
        """Pixels of ink on the way from an anchor to each end, but for the anchor's own."""
        steps = ends - anchor
        length = np.hypot(*steps.T)
        points = anchor + _SAMPLES[:, np.newaxis, np.newaxis] * steps
        columns, lines = np.moveaxis(points, -1, 0).astype(int)
        height, width = self.ink.shape
        ink = self.ink[np.clip(lines, 0, height - 1), np.clip(columns, 0, width - 1)]
        far = _SAMPLES[:, np.newaxis] * length > 4 * self.point
        return np.asarray((ink & far).mean(axis=0) * length)

    def _draw(self, label: Label, box: Floats) -> None:
        width, height = self.figure.bbox.width, self.figure.bbox.height
        self.figure.text(
            (box[0] + box[2]) / 2 / width, (box[1] + box[3]) / 2 / height, label.text,
            fontsize=FONT_SIZE, color=label.colour, ha="center", va="center", parse_math=False,
            zorder=10, gid="label",
        )  # fmt: skip
        self.taken.append(Bbox.from_extents(*box.tolist()))
        start = label.anchor
        end = np.clip(start, box[:2], box[2:])
        if math.dist(start, end) <= label.leader_from * self.point:
            return
        self.figure.add_artist(
            Line2D(
                [start[0] / width, end[0] / width], [start[1] / height, end[1] / height],
                transform=self.figure.transFigure, color=SOFT, linewidth=0.6, marker="o",
                markersize=2.0, markevery=[0], gid="leader",
            )
        )  # fmt: skip


def _padded(boxes: Floats, by: float) -> Floats:
    return boxes + by * np.array([-1.0, -1.0, 1.0, 1.0])
