"""Dimensions from one datum edge, each on a line of its own; heights of which some are left out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from enum import Enum

import numpy as np

from mountcalc.drafting.annotations import ARROW_LENGTH, extremes, text_width
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Offset, Path, Point, along
from mountcalc.pages.amounts import bench_length
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Display

LINE_PITCH = 2.2 * TEXT_HEIGHT
"""From one dimension line to the next on paper [m]: a text, its arrows and some air."""

SAME = 1e-4
"""Nobody marks out twice what is nearer together [m]."""

_TAIL = 2 * ARROW_LENGTH  # of arrows that point in from outside
# Break lines, thin and straight with zigzags (ISO 128-2, from memory).
_HALF_HEIGHT = 0.0015  # [m] on paper, of a zigzag to either side of its line
_HALF_WIDTH = 0.001  # [m] on paper, along the line
_MOST = 0.25  # of the line's length that one zigzag may take


class Run(Enum):
    """Which way distances are measured."""

    ACROSS = 0
    UP = 1


class Baseline(Record):
    """One set of dimensions, its first line at ``first`` [m], the next ones ``away`` from it.

    They run across from a vertical datum, or up from a level one, which ``datum`` is a point of;
    ``away`` is +1 where the next ones lie higher (further right), -1 where lower (further left).
    Texts tell the ``actual`` distance of what is drawn where a drawing leaves out a stretch.
    """

    run: Run
    datum: Point
    first: float
    away: int
    scale: float
    display: Display
    actual: Callable[[float], float] = float

    def line(self, level: int) -> float:
        """Where the dimension line of a level runs [m]; 0 is the first."""
        return self.first + self.away * level * LINE_PITCH * self.scale


def baselines(baseline: Baseline, points: Iterable[Point]) -> tuple[Offset, ...]:
    """Dimension points from a datum, the nearest first, each distance once."""
    axis, datum, actual = baseline.run.value, baseline.datum[baseline.run.value], baseline.actual
    tail, air = _TAIL * baseline.scale, TEXT_HEIGHT * baseline.scale
    kept = [datum]
    levels: list[list[tuple[float, float]]] = []
    found = []
    for point in sorted(points, key=lambda one: abs(one[axis] - datum)):
        at, distance = point[axis], abs(point[axis] - datum)
        if any(abs(at - other) <= SAME for other in kept):
            continue
        kept.append(at)
        text = bench_length(abs(actual(at) - actual(datum)), baseline.display)
        # What it takes up of its line: a text wider than it stands at the datum.
        width = text_width(text, TEXT_HEIGHT * baseline.scale)
        past = tail if distance < 1.5 * tail else 0.0
        near = width + tail + air if width > distance else past
        way = math.copysign(1, at - datum)
        low, high = sorted((datum - way * near, at + way * past))
        free = (
            number
            for number, others in enumerate(levels)
            if all(high <= start or end <= low for start, end in others)
        )
        level = next(free, len(levels))
        levels += [[]] if level == len(levels) else []
        levels[level].append((low, high))
        line = baseline.line(level)
        shift, direction = (
            (line - point[1], 0.0)
            if baseline.run is Run.ACROSS
            else (point[0] - line, 0.5 * math.pi)
        )
        found.append(Offset(point, baseline.datum, shift, text, direction=direction))
    return tuple(found)


def beside(items: Sequence[Item], left: float, scale: float) -> float:
    """Where upright dimensions stand, so that none of their texts meets one that lies."""
    if scale == 1:
        return left
    return min([left, *(x for item in items for x, _ in extremes(item, scale))])


class Break(Record):
    """A stretch between true heights that is not drawn to scale but so long, above zero [m]."""

    low: float
    high: float
    shown: float

    @property
    def left_out(self) -> float:
        """How much shorter it is drawn [m]; below zero where longer."""
        return self.high - self.low - self.shown


class HeightScale(Record):
    """True heights to drawn ones and back; what stands above all breaks is drawn where it is.

    Breaks are told from the top down; none overlaps another.
    """

    breaks: tuple[Break, ...] = ()

    def drawn(self, height: float) -> float:
        """Where a true height [m] is drawn [m]."""
        return _piecewise(height, *self._corners())

    def actual(self, drawn: float) -> float:
        """Which true height [m] is drawn at a height [m]."""
        return _piecewise(drawn, *reversed(self._corners()))

    def _corners(self) -> tuple[list[float], list[float]]:
        """True and drawn heights of the ends of all breaks, from the bottom up."""
        true: list[float] = []
        drawn: list[float] = []
        moved = 0.0
        for one in self.breaks:
            true += [one.high, one.low]
            drawn += [one.high + moved, one.high + moved - one.shown]
            moved += one.left_out
        return true[::-1], drawn[::-1]

    def below(self, one: Break) -> HeightScale:
        """The same with one break more, below all others."""
        return HeightScale((*self.breaks, one))


def _piecewise(at: float, before: list[float], after: list[float]) -> float:
    """Straight from corner to corner, and at the same pace beyond the outermost."""
    if before and before[0] < at < before[-1]:
        return float(np.interp(at, before, after))
    end = 0 if before and at <= before[0] else -1
    return at + (after[end] - before[end]) if before else at


def empty_stretches(
    taken: Iterable[tuple[float, float]], shown: float, air: float
) -> tuple[Break, ...]:
    """The stretches between what stands at some heights that are worth leaving out."""
    found, top = [], None
    for low, high in sorted(taken, key=lambda ends: -max(ends)):
        if top is not None and top - high > 2 * (air + shown):
            found.append(Break(high + air, top - air, shown))
        top = low if top is None else min(top, low)
    return tuple(found)


def zigzag(start: Point, end: Point, scale: float, *, count: int) -> Path:
    """A break line."""
    length = math.dist(start, end)
    direction = math.atan2(end[1] - start[1], end[0] - start[0])
    size = min(scale, 0.5 * _MOST * length / count / _HALF_WIDTH)
    points = [start]
    for number in range(count):
        middle = length * (number + 0.5) / count
        for share, side in ((-1.0, 0.0), (-0.5, 1.0), (0.5, -1.0), (1.0, 0.0)):
            at = middle + share * _HALF_WIDTH * size
            points.append(along(start, direction, at, side * _HALF_HEIGHT * size))
    return Path((*points, end), closed=False, layer=Layer.NOTE)
