"""Lines as straight pieces: which cross, which run through a text, how much lies under one."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.annotations import lines_of
from mountcalc.drafting.items import Arc, Circle, Item, Line, Path, sweep

__all__ = ["Floats", "LineMap", "apart", "chords", "crossing", "overlapping", "pieces", "through"]

_SAGITTA = 0.0001  # [m] on paper by which a chord may leave its circle
_CELL = 0.0005  # [m] on paper, where that makes no more cells, and cuts lines into no more parts,
_MOST = 4_000_000  # than this: the map of a huge sheet is coarser, not larger

Floats = NDArray[np.float64]


def pieces(item: Item, scale: float) -> Floats:
    """Straight pieces of an item's lines, a row for each: x and y of its start, of its end."""
    return np.concatenate(
        [np.empty((0, 4)), *(chords(one, scale) for one in lines_of(item, scale))]
    )


def chords(line: Line | Arc | Circle | Path, scale: float) -> Floats:
    """Straight pieces of a line."""
    match line:
        case Line():
            run = np.array([line.start, line.end])
        case Path():
            run = np.array([*line.points, *(line.points[:1] if line.closed else ())])
        case Circle() | Arc():
            start, turn = (line.start, sweep(line)) if isinstance(line, Arc) else (0.0, math.tau)
            share = min(0.5, _SAGITTA * scale / line.radius)
            count = max(2, math.ceil(turn / (2.0 * math.acos(1.0 - share))))
            angles = np.linspace(start, start + turn, count + 1)
            run = line.centre + line.radius * np.column_stack([np.cos(angles), np.sin(angles)])
    return np.column_stack([run[:-1], run[1:]])


def crossing(ones: Floats, others: Floats) -> Floats:
    """Which pieces cross which, and how steeply: the sine of the angle between them, else 0."""
    x, y, end_x, end_y = ones.T[:, :, np.newaxis]
    other_x, other_y, other_end_x, other_end_y = others.T[:, np.newaxis, :]
    way_x, way_y = end_x - x, end_y - y
    other_way_x, other_way_y = other_end_x - other_x, other_end_y - other_y
    across = way_x * other_way_y - way_y * other_way_x
    apart_x, apart_y = other_x - x, other_y - y
    # The crossing lies at these shares of both ways, times ``across``.
    share = (apart_x * other_way_y - apart_y * other_way_x) * np.sign(across)
    other_share = (apart_x * way_y - apart_y * way_x) * np.sign(across)
    size = np.abs(across)
    is_met = (share > 0) & (share < size) & (other_share > 0) & (other_share < size)
    lengths = np.hypot(way_x, way_y) * np.hypot(other_way_x, other_way_y)
    sines: Floats = np.divide(size, lengths, out=np.zeros_like(size), where=is_met)
    return sines


def apart(points: Floats, lines: Floats) -> Floats:
    """How far points are from straight pieces."""
    x, y = points.T[:, :, np.newaxis]
    start_x, start_y, end_x, end_y = lines.T[:, np.newaxis, :]
    way_x, way_y = end_x - start_x, end_y - start_y
    square = np.maximum(way_x**2 + way_y**2, np.finfo(float).tiny)
    share = np.clip(((x - start_x) * way_x + (y - start_y) * way_y) / square, 0.0, 1.0)
    distance: Floats = np.hypot(start_x + share * way_x - x, start_y + share * way_y - y)
    return distance


def through(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """Which straight pieces run through which upright rectangles."""
    left, bottom, right, top = boxes.T[:, np.newaxis, :]
    x, y, end_x, end_y = lines.T[:, :, np.newaxis]
    spans = (
        (np.minimum(x, end_x) < right) & (np.maximum(x, end_x) > left),
        (np.minimum(y, end_y) < top) & (np.maximum(y, end_y) > bottom),
    )
    # The line passes the middle by less than the rectangle reaches square to it.
    way_x, way_y = end_x - x, end_y - y
    off = way_x * (0.5 * (bottom + top) - y) - way_y * (0.5 * (left + right) - x)
    reach = np.abs(way_x) * 0.5 * (top - bottom) + np.abs(way_y) * 0.5 * (right - left)
    met: NDArray[np.bool_] = spans[0] & spans[1] & (np.abs(off) < reach)
    return met


def overlapping(ones: Floats, others: Floats) -> NDArray[np.bool_]:
    """Which upright rectangles overlap which."""
    left, bottom, right, top = ones.T[:, :, np.newaxis]
    other = others.T[:, np.newaxis, :]
    met: NDArray[np.bool_] = (
        (left < other[2]) & (other[0] < right) & (bottom < other[3]) & (other[1] < top)
    )
    return met


@dataclass(frozen=True, slots=True)
class LineMap:
    """How much line lies in any rectangle, looked up at once for many.

    ``sums[i, j]`` is the weighed length of line left of and below a corner of cells of a size
    ``cell`` [m] that begin at ``corner`` [m].
    """

    corner: Floats
    sums: Floats
    cell: float = _CELL

    @classmethod
    def of(cls, lines: Floats, weights: Floats) -> LineMap:
        """Map of straight pieces."""
        if not len(lines):
            return cls(np.zeros(2), np.zeros((1, 1)))
        lengths = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
        ends = lines.reshape(-1, 2)
        wide, tall = ends.max(axis=0) - ends.min(axis=0)
        most = float(max(wide, tall, lengths.sum())) / _MOST
        cell = max(_CELL, float(np.sqrt(wide * tall / _MOST)), most)
        counts = 1 + (lengths / cell).astype(int)
        owner = np.repeat(np.arange(len(lines)), counts)
        within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
        share = ((within + 0.5) / counts[owner])[:, np.newaxis]
        points = lines[owner, :2] + share * (lines[owner, 2:] - lines[owner, :2])
        corner = points.min(axis=0)
        cells = ((points - corner) / cell).astype(int)
        columns, rows = cells.max(axis=0) + 1
        amounts = (weights * lengths / counts)[owner]
        flat = np.bincount(cells[:, 0] * rows + cells[:, 1], amounts, columns * rows)
        return cls.summed(corner, flat.reshape(columns, rows).astype(float), cell)

    @classmethod
    def summed(cls, corner: Floats, amounts: Floats, cell: float) -> LineMap:
        """Map of what lies in each cell, by column and row."""
        sums = np.zeros((amounts.shape[0] + 1, amounts.shape[1] + 1))
        sums[1:, 1:] = amounts.cumsum(axis=0).cumsum(axis=1)
        return cls(corner, sums, cell)

    def under(self, boxes: Floats) -> Floats:
        """Weighed length of line in rectangles."""
        most = np.array(self.sums.shape) - 1
        low = np.floor((boxes[:, :2] - self.corner) / self.cell)
        high = np.ceil((boxes[:, 2:] - self.corner) / self.cell)
        left, bottom = np.clip(low, 0, most).astype(int).T
        right, top = np.clip(high, 0, most).astype(int).T
        sums = self.sums
        found: Floats = (
            sums[right, top] - sums[left, top] - sums[right, bottom] + sums[left, bottom]
        )
        return np.maximum(found, 0.0)
