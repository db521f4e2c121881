"""Drawing a mount's parts: pulleys, belt, plate, screw, link, and what stands for the ground."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, FancyArrowPatch, Polygon, Wedge
from matplotlib.path import Path
from matplotlib.transforms import Bbox

from mountcalc.drafting.items import Bounds, around
from mountcalc.layout.layout import Layout, Link, Pose, Screw
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.plot_style import BLACK, FONT_SIZE, LIMIT, PALE, SOFT, figure_of
from mountcalc.scenario.model import AdjusterKind, Display, Rotation, Vector
from mountcalc.units import si_factor

__all__ = [
    "Pen",
    "bounds_of",
    "draw_arrow",
    "draw_fixed",
    "draw_pose",
    "draw_scale_bar",
    "draw_turning",
]

# Wide and light, so that the thin dashes of the other setting show on top of them.
BELT_LINE = "#5f93bf"
PLATE = "0.66"
_ARC_STEP = math.radians(2)
_ARROW_SWEEP = math.radians(110)
_LEAST_INSIDE = 17.0  # points of radius from which on a rotation arrow fits inside a pulley
_DASHED = (0, (5, 2.5))
_LONGEST_BAR = 1.5 * 72  # points


@dataclass(frozen=True)
class Pen:
    """Axes to draw on, and the length [axes units] of one point on paper."""

    axes: Axes
    point: float
    unit: float

    @classmethod
    def framed(
        cls, axes: Axes, bounds: Bounds, display: Display, fill: Vector, *, numbers: bool = True
    ) -> Pen:
        """A pen for axes of true proportion about bounds [m], which fill so much of each side.

        Their limits already have the frame's proportion, so that nothing shifts later.
        """
        length = UNITS[display].length
        unit, box = si_factor(length), axes.get_position()
        size = figure_of(axes).get_size_inches() * (box.width, box.height)
        low, high = np.array(bounds[:2]) / unit, np.array(bounds[2:]) / unit
        per_inch = float(np.max((high - low) / (np.array(fill) * size)))
        start = 0.5 * (low + high) - 0.5 * size * per_inch
        axes.set_xlim(start[0], start[0] + size[0] * per_inch)
        axes.set_ylim(start[1], start[1] + size[1] * per_inch)
        axes.set_aspect("equal", adjustable="box")
        if numbers:
            axes.set_xlabel(f"x [{length}]", fontsize=FONT_SIZE, labelpad=2)
            axes.set_ylabel(f"y [{length}]", fontsize=FONT_SIZE, labelpad=2)
        else:
            axes.set_xticks([])
            axes.set_yticks([])
        return cls(axes, per_inch / 72.0, unit)

    def cross(self, at: Vector, zorder: float = 6, **ring: Any) -> None:  # noqa: ANN401 (of Line2D)
        """A cross at a point [m], with a ring where that has a size."""
        x, y = self.at(at)
        if ring:
            self.axes.plot([x], [y], "o", mfc="white", mec=BLACK, zorder=zorder, **ring)
        self.axes.plot([x], [y], "+", color=BLACK, ms=11, mew=0.7, zorder=zorder)

    def line(self, points: Sequence[Vector], **style: Any) -> None:  # noqa: ANN401 (of Line2D)
        """A line through points [m]."""
        x, y = zip(*((x / self.unit, y / self.unit) for x, y in points), strict=True)
        style = {"color": BLACK, "solid_capstyle": "butt", **style}
        self.axes.plot(x, y, **style)

    def at(self, point: Vector) -> Vector:
        """A point [m] in axes units."""
        return point[0] / self.unit, point[1] / self.unit

    def pixels(self, point: Vector) -> Vector:
        """A point [m] in the figure [pixels]."""
        x, y = self.axes.transData.transform(self.at(point))
        return float(x), float(y)

    def circle(self, center: Vector, radius: float, **style: Any) -> None:  # noqa: ANN401 (Patch)
        """A circle [m]."""
        style = {"fill": False, "edgecolor": BLACK, **style}
        self.axes.add_patch(Circle(self.at(center), radius / self.unit, **style))

    def beside(self, start: Vector, way: Vector, points: float) -> Vector:
        """A point [m] so many points on paper from another, along a unit vector."""
        step = points * self.point * self.unit
        return start[0] + step * way[0], start[1] + step * way[1]


def bounds_of(points: Sequence[Vector], circles: Sequence[tuple[Vector, float]]) -> Bounds:
    """The least box about points and circles [m]."""
    corners = [(x + way * r, y + way * r) for (x, y), r in circles for way in (-1, 1)]
    return around([*points, *corners])


def unit_between(start: Vector, end: Vector) -> Vector:
    """Unit vector from one point to another; to the right where they are one."""
    length = math.dist(start, end)
    if length == 0:
        return 1.0, 0.0
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def arc_points(center: Vector, radius: float, start: float, end: float) -> list[Vector]:
    """Points on an arc from one angle to another [m, rad]."""
    count = max(2, math.ceil(abs(end - start) / _ARC_STEP))
    return [
        (center[0] + radius * math.cos(angle), center[1] + radius * math.sin(angle))
        for angle in np.linspace(start, end, count).tolist()
    ]


def draw_fixed(pen: Pen, layout: Layout) -> None:
    """Driven pulley, hinge, and what of the adjuster stands on the base."""
    centre_line = {"linewidth": 0.7, "linestyle": "-."}
    pen.circle(layout.driven_shaft, layout.driven_radius, gid="driven", **centre_line)
    _shaft(pen, layout.driven_shaft)
    away = unit_between(layout.zero.plate[1], layout.zero.plate[0])
    _pin(pen, layout.hinge, away)
    adjuster = layout.zero.adjuster
    if isinstance(adjuster, Link):
        _pin(pen, adjuster.base_pin, unit_between(adjuster.plate_pin, adjuster.base_pin))
    elif isinstance(adjuster, Screw) and layout.kind is AdjusterKind.JACK_IN_PLATE:
        away = unit_between(adjuster.nut, adjuster.tip)
        _ground(pen, adjuster.face, away)
    elif isinstance(adjuster, Screw):
        _block(pen, adjuster)


def draw_pose(pen: Pen, layout: Layout, pose: Pose, *, solid: bool) -> None:
    """All that moves: solid with its weight of line, or thin and dashed."""
    thin = {"linewidth": 0.8, "linestyle": _DASHED, "color": BLACK, "zorder": 3}
    wide = {"color": PLATE, "zorder": 2}
    name = "zero" if solid else "other"
    for arm in pose.arms:
        pen.line(arm, **({"linewidth": 2.0, **wide} if solid else thin))
    pen.line(pose.plate, gid=f"{name} plate", **({"linewidth": 4.5, **wide} if solid else thin))
    if solid:
        shaft = pose.motor_shaft
        pen.circle(shaft, layout.body_radius, linewidth=0.8, linestyle=":", edgecolor=SOFT)
        pen.circle(shaft, layout.motor_radius, linewidth=0.7, linestyle="-.", gid="motor")
    _belt(pen, layout, pose, solid=solid)
    if solid or math.dist(pose.motor_shaft, layout.zero.motor_shaft) > 6 * pen.point * pen.unit:
        _shaft(pen, pose.motor_shaft, small=not solid)
    if solid:
        _mass(pen, pose.motor_mass)
        if pose.plate_mass is not None:
            _mass(pen, pose.plate_mass)
    if isinstance(pose.adjuster, Screw):
        _screw(pen, pose.adjuster, solid=solid)
    elif isinstance(pose.adjuster, Link):
        _link(pen, pose.adjuster, solid=solid)


def _belt(pen: Pen, layout: Layout, pose: Pose, *, solid: bool) -> None:
    style: dict[str, Any] = {"color": BELT_LINE, "linewidth": 2.2, "zorder": 2}
    if not solid:
        style = {"color": BLACK, "linewidth": 0.8, "linestyle": _DASHED, "zorder": 3}
    name = "zero" if solid else "other"
    belt = pose.belt
    for strand, which in ((belt.tight, "tight"), (belt.slack, "slack")):
        pen.line(strand, gid=f"{name} {which}", **style)
    pen.line(arc_points(pose.motor_shaft, layout.motor_radius, *belt.motor_arc), **style)
    if solid:
        pen.line(arc_points(layout.driven_shaft, layout.driven_radius, *belt.driven_arc), **style)


def draw_turning(pen: Pen, layout: Layout) -> None:
    """Rotation arrows on both pulleys, on the side that the belt wraps."""
    belt, shaft = layout.zero.belt, layout.zero.motor_shaft
    for center, radius, arc in (
        (shaft, layout.motor_radius, belt.motor_arc),
        (layout.driven_shaft, layout.driven_radius, belt.driven_arc),
    ):
        inside = radius / (pen.point * pen.unit) >= _LEAST_INSIDE
        way = radius * 0.68 if inside else radius + 6.5 * pen.point * pen.unit
        middle = 0.5 * (arc[0] + arc[1])
        half = 0.5 * _ARROW_SWEEP * (1 if layout.rotation is Rotation.CCW else -1)
        points = [pen.at(p) for p in arc_points(center, way, middle - half, middle + half)]
        pen.axes.add_patch(
            FancyArrowPatch(
                path=Path(points), arrowstyle="-|>", mutation_scale=8, linewidth=1.1, color=BLACK,
                gid="rotation", zorder=6,
            )
        )  # fmt: skip


def draw_arrow(pen: Pen, start: Vector, way: Vector, points: float) -> Vector:
    """A force's arrow, so long on paper; its tip [m]."""
    tip = pen.beside(start, way, points)
    pen.axes.add_patch(
        FancyArrowPatch(
            pen.at(start), pen.at(tip), arrowstyle="-|>,head_width=0.28,head_length=0.55",
            mutation_scale=12, linewidth=2.2, color=LIMIT, shrinkA=0, shrinkB=0, zorder=5,
        )
    )  # fmt: skip
    return tip


def _shaft(pen: Pen, at: Vector, *, small: bool = False) -> None:
    x, y = pen.at(at)
    size = 7 if small else 11
    pen.axes.plot([x], [y], "+", color=BLACK, markersize=size, markeredgewidth=0.7, zorder=6)
    if not small:
        pen.axes.plot([x], [y], "o", color=BLACK, markersize=3.2, zorder=6)


def _mass(pen: Pen, at: Vector) -> None:
    """The usual mark of a centre of mass: a quartered disc."""
    center = pen.at(at)
    radius = 4.2 * pen.point
    pen.axes.add_patch(Circle(center, radius, facecolor="white", edgecolor=BLACK, lw=0.8, zorder=7))
    for start in (0, 180):
        pen.axes.add_patch(Wedge(center, radius, start, start + 90, color=BLACK, lw=0, zorder=8))


def _across(way: Vector) -> Vector:
    return -way[1], way[0]


def _ground(pen: Pen, face: tuple[Vector, Vector], away: Vector) -> None:
    """A fixed face: a line, hatched on the side where the ground is."""
    along = unit_between(*face)
    side = _across(along)
    if side[0] * away[0] + side[1] * away[1] < 0:
        side = (-side[0], -side[1])
    pen.line(face, linewidth=1.4)
    length = math.dist(*face) / (pen.point * pen.unit)
    count = max(3, round(length / 5))
    tick = ((side[0] - along[0]) / math.sqrt(2), (side[1] - along[1]) / math.sqrt(2))
    for step in range(1, count + 1):
        start = pen.beside(face[0], along, length * step / count)
        pen.line((start, pen.beside(start, tick, 6.0)), linewidth=0.6)


def _pin(pen: Pen, at: Vector, away: Vector) -> None:
    """A pin on the base: a circle on a hatched foot."""
    across = _across(away)
    foot = pen.beside(at, away, 11)
    ends = pen.beside(foot, across, 6.5), pen.beside(foot, across, -6.5)
    corners = [pen.at(point) for point in (at, *ends)]
    pen.axes.add_patch(
        Polygon(corners, facecolor="white", edgecolor=BLACK, linewidth=0.9, zorder=5)
    )
    _ground(pen, (pen.beside(foot, across, 9), pen.beside(foot, across, -9)), away)
    _eye(pen, at)


def _eye(pen: Pen, at: Vector) -> None:
    x, y = pen.at(at)
    pen.axes.plot(
        [x], [y], "o", markersize=6, markerfacecolor="white", markeredgecolor=BLACK, zorder=6
    )


def _block(pen: Pen, screw: Screw) -> None:
    """The nut of a screw that stands on the base."""
    way = unit_between(screw.nut, screw.tip)
    across = _across(way)
    for side in (1, -1):
        near = pen.beside(screw.nut, across, side * 2.6)
        far = pen.beside(screw.nut, across, side * 12)
        block = [pen.beside(near, way, -4), pen.beside(near, way, 4)]
        block += [pen.beside(far, way, 4), pen.beside(far, way, -4)]
        pen.axes.add_patch(
            Polygon(
                [pen.at(point) for point in block], facecolor=PALE, edgecolor=BLACK, hatch="//////",
                linewidth=0.8, zorder=3,
            )
        )  # fmt: skip


def _screw(pen: Pen, screw: Screw, *, solid: bool) -> None:
    way = unit_between(screw.head, screw.tip)
    across = _across(way)
    base = pen.beside(screw.tip, way, -7)
    cone = [screw.tip, pen.beside(base, across, 2.6), pen.beside(base, across, -2.6)]
    head = pen.beside(screw.head, across, 5.5), pen.beside(screw.head, across, -5.5)
    shank = (screw.head, pen.beside(screw.tip, way, -6))
    if solid:
        pen.line(shank, linewidth=3.6, zorder=4)
        pen.line(shank, linewidth=2.4, linestyle=(0, (0.6, 0.6)), color="white", zorder=4)
        pen.line(head, linewidth=4.0, zorder=4)
    else:
        for side in (2.0, -2.0):
            edge = [pen.beside(point, across, side) for point in shank]
            pen.line(edge, linewidth=0.7, linestyle=_DASHED, zorder=3)
        pen.line(head, linewidth=1.2, linestyle=(0, (2.5, 1)), zorder=4)
    pen.line(screw.face, linewidth=1.2 if solid else 0.7, linestyle="-" if solid else _DASHED)
    pen.axes.add_patch(
        Polygon(
            [pen.at(point) for point in cone], facecolor=BLACK if solid else "white",
            edgecolor=BLACK, linewidth=0.6, zorder=5, gid="zero tip" if solid else "other tip",
        )
    )  # fmt: skip


def _link(pen: Pen, link: Link, *, solid: bool) -> None:
    ends = (link.base_pin, link.plate_pin)
    if not solid:
        pen.line(ends, linewidth=0.8, linestyle=_DASHED, gid="other link")
        return
    pen.line(ends, linewidth=2.2, zorder=4, gid="zero link")
    (x0, y0), (x1, y1) = ends
    body = [(x0 + share * (x1 - x0), y0 + share * (y1 - y0)) for share in (0.32, 0.68)]
    pen.line(body, linewidth=7.0, zorder=4)
    pen.line(body, linewidth=5.0, color="white", zorder=4)
    _eye(pen, link.plate_pin)


def draw_scale_bar(
    pen: Pen, units: DisplayUnits, room: Callable[[float, float], Bbox | None]
) -> bool:
    """A bar of a round length in a room of a size [pixels], if there is one."""
    about = _LONGEST_BAR * pen.point
    power = 10.0 ** math.floor(math.log10(about))
    length = next(step * power for step in (5.0, 2.0, 1.0) if step * power <= about * (1 + 1e-9))
    dots = figure_of(pen.axes).dpi / 72.0  # of a point
    wide = length / pen.point * dots
    box = room(wide + 10 * dots, 24 * dots)
    if box is None:
        return False
    left, bottom = 0.5 * (box.x0 + box.x1 - wide), box.y0 + 4 * dots
    (x0, y0), (x1, y1) = pen.axes.transData.inverted().transform(
        [(left, bottom), (left + wide, bottom + 5 * dots)]
    )
    half = 0.5 * (x0 + x1)
    for start, colour in ((x0, BLACK), (half, "white")):
        pen.axes.fill(
            [start, start + half - x0, start + half - x0, start], [y0, y0, y1, y1],
            facecolor=colour, edgecolor=BLACK, linewidth=0.7, gid="scale bar", zorder=6,
        )  # fmt: skip
    pen.axes.text(
        half, y1 + 2 * pen.point, f"{length:g} {units.length}", fontsize=FONT_SIZE, ha="center",
        va="bottom",
    )  # fmt: skip
    return True
