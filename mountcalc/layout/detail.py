"""An enlarged piece of the layout: at true proportion a turn moves the plate by a hair."""

from __future__ import annotations

import math

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.layout.parts import Pen, draw_fixed, draw_pose
from mountcalc.layout.results import Layout, Link, Pose, Screw
from mountcalc.pages.plot_style import FONT_SIZE, SOFT
from mountcalc.scenario.model import Vector

__all__ = ["draw_detail"]

_SIZES = (1.6, 1.4, 1.2, 1.0)  # inches, the first that finds room
_TITLE = 0.18
_MOST_SHIFT = 0.34  # inches that the piece may move in the enlargement
_FACTORS = (100, 50, 20, 10, 5, 2)
_LEAST_RING = 5.0  # points
_POINTS = 72.0


def draw_detail(pen: Pen, placer: Placer, layout: Layout) -> list[Label]:
    """Draw the piece that moves furthest, enlarged, where there is room."""
    if layout.other is None:
        return []
    start, end = _piece(layout.zero, layout.other)
    shift = math.dist(start, end) / (pen.point * pen.unit * _POINTS)
    factor = next((factor for factor in _FACTORS if shift * factor <= _MOST_SHIFT), None)
    if factor is None or shift == 0:
        return []
    figure = placer.figure
    for size in _SIZES:
        box = placer.reserve(size * figure.dpi, (size + _TITLE) * figure.dpi)
        if box is not None:
            middle = pen.at((0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1])))
            half = 0.5 * size * _POINTS * pen.point / factor
            axes = _frame(figure, (box.x0, box.y0, size * figure.dpi), middle, half)
            axes.set_title(f"A, {factor} times larger", fontsize=FONT_SIZE, pad=3)
            near = Pen(axes, pen.point / factor, pen.unit)
            draw_fixed(near, layout)
            draw_pose(near, layout, layout.other, solid=False)
            draw_pose(near, layout, layout.zero, solid=True)
            return [_mark(pen, middle, half)]
    return []


def _piece(zero: Pose, other: Pose) -> tuple[Vector, Vector]:
    """The point at which the adjuster moves the plate (or the motor's shaft), at both poses."""
    first, second = zero.adjuster, other.adjuster
    if isinstance(first, Link) and isinstance(second, Link):
        return first.plate_pin, second.plate_pin
    if isinstance(first, Screw) and isinstance(second, Screw):
        pairs = ((first.tip, second.tip), (first.nut, second.nut))
        return max(pairs, key=lambda pair: math.dist(*pair))
    return zero.motor_shaft, other.motor_shaft


def _frame(figure: Figure, box: tuple[float, float, float], middle: Vector, half: float) -> Axes:
    """Square axes at a corner (and as wide) [pixels] about a point of the layout's axes."""
    width, height = figure.bbox.width, figure.bbox.height
    place = (box[0] / width, box[1] / height, box[2] / width, box[2] / height)
    axes: Axes = figure.add_axes(place, label="detail", zorder=3)
    axes.set_xlim(middle[0] - half, middle[0] + half)
    axes.set_ylim(middle[1] - half, middle[1] + half)
    axes.set_xticks([])
    axes.set_yticks([])
    for spine in axes.spines.values():
        spine.set_linewidth(0.7)
    return axes


def _mark(pen: Pen, middle: Vector, half: float) -> Label:
    """A ring about the piece in the layout; its label."""
    radius = max(half, _LEAST_RING * pen.point)
    place = (middle[0] * pen.unit, middle[1] * pen.unit)
    pen.circle(place, radius * pen.unit, linewidth=0.7, edgecolor=SOFT, zorder=9, gid="ring")
    edge = pen.axes.transData.transform((middle[0], middle[1] + radius))
    return Label("A", (float(edge[0]), float(edge[1])))
