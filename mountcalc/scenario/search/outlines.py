"""Outlines of keep-outs: area, edges that meet, points within."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from mountcalc.scenario.model import Vector

__all__ = ["area", "contains", "crossing_edges"]


def area(corners: Sequence[Vector]) -> float:
    """Area [m^2] of a polygon, positive where its corners [m] run counter-clockwise."""
    edges = zip(corners, [*corners[1:], corners[0]], strict=True)
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in edges) / 2


def contains(corners: Sequence[Vector], point: Vector) -> bool:
    """Whether a point [m] lies within a polygon: a ray to the right meets it an odd time."""
    inside = False
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (a[1] > point[1]) != (b[1] > point[1]):
            at = a[0] + (point[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
            inside ^= point[0] < at
    return inside


def crossing_edges(corners: Sequence[Vector]) -> tuple[int, int] | None:
    """Return two edges of an outline that meet where they should not, or None."""
    count = len(corners)
    edges = [(corners[index], corners[(index + 1) % count]) for index in range(count)]
    for first, second in combinations(range(count), 2):
        a, b = edges[first], edges[second]
        neighbours = second - first in {1, count - 1}
        if neighbours:
            # Neighbours share a corner; they meet elsewhere only where one turns back on the other.
            shared = b[0] if second - first == 1 else a[0]
            others = (a[0], b[1]) if second - first == 1 else (a[1], b[0])
            if _folded(others[0], shared, others[1]):
                return first, second
        elif _meet(*a, *b):
            return first, second
    return None


def _turn(a: Vector, b: Vector, c: Vector) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folded(a: Vector, corner: Vector, b: Vector) -> bool:
    """Whether the way from a to b turns straight back at a corner, or does not leave it."""
    along = (a[0] - corner[0]) * (b[0] - corner[0]) + (a[1] - corner[1]) * (b[1] - corner[1])
    return corner in (a, b) or (_turn(a, corner, b) == 0 and along > 0)


def _meet(a: Vector, b: Vector, c: Vector, d: Vector) -> bool:
    """Whether two segments have a point in common."""
    sides = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    within = ((c, a, b), (d, a, b), (a, c, d), (b, c, d))
    return any(
        side == 0 and _between(point, *ends)
        for side, (point, *ends) in zip(sides, within, strict=True)
    )


def _between(point: Vector, a: Vector, b: Vector) -> bool:
    """Whether a point in line with a segment lies on it."""
    return min(a[0], b[0]) <= point[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= point[1] <= max(
        a[1], b[1]
    )
