"""Pages drawn with matplotlib: figures of the exact size, in black."""

from __future__ import annotations

import math

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path as Outline
from matplotlib.transforms import Affine2D

from mountcalc.drafting.geometry import sweep
from mountcalc.drafting.model import Arc, Circle, Label, Line, Path
from mountcalc.drafting.paper.line_styles import LINES
from mountcalc.drafting.paper.strokes import Page, Patch
from mountcalc.drafting.paper.type import FONT, POINTS_PER_HEIGHT, printed

__all__ = ["figure_of"]

_INCH = 0.0254
_POINTS_PER_MM = 72 / 25.4
_GROUND = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}  # of texts; [pt] around them


def figure_of(page: Page, dpi: float = 72) -> Figure:
    """A page as a figure."""
    figure = Figure((page.width / _INCH, page.height / _INCH), dpi=dpi, facecolor="white")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, page.width)
    axes.set_ylim(0, page.height)
    for patch in page.patches:
        _draw_patch(axes, patch)
    return figure


def _draw_patch(axes: Axes, patch: Patch) -> None:
    clip = None
    if patch.window is not None:
        left, bottom, right, top = patch.window
        clip = Rectangle((left, bottom), right - left, top - bottom, transform=axes.transData)
    for stroke in patch.strokes:
        drawn = _text(axes, stroke) if isinstance(stroke, Label) else _line(axes, stroke)
        if clip is not None:
            drawn.set_clip_path(clip)


def _text(axes: Axes, label: Label) -> mpl.text.Text:
    align = "center" if label.align == "centre" else label.align
    return axes.text(
        *label.at,
        printed(label.text),
        fontproperties=FONT,
        fontsize=label.height * POINTS_PER_HEIGHT,
        horizontalalignment=align,
        verticalalignment="baseline",
        rotation=math.degrees(label.angle),
        rotation_mode="anchor",
        parse_math=False,
        clip_on=True,
        bbox=_GROUND if label.ground else None,
    )


def _line(axes: Axes, stroke: Line | Arc | Circle | Path) -> PathPatch:
    look = LINES[stroke.ink]
    width = look.width * _POINTS_PER_MM
    style: tuple[float, tuple[float, ...]] | str = "solid"
    if look.dashes:
        style = (0.0, tuple(dash * _POINTS_PER_MM / width for dash in look.dashes))
    drawn = PathPatch(
        _outline(stroke),
        fill=False,
        edgecolor="black",
        linewidth=width,
        linestyle=style,
        capstyle="butt",
        joinstyle="miter",
    )
    axes.add_patch(drawn)
    return drawn


def _outline(stroke: Line | Arc | Circle | Path) -> Outline:
    match stroke:
        case Line():
            return Outline([stroke.start, stroke.end])
        case Path():
            points = [*stroke.points, stroke.points[0]] if stroke.closed else list(stroke.points)
            return Outline(points, closed=stroke.closed)
        case Circle():
            return _arc(stroke.centre, stroke.radius, 0.0, math.tau)
        case Arc():
            return _arc(stroke.centre, stroke.radius, stroke.start, sweep(stroke))


def _arc(centre: tuple[float, float], radius: float, start: float, turn: float) -> Outline:
    # Pieces of at most 1/16 turn: their curves stray from the circle by less than 1e-9 of it.
    pieces = max(1, math.ceil(turn / (math.pi / 8)))
    unit = Outline.arc(0.0, math.degrees(turn), n=pieces)
    return Affine2D().rotate(start).scale(radius).translate(*centre).transform_path(unit)
