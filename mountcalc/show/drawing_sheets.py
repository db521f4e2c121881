"""A drawing cut into sheets: which way the paper lies, how many tiles, what each shows."""

from __future__ import annotations

import dataclasses
import math

from mountcalc.drawing.model import Bounds, Point
from mountcalc.show.drawing_paper import MARGIN, Paper

__all__ = ["OVERLAP", "STRIP", "Grid", "grids"]

OVERLAP = 0.010  # [m] that neighbouring sheets both show
STRIP = 0.028  # [m] at the foot of a page: name, place, scale, bars
_ROUNDING = 1e-9  # of a tile
_GAP = 0.002  # between strip and tile


@dataclasses.dataclass(frozen=True, slots=True)
class Grid:
    """Tiles over a drawing on paper.

    Attributes
    ----------
    columns, rows : int
        How many.
    width, height : float [m]
        Of one tile.
    left, top : float [m]
        Upper left corner of the first tile.
    """

    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float

    def places(self) -> tuple[tuple[int, int], ...]:
        """Column and row of every tile, row by row."""
        return tuple((column, row) for row in range(self.rows) for column in range(self.columns))

    def window(self, column: int, row: int) -> Bounds:
        """What a tile shows.

        Parameters
        ----------
        column, row : int
            The tile, from the left and from the top.

        Returns
        -------
        tuple of float [m]
            Left, bottom, right, top.
        """
        left = self.left + column * (self.width - OVERLAP)
        top = self.top - row * (self.height - OVERLAP)
        return left, top - self.height, left + self.width, top

    def corner(self, column: int, row: int) -> Point:
        """Where tiles meet: the middle of what they share.

        Parameters
        ----------
        column, row : int
            Of the tile to the right and below.

        Returns
        -------
        Point [m]
            The corner.
        """
        left, _, _, top = self.window(column, row)
        return left + OVERLAP / 2, top - OVERLAP / 2


def _grid(bounds: Bounds, paper: Paper) -> Grid:
    """Tiles of one paper over the bounds, the drawing in their middle."""
    width = paper.width - 2 * MARGIN
    height = paper.height - 2 * MARGIN - STRIP - _GAP
    across, up = bounds[2] - bounds[0], bounds[3] - bounds[1]
    columns = _count(across, width)
    rows = _count(up, height)
    spare_across = columns * (width - OVERLAP) + OVERLAP - across
    spare_up = rows * (height - OVERLAP) + OVERLAP - up
    return Grid(
        columns, rows, width, height, bounds[0] - spare_across / 2, bounds[3] + spare_up / 2
    )


def _count(length: float, tile: float) -> int:
    # What lies on the frame of the outermost tiles would be lost: they reach past it.
    return max(1, math.ceil(length / (tile - OVERLAP) - _ROUNDING))


def grids(bounds: Bounds, paper: Paper) -> tuple[tuple[Paper, Grid], ...]:
    """The ways of laying the paper that need fewest sheets, the drawing in the tiles' middle.

    Parameters
    ----------
    bounds : tuple of float [m]
        Of the drawing on paper.
    paper : Paper
        Sheet, either way round.

    Returns
    -------
    tuple of Paper and Grid
        The paper as it lies and the tiles; the upright one first where both need as many.
    """
    both = [(lie, _grid(bounds, lie)) for lie in (paper, paper.turned())]
    fewest = min(len(grid.places()) for _, grid in both)
    return tuple((lie, grid) for lie, grid in both if len(grid.places()) == fewest)
