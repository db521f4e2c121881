"""Drawings on sheets of paper: plain strokes [m], how lines look, and templates cut into tiles."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

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
    "OVERLAP",
    "PAPERS",
    "STRIP",
    "Extent",
    "Grid",
    "Kept",
    "LineLook",
    "Page",
    "Paper",
    "Patch",
    "Stroke",
    "best_grid",
    "count_cut",
    "fewest_sheets",
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


OVERLAP = 0.010  # [m] that neighbouring sheets both show
STRIP = 0.028  # [m] at the foot of a page: name, place, scale, bars

_STEP = 0.001  # [m] from one place of the tiles that is tried to the next
_GAP = 0.002  # between strip and tile [m]
_ROUNDING = 1e-9  # [m], and of a tile


@dataclasses.dataclass(frozen=True, slots=True)
class Grid:
    """Tiles over a drawing on paper, from the upper left corner of the first [m].

    ``blank`` are tiles (column, row) that show nothing that is made: they are not printed.
    """

    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    blank: frozenset[tuple[int, int]] = frozenset()

    def places(self) -> tuple[tuple[int, int], ...]:
        """Column and row of every tile that is printed, row by row."""
        every = ((column, row) for row in range(self.rows) for column in range(self.columns))
        return tuple(place for place in every if place not in self.blank)

    def windows(self) -> list[Bounds]:
        """What the tiles that are printed show."""
        return [self.window(*place) for place in self.places()]

    def cell(self, column: int, row: int) -> Bounds:
        """What a tile shows nearest of all: between the middles of what it shares with others."""
        (left, top), (right, bottom) = self.corner(column, row), self.corner(column + 1, row + 1)
        return left, bottom, right, top

    def window(self, column: int, row: int) -> Bounds:
        """What a tile shows."""
        left = self.left + column * (self.width - OVERLAP)
        top = self.top - row * (self.height - OVERLAP)
        return left, top - self.height, left + self.width, top

    def corner(self, column: int, row: int) -> Point:
        """Where tiles meet: the middle of what they share."""
        left, _, _, top = self.window(column, row)
        return left + OVERLAP / 2, top - OVERLAP / 2


@dataclasses.dataclass(frozen=True, slots=True)
class Extent:
    """Something that one sheet should show whole: its size, and where it may stand [m]."""

    bounds: Bounds
    width: float
    height: float


@dataclasses.dataclass(frozen=True, slots=True)
class Kept:
    """What should not be cut by a joint: texts, and small pieces of the work such as holes."""

    texts: tuple[Extent, ...] = ()
    pieces: tuple[Extent, ...] = ()


def best_grid(bounds: Bounds, paper: Paper, kept: Kept | None = None) -> tuple[Paper, Grid]:
    """The tiles over a drawing: few sheets, then few texts cut, then few holes cut."""
    kept = kept or Kept()
    both = [(lie, _grid(bounds, lie)) for lie in (paper, paper.turned())]
    fewest = fewest_sheets(bounds, paper)
    best = [
        (lie, _best_place(grid, bounds, kept)) for lie, grid in both if len(grid.places()) == fewest
    ]
    return min(best, key=lambda choice: count_cut(choice[1], kept))


def fewest_sheets(bounds: Bounds, paper: Paper) -> int:
    """How many sheets a drawing takes."""
    return min(len(_grid(bounds, lie).places()) for lie in (paper, paper.turned()))


def _grid(bounds: Bounds, paper: Paper) -> Grid:
    """Tiles of one paper over the bounds, the drawing in their middle."""
    width = paper.width - 2 * MARGIN
    height = paper.height - 2 * MARGIN - STRIP - _GAP
    across, up = bounds[2] - bounds[0], bounds[3] - bounds[1]
    columns, rows = _count(across, width), _count(up, height)
    spare_across = columns * (width - OVERLAP) + OVERLAP - across
    spare_up = rows * (height - OVERLAP) + OVERLAP - up
    left, top = bounds[0] - spare_across / 2, bounds[3] + spare_up / 2
    return Grid(columns, rows, width, height, left, top)


def _count(length: float, tile: float) -> int:
    # What lies on the frame of the outermost tiles would be lost: they reach past it.
    return max(1, math.ceil(length / (tile - OVERLAP) - _ROUNDING))


def count_cut(grid: Grid, kept: Kept) -> tuple[int, int]:
    """How much no tile shows whole."""
    here = np.zeros(1)
    texts, pieces = (_cut(grid, extents, here, here) for extents in (kept.texts, kept.pieces))
    return int(texts[0, 0]), int(pieces[0, 0])


def _best_place(grid: Grid, bounds: Bounds, kept: Kept) -> Grid:
    """Tiles that lie around the drawing's middle, shifted to where they cut least."""
    across = _shifts(grid.columns * (grid.width - OVERLAP) - (bounds[2] - bounds[0]))
    up = _shifts(grid.rows * (grid.height - OVERLAP) - (bounds[3] - bounds[1]))
    texts, pieces = (_cut(grid, extents, across, up) for extents in (kept.texts, kept.pieces))
    away = np.hypot(across[:, None], up[None, :])
    best = np.lexsort((away.ravel(), pieces.ravel(), texts.ravel()))[0]
    column, row = np.unravel_index(best, away.shape)
    return dataclasses.replace(
        grid, left=grid.left + float(across[column]), top=grid.top + float(up[row])
    )


def _shifts(spare: float) -> NDArray[np.float64]:
    """Ways from the middle that leave the drawing within the outermost match marks."""
    count = max(0, int(0.5 * spare / _STEP))
    return np.arange(-count, count + 1, dtype=np.float64) * np.float64(_STEP)


def _cut(
    grid: Grid,
    extents: Sequence[Extent],
    across: NDArray[np.float64],
    up: NDArray[np.float64],
) -> NDArray[np.int_]:
    """How many are whole in no tile, by the tiles' shift across and up."""
    boxes = np.array([extent.bounds for extent in extents]).reshape(-1, 4)
    sizes = np.array([(extent.width, extent.height) for extent in extents]).reshape(-1, 2)
    lefts = grid.left + across[:, None] + np.arange(grid.columns) * (grid.width - OVERLAP)
    tops = grid.top + up[:, None] - np.arange(grid.rows) * (grid.height - OVERLAP)
    in_column = _holds(lefts, lefts + grid.width, boxes[:, ::2], sizes[:, 0])
    in_row = _holds(tops - grid.height, tops, boxes[:, 1::2], sizes[:, 1])
    whole = in_column.astype(int) @ in_row.astype(int).T
    cut: NDArray[np.int_] = len(extents) - whole
    return cut


def _holds(
    starts: NDArray[np.float64],
    ends: NDArray[np.float64],
    spans: NDArray[np.float64],
    sizes: NDArray[np.float64],
) -> NDArray[np.bool_]:
    """Whether one of the tiles of each shift has room for each extent, in one direction."""
    low = np.maximum(starts[:, :, None], spans[:, 0])
    high = np.minimum(ends[:, :, None], spans[:, 1])
    holds: NDArray[np.bool_] = np.any(high - low >= sizes - _ROUNDING, axis=1)
    return holds
