"""Names of parts beside a drawing, each where it covers no other text and little else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mountcalc.drawing.annotations import (
    leader_label,
    leader_lines,
    offset_label,
    offset_lines,
)
from mountcalc.drawing.extent import extremes
from mountcalc.drawing.geometry import along, mirrored
from mountcalc.drawing.model import (
    TEXT_HEIGHT,
    Arc,
    Bounds,
    Circle,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = ["callouts", "text_boxes"]

_STEP = 0.0015  # [m] on paper between the points by which lines are seen
_NEAREST, _FARTHER = 0.006, 1.25  # [m] on paper from a part to its name, and how it grows
_DIRECTIONS = 24
_AIR = 0.3 * TEXT_HEIGHT
_INK_PER_LENGTH = 400.0  # points under a text that are as bad as a metre of leader
_OUT_PER_LENGTH = 200.0  # the same for a metre by which the drawing grows
_CROSSING = 200.0  # the same for a text that the leader itself crosses
_TRIES = 40


def text_boxes(items: Iterable[Item], reduction: float) -> tuple[Bounds, ...]:
    """Upright rectangles around the texts among items.

    Parameters
    ----------
    items : iterable of Item
        Of a drawing.
    reduction : float [-]
        Of the drawing.

    Returns
    -------
    tuple of (left, bottom, right, top) [m]
        By the estimate of their width.
    """
    return tuple(
        _box(label, reduction) for item in items if (label := _label(item, reduction)) is not None
    )


def callouts(
    wishes: Sequence[tuple[Point, str]], items: Sequence[Item], reduction: float
) -> tuple[Leader, ...]:
    """Name parts of a drawing.

    Parameters
    ----------
    wishes : sequence of (Point [m], str)
        What is pointed at, and its name.
    items : sequence of Item
        What is drawn already.
    reduction : float [-]
        Of the drawing.

    Returns
    -------
    tuple of Leader
        One for each name, in their order; no text meets another.
    """
    boxes = [*text_boxes(items, reduction), *_turned_over(items, reduction)]
    room = _around(items, reduction)
    ink = [_points(item, reduction) for item in items]
    seen = np.concatenate(ink) if ink else np.empty((0, 2))
    found = []
    for at, text in wishes:
        leader = _best(Leader(at, at, text), room, boxes, seen, reduction)
        found.append(leader)
        boxes.append(_box(leader_label(leader, reduction), reduction))
        seen = np.concatenate([seen, _points(leader, reduction)])
    return tuple(found)


def _best(
    wish: Leader,
    room: Bounds,
    boxes: Sequence[Bounds],
    seen: NDArray[np.float64],
    reduction: float,
) -> Leader:
    best, least = None, math.inf
    for ring in range(_TRIES):
        radius = _NEAREST * _FARTHER**ring
        if radius * _INK_PER_LENGTH >= least:
            break
        for leader in _ring(wish, radius * reduction):
            cost = radius * _INK_PER_LENGTH + _covered(leader, boxes, seen, reduction)
            cost += _OUT_PER_LENGTH * _outside(leader, room, reduction)
            if cost < least:
                best, least = leader, cost
    assert best is not None, "far enough out there is always room"
    return best


def _ring(wish: Leader, radius: float) -> Iterator[Leader]:
    """Leaders of one length all round; none is upright, so that it can be mirrored."""
    for step in range(_DIRECTIONS):
        to = along(wish.at, math.tau * (step + 0.5) / _DIRECTIONS, radius)
        yield Leader(wish.at, to, wish.text)


def _turned_over(items: Iterable[Item], reduction: float) -> Iterator[Bounds]:
    """Where texts stand in a mirrored copy, turned back: upright ones change sides."""
    for left, bottom, right, top in text_boxes(map(mirrored, items), reduction):
        yield -right, bottom, -left, top


def _around(items: Iterable[Item], reduction: float) -> Bounds:
    """What is drawn already; nothing is a point."""
    points = [point for item in items for point in extremes(item, reduction)]
    across, up = zip(*(points or [(0.0, 0.0)]), strict=True)
    return min(across), min(up), max(across), max(up)


def _outside(leader: Leader, room: Bounds, reduction: float) -> float:
    """How far a text makes the drawing wider and higher [m on paper]."""
    left, bottom, right, top = _box(leader_label(leader, reduction), reduction)
    wider = max(0.0, room[0] - left) + max(0.0, right - room[2])
    higher = max(0.0, room[1] - bottom) + max(0.0, top - room[3])
    return (wider + higher) / reduction


def _covered(
    leader: Leader, boxes: Sequence[Bounds], seen: NDArray[np.float64], reduction: float
) -> float:
    """How many points of lines lie under the text; without end where it meets another text."""
    left, bottom, right, top = _box(leader_label(leader, reduction), reduction)
    air = _AIR * reduction
    box = (left - air, bottom - air, right + air, top + air)
    if any(_meet(box, other) for other in boxes):
        return math.inf
    line = _segment(leader.at, leader.to, reduction)
    crossed = sum(bool(_inside(line, other).any()) for other in boxes)
    return float(np.count_nonzero(_inside(seen, box))) + _CROSSING * crossed


def _meet(one: Bounds, other: Bounds) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _inside(points: NDArray[np.float64], box: Bounds) -> NDArray[np.bool_]:
    x, y = points[:, 0], points[:, 1]
    inside: NDArray[np.bool_] = (x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])
    return inside


def _label(item: Item, reduction: float) -> Label | None:
    match item:
        case Label():
            return item
        case Leader():
            return leader_label(item, reduction)
        case Offset():
            return offset_label(item, reduction)
        case _:
            return None


def _box(label: Label, reduction: float) -> Bounds:
    across, up = zip(*extremes(label, reduction), strict=True)
    return min(across), min(up), max(across), max(up)


def _points(item: Item, reduction: float) -> NDArray[np.float64]:
    """Points along the lines of an item, close to each other on paper."""
    match item:
        case Line():
            return _segment(item.start, item.end, reduction)
        case Path():
            ends = [*item.points, *(item.points[:1] if item.closed else ())]
            return _run(ends, reduction)
        case Circle():
            return _bend(item.centre, item.radius, 0.0, math.tau, reduction)
        case Arc():
            sweep = (item.end - item.start) % math.tau
            return _bend(item.centre, item.radius, item.start, sweep, reduction)
        case Offset():
            lines = list(offset_lines(item, reduction))
        case Leader():
            lines = list(leader_lines(item, reduction))
        case Label():
            return np.empty((0, 2))
    return np.concatenate([_points(line, reduction) for line in lines])


def _run(points: Sequence[Point], reduction: float) -> NDArray[np.float64]:
    return np.concatenate([_segment(start, end, reduction) for start, end in pairwise(points)])


def _segment(start: Point, end: Point, reduction: float) -> NDArray[np.float64]:
    count = 2 + int(math.dist(start, end) / (_STEP * reduction))
    return np.linspace(start, end, count)


def _bend(
    centre: Point, radius: float, start: float, sweep: float, reduction: float
) -> NDArray[np.float64]:
    angles = start + np.linspace(0.0, sweep, 2 + int(radius * sweep / (_STEP * reduction)))
    return np.stack(
        [centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)], axis=-1
    )
