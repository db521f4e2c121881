"""Standard reductions: how much smaller than the thing a drawing is on paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence

__all__ = [
    "INCH_REDUCTIONS",
    "METRIC_REDUCTIONS",
    "SMALLEST_ROOMS",
    "layout_reduction",
    "least_reduction",
]

# ISO 5455:1979, the recommended reductions.
METRIC_REDUCTIONS = (1, 2, 5, 10, 20, 50, 100, 200, 500)
# Quarter and eighth of full size are read off an inch rule (common practice).
INCH_REDUCTIONS = (1, 2, 4, 8, 10, 20, 50, 100, 200, 500)

# Room for a drawing, width and height [m], that letter and A4 both leave beside margins, strip and
# a heading of three lines: upright, and lying.
SMALLEST_ROOMS = ((0.188, 0.185), (0.256, 0.126))


def least_reduction(fits: Callable[[float], bool], series: Sequence[float]) -> float:
    """The first reduction of a series at which a drawing fits."""
    return next((reduction for reduction in series if fits(reduction)), series[-1])


def layout_reduction(width: float, height: float) -> float:
    """What to place texts for, so that they keep apart on every sheet."""
    return least_reduction(
        lambda reduction: any(
            width <= across * reduction and height <= up * reduction
            for across, up in SMALLEST_ROOMS
        ),
        METRIC_REDUCTIONS,
    )
