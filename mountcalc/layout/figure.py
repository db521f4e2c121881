"""The layout to true proportion, at zero and at another setting, its parts named."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox

from mountcalc.drafting.items import Bounds, along, around
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.equilibrium.states import State
from mountcalc.layout.layout import Layout, Pose, mount_layout
from mountcalc.layout.parts import (
    Pen,
    draw_arrow,
    draw_end,
    draw_fixed,
    draw_keep_outs,
    draw_pose,
    draw_scale_bar,
    draw_turning,
    fill_keep_outs,
    room_beside,
    way_between,
)
from mountcalc.pages.amounts import UNITS
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
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.writing import Vector
from mountcalc.table import loads_figure, tension_table

_WIDTH, _HEIGHT = 8.0, 6.0
# Inches around the drawing's frame, and the share of the frame that the mount may fill.
_LEFT, _RIGHT, _BOTTOM = 0.72, 0.15, 0.50
_FILL = 0.66, 0.70
_ARROW = 52.0  # points
_FINE = 161  # turns for which loads are drawn
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


def plot_figures(scenario: Scenario, turns: float | None = None) -> dict[str, Figure]:
    """The loads on a fine grid of turns, and the layout, by name."""
    table = tension_table(scenario)
    shown = [row.turns for row in table.rows if row.turns is not None]
    if shown:
        table = tension_table(scenario, np.linspace(shown[0], max(shown[-1], shown[0]), _FINE))
    other = turns if turns is not None else shown[len(shown) // 2] if shown else 0.0
    layout = layout_figure(mount_layout(scenario, other))
    return {"loads": loads_figure(scenario, table), "layout": layout}


def layout_figure(layout: Layout, ax: Axes | None = None) -> Figure:
    """Draw a mount's layout on a figure of its own, or without a heading on axes that are given."""
    if ax is None:
        figure = new_figure(_WIDTH, _HEIGHT)
        top = heading(figure, layout.scenario.title, (_VIEW, *_lines(layout))) + 0.06
        ax = panel(figure, _LEFT, _RIGHT, top, _HEIGHT - _BOTTOM - top)
    figure, display = figure_of(ax), layout.scenario.display
    pen = Pen.framed(ax, _bounds(layout), display, _FILL)
    labels = draw_keep_outs(pen, layout.scenario.keep_outs)
    draw_fixed(pen, layout)
    for pose in layout.ends:
        draw_end(pen, layout, pose)
    _draw_poses(pen, layout)
    draw_turning(pen, layout)
    for at, radius in layout.places.values():
        pen.mark(at, "+", ms=11, mew=0.7)
        if radius:
            pen.circle(at, radius, edgecolor=SOFT, linewidth=0.7, linestyle=":", gid="room")
    if layout.shaft_load is not None:
        size, pose = math.hypot(*layout.shaft_load), layout.other or layout.zero
        way = math.atan2(*layout.shaft_load[::-1])
        tip = draw_arrow(pen, layout.scenario.driven.shaft, way, _ARROW)
        when = "running" if pose.turns is None else f"running, {_name(pose)}"
        units = UNITS[display]
        text = f"belt pull on the shaft:\n{units.strength(size)} {units.force} ({when})"
        labels.append(Label(text, pen.pixels(tip), colour=LIMIT))
    placer = Placer(figure, ax.get_window_extent())
    labels += [*_labels(pen, layout), *_draw_detail(pen, placer, layout)]
    draw_scale_bar(pen, UNITS[display], lambda *size: _room(pen, placer, *size))
    _gravity(pen, placer)
    placer.place(labels)
    fill_keep_outs(pen)
    return figure


def _lines(layout: Layout) -> tuple[str, ...]:
    """Which setting is drawn how, and what is not drawn."""
    parts = []
    for word, pose in zip(("Solid", "Dashed"), layout.poses, strict=False):
        state = f", {STATE_WORDS[pose.state]}" if pose.state not in {None, State.NO_BALANCE} else ""
        parts.append(f"{word}: {_name(pose)}, plate angle {angle_text(pose)}{state}.")
    return " ".join(parts), *(f"{one[0].upper()}{one[1:]}." for one in layout.remarks)


def _draw_poses(pen: Pen, layout: Layout) -> None:
    for pose in layout.poses[::-1]:
        draw_pose(pen, layout, pose, solid=pose is layout.zero)


def _bounds(layout: Layout) -> Bounds:
    """The least box about all that is drawn to scale [m]."""
    scenario, size = layout.scenario, layout.schematic.body_radius
    points: list[Vector] = [scenario.plate.hinge]
    circles = [(scenario.driven.shaft, scenario.driven.pulley_radius), *layout.places.values()]
    for pose in (*layout.poses, *layout.ends):
        circles.append((pose.motor_shaft, size))
        points += [*pose.plate, *pose.board]
    for pose in layout.poses:
        points += [*pose.masses.values(), *itertools.chain(*pose.arms)]
        if (rod := pose.adjuster) is not None:
            points += [rod.start, rod.tip, *(rod.face or ()), *(rod.spring or ())]
    points += [(x + way * r, y + way * r) for (x, y), r in circles for way in (-1, 1)]
    return around(points)


def _room(pen: Pen, placer: Placer, width: float, height: float) -> Bbox:
    """A free box, or the lower right corner where there is none (no drawing fills its frame)."""
    corner = Bbox.from_bounds(placer.frame.x1 - width, placer.frame.y0, width, height)
    box = room_beside(pen, placer, width, height)
    if box is None:
        placer.taken.append(corner)
    return box or corner


def _gravity(pen: Pen, placer: Placer) -> None:
    box, frame = _room(pen, placer, 46 * placer.point, 40 * placer.point), placer.figure.bbox
    middle = 0.5 * (box.x0 + box.x1) / frame.width
    pen.axes.annotate(
        "gravity", (middle, box.y1 / frame.height), (middle, box.y0 / frame.height),
        xycoords="figure fraction", textcoords="figure fraction", fontsize=FONT_SIZE, ha="center",
        va="bottom", arrowprops={"arrowstyle": "<|-", "lw": 1.3, "color": BLACK},
    )  # fmt: skip


def _draw_detail(pen: Pen, placer: Placer, layout: Layout) -> list[Label]:
    """Draw the piece that moves furthest, enlarged, where there is room; the name of its ring."""
    if layout.other is None:
        return []
    zero, other = layout.zero, layout.other
    pairs = [(zero.motor_shaft, other.motor_shaft)]
    if zero.adjuster is not None and other.adjuster is not None:
        # The point at which the adjuster moves the plate.
        pairs = [(zero.adjuster.tip, other.adjuster.tip)]
        if zero.adjuster.nut is not None and other.adjuster.nut is not None:
            pairs.append((zero.adjuster.nut, other.adjuster.nut))
    start, end = max(pairs, key=lambda pair: math.dist(*pair))
    figure, shift = placer.figure, pen.on_paper(math.dist(start, end)) / 72.0
    factor = next((factor for factor in _FACTORS if shift * factor <= _MOST_SHIFT), None)
    if factor is None or shift == 0:
        return []
    sides = (size * figure.dpi for size in _SIZES)
    rooms = (room_beside(pen, placer, side, side + _TITLE * figure.dpi) for side in sides)
    box = next(filter(None, rooms), None)
    if box is None:
        return []
    middle, (wide, tall) = _middle(start, end), figure.bbox.size
    (x, y), half = pen.at(middle), 0.5 * box.width / placer.point * pen.point / factor
    axes: Axes = figure.add_axes(
        (box.x0 / wide, box.y0 / tall, box.width / wide, box.width / tall), label="detail",
        xlim=(x - half, x + half), ylim=(y - half, y + half), xticks=[], yticks=[], zorder=3,
    )  # fmt: skip
    for spine in axes.spines.values():
        spine.set_linewidth(0.7)
    axes.set_title(f"A, {factor} times larger", fontsize=FONT_SIZE, pad=3)
    near = Pen(axes, pen.point / factor, pen.unit)
    draw_fixed(near, layout)
    _draw_poses(near, layout)
    radius = max(half, _LEAST_RING * pen.point) * pen.unit
    pen.circle(middle, radius, linewidth=0.7, edgecolor=SOFT, zorder=9, gid="ring")
    return [Label("A", pen.pixels((middle[0], middle[1] + radius)))]


def _name(pose: Pose) -> str:
    """What a pose is called in the picture."""
    return turns_words(pose.turns) if pose.turns else pose.name


def angle_text(pose: Pose) -> str:
    """Its plate angle in degrees."""
    degrees = round(math.degrees(pose.plate_angle), 2) + 0.0  # no minus before a zero
    return f"{degrees:.2f}°".replace("-", "−")


def _middle(first: Vector, second: Vector) -> Vector:
    return 0.5 * (first[0] + second[0]), 0.5 * (first[1] + second[1])


def _labels(pen: Pen, layout: Layout) -> list[Label]:
    """Names of the layout's parts, at their places in the figure [pixels]."""
    scenario, pose, labels = layout.scenario, layout.zero, list[Label]()
    hinge, shaft, driven = scenario.plate.hinge, pose.motor_shaft, scenario.driven.shaft
    units, belt, to_size = UNITS[scenario.display], pose.belt, layout.schematic.is_to_size

    def name(text: str, at: Vector, way: float | None = None, *, placed: bool = False) -> None:
        where = layout.where(at) if placed and layout.where is not None else ""
        labels.append(Label(text + where, pen.pixels(at), way))

    # What is marked out needs fewer names.
    sides = () if to_size else (belt.tight, belt.slack)
    for strand, inner, which in zip(sides, sides[::-1], ("tight", "slack"), strict=False):
        way = way_between(_middle(*inner), _middle(*strand))
        labels.append(Label(which, pen.pixels(_middle(*strand)), way, BELT, leader_from=14.0))
    poses = [*layout.poses, *layout.ends]
    tips = [max(one.plate, key=lambda point: math.dist(point, hinge)) for one in poses]
    out = way_between(hinge, tips[0])
    name("hinge", hinge, out + math.pi, placed=True)
    turns = [one.plate_angle - pose.plate_angle for one in poses]
    turns[0] = -turns[min(1, len(turns) - 1)]
    for one, tip, turn in zip(poses, tips, turns, strict=True):
        text = "plate" if to_size and one is pose else f"plate,\n{_name(one)}: {angle_text(one)}"
        name(text, tip, out + (math.copysign(0.9, turn) if turn else 0.0))
    for which, center, radius, arc in (
        ("driven", driven, scenario.driven.pulley_radius, belt.driven_arc),
        ("motor", shaft, scenario.motor.pulley_radius, belt.motor_arc),
    ):
        way = 0.5 * (arc[0] + arc[1])
        text = f"{which} pulley\npitch dia. {units.long(2 * radius)} {units.length}"
        name(text, along(center, way, radius), way)
    name("driven shaft", driven)
    way = way_between(hinge, shaft)
    body = along(shaft, way, layout.schematic.body_radius)
    known = to_size or scenario.parts.frame is not None
    name("motor's body" if known else "motor (not to size)", body, way)
    masses = dict(pose.masses)
    on_shaft = math.dist(masses.get("motor", hinge), shaft) < 3 * pen.point * pen.unit
    if on_shaft:
        del masses["motor"]
    name("motor shaft and\ncentre of mass" if on_shaft else "motor shaft", shaft, placed=True)
    for which, at in masses.items():
        name(f"centre of mass,\n{which}", at)
    for text, (at, radius) in layout.places.items():
        name(text, (at[0] - radius, at[1]), placed=not radius)
    _name_adjuster(layout, name)
    return labels


def _name_adjuster(layout: Layout, name: Callable[..., None]) -> None:
    rod, to_size, other = (
        layout.zero.adjuster,
        layout.schematic.is_to_size,
        layout.poses[-1].adjuster,
    )
    if rod is None or other is None:
        return
    if rod.spring is not None:
        name("spring", _middle(*rod.spring))
    if rod.nut is None:
        name("eye-bolt" if rod.spring else "link", _middle(rod.start, rod.tip))
        name("base pin", rod.start, placed=True)
        name("plate pin", rod.tip, placed=True)
    else:
        in_plate = layout.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE
        text = f"bolt through {'plate' if in_plate else 'base'}\n(length not to size)"
        if to_size:
            name("tip", rod.tip, placed=True)
        else:
            name(text, rod.start, way_between(rod.tip, rod.start))
        if not other.touches:
            name("tip clear of its face", other.tip)
