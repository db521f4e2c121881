"""Drawings on sheets of paper: plain strokes [m], how lines look, and templates cut into tiles."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.annotations import extremes, plain_strokes
from mountcalc.drafting.drawing import INCH_SCALES, METRIC_SCALES, Drawing
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Bounds,
    Label,
    Layer,
    Path,
    Point,
    Stroke,
    around,
    moved,
    scaled,
)
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

MARGIN = 0.010  # [m] that home printers may leave white, and a little more (estimate)
OVERLAP = 0.010  # [m] that neighbouring sheets both show
STRIP = 0.028  # [m] at the foot of a page: name, place, scale, bars

_STEP = 0.001  # [m] from one place of the tiles that is tried to the next
_GAP = 0.002  # between strip and tile [m]


class LineLook(Record):
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


class Paper(Record):
    """A sheet of paper: its name, width and height [m], and the scales that are usual on it."""

    name: str
    width: float
    height: float
    scales: tuple[int, ...]

    def both(self) -> tuple[Paper, Paper]:
        """The sheet upright and lying."""
        return self, dataclasses.replace(self, width=self.height, height=self.width)


# ISO 216, and ANSI/ASME Y14.1 A and B.
PAPERS = {
    "a4": Paper("A4", 0.210, 0.297, METRIC_SCALES),
    "a3": Paper("A3", 0.297, 0.420, METRIC_SCALES),
    "letter": Paper("letter", 0.2159, 0.2794, INCH_SCALES),
    "tabloid": Paper("tabloid", 0.2794, 0.4318, INCH_SCALES),
}


class Patch(Record):
    """Strokes on a page, shown only within their window, if they have one.

    Those of the ``workpiece`` are the thing that is made; all else is for reading only.
    """

    strokes: tuple[Stroke, ...]
    window: Bounds | None = None
    workpiece: bool = False


class Page(Record):
    """One page: its size [m] and what stands on it."""

    width: float
    height: float
    patches: tuple[Patch, ...]


def on_paper(drawing: Drawing, scale: float) -> tuple[Stroke, ...]:
    """A drawing's strokes at 1:scale; on a larger sheet its picture is enlarged, texts too."""
    placed = max(scale, drawing.scale)
    strokes = plain_strokes(drawing.items, placed)
    return tuple(scaled(stroke, 1 / scale, placed / scale) for stroke in strokes)


def shifted(strokes: Iterable[Stroke], by: Point) -> tuple[Stroke, ...]:
    """Strokes in another place."""
    return tuple(moved(stroke, by) for stroke in strokes)


def span(strokes: Iterable[Stroke]) -> Bounds:
    """Smallest upright rectangle around strokes on paper."""
    return around(point for stroke in strokes for point in extremes(stroke, 1.0))


class Grid(Record):
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


def frame(window: Bounds) -> Path:
    """The outline of a rectangle."""
    left, bottom, right, top = window
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Path(corners, closed=True, layer=Layer.NOTE)


def on_map(grid: Grid, room: tuple[float, float], strokes: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """Strokes of a drawing on its map, which is as large as a room lets it."""
    left, top = grid.corner(0, 0)
    right, bottom = grid.corner(grid.columns, grid.rows)
    times = min(room[0] / (right - left), room[1] / (top - bottom))
    return tuple(scaled(one, times) for one in shifted(strokes, (-left, -bottom)))


def page_map(grid: Grid, room: tuple[float, float], first: int) -> tuple[Stroke, ...]:
    """How the tiles lie, with the number of each page."""
    strokes: list[Stroke] = []
    for page, place in enumerate(grid.places(), first):
        cell = on_map(grid, room, [frame(grid.cell(*place))])
        left, _, _, top = span(cell)
        strokes += (*cell, Label((left + 0.001, top - TEXT_HEIGHT - 0.001), str(page)))
    return tuple(strokes)


class Extent(Record):
    """Something that one sheet should show whole: its size, and where it may stand [m]."""

    bounds: Bounds
    width: float
    height: float


def best_grid(
    bounds: Bounds, paper: Paper, texts: Sequence[Extent] = (), pieces: Sequence[Extent] = ()
) -> tuple[Paper, Grid]:
    """The tiles over a drawing: few sheets, then few texts cut, then few pieces such as holes.

    They lie around the drawing's middle, shifted to where they cut least.
    """
    fewest = fewest_sheets(bounds, paper)
    tried = []
    for lie in paper.both():
        grid = _grid(bounds, lie)
        if len(grid.places()) > fewest:
            continue
        # Ways from the middle that leave the drawing within the outermost match marks.
        spares = (
            grid.columns * (grid.width - OVERLAP) - (bounds[2] - bounds[0]),
            grid.rows * (grid.height - OVERLAP) - (bounds[3] - bounds[1]),
        )
        counts = (max(0, int(0.5 * spare / _STEP)) for spare in spares)
        across, up = (np.arange(-count, count + 1) * _STEP for count in counts)
        cut = [_cut(grid, extents, across, up).ravel() for extents in (texts, pieces)]
        away = np.hypot(across[:, None], up[None, :])
        best = np.lexsort((away.ravel(), cut[1], cut[0]))[0]
        column, row = np.unravel_index(best, away.shape)
        left, top = grid.left + float(across[column]), grid.top + float(up[row])
        placed = dataclasses.replace(grid, left=left, top=top)
        tried.append((int(cut[0][best]), int(cut[1][best]), lie, placed))
    _, _, lie, placed = min(tried, key=lambda one: one[:2])
    return lie, placed


def fewest_sheets(bounds: Bounds, paper: Paper) -> int:
    """How many sheets a drawing takes."""
    return min(len(_grid(bounds, lie).places()) for lie in paper.both())


def _grid(bounds: Bounds, paper: Paper) -> Grid:
    """Tiles of one paper over the bounds, the drawing in their middle."""
    width = paper.width - 2 * MARGIN
    height = paper.height - 2 * MARGIN - STRIP - _GAP
    across, up = bounds[2] - bounds[0], bounds[3] - bounds[1]
    # What lies on the frame of the outermost tiles would be lost: they reach past it.
    columns = max(1, math.ceil(across / (width - OVERLAP) - ROUNDING))
    rows = max(1, math.ceil(up / (height - OVERLAP) - ROUNDING))
    spare_across = columns * (width - OVERLAP) + OVERLAP - across
    spare_up = rows * (height - OVERLAP) + OVERLAP - up
    left, top = bounds[0] - spare_across / 2, bounds[3] + spare_up / 2
    return Grid(columns, rows, width, height, left, top)


def _cut(
    grid: Grid, extents: Sequence[Extent], across: NDArray[Any], up: NDArray[Any]
) -> NDArray[np.int_]:
    """How many are whole in no tile, by the tiles' shift across and up."""
    boxes = np.array([(*one.bounds, one.width, one.height) for one in extents]).reshape(-1, 6)
    lefts = grid.left + across[:, None] + np.arange(grid.columns) * (grid.width - OVERLAP)
    tops = grid.top + up[:, None] - np.arange(grid.rows) * (grid.height - OVERLAP)
    held = []
    for axis, starts, ends in ((0, lefts, lefts + grid.width), (1, tops - grid.height, tops)):
        low = np.maximum(starts[:, :, None], boxes[:, axis])
        high = np.minimum(ends[:, :, None], boxes[:, axis + 2])
        held.append(np.any(high - low >= boxes[:, axis + 4] - ROUNDING, axis=1).astype(int))
    cut: NDArray[np.int_] = len(extents) - held[0] @ held[1].T
    return cut
