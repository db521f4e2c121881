"""The pages of a drawing on a chosen sheet, and the whole of it on one sheet of any size."""

from __future__ import annotations

from mountcalc.drafting.model import Drawing
from mountcalc.drafting.paper.strokes import PAPERS, Page
from mountcalc.drafting.paper.template import template_pages
from mountcalc.drafting.paper.view import sheet_of_any_size, view_pages, view_reduction
from mountcalc.drafting.reductions import INCH_REDUCTIONS, METRIC_REDUCTIONS

__all__ = ["pages", "whole_sheet"]


def pages(drawing: Drawing, sheet: str) -> tuple[Page, ...]:
    """A drawing on sheets of paper."""
    if drawing.true_scale:
        return template_pages(drawing, PAPERS[sheet], _series(sheet))
    return view_pages(drawing, PAPERS[sheet], _series(sheet))


def whole_sheet(drawing: Drawing, sheet: str) -> Page:
    """A drawing with its texts on one sheet as large as it takes."""
    if drawing.true_scale:
        return sheet_of_any_size(drawing, 1.0)
    return sheet_of_any_size(drawing, view_reduction(drawing, PAPERS[sheet], _series(sheet)))


def _series(sheet: str) -> tuple[int, ...]:
    return METRIC_REDUCTIONS if sheet in {"a4", "a3"} else INCH_REDUCTIONS
