"""Which of its places each name takes, so that all together cost least; what covers what."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.items import TEXT_HEIGHT, Arc, Circle, Label, Line, Path, Stroke, sweep
from mountcalc.record import Record

_SAGITTA = 0.0001  # [m] on paper by which a chord may leave its circle
_CELL = 0.0005  # [m] on paper, where that makes no more cells, and cuts lines into no more parts,
_MOST = 4_000_000  # than this: the map of a huge sheet is coarser, not larger

Floats = NDArray[np.float64]


def pieces(strokes: Iterable[Stroke], scale: float) -> Floats:
    """Straight pieces of lines, a row for each: x and y of its start, of its end."""
    lines = [_chords(one, scale) for one in strokes if not isinstance(one, Label)]
    return np.concatenate([np.empty((0, 4)), *lines])


def _chords(line: Line | Arc | Circle | Path, scale: float) -> Floats:
    """Straight pieces of a line."""
    match line:
        case Line():
            run = np.array([line.start, line.end])
        case Path():
            run = np.array([*line.points, *(line.points[:1] if line.closed else ())])
        case Circle() | Arc():
            turn = sweep(line)
            share = min(0.5, _SAGITTA * scale / line.radius)
            count = max(2, math.ceil(turn / (2.0 * math.acos(1.0 - share))))
            angles = np.linspace(line.start, line.start + turn, count + 1)
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


class LineMap:
    """How much line lies in any rectangle, looked up at once for many.

    It is made of what lies in each cell, by column and row, of cells of a size ``cell`` [m] that
    begin at ``corner`` [m]; ``sums[i, j]`` is what lies left of and below a corner of cells.
    """

    def __init__(self, corner: Floats, amounts: Floats, cell: float = _CELL) -> None:
        self.corner, self.cell = corner, cell
        self.sums = np.pad(amounts.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))

    @classmethod
    def of(cls, lines: Floats, weights: Floats) -> LineMap:
        """Map of the weighed length of straight pieces."""
        if not len(lines):
            return cls(np.zeros(2), np.zeros((0, 0)))
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
        return cls(corner, flat.reshape(columns, rows).astype(float), cell)

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


# All costs are relative to each other.
HARD = 1000.0
"""What it costs that a leader runs across another, or across a text: more than all else."""

TEXTS_MEET = 1000.0 * HARD
"""What it costs that two names stand on each other: it never pays."""

_AIR = 0.3 * TEXT_HEIGHT  # around a text [m on paper], in which no other stands
# What it costs that two leaders point at one place, less and less up to so far apart [m] on paper.
_TIPS_MEET, _TIPS_APART = 100.0, 0.007
_PAST_TIP = 0.003  # the same for a leader that runs past the tip of another [m] on paper
_SAME_PLACE = 0.003  # [m] on paper within which only the cheapest place of a text is kept
_PASSES = 12
_KICKS = 80  # times that some names are put elsewhere, to see whether that leads to less
_KICKED = 3
_NONE = np.empty((0, 4))

Growth = Callable[[Floats, Floats], Floats]
"""What it costs that texts (second) beside others (first) make the drawing larger."""


class Places(Record):
    """Places of one name on paper [m].

    ``lines`` (n, 4) are the leaders, from the part to the text; ``boxes`` (n, 4) left, bottom,
    right and top of the text; ``costs`` (n,) those of what is there already.
    """

    lines: Floats
    boxes: Floats
    costs: Floats

    def __len__(self) -> int:
        return len(self.costs)

    def where(self, chosen: NDArray[np.int_]) -> Places:
        """Some of them."""
        return Places(self.lines[chosen], self.boxes[chosen], self.costs[chosen])


def grown(boxes: Floats) -> Floats:
    """Texts with their air."""
    return boxes + _AIR * np.array([-1.0, -1.0, 1.0, 1.0])


def cheapest(found: Places, costs: Floats, most: int) -> NDArray[np.int_]:
    """Which are the cheapest, but of texts that stand nearly in one place only the first."""
    order = np.argsort(costs, kind="stable")
    columns, rows = np.round(found.boxes[order, :2] / _SAME_PLACE).astype(np.int64).T
    _, first = np.unique((columns << 32) + rows, return_index=True)
    return order[np.sort(first)[:most]]


def conflict(places: Places) -> Floats:
    """What it costs that names or their leaders are in each other's way, or point at one place."""
    lines, around = places.lines, grown(places.boxes)
    runs = through(lines, around)
    in_the_way = (crossing(lines, lines) > 0).astype(float) + runs + runs.T
    tips = lines[:, np.newaxis, :2] - lines[:, :2]
    near = np.maximum(0.0, 1.0 - np.hypot(tips[..., 0], tips[..., 1]) / _TIPS_APART)
    past = apart(lines[:, :2], lines)
    near += np.maximum(0.0, 1.0 - np.minimum(past, past.T) / _PAST_TIP)
    meets = overlapping(around, places.boxes)
    return TEXTS_MEET * meets + HARD * in_the_way + _TIPS_MEET * near


def chosen(choices: Sequence[Places], growth: Growth | None = None) -> Places:
    """One place for each name."""
    choice = _Choice(choices, growth or (lambda _, boxes: np.zeros(len(boxes))))
    best = choice.settled(np.array([int(np.argmin(one.costs)) for one in choices]))
    least = choice.cost(best)
    chance = np.random.default_rng(len(choices))
    for _ in range(_KICKS if len(choices) > 1 else 0):
        tried = best.copy()
        for number in chance.integers(len(choices), size=_KICKED):
            tried[number] = chance.integers(len(choices[number]))
        tried = choice.settled(tried)
        cost = choice.cost(tried)
        if cost < least:
            best, least = tried, cost
    return choice.all.where(choice.starts + best)


class _Choice:
    """Places of all names, one after the other, and what each costs beside each other one."""

    def __init__(self, choices: Sequence[Places], growth: Growth) -> None:
        self._growth = growth
        ends = np.cumsum([0, *map(len, choices)])
        self.starts = ends[:-1]
        self._names = [slice(*pair) for pair in pairwise(ends)]
        lines, boxes, costs = (
            np.concatenate([getattr(one, name) for one in choices])
            for name in ("lines", "boxes", "costs")
        )
        self.all = Places(lines, boxes, costs)
        self._pairs = conflict(self.all)
        # What stands in the room does not make it larger, wherever the others stand.
        self._grows = [growth(_NONE, one.boxes) > 0 for one in choices]
        for own in self._names:
            self._pairs[own, own] = 0.0

    def settled(self, taken: NDArray[np.int_]) -> NDArray[np.int_]:
        """Names moved one after the other to where each costs least, until none moves."""
        taken = taken.copy()
        for _ in range(_PASSES):
            before = taken.copy()
            for number, own in enumerate(self._names):
                at, grows = self.starts + taken, self._grows[number]
                costs = self.all.costs[own] + self._pairs[own, at].sum(axis=1)
                if grows[costs.argmin()]:  # else no other becomes cheaper
                    others = self.all.boxes[np.delete(at, number)]
                    costs[grows] += self._growth(others, self.all.boxes[own][grows])
                taken[number] = int(costs.argmin())
            if (taken == before).all():
                break
        return taken

    def cost(self, taken: NDArray[np.int_]) -> float:
        """What all places cost together."""
        at = self.starts + taken
        pairs = float(np.triu(self._pairs[np.ix_(at, at)], 1).sum())
        boxes = self.all.boxes[at]
        around = np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)])
        growth = float(self._growth(_NONE, around[np.newaxis])[0])
        return float(self.all.costs[at].sum()) + pairs + growth
