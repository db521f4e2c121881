"""The best layout as a drawing to mark out from: the mount in its frame, and its plate."""

from __future__ import annotations

import math
from typing import Any

from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from mountcalc.drafting.items import Bounds
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.layout import Pen, bounds_of, draw_scale_bar
from mountcalc.pages.amounts import UNITS, turns_text
from mountcalc.pages.plot_style import BLACK, FONT_SIZE, PALE, SOFT, heading, new_figure, panel
from mountcalc.place.marking_out import LEVEL, beside, marked
from mountcalc.place.pictures.map import draw_keep_outs, keep_out_labels, whiten_labels
from mountcalc.place.pictures.plate import (
    ROOM_BELOW,
    Mark,
    draw_plate,
    draw_running_dimensions,
    margin_of,
    offset_words,
    running_texts,
)
from mountcalc.place.placed_parts import PlacedParts, block_room
from mountcalc.scenario.model import AdjusterKind, Vector
from mountcalc.scenario.search import Action
from mountcalc.units import si_factor

__all__ = ["drawing_figure"]

_WIDTH, _HEIGHT = 8.0, 10.7
# Inches: what stays free around the frame's view, and the plate's view.
_LEFT, _EDGE, _GAP = 0.15, 0.1, 0.2
_PLATE, _FOOT = 2.75, 0.62
_PLATE_LEFT, _PLATE_RIGHT = 2.2, 1.85
_FILL = 0.80
_SEEN = math.radians(0.5)  # a snug position nearer to the drawn one is the drawn one
_POSES = {"install": (0, (6, 2)), "snug": "-", "take_up": (0, (1, 1.5))}
_DOES = {
    Action.PUSH.value: "pushes the plate",
    Action.PULL.value: "pulls the plate",
    Action.HOLD_BACK.value: "holds the plate back",
}
_CAUTION = (
    "Computed from the scenario, not tried. Bodies of motor, bolt and link are as large as its "
    "[search] says.\nParts that cross here (belt, pulleys, plate, motor, bolt, stop) must lie in "
    "planes of their own.\nMeasure machine, motor and belt again before anything is cut or drilled."
)


def drawing_figure(parts: PlacedParts) -> Figure:
    """Draw a layout for marking it out."""
    figure = new_figure(_WIDTH, _HEIGHT)
    title = f"Layout {parts.placed.rank}: {parts.scenario.title}"
    top = heading(figure, title, _lines(parts)) + 0.06
    marks = _marks(parts)
    texts = running_texts(marks[0], marks[1:], parts.scenario.display)
    below, right = (margin_of(figure, words) for words in texts)
    room = (right + _EDGE, top, _HEIGHT - top - below - _GAP - _PLATE - _FOOT)
    pen = _frame_view(figure, parts, room)
    draw_running_dimensions(pen, [mark.at for mark in marks], texts)
    furniture = Placer(figure, pen.axes.get_window_extent())
    draw_scale_bar(pen, UNITS[parts.scenario.display], furniture.reserve)
    furniture.anew().place(_labels(pen, parts))
    whiten_labels(figure)
    _plate_view(figure, parts)
    figure.text(0.15 / _WIDTH, 0.12 / _HEIGHT, _CAUTION, fontsize=FONT_SIZE, gid="caution")
    return figure


def _lines(parts: PlacedParts) -> tuple[str, ...]:
    """What stands below the title."""
    placed = parts.placed
    snug = ", snug (solid)" if _snug_apart(parts) else ""
    belt = f" Belt: {placed.belt}." if placed.belt else ""
    return (
        f"Adjuster: {placed.kind}, {_DOES[placed.acts]}; thread {placed.thread}; set "
        f"{turns_text(placed.set_turns)} turns past zero.{belt}",
        "True proportion, seen facing the motor's pulley. All dimensions are those of the heavy "
        f"drawing. Thin: where a new belt goes on (dashed){snug}, full take-up (dotted).",
        _slope(parts),
        _swing(parts),
    )


def _snug_apart(parts: PlacedParts) -> bool:
    """Whether the belt is snug elsewhere than where the layout is drawn."""
    return abs(parts.placed.plate_angles.snug) > _SEEN


def _slope(parts: PlacedParts) -> str:
    """Which way the plate goes from the hinge, by offsets."""
    length, display = parts.placed.plate_length, parts.scenario.display
    across, rise = (length * share for share in parts.along)
    end = beside((across, rise), (0.0, 0.0), display, "the hinge")
    square = "link as drawn" if parts.kind is AdjusterKind.LINK else "bolt"
    return f"The plate's end is {end}; the {square} is square to the plate."


def _swing(parts: PlacedParts) -> str:
    """How far the plate's end moves, instead of angles."""
    angles, display = parts.placed.plate_angles, parts.scenario.display
    start = parts.on_plate(parts.placed.plate_length, 0.0)
    words = []
    for name, angle in (
        ("new belt", angles.install),
        ("snug", angles.snug),
        ("set", angles.set),
        ("take-up", angles.take_up),
    ):
        end = parts.on_plate(parts.placed.plate_length, 0.0, angle)
        moved = end[0] - start[0], end[1] - start[1]
        upright = abs(moved[1]) >= abs(moved[0])
        side = ("down", "up") if upright else ("left", "right")
        way = math.copysign(math.hypot(*moved), moved[1] if upright else moved[0])
        words.append(f"{name} {offset_words(way, side, display)}")
    return f"Plate's end, from as drawn: {', '.join(words)}."


def _marks(parts: PlacedParts) -> list[Mark]:
    """The driven shaft, and what is told from it."""
    placed = parts.placed
    marks = [
        Mark("driven shaft", parts.scenario.driven.shaft),
        Mark("hinge", placed.hinge),
        Mark("motor shaft", placed.motor),
        Mark(parts.tip_name, placed.tip),
        Mark(parts.end_name, parts.other_end),
    ]
    block = block_room(parts)
    if block is not None and block.length > LEVEL:
        marks.append(Mark("block, middle", block.middle))
    if placed.stop_at is not None:
        marks.append(Mark("stop", placed.stop_at))
    return marks


def _frame_view(figure: Figure, parts: PlacedParts, room: tuple[float, float, float]) -> Pen:
    """Draw the mount in its frame, with its right margin, top and height [inches]."""
    axes = panel(figure, _LEFT, *room)
    pen = Pen.framed(axes, _bounds(parts), parts.scenario.display, (_FILL, _FILL), numbers=False)
    draw_keep_outs(pen, parts.space.keep_outs)
    _draw_belt(pen, parts)
    _draw_plate(pen, parts)
    _draw_adjuster(pen, parts)
    for name, style in _POSES.items():
        if name == "snug" and not _snug_apart(parts):
            continue
        _draw_pose(pen, parts, getattr(parts.placed.plate_angles, name), style, name)
    _draw_points(pen, parts)
    return pen


def _bounds(parts: PlacedParts) -> Bounds:
    """The least box about all of the mount [m]."""
    driven, motor = parts.scenario.driven, parts.scenario.motor
    angles = parts.placed.plate_angles
    body = max(0.5 * parts.space.motor_body, motor.pulley_radius)
    circles = [(driven.shaft, driven.pulley_radius)]
    points = [mark.at for mark in _marks(parts)]
    for angle in (angles.install, 0.0, angles.take_up):
        circles.append((parts.motor(angle), body))
        points += [*parts.plate(angle), *parts.feet(angle)]
    if parts.kind is not AdjusterKind.LINK:
        circles.append((parts.other_end, parts.space.wrench_space))
    return bounds_of(points, circles)


def _fill(pen: Pen, corners: list[Vector], **style: Any) -> None:  # noqa: ANN401 (of Polygon)
    pen.axes.add_patch(Polygon([pen.at(corner) for corner in corners], **style))


def _draw_belt(pen: Pen, parts: PlacedParts) -> None:
    driven, motor = parts.scenario.driven, parts.scenario.motor
    centre = {"linewidth": 0.7, "linestyle": "-.", "zorder": 3}
    pen.circle(driven.shaft, driven.pulley_radius, gid="driven pulley", **centre)
    pen.circle(parts.placed.motor, motor.pulley_radius, gid="motor pulley", **centre)
    for strand in parts.strands:
        pen.line(strand, linewidth=1.2, zorder=3, gid="belt")


def _draw_plate(pen: Pen, parts: PlacedParts) -> None:
    _fill(pen, parts.feet(), facecolor="white", edgecolor=BLACK, lw=0.8, ls=":", zorder=2)
    pen.circle(
        parts.placed.motor, 0.5 * parts.space.motor_body, edgecolor=BLACK, linewidth=0.8,
        linestyle=":", zorder=2, gid="motor",
    )  # fmt: skip
    _fill(pen, parts.plate(), facecolor=PALE, edgecolor=BLACK, lw=1.0, zorder=2.5, gid="plate")


def _draw_pose(pen: Pen, parts: PlacedParts, angle: float, style: Any, name: str) -> None:  # noqa: ANN401
    thin = {"edgecolor": SOFT, "linewidth": 0.7, "linestyle": style, "zorder": 2.2}
    _fill(pen, parts.plate(angle), fill=False, gid=f"plate at {name}", **thin)
    pen.circle(parts.motor(angle), 0.5 * parts.space.motor_body, gid=f"motor at {name}", **thin)


def _draw_adjuster(pen: Pen, parts: PlacedParts) -> None:
    end, tip = parts.other_end, parts.placed.tip
    pen.line((end, tip), linewidth=3.0, zorder=4, gid="adjuster")
    pen.line((end, tip), linewidth=1.6, color="white", zorder=4)
    if parts.kind is AdjusterKind.LINK:
        return
    across = -parts.axis[1], parts.axis[0]
    _draw_block(pen, parts, across)
    head = pen.beside(end, across, 6.0), pen.beside(end, across, -6.0)
    pen.line(head, linewidth=3.5, zorder=4)
    pen.circle(
        end, parts.space.wrench_space, edgecolor=SOFT, linewidth=0.7, linestyle=(0, (1, 2)),
        zorder=2, gid="wrench",
    )  # fmt: skip
    if parts.kind is AdjusterKind.JACK_IN_PLATE:
        ux, uy = parts.along
        face = pen.beside(tip, (ux, uy), 14.0), pen.beside(tip, (-ux, -uy), 14.0)
        pen.line(face, linewidth=2.0, zorder=4, gid="face")


def _draw_block(pen: Pen, parts: PlacedParts, across: Vector) -> None:
    """Where the bolt's fixed block has room over the whole travel."""
    block = block_room(parts)
    if block is None or block.length <= LEVEL:
        return
    corners = [
        pen.beside(at, across, side)
        for at, side in ((block.start, -11.0), (block.start, 11.0), (block.end, 11.0))
    ]
    corners.append(pen.beside(block.end, across, -11.0))
    _fill(pen, corners, fill=False, edgecolor=BLACK, lw=0.9, hatch="//", zorder=3.5, gid="block")


def _draw_points(pen: Pen, parts: PlacedParts) -> None:
    """The points that are told, and where the shafts are."""
    for mark in _marks(parts):
        pen.cross(mark.at, ms=4.5, mew=0.9)
    if parts.placed.stop_at is not None:
        x, y = pen.at(parts.placed.stop_at)
        pen.axes.plot([x], [y], "s", ms=7, mfc="none", mec=BLACK, mew=1.0, zorder=6, gid="stop")


def _labels(pen: Pen, parts: PlacedParts) -> list[Label]:
    """Names of what is drawn."""
    placed, driven = parts.placed, parts.scenario.driven
    display = parts.scenario.display
    top = driven.shaft[0], driven.shaft[1] + driven.pulley_radius
    body = 0.5 * parts.space.motor_body
    way = math.atan2(parts.normal[1], parts.normal[0])
    rim = placed.motor[0] + body * math.cos(way), placed.motor[1] + body * math.sin(way)
    labels = [
        Label("hinge", pen.pixels(placed.hinge)),
        Label("motor", pen.pixels(rim), way),
        Label("driven pulley,\npitch line", pen.pixels(top), math.pi / 2),
        Label("plate", pen.pixels(parts.on_plate(_bare(parts), parts.space.plate_middle))),
        Label(parts.tip_name, pen.pixels(placed.tip)),
    ]
    if parts.kind is not AdjusterKind.LINK:
        (ex, ey), (x, y), room = parts.axis, parts.other_end, parts.space.wrench_space
        edge = x - room * ex, y - room * ey
        text = f"{marked(room, display)} free\nfor the wrench"
        labels.append(Label(text, pen.pixels(edge), math.atan2(-ey, -ex)))
    else:
        labels.append(Label("base pin", pen.pixels(parts.other_end)))
    block = block_room(parts)
    if block is not None and block.length > LEVEL:
        labels.append(Label("block", pen.pixels(block.middle)))
    if placed.stop_at is not None:
        labels.append(Label("stop", pen.pixels(placed.stop_at)))
    names = keep_out_labels(pen, parts.space.keep_outs, {placed.nearest})
    return [*labels, *names]


def _bare(parts: PlacedParts) -> float:
    """Where along the plate nothing else is."""
    placed = parts.placed
    shares = (0.25, 0.4, 0.55, 0.7, 0.93)
    return max(
        (share * placed.plate_length for share in shares),
        key=lambda at: min(abs(at - placed.reach), abs(at - placed.motor_foot)),
    )


def _plate_view(figure: Figure, parts: PlacedParts) -> None:
    """The plate flat, as large as there is room for."""
    axes = figure.add_axes(
        (0.15 / _WIDTH, _FOOT / _HEIGHT, (_WIDTH - 0.3) / _WIDTH, _PLATE / _HEIGHT)
    )
    axes.axis("off")
    unit = si_factor(UNITS[parts.scenario.display].length)
    placed, radius = parts.placed, parts.scenario.motor.pulley_radius
    feet = 0.5 * parts.space.motor_feet
    left = min(0.0, placed.motor_foot - feet, placed.motor_foot - radius)
    right = max(placed.plate_length, placed.motor_foot + max(feet, radius))
    low = min(parts.space.plate_back, parts.offset)
    wide = _WIDTH - 0.3 - _PLATE_LEFT - _PLATE_RIGHT
    tall = _PLATE - ROOM_BELOW / 72.0 - 0.35
    high = placed.motor_height + radius
    per_inch = max((right - left) / unit / wide, (high - low) / unit / tall)
    start = left / unit - _PLATE_LEFT * per_inch
    bottom = low / unit - ROOM_BELOW / 72.0 * per_inch
    axes.set_xlim(start, start + (_WIDTH - 0.3) * per_inch)
    axes.set_ylim(bottom, bottom + _PLATE * per_inch)
    axes.set_aspect("equal", adjustable="box")
    draw_plate(axes, per_inch / 72.0, unit, parts)
    figure.text(
        0.15 / _WIDTH, (_FOOT + _PLATE - 0.14) / _HEIGHT,
        _plate_title(parts), fontsize=FONT_SIZE, gid="plate title",
        fontweight="bold",
    )  # fmt: skip


def _plate_title(parts: PlacedParts) -> str:
    (ux, uy), (vx, vy) = parts.along, parts.normal
    seen = "facing the motor's pulley" if ux * vy - uy * vx > 0 else "from behind the motor"
    return f"The plate laid flat, told from the hinge and the plate's face; seen {seen}"
