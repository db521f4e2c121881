"""What a drawing is made of: items in metres, each on the layer that says what it is for.

One plane: x right, y up, angles counter-clockwise from x. Lengths of the object are real [m];
heights of texts are those on paper [m], whatever the scale.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from enum import StrEnum
from typing import Any, ClassVar, Literal, TypeAlias, TypeVar

Point: TypeAlias = tuple[float, float]
Bounds: TypeAlias = tuple[float, float, float, float]  # left, bottom, right, top
Align: TypeAlias = Literal["left", "centre", "right"]

TEXT_HEIGHT = 0.003  # [m] on paper; the least that is legible from a home printer (estimate)

_OTHER_END: Mapping[Align, Align] = {"left": "right", "right": "left", "centre": "centre"}
# Of a curve: it strays from the circle by less than 1e-9 of it.
_MOST_TURN = math.pi / 8


class Layer(StrEnum):
    """What a line is for on the bench."""

    CUT = "CUT"  # sawn or routed through
    DRILL = "DRILL"
    MARK = "MARK"  # scribed, not cut
    POCKET = "POCKET"  # taken out to a depth, as a mortise
    VISIBLE = "VISIBLE"  # solid outline of what a view shows: nothing is cut along it
    EDGE = "EDGE"  # outline of a neighbour, or of another position
    CENTRE = "CENTRE"  # centre lines
    DIMENSION = "DIMENSION"
    NOTE = "NOTE"


@dataclasses.dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    layer: Layer


@dataclasses.dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise [rad]; a whole turn where both ends are one direction."""

    centre: Point
    radius: float
    start: float
    end: float
    layer: Layer


@dataclasses.dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle: an arc all round."""

    centre: Point
    radius: float
    layer: Layer
    start: ClassVar[float] = 0.0
    end: ClassVar[float] = 0.0


@dataclasses.dataclass(frozen=True, slots=True)
class Path:
    """Straight lines from point to point; a closed one does not repeat its first."""

    points: tuple[Point, ...]
    closed: bool
    layer: Layer


@dataclasses.dataclass(frozen=True, slots=True)
class Label:
    """One line of text.

    Its base line starts, has its middle, or ends ``at`` a point, as ``align`` says, and is read
    in the direction ``angle`` [rad]. ``height`` is that of a capital on paper. A text with
    ``ground`` stands on white, so that lines under it are hidden on paper.
    """

    at: Point
    text: str
    height: float = TEXT_HEIGHT
    layer: Layer = Layer.NOTE
    align: Align = "left"
    angle: float = 0.0
    ground: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Offset:
    """A linear dimension.

    Its line stands ``shift`` [m] from ``start``, to the left of the measured ``direction`` [rad]
    (None: from start to end). ``text`` is the distance in the units that are shown.
    """

    start: Point
    end: Point
    shift: float
    text: str
    layer: Layer = Layer.DIMENSION
    direction: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Leader:
    """A text with a thin line and an arrow to what it is about.

    The text stands at ``to``: to the right of it if it lies right of ``at``, else to the left.
    """

    at: Point
    to: Point
    text: str


Stroke: TypeAlias = Line | Arc | Circle | Path | Label
"""What is left of items when dimensions and leaders are taken apart."""

Item: TypeAlias = Stroke | Offset | Leader
_Any = TypeVar("_Any", bound=Item)


def along(point: Point, direction: float, distance: float, left: float = 0.0) -> Point:
    """A point some way off in a direction."""
    cosine, sine = math.cos(direction), math.sin(direction)
    return (
        point[0] + distance * cosine - left * sine,
        point[1] + distance * sine + left * cosine,
    )


def around(points: Iterable[Point]) -> Bounds:
    """Smallest upright rectangle around points."""
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)


def sweep(arc: Arc | Circle) -> float:
    """How far an arc turns."""
    return (arc.end - arc.start) % math.tau or math.tau


Way: TypeAlias = tuple[Point, list[tuple[Point, ...]], bool]


def way_of(line: Line | Arc | Circle | Path) -> Way:
    """Where a pen begins, its steps, and whether it comes back to its start.

    A step is the end of a straight line, or two corners and the end of a cubic curve.
    """
    match line:
        case Line():
            return line.start, [(line.end,)], False
        case Path():
            return line.points[0], [(point,) for point in line.points[1:]], line.closed
        case Arc() | Circle():
            start = along(line.centre, line.start, line.radius)
            return start, list(_bends(line)), isinstance(line, Circle)


def _bends(arc: Arc | Circle) -> Iterator[tuple[Point, ...]]:
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


def moved(item: _Any, by: Point) -> _Any:
    """An item in another place."""
    return _changed(item, lambda point: (point[0] + by[0], point[1] + by[1]))


def scaled(item: _Any, times: float, texts: float = 1.0) -> _Any:
    """An item so many times larger about the origin, its text by a factor of its own."""
    return _changed(item, lambda point: (point[0] * times, point[1] * times), times, texts)


def mirrored(item: Item) -> Item:
    """An item turned over about the vertical line x = 0; texts stay readable."""
    item = _changed(item, lambda point: (-point[0], point[1]))
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


def _changed(
    item: _Any, place: Callable[[Point], Point], times: float = 1.0, texts: float = 1.0
) -> _Any:
    """An item with all its points elsewhere, its radius and its text's height so much larger."""
    changed: dict[str, Any] = {}
    for name in item.__slots__:
        value = getattr(item, name)
        if name == "points":
            changed[name] = tuple(map(place, value))
        elif name == "radius":
            changed[name] = value * times
        elif name == "height":
            changed[name] = value * texts
        elif isinstance(value, tuple):
            changed[name] = place(value)
    return dataclasses.replace(item, **changed)
