"""A drawing cut into sheets, the joints through as few texts and holes as spare paper allows."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.items import Bounds, Point
from mountcalc.drafting.paper.sheets import MARGIN, Paper

__all__ = ["OVERLAP", "STRIP", "Extent", "Grid", "Kept", "best_grid", "count_cut", "fewest_sheets"]

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
