"""Points and outlines of the drawing: pairs of quantities, boxes, polygons that do not cross."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import combinations, pairwise
from typing import TypeVar

from mountcalc.scenario.text.quantities import (
    POSITION,
    ValueTextError,
    fail,
    read_quantity,
    refuse,
)
from mountcalc.scenario.text.writing import Vector

_Item = TypeVar("_Item")

_LEAST_CORNERS, _MOST_CORNERS = 3, 200
_NO_AREA = 1e-9  # [m^2]
BOX = 'two opposite corners wanted (such as [["10 in", "-20 in"], ["14 in", "0 in"]])'
POLYGON = (
    'three or more corners in order wanted (such as [["0 in", "0 in"], ["9 in", "0 in"], '
    '["0 in", "5 in"]])'
)


def pair(value: object, wanted: str) -> list[object]:
    """Take a list of two, for which that is said to be wanted."""
    if not isinstance(value, list) or len(value) != 2:  # noqa: PLR2004
        refuse(wanted, value)
    return value


def read_point(value: object) -> Vector:
    """Read a point ``["x", "y"]`` [m]."""
    both = pair(value, 'point wanted (such as ["-20 in", "-4 in"]: x to the right, y up)')
    x, y = _each(dict(zip("xy", both, strict=True)), lambda text: read_quantity(text, POSITION))
    return x, y


def _each(items: Mapping[str, object], read: Callable[[object], _Item]) -> list[_Item]:
    """Read several things that have names; of those that are wrong, the first three are told."""
    found, faults = [], []
    for name, item in items.items():
        try:
            found.append(read(item))
        except ValueTextError as error:
            faults.append(f"{name}: {error}")
    if faults:
        fail("; ".join(faults[:3]))
    return found


def read_box(value: object) -> tuple[Vector, ...]:
    """Read a box between two opposite corners as its four corners [m]."""
    (x0, y0), (x1, y1) = _corners(pair(value, BOX))
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    if abs(area(corners)) < _NO_AREA:
        fail("a box with some width and height wanted: its corners lie on one line")
    return corners


def read_polygon(value: object) -> tuple[Vector, ...]:
    """Read the corners [m] of a polygon whose edges do not cross or touch."""
    if not isinstance(value, list) or len(value) < _LEAST_CORNERS:
        refuse(POLYGON, value)
    if len(value) > _MOST_CORNERS:
        fail(f"at most {_MOST_CORNERS} corners wanted, got {len(value)}")
    corners = _corners(value)
    if corners[0] == corners[-1]:
        corners = corners[:-1]
    fan = ((corners[0], *pair) for pair in pairwise(corners))
    if sum(abs(area(triangle)) for triangle in fan) < _NO_AREA:
        fail("an outline with some area wanted: its corners lie on one line")
    crossing = crossing_edges(corners)
    if crossing is not None:
        first, second = (index + 1 for index in crossing)
        fail(
            "an outline that does not meet itself wanted, its corners in order: the edge from "
            f"corner {first} meets the one from corner {second}"
        )
    return corners


def _corners(value: list[object]) -> tuple[Vector, ...]:
    """Read points; a mistake in one names it by its number."""
    return tuple(_each({f"corner {n}": item for n, item in enumerate(value, 1)}, read_point))


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
    edges = list(enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)))
    for (first, (a, b)), (second, (c, d)) in combinations(edges, 2):
        # Neighbours share a corner; they meet elsewhere only where one turns back on the other.
        if second - first == 1:
            meets = _folded(a, b, d)
        elif second - first == len(corners) - 1:
            meets = _folded(b, a, c)
        else:
            meets = _meet(a, b, c, d)
        if meets:
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
        side == 0 and all(min(p, q) <= at <= max(p, q) for at, p, q in zip(*points, strict=True))
        for side, points in zip(sides, within, strict=True)
    )
