"""Drawing a mount's parts on axes: pulleys, belt, plate, screw, link, and what is fixed."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, FancyArrowPatch, Patch, Polygon, Wedge
from matplotlib.path import Path
from matplotlib.transforms import Bbox

from mountcalc.drafting.items import Bounds, along
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.layout.layout import Layout, Pose, Rod, Segment
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.plot_style import BLACK, FONT_SIZE, LIMIT, PALE, SOFT, figure_of, fitted_name
from mountcalc.scenario.model import AdjusterKind, KeepOut, Rotation
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.thresholds import ROUNDING
from mountcalc.units import si_factor

# Wide and light, so that the thin dashes of the other setting show on top of them.
BELT_LINE = "#5f93bf"
PLATE = "0.66"
_GROUND = "0.83"
_ARC_STEP = math.radians(2)
_ARROW_SWEEP = math.radians(110)
_LEAST_INSIDE = 17.0  # points of radius from which on a rotation arrow fits inside a pulley
_LEAST_APART = 6.0  # points between two shafts that are both marked
_DASHED = (0, (5, 2.5))
_THIN: dict[str, Any] = {"linewidth": 0.8, "linestyle": _DASHED, "zorder": 3}
_COIL = 5.0  # points: a coil's half width, and about how far coils are apart
_LONGEST_BAR = 1.5 * 72  # points
# Names of more keep-outs than this would hide what is drawn.
_MOST_NAMES = 6
_NAME_ROOM, _APART = 1.5, 1.2  # inches: of a keep-out's name, and between two that are named
_SPECK = 1e-6  # share of a view that a keep-out must take to be seen


@dataclass(frozen=True)
class Pen:
    """Axes to draw on, and the length [axes units] of one point on paper."""

    axes: Axes
    point: float
    unit: float

    @classmethod
    def framed(cls, axes: Axes, bounds: Bounds, display: Display, fill: Vector) -> Pen:
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
        axes.set_xlabel(f"x [{length}]", fontsize=FONT_SIZE, labelpad=2)
        axes.set_ylabel(f"y [{length}]", fontsize=FONT_SIZE, labelpad=2)
        return cls(axes, per_inch / 72.0, unit)

    def at(self, point: Vector) -> Vector:
        """A point [m] in axes units."""
        return point[0] / self.unit, point[1] / self.unit

    def pixels(self, point: Vector) -> Vector:
        """A point [m] in the figure [pixels]."""
        x, y = self.axes.transData.transform(self.at(point))
        return float(x), float(y)

    def beside(self, start: Vector, way: float, points: float, left: float = 0.0) -> Vector:
        """A point [m] so many points on paper from another, in a direction and left of it."""
        size = self.point * self.unit
        return along(start, way, points * size, left * size)

    def on_paper(self, length: float) -> float:
        """A length [m] in points on paper."""
        return length / (self.point * self.unit)

    def line(self, points: Sequence[Vector], **style: Any) -> None:  # noqa: ANN401 (of Line2D)
        """A line through points [m]."""
        style = {"color": BLACK, "solid_capstyle": "butt", **style}
        self.axes.plot(*zip(*map(self.at, points), strict=True), **style)

    def mark(self, at: Vector, shape: str, **style: Any) -> None:  # noqa: ANN401 (of Line2D)
        """A sign at a point [m] that is as large on any paper."""
        style = {"color": BLACK, "mec": BLACK, "zorder": 6, **style}
        self.axes.plot(*([part] for part in self.at(at)), shape, **style)

    def circle(self, center: Vector, radius: float, **style: Any) -> None:  # noqa: ANN401 (Patch)
        """A circle [m]."""
        style = {"fill": False, "edgecolor": BLACK, **style}
        self.axes.add_patch(Circle(self.at(center), radius / self.unit, **style))

    def outline(self, corners: Sequence[Vector], **style: Any) -> None:  # noqa: ANN401 (of Patch)
        """A closed outline through corners [m]."""
        self.axes.add_patch(Polygon([*map(self.at, corners)], **{"edgecolor": BLACK, **style}))

    def arrow(self, points: Sequence[Vector], **style: Any) -> None:  # noqa: ANN401 (of Patch)
        """An arrow along points [m]."""
        path = Path([*map(self.at, points)])
        self.axes.add_patch(FancyArrowPatch(path=path, shrinkA=0, shrinkB=0, **style))


def way_between(start: Vector, end: Vector) -> float:
    """Direction [rad] from one point to another."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


def arc_points(center: Vector, radius: float, start: float, end: float) -> list[Vector]:
    """Points on an arc from one angle to another [m, rad]."""
    count = max(2, math.ceil(abs(end - start) / _ARC_STEP))
    return [along(center, angle, radius) for angle in np.linspace(start, end, count).tolist()]


def draw_fixed(pen: Pen, layout: Layout) -> None:
    """Driven pulley, hinge, and what of the adjuster stands on the base."""
    driven, pose = layout.scenario.driven, layout.zero
    center_line = {"linewidth": 0.7, "linestyle": "-."}
    pen.circle(driven.shaft, driven.pulley_radius, gid="driven", **center_line)
    _shaft(pen, driven.shaft)
    _pin(pen, layout.scenario.plate.hinge, way_between(*pose.plate[::-1]))
    rod = pose.adjuster
    if rod is None:
        return
    if rod.nut is None or rod.face is None:
        aside = 0.0 if rod.spring is None else 0.5 * math.pi  # there the spring is
        _pin(pen, rod.start, way_between(rod.tip, rod.start) + aside)
    elif layout.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        _ground(pen, rod.face, way_between(rod.nut, rod.tip))
    elif layout.schematic.block:
        way = way_between(rod.nut, rod.tip)
        for near, far in ((2.6, 12), (-2.6, -12)):
            places = ((-4, near), (4, near), (4, far), (-4, far))
            pen.outline(
                [pen.beside(rod.nut, way, *place) for place in places], facecolor=PALE,
                hatch="//////", linewidth=0.8, zorder=3,
            )  # fmt: skip


def draw_end(pen: Pen, layout: Layout, pose: Pose) -> None:
    """Of an end of the travel the plate and the motor."""
    soft = {"linewidth": 0.7, "linestyle": _DASHED, "zorder": 2.2}
    pen.outline(pose.board or pose.plate, fill=False, edgecolor=SOFT, gid="end plate", **soft)
    radius = layout.schematic.body_radius
    pen.circle(pose.motor_shaft, radius, edgecolor=SOFT, gid="end motor", **soft)


def draw_pose(pen: Pen, layout: Layout, pose: Pose, *, solid: bool) -> None:
    """All that moves: solid with its weight of line, or thin and dashed."""
    name, wide = "zero" if solid else "other", {"color": PLATE, "zorder": 2}
    motor, driven = layout.scenario.motor, layout.scenario.driven
    if pose.board:
        look = {"facecolor": PALE} if solid else {"fill": False, "linestyle": _DASHED}
        pen.outline(pose.board, linewidth=0.8, zorder=1.8, gid=f"{name} board", **look)
    for arm in pose.arms:
        pen.line(arm, **({"linewidth": 2.0, **wide} if solid else _THIN))
    weight = 1.0 if pose.board else 4.5
    pen.line(pose.plate, gid=f"{name} plate", **({"linewidth": weight, **wide} if solid else _THIN))
    belt, style = pose.belt, {"color": BELT_LINE, "linewidth": 2.2, "zorder": 2} if solid else _THIN
    for strand, which in ((belt.tight, "tight"), (belt.slack, "slack")):
        pen.line(strand, gid=f"{name} {which}", **style)
    pen.line(arc_points(pose.motor_shaft, motor.pulley_radius, *belt.motor_arc), **style)
    if solid:
        shaft, body_radius = pose.motor_shaft, layout.schematic.body_radius
        pen.circle(shaft, body_radius, linewidth=0.8, linestyle=":", edgecolor=SOFT, gid="body")
        pen.circle(shaft, motor.pulley_radius, linewidth=0.7, linestyle="-.", gid="motor")
        pen.line(arc_points(driven.shaft, driven.pulley_radius, *belt.driven_arc), **style)
        _shaft(pen, shaft)
        for mass in pose.masses.values():
            _mass(pen, mass)
    elif pen.on_paper(math.dist(pose.motor_shaft, layout.zero.motor_shaft)) > _LEAST_APART:
        pen.mark(pose.motor_shaft, "+", ms=7, mew=0.7)
    if pose.adjuster is not None:
        _rod(pen, pose.adjuster, solid=solid)


def draw_turning(pen: Pen, layout: Layout) -> None:
    """Rotation arrows on both pulleys, on the side that the belt wraps."""
    belt, motor, driven = layout.zero.belt, layout.scenario.motor, layout.scenario.driven
    for center, radius, arc in (
        (layout.zero.motor_shaft, motor.pulley_radius, belt.motor_arc),
        (driven.shaft, driven.pulley_radius, belt.driven_arc),
    ):
        inside = pen.on_paper(radius) >= _LEAST_INSIDE
        way = radius * 0.68 if inside else radius + 6.5 * pen.point * pen.unit
        middle = 0.5 * (arc[0] + arc[1])
        half = 0.5 * _ARROW_SWEEP * (1 if motor.rotation is Rotation.CCW else -1)
        pen.arrow(
            arc_points(center, way, middle - half, middle + half), arrowstyle="-|>",
            mutation_scale=8, linewidth=1.1, color=BLACK, gid="rotation", zorder=6,
        )  # fmt: skip


def draw_arrow(pen: Pen, start: Vector, way: float, points: float) -> Vector:
    """A force's arrow, so long on paper; its tip [m]."""
    tip = pen.beside(start, way, points)
    pen.arrow(
        (start, tip), arrowstyle="-|>,head_width=0.28,head_length=0.55", mutation_scale=12,
        linewidth=2.2, color=LIMIT, zorder=5,
    )  # fmt: skip
    return tip


def _shaft(pen: Pen, at: Vector) -> None:
    pen.mark(at, "+", ms=11, mew=0.7)
    pen.mark(at, "o", ms=3.2)


def _mass(pen: Pen, at: Vector) -> None:
    """The usual mark of a centre of mass: a quartered disc."""
    center, radius = pen.at(at), 4.2 * pen.point
    pen.axes.add_patch(Circle(center, radius, facecolor="white", edgecolor=BLACK, lw=0.8, zorder=7))
    for start in (0, 180):
        pen.axes.add_patch(Wedge(center, radius, start, start + 90, color=BLACK, lw=0, zorder=8))


def _ground(pen: Pen, face: Segment, away: float) -> None:
    """A fixed face: a line, hatched on the side where the ground is."""
    way, length = way_between(*face), pen.on_paper(math.dist(*face))
    side = math.copysign(4.2, math.sin(away - way))
    pen.line(face, linewidth=1.4)
    for start in np.linspace(0.0, length, max(3, round(length / 5)) + 1)[1:].tolist():
        ends = (start, 0.0), (start - 4.2, side)
        pen.line([pen.beside(face[0], way, *end) for end in ends], linewidth=0.6)


def _pin(pen: Pen, at: Vector, away: float) -> None:
    """A pin on the base: a circle on a hatched foot."""
    foot = [pen.beside(at, away, 11, side) for side in (6.5, -6.5)]
    pen.outline([at, *foot], facecolor="white", linewidth=0.9, zorder=5)
    _ground(pen, (pen.beside(at, away, 11, 9), pen.beside(at, away, 11, -9)), away)
    pen.mark(at, "o", ms=6, mfc="white")


def _rod(pen: Pen, rod: Rod, *, solid: bool) -> None:
    """A screw with its head and point and the face that it bears on, or a link with its body."""
    ends, way = (rod.start, rod.tip), way_between(rod.start, rod.tip)
    if not solid:
        pen.line(ends, **_THIN)
    if rod.spring is not None:
        _coil(pen, rod.spring, solid=solid)
    if rod.nut is None or rod.face is None:
        if solid and rod.spring is not None:
            nut = rod.spring[1]
            pen.line((nut, rod.tip), linewidth=2.2, zorder=4)
            pen.line([pen.beside(nut, way, 0, side) for side in (5.5, -5.5)], linewidth=4.0)
            pen.mark(rod.tip, "o", ms=6, mfc="white")
        elif solid:
            body = [along(rod.start, way, share * math.dist(*ends)) for share in (0.32, 0.68)]
            pen.line(ends, linewidth=2.2, zorder=4)
            pen.line(body, linewidth=7.0, zorder=4)
            pen.line(body, linewidth=5.0, color="white", zorder=4)
            pen.mark(rod.tip, "o", ms=6, mfc="white")
        return
    if solid:
        shank = rod.start, pen.beside(rod.tip, way, -6)
        pen.line(shank, linewidth=3.6, zorder=4)
        pen.line(shank, linewidth=2.4, linestyle=(0, (0.6, 0.6)), color="white", zorder=4)
    head = [pen.beside(rod.start, way, 0, side) for side in (5.5, -5.5)]
    pen.line(head, linewidth=4.0 if solid else 1.2, zorder=4)
    pen.line(rod.face, **({"linewidth": 1.2} if solid else _THIN))
    point = [rod.tip, *(pen.beside(rod.tip, way, -7, side) for side in (2.6, -2.6))]
    pen.outline(point, facecolor=BLACK if solid else "white", linewidth=0.6, zorder=5)


def _coil(pen: Pen, spring: Segment, *, solid: bool) -> None:
    """A coil spring, as a zigzag between its ends."""
    (start, end), way = spring, way_between(*spring)
    long = pen.on_paper(math.dist(start, end))
    steps = 2 * max(3, round(long / _COIL))
    places = [(long * (step + 0.5) / steps, (-1) ** step * _COIL) for step in range(steps)]
    points = [start, *(pen.beside(start, way, *place) for place in places), end]
    style = {"linewidth": 1.1, "zorder": 4.5} if solid else _THIN
    pen.line(points, gid="spring", **style)


def draw_keep_outs(pen: Pen, keep_outs: Sequence[KeepOut]) -> list[Label]:
    """Outline keep-outs, what lies outside the axes is cut; names of those that show most."""
    for one in keep_outs:
        pen.outline(one.corners, facecolor="white", linewidth=0.9, zorder=1.5, gid="keep-out")
    if not keep_outs:
        return []
    import shapely  # noqa: PLC0415 (most mounts have none)

    figure, (x0, x1), (y0, y1) = figure_of(pen.axes), pen.axes.get_xlim(), pen.axes.get_ylim()
    view = shapely.box(*(limit * pen.unit for limit in (x0, y0, x1, y1)))
    seen = [(one.name, view.intersection(shapely.Polygon(one.corners))) for one in keep_outs]
    labels: list[Label] = []
    for name, shape in sorted(seen, key=lambda pair: -pair[1].area):
        if shape.area <= _SPECK * view.area or len(labels) == _MOST_NAMES:
            break
        middle = shape.representative_point()
        anchor = pen.pixels((middle.x, middle.y))
        if all(math.dist(anchor, label.anchor) > _APART * figure.dpi for label in labels):
            text = fitted_name(figure, name, _NAME_ROOM * figure.dpi)
            labels.append(Label(text, anchor, leader_from=1.0))
    return labels


def fill_keep_outs(pen: Pen) -> None:
    """Fill them once all names have their places: these may stand on the ground, not on lines."""
    for patch in _grounds(pen):
        patch.set_facecolor(_GROUND)


def _grounds(pen: Pen) -> list[Patch]:
    return [patch for patch in pen.axes.patches if patch.get_gid() == "keep-out"]


def room_beside(pen: Pen, placer: Placer, width: float, height: float) -> Bbox | None:
    """A free box of a size [pixels] off the keep-outs, if there is one."""
    taken = placer.taken
    placer.taken = [*taken, *(patch.get_window_extent() for patch in _grounds(pen))]
    box = placer.reserve(width, height)
    placer.taken = taken if box is None else [*taken, box]
    return box


def draw_scale_bar(
    pen: Pen, units: DisplayUnits, room: Callable[[float, float], Bbox | None]
) -> None:
    """A bar of a round length in a room of a size [pixels], if there is one."""
    about = _LONGEST_BAR * pen.point
    power = 10.0 ** math.floor(math.log10(about))
    length = next(
        step * power for step in (5.0, 2.0, 1.0) if step * power <= about * (1 + ROUNDING)
    )
    dots = figure_of(pen.axes).dpi / 72.0  # of a point
    wide = length / pen.point * dots
    box = room(wide + 10 * dots, 24 * dots)
    if box is None:
        return
    left, bottom = 0.5 * (box.x0 + box.x1 - wide), box.y0 + 4 * dots
    corners = [(left, bottom), (left, bottom + 5 * dots)]
    (x, low), (_, high) = pen.axes.transData.inverted().transform(corners) * pen.unit
    half = 0.5 * length * pen.unit
    for start, colour in ((x, BLACK), (x + half, "white")):
        end = start + half
        pen.outline(
            [(start, low), (end, low), (end, high), (start, high)], facecolor=colour,
            linewidth=0.7, gid="scale bar", zorder=6,
        )  # fmt: skip
    at, text = pen.at(pen.beside((x + half, high), 0.5 * math.pi, 2)), f"{length:g} {units.length}"
    pen.axes.text(*at, text, fontsize=FONT_SIZE, ha="center", va="bottom")
