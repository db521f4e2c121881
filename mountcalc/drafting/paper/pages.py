"""The pages of a drawing on a chosen sheet, and the whole of it on one sheet of any size.

A template has pages to read, then tiles at true scale; a view stands on one page at a standard
scale, its cautions beside it, its notes where there is room.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import TEXT_HEIGHT, Bounds, Label, Layer, Line, Point, Stroke, around
from mountcalc.drafting.paper.joints import (
    kept_whole,
    match_marks,
    whole_texts,
    within,
    without_blanks,
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
    best_grid,
    fewest_sheets,
    frame,
    on_map,
    on_paper,
    page_map,
    shifted,
    span,
)
from mountcalc.drafting.paper.text import (
    Row,
    cut_to,
    heading,
    height_of,
    kept,
    legend,
    listed,
    paragraph,
    stacked,
    text_box,
    text_width,
)
from mountcalc.errors import InputError
from mountcalc.pages.amounts import bench_length
from mountcalc.scenario.text.writing import Display

PRINT_WHOLE = "Print at 100 %, without fitting to the page, and measure the bar at the foot."
"""How a template becomes one."""
_GAP = 0.003  # between a view, or text, and what stands around it [m]
_LEAST_WIDTH = 0.210  # of a sheet of any size: the strip's texts want it [m]
_MAP_SHARES = (0.3, 0.25, 0.2)  # of the first page's height, the most that its map takes
_BESIDE = 0.008  # between the map and what stands beside it [m]
_MOST_SHEETS = 150  # more than anyone joins (estimate)
_PAD = 0.003  # kept free around the drawing [m]
# Of the strip: step [m], number of steps, and name of its bar; ticks; levels above the margin [m].
_BAR = {Display.INCH: (0.0254, 4, "4 in"), Display.METRIC: (0.010, 10, "100 mm")}
_TICK, _END_TICK = 0.0015, 0.003
_SMALL_MAP = (0.020, 0.0135)
_FIRST_LINE, _SECOND_LINE, _BAR_LINE, _MAP = 0.0235, 0.0175, 0.0045, 0.002


def pages(drawing: Drawing, sheet: str) -> tuple[Page, ...]:
    """A drawing on sheets of paper."""
    made = _template_pages if drawing.true_scale else _view_pages
    return tuple(made(drawing, PAPERS[sheet]))


def whole_sheet(drawing: Drawing, sheet: str) -> Page:
    """A drawing with all its texts on one sheet as large as it takes."""
    scale = 1.0 if drawing.true_scale else _best_plan(drawing, PAPERS[sheet]).scale
    left, bottom, right, top = span(on_paper(drawing, scale))
    width = max(right - left + 2 * MARGIN, _LEAST_WIDTH)
    below = [row for rows in _remark_rows(drawing, width - 2 * MARGIN) for row in rows]
    texts = height_of([*heading(drawing, f"1:{scale:g}", width - 2 * MARGIN), *below])
    height = top - bottom + texts + 3 * _GAP + STRIP + 2 * MARGIN
    return _page(drawing, scale, (width, height), below, ("one sheet", ""))


def _remark_rows(drawing: Drawing, room: float) -> tuple[list[Row], list[Row]]:
    """What is told beside a view, the more urgent first."""
    notes = listed("Notes", drawing.notes, room)
    return listed("Cautions", drawing.cautions, room), [*legend(drawing, room), *notes]


def _strip(
    drawing: Drawing,
    scale: float,
    width: float,
    at: tuple[str, str],
    tile: tuple[Grid, int, int] | None = None,
) -> tuple[Stroke, ...]:
    """A page's foot: ``at`` is which page it is, and where it belongs."""
    right = width - MARGIN
    page, place = at
    room = right - MARGIN - text_width(page, TEXT_HEIGHT) - 0.005
    first, second = MARGIN + _FIRST_LINE, MARGIN + _SECOND_LINE
    strokes: list[Stroke] = [
        Line((MARGIN, MARGIN + STRIP), (right, MARGIN + STRIP), Layer.NOTE),
        Label((MARGIN, first), cut_to(drawing.title, TEXT_HEIGHT, room)),
        Label((right, first), page, align="right"),
        Label((MARGIN, second), cut_to(place, TEXT_HEIGHT, 0.13)),
        Label((right, second), f"scale 1:{scale:g}", align="right"),
        *_bar((MARGIN, MARGIN + _BAR_LINE), drawing.display),
    ]
    if tile is not None:
        grid, *here = tile
        left, bottom, end, top = grid.cell(*here)
        crossed = (
            Line((left, bottom), (end, top), Layer.NOTE),
            Line((left, top), (end, bottom), Layer.NOTE),
        )
        cells = [frame(grid.cell(*one)) for one in grid.places()]
        small = on_map(grid, _SMALL_MAP, (*cells, *crossed))
        strokes.extend(shifted(small, (right - span(small)[2], MARGIN + _MAP)))
    return tuple(strokes)


def _bar(at: Point, display: Display) -> Iterator[Stroke]:
    """A bar to be measured, and what it is for."""
    step, count, name = _BAR[display]
    left, level = at
    yield Line((left, level), (left + step * count, level), Layer.NOTE)
    for tick in range(count + 1):
        height = _END_TICK if tick in {0, count} else _TICK
        across = left + step * tick
        yield Line((across, level), (across, level + height), Layer.NOTE)
    yield Label((left + 0.104, level), f"{name}, or printing scaled it")


# Pages of text: rows as many as fit, the rest on further pages.


def _room(paper: Paper) -> float:
    """Height of a page for its rows [m]."""
    return paper.height - 2 * MARGIN - STRIP - _GAP


def _split(rows: Iterable[Row], paper: Paper) -> list[list[Row]]:
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
    return [*rows[:1], *(kept(rows[1:]) if height_of(rows) <= _room(paper) else rows[1:])]


def _text_page(
    drawing: Drawing, paper: Paper, rows: Iterable[Row], scale: float, at: tuple[str, str]
) -> Page:
    foot = _strip(drawing, scale, paper.width, at)
    strokes = *stacked(rows, (MARGIN, paper.height - MARGIN)), *foot
    return Page(paper.width, paper.height, (Patch(strokes),))


# A view.


class _Plan(NamedTuple):
    """How a view stands on its page: the sheet as it lies, the scale, texts below and after.

    ``texts_below`` counts them: cautions, then notes. ``spare`` is the height left free [m].
    """

    paper: Paper
    scale: float
    below: list[Row]
    after: list[Row]
    texts_below: int
    spare: float


def _best_plan(drawing: Drawing, paper: Paper, counts: Sequence[int] = (0, 1, 2)) -> _Plan:
    """Cautions on the page, the least scale, notes on the page too, the most room."""
    plans = []
    for lie, count in itertools.product(paper.both(), counts):
        width = lie.width - 2 * MARGIN
        told = _remark_rows(drawing, width)
        below, after = ([*itertools.chain(*some)] for some in (told[:count], told[count:]))
        texts_height = height_of([*heading(drawing, "1:100", width), *below])
        height = lie.height - 2 * MARGIN - STRIP - texts_height - 3 * _GAP
        for scale in sorted({*paper.scales, drawing.scale}):
            left, bottom, right, top = span(on_paper(drawing, scale))
            if right - left <= width and top - bottom <= height:
                break
        plans.append(_Plan(lie, scale, below, after, count, height - (top - bottom)))
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


def _view_pages(drawing: Drawing, paper: Paper) -> Iterator[Page]:
    """A view on one page, and pages of texts where they find no room beside it."""
    plan = _best_plan(drawing, paper)
    texts = _split(plan.after, plan.paper) if plan.after else []
    count = 1 + len(texts)
    at = f"page 1 of {count}", "more on the next page" if texts else ""
    yield _page(drawing, plan.scale, (plan.paper.width, plan.paper.height), plan.below, at)
    for page, rows in enumerate(texts, 2):
        yield _text_page(
            drawing, plan.paper, rows, plan.scale, (f"page {page} of {count}", "continued")
        )


def _page(
    drawing: Drawing,
    scale: float,
    size: tuple[float, float],
    below: Sequence[Row],
    at: tuple[str, str],
) -> Page:
    """Heading, the view in the middle of what is left, rows of text, strip."""
    width, height = size
    head = heading(drawing, f"1:{scale:g}", width - 2 * MARGIN)
    upper = height - MARGIN - height_of(head) - _GAP
    lower = MARGIN + STRIP + height_of(below) + 2 * _GAP
    strokes = on_paper(drawing, scale)
    left, bottom, right, top = span(strokes)
    middle = (width - left - right) / 2, (lower + upper - bottom - top) / 2
    patches = (
        Patch(shifted(strokes, middle), workpiece=True),
        Patch(stacked(head, (MARGIN, height - MARGIN))),
        Patch(stacked(below, (MARGIN, lower - _GAP))),
        Patch(_strip(drawing, scale, width, at)),
    )
    return Page(width, height, patches)


# A template.


def _template_pages(drawing: Drawing, paper: Paper) -> Iterator[Page]:
    """A template over as many sheets as it takes."""
    bounds = _bounds(drawing)
    _refuse_many_sheets(drawing, bounds, paper)
    paper, grid = best_grid(bounds, paper, *kept_whole(drawing))
    grid = without_blanks(drawing, grid)
    strokes = whole_texts(drawing, grid)
    texts = _texts(drawing, paper, grid, strokes)
    before = len(texts) + (drawing.glance is not None)
    count = before + len(grid.places())
    first = "read this page first" if len(texts) == 1 else "read these pages first"
    for page, rows in enumerate(texts, 1):
        yield _text_page(drawing, paper, rows, 1.0, (f"page {page} of {count}", first))
    if drawing.glance is not None:
        plan = _best_plan(drawing.glance, paper, (0,))
        size = plan.paper.width, plan.paper.height
        at = f"page {before} of {count}", "all of it, with all sizes"
        yield _page(drawing.glance, plan.scale, size, (), at)
    windows = grid.windows()
    for page, tile in enumerate(grid.places(), 1 + before):
        place = f"column {tile[0] + 1} of {grid.columns}, row {tile[1] + 1} of {grid.rows}"
        window = grid.window(*tile)
        by = MARGIN - window[0], paper.height - MARGIN - window[3]
        seen = tuple(stroke for stroke in strokes if _is_shown(stroke, window, windows))
        marks = shifted((*match_marks(grid, *tile, seen), frame(window)), by)
        foot = _strip(drawing, 1.0, paper.width, (f"page {page} of {count}", place), (grid, *tile))
        shown = window[0] + by[0], window[1] + by[1], window[2] + by[0], window[3] + by[1]
        patches = Patch(shifted(seen, by), shown, workpiece=True), Patch((*marks, *foot))
        yield Page(paper.width, paper.height, patches)


def _is_shown(stroke: Stroke, window: Bounds, windows: list[Bounds]) -> bool:
    """Whether a tile shows a stroke: no piece of a text that another tile shows whole."""
    left, bottom, right, top = span([stroke])
    if left > window[2] or right < window[0] or bottom > window[3] or top < window[1]:
        return False
    if not isinstance(stroke, Label):
        return True
    box = text_box(stroke)
    return within(box, window) or not any(within(box, other) for other in windows)


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
    left, bottom, right, top = around(corner for box in boxes for corner in (box[:2], box[2:]))
    return left - _PAD, bottom - _PAD, right + _PAD, top + _PAD


def _texts(
    drawing: Drawing, paper: Paper, grid: Grid, strokes: tuple[Stroke, ...]
) -> list[list[Row]]:
    """Rows of the pages to read, cautions first, the map as large as costs no page."""
    room = paper.width - 2 * MARGIN
    sheets = len(grid.places())
    lie = "landscape" if paper.width > paper.height else "portrait"
    on = f"1:1 on {sheets} sheet{'s' if sheets > 1 else ''} of {paper.name}, {lie}"
    cautions = _together(listed("Cautions", drawing.cautions, room), paper)
    how = PRINT_WHOLE
    if sheets > 1:
        how += (
            f" Sheets overlap by {bench_length(OVERLAP, drawing.display)}: trim one at its frame,"
            " lay it on the next so that crosses of the same name meet (against a window, or with a"
            " pin through both), and tape them."
        )

    def laid_out(share: float, first: int) -> tuple[list[list[Row]], int]:
        """The pages, and on which of them the map stands."""
        mapped, *meanings = _map(drawing, grid, strokes, (room, paper.height * share), first)
        joining = _together([Row(_PAD), *paragraph(how, room), mapped], paper)
        notes = listed("Notes", drawing.notes, room)
        pages = _split([*heading(drawing, on, room), *cautions, *joining, *meanings, *notes], paper)
        return pages, next(number for number, rows in enumerate(pages) if joining[-1] in rows)

    def cost(share: float) -> tuple[int, int]:
        pages, on = laid_out(share, 1)
        return len(pages), on

    share = min(_MAP_SHARES, key=cost)
    return laid_out(share, 1 + cost(share)[0] + (drawing.glance is not None))[0]


def _map(
    drawing: Drawing,
    grid: Grid,
    strokes: tuple[Stroke, ...],
    room: tuple[float, float],
    first: int,
) -> list[Row]:
    """The map of the pages with the drawing in it, and what its lines mean: beside it, or below."""
    hidden = {Layer.DIMENSION, Layer.NOTE, Layer.CENTRE}
    lines = [one for one in strokes if not isinstance(one, Label) and one.layer not in hidden]
    drawn = (*on_map(grid, room, lines), *page_map(grid, room, first))
    _, _, right, top = span(drawn)
    high, start = top + 2 * _PAD, right + _BESIDE
    beside = legend(drawing, room[0] - start, columns=1)
    texts = [one for row in beside for one in row.strokes if isinstance(one, Label)]
    if start + max((text_box(one)[2] for one in texts), default=0.0) > room[0]:
        return [Row(high, shifted(drawn, (0.0, _PAD))), *legend(drawing, room[0])]
    height = max(high, height_of(beside))
    map_strokes = shifted(drawn, (0.0, _PAD + height - high))
    return [Row(height, (*map_strokes, *stacked(beside, (start, height))))]
