"""The strip at the foot of every page: name, page, place, scale, and bars to measure."""

from __future__ import annotations

import dataclasses

from mountcalc.drafting.model import TEXT_HEIGHT, Ink, Label, Line
from mountcalc.drafting.paper.marks import bar, place_map
from mountcalc.drafting.paper.sheets import STRIP, Grid
from mountcalc.drafting.paper.strokes import MARGIN, Stroke, shifted, span
from mountcalc.drafting.paper.type import cut_to, text_width
from mountcalc.scenario.model import Display

__all__ = ["Strip", "strip"]

_SMALL_MAP = (0.020, 0.0135)
_FIRST_LINE, _SECOND_LINE, _BAR, _MAP = 0.0235, 0.0175, 0.0045, 0.002  # above the margin [m]


@dataclasses.dataclass(frozen=True, slots=True)
class Strip:
    """What a page's strip says.

    Attributes
    ----------
    title : str
        The drawing's.
    scale : str
        Such as "1:1".
    page : str
        Such as "page 2 of 7".
    place : str
        Where the page belongs among the others.
    tile : tuple of Grid, int and int, optional
        Tiles, column and row, where the page is one of them.
    display : Display
        Units of the bar.
    """

    title: str
    scale: str
    page: str
    place: str = ""
    tile: tuple[Grid, int, int] | None = None
    display: Display = Display.METRIC


def strip(said: Strip, width: float) -> tuple[Stroke, ...]:
    """The strip of a page."""
    right = width - MARGIN
    room = right - MARGIN - text_width(said.page, TEXT_HEIGHT) - 0.005
    first, second = MARGIN + _FIRST_LINE, MARGIN + _SECOND_LINE
    top = MARGIN + STRIP
    strokes: list[Stroke] = [
        Line((MARGIN, top), (right, top), Ink.NOTE),
        Label((MARGIN, first), cut_to(said.title, TEXT_HEIGHT, room)),
        Label((right, first), said.page, align="right"),
        Label((MARGIN, second), cut_to(said.place, TEXT_HEIGHT, 0.13)),
        Label((right, second), f"scale {said.scale}", align="right"),
        *bar((MARGIN, MARGIN + _BAR), said.display),
    ]
    if said.tile is not None:
        grid, column, row = said.tile
        small = place_map(grid, _SMALL_MAP, (column, row))
        strokes.extend(shifted(small, (right - span(small)[2], MARGIN + _MAP)))
    return tuple(strokes)
