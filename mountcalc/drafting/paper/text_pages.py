"""Pages of text: rows as many as fit, the rest on further pages."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from mountcalc.drafting.paper.rows import Row, height_of, stacked
from mountcalc.drafting.paper.sheets import STRIP
from mountcalc.drafting.paper.strip import Strip, strip
from mountcalc.drafting.paper.strokes import MARGIN, Page, Paper, Patch

__all__ = ["split", "text_page", "together"]

_GAP = 0.003  # between text and strip [m]


def split(rows: Sequence[Row], paper: Paper) -> list[list[Row]]:
    """Rows by pages."""
    room = _room(paper)
    filled: list[list[Row]] = [[]]
    for group in _groups(rows):
        pieces = [group] if height_of(group) <= room else [[row] for row in group]
        for piece in pieces:
            if filled[-1] and height_of((*filled[-1], *piece)) > room:
                filled.append([])
            filled[-1].extend(piece)
    return filled


def together(rows: Sequence[Row], paper: Paper) -> list[Row]:
    """Rows that stay on one page if a page has room for them."""
    if height_of(rows) > _room(paper):
        return list(rows)
    return [*rows[:1], *(dataclasses.replace(row, kept=True) for row in rows[1:])]


def _room(paper: Paper) -> float:
    """Height of a page for its rows [m]."""
    return paper.height - 2 * MARGIN - STRIP - _GAP


def _groups(rows: Sequence[Row]) -> list[list[Row]]:
    groups: list[list[Row]] = []
    for row in rows:
        if row.kept and groups:
            groups[-1].append(row)
        else:
            groups.append([row])
    return groups


def text_page(rows: Sequence[Row], paper: Paper, said: Strip) -> Page:
    """A page of rows above its strip."""
    top = paper.height - MARGIN
    strokes = (*stacked(rows, (MARGIN, top)), *strip(said, paper.width))
    return Page(paper.width, paper.height, (Patch(strokes),))
