"""Names of parts beside a drawing, each where it covers no other text and little else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
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
from mountcalc.drawing.reductions import SMALLEST_ROOMS

__all__ = ["callouts", "text_boxes"]

_STEP = 0.0015  # [m] on paper between the points by which lines are seen
_NEAREST, _FARTHER = 0.006, 1.25  # [m] on paper from a part to its name, and how it grows
_DIRECTIONS = 24
_AIR = 0.3 * TEXT_HEIGHT
_INK_PER_LENGTH = 400.0  # points under a text that are as bad as a metre of leader
_OUT_PER_LENGTH = 200.0  # the same for a metre by which the drawing grows
_OVER_PER_LENGTH = 20000.0  # the same for a metre by which it grows out of the smallest sheet
_CROSSING = 200.0  # the same for a text that the leader itself crosses
_SHORT = 0.015  # [m] on paper that a leader may be long
_LONG_PER_LENGTH = 1200.0  # the same as points for a metre that it is longer
_AT_TIP = 0.001  # [m] on paper from its tip, where a leader may meet lines
# What it costs that a leader runs across a line: another leader, a thin line, a solid one.
_LEADERS_CROSS = 120.0
_ACROSS: Mapping[Ink, float] = {Ink.EDGE: 2.0, Ink.CENTRE: 2.0, Ink.DIMENSION: 6.0}
_ACROSS_SOLID = 14.0
_PASSES = 2
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
    ground = _ground(items, reduction)
    found: list[Leader] = []
    for at, text in wishes:
        found.append(_best(at, text, ground.with_leaders(found)))
    for _ in range(_PASSES):
        before = list(found)
        for number, (at, text) in enumerate(wishes):
            others = found[:number] + found[number + 1 :]
            found[number] = _best(at, text, ground.with_leaders(others), found[number])
        if found == before:
            break
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Ground:
    """What is there before a name is placed.

    Attributes
    ----------
    room : Bounds [m]
        Around all of it.
    boxes : ndarray of shape (4, k) [m]
        Left, bottom, right and top of its texts.
    points : ndarray of shape (n, 3)
        Points along its lines [m], each with what it counts under a text.
    strokes : ndarray of shape (m, 5)
        Both ends of its pieces of line [m], each with what it costs to cross it.
    reduction : float [-]
    """

    room: Bounds
    boxes: NDArray[np.float64]
    points: NDArray[np.float64]
    strokes: NDArray[np.float64]
    reduction: float

    def with_leaders(self, leaders: Iterable[Leader]) -> _Ground:
        """The same with names that have their place."""
        room, boxes, points, strokes = self.room, [*self.boxes.T], [self.points], [self.strokes]
        for leader in leaders:
            box = _box(leader_label(leader, self.reduction), self.reduction)
            boxes.append(np.array(box))
            room = _both(room, box)
            points.append(_weighed(leader, self.reduction))
            strokes.append(np.array([[*leader.at, *leader.to, _LEADERS_CROSS]]))
        return _Ground(
            room, _columns(boxes), np.concatenate(points), np.concatenate(strokes), self.reduction
        )


def _ground(items: Sequence[Item], reduction: float) -> _Ground:
    boxes = (*text_boxes(items, reduction), *_turned_over(items, reduction))
    points = np.concatenate([np.empty((0, 3)), *(_weighed(item, reduction) for item in items)])
    strokes = np.concatenate([np.empty((0, 5)), *(_pieces(item, reduction) for item in items)])
    return _Ground(_around(items, reduction), _columns(boxes), points, strokes, reduction)


def _columns(boxes: Sequence[Bounds] | Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
    return np.array(boxes, dtype=float).reshape(-1, 4).T


def _best(at: Sequence[Point], text: str, ground: _Ground, present: Leader | None = None) -> Leader:
    """The cheapest of all leaders from any of the points, the present one where none is less."""
    best, least = present, math.inf
    if present is not None:
        radius = math.dist(present.at, present.to) / ground.reduction
        cost = _length_cost(radius) + _growth(present, ground) + _covered(present, ground)
        least = cost + _crossed(present, ground)
    for ring in range(_TRIES):
        radius = _NEAREST * _FARTHER**ring
        if _length_cost(radius) >= least:
            break
        for leader in _free(_ring(at, text, radius * ground.reduction), ground):
            cost = _length_cost(radius) + _growth(leader, ground)
            for part in (_covered, _crossed):
                if cost < least:
                    cost += part(leader, ground)
            if cost < least:
                best, least = leader, cost
    assert best is not None, "far enough out there is always room"
    return best


def _free(leaders: Iterable[Leader], ground: _Ground) -> Iterator[Leader]:
    """Those whose texts meet no other: by their boxes, all at once."""
    leaders = list(leaders)
    air, text = _AIR * ground.reduction, leaders[0].text
    # The box stands the same way beside the end of every leader to its side.
    beside = np.array(
        [
            _box(
                leader_label(Leader((0.0, 0.0), (way, 0.0), text), ground.reduction),
                ground.reduction,
            )
            for way in (-1.0, 1.0)
        ]
    ) - np.array([[-1.0, 0.0, -1.0, 0.0], [1.0, 0.0, 1.0, 0.0]])
    ends = np.array([leader.to for leader in leaders])
    is_right = ends[:, 0] >= np.array([leader.at[0] for leader in leaders])
    boxes = np.tile(ends, 2) + beside[is_right.astype(int)] + air * np.array([-1, -1, 1, 1])
    left, bottom, right, top = boxes.T[:, :, np.newaxis]
    others = ground.boxes[:, np.newaxis, :]
    meets = (left < others[2]) & (others[0] < right) & (bottom < others[3]) & (others[1] < top)
    for leader, met in zip(leaders, meets.any(axis=1), strict=True):
        if not met:
            yield leader


def _length_cost(length: float) -> float:
    """What the length of a leader [m on paper] costs: the eye follows a short one easily."""
    return _INK_PER_LENGTH * length + _LONG_PER_LENGTH * max(0.0, length - _SHORT)


def _ring(at: Sequence[Point], text: str, radius: float) -> Iterator[Leader]:
    """Leaders of one length all round; none is upright, so that it can be mirrored."""
    for point in at:
        for step in range(_DIRECTIONS):
            to = along(point, math.tau * (step + 0.5) / _DIRECTIONS, radius)
            yield Leader(point, to, text)


def _crossed(leader: Leader, ground: _Ground) -> float:
    """What the lines cost that a leader runs across, but for those at its tip."""
    length = math.dist(leader.at, leader.to)
    share = min(1.0, _AT_TIP * ground.reduction / length)
    start = np.asarray(leader.at) + share * (np.asarray(leader.to) - np.asarray(leader.at))
    end = np.asarray(leader.to)
    ones, others = ground.strokes[:, :2], ground.strokes[:, 2:4]
    apart = _side(start, end, ones) * _side(start, end, others) < 0
    across = _side(ones, others, start) * _side(ones, others, end) < 0
    return float(ground.strokes[apart & across, 4].sum())


def _side(
    start: NDArray[np.float64], end: NDArray[np.float64], point: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Above zero where a point lies left of the way from start to end."""
    way, to = end - start, point - start
    side: NDArray[np.float64] = way[..., 0] * to[..., 1] - way[..., 1] * to[..., 0]
    return side


def _pieces(item: Item, reduction: float) -> NDArray[np.float64]:
    """Straight pieces of an item's lines, each with what it costs to cross it."""
    lines: Iterable[Item] = (item,)
    match item:
        case Label():
            return np.empty((0, 5))
        case Leader():
            lines = tuple(leader_lines(item, reduction))
        case Offset():
            lines = tuple(offset_lines(item, reduction))
        case _:
            pass
    ink = Ink.NOTE if isinstance(item, Leader) else item.ink
    cost = _LEADERS_CROSS if isinstance(item, Leader) else _ACROSS.get(ink, _ACROSS_SOLID)
    found = []
    for line in lines:
        points = _corners(line, reduction)
        costs = np.full(len(points) - 1, cost)
        found.append(np.column_stack([points[:-1], points[1:], costs]))
    return np.concatenate(found)


def _corners(item: Item, reduction: float) -> NDArray[np.float64]:
    """Ends of straight pieces of an item; round ones are cut into short pieces."""
    match item:
        case Line():
            return np.array([item.start, item.end])
        case Path():
            return np.array([*item.points, *(item.points[:1] if item.closed else ())])
        case _:
            return _points(item, reduction)


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


def _growth(leader: Leader, ground: _Ground) -> float:
    """What it costs that a text makes the drawing larger, and larger than a sheet."""
    room, reduction = ground.room, ground.reduction
    after = _both(room, _box(leader_label(leader, reduction), reduction))
    (wide, high), (wider, higher) = _size(room, reduction), _size(after, reduction)
    over = _over(wider, higher) - _over(wide, high)
    return _OUT_PER_LENGTH * (wider - wide + higher - high) + _OVER_PER_LENGTH * over


def _size(room: Bounds, reduction: float) -> tuple[float, float]:
    """Width and height [m on paper]."""
    return (room[2] - room[0]) / reduction, (room[3] - room[1]) / reduction


def _over(wide: float, high: float) -> float:
    """How far it reaches past the smallest sheet, whichever way that lies [m on paper]."""
    return min(max(0.0, wide - across) + max(0.0, high - up) for across, up in SMALLEST_ROOMS)


def _covered(leader: Leader, ground: _Ground) -> float:
    """How many points of lines lie under the text, weighed; infinite where it meets a text."""
    air = _AIR * ground.reduction
    box = _grown(_box(leader_label(leader, ground.reduction), ground.reduction), air)
    left, bottom, right, top = ground.boxes
    if bool(((box[0] < right) & (left < box[2]) & (box[1] < top) & (bottom < box[3])).any()):
        return math.inf
    x, y = _segment(leader.at, leader.to, ground.reduction).T[:, :, np.newaxis]
    beside = (x > left - air) & (x < right + air) & (y > bottom - air) & (y < top + air)
    under = ground.points[_inside(ground.points, box), 2]
    return float(under.sum()) + _CROSSING * int(beside.any(axis=0).sum())


def _grown(box: Bounds, air: float) -> Bounds:
    return box[0] - air, box[1] - air, box[2] + air, box[3] + air


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
