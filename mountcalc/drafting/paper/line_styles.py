"""How each ink looks in black on paper and in colour on a screen, and what it is called."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from mountcalc.drafting.model import Ink

__all__ = ["LINES", "LineLook"]


@dataclasses.dataclass(frozen=True, slots=True)
class LineLook:
    """A kind of line.

    Attributes
    ----------
    width : float [mm]
        On paper.
    dashes : tuple of float [mm]
        On, off, ... on paper; none for a line without gaps.
    colour : int
        On a screen, as DXF files number colours.
    meaning : str
        What it is for, in words.
    """

    width: float
    dashes: tuple[float, ...]
    colour: int
    meaning: str


# Kinds and widths of lines after ISO 128-2 (from memory): wide for what is cut or seen, narrow for
# neighbours (long dash and two dots), centre lines (long dash and dot) and dimensions. Colours can
# be told from each other, on white and on black; what looks like an outline to cut, but is not
# one, is red. Texts are in the one colour that is black on white and white on black.
LINES: Mapping[Ink, LineLook] = {
    Ink.CUT: LineLook(0.5, (), 150, "cut through"),
    Ink.DRILL: LineLook(0.35, (), 220, "drill"),
    Ink.MARK: LineLook(0.35, (6.0, 1.2), 32, "mark, do not cut"),
    Ink.POCKET: LineLook(0.35, (2.0, 1.0), 92, "take out to a depth"),
    Ink.VISIBLE: LineLook(0.5, (), 240, "what is seen: do not cut"),
    Ink.EDGE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8, 0.4, 0.8), 64, "outline of blank or neighbour"),
    Ink.CENTRE: LineLook(0.25, (6.0, 0.8, 0.4, 0.8), 132, "centre"),
    Ink.DIMENSION: LineLook(0.25, (), 190, "dimension"),
    Ink.NOTE: LineLook(0.25, (), 7, "note"),
}
