"""Break lines: thin straight lines with zigzags (ISO 128-2, from memory)."""

from __future__ import annotations

import math

from mountcalc.drafting.geometry import along
from mountcalc.drafting.model import Ink, Path, Point

__all__ = ["zigzag"]

_HALF_HEIGHT = 0.0015  # [m] on paper, of a zigzag to either side of its line
_HALF_WIDTH = 0.001  # [m] on paper, along the line
_MOST = 0.25  # of the line's length that one zigzag may take


def zigzag(start: Point, end: Point, reduction: float, *, count: int) -> Path:
    """A break line."""
    length = math.dist(start, end)
    direction = math.atan2(end[1] - start[1], end[0] - start[0])
    size = min(reduction, 0.5 * _MOST * length / count / _HALF_WIDTH)
    points = [start]
    for number in range(count):
        middle = length * (number + 0.5) / count
        for share, side in ((-1.0, 0.0), (-0.5, 1.0), (0.5, -1.0), (1.0, 0.0)):
            at = middle + share * _HALF_WIDTH * size
            points.append(along(start, direction, at, side * _HALF_HEIGHT * size))
    return Path((*points, end), closed=False, ink=Ink.NOTE)
