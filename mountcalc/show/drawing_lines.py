"""How each ink looks in black on paper, and what it is called."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from mountcalc.drawing.model import Ink

__all__ = ["LINES", "LineLook"]


@dataclasses.dataclass(frozen=True, slots=True)
class LineLook:
    """A kind of line: width and dashes (on, off, ...) [mm] on paper, and what it means."""

    width: float
    dashes: tuple[float, ...]
    meaning: str


# Kinds and widths of lines after ISO 128-2 (from memory): wide for what is cut or seen, narrow for
# neighbours (long dash and two dots), centre lines (long dash and dot) and dimensions.
LINES: Mapping[Ink, LineLook] = {
    Ink.CUT: LineLook(0.5, (), "cut through"),
    Ink.DRILL: LineLook(0.35, (), "drill"),
    Ink.MARK: LineLook(0.35, (6.0, 1.2), "mark, do not cut"),
    Ink.POCKET: LineLook(0.35, (2.0, 1.0), "take out to a depth"),
    Ink.VISIBLE: LineLook(0.5, (), "what is seen: do not cut"),
    Ink.EDGE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8, 0.4, 0.8), "outline of blank or neighbour"),
    Ink.CENTRE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8), "centre"),
    Ink.DIMENSION: LineLook(0.25, (), "dimension"),
    Ink.NOTE: LineLook(0.25, (), "note"),
}
