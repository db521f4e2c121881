"""The layout to true proportion, at zero and at another setting."""

from __future__ import annotations

import math

from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from mountcalc.drafting.names.figure import Placer
from mountcalc.equilibrium.states import State
from mountcalc.layout.detail import draw_detail
from mountcalc.layout.labels import angle_text, layout_labels, pose_name
from mountcalc.layout.parts import Pen, draw_arrow, draw_fixed, draw_pose, draw_turning
from mountcalc.layout.results import Layout, Link, Screw
from mountcalc.pages.display import UNITS, DisplayUnits
from mountcalc.pages.plot_style import FONT_SIZE, INK, STATE_WORDS, heading, new_figure, panel
from mountcalc.scenario.model import Vector
from mountcalc.units import si_factor

__all__ = ["layout_figure"]

_WIDTH, _HEIGHT = 8.0, 6.0
# Inches around the drawing's frame, and the share of the frame that the mount may fill.
_LEFT, _RIGHT, _BOTTOM = 0.72, 0.15, 0.50
_FILL_WIDTH, _FILL_HEIGHT = 0.66, 0.70
_ARROW = 52.0  # points
_VIEW = (
    "True proportion, seen facing the motor's pulley. Plate angles are from as drawn, "
    "counter-clockwise positive."
)


def layout_figure(layout: Layout) -> Figure:
    """Draw a mount's layout."""
    figure = new_figure(_WIDTH, _HEIGHT)
    units = UNITS[layout.display]
    top = heading(figure, layout.title, (_VIEW, *_poses_line(layout), *_remarks(layout)))
    pen = _drawing(figure, layout, units, top + 0.06)
    draw_fixed(pen, layout)
    if layout.other is not None:
        draw_pose(pen, layout, layout.other, solid=False)
    draw_pose(pen, layout, layout.zero, solid=True)
    draw_turning(pen, layout)
    load_tip = _draw_load(pen, layout)
    furniture = Placer(figure, pen.axes.get_window_extent())
    labels = draw_detail(pen, furniture, layout)
    _scale_bar(pen, furniture, units)
    _gravity(pen, furniture)
    placer = Placer(figure, furniture.frame)
    placer.taken = furniture.taken
    placer.place([*layout_labels(pen, layout, units, load_tip), *labels])
    return figure


def _poses_line(layout: Layout) -> tuple[str, ...]:
    parts = []
    for word, pose in (("Solid", layout.zero), ("Dashed", layout.other)):
        if pose is not None:
            state = "" if pose.state is State.NO_BALANCE else f", {STATE_WORDS[pose.state]}"
            parts.append(f"{word}: {pose_name(pose)}, plate angle {angle_text(pose)}{state}.")
    return (" ".join(parts),)


def _remarks(layout: Layout) -> tuple[str, ...]:
    return tuple(f"{remark[0].upper()}{remark[1:]}." for remark in layout.remarks)


def _bounds(layout: Layout) -> tuple[float, float, float, float]:
    """The least box about all that is drawn to scale [m]."""
    points: list[Vector] = [layout.hinge]
    circles = [(layout.driven_shaft, layout.driven_radius)]
    for pose in (layout.zero, layout.other):
        if pose is None:
            continue
        circles.append((pose.motor_shaft, layout.body_radius))
        points += [*pose.plate, pose.motor_mass, *(point for arm in pose.arms for point in arm)]
        if pose.plate_mass is not None:
            points.append(pose.plate_mass)
        if isinstance(pose.adjuster, Screw):
            points += [pose.adjuster.head, pose.adjuster.tip, *pose.adjuster.face]
        elif isinstance(pose.adjuster, Link):
            points += [pose.adjuster.base_pin, pose.adjuster.plate_pin]
    low = [min(*(p[i] for p in points), *(c[i] - r for c, r in circles)) for i in (0, 1)]
    high = [max(*(p[i] for p in points), *(c[i] + r for c, r in circles)) for i in (0, 1)]
    return low[0], low[1], high[0], high[1]


def _drawing(figure: Figure, layout: Layout, units: DisplayUnits, top: float) -> Pen:
    """Axes whose limits already have the frame's proportion, so that nothing shifts later."""
    width, height = _WIDTH - _LEFT - _RIGHT, _HEIGHT - _BOTTOM - top
    axes = panel(figure, _LEFT, _RIGHT, top, height)
    unit = si_factor(units.length)
    x0, y0, x1, y1 = (value / unit for value in _bounds(layout))
    per_inch = max((x1 - x0) / (_FILL_WIDTH * width), (y1 - y0) / (_FILL_HEIGHT * height))
    x, y = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
    axes.set_xlim(x - 0.5 * width * per_inch, x + 0.5 * width * per_inch)
    axes.set_ylim(y - 0.5 * height * per_inch, y + 0.5 * height * per_inch)
    axes.set_aspect("equal", adjustable="box")
    axes.set_xlabel(f"x [{units.length}]", fontsize=FONT_SIZE, labelpad=2)
    axes.set_ylabel(f"y [{units.length}]", fontsize=FONT_SIZE, labelpad=2)
    return Pen(axes, per_inch / 72.0, unit)


def _draw_load(pen: Pen, layout: Layout) -> Vector | None:
    if layout.shaft_load is None:
        return None
    size = math.hypot(*layout.shaft_load)
    way = (layout.shaft_load[0] / size, layout.shaft_load[1] / size)
    return draw_arrow(pen, layout.driven_shaft, way, _ARROW)


def _round_length(about: float) -> float:
    """1, 2 or 5 times a power of ten, not above ``about``."""
    power = 10.0 ** math.floor(math.log10(about))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= about * (1 + 1e-9))


def _room(placer: Placer, width: float, height: float) -> Bbox:
    """A free box, or the lower right corner where there is none (no drawing fills its frame)."""
    corner = Bbox.from_bounds(placer.frame.x1 - width, placer.frame.y0, width, height)
    return placer.reserve(width, height) or corner


def _scale_bar(pen: Pen, placer: Placer, units: DisplayUnits) -> None:
    length = _round_length(1.5 * 72 * pen.point)
    pixel = pen.point / placer.point
    wide = length / pixel
    text = f"{length:g} {units.length}"
    box = _room(placer, wide + 10 * placer.point, 24 * placer.point)
    left = 0.5 * (box.x0 + box.x1 - wide)
    bottom = box.y0 + 4 * placer.point
    (x0, y0), (x1, y1) = pen.axes.transData.inverted().transform(
        [(left, bottom), (left + wide, bottom + 5 * placer.point)]
    )
    half = 0.5 * (x0 + x1)
    for start, colour in ((x0, INK), (half, "white")):
        pen.axes.fill(
            [start, start + half - x0, start + half - x0, start], [y0, y0, y1, y1],
            facecolor=colour, edgecolor=INK, linewidth=0.7, gid="scale bar",
        )  # fmt: skip
    pen.axes.text(half, y1 + 2 * pen.point, text, fontsize=FONT_SIZE, ha="center", va="bottom")


def _gravity(pen: Pen, placer: Placer) -> None:
    box = _room(placer, 46 * placer.point, 40 * placer.point)
    middle = 0.5 * (box.x0 + box.x1)
    corners = [(middle, box.y1), (middle, box.y0 + 14 * placer.point), (middle, box.y0)]
    (x, top), (_, tip), (_, foot) = pen.axes.transData.inverted().transform(corners)
    pen.axes.annotate(
        "", (x, tip), (x, top), arrowprops={"arrowstyle": "-|>", "lw": 1.3, "color": INK}
    )
    pen.axes.text(x, foot, "gravity", fontsize=FONT_SIZE, ha="center", va="bottom")
