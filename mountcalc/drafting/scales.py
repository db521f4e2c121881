"""Standard scales, 1 to so many; a drawing made for the one at which it fits the smallest sheet."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item
from mountcalc.scenario.model import Display

__all__ = [
    "INCH_SCALES",
    "METRIC_SCALES",
    "SMALLEST_ROOMS",
    "fits_sheet",
    "least_scale",
    "settled",
    "settled_with_names",
]

# ISO 5455:1979, the recommended reduction scales.
METRIC_SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500)
# Quarter and eighth of full size are read off an inch rule (common practice).
INCH_SCALES = (1, 2, 4, 8, 10, 20, 50, 100, 200, 500)

# Room for a drawing, width and height [m], that letter and A4 both leave beside margins, strip and
# a heading of three lines: upright, and lying.
SMALLEST_ROOMS = ((0.188, 0.185), (0.256, 0.126))


def least_scale(fits: Callable[[float], bool], series: Sequence[float]) -> float:
    """The first scale of a series at which a drawing fits."""
    return next((scale for scale in series if fits(scale)), series[-1])


def fits_sheet(drawing: Drawing) -> bool:
    """Whether a drawing at its scale fits the smallest sheet."""
    left, bottom, right, top = drawing.bounds()
    width, height = (right - left) / drawing.scale, (top - bottom) / drawing.scale
    return any(width <= across and height <= up for across, up in SMALLEST_ROOMS)


def settled(build: Callable[[float], Drawing], bare: Sequence[Item], display: Display) -> Drawing:
    """Draw for the least scale at which the drawing fits the smallest sheet.

    Texts keep their size on paper, so a drawing grows with its scale.
    """
    series = INCH_SCALES if display is Display.INCH else METRIC_SCALES
    for scale in series[:-1]:
        if fits_sheet(Drawing("", "", "", tuple(bare), scale=scale)):
            drawing = build(scale)
            if fits_sheet(drawing):
                return drawing
    return build(series[-1])


def settled_with_names(
    unnamed: Callable[[float], Drawing],
    named: Callable[[Drawing], Drawing],
    bare: Sequence[Item],
    display: Display,
) -> Drawing:
    """Draw for the least scale at which the drawing fits with its names."""
    least = settled(unnamed, bare, display).scale
    return settled(
        lambda scale: named(unnamed(scale)) if scale >= least else unnamed(scale), bare, display
    )
