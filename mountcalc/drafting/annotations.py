"""Dimensions and leaders taken apart into lines and texts; what items span on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Align,
    Arc,
    Bounds,
    Circle,
    Item,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Path,
    Point,
    Stroke,
    along,
    around,
    sweep,
)
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

# On paper [m] (proportions common practice; ISO 129-1 leaves the sizes open).
ARROW_LENGTH = 0.003
_ARROW_HALF_ANGLE = math.radians(10)
_TAIL = 2 * ARROW_LENGTH  # of the dimension line past its ends, where it is short
_TEXT_GAP = 0.001  # between a dimension line and its text, a leader and its text
_EXTENSION_GAP = 0.001  # between what is measured and its extension line
_EXTENSION_PAST = 0.002  # the extension line past the dimension line

# Width of sans-serif text as a share of its capitals' height and count of letters (estimate).
_LETTER_WIDTH = 0.85
HANGING = 0.3
"""Of the height of a capital: what hangs below the base line."""

BEFORE: Mapping[Align, float] = {"left": 0.0, "centre": 0.5, "right": 1.0}
"""Share of a text's width that stands before its place."""


class Feet(Record):
    """Where a dimension line runs: its ends beside the measured points [m], its direction [rad]."""

    start: Point
    end: Point
    direction: float

    @property
    def length(self) -> float:
        """From foot to foot [m]."""
        return math.dist(self.start, self.end)


def feet(offset: Offset) -> Feet:
    """Where the dimension line of an offset runs."""
    across, up = offset.end[0] - offset.start[0], offset.end[1] - offset.start[1]
    direction = math.atan2(up, across) if offset.direction is None else offset.direction
    length = across * math.cos(direction) + up * math.sin(direction)
    start = along(offset.start, direction, 0.0, offset.shift)
    return Feet(start, along(start, direction, length), direction)


def text_width(text: str, height: float) -> float:
    """Estimated width of a text."""
    return _LETTER_WIDTH * height * len(text)


def readable(direction: float) -> float:
    """The direction, or its opposite, in which a text is read from below or from the right."""
    angle = math.remainder(direction, math.pi)
    return angle + math.pi if angle <= -math.pi / 2 + ROUNDING else angle


def plain_strokes(items: Iterable[Item], scale: float) -> Iterator[Stroke]:
    """Items with their dimensions and leaders taken apart, in real size."""
    for item in items:
        yield from strokes_of(item, scale)


def label_of(item: Item, scale: float) -> Label | None:
    """The text of an item at 1:scale, if it has one."""
    return next((one for one in strokes_of(item, scale) if isinstance(one, Label)), None)


def strokes_of(item: Item, scale: float) -> Iterator[Stroke]:
    """The lines of an item at 1:scale, then its text."""
    match item:
        case Leader():
            yield from _leader(item, scale)
        case Offset():
            yield from _dimension(item, scale)
        case _:
            yield item


def _leader(leader: Leader, scale: float) -> Iterator[Stroke]:
    (x, y), (end_x, end_y) = leader.at, leader.to
    yield Line(leader.at, leader.to, Layer.NOTE)
    yield _arrow(leader.at, math.atan2(end_y - y, end_x - x), Layer.NOTE, scale)
    right = end_x >= x
    at = end_x + (_TEXT_GAP if right else -_TEXT_GAP) * scale, end_y - TEXT_HEIGHT * scale / 2
    yield Label(at, leader.text, align="left" if right else "right", ground=True)


def _dimension(offset: Offset, scale: float) -> Iterator[Stroke]:
    """From the measured points, between them, arrows; the text over the line or beyond its end."""
    line, layer = feet(offset), offset.layer
    for point, foot in ((offset.start, line.start), (offset.end, line.end)):
        gap, past = _EXTENSION_GAP * scale, _EXTENSION_PAST * scale
        if math.dist(point, foot) > gap:
            direction = math.atan2(foot[1] - point[1], foot[0] - point[0])
            yield Line(along(point, direction, gap), along(foot, direction, past), layer)
    # From foot to foot: the other way where the end lies behind the start.
    (x, y), (end_x, end_y) = line.start, line.end
    forward = (end_x - x) * math.cos(line.direction) + (end_y - y) * math.sin(line.direction)
    run = line.direction if forward >= 0 else line.direction + math.pi
    is_short = line.length < 3 * ARROW_LENGTH * scale
    is_wide = line.length < text_width(offset.text, TEXT_HEIGHT * scale)
    tail = _TAIL * scale
    before, after = tail if is_short else 0.0, tail if is_short or is_wide else 0.0
    yield Line(along(line.start, run, -before), along(line.end, run, after), layer)
    turn = math.pi if is_short else 0.0
    yield _arrow(line.start, run + turn, layer, scale)
    yield _arrow(line.end, run + turn + math.pi, layer, scale)

    angle, gap = readable(line.direction), _TEXT_GAP * scale
    if is_wide:
        at = along(along(line.end, run, tail + gap), angle, 0.0, -TEXT_HEIGHT * scale / 2)
        align: Align = "left" if math.cos(run - angle) > 0 else "right"
    else:
        at, align = along(((x + end_x) / 2, (y + end_y) / 2), angle, 0.0, gap), "centre"
    yield Label(at, offset.text, TEXT_HEIGHT, layer, align, angle, ground=is_wide)


def _arrow(tip: Point, direction: float, layer: Layer, scale: float) -> Path:
    """An open arrow whose strokes run from its tip in a direction."""
    first, last = (
        along(tip, direction + turn, ARROW_LENGTH * scale)
        for turn in (_ARROW_HALF_ANGLE, -_ARROW_HALF_ANGLE)
    )
    return Path((first, tip, last), closed=False, layer=layer)


def extremes(item: Item, scale: float) -> Iterator[Point]:
    """Points between which an item lies at 1:scale, texts by the estimate of their width."""
    match item:
        case Line():
            yield from (item.start, item.end)
        case Path():
            yield from item.points
        case Arc() | Circle():
            yield from _extremes_of_arc(item)
        case Label():
            height = item.height * scale
            yield from corners(item, text_width(item.text, height), height)
        case Offset():
            yield from (item.start, item.end)
            for part in strokes_of(item, scale):
                yield from extremes(part, scale)
        case Leader():
            for part in strokes_of(item, scale):
                if not isinstance(part, Path):  # its arrow
                    yield from extremes(part, scale)


def _extremes_of_arc(arc: Arc | Circle) -> Iterator[Point]:
    yield along(arc.centre, arc.start, arc.radius)
    yield along(arc.centre, arc.end, arc.radius)
    for direction in (0.0, 0.5 * math.pi, math.pi, 1.5 * math.pi):
        if (direction - arc.start) % math.tau < sweep(arc):
            yield along(arc.centre, direction, arc.radius)


def corners(label: Label, width: float, height: float) -> Iterator[Point]:
    """Corners of a text so wide and, above its base line, so high."""
    before = BEFORE[label.align] * width
    for distance in (-before, width - before):
        for left in (-HANGING * height, height):
            yield along(label.at, label.angle, distance, left)


def text_boxes(items: Iterable[Item], scale: float) -> tuple[Bounds, ...]:
    """Upright rectangles around the texts among items."""
    labels = (label_of(item, scale) for item in items)
    return tuple(around(extremes(one, scale)) for one in labels if one is not None)
