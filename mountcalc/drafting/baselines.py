"""Dimensions from one datum edge: each on a line of its own, the shortest next to the drawing."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from mountcalc.drafting.annotations import ARROW_LENGTH
from mountcalc.drafting.extent import extremes
from mountcalc.drafting.geometry import text_width
from mountcalc.drafting.model import TEXT_HEIGHT, Item, Offset, Point
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display

__all__ = ["LINE_PITCH", "SAME", "Baseline", "Run", "baselines", "beside"]

LINE_PITCH = 2.2 * TEXT_HEIGHT
"""From one dimension line to the next on paper [m]: a text, its arrows and some air."""

SAME = 1e-4
"""Nobody marks out twice what is nearer together [m]."""

_AIR = TEXT_HEIGHT
_TAIL = 2 * ARROW_LENGTH  # of arrows that point in from outside


class Run(Enum):
    """Which way distances are measured."""

    ACROSS = 0
    UP = 1


@dataclass(frozen=True, slots=True)
class Baseline:
    """One set of dimensions.

    Attributes
    ----------
    run : Run
        Across (from a vertical datum) or up (from a level one).
    datum : Point [m]
        A point of the datum edge.
    first : float [m]
        Where the first dimension line runs: its y for ``Run.ACROSS``, its x for ``Run.UP``.
    away : int
        +1 where the next ones lie higher (further right), -1 where lower (further left).
    reduction : float [-]
        Of the drawing.
    display : Display
        Units of the texts.
    actual : callable
        Which distance along the run is drawn where [m to m]: texts tell true distances where a
        drawing leaves out a stretch.
    """

    run: Run
    datum: Point
    first: float
    away: int
    reduction: float
    display: Display
    actual: Callable[[float], float] = float

    def line(self, level: int) -> float:
        """Where the dimension line of a level runs [m]; 0 is the first."""
        return self.first + self.away * level * LINE_PITCH * self.reduction


def baselines(baseline: Baseline, points: Iterable[Point]) -> tuple[Offset, ...]:
    """Dimension points from a datum."""
    axis = baseline.run.value
    levels: list[list[tuple[float, float]]] = []
    found = []
    for point in _ordered(points, baseline.datum[axis], axis):
        one = _Dimension(baseline, point)
        line = baseline.line(_level(levels, one.taken))
        found.append(one.offset(line))
    return tuple(found)


def beside(items: Sequence[Item], left: float, reduction: float) -> float:
    """Where upright dimensions stand, so that none of their texts meets one that lies."""
    if reduction == 1:
        return left
    return min([left, *(x for item in items for x, _ in extremes(item, reduction))])


@dataclass(frozen=True, slots=True)
class _Dimension:
    """One dimension, before it is known on which line it stands."""

    baseline: Baseline
    point: Point

    @property
    def distance(self) -> float:
        """From the datum [m], with its sign."""
        axis = self.baseline.run.value
        return self.point[axis] - self.baseline.datum[axis]

    @property
    def text(self) -> str:
        axis, actual = self.baseline.run.value, self.baseline.actual
        distance = actual(self.point[axis]) - actual(self.baseline.datum[axis])
        return bench_length(abs(distance), self.baseline.display)

    @property
    def width(self) -> float:
        """Of the text [m]."""
        return text_width(self.text, TEXT_HEIGHT * self.baseline.reduction)

    @property
    def stands_aside(self) -> bool:
        """Whether the text is wider than the dimension."""
        return self.width > abs(self.distance)

    @property
    def tail(self) -> float:
        """How far arrows from outside reach out [m]."""
        is_short = abs(self.distance) < 1.5 * _TAIL * self.baseline.reduction
        return _TAIL * self.baseline.reduction if is_short else 0.0

    @property
    def taken(self) -> tuple[float, float]:
        """What it takes up of its line [m]."""
        datum, way = self.baseline.datum[self.baseline.run.value], math.copysign(1, self.distance)
        near = self.tail
        if self.stands_aside:
            near = self.width + (_TAIL + _AIR) * self.baseline.reduction
        ends = datum - way * near, datum + self.distance + way * self.tail
        return min(ends), max(ends)

    def offset(self, line: float) -> Offset:
        """The dimension on its line: from the point to the datum, beyond which wide texts stand."""
        datum, point = self.baseline.datum, self.point
        if self.baseline.run is Run.ACROSS:
            return Offset(point, datum, line - point[1], self.text, direction=0.0)
        return Offset(point, datum, point[0] - line, self.text, direction=0.5 * math.pi)


def _ordered(points: Iterable[Point], datum: float, axis: int) -> list[Point]:
    """The nearest first, each distance once."""
    kept: list[Point] = []
    for point in sorted(points, key=lambda one: abs(one[axis] - datum)):
        is_new = all(abs(point[axis] - other[axis]) > SAME for other in kept)
        if is_new and abs(point[axis] - datum) > SAME:
            kept.append(point)
    return kept


def _level(levels: list[list[tuple[float, float]]], taken: tuple[float, float]) -> int:
    """The first line with room for it, noted there."""
    for level, others in enumerate(levels):
        if all(taken[1] <= start or end <= taken[0] for start, end in others):
            others.append(taken)
            return level
    levels.append([taken])
    return len(levels) - 1
