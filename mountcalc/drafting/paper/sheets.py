"""Drawings on sheets of paper: plain strokes in metres from the lower left, and how lines look."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from typing import TypeAlias, cast

from mountcalc.drafting.annotations import extremes, label_of, lines_of
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    Arc,
    Bounds,
    Circle,
    Item,
    Label,
    Layer,
    Line,
    Path,
    Point,
    around,
    moved,
)

__all__ = [
    "LINES",
    "MARGIN",
    "PAPERS",
    "LineLook",
    "Page",
    "Paper",
    "Patch",
    "Stroke",
    "on_paper",
    "plain_strokes",
    "scaled",
    "shifted",
    "span",
]

Stroke: TypeAlias = Line | Arc | Circle | Path | Label

MARGIN = 0.010  # [m] that home printers may leave white, and a little more (estimate)


@dataclasses.dataclass(frozen=True, slots=True)
class LineLook:
    """A kind of line: width and dashes on paper [mm], colour on a screen by its number in DXF."""

    width: float
    dashes: tuple[float, ...]
    colour: int
    meaning: str


# Kinds and widths of lines after ISO 128-2 (from memory): wide for what is cut or seen, narrow for
# neighbours (long dash and two dots), centre lines (long dash and dot) and dimensions. Colours can
# be told from each other, on white and on black; what looks like an outline to cut, but is not
# one, is red. Texts are in the one colour that is black on white and white on black.
LINES: Mapping[Layer, LineLook] = {
    Layer.CUT: LineLook(0.5, (), 150, "cut through"),
    Layer.DRILL: LineLook(0.35, (), 220, "drill"),
    Layer.MARK: LineLook(0.35, (6.0, 1.2), 32, "mark, do not cut"),
    Layer.POCKET: LineLook(0.35, (2.0, 1.0), 92, "take out to a depth"),
    Layer.VISIBLE: LineLook(0.5, (), 240, "what is seen: do not cut"),
    Layer.EDGE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8, 0.4, 0.8), 64, "outline of blank or neighbour"),
    Layer.CENTRE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8), 132, "centre"),
    Layer.DIMENSION: LineLook(0.25, (), 190, "dimension"),
    Layer.NOTE: LineLook(0.25, (), 7, "note"),
}


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
    """Strokes on a page, shown only within their window, if they have one.

    Those of the ``workpiece`` are the thing that is made; all else is for reading only.
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


def plain_strokes(items: Iterable[Item], scale: float) -> Iterator[Stroke]:
    """Items with their dimensions and leaders taken apart, in real size."""
    for item in items:
        yield from lines_of(item, scale)
        label = label_of(item, scale)
        if label is not None:
            yield label


def on_paper(drawing: Drawing, scale: float) -> tuple[Stroke, ...]:
    """A drawing's strokes at 1:scale."""
    placed = max(scale, drawing.scale)
    growth = placed / scale
    return tuple(
        dataclasses.replace(stroke, height=stroke.height * growth)
        if isinstance(stroke, Label)
        else stroke
        for stroke in (scaled(one, 1 / scale) for one in plain_strokes(drawing.items, placed))
    )


def scaled(stroke: Stroke, times: float) -> Stroke:
    """A stroke so many times larger about the origin; a text keeps its height."""

    def larger(point: Point) -> Point:
        return point[0] * times, point[1] * times

    match stroke:
        case Arc() | Circle():
            centre, radius = larger(stroke.centre), stroke.radius * times
            return dataclasses.replace(stroke, centre=centre, radius=radius)
        case Path():
            return dataclasses.replace(stroke, points=tuple(map(larger, stroke.points)))
        case Label():
            return dataclasses.replace(stroke, at=larger(stroke.at))
        case Line():
            return dataclasses.replace(stroke, start=larger(stroke.start), end=larger(stroke.end))


def shifted(strokes: Iterable[Stroke], by: Point) -> tuple[Stroke, ...]:
    """Strokes in another place."""
    return tuple(cast("Stroke", moved(one, by)) for one in strokes)


def span(strokes: Iterable[Stroke]) -> Bounds:
    """Smallest upright rectangle around strokes on paper."""
    return around(point for stroke in strokes for point in extremes(stroke, 1.0))
