"""The pages of a drawing on a chosen sheet, and the whole of it on one sheet of any size.

A template has pages to read, then tiles at true scale; a view stands on one page at a standard
scale, its cautions beside it, its notes where there is room.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence

from mountcalc.drafting.drawing import INCH_SCALES, METRIC_SCALES, Drawing, least_scale
from mountcalc.drafting.items import Bounds, Label, Layer, around
from mountcalc.drafting.paper.marks import (
    Strip,
    frame,
    match_marks,
    on_map,
    page_map,
    strip,
)
from mountcalc.drafting.paper.sheets import (
    MARGIN,
    OVERLAP,
    PAPERS,
    STRIP,
    Grid,
    Page,
    Paper,
    Patch,
    Stroke,
    best_grid,
    fewest_sheets,
    on_paper,
    shifted,
    span,
)
from mountcalc.drafting.paper.text import (
    Row,
    cautions,
    heading,
    height_of,
    legend,
    legend_width,
    notes,
    paragraph,
    side_by_side,
    stacked,
)
from mountcalc.drafting.paper.whole import (
    kept_whole,
    text_box,
    whole_texts,
    within,
    without_blanks,
)
from mountcalc.errors import InputError
from mountcalc.pages.amounts import bench_length

__all__ = ["pages", "whole_sheet"]

_GAP = 0.003  # between a view, or text, and what stands around it [m]
_LEAST_WIDTH = 0.210  # of a sheet of any size: the strip's texts want it [m]
_MAP_SHARES = (0.3, 0.25, 0.2)  # of the first page's height, the most that its map takes
_BESIDE = 0.008  # between the map and what stands beside it [m]
_MOST_SHEETS = 150  # more than anyone joins (estimate)
_PAD = 0.003  # kept free around the drawing [m]


def pages(drawing: Drawing, sheet: str) -> tuple[Page, ...]:
    """A drawing on sheets of paper."""
    made = _template_pages if drawing.true_scale else _view_pages
    return tuple(made(drawing, PAPERS[sheet], _series(sheet)))


def whole_sheet(drawing: Drawing, sheet: str) -> Page:
    """A drawing with all its texts on one sheet as large as it takes."""
    scale = 1.0
    if not drawing.true_scale:
        scale = _best_plan(drawing, PAPERS[sheet], _series(sheet)).scale
    left, bottom, right, top = span(on_paper(drawing, scale))
    width = max(right - left + 2 * MARGIN, _LEAST_WIDTH)
    room = width - 2 * MARGIN
    below = [*cautions(drawing, room), *legend(drawing, room), *notes(drawing, room)]
    texts = height_of([*heading(drawing, f"1:{scale:g}", room), *below])
    height = top - bottom + texts + 3 * _GAP + STRIP + 2 * MARGIN
    said = _strip(drawing, scale, "one sheet")
    return _page(drawing, scale, (width, height), below, said)


def _series(sheet: str) -> tuple[int, ...]:
    return METRIC_SCALES if sheet in {"a4", "a3"} else INCH_SCALES


def _strip(
    drawing: Drawing,
    scale: float,
    page: str,
    place: str = "",
    tile: tuple[Grid, int, int] | None = None,
) -> Strip:
    return Strip(drawing.title, f"1:{scale:g}", page, place, tile, drawing.display)


# Pages of text: rows as many as fit, the rest on further pages.


def _room(paper: Paper) -> float:
    """Height of a page for its rows [m]."""
    return paper.height - 2 * MARGIN - STRIP - _GAP


def _split(rows: Sequence[Row], paper: Paper) -> list[list[Row]]:
    """Rows by pages; those that are kept stay with the row before where a page holds them."""
    groups: list[list[Row]] = []
    for row in rows:
        if row.kept and groups:
            groups[-1].append(row)
        else:
            groups.append([row])
    filled: list[list[Row]] = [[]]
    for group in groups:
        pieces = [group] if height_of(group) <= _room(paper) else [[row] for row in group]
        for piece in pieces:
            if filled[-1] and height_of((*filled[-1], *piece)) > _room(paper):
                filled.append([])
            filled[-1].extend(piece)
    return filled


def _together(rows: Sequence[Row], paper: Paper) -> list[Row]:
    """Rows that stay on one page if a page has room for them."""
    if height_of(rows) > _room(paper):
        return list(rows)
    return [*rows[:1], *(dataclasses.replace(row, kept=True) for row in rows[1:])]


def _text_page(rows: Sequence[Row], paper: Paper, said: Strip) -> Page:
    strokes = *stacked(rows, (MARGIN, paper.height - MARGIN)), *strip(said, paper.width)
    return Page(paper.width, paper.height, (Patch(strokes),))


# A view.


@dataclasses.dataclass(frozen=True, slots=True)
class _Plan:
    """How a view stands on its page: the sheet as it lies, the scale, texts below and after.

    ``texts_below`` counts them: cautions, then notes. ``spare`` is the height left free [m].
    """

    paper: Paper
    scale: float
    below: tuple[Row, ...]
    after: tuple[Row, ...]
    texts_below: int
    spare: float


def _best_plan(drawing: Drawing, paper: Paper, series: Sequence[float]) -> _Plan:
    """Cautions on the page, the least scale, notes on the page too, the most room."""
    plans = (
        _plan(drawing, lie, series, texts_below)
        for lie in (paper, paper.turned())
        for texts_below in range(3)
    )
    # A view must not be reduced so far that its texts meet only to keep
    # its cautions beside it: they go to the next page then.
    return min(
        plans,
        key=lambda plan: (
            max(plan.scale, drawing.scale),
            plan.texts_below == 0,
            plan.scale,
            -plan.texts_below,
            -plan.spare,
        ),
    )


def _plan(drawing: Drawing, paper: Paper, series: Sequence[float], texts_below: int) -> _Plan:
    width = paper.width - 2 * MARGIN
    # What is told beside a view, the more urgent first.
    texts = cautions(drawing, width), [*legend(drawing, width), *notes(drawing, width)]
    below = tuple(row for rows in texts[:texts_below] for row in rows)
    after = tuple(row for rows in texts[texts_below:] for row in rows)
    texts_height = height_of([*heading(drawing, "1:100", width), *below])
    height = paper.height - 2 * MARGIN - STRIP - texts_height - 3 * _GAP

    def fits(tried: float) -> bool:
        left, bottom, right, top = span(on_paper(drawing, tried))
        return right - left <= width and top - bottom <= height

    scale = least_scale(fits, sorted({*series, drawing.scale}))
    _, bottom, _, top = span(on_paper(drawing, scale))
    return _Plan(paper, scale, below, after, texts_below, height - (top - bottom))


def _view_pages(drawing: Drawing, paper: Paper, series: Sequence[float]) -> Iterator[Page]:
    """A view on one page, and pages of texts where they find no room beside it."""
    plan = _best_plan(drawing, paper, series)
    texts = _split(plan.after, plan.paper) if plan.after else []
    count = 1 + len(texts)
    place = "more on the next page" if texts else ""
    said = _strip(drawing, plan.scale, f"page 1 of {count}", place)
    yield _page(drawing, plan.scale, (plan.paper.width, plan.paper.height), plan.below, said)
    for page, text in enumerate(texts, 2):
        said = _strip(drawing, plan.scale, f"page {page} of {count}", "continued")
        yield _text_page(text, plan.paper, said)


def _one_page(
    drawing: Drawing, paper: Paper, series: Sequence[float], counted: str, place: str
) -> Page:
    """A drawing without its cautions and notes on one page."""
    plans = [_plan(drawing, lie, series, 0) for lie in (paper, paper.turned())]
    plan = min(plans, key=lambda one: (one.scale, -one.spare))
    said = _strip(drawing, plan.scale, counted, place)
    return _page(drawing, plan.scale, (plan.paper.width, plan.paper.height), (), said)


def _page(
    drawing: Drawing,
    scale: float,
    size: tuple[float, float],
    below: Sequence[Row],
    said: Strip,
) -> Page:
    """Heading, the view in the middle of what is left, rows of text, strip."""
    width, height = size
    head = heading(drawing, said.scale, width - 2 * MARGIN)
    upper = height - MARGIN - height_of(head) - _GAP
    lower = MARGIN + STRIP + height_of(below) + 2 * _GAP
    strokes = on_paper(drawing, scale)
    left, bottom, right, top = span(strokes)
    middle = (width - left - right) / 2, (lower + upper - bottom - top) / 2
    patches = (
        Patch(shifted(strokes, middle), workpiece=True),
        Patch(stacked(head, (MARGIN, height - MARGIN))),
        Patch(stacked(below, (MARGIN, lower - _GAP))),
        Patch(strip(said, width)),
    )
    return Page(width, height, patches)


# A template.


def _template_pages(drawing: Drawing, paper: Paper, series: Sequence[float]) -> Iterator[Page]:
    """A template over as many sheets as it takes."""
    bounds = _bounds(drawing)
    _refuse_many_sheets(drawing, bounds, paper)
    paper, grid = best_grid(bounds, paper, kept_whole(drawing))
    grid = without_blanks(drawing, grid)
    strokes = whole_texts(drawing, grid)
    texts = _texts(drawing, paper, grid, strokes)
    before = len(texts) + (drawing.glance is not None)
    count = before + len(grid.places())
    first = "read this page first" if len(texts) == 1 else "read these pages first"
    for page, rows in enumerate(texts, 1):
        yield _text_page(rows, paper, _strip(drawing, 1, f"page {page} of {count}", first))
    if drawing.glance is not None:
        counted = f"page {before} of {count}"
        yield _one_page(drawing.glance, paper, series, counted, "all of it, with all sizes")
    for page, (column, row) in enumerate(grid.places(), 1 + before):
        place = f"column {column + 1} of {grid.columns}, row {row + 1} of {grid.rows}"
        tile = grid, column, row
        yield _tile(strokes, paper, _strip(drawing, 1, f"page {page} of {count}", place, tile))


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
    corners = [corner for box in boxes for corner in (box[:2], box[2:])]
    left, bottom, right, top = around(corners)
    return left - _PAD, bottom - _PAD, right + _PAD, top + _PAD


def _texts(
    drawing: Drawing, paper: Paper, grid: Grid, strokes: tuple[Stroke, ...]
) -> list[list[Row]]:
    """Rows of the pages to read, cautions first, the map as large as costs no page."""
    room = paper.width - 2 * MARGIN

    def laid_out(share: float, first: int) -> tuple[list[list[Row]], int]:
        """The pages, and on which of them the map stands."""
        map_row = _map_row(grid, strokes, (room, paper.height * share), first)
        mapped, *meanings = _with_legend(drawing, map_row, room)
        how = _together((*_joining(drawing, grid, room), mapped), paper)
        said = _together(cautions(drawing, room), paper)
        sheets = len(grid.places())
        plural = "s" if sheets > 1 else ""
        on = f"1:1 on {sheets} sheet{plural} of {paper.name}, {paper.lie}"
        rows = *heading(drawing, on, room), *said, *how, *meanings, *notes(drawing, room)
        pages = _split(rows, paper)
        return pages, next(number for number, rows in enumerate(pages) if how[-1] in rows)

    def cost(share: float) -> tuple[int, int]:
        pages, on = laid_out(share, 1)
        return len(pages), on

    share = min(_MAP_SHARES, key=cost)
    return laid_out(share, 1 + cost(share)[0] + (drawing.glance is not None))[0]


def _map_row(grid: Grid, strokes: tuple[Stroke, ...], room: tuple[float, float], first: int) -> Row:
    """The map of the pages with the drawing in it, without texts and dimensions."""
    hidden = {Layer.DIMENSION, Layer.NOTE, Layer.CENTRE}
    lines = [one for one in strokes if not isinstance(one, Label) and one.layer not in hidden]
    drawn = (*on_map(grid, room, lines), *page_map(grid, room, first))
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
    by = left - window[0], top - window[3]
    windows = grid.windows()
    seen = tuple(stroke for stroke in strokes if _is_shown(stroke, window, windows))
    marks = shifted((*match_marks(grid, column, row, seen), frame(window)), by)
    shown = left, top - grid.height, left + grid.width, top
    patch = Patch(shifted(seen, by), shown, workpiece=True)
    return Page(paper.width, paper.height, (patch, Patch((*marks, *strip(said, paper.width)))))


def _is_shown(stroke: Stroke, window: Bounds, windows: list[Bounds]) -> bool:
    """Whether a tile shows a stroke: no piece of a text that another tile shows whole."""
    left, bottom, right, top = span([stroke])
    if left > window[2] or right < window[0] or bottom > window[3] or top < window[1]:
        return False
    if not isinstance(stroke, Label):
        return True
    box = text_box(stroke)
    return within(box, window) or not any(within(box, other) for other in windows)
