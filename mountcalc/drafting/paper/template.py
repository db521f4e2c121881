"""A template at true scale: pages to read, then tiles to join."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.drafting.model import Bounds, Drawing, Ink, Label
from mountcalc.drafting.paper.clear import text_box, within
from mountcalc.drafting.paper.joints import best_grid, fewest_sheets
from mountcalc.drafting.paper.marks import frame, map_scale, match_marks, page_map, tile_name
from mountcalc.drafting.paper.rows import (
    Row,
    cautions,
    heading,
    legend,
    legend_width,
    notes,
    paragraph,
    side_by_side,
)
from mountcalc.drafting.paper.sheets import OVERLAP, Grid
from mountcalc.drafting.paper.strip import Strip, strip
from mountcalc.drafting.paper.strokes import (
    MARGIN,
    PAPERS,
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
from mountcalc.drafting.paper.text_pages import split, text_page, together
from mountcalc.drafting.paper.view import one_page
from mountcalc.drafting.paper.whole import kept_whole, whole_texts, without_blanks
from mountcalc.errors import InputError
from mountcalc.pages.bench_lengths import bench_length

__all__ = ["template_pages"]

_MAP_SHARES = (0.3, 0.25, 0.2)  # of the first page's height, the most that its map takes
_BESIDE = 0.008  # between the map and what stands beside it [m]
_MOST_SHEETS = 150  # more than anyone joins (estimate)
_PAD = 0.003  # kept free around the drawing [m]


def template_pages(drawing: Drawing, paper: Paper, series: Sequence[float]) -> tuple[Page, ...]:
    """A template over as many sheets as it takes."""
    bounds = _bounds(drawing)
    _refuse_many_sheets(drawing, bounds, paper)
    paper, grid = best_grid(bounds, paper, kept_whole(drawing))
    grid = without_blanks(drawing, grid)
    strokes = whole_texts(drawing, grid)
    texts = _texts(drawing, paper, grid, strokes)
    before = len(texts) + (drawing.glance is not None)
    count = before + len(grid.places())

    def said(page: int, place: str, tile: tuple[Grid, int, int] | None = None) -> Strip:
        return Strip(drawing.title, "1:1", f"page {page} of {count}", place, tile, drawing.display)

    glance = []
    if drawing.glance is not None:
        counted = f"page {before} of {count}"
        glance = [one_page(drawing.glance, paper, series, counted, "all of it, with all sizes")]
    told = "read this page first" if len(texts) == 1 else "read these pages first"
    return (
        *(text_page(rows, paper, said(page, told)) for page, rows in enumerate(texts, 1)),
        *glance,
        *(
            _tile(strokes, paper, said(page, tile_name(grid, *place), (grid, *place)))
            for page, place in enumerate(grid.places(), 1 + before)
        ),
    )


def _refuse_many_sheets(drawing: Drawing, bounds: Bounds, paper: Paper) -> None:
    count = fewest_sheets(bounds, paper)
    if count <= _MOST_SHEETS:
        return
    larger = [key for key, one in PAPERS.items() if fewest_sheets(bounds, one) <= _MOST_SHEETS]
    ways = [*([f"--sheet {' or '.join(larger)}"] if larger else []), "--format dxf"]
    raise InputError(
        f"{drawing.name}: at true scale {count} sheets of {paper.name}, and no more than "
        f"{_MOST_SHEETS} are joined: take {', or '.join(ways)}"
    )


def _bounds(drawing: Drawing) -> Bounds:
    """What the sheets have to show: lines and, measured in the font, texts."""
    boxes = [
        text_box(stroke) if isinstance(stroke, Label) else span([stroke])
        for stroke in on_paper(drawing, 1.0)
    ]
    left, bottom, right, top = zip(*boxes, strict=True)
    return min(left) - _PAD, min(bottom) - _PAD, max(right) + _PAD, max(top) + _PAD


def _texts(
    drawing: Drawing, paper: Paper, grid: Grid, strokes: tuple[Stroke, ...]
) -> list[list[Row]]:
    """Rows of the pages to read, cautions first, the map as large as costs no page."""
    room = paper.width - 2 * MARGIN

    def laid_out(share: float, first: int) -> tuple[list[list[Row]], int]:
        """The pages, and on which of them the map stands."""
        map_row = _map_row(grid, strokes, (room, paper.height * share), first)
        mapped, *meanings = _with_legend(drawing, map_row, room)
        how = together((*_joining(drawing, grid, room), mapped), paper)
        said = together(cautions(drawing, room), paper)
        titled = heading(drawing, f"1:1 on {_sheets(grid, paper)}", room)
        pages = split((*titled, *said, *how, *meanings, *notes(drawing, room)), paper)
        return pages, next(number for number, rows in enumerate(pages) if how[-1] in rows)

    def cost(share: float) -> tuple[int, int]:
        pages, on = laid_out(share, 1)
        return len(pages), on

    share = min(_MAP_SHARES, key=cost)
    return laid_out(share, 1 + cost(share)[0] + (drawing.glance is not None))[0]


def _sheets(grid: Grid, paper: Paper) -> str:
    count = len(grid.places())
    sheets = f"{count} sheet{'s' if count > 1 else ''}"
    return f"{sheets} of {paper.name}, {paper.lie}"


def _map_row(grid: Grid, strokes: tuple[Stroke, ...], room: tuple[float, float], first: int) -> Row:
    """The map of the pages with the drawing in it, without texts and dimensions."""
    shrink = map_scale(grid, room)
    origin = (-shrink.left, -shrink.bottom)
    lines = tuple(
        stroke
        for stroke in strokes
        if not isinstance(stroke, Label) and stroke.ink not in {Ink.DIMENSION, Ink.NOTE, Ink.CENTRE}
    )
    small = (scaled(stroke, shrink.scale) for stroke in shifted(lines, origin))
    drawn = (*small, *page_map(grid, room, first))
    return Row(span(drawn)[3] + 2 * _PAD, shifted(drawn, (0.0, _PAD)))


def _with_legend(drawing: Drawing, map_row: Row, room: float) -> list[Row]:
    """The map and what the lines mean, beside it where there is room."""
    start = span(map_row.strokes)[2] + _BESIDE
    if start + legend_width(drawing) > room:
        return [map_row, *legend(drawing, room)]
    return [side_by_side(map_row, legend(drawing, room - start, columns=1), start)]


def _joining(drawing: Drawing, grid: Grid, room: float) -> list[Row]:
    text = "Print at 100 %, without fitting to the page, and measure the bar at the foot."
    if len(grid.places()) > 1:
        text += (
            f" Sheets share {bench_length(OVERLAP, drawing.display)}: trim one at its frame and lay"
            " it over the next, crosses with the same name on each other, by a window or a pin"
            " pricked through; tape them."
        )
    return [Row(_PAD, ()), *paragraph(text, room)]


def _tile(strokes: tuple[Stroke, ...], paper: Paper, said: Strip) -> Page:
    """One tile with its frame, its match marks and its strip."""
    assert said.tile is not None
    grid, column, row = said.tile
    window = grid.window(column, row)
    left, top = MARGIN, paper.height - MARGIN
    by = (left - window[0], top - window[3])
    windows = [grid.window(*place) for place in grid.places()]
    seen = tuple(stroke for stroke in strokes if _is_shown(stroke, window, windows))
    marks = shifted((*match_marks(grid, column, row, seen), frame(window)), by)
    patch = Patch(
        shifted(seen, by), (left, top - grid.height, left + grid.width, top), workpiece=True
    )
    return Page(paper.width, paper.height, (patch, Patch((*marks, *strip(said, paper.width)))))


def _is_shown(stroke: Stroke, window: Bounds, windows: list[Bounds]) -> bool:
    """Whether a tile shows a stroke: no piece of a text that another tile shows whole."""
    if not meets(stroke, window):
        return False
    if not isinstance(stroke, Label):
        return True
    box = text_box(stroke)
    return within(box, window) or not any(within(box, other) for other in windows)
