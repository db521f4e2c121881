"""A page as a PNG picture."""

from __future__ import annotations

import io
import math

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import PathPatch
from matplotlib.path import Path

from mountcalc.drafting.items import Label, way_of
from mountcalc.drafting.paper.sheets import LINES, Page
from mountcalc.drafting.paper.text import POINTS_PER_HEIGHT, font_file, printed

_DOTS_PER_INCH = 200
_MOST_DOTS = 12000  # along the longer side: more is more than viewers take (estimate)
_INCH = 0.0254
_POINTS_PER_MM = 72 / 25.4
_GROUND = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}  # of texts; [pt] around them


def png(page: Page) -> bytes:
    """A page as a picture of 200 dots per inch; fewer where it were too large to be looked at."""
    size = page.width / _INCH, page.height / _INCH
    dots = min(_DOTS_PER_INCH, _MOST_DOTS / max(size))
    figure = Figure(size, dpi=dots, facecolor="white")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1), xlim=(0, page.width), ylim=(0, page.height))
    axes.set_axis_off()
    for stroke in (stroke for patch in page.patches for stroke in patch.strokes):
        if isinstance(stroke, Label):
            axes.text(
                *stroke.at,
                printed(stroke.text),
                fontproperties=FontProperties(fname=font_file()),
                fontsize=stroke.height * POINTS_PER_HEIGHT,
                horizontalalignment="center" if stroke.align == "centre" else stroke.align,
                verticalalignment="baseline",
                rotation=math.degrees(stroke.angle),
                rotation_mode="anchor",
                parse_math=False,
                bbox=_GROUND if stroke.ground else None,
            )
            continue
        start, steps, closed = way_of(stroke)
        points, codes = [start], [Path.MOVETO]
        for step in steps:
            points += step
            codes += [Path.LINETO] if len(step) == 1 else [Path.CURVE4] * len(step)
        if closed:
            points, codes = [*points, start], [*codes, Path.CLOSEPOLY]
        look = LINES[stroke.layer]
        width = look.width * _POINTS_PER_MM
        dashes = tuple(dash * _POINTS_PER_MM / width for dash in look.dashes)
        axes.add_patch(
            PathPatch(
                Path(points, codes), fill=False, edgecolor="black", linewidth=width,
                linestyle=(0.0, dashes) if dashes else "solid", capstyle="butt", joinstyle="miter",
            )
        )  # fmt: skip
    stream = io.BytesIO()
    figure.savefig(stream, format="png", dpi=dots, metadata={"Software": None})
    return stream.getvalue()
