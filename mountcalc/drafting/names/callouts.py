"""Names of parts beside a drawing, each where it covers no other text and little else."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from mountcalc.drafting.annotations import extremes, strokes_of, text_boxes
from mountcalc.drafting.drawing import SMALLEST_ROOMS
from mountcalc.drafting.items import Bounds, Item, Layer, Leader, Point, around, mirrored
from mountcalc.drafting.names.choice import (
    HARD,
    TEXTS_MEET,
    Floats,
    LineMap,
    Places,
    cheapest,
    chosen,
    conflict,
    crossing,
    grown,
    overlapping,
    pieces,
    through,
)

# What it costs to run across a line: thin, solid.
_ACROSS: Mapping[Layer, float] = {Layer.EDGE: 2.0, Layer.CENTRE: 2.0, Layer.DIMENSION: 6.0}
_ACROSS_SOLID = 60.0
# For a metre of line under a text: thin broken ones, those that a template is cut by, all others.
_UNDER: Mapping[Layer, float] = {
    Layer.EDGE: 3300.0,
    Layer.CENTRE: 3300.0,
    Layer.CUT: 66000.0,
    Layer.DRILL: 66000.0,
    Layer.POCKET: 66000.0,
}
_UNDER_SOLID = 16500.0
# For a metre by which a view grows, by which it grows out of the smallest sheet, and by which a
# text leaves the room that it is given.
_OUT, _OVER, _OUTSIDE = 1000.0, 200000.0, 2000.0
_ROOMS = np.array(SMALLEST_ROOMS)
# What a metre of leader costs, and what it costs besides beyond the length that is easy to follow.
_PER_LENGTH, _PER_LONG, _EASY = 400.0, 1200.0, 0.015
_AT_TIP = 0.001  # [m] on paper from its tip, where a leader may meet lines
_SHALLOW = 0.25  # sine of the angle below which a crossing is no harder to follow

# How long a leader may be [m on paper] wherever that leaves a free place; where the paper is as
# large as the thing.
_LONGEST, _LONGEST_ON_TEMPLATE = 0.044, 0.120
_NEAREST, _GROWS = 0.006, 1.16  # [m] on paper from a part to its name, and from ring to ring
_DIRECTIONS = 36
_MOST, _MANY = 60, 1000  # places of a name to choose from; where these are too few
_CLOSELY = 4  # times as many places are looked at for what their leaders cross
_ROUNDS = 12  # with leaders twice as long each time: far enough out there is room
_ROUNDS_TO_UNCROSS = 2

_THIN = (Layer.EDGE, Layer.CENTRE)
_MOST_ACROSS = 1  # names that may stand across a solid line before others are left out
_LETTERS = 32  # of a user's name: wider ones find no place beside a view (estimate)
_NOTHING = 1.0  # a tenth of what a line costs under a text for as long as a cell: rounding

_Wish = tuple[tuple[Point, ...], str]


def _settled(places: Floats) -> Floats:
    """Places on paper to a tenth of a micrometre: the last bit of a sum moves no name."""
    return np.round(places, 7)


class Ground:
    """What is drawn before names are placed, on paper [m], and what it costs to cover it.

    Texts should not leave ``room``; it is given, or what the view spans, which grows. ``boxes``
    are those of texts, and of where they stand in a mirrored copy; ``lines`` straight pieces,
    ``costs`` what it costs to run across each, ``under`` what each costs under a text.
    """

    def __init__(self, items: Sequence[Item], scale: float, room: Bounds | None) -> None:
        drawn = [_settled(pieces(strokes_of(item, scale), scale) / scale) for item in items]
        layers = [Layer.NOTE if isinstance(item, Leader) else item.layer for item in items]
        counts = [len(one) for one in drawn]
        costs = [
            HARD if isinstance(item, Leader) else _ACROSS.get(layer, _ACROSS_SOLID)
            for item, layer in zip(items, layers, strict=True)
        ]
        under = np.repeat([_UNDER.get(layer, _UNDER_SOLID) for layer in layers], counts)
        self.lines = np.concatenate([np.empty((0, 4)), *drawn])
        self.costs = np.repeat(np.array(costs, dtype=float), counts)
        self.under = LineMap.of(self.lines, under)
        # Turned over and back, upright texts change sides.
        over = text_boxes(map(mirrored, items), scale)
        back = [(-right, bottom, -left, top) for left, bottom, right, top in over]
        boxes = np.array([*text_boxes(items, scale), *back], dtype=float)
        self.boxes = _settled(boxes.reshape(-1, 4) / scale)
        self.is_given = room is not None
        spanned = (point for item in items for point in extremes(item, scale))
        within = room or (around(spanned) if items else (0.0,) * 4)
        self.room = _settled(np.array(within) / scale)

    def growth(self, others: Floats, boxes: Floats) -> Floats:
        """What it costs that texts make the drawing larger."""
        taken = np.concatenate([self.room[np.newaxis], others])
        low, high = taken[:, :2].min(axis=0), taken[:, 2:].max(axis=0)
        after = np.maximum(boxes[:, 2:], high) - np.minimum(boxes[:, :2], low)
        grown_by: Floats = (after - (high - low)).sum(axis=1)
        if self.is_given:
            return _OUTSIDE * grown_by
        # How far drawings reach past the smallest sheet, whichever way that lies [m].
        sizes = np.vstack([high - low, after])
        past = np.maximum(0.0, sizes[:, np.newaxis] - _ROOMS).sum(axis=2).min(axis=1)
        costs: Floats = _OUT * grown_by + _OVER * (past[1:] - past[0])
        return costs


def callouts(
    wishes: Sequence[_Wish],
    items: Sequence[Item],
    scale: float,
    room: Bounds | None = None,
) -> tuple[Leader, ...]:
    """Name parts of a drawing: each wish has the points that may be pointed at, and the name."""
    ground = Ground(items, scale, room)
    asked = [(tuple((x / scale, y / scale) for x, y in at), text) for at, text in wishes]
    if not asked:
        return ()
    longest = _LONGEST if room is None else _LONGEST_ON_TEMPLATE
    choices = [_places(wish, ground, longest, _MOST) for wish in asked]
    found = chosen(choices, ground.growth)
    for number in range(_ROUNDS):
        # What each costs for the others, and for what its leader should never run across.
        pairs = conflict(found)
        np.fill_diagonal(pairs, 0.0)
        costs = np.maximum(pairs, pairs.T).sum(axis=1) + found.costs
        if not (costs >= (HARD if number < _ROUNDS_TO_UNCROSS else TEXTS_MEET)).any():
            break
        # All places of these, then further ones.
        for one in np.flatnonzero(costs >= HARD):
            choices[one] = _places(asked[one], ground, longest * 2.0**number, _MANY)
        found = chosen(choices, ground.growth)
    leaders = []
    for line, (points, text) in zip(found.lines, wishes, strict=True):
        # Back from paper, at the point that was asked for to the last bit.
        x, y, end_x, end_y = (float(part) * scale for part in line)
        at = min(points, key=lambda point: math.dist(point, (x, y)))
        leaders.append(Leader(at, (end_x, end_y), text))
    return tuple(leaders)


def _places(wish: _Wish, ground: Ground, reach: float, most: int) -> Places:
    """Places for a name that meet no text of the ground: of longer leaders, if need be."""
    found = _all_round(_settled(np.array(wish[0])), wish[1], reach)
    free = ~overlapping(grown(found.boxes), ground.boxes).any(axis=1)
    found = found.where(np.flatnonzero(free))
    if not len(found):
        return _places(wish, ground, 2.0 * reach, most)
    lengths = np.hypot(*(found.lines[:, 2:] - found.lines[:, :2]).T)
    costs = _PER_LENGTH * lengths + _PER_LONG * np.maximum(0.0, lengths - _EASY)
    costs += ground.under.under(grown(found.boxes))
    growth = ground.growth(np.empty((0, 4)), found.boxes)
    near = cheapest(found, costs + growth, _CLOSELY * most)
    costs[near] += _crossings(found.lines[near], ground)
    found = Places(found.lines[near], found.boxes[near], costs[near])
    return found.where(cheapest(found, found.costs + growth[near], most))


def _all_round(at: Floats, text: str, reach: float) -> Places:
    """Leaders of every length in every direction; none is upright, so that it can be mirrored."""
    count = 1 + max(1, round(np.log(reach / _NEAREST) / np.log(_GROWS)))
    radii = np.geomspace(_NEAREST, reach, count)
    turns = (np.arange(_DIRECTIONS) + 0.5) * 2.0 * np.pi / _DIRECTIONS
    ways = np.column_stack([np.cos(turns), np.sin(turns)])
    ends = at[:, np.newaxis, np.newaxis] + radii[:, np.newaxis, np.newaxis] * ways
    tips = np.broadcast_to(at[:, np.newaxis, np.newaxis], ends.shape)
    lines = np.concatenate([tips, ends], axis=-1).reshape(-1, 4)
    # The text's rectangle about the end of a leader that comes from its other side.
    names = [Leader((-way, 0.0), (0.0, 0.0), text) for way in (-1.0, 1.0)]
    beside = np.array(text_boxes(names, 1.0))
    is_right = (lines[:, 2] >= lines[:, 0]).astype(int)
    return Places(lines, np.tile(lines[:, 2:], 2) + beside[is_right], np.zeros(len(lines)))


def _crossings(lines: Floats, ground: Ground) -> Floats:
    """What it costs that leaders run across lines and texts: the more, the less steeply."""
    ways = lines[:, 2:] - lines[:, :2]
    share = np.minimum(1.0, _AT_TIP / np.hypot(ways[:, 0], ways[:, 1]))[:, np.newaxis]
    past = np.column_stack([lines[:, :2] + share * ways, lines[:, 2:]])
    sines = crossing(past, ground.lines)
    weights = np.divide(1.0, np.maximum(sines, _SHALLOW), out=np.zeros_like(sines), where=sines > 0)
    texts = through(lines, grown(ground.boxes)).sum(axis=1)
    across: Floats = weights @ ground.costs + HARD * texts
    return across


def short_name(name: str) -> str:
    """A user's name as a view has room for it."""
    if len(name) <= _LETTERS:
        return name
    half = _LETTERS // 2
    return f"{name[:half].rstrip()}…{name[1 - half :].lstrip()}"


def named_where_room(
    wishes: Sequence[_Wish], spared: Sequence[str], items: Sequence[Item], scale: float
) -> tuple[Leader, ...]:
    """Name parts of a view; some only where that drives no other name across a solid line."""
    found = callouts(wishes, items, scale)
    across = _across(found, items, scale)
    for count in range(1, len(spared) + 1):
        if across <= _MOST_ACROSS:
            break
        needed = [wish for wish in wishes if wish[1] not in spared[:count]]
        fewer = callouts(needed, items, scale)
        if _across(fewer, items, scale) < across:
            found, across = fewer, _across(fewer, items, scale)
    return found


def _across(names: Sequence[Leader], items: Sequence[Item], scale: float) -> int:
    """How many names stand across a solid line."""
    solid = [item for item in items if not isinstance(item, Leader) and item.layer not in _THIN]
    boxes = np.array(text_boxes(names, scale), dtype=float).reshape(-1, 4) / scale
    return int((Ground(solid, scale, None).under.under(boxes) > _NOTHING).sum())
