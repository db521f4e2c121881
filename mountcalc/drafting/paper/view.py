"""A view on one page at a standard reduction, with its cautions; notes where there is room."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from mountcalc.drafting.model import Bounds, Drawing
from mountcalc.drafting.paper.rows import Row, cautions, heading, height_of, legend, notes, stacked
from mountcalc.drafting.paper.sheets import STRIP
from mountcalc.drafting.paper.strip import Strip, strip
from mountcalc.drafting.paper.strokes import (
    MARGIN,
    Page,
    Paper,
    Patch,
    Stroke,
    on_paper,
    shifted,
    span,
)
from mountcalc.drafting.paper.text_pages import split, text_page
from mountcalc.drafting.reductions import least_reduction

__all__ = ["one_page", "scale_text", "sheet_of_any_size", "view_pages", "view_reduction"]

_GAP = 0.003  # between a view and the texts around it [m]
_LEAST_WIDTH = 0.210  # of a sheet of any size: the strip's texts want it [m]


def scale_text(reduction: float) -> str:
    """A scale as it is written."""
    return f"1:{reduction:g}"


@dataclasses.dataclass(frozen=True, slots=True)
class _Plan:
    """How a view stands on its page: the sheet as it lies, the reduction, texts below and after.

    ``texts_below`` counts them: cautions, then notes. ``spare`` is the height left free [m].
    """

    paper: Paper
    reduction: float
    below: tuple[Row, ...]
    after: tuple[Row, ...]
    texts_below: int
    spare: float


def view_reduction(drawing: Drawing, paper: Paper, series: Sequence[float]) -> float:
    """The reduction of a view on a sheet, which lies as is better."""
    return _best_plan(drawing, paper, series).reduction


def _best_plan(drawing: Drawing, paper: Paper, series: Sequence[float]) -> _Plan:
    """Cautions on the page, the least reduction, notes on the page too, the most room."""
    plans = (
        _plan(drawing, lie, series, texts_below)
        for lie in (paper, paper.turned())
        for texts_below in range(len(_texts(drawing, 1.0)) + 1)
    )
    # A view must not be reduced so far that its texts meet only to keep
    # its cautions beside it: they go to the next page then.
    return min(
        plans,
        key=lambda plan: (
            max(plan.reduction, drawing.reduction),
            plan.texts_below == 0,
            plan.reduction,
            -plan.texts_below,
            -plan.spare,
        ),
    )


def _texts(drawing: Drawing, width: float) -> tuple[list[Row], ...]:
    """What is told beside a view, the more urgent first."""
    return cautions(drawing, width), [*legend(drawing, width), *notes(drawing, width)]


def _plan(drawing: Drawing, paper: Paper, series: Sequence[float], texts_below: int) -> _Plan:
    width = paper.width - 2 * MARGIN
    texts = _texts(drawing, width)
    below = tuple(row for rows in texts[:texts_below] for row in rows)
    after = tuple(row for rows in texts[texts_below:] for row in rows)
    around = [*heading(drawing, "1:100", width), *below]
    room = width, paper.height - 2 * MARGIN - STRIP - height_of(around) - 3 * _GAP
    reduction = least_reduction(
        lambda tried: _fits(drawing, tried, room), sorted({*series, drawing.reduction})
    )
    _, bottom, _, top = span(on_paper(drawing, reduction))
    return _Plan(paper, reduction, below, after, texts_below, room[1] - (top - bottom))


def _fits(drawing: Drawing, reduction: float, room: tuple[float, float]) -> bool:
    left, bottom, right, top = span(on_paper(drawing, reduction))
    return right - left <= room[0] and top - bottom <= room[1]


def view_pages(drawing: Drawing, paper: Paper, series: Sequence[float]) -> tuple[Page, ...]:
    """A view on one page, and a page of texts where they find no room beside it."""
    plan = _best_plan(drawing, paper, series)
    texts = split(plan.after, plan.paper) if plan.after else []
    count = 1 + len(texts)

    def said(page: int, place: str) -> Strip:
        scale = scale_text(plan.reduction)
        return Strip(
            drawing.title, scale, f"page {page} of {count}", place, display=drawing.display
        )

    place = "more on the next page" if texts else ""
    size = plan.paper.width, plan.paper.height
    first = _page(drawing, plan.reduction, size, plan.below, said(1, place))
    more = (
        text_page(text, plan.paper, said(page, "continued")) for page, text in enumerate(texts, 2)
    )
    return first, *more


def one_page(
    drawing: Drawing, paper: Paper, series: Sequence[float], counted: str, place: str
) -> Page:
    """A drawing without its cautions and notes on one page."""
    plans = [_plan(drawing, lie, series, 0) for lie in (paper, paper.turned())]
    plan = min(plans, key=lambda one: (one.reduction, -one.spare))
    said = Strip(drawing.title, scale_text(plan.reduction), counted, place, display=drawing.display)
    return _page(drawing, plan.reduction, (plan.paper.width, plan.paper.height), (), said)


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
        Patch(_centred(strokes, window), workpiece=True),
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
    """A drawing with all its texts on one sheet as large as it takes."""
    left, bottom, right, top = span(on_paper(drawing, reduction))
    width = max(right - left + 2 * MARGIN, _LEAST_WIDTH)
    room = width - 2 * MARGIN
    scale = scale_text(reduction)
    below = [*cautions(drawing, room), *legend(drawing, room), *notes(drawing, room)]
    texts = height_of([*heading(drawing, scale, room), *below])
    height = top - bottom + texts + 3 * _GAP + STRIP + 2 * MARGIN
    said = Strip(drawing.title, scale, "one sheet", display=drawing.display)
    return _page(drawing, reduction, (width, height), below, said)
