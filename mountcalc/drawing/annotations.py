"""Dimensions and leaders taken apart into lines and texts, sized for a reduction."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.drawing.geometry import Feet, along, feet
from mountcalc.drawing.items import (
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
    "arrows_outside",
    "leader_label",
    "leader_lines",
    "offset_label",
    "offset_lines",
    "readable",
]

# On paper [m] (proportions common practice; ISO 129-1 leaves the sizes open).
ARROW_LENGTH = 0.003
_ARROW_HALF_ANGLE = math.radians(10)
_TEXT_GAP = 0.001  # between a dimension line and its text, a leader and its text
_EXTENSION_GAP = 0.001  # between what is measured and its extension line
_EXTENSION_PAST = 0.002  # the extension line past the dimension line

_ROUNDING = 1e-9  # [rad]


def readable(direction: float) -> float:
    """The direction, or its opposite, in which a text is read from below or from the right.

    Parameters
    ----------
    direction : float [rad]
        Of a line.

    Returns
    -------
    float [rad]
        Above -pi/2 and up to pi/2.
    """
    angle = math.remainder(direction, math.pi)
    return angle + math.pi if angle <= -math.pi / 2 + _ROUNDING else angle


def arrows_outside(offset: Offset, reduction: float) -> bool:
    """Whether a dimension is too short for arrows between its ends.

    Parameters
    ----------
    offset : Offset
        The dimension.
    reduction : float [-]
        Of the drawing.

    Returns
    -------
    bool
        True where the arrows point inwards from outside.
    """
    line = feet(offset)
    return math.dist(line.start, line.end) < 3 * ARROW_LENGTH * reduction


def offset_label(offset: Offset, reduction: float) -> Label:
    """The text of a dimension, over the middle of its line.

    Parameters
    ----------
    offset : Offset
        The dimension.
    reduction : float [-]
        Of the drawing.

    Returns
    -------
    Label
        Read along the dimension line.
    """
    line = feet(offset)
    middle = (line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2
    angle = readable(line.direction)
    at = along(middle, angle, 0.0, _TEXT_GAP * reduction)
    return Label(at, offset.text, TEXT_HEIGHT, offset.ink, "centre", angle)


def offset_lines(offset: Offset, reduction: float) -> Iterator[Line | Path]:
    """The lines of a dimension: from the measured points, between them, and arrows.

    Parameters
    ----------
    offset : Offset
        The dimension.
    reduction : float [-]
        Of the drawing.

    Yields
    ------
    Line or Path
        In the ink of the dimension.
    """
    line = feet(offset)
    outside = arrows_outside(offset, reduction)
    for point, foot in ((offset.start, line.start), (offset.end, line.end)):
        yield from _extension(point, foot, offset.ink, reduction)
    tail = 2 * ARROW_LENGTH * reduction if outside else 0.0
    start, end, direction = line.start, line.end, _run(line)
    yield Line(along(start, direction, -tail), along(end, direction, tail), offset.ink)
    turn = math.pi if outside else 0.0
    yield _arrow(start, direction + turn, offset.ink, reduction)
    yield _arrow(end, direction + turn + math.pi, offset.ink, reduction)


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
    """The text of a leader, beside the end of its line.

    Parameters
    ----------
    leader : Leader
        The leader.
    reduction : float [-]
        Of the drawing.

    Returns
    -------
    Label
        Its middle at the height of the line's end.
    """
    right = leader.to[0] >= leader.at[0]
    align: Align = "left" if right else "right"
    gap = _TEXT_GAP * reduction
    at = (
        leader.to[0] + (gap if right else -gap),
        leader.to[1] - TEXT_HEIGHT * reduction / 2,
    )
    return Label(at, leader.text, TEXT_HEIGHT, Ink.NOTE, align)


def leader_lines(leader: Leader, reduction: float) -> Iterator[Line | Path]:
    """The line of a leader and its arrow.

    Parameters
    ----------
    leader : Leader
        The leader.
    reduction : float [-]
        Of the drawing.

    Yields
    ------
    Line or Path
        In the ink of notes.
    """
    yield Line(leader.at, leader.to, Ink.NOTE)
    direction = math.atan2(leader.to[1] - leader.at[1], leader.to[0] - leader.at[0])
    yield _arrow(leader.at, direction, Ink.NOTE, reduction)
