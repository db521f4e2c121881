"""A template at true scale: a first page to read, then tiles to join."""

from __future__ import annotations

from mountcalc.drawing.model import Drawing, Ink, Label
from mountcalc.show.drawing_marks import frame, map_scale, match_marks, page_map, tile_name
from mountcalc.show.drawing_paper import (
    MARGIN,
    Page,
    Paper,
    Patch,
    Stroke,
    meets,
    on_paper,
    scaled,
    shifted,
    span,
)
from mountcalc.show.drawing_rows import Row, cautions, heading, legend, notes, paragraph
from mountcalc.show.drawing_sheets import Grid, best_grid
from mountcalc.show.drawing_strip import Strip, strip
from mountcalc.show.drawing_text_pages import split, text_page

__all__ = ["template_pages"]

_MAP_SHARE = 0.3  # most of the first page's height that its map takes
_PAD = 0.003  # kept free around the drawing [m]
_FIRST_TILE = 2  # page; the first is the one to read


def template_pages(drawing: Drawing, paper: Paper) -> tuple[Page, ...]:
    """A template over as many sheets as it takes.

    Parameters
    ----------
    drawing : Drawing
        What is printed, 1:1.
    paper : Paper
        Either way round.

    Returns
    -------
    tuple of Page
        A page with map, cautions and notes, the tiles row by row, and more notes if there are.
    """
    strokes = on_paper(drawing, 1.0)
    left, bottom, right, top = span(strokes)
    paper, grid = best_grid((left - _PAD, bottom - _PAD, right + _PAD, top + _PAD), paper)
    room = paper.width - 2 * MARGIN
    map_row = _map_row(grid, strokes, (room, paper.height * _MAP_SHARE))
    rows = [
        *heading(drawing, f"1:1 on {_sheets(grid, paper)}", room),
        *_joining(grid, room),
        map_row,
        *cautions(drawing, room),
        *legend(drawing, room),
        *notes(drawing, room),
    ]
    texts = split(rows, paper)
    places = [(column, row) for row in range(grid.rows) for column in range(grid.columns)]
    count = len(places) + len(texts)

    def said(page: int, place: str, tile: tuple[Grid, int, int] | None = None) -> Strip:
        return Strip(drawing.title, "1:1", f"page {page} of {count}", place, tile)

    first = text_page(texts[0], paper, said(1, "read this page first"))
    tiles = [
        _tile(strokes, paper, said(page, tile_name(grid, *place), (grid, *place)))
        for page, place in enumerate(places, _FIRST_TILE)
    ]
    more = [
        text_page(text, paper, said(page, "continued"))
        for page, text in enumerate(texts[1:], _FIRST_TILE + len(places))
    ]
    return first, *tiles, *more


def _sheets(grid: Grid, paper: Paper) -> str:
    count = grid.columns * grid.rows
    sheets = f"{count} sheet{'s' if count > 1 else ''}"
    return f"{sheets} of {paper.name}, {paper.lie}"


def _map_row(grid: Grid, strokes: tuple[Stroke, ...], room: tuple[float, float]) -> Row:
    """The map of the pages with the drawing in it, without texts and dimensions."""
    shrink = map_scale(grid, room)
    origin = (-shrink.left, -shrink.bottom)
    lines = tuple(
        stroke
        for stroke in strokes
        if not isinstance(stroke, Label) and stroke.ink not in {Ink.DIMENSION, Ink.NOTE, Ink.CENTRE}
    )
    small = (scaled(stroke, shrink.scale) for stroke in shifted(lines, origin))
    drawn = (*small, *page_map(grid, room, _FIRST_TILE))
    return Row(span(drawn)[3] + 2 * _PAD, shifted(drawn, (0.0, _PAD)))


def _joining(grid: Grid, room: float) -> list[Row]:
    text = "Print at 100 %, without fitting to the page, and measure the bars at the foot."
    if grid.columns * grid.rows > 1:
        text += (
            " Neighbouring sheets share a strip of 10 mm: lay one on the other so that crosses with"
            " the same name fall on each other, and tape them."
        )
    return [Row(_PAD, ()), *paragraph(text, room)]


def _tile(strokes: tuple[Stroke, ...], paper: Paper, said: Strip) -> Page:
    """One tile with its frame, its match marks and its strip."""
    assert said.tile is not None
    grid, column, row = said.tile
    window = grid.window(column, row)
    left, top = MARGIN, paper.height - MARGIN
    by = (left - window[0], top - window[3])
    shown = shifted((stroke for stroke in strokes if meets(stroke, window)), by)
    marks = shifted((*match_marks(grid, column, row), frame(window)), by)
    patch = Patch(shown, (left, top - grid.height, left + grid.width, top), workpiece=True)
    return Page(paper.width, paper.height, (patch, Patch((*marks, *strip(said, paper.width)))))
