"""What stands on paper already, so that a text can be put where it meets little of it."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.geometry import along, sweep
from mountcalc.drafting.model import Align, Arc, Bounds, Circle, Label, Line, Path, Point
from mountcalc.drafting.paper.strokes import Stroke
from mountcalc.drafting.paper.type import printed, text_width

__all__ = ["Taken", "taken", "text_box", "within"]

_BEFORE: Mapping[Align, float] = {"left": 0.0, "centre": 0.5, "right": 1.0}
_HANGING = 0.3  # of the height of a capital: what hangs below the base line
_ARC_STEP = 0.001  # [m] between the points by which a bend is seen
_ROUNDING = 1e-9  # [m]


@dataclasses.dataclass(frozen=True, slots=True)
class Taken:
    """Straight pieces of lines and boxes of texts.

    Attributes
    ----------
    lines : ndarray [m]
        A row for each: x and y of its start, x and y of its end.
    texts : ndarray [m]
        A row for each: left, bottom, right, top.
    """

    lines: NDArray[np.float64]
    texts: NDArray[np.float64]

    def met_by(self, box: Bounds) -> tuple[int, int]:
        """How much a text in a place would meet."""
        texts = _overlap(self.texts, box)
        start, end = self.lines[:, :2], self.lines[:, 2:]
        near = _overlap(np.hstack([np.minimum(start, end), np.maximum(start, end)]), box)
        return int(np.count_nonzero(texts)), int(np.count_nonzero(near & _astride(self.lines, box)))


def _overlap(boxes: NDArray[np.float64], box: Bounds) -> NDArray[np.bool_]:
    left, bottom, right, top = boxes.T
    overlap: NDArray[np.bool_] = (
        (left <= box[2]) & (right >= box[0]) & (bottom <= box[3]) & (top >= box[1])
    )
    return overlap


def _astride(lines: NDArray[np.float64], box: Bounds) -> NDArray[np.bool_]:
    """Whether corners of the box lie on both sides of each line drawn on and on."""
    x, y = lines[:, :1], lines[:, 1:2]
    across, up = lines[:, 2:3] - x, lines[:, 3:] - y
    corners_x, corners_y = np.array([(h, v) for h in (box[0], box[2]) for v in (box[1], box[3])]).T
    side = across * (corners_y - y) - up * (corners_x - x)
    astride: NDArray[np.bool_] = (side.min(axis=1) <= 0) & (side.max(axis=1) >= 0)
    return astride


def taken(strokes: Iterable[Stroke]) -> Taken:
    """What strokes take of the paper."""
    lines: list[tuple[float, float, float, float]] = []
    texts: list[Bounds] = []
    for stroke in strokes:
        if isinstance(stroke, Label):
            texts.append(text_box(stroke))
        else:
            points = list(_points(stroke))
            lines.extend((*start, *end) for start, end in pairwise(points))
    return Taken(np.array(lines).reshape(-1, 4), np.array(texts).reshape(-1, 4))


def _points(stroke: Line | Arc | Circle | Path) -> Iterator[Point]:
    match stroke:
        case Line():
            yield stroke.start
            yield stroke.end
        case Path():
            yield from stroke.points
            if stroke.closed:
                yield stroke.points[0]
        case Circle():
            yield from _bend(stroke.centre, stroke.radius, 0.0, math.tau)
        case Arc():
            yield from _bend(stroke.centre, stroke.radius, stroke.start, sweep(stroke))


def _bend(centre: Point, radius: float, start: float, turn: float) -> Iterator[Point]:
    count = max(8, math.ceil(radius * turn / _ARC_STEP))
    return (along(centre, start + turn * step / count, radius) for step in range(count + 1))


def text_box(label: Label, air: float = 0.0) -> Bounds:
    """Where a text stands on paper, measured in the font."""
    width = text_width(printed(label.text), label.height)
    before = _BEFORE[label.align] * width
    corners = [
        along(label.at, label.angle, distance, left)
        for distance in (-before, width - before)
        for left in (-_HANGING * label.height, label.height)
    ]
    across, up = zip(*corners, strict=True)
    return min(across) - air, min(up) - air, max(across) + air, max(up) + air


def within(box: Bounds, window: Bounds) -> bool:
    """Whether a box lies in a window."""
    return (
        box[0] >= window[0] - _ROUNDING
        and box[1] >= window[1] - _ROUNDING
        and box[2] <= window[2] + _ROUNDING
        and box[3] <= window[3] + _ROUNDING
    )
