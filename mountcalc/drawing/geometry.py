"""Items moved, mirrored and measured; where the parts of a dimension lie."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Mapping
from functools import singledispatch

from mountcalc.drawing.items import (
    TEXT_HEIGHT,
    Align,
    Arc,
    Circle,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = [
    "Feet",
    "along",
    "extremes",
    "feet",
    "mirrored",
    "moved",
    "text_width",
]

# Width of sans-serif text as a share of its capitals' height and count of letters (estimate).
_LETTER_WIDTH = 0.85

_OTHER_END: Mapping[Align, Align] = {"left": "right", "right": "left", "centre": "centre"}
_START_SHARE: Mapping[Align, float] = {"left": 0.0, "centre": 0.5, "right": 1.0}


@dataclasses.dataclass(frozen=True, slots=True)
class Feet:
    """Where a dimension line runs: its ends beside the measured points [m], its direction [rad]."""

    start: Point
    end: Point
    direction: float


def along(point: Point, direction: float, distance: float, left: float = 0.0) -> Point:
    """A point some way off in a direction.

    Parameters
    ----------
    point : Point [m]
        From where.
    direction : float [rad]
        Where to.
    distance : float [m]
        How far that way.
    left : float [m]
        How far to the left of it besides.

    Returns
    -------
    Point [m]
        The point.
    """
    cosine, sine = math.cos(direction), math.sin(direction)
    return (
        point[0] + distance * cosine - left * sine,
        point[1] + distance * sine + left * cosine,
    )


def feet(offset: Offset) -> Feet:
    """Where the dimension line of an offset runs.

    Parameters
    ----------
    offset : Offset
        The dimension.

    Returns
    -------
    Feet
        Its ends, and the direction from the first to the second.
    """
    across, up = offset.end[0] - offset.start[0], offset.end[1] - offset.start[1]
    direction = math.atan2(up, across) if offset.direction is None else offset.direction
    length = across * math.cos(direction) + up * math.sin(direction)
    start = along(offset.start, direction, 0.0, offset.shift)
    return Feet(start, along(start, direction, length), direction)


def text_width(text: str, height: float) -> float:
    """Estimated width of a text.

    Parameters
    ----------
    text : str
        One line.
    height : float [m]
        Of its capitals.

    Returns
    -------
    float [m]
        The width.
    """
    return _LETTER_WIDTH * height * len(text)


@singledispatch
def extremes(item: Item, reduction: float) -> Iterator[Point]:
    """Points between which an item lies.

    Parameters
    ----------
    item : Item
        What is measured.
    reduction : float [-]
        Of the drawing: texts are so many times larger in it than on paper.

    Yields
    ------
    Point [m]
        Corners and ends; no part of the item is left, right, above or below of all of them.
    """
    raise TypeError(f"no item of a drawing: {item!r}, {reduction}")


@extremes.register
def _(item: Line, _reduction: float) -> Iterator[Point]:
    yield item.start
    yield item.end


@extremes.register
def _(item: Path, _reduction: float) -> Iterator[Point]:
    yield from item.points


@extremes.register
def _(item: Circle, _reduction: float) -> Iterator[Point]:
    for quarter in range(4):
        yield along(item.centre, quarter * math.pi / 2, item.radius)


@extremes.register
def _(item: Arc, _reduction: float) -> Iterator[Point]:
    sweep = (item.end - item.start) % math.tau
    yield along(item.centre, item.start, item.radius)
    yield along(item.centre, item.end, item.radius)
    for quarter in range(4):
        if (quarter * math.pi / 2 - item.start) % math.tau < sweep:
            yield along(item.centre, quarter * math.pi / 2, item.radius)


@extremes.register
def _(item: Label, reduction: float) -> Iterator[Point]:
    height = item.height * reduction
    width = text_width(item.text, height)
    before = _START_SHARE[item.align] * width
    for distance in (-before, width - before):
        for left in (-0.3 * height, height):  # what hangs below the base line, and capitals
            yield along(item.at, item.angle, distance, left)


@extremes.register
def _(item: Offset, reduction: float) -> Iterator[Point]:
    line = feet(item)
    height = TEXT_HEIGHT * reduction
    spare = max(0.0, text_width(item.text, height) - math.dist(line.start, line.end)) / 2
    yield item.start
    yield item.end
    for left in (-2 * height, 2 * height):  # room for arrows and text
        yield along(line.start, line.direction, -spare, left)
        yield along(line.end, line.direction, spare, left)


@extremes.register
def _(item: Leader, reduction: float) -> Iterator[Point]:
    yield item.at
    align: Align = "left" if item.to[0] >= item.at[0] else "right"
    yield from extremes(Label(item.to, item.text, align=align), reduction)


def moved(item: Item, by: Point) -> Item:
    """An item in another place.

    Parameters
    ----------
    item : Item
        The item.
    by : Point [m]
        How far right and up.

    Returns
    -------
    Item
        All else as it was.
    """
    return _with_points(item, lambda point: (point[0] + by[0], point[1] + by[1]))


def mirrored(item: Item) -> Item:
    """An item turned over about the vertical line x = 0; texts stay readable.

    Parameters
    ----------
    item : Item
        The item.

    Returns
    -------
    Item
        Its mirror image.
    """
    item = _with_points(item, lambda point: (-point[0], point[1]))
    match item:
        case Arc():
            return dataclasses.replace(item, start=math.pi - item.end, end=math.pi - item.start)
        case Label():
            # Read the other way round, the text covers the mirror image of where it stood.
            return dataclasses.replace(item, align=_OTHER_END[item.align], angle=-item.angle)
        case Offset():
            direction = None if item.direction is None else math.pi - item.direction
            return dataclasses.replace(item, shift=-item.shift, direction=direction)
        case _:
            return item


def _with_points(item: Item, change: Callable[[Point], Point]) -> Item:
    """The item with each of its points changed."""
    match item:
        case Arc() | Circle():
            return dataclasses.replace(item, centre=change(item.centre))
        case Path():
            return dataclasses.replace(item, points=tuple(map(change, item.points)))
        case Label():
            return dataclasses.replace(item, at=change(item.at))
        case Leader():
            return dataclasses.replace(item, at=change(item.at), to=change(item.to))
        case Line() | Offset():
            return dataclasses.replace(item, start=change(item.start), end=change(item.end))
