"""Drawings on paper: pages of plain strokes, everything in metres on paper from the lower left."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from typing import TypeAlias, TypeGuard

from mountcalc.drafting.annotations import leader_label, leader_lines, offset_label, offset_lines
from mountcalc.drafting.extent import extremes
from mountcalc.drafting.geometry import moved
from mountcalc.drafting.model import (
    Arc,
    Bounds,
    Circle,
    Drawing,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = [
    "MARGIN",
    "PAPERS",
    "Page",
    "Paper",
    "Patch",
    "Stroke",
    "meets",
    "on_paper",
    "plain_strokes",
    "scaled",
    "shifted",
    "span",
]

Stroke: TypeAlias = Line | Arc | Circle | Path | Label

MARGIN = 0.010  # [m] that home printers may leave white, and a little more (estimate)


@dataclasses.dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper: its name, width and height [m]."""

    name: str
    width: float
    height: float

    def turned(self) -> Paper:
        """The same sheet on its other side."""
        return Paper(self.name, self.height, self.width)

    @property
    def lie(self) -> str:
        """How it lies."""
        return "landscape" if self.width > self.height else "portrait"


# ISO 216, and ANSI/ASME Y14.1 A and B.
PAPERS = {
    "a4": Paper("A4", 0.210, 0.297),
    "a3": Paper("A3", 0.297, 0.420),
    "letter": Paper("letter", 0.2159, 0.2794),
    "tabloid": Paper("tabloid", 0.2794, 0.4318),
}


@dataclasses.dataclass(frozen=True, slots=True)
class Patch:
    """Strokes on a page.

    Attributes
    ----------
    strokes : tuple of Stroke
        What is drawn.
    window : tuple of float, optional [m]
        They are shown only within it: left, bottom, right, top.
    workpiece : bool
        Whether they are the thing that is made; all else is for reading only.
    """

    strokes: tuple[Stroke, ...]
    window: Bounds | None = None
    workpiece: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Page:
    """One page: its size [m] and what stands on it."""

    width: float
    height: float
    patches: tuple[Patch, ...]


def plain_strokes(items: Iterable[Item], reduction: float) -> Iterator[Stroke]:
    """Items with their dimensions and leaders taken apart, in real size."""
    for item in items:
        match item:
            case Offset():
                yield from offset_lines(item, reduction)
                yield offset_label(item, reduction)
            case Leader():
                yield from leader_lines(item, reduction)
                yield leader_label(item, reduction)
            case _:
                yield item


def on_paper(drawing: Drawing, reduction: float) -> tuple[Stroke, ...]:
    """A drawing's strokes so many times smaller."""
    placed = max(reduction, drawing.reduction)
    growth = placed / reduction
    return tuple(
        dataclasses.replace(stroke, height=stroke.height * growth)
        if isinstance(stroke, Label)
        else stroke
        for stroke in (scaled(one, 1 / reduction) for one in plain_strokes(drawing.items, placed))
    )


def scaled(stroke: Stroke, scale: float) -> Stroke:
    """A stroke so many times larger about the origin; a text keeps its height."""

    def small(point: Point) -> Point:
        return point[0] * scale, point[1] * scale

    match stroke:
        case Arc() | Circle():
            centre, radius = small(stroke.centre), stroke.radius * scale
            return dataclasses.replace(stroke, centre=centre, radius=radius)
        case Path():
            return dataclasses.replace(stroke, points=tuple(map(small, stroke.points)))
        case Label():
            return dataclasses.replace(stroke, at=small(stroke.at))
        case Line():
            return dataclasses.replace(stroke, start=small(stroke.start), end=small(stroke.end))


def shifted(strokes: Iterable[Stroke], by: Point) -> tuple[Stroke, ...]:
    """Strokes in another place."""
    return tuple(stroke for stroke in (moved(one, by) for one in strokes) if _is_stroke(stroke))


def _is_stroke(item: Item) -> TypeGuard[Stroke]:
    return not isinstance(item, Offset | Leader)


def span(strokes: Iterable[Stroke]) -> Bounds:
    """Smallest upright rectangle around strokes on paper."""
    points = [point for stroke in strokes for point in extremes(stroke, 1.0)]
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)


def meets(stroke: Stroke, window: Bounds) -> bool:
    """Whether a stroke may be seen in a window."""
    left, bottom, right, top = span([stroke])
    return left <= window[2] and right >= window[0] and bottom <= window[3] and top >= window[1]
