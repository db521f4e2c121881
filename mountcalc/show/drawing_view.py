"""A view on one page at a standard reduction, with its cautions; notes where there is room."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.drawing.model import Bounds, Drawing
from mountcalc.drawing.reductions import least_reduction
from mountcalc.show.drawing_paper import (
    MARGIN,
    Page,
    Paper,
    Patch,
    Stroke,
    on_paper,
    shifted,
    span,
)
from mountcalc.show.drawing_rows import (
    Row,
    cautions,
    heading,
    height_of,
    legend,
    notes,
    stacked,
)
from mountcalc.show.drawing_sheets import STRIP
from mountcalc.show.drawing_strip import Strip, strip
from mountcalc.show.drawing_text_pages import split, text_page

__all__ = ["scale_text", "sheet_of_any_size", "view_pages", "view_reduction"]

_GAP = 0.003  # between a view and the texts around it [m]
_LEAST_WIDTH = 0.210  # of a sheet of any size: the strip's texts want it [m]


def scale_text(reduction: float) -> str:
    """A scale as it is written.

    Parameters
    ----------
    reduction : float [-]
        How many times smaller than the thing.

    Returns
    -------
    str
        "1:5" and the like.
    """
    return f"1:{reduction:g}"


def view_reduction(drawing: Drawing, paper: Paper, series: Sequence[float]) -> float:
    """The least reduction at which a view and its cautions fit on a sheet, either way round.

    Parameters
    ----------
    drawing : Drawing
        What is shown.
    paper : Paper
        The sheet.
    series : sequence of float [-]
        Reductions to choose from, rising.

    Returns
    -------
    float [-]
        The reduction.
    """
    return min(_reduction(drawing, lie, series) for lie in (paper, paper.turned()))


def _reduction(drawing: Drawing, paper: Paper, series: Sequence[float]) -> float:
    room = paper.width - 2 * MARGIN, _view_room(drawing, paper)
    return least_reduction(lambda reduction: _fits(drawing, reduction, room), series)


def _view_room(drawing: Drawing, paper: Paper) -> float:
    """Height that heading, cautions and strip leave."""
    width = paper.width - 2 * MARGIN
    rows = [*heading(drawing, "1:100", width), *cautions(drawing, width)]
    return paper.height - 2 * MARGIN - STRIP - height_of(rows) - 3 * _GAP


def _fits(drawing: Drawing, reduction: float, room: tuple[float, float]) -> bool:
    left, bottom, right, top = span(on_paper(drawing, reduction))
    return right - left <= room[0] and top - bottom <= room[1]


def view_pages(drawing: Drawing, paper: Paper, series: Sequence[float]) -> tuple[Page, ...]:
    """A view on one page, and a page of notes where they find no room beside it.

    Parameters
    ----------
    drawing : Drawing
        What is shown.
    paper : Paper
        The sheet, either way round.
    series : sequence of float [-]
        Reductions to choose from, rising.

    Returns
    -------
    tuple of Page
        The view comes first.
    """
    # The sheet lies so that less reduction is needed, and more room is left where both will do.
    paper = min(
        (paper, paper.turned()),
        key=lambda lie: (_reduction(drawing, lie, series), -_spare(drawing, lie, series)),
    )
    reduction = _reduction(drawing, paper, series)
    width = paper.width - 2 * MARGIN
    below = cautions(drawing, width)
    after = [*legend(drawing, width), *notes(drawing, width)]
    if height_of(after) <= _spare(drawing, paper, series):
        below, after = [*below, *after], []
    texts = split(after, paper) if after else []
    count = 1 + len(texts)

    def said(page: int, place: str) -> Strip:
        return Strip(drawing.title, scale_text(reduction), f"page {page} of {count}", place)

    first = _page(drawing, reduction, (paper.width, paper.height), below, said(1, ""))
    more = (text_page(text, paper, said(page, "notes")) for page, text in enumerate(texts, 2))
    return first, *more


def _spare(drawing: Drawing, paper: Paper, series: Sequence[float]) -> float:
    """Height that is left free on a sheet."""
    _, bottom, _, top = span(on_paper(drawing, _reduction(drawing, paper, series)))
    return _view_room(drawing, paper) - (top - bottom)


def _page(
    drawing: Drawing,
    reduction: float,
    size: tuple[float, float],
    below: Sequence[Row],
    said: Strip,
) -> Page:
    """Heading, the view in the middle of what is left, rows of text, strip."""
    width, height = size
    head = heading(drawing, said.scale, width - 2 * MARGIN)
    top = height - MARGIN - height_of(head) - _GAP
    bottom = MARGIN + STRIP + height_of(below) + 2 * _GAP
    strokes = on_paper(drawing, reduction)
    window = (MARGIN, bottom, width - MARGIN, top)
    patches = (
        Patch(_centred(strokes, window)),
        Patch(stacked(head, (MARGIN, height - MARGIN))),
        Patch(stacked(below, (MARGIN, bottom - _GAP))),
        Patch(strip(said, width)),
    )
    return Page(width, height, patches)


def _centred(strokes: tuple[Stroke, ...], window: Bounds) -> tuple[Stroke, ...]:
    left, bottom, right, top = span(strokes)
    across = (window[0] + window[2] - left - right) / 2
    up = (window[1] + window[3] - bottom - top) / 2
    return shifted(strokes, (across, up))


def sheet_of_any_size(drawing: Drawing, reduction: float) -> Page:
    """A drawing with all its texts on one sheet as large as it takes.

    Parameters
    ----------
    drawing : Drawing
        What is shown.
    reduction : float [-]
        How many times smaller than the thing.

    Returns
    -------
    Page
        The sheet.
    """
    left, bottom, right, top = span(on_paper(drawing, reduction))
    width = max(right - left + 2 * MARGIN, _LEAST_WIDTH)
    room = width - 2 * MARGIN
    scale = scale_text(reduction)
    below = [*cautions(drawing, room), *legend(drawing, room), *notes(drawing, room)]
    texts = height_of([*heading(drawing, scale, room), *below])
    height = top - bottom + texts + 3 * _GAP + STRIP + 2 * MARGIN
    said = Strip(drawing.title, scale, "one sheet")
    return _page(drawing, reduction, (width, height), below, said)
