"""A bar that says how long a piece of a drawing is."""

from __future__ import annotations

import math

from mountcalc.drafting.names.figure import Placer
from mountcalc.layout import Pen
from mountcalc.pages.display import DisplayUnits
from mountcalc.pages.plot_style import FONT_SIZE, INK

__all__ = ["draw_scale_bar"]

_LONG = 1.5 * 72  # points, at most


def draw_scale_bar(pen: Pen, placer: Placer, units: DisplayUnits) -> bool:
    """Draw one where there is room."""
    about = _LONG * pen.point
    power = 10.0 ** math.floor(math.log10(about))
    length = next(step * power for step in (5.0, 2.0, 1.0) if step * power <= about * (1 + 1e-9))
    wide = length / pen.point * placer.point
    box = placer.reserve(wide + 10 * placer.point, 24 * placer.point)
    if box is None:
        return False
    left, bottom = 0.5 * (box.x0 + box.x1 - wide), box.y0 + 4 * placer.point
    (x0, y0), (x1, y1) = pen.axes.transData.inverted().transform(
        [(left, bottom), (left + wide, bottom + 5 * placer.point)]
    )
    half = 0.5 * (x0 + x1)
    for start, colour in ((x0, INK), (half, "white")):
        pen.axes.fill(
            [start, start + half - x0, start + half - x0, start], [y0, y0, y1, y1],
            facecolor=colour, edgecolor=INK, linewidth=0.7, gid="scale bar", zorder=6,
        )  # fmt: skip
    pen.axes.text(
        half, y1 + 2 * pen.point, f"{length:g} {units.length}", fontsize=FONT_SIZE, ha="center",
        va="bottom",
    )  # fmt: skip
    return True
