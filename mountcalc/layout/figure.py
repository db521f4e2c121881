"""The layout to true proportion, at zero and at another setting, its parts named."""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from mountcalc.drafting.items import Bounds
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.equilibrium.states import State
from mountcalc.layout.layout import Layout, Link, Pose, Screw
from mountcalc.layout.parts import (
    Pen,
    bounds_of,
    draw_arrow,
    draw_fixed,
    draw_pose,
    draw_scale_bar,
    draw_turning,
)
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.plot_style import (
    BELT,
    BLACK,
    FONT_SIZE,
    LIMIT,
    SOFT,
    STATE_WORDS,
    figure_of,
    heading,
    new_figure,
    panel,
    turns_words,
)
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["angle_text", "layout_figure"]

_WIDTH, _HEIGHT = 8.0, 6.0
# Inches around the drawing's frame, and the share of the frame that the mount may fill.
_LEFT, _RIGHT, _BOTTOM = 0.72, 0.15, 0.50
_FILL = 0.66, 0.70
_ARROW = 52.0  # points
_VIEW = (
    "True proportion, seen facing the motor's pulley. Plate angles are from as drawn, "
    "counter-clockwise positive."
)
# An enlarged piece, since at true proportion a turn moves the plate by a hair: so many inches,
# the first that finds room.
_SIZES = (1.6, 1.4, 1.2, 1.0)
_TITLE = 0.18  # inches, over an enlargement
_MOST_SHIFT = 0.34  # inches that the piece may move in the enlargement
_FACTORS = (100, 50, 20, 10, 5, 2)
_LEAST_RING = 5.0  # points
_POINTS = 72.0


def layout_figure(layout: Layout, ax: Axes | None = None) -> Figure:
    """Draw a mount's layout on a figure of its own, or without a heading on axes that are given."""
    if ax is None:
        figure = new_figure(_WIDTH, _HEIGHT)
        lines = (_VIEW, *_poses_line(layout), *_remarks(layout))
        top = heading(figure, layout.title, lines) + 0.06
        ax = panel(figure, _LEFT, _RIGHT, top, _HEIGHT - _BOTTOM - top)
    figure, units = figure_of(ax), UNITS[layout.display]
    pen = Pen.framed(ax, _bounds(layout), layout.display, _FILL)
    draw_fixed(pen, layout)
    if layout.other is not None:
        draw_pose(pen, layout, layout.other, solid=False)
    draw_pose(pen, layout, layout.zero, solid=True)
    draw_turning(pen, layout)
    load_tip = _draw_load(pen, layout)
    furniture = Placer(figure, ax.get_window_extent())
    labels = _draw_detail(pen, furniture, layout)
    draw_scale_bar(pen, units, lambda *size: _room(furniture, *size))
    _gravity(pen, furniture)
    furniture.anew().place([*_labels(pen, layout, units, load_tip), *labels])
    return figure


def _poses_line(layout: Layout) -> tuple[str, ...]:
    parts = []
    for word, pose in (("Solid", layout.zero), ("Dashed", layout.other)):
        if pose is not None:
            state = "" if pose.state is State.NO_BALANCE else f", {STATE_WORDS[pose.state]}"
            parts.append(f"{word}: {_pose_name(pose)}, plate angle {angle_text(pose)}{state}.")
    return (" ".join(parts),)


def _remarks(layout: Layout) -> tuple[str, ...]:
    return tuple(f"{remark[0].upper()}{remark[1:]}." for remark in layout.remarks)


def _bounds(layout: Layout) -> Bounds:
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
    return bounds_of(points, circles)


def _draw_load(pen: Pen, layout: Layout) -> Vector | None:
    if layout.shaft_load is None:
        return None
    size = math.hypot(*layout.shaft_load)
    way = (layout.shaft_load[0] / size, layout.shaft_load[1] / size)
    return draw_arrow(pen, layout.driven_shaft, way, _ARROW)


def _room(placer: Placer, width: float, height: float) -> Bbox:
    """A free box, or the lower right corner where there is none (no drawing fills its frame)."""
    corner = Bbox.from_bounds(placer.frame.x1 - width, placer.frame.y0, width, height)
    return placer.reserve(width, height) or corner


def _gravity(pen: Pen, placer: Placer) -> None:
    box = _room(placer, 46 * placer.point, 40 * placer.point)
    middle = 0.5 * (box.x0 + box.x1)
    corners = [(middle, box.y1), (middle, box.y0 + 14 * placer.point), (middle, box.y0)]
    (x, top), (_, tip), (_, foot) = pen.axes.transData.inverted().transform(corners)
    pen.axes.annotate(
        "", (x, tip), (x, top), arrowprops={"arrowstyle": "-|>", "lw": 1.3, "color": BLACK}
    )
    pen.axes.text(x, foot, "gravity", fontsize=FONT_SIZE, ha="center", va="bottom")


def _draw_detail(pen: Pen, placer: Placer, layout: Layout) -> list[Label]:
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


def _pose_name(pose: Pose) -> str:
    """What a pose is called in the picture."""
    if not pose.turns:
        return pose.name
    return turns_words(pose.turns)


def angle_text(pose: Pose) -> str:
    """Its plate angle in degrees."""
    degrees = round(math.degrees(pose.plate_angle), 2) + 0.0  # no minus before a zero
    return f"{degrees:.2f}°".replace("-", "−")


def _labels(pen: Pen, layout: Layout, units: DisplayUnits, load_tip: Vector | None) -> list[Label]:
    """All labels of the layout's parts, at their places in the figure [pixels]."""
    labels = [*_strand_labels(pen, layout), *_plate_labels(pen, layout)]
    labels += _pulley_labels(pen, layout, units)
    if load_tip is not None and layout.shaft_load is not None:
        force = units.strength(math.hypot(*layout.shaft_load))
        pose = layout.other or layout.zero
        at = "running" if pose.turns is None else f"running, {_pose_name(pose)}"
        text = f"belt pull on the shaft:\n{force} {units.force} ({at})"
        labels.append(Label(text, pen.pixels(load_tip), colour=LIMIT))
    labels += _adjuster_labels(pen, layout)
    labels += _mass_labels(pen, layout)
    return labels


def _strand_labels(pen: Pen, layout: Layout) -> list[Label]:
    belt = layout.zero.belt
    labels = []
    for strand, other, name in (
        (belt.tight, belt.slack, "tight"),
        (belt.slack, belt.tight, "slack"),
    ):
        middle = _middle(*strand)
        inner = _middle(*other)
        way = math.atan2(middle[1] - inner[1], middle[0] - inner[0])
        labels.append(Label(name, pen.pixels(middle), way, BELT, leader_from=14.0))
    return labels


def _middle(first: Vector, second: Vector) -> Vector:
    return 0.5 * (first[0] + second[0]), 0.5 * (first[1] + second[1])


def _plate_labels(pen: Pen, layout: Layout) -> list[Label]:
    hinge = layout.hinge
    tip = max(layout.zero.plate, key=lambda point: math.dist(point, hinge))
    back = math.atan2(hinge[1] - tip[1], hinge[0] - tip[0])
    labels = [Label("hinge", pen.pixels(hinge), back)]
    side = 0.0
    if layout.other is not None:
        moved = max(layout.other.plate, key=lambda point: math.dist(point, hinge))
        side = 0.9 * float(np.sign(layout.other.plate_angle - layout.zero.plate_angle))
        text = f"plate,\n{_pose_name(layout.other)}: {angle_text(layout.other)}"
        labels.append(Label(text, pen.pixels(moved), back + math.pi + side))
    text = f"plate,\n{_pose_name(layout.zero)}: {angle_text(layout.zero)}"
    labels.append(Label(text, pen.pixels(tip), back + math.pi - side))
    return labels


def _pulley_labels(pen: Pen, layout: Layout, units: DisplayUnits) -> list[Label]:
    shaft, belt = layout.zero.motor_shaft, layout.zero.belt
    labels = []
    for name, center, radius, arc in (
        ("driven", layout.driven_shaft, layout.driven_radius, belt.driven_arc),
        ("motor", shaft, layout.motor_radius, belt.motor_arc),
    ):
        way = 0.5 * (arc[0] + arc[1])
        rim = (center[0] + radius * math.cos(way), center[1] + radius * math.sin(way))
        text = f"{name} pulley\npitch dia. {units.long(2 * radius)} {units.length}"
        labels.append(Label(text, pen.pixels(rim), way))
    labels.append(Label("driven shaft", pen.pixels(layout.driven_shaft)))
    way = math.atan2(shaft[1] - layout.hinge[1], shaft[0] - layout.hinge[0])
    edge = (
        shaft[0] + layout.body_radius * math.cos(way),
        shaft[1] + layout.body_radius * math.sin(way),
    )
    labels.append(Label("motor (not to size)", pen.pixels(edge), way))
    return labels


def _adjuster_labels(pen: Pen, layout: Layout) -> list[Label]:
    adjuster = layout.zero.adjuster
    if isinstance(adjuster, Link):
        at = _middle(adjuster.base_pin, adjuster.plate_pin)
        return [
            Label("link", pen.pixels(at)),
            Label("base pin", pen.pixels(adjuster.base_pin)),
            Label("plate pin", pen.pixels(adjuster.plate_pin)),
        ]
    if not isinstance(adjuster, Screw):
        return []
    away = math.atan2(adjuster.head[1] - adjuster.tip[1], adjuster.head[0] - adjuster.tip[0])
    through = "plate" if layout.kind is AdjusterKind.JACK_IN_PLATE else "base"
    text = f"screw through the {through}\n(length not to size)"
    labels = [Label(text, pen.pixels(adjuster.head), away)]
    other = layout.other.adjuster if layout.other is not None else None
    if isinstance(other, Screw) and not other.touches:
        labels.append(Label("tip clear of its face", pen.pixels(other.tip)))
    return labels


def _mass_labels(pen: Pen, layout: Layout) -> list[Label]:
    pose = layout.zero
    on_shaft = math.dist(pose.motor_mass, pose.motor_shaft) < 3 * pen.point * pen.unit
    if on_shaft:
        labels = [Label("motor shaft and\ncentre of mass", pen.pixels(pose.motor_shaft))]
    else:
        labels = [
            Label("motor shaft", pen.pixels(pose.motor_shaft)),
            Label("centre of mass,\nmotor", pen.pixels(pose.motor_mass)),
        ]
    if pose.plate_mass is not None:
        labels.append(Label("centre of mass,\nplate", pen.pixels(pose.plate_mass)))
    return labels
