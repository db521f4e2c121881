"""Dimensions from one datum edge: each on a line of its own, the shortest next to the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.geometry import text_width
from mountcalc.drawing.model import TEXT_HEIGHT, Offset, Point
from mountcalc.scenario.model import Display

__all__ = ["LINE_PITCH", "Baseline", "Run", "baselines", "depth"]

LINE_PITCH = 2.6 * TEXT_HEIGHT
"""From one dimension line to the next on paper [m]: a text, its arrows and some air."""

_SAME = 1e-4  # [m] nobody marks out twice what is nearer together
_AIR = TEXT_HEIGHT


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
    """

    run: Run
    datum: Point
    first: float
    away: int
    reduction: float
    display: Display

    def line(self, level: int) -> float:
        """Where the dimension line of a level runs [m]; 0 is the first."""
        return self.first + self.away * level * LINE_PITCH * self.reduction


def baselines(baseline: Baseline, points: Iterable[Point]) -> tuple[Offset, ...]:
    """Dimension points from a datum.

    Parameters
    ----------
    baseline : Baseline
        The datum and where the dimension lines go.
    points : iterable of Point [m]
        What is measured; points on the datum, or as far from it as another on the same side, are
        left out.

    Returns
    -------
    tuple of Offset
        The nearest first. No two texts meet: what overlaps stands on another line, further out.
    """
    axis = baseline.run.value
    levels: list[list[tuple[float, float]]] = []
    found = []
    for point in _ordered(points, baseline.datum[axis], axis):
        distance = point[axis] - baseline.datum[axis]
        text = bench_length(abs(distance), baseline.display)
        taken = _taken(baseline.datum[axis], point[axis], text, baseline.reduction)
        level = _level(levels, taken)
        found.append(_offset(baseline, point, baseline.line(level), text))
    return tuple(found)


def depth(offsets: Sequence[Offset], baseline: Baseline) -> float:
    """How far dimension lines reach out beyond the first one.

    Parameters
    ----------
    offsets : sequence of Offset
        As :func:`baselines` made them.
    baseline : Baseline
        With which they were made.

    Returns
    -------
    float [m]
        Up to the outer side of the outermost text.
    """
    lines = [
        one.start[1] + one.shift if baseline.run is Run.ACROSS else one.start[0] - one.shift
        for one in offsets
    ]
    reach = max((baseline.away * (line - baseline.first) for line in lines), default=0.0)
    return reach + LINE_PITCH * baseline.reduction


def _ordered(points: Iterable[Point], datum: float, axis: int) -> list[Point]:
    """The nearest first, each distance once."""
    kept: list[Point] = []
    for point in sorted(points, key=lambda one: abs(one[axis] - datum)):
        is_new = all(abs(point[axis] - other[axis]) > _SAME for other in kept)
        if is_new and abs(point[axis] - datum) > _SAME:
            kept.append(point)
    return kept


def _taken(datum: float, at: float, text: str, reduction: float) -> tuple[float, float]:
    """What a dimension takes up of its line: from the datum to the point, or its text if wider."""
    middle = 0.5 * (datum + at)
    text_and_air = text_width(text, TEXT_HEIGHT * reduction) + _AIR * reduction
    half = 0.5 * max(abs(at - datum), text_and_air)
    return middle - half, middle + half


def _level(levels: list[list[tuple[float, float]]], taken: tuple[float, float]) -> int:
    """The first line with room for it, noted there."""
    for level, others in enumerate(levels):
        if all(taken[1] <= start or end <= taken[0] for start, end in others):
            others.append(taken)
            return level
    levels.append([taken])
    return len(levels) - 1


def _offset(baseline: Baseline, point: Point, line: float, text: str) -> Offset:
    """The dimension, measured rightward or upward whichever side of the datum the point is on."""
    axis = baseline.run.value
    start, end = sorted((baseline.datum, point), key=lambda one: one[axis])
    if baseline.run is Run.ACROSS:
        return Offset(start, end, line - start[1], text, direction=0.0)
    return Offset(start, end, start[0] - line, text, direction=0.5 * math.pi)
