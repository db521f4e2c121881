"""Points in one plane from what a tape reads: heights, distances from a wall, spans.

The machine's shaft is the origin, x to the right, y up. Floor and wall are two more unknowns, so
that heights and distances count against one another only. Where there are more readings than
unknowns the squares of what they miss by are least.

Symbols
-------
readings : what the tape said, each of them once
names : points to be found: motor and hinge, then what hangs on them
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from enum import StrEnum
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.record import Record
from mountcalc.scenario.text.writing import Vector

Array = NDArray[np.float64]

DRIVEN = "driven"
ORIGIN = (0.0, 0.0)
_STEPS = 60
_KEPT = 6  # places from which those of further points are looked for
_AROUND = 6  # starts on a circle
_STILL = 1e-9  # [m] a step that moves nothing
# Solutions nearer than this [m] are one.
_APART = 1e-4
# Of a singular value over the greatest: below it the readings leave a direction open.
_OPEN = 1e-6


class Tells(StrEnum):
    """What a reading is measured from."""

    HEIGHT = "height"
    WALL = "wall"
    SPAN = "span"


class TapeReading(NamedTuple):
    """One reading [m]: a point's height, its distance from the wall, or a span of two points."""

    key: str
    tells: Tells
    points: tuple[str, ...]
    value: float


class Found(Record):
    """Where points are [m] by name, and how the readings miss them.

    ``levels`` [m] are the heights or distances from the wall that the machine's shaft has there;
    ``misses`` (n,) is each reading less what it would be, ``slopes`` (n, p) how what it would be
    changes with the p unknowns.
    """

    points: Mapping[str, Vector]
    levels: Mapping[Tells, float]
    misses: Array
    slopes: Array

    @property
    def off(self) -> float:
        """Root of the sum of squares of the misses [m]."""
        return float(np.linalg.norm(self.misses))

    @property
    def is_open(self) -> bool:
        """Whether the readings leave a point free to move."""
        return _free(self.slopes) > 0

    def would_read(self, one: TapeReading, side: int) -> float:
        """What a tape would read [m]; where nothing tells it, what it did read."""
        places = [ORIGIN if name == DRIVEN else self.points[name] for name in one.points]
        if one.tells is Tells.SPAN:
            return math.dist(*places)
        x, y = places[0]
        level = self.levels.get(one.tells)
        return (
            one.value if level is None else level + (y if one.tells is Tells.HEIGHT else side * x)
        )

    def spread(self, error: float) -> Array:
        """How far each unknown may be off [m] where no reading is off by more than an error."""
        spread: Array = np.abs(np.linalg.pinv(self.slopes)).sum(axis=1) * error
        return spread


def _free(slopes: Array) -> int:
    """How many ways readings leave open."""
    sizes = np.linalg.svd(slopes, compute_uv=False)
    told = int(np.count_nonzero(sizes > _OPEN * sizes.max(initial=1.0)))
    return int(slopes.shape[1]) - told


class _Unknowns:
    """The unknowns in one array: x and y of each point, then the heights and the distances' zero.

    What a height or a distance from the wall reads is linear in them, ``straight`` (n, p); a span
    is the length of a vector that is, ``across`` (2, n, p). The rows of other readings are zero.
    """

    def __init__(self, readings: Sequence[TapeReading], names: Sequence[str], side: int) -> None:
        self.readings, self.names = readings, names
        told = {one.tells for one in readings}
        self.levels = [one for one in (Tells.HEIGHT, Tells.WALL) if one in told]
        self.size = 2 * len(names) + len(self.levels)
        self.values = np.array([one.value for one in readings])
        self.straight = np.zeros((len(readings), self.size))
        self.across = np.zeros((2, len(readings), self.size))
        for row, one in enumerate(readings):
            if one.tells is not Tells.SPAN:
                self.straight[row, 2 * len(names) + self.levels.index(one.tells)] = 1.0
            for name, end in zip(one.points, (-1, 1), strict=False):
                at = 2 * names.index(name) if name in names else self.size
                if one.tells is Tells.SPAN:
                    self.across[0, row, at : at + 1] = self.across[1, row, at + 1 : at + 2] = end
                elif one.tells is Tells.HEIGHT:
                    self.straight[row, at + 1 : at + 2] = 1.0
                else:
                    self.straight[row, at : at + 1] = side

    def expected(self, unknowns: Array) -> tuple[Array, Array]:
        """What the tape would read, (starts, n), and its slopes, (starts, n, p)."""
        x, y = (unknowns @ one.T for one in self.across)
        length = np.hypot(x, y)
        safe = np.maximum(length, 1e-9)
        along = (x / safe)[..., None] * self.across[0] + (y / safe)[..., None] * self.across[1]
        return unknowns @ self.straight.T + length, self.straight + along

    def starts(self, near: Sequence[Mapping[str, Vector]]) -> Array:
        """Places to start from: points where they are known, others on circles round these."""
        size = float(np.median(self.values)) if self.readings else 1.0
        angles = 0.3 + np.arange(_AROUND) * math.tau / _AROUND
        circle = [(size * math.cos(angle), size * math.sin(angle)) for angle in angles]
        starts = []
        for known in near:
            x, y = np.mean([ORIGIN, *known.values()], axis=0)
            others = [name for name in self.names if name not in known]
            for steps in product(circle, repeat=len(others)):
                at = dict(known)
                at |= {n: (x + s, y + t) for n, (s, t) in zip(others, steps, strict=True)}
                starts.append([*(at[name] for name in self.names)])
        points = np.reshape(starts, (len(starts), -1))
        return np.hstack([points, np.full((len(points), len(self.levels)), size)])


def positions(
    readings: Sequence[TapeReading],
    names: Sequence[str],
    side: int,
    near: Sequence[Mapping[str, Vector]] = (),
) -> list[Found]:
    """Return all places at which the readings are missed by least nearby, the best first.

    ``side`` is +1 where the wall is on the left, -1 on the right. Motor and hinge are found first,
    and what hangs on them from there; or, in less time, all of them near where they may be.
    """
    if near:
        return _nearby(_Unknowns(readings, names, side), near)
    found: list[Found] = []
    near = [{}]
    for count in range(min(2, len(names)), len(names) + 1):
        known = {DRIVEN, *names[:count]}
        read = [one for one in readings if known.issuperset(one.points)]
        found = _nearby(_Unknowns(read, names[:count], side), near)
        near = [dict(one.points) for one in found[:_KEPT]]
    return found


def _nearby(unknowns: _Unknowns, near: Sequence[Mapping[str, Vector]]) -> list[Found]:
    """The different places that starts near some places lead to, the best first."""
    at = _least(unknowns, unknowns.starts(near))
    expected, slopes = unknowns.expected(at)
    misses = unknowns.values - expected
    found: list[Found] = []
    for one in np.argsort(np.linalg.norm(misses, axis=1).round(9), kind="stable"):
        points = {
            name: (float(at[one, 2 * n]), float(at[one, 2 * n + 1]))
            for n, name in enumerate(unknowns.names)
        }
        if all(_far(points, other.points) > _APART for other in found):
            levels = dict(zip(unknowns.levels, at[one, 2 * len(points) :].tolist(), strict=True))
            found.append(Found(points, levels, misses[one], slopes[one]))
    return found


def _far(one: Mapping[str, Vector], other: Mapping[str, Vector]) -> float:
    return max(math.dist(one[name], other[name]) for name in one)


def _least(unknowns: _Unknowns, at: Array) -> Array:
    """Least squares from many starts at once, each with a damping of its own."""
    damping = np.full(len(at), 1e-3)
    expected, slopes = unknowns.expected(at)
    misses = unknowns.values - expected
    squares = (misses**2).sum(axis=1)
    for _ in range(_STEPS):
        turned = slopes.transpose(0, 2, 1)
        normal = turned @ slopes + damping[:, None, None] * np.eye(unknowns.size)
        step = np.linalg.solve(normal, turned @ misses[..., None])[..., 0]
        trial = at + step
        expected, tried = unknowns.expected(trial)
        left = unknowns.values - expected
        better = (left**2).sum(axis=1) <= squares
        at = np.where(better[:, None], trial, at)
        misses = np.where(better[:, None], left, misses)
        slopes = np.where(better[:, None, None], tried, slopes)
        squares = (misses**2).sum(axis=1)
        damping = np.where(better, damping * 0.1, damping * 10.0).clip(1e-12, 1e6)
        if np.abs(step).max() < _STILL:
            break
    return at


def open_ways(
    readings: Sequence[TapeReading], names: Sequence[str], points: Mapping[str, Vector], side: int
) -> int:
    """In how many ways points may move from where they are without any reading's change."""
    unknowns = _Unknowns(readings, names, side)
    at = np.concatenate([*(points[name] for name in names), [0.0] * len(unknowns.levels)])
    return _free(unknowns.expected(at[None])[1][0])
