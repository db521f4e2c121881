"""Lines of a drawing as straight pieces, and which of them cross."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.annotations import leader_lines, offset_lines
from mountcalc.drafting.geometry import sweep
from mountcalc.drafting.model import Arc, Circle, Item, Label, Leader, Line, Offset, Path, Point

__all__ = ["apart", "crossing", "pieces", "through"]

_SAGITTA = 0.0001  # [m] on paper by which a chord may leave its circle

Floats = NDArray[np.float64]


def pieces(item: Item, reduction: float) -> Floats:
    """Straight pieces of an item's lines."""
    lines: Iterable[Item] = (item,)
    match item:
        case Label():
            return np.empty((0, 4))
        case Leader():
            lines = leader_lines(item, reduction)
        case Offset():
            lines = offset_lines(item, reduction)
        case _:
            pass
    runs = [_corners(line, reduction) for line in lines]
    return np.concatenate([np.column_stack([run[:-1], run[1:]]) for run in runs])


def _corners(item: Item, reduction: float) -> Floats:
    match item:
        case Line():
            return np.array([item.start, item.end])
        case Path():
            return np.array([*item.points, *(item.points[:1] if item.closed else ())])
        case Circle():
            return _chords(item.centre, item.radius, (0.0, math.tau), reduction)
        case Arc():
            ends = item.start, item.start + sweep(item)
            return _chords(item.centre, item.radius, ends, reduction)
        case _:  # pragma: no cover (the rest is taken apart before)
            raise TypeError(f"no line: {item!r}")


def _chords(centre: Point, radius: float, ends: tuple[float, float], reduction: float) -> Floats:
    share = min(0.5, _SAGITTA * reduction / radius)
    count = max(2, math.ceil((ends[1] - ends[0]) / (2.0 * math.acos(1.0 - share))))
    angles = np.linspace(*ends, count + 1)
    return np.column_stack(
        [centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)]
    )


def crossing(ones: Floats, others: Floats) -> Floats:
    """Which pieces cross which, and how steeply."""
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
