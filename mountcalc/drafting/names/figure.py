"""Labels of a picture where nothing is drawn, with a leader where they cannot stand close.

The figure is drawn once; what is not white is ink. Every label has places around its anchor,
each with a cost: ink under it, distance, the side that is wanted, what its leader crosses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
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
from mountcalc.record import Record

_INCH = 0.0254
_POINTS = 72.0
_PAD = 1.8  # points that stay free around a label
_OUTWARDS = np.array([-1.0, -1.0, 1.0, 1.0])
# Points more to either side: two labels in one line must not read as one.
_BESIDE = 2.5 * np.array([-1.0, 0.0, 1.0, 0.0])
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


class Label(Record):
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

    def __init__(self, figure: Figure, frame: Bbox, taken: Sequence[Bbox] = ()) -> None:
        self.figure = figure
        self.frame = frame
        self.point = figure.dpi / _POINTS
        self.taken = [*taken]

    @cached_property
    def ink(self) -> NDArray[np.bool_]:
        """Which pixels are not white, from the bottom up, when first asked."""
        canvas = agg_canvas(self.figure)
        canvas.draw()  # type: ignore[no-untyped-call]
        image = np.asarray(canvas.buffer_rgba())[::-1, :, :3]  # type: ignore[no-untyped-call]
        return np.asarray((image < _WHITE).any(axis=2))

    @cached_property
    def _map(self) -> LineMap:
        return LineMap(np.zeros(2), self.ink.T.astype(float), 1.0)

    @property
    def _taken(self) -> Floats:
        return np.array([box.extents for box in self.taken], dtype=float).reshape(-1, 4)

    def reserve(self, width: float, height: float) -> Bbox | None:
        """A box of that size [pixels] without ink, as near to a corner as can be, or None."""
        margin, step = 6 * self.point, 4 * self.point
        lefts = np.arange(self.frame.x0 + margin, self.frame.x1 - margin - width, step)
        bottoms = np.arange(self.frame.y0 + margin, self.frame.y1 - margin - height, step)
        x, y = (grid.ravel() for grid in np.meshgrid(lefts, bottoms))
        boxes = np.stack([x, y, x + width, y + height], axis=-1)
        around = boxes + margin * _OUTWARDS
        free = ~overlapping(around, self._taken).any(axis=1) & (self._map.under(around) == 0)
        if not free.any():
            return None
        cost = sum(np.minimum(one - one.min(), one.max() - one) for one in (x, y))
        best = int(np.argmin(np.where(free, cost, np.inf)))
        self.taken.append(Bbox.from_extents(*boxes[best].tolist()))
        return self.taken[-1]

    def place(self, labels: Sequence[Label]) -> None:
        """Place labels and draw them."""
        if not labels:
            return
        found = chosen([self._places(label) for label in labels])
        pixels = _INCH / self.figure.dpi
        for label, box in zip(labels, found.boxes / pixels, strict=True):
            self._draw(label, box - self.point * _BESIDE)

    def _places(self, label: Label) -> Places:
        """The cheapest places of a label, on paper: what they cost but for the other labels."""
        size = np.array(text_size(self.figure, label.text))
        anchor = np.array(label.anchor)
        ways = 2 * np.pi * np.arange(_WAYS) / _WAYS
        around = np.stack([np.cos(ways), np.sin(ways)], axis=-1)
        distances = _DISTANCES[:, np.newaxis, np.newaxis] * self.point
        middles = (anchor + around * (distances + size / 2)).reshape(-1, 2)
        boxes = np.concatenate([middles - size / 2, middles + size / 2], axis=-1)
        nearest = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
        length = np.hypot(*(nearest - anchor).T)
        padded = boxes + _PAD * self.point * _OUTWARDS
        leaders = np.concatenate([np.broadcast_to(anchor, nearest.shape), nearest], axis=1)
        ink = self._map.under(padded)
        outside = (padded[:, :2] < self.frame.min).any(1) | (padded[:, 2:] > self.frame.max).any(1)
        hits = overlapping(padded, self._taken) | through(leaders, self._taken)
        cost = length / self.point + _TOUCHES_INK * (ink > 0)
        cost += _ON_INK * ink / np.prod(padded[:, 2:] - padded[:, :2], axis=1)
        cost += _THROUGH_INK * self._ink_along(anchor, nearest) / self.point
        cost += _FORBIDDEN * (10 * outside + hits.sum(axis=1))
        if label.way is not None:
            towards = np.arctan2(*(middles - anchor).T[::-1])
            cost += _WRONG_SIDE * (1 - np.cos(towards - label.way))
        is_led = (length > label.leader_from * self.point)[:, np.newaxis]
        leaders[:, 2:] = anchor + np.where(is_led, 1.0, _HARDLY) * (nearest - anchor)
        pixel = _INCH / self.figure.dpi
        found = Places(leaders * pixel, (boxes + self.point * _BESIDE) * pixel, cost)
        return found.where(cheapest(found, cost, _MOST))

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
            zorder=10, gid="label", bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0},
        )  # fmt: skip
        self.taken.append(Bbox.from_extents(*box.tolist()))
        start = label.anchor
        end = np.clip(start, box[:2], box[2:])
        if math.dist(start, end) > label.leader_from * self.point:
            self.figure.add_artist(
                Line2D(
                    [start[0] / width, end[0] / width], [start[1] / height, end[1] / height],
                    transform=self.figure.transFigure, color=SOFT, linewidth=0.6, marker="o",
                    markersize=2.0, markevery=[0], gid="leader",
                )
            )  # fmt: skip
