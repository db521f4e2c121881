"""A drawing cut into sheets: what each tile shows, and where they meet."""

from __future__ import annotations

import dataclasses

from mountcalc.drafting.model import Bounds, Point

__all__ = ["OVERLAP", "STRIP", "Grid"]

OVERLAP = 0.010  # [m] that neighbouring sheets both show
STRIP = 0.028  # [m] at the foot of a page: name, place, scale, bars


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
    blank : frozenset of (int, int)
        Column and row of tiles that show nothing that is made: they are not printed.
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
