"""Names of parts beside a drawing, each where it covers no other text and little else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
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
    Ink,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)
from mountcalc.drawing.reductions import SMALLEST_ROOM

__all__ = ["callouts", "text_boxes"]

_STEP = 0.0015  # [m] on paper between the points by which lines are seen
_NEAREST, _FARTHER = 0.006, 1.25  # [m] on paper from a part to its name, and how it grows
_DIRECTIONS = 24
_AIR = 0.3 * TEXT_HEIGHT
_INK_PER_LENGTH = 400.0  # points under a text that are as bad as a metre of leader
_OUT_PER_LENGTH = 200.0  # the same for a metre by which the drawing grows
_OVER_PER_LENGTH = 20000.0  # the same for a metre by which it grows out of the smallest sheet
_CROSSING = 200.0  # the same for a text that the leader itself crosses
# What a point of a line counts under a text: of thin broken lines, and of all others.
_WEIGHTS: Mapping[Ink, float] = {Ink.EDGE: 5.0, Ink.CENTRE: 5.0}
_SOLID = 25.0
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
    wishes: Sequence[tuple[tuple[Point, ...], str]], items: Sequence[Item], reduction: float
) -> tuple[Leader, ...]:
    """Name parts of a drawing.

    Parameters
    ----------
    wishes : sequence of (tuple of Point [m], str)
        Points of which any may be pointed at, and the name.
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
    seen = np.concatenate([np.empty((0, 3)), *(_weighed(item, reduction) for item in items)])
    found = []
    for at, text in wishes:
        leader = _best(Leader(at[0], at[0], text), room, boxes, seen, reduction)
        found.append(leader)
        boxes.append(_box(leader_label(leader, reduction), reduction))
        room = _both(room, boxes[-1])
        seen = np.concatenate([seen, _weighed(leader, reduction)])
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
            cost += _growth(leader, room, reduction)
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


def _both(one: Bounds, other: Bounds) -> Bounds:
    """The smallest rectangle around two."""
    low, high = map(min, one[:2], other[:2]), map(max, one[2:], other[2:])
    left, bottom, right, top = (*low, *high)
    return left, bottom, right, top


def _growth(leader: Leader, room: Bounds, reduction: float) -> float:
    """What it costs that a text makes the drawing larger, and larger than a sheet."""
    after = _both(room, _box(leader_label(leader, reduction), reduction))
    (wide, high), (wider, higher) = _size(room, reduction), _size(after, reduction)
    over = _over(wider, higher) - _over(wide, high)
    return _OUT_PER_LENGTH * (wider - wide + higher - high) + _OVER_PER_LENGTH * over


def _size(room: Bounds, reduction: float) -> tuple[float, float]:
    """Width and height [m on paper]."""
    return (room[2] - room[0]) / reduction, (room[3] - room[1]) / reduction


def _over(wide: float, high: float) -> float:
    """How far it reaches past the smallest sheet, whichever way that lies [m on paper]."""
    long, short = max(wide, high), min(wide, high)
    return max(0.0, long - SMALLEST_ROOM[0]) + max(0.0, short - SMALLEST_ROOM[1])


def _covered(
    leader: Leader, boxes: Sequence[Bounds], seen: NDArray[np.float64], reduction: float
) -> float:
    """How many points of lines lie under the text, weighed; infinite where it meets a text."""
    air = _AIR * reduction
    box = _grown(_box(leader_label(leader, reduction), reduction), air)
    if any(_meet(box, other) for other in boxes):
        return math.inf
    line = _segment(leader.at, leader.to, reduction)
    crossed = sum(bool(_inside(line, _grown(other, air)).any()) for other in boxes)
    return float(seen[_inside(seen, box), 2].sum()) + _CROSSING * crossed


def _grown(box: Bounds, air: float) -> Bounds:
    return box[0] - air, box[1] - air, box[2] + air, box[3] + air


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


def _weighed(item: Item, reduction: float) -> NDArray[np.float64]:
    """Points along the lines of an item, each with what it counts under a text."""
    points = _points(item, reduction)
    ink = Ink.NOTE if isinstance(item, Leader) else item.ink
    return np.column_stack([points, np.full(len(points), _WEIGHTS.get(ink, _SOLID))])


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
