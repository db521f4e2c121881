"""Items moved and turned over; where a dimension line runs, and how wide a text is."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Mapping

from mountcalc.drafting.items import (
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
    "bends",
    "feet",
    "mirrored",
    "moved",
    "sweep",
    "text_width",
    "whole_turn",
]

# Width of sans-serif text as a share of its capitals' height and count of letters (estimate).
_LETTER_WIDTH = 0.85

# Of a curve: it strays from the circle by less than 1e-9 of it.
_MOST_TURN = math.pi / 8

_OTHER_END: Mapping[Align, Align] = {"left": "right", "right": "left", "centre": "centre"}


@dataclasses.dataclass(frozen=True, slots=True)
class Feet:
    """Where a dimension line runs: its ends beside the measured points [m], its direction [rad]."""

    start: Point
    end: Point
    direction: float


def along(point: Point, direction: float, distance: float, left: float = 0.0) -> Point:
    """A point some way off in a direction."""
    cosine, sine = math.cos(direction), math.sin(direction)
    return (
        point[0] + distance * cosine - left * sine,
        point[1] + distance * sine + left * cosine,
    )


def feet(offset: Offset) -> Feet:
    """Where the dimension line of an offset runs."""
    across, up = offset.end[0] - offset.start[0], offset.end[1] - offset.start[1]
    direction = math.atan2(up, across) if offset.direction is None else offset.direction
    length = across * math.cos(direction) + up * math.sin(direction)
    start = along(offset.start, direction, 0.0, offset.shift)
    return Feet(start, along(start, direction, length), direction)


def sweep(arc: Arc) -> float:
    """How far an arc turns."""
    return (arc.end - arc.start) % math.tau or math.tau


def whole_turn(circle: Circle) -> Arc:
    """A circle as an arc."""
    return Arc(circle.centre, circle.radius, 0.0, 0.0, circle.ink)


def bends(arc: Arc) -> Iterator[tuple[Point, Point, Point]]:
    """The cubic curves that an arc is made of: two corners and the end of each."""
    turn = sweep(arc)
    count = max(1, math.ceil(turn / _MOST_TURN))
    step = turn / count
    reach = 4 / 3 * math.tan(step / 4) * arc.radius
    for number in range(count):
        start = arc.start + number * step
        end = start + step
        yield (
            along(arc.centre, start, arc.radius, reach),
            along(arc.centre, end, arc.radius, -reach),
            along(arc.centre, end, arc.radius),
        )


def text_width(text: str, height: float) -> float:
    """Estimated width of a text."""
    return _LETTER_WIDTH * height * len(text)


def moved(item: Item, by: Point) -> Item:
    """An item in another place."""
    return _with_points(item, lambda point: (point[0] + by[0], point[1] + by[1]))


def mirrored(item: Item) -> Item:
    """An item turned over about the vertical line x = 0; texts stay readable."""
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
