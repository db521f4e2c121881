"""A page as a PNG picture."""

from __future__ import annotations

import io
import math

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import PathPatch
from matplotlib.path import Path as Outline

from mountcalc.drafting.items import Arc, Circle, Label, Line, Path, along, bends, whole_turn
from mountcalc.drafting.paper.sheets import LINES, Page
from mountcalc.drafting.paper.text import POINTS_PER_HEIGHT, font_file, printed

__all__ = ["png"]

_DOTS_PER_INCH = 200
_MOST_DOTS = 12000  # along the longer side: more is more than viewers take (estimate)
_INCH = 0.0254
_POINTS_PER_MM = 72 / 25.4
_GROUND = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}  # of texts; [pt] around them


def png(page: Page) -> bytes:
    """A page as a picture of 200 dots per inch; fewer where it were too large to be looked at."""
    longest = max(page.width, page.height) / _INCH
    dots = min(_DOTS_PER_INCH, _MOST_DOTS / longest)
    size = page.width / _INCH, page.height / _INCH
    figure = Figure(size, dpi=dots, facecolor="white")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1), xlim=(0, page.width), ylim=(0, page.height))
    axes.set_axis_off()
    for stroke in (stroke for patch in page.patches for stroke in patch.strokes):
        if isinstance(stroke, Label):
            _write(axes, stroke)
        else:
            _draw(axes, stroke)
    stream = io.BytesIO()
    figure.savefig(stream, format="png", dpi=dots, metadata={"Software": None})
    return stream.getvalue()


def _write(axes: Axes, label: Label) -> None:
    axes.text(
        *label.at,
        printed(label.text),
        fontproperties=FontProperties(fname=font_file()),
        fontsize=label.height * POINTS_PER_HEIGHT,
        horizontalalignment="center" if label.align == "centre" else label.align,
        verticalalignment="baseline",
        rotation=math.degrees(label.angle),
        rotation_mode="anchor",
        parse_math=False,
        bbox=_GROUND if label.ground else None,
    )


def _draw(axes: Axes, stroke: Line | Arc | Circle | Path) -> None:
    look = LINES[stroke.layer]
    width = look.width * _POINTS_PER_MM
    dashes = tuple(dash * _POINTS_PER_MM / width for dash in look.dashes)
    axes.add_patch(
        PathPatch(
            _outline(stroke), fill=False, edgecolor="black", linewidth=width,
            linestyle=(0.0, dashes) if dashes else "solid", capstyle="butt", joinstyle="miter",
        )
    )  # fmt: skip


def _outline(stroke: Line | Arc | Circle | Path) -> Outline:
    match stroke:
        case Line():
            return Outline([stroke.start, stroke.end])
        case Path():
            points = [*stroke.points, stroke.points[0]] if stroke.closed else list(stroke.points)
            return Outline(points, closed=stroke.closed)
        case Circle():
            return _outline(whole_turn(stroke))
        case Arc():
            corners = [corner for bend in bends(stroke) for corner in bend]
            start = along(stroke.centre, stroke.start, stroke.radius)
            codes = [Outline.MOVETO, *[Outline.CURVE4] * len(corners)]
            return Outline([start, *corners], codes)
