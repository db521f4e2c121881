"""Place the texts of a drawing for the reduction at which it will be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from mountcalc.drafting.model import Drawing, Item
from mountcalc.drafting.reductions import INCH_REDUCTIONS, METRIC_REDUCTIONS, layout_reduction
from mountcalc.scenario.model import Display

__all__ = ["fits_sheet", "settled", "settled_with_names"]


def fits_sheet(drawing: Drawing) -> bool:
    """Whether a drawing at its reduction fits the smallest sheet."""
    left, bottom, right, top = drawing.bounds()
    across, up = (right - left) / drawing.reduction, (top - bottom) / drawing.reduction
    return layout_reduction(across, up) <= 1


def settled(build: Callable[[float], Drawing], bare: Sequence[Item], display: Display) -> Drawing:
    """Draw for the least reduction at which the drawing fits the smallest sheet.

    Texts keep their size on paper, so a drawing grows with its reduction.
    """
    series = INCH_REDUCTIONS if display is Display.INCH else METRIC_REDUCTIONS
    for reduction in series[:-1]:
        if fits_sheet(Drawing("", "", "", tuple(bare), reduction=reduction)):
            drawing = build(reduction)
            if fits_sheet(drawing):
                return drawing
    return build(series[-1])


def settled_with_names(
    unnamed: Callable[[float], Drawing],
    named: Callable[[Drawing], Drawing],
    bare: Sequence[Item],
    display: Display,
) -> Drawing:
    """Draw for the least reduction at which the drawing fits with its names."""
    least = settled(unnamed, bare, display).reduction
    return settled(
        lambda reduction: named(unnamed(reduction)) if reduction >= least else unnamed(reduction),
        bare,
        display,
    )
