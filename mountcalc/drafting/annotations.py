"""Dimensions and leaders taken apart into lines and texts; what items span on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

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
    along,
    around,
    sweep,
)

__all__ = [
    "ARROW_LENGTH",
    "BEFORE",
    "HANGING",
    "Feet",
    "extremes",
    "feet",
    "label_of",
    "leader_label",
    "lines_of",
    "offset_label",
    "readable",
    "text_boxes",
    "text_width",
]

# On paper [m] (proportions common practice; ISO 129-1 leaves the sizes open).
ARROW_LENGTH = 0.003
_ARROW_HALF_ANGLE = math.radians(10)
_TAIL = 2 * ARROW_LENGTH  # of the dimension line past its ends, where it is short
_TEXT_GAP = 0.001  # between a dimension line and its text, a leader and its text
_EXTENSION_GAP = 0.001  # between what is measured and its extension line
_EXTENSION_PAST = 0.002  # the extension line past the dimension line
_ROUNDING = 1e-9  # [rad]

# Width of sans-serif text as a share of its capitals' height and count of letters (estimate).
_LETTER_WIDTH = 0.85
HANGING = 0.3
"""Of the height of a capital: what hangs below the base line."""

BEFORE: Mapping[Align, float] = {"left": 0.0, "centre": 0.5, "right": 1.0}
"""Share of a text's width that stands before its place."""


@dataclass(frozen=True, slots=True)
class Feet:
    """Where a dimension line runs: its ends beside the measured points [m], its direction [rad]."""

    start: Point
    end: Point
    direction: float

    @property
    def run(self) -> float:
        """Direction from foot to foot: the other way where the end lies behind the start."""
        across, up = self.end[0] - self.start[0], self.end[1] - self.start[1]
        forward = across * math.cos(self.direction) + up * math.sin(self.direction)
        return self.direction if forward >= 0 else self.direction + math.pi

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
    return angle + math.pi if angle <= -math.pi / 2 + _ROUNDING else angle


def label_of(item: Item, scale: float) -> Label | None:
    """The text of an item at 1:scale, if it has one."""
    match item:
        case Label():
            return item
        case Leader():
            return leader_label(item, scale)
        case Offset():
            return offset_label(item, scale)
        case _:
            return None


def lines_of(item: Item, scale: float) -> Iterator[Line | Arc | Circle | Path]:
    """The lines of an item at 1:scale."""
    match item:
        case Label():
            pass
        case Leader():
            yield Line(item.at, item.to, Layer.NOTE)
            direction = math.atan2(item.to[1] - item.at[1], item.to[0] - item.at[0])
            yield _arrow(item.at, direction, Layer.NOTE, scale)
        case Offset():
            yield from _offset_lines(item, scale)
        case _:
            yield item


def leader_label(leader: Leader, scale: float) -> Label:
    """The text of a leader, beside the end of its line."""
    right = leader.to[0] >= leader.at[0]
    gap = _TEXT_GAP * scale
    at = leader.to[0] + (gap if right else -gap), leader.to[1] - TEXT_HEIGHT * scale / 2
    align: Align = "left" if right else "right"
    return Label(at, leader.text, TEXT_HEIGHT, Layer.NOTE, align, ground=True)


def offset_label(offset: Offset, scale: float) -> Label:
    """The text of a dimension: over the middle of its line, or beyond its end where it is wider."""
    line = feet(offset)
    angle = readable(line.direction)
    gap = _TEXT_GAP * scale
    if not _text_outside(offset, line, scale):
        middle = (line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2
        at = along(middle, angle, 0.0, gap)
        return Label(at, offset.text, TEXT_HEIGHT, offset.layer, "centre", angle)
    end = along(line.end, line.run, _TAIL * scale + gap)
    align: Align = "left" if math.cos(line.run - angle) > 0 else "right"
    at = along(end, angle, 0.0, -TEXT_HEIGHT * scale / 2)
    return Label(at, offset.text, TEXT_HEIGHT, offset.layer, align, angle, ground=True)


def _text_outside(offset: Offset, line: Feet, scale: float) -> bool:
    return line.length < text_width(offset.text, TEXT_HEIGHT * scale)


def _offset_lines(offset: Offset, scale: float) -> Iterator[Line | Path]:
    """From the measured points, between them, and arrows."""
    line = feet(offset)
    for point, foot in ((offset.start, line.start), (offset.end, line.end)):
        gap, past = _EXTENSION_GAP * scale, _EXTENSION_PAST * scale
        if math.dist(point, foot) > gap:
            direction = math.atan2(foot[1] - point[1], foot[0] - point[0])
            ends = along(point, direction, gap), along(foot, direction, past)
            yield Line(*ends, offset.layer)
    outside = line.length < 3 * ARROW_LENGTH * scale
    tail = _TAIL * scale
    before = tail if outside else 0.0
    after = tail if outside or _text_outside(offset, line, scale) else 0.0
    ends = along(line.start, line.run, -before), along(line.end, line.run, after)
    yield Line(*ends, offset.layer)
    turn = math.pi if outside else 0.0
    yield _arrow(line.start, line.run + turn, offset.layer, scale)
    yield _arrow(line.end, line.run + turn + math.pi, offset.layer, scale)


def _arrow(tip: Point, direction: float, layer: Layer, scale: float) -> Path:
    """An open arrow whose strokes run from its tip in a direction."""
    barbs = [
        along(tip, direction + turn, ARROW_LENGTH * scale)
        for turn in (_ARROW_HALF_ANGLE, -_ARROW_HALF_ANGLE)
    ]
    return Path((barbs[0], tip, barbs[1]), closed=False, layer=layer)


def extremes(item: Item, scale: float) -> Iterator[Point]:
    """Points between which an item lies at 1:scale, texts by the estimate of their width."""
    match item:
        case Line():
            yield from (item.start, item.end)
        case Path():
            yield from item.points
        case Circle():
            for quarter in range(4):
                yield along(item.centre, quarter * math.pi / 2, item.radius)
        case Arc():
            yield from _extremes_of_arc(item)
        case Label():
            yield from _corners(item, scale)
        case Offset():
            yield from (item.start, item.end)
            for part in (*_offset_lines(item, scale), offset_label(item, scale)):
                yield from extremes(part, scale)
        case Leader():
            yield from (item.at, item.to, *_corners(leader_label(item, scale), scale))


def _extremes_of_arc(arc: Arc) -> Iterator[Point]:
    yield along(arc.centre, arc.start, arc.radius)
    yield along(arc.centre, arc.end, arc.radius)
    for direction in (0.0, 0.5 * math.pi, math.pi, 1.5 * math.pi):
        if (direction - arc.start) % math.tau < sweep(arc):
            yield along(arc.centre, direction, arc.radius)


def _corners(label: Label, scale: float) -> Iterator[Point]:
    height = label.height * scale
    width = text_width(label.text, height)
    before = BEFORE[label.align] * width
    for distance in (-before, width - before):
        for left in (-HANGING * height, height):
            yield along(label.at, label.angle, distance, left)


def text_boxes(items: Iterable[Item], scale: float) -> tuple[Bounds, ...]:
    """Upright rectangles around the texts among items."""
    labels = (label_of(item, scale) for item in items)
    return tuple(around(extremes(one, scale)) for one in labels if one is not None)
