"""Dimensions and leaders taken apart into lines and texts, sized for a reduction."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.drafting.geometry import Feet, along, feet, text_width
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Align,
    Ink,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = [
    "ARROW_LENGTH",
    "leader_label",
    "leader_lines",
    "offset_label",
    "offset_lines",
    "readable",
]

# On paper [m] (proportions common practice; ISO 129-1 leaves the sizes open).
ARROW_LENGTH = 0.003
_ARROW_HALF_ANGLE = math.radians(10)
_TAIL = 2 * ARROW_LENGTH  # of the dimension line past its ends, where it is short
_TEXT_GAP = 0.001  # between a dimension line and its text, a leader and its text
_EXTENSION_GAP = 0.001  # between what is measured and its extension line
_EXTENSION_PAST = 0.002  # the extension line past the dimension line

_ROUNDING = 1e-9  # [rad]


def readable(direction: float) -> float:
    """The direction, or its opposite, in which a text is read from below or from the right."""
    angle = math.remainder(direction, math.pi)
    return angle + math.pi if angle <= -math.pi / 2 + _ROUNDING else angle


def offset_label(offset: Offset, reduction: float) -> Label:
    """The text of a dimension: over the middle of its line, or beyond its end where it is wider."""
    line = feet(offset)
    angle = readable(line.direction)
    gap = _TEXT_GAP * reduction
    if not _text_outside(offset, line, reduction):
        middle = (line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2
        at = along(middle, angle, 0.0, gap)
        return Label(at, offset.text, TEXT_HEIGHT, offset.ink, "centre", angle)
    run = _run(line)
    end = along(line.end, run, _TAIL * reduction + gap)
    align: Align = "left" if math.cos(run - angle) > 0 else "right"
    at = along(end, angle, 0.0, -TEXT_HEIGHT * reduction / 2)
    return Label(at, offset.text, TEXT_HEIGHT, offset.ink, align, angle, ground=True)


def _text_outside(offset: Offset, line: Feet, reduction: float) -> bool:
    width = text_width(offset.text, TEXT_HEIGHT * reduction)
    return math.dist(line.start, line.end) < width


def offset_lines(offset: Offset, reduction: float) -> Iterator[Line | Path]:
    """The lines of a dimension: from the measured points, between them, and arrows."""
    line = feet(offset)
    outside = math.dist(line.start, line.end) < 3 * ARROW_LENGTH * reduction
    for point, foot in ((offset.start, line.start), (offset.end, line.end)):
        yield from _extension(point, foot, offset.ink, reduction)
    tail = _TAIL * reduction
    before = tail if outside else 0.0
    after = tail if outside or _text_outside(offset, line, reduction) else 0.0
    run = _run(line)
    yield Line(along(line.start, run, -before), along(line.end, run, after), offset.ink)
    turn = math.pi if outside else 0.0
    yield _arrow(line.start, run + turn, offset.ink, reduction)
    yield _arrow(line.end, run + turn + math.pi, offset.ink, reduction)


def _run(line: Feet) -> float:
    """Direction from foot to foot: against the measured one where the end lies behind the start."""
    across, up = line.end[0] - line.start[0], line.end[1] - line.start[1]
    forward = across * math.cos(line.direction) + up * math.sin(line.direction)
    return line.direction if forward >= 0 else line.direction + math.pi


def _extension(point: Point, foot: Point, ink: Ink, reduction: float) -> Iterator[Line]:
    length = math.dist(point, foot)
    gap, past = _EXTENSION_GAP * reduction, _EXTENSION_PAST * reduction
    if length > gap:
        direction = math.atan2(foot[1] - point[1], foot[0] - point[0])
        yield Line(along(point, direction, gap), along(foot, direction, past), ink)


def _arrow(tip: Point, direction: float, ink: Ink, reduction: float) -> Path:
    """An open arrow whose strokes run from its tip in a direction."""
    length = ARROW_LENGTH * reduction
    barbs = [
        along(tip, direction + turn, length) for turn in (_ARROW_HALF_ANGLE, -_ARROW_HALF_ANGLE)
    ]
    return Path((barbs[0], tip, barbs[1]), closed=False, ink=ink)


def leader_label(leader: Leader, reduction: float) -> Label:
    """The text of a leader, beside the end of its line."""
    right = leader.to[0] >= leader.at[0]
    align: Align = "left" if right else "right"
    gap = _TEXT_GAP * reduction
    at = (
        leader.to[0] + (gap if right else -gap),
        leader.to[1] - TEXT_HEIGHT * reduction / 2,
    )
    return Label(at, leader.text, TEXT_HEIGHT, Ink.NOTE, align, ground=True)


def leader_lines(leader: Leader, reduction: float) -> Iterator[Line | Path]:
    """The line of a leader and its arrow."""
    yield Line(leader.at, leader.to, Ink.NOTE)
    direction = math.atan2(leader.to[1] - leader.at[1], leader.to[0] - leader.at[0])
    yield _arrow(leader.at, direction, Ink.NOTE, reduction)
