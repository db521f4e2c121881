"""How much line lies in any rectangle of a sheet, looked up at once for many."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["InkMap"]

_CELL = 0.0005  # [m] on paper, where that makes no more cells, and cuts lines into no more parts,
_MOST = 4_000_000  # than this: the map of a huge sheet is coarser, not larger

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class InkMap:
    """Lines in small cells, summed up from the lower left corner.

    Attributes
    ----------
    corner : ndarray of shape (2,) [m]
        Where the cells begin.
    sums : ndarray of shape (columns + 1, rows + 1) [m]
        Weighed length of line left of and below a corner of the cells.
    cell : float [m]
        Width and height of one.
    """

    corner: Floats
    sums: Floats
    cell: float = _CELL

    @classmethod
    def of(cls, lines: Floats, weights: Floats) -> InkMap:
        """Map of straight pieces."""
        if not len(lines):
            return cls(np.zeros(2), np.zeros((1, 1)))
        lengths = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
        cell = _cell(lines, lengths)
        counts = 1 + (lengths / cell).astype(int)
        owner = np.repeat(np.arange(len(lines)), counts)
        within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
        share = ((within + 0.5) / counts[owner])[:, np.newaxis]
        points = lines[owner, :2] + share * (lines[owner, 2:] - lines[owner, :2])
        corner = points.min(axis=0)
        cells = ((points - corner) / cell).astype(int)
        columns, rows = cells.max(axis=0) + 1
        amounts = (weights * lengths / counts)[owner]
        flat = np.bincount(cells[:, 0] * rows + cells[:, 1], amounts, columns * rows)
        sums = np.zeros((columns + 1, rows + 1))
        sums[1:, 1:] = flat.reshape(columns, rows).cumsum(axis=0).cumsum(axis=1)
        return cls(corner, sums, cell)

    def under(self, boxes: Floats) -> Floats:
        """Weighed length of line in rectangles."""
        most = np.array(self.sums.shape) - 1
        low = np.floor((boxes[:, :2] - self.corner) / self.cell)
        high = np.ceil((boxes[:, 2:] - self.corner) / self.cell)
        left, bottom = np.clip(low, 0, most).astype(int).T
        right, top = np.clip(high, 0, most).astype(int).T
        sums = self.sums
        found: Floats = (
            sums[right, top] - sums[left, top] - sums[right, bottom] + sums[left, bottom]
        )
        return np.maximum(found, 0.0)


def _cell(lines: Floats, lengths: Floats) -> float:
    """How large cells are [m]: as fine as the number of cells and of parts of lines allows."""
    points = lines.reshape(-1, 2)
    across, up = points.max(axis=0) - points.min(axis=0)
    return max(
        _CELL, float(np.sqrt(across * up / _MOST)), float(max(across, up, lengths.sum())) / _MOST
    )
