"""The plate of a layout as it lies on the bench, dimensioned from its hinge end and its face."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon

from mountcalc.layout import Pen
from mountcalc.pages.plot_style import FONT_SIZE, INK, PALE, SOFT
from mountcalc.place.marking_out import LEVEL, marked
from mountcalc.place.pictures.dimension_lines import Mark, draw_dimensions
from mountcalc.place.placed_parts import PlacedParts
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["ROOM_BELOW", "draw_plate"]

ROOM_BELOW = 104.0
"""Points below the plate that its dimension lines take."""

_CENTRE_LINE = (0, (9, 2, 1, 2))


def draw_plate(axes: Axes, point: float, unit: float, parts: PlacedParts) -> None:
    """Draw the plate flat, hinge at the left, and tell where everything on it goes."""
    pen = Pen(axes, point, unit)
    placed, face, lowest = parts.placed, parts.space.plate_face, parts.space.plate_back
    half, foot = 0.5 * parts.space.motor_feet, placed.motor_foot
    _box(pen, (0.0, lowest), (placed.plate_length, face), facecolor=PALE, zorder=2)
    _box(
        pen, (foot - half, face), (foot + half, placed.motor_height),
        facecolor="white", linestyle=":", zorder=1.5,
    )  # fmt: skip
    radius = parts.scenario.motor.pulley_radius
    axes.add_patch(
        Circle(
            pen.at((foot, placed.motor_height)),
            radius / unit,
            fill=False,
            lw=0.7,
            ls="-.",
            zorder=3,
        )
    )
    offset = parts.offset
    for at in ((0.0, 0.0), (foot, placed.motor_height), (placed.reach, offset)):
        _cross(pen, at)
    axes.annotate(
        "hinge", pen.at((0.0, 0.0)), (-8, -2), textcoords="offset points", fontsize=FONT_SIZE,
        ha="right", va="top", gid="hinge name", zorder=8,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
    )  # fmt: skip
    _centre(pen, (foot, placed.motor_height), (foot, lowest))
    _hinge_line(pen, parts)
    _heights(pen, parts)
    draw_dimensions(pen, min(lowest, offset), _ends(parts), parts.scenario.display, tall=ROOM_BELOW)


def _ends(parts: PlacedParts) -> list[Mark]:
    """All that is told along the plate."""
    placed, low = parts.placed, parts.space.plate_back
    half, foot = 0.5 * parts.space.motor_feet, placed.motor_foot
    acts = "bolt through the plate" if _through(parts) else parts.tip_name
    near = "feet behind the hinge" if foot < half else "feet, near edge"
    return [
        Mark(acts, (placed.reach, min(low, parts.offset))),
        Mark(near, (foot - half, low)),
        Mark("motor shaft", (foot, low)),
        Mark("feet, far edge", (foot + half, low)),
        Mark("plate's end", (placed.plate_length, low)),
    ]


def _through(parts: PlacedParts) -> bool:
    return parts.kind is AdjusterKind.JACK_IN_PLATE


def _box(pen: Pen, low: Vector, high: Vector, **style: object) -> None:
    corners = [low, (high[0], low[1]), high, (low[0], high[1])]
    style = {"edgecolor": INK, "linewidth": 0.9, **style}
    pen.axes.add_patch(Polygon([pen.at(corner) for corner in corners], **style))  # type: ignore[arg-type]


def _cross(pen: Pen, at: Vector) -> None:
    x, y = pen.at(at)
    pen.axes.plot([x], [y], "o", markersize=5, mfc="white", mec=INK, zorder=6)
    pen.axes.plot([x], [y], "+", color=INK, markersize=11, markeredgewidth=0.7, zorder=6)


def _centre(pen: Pen, start: Vector, end: Vector) -> None:
    pen.line((start, end), linewidth=0.6, color=SOFT, linestyle=_CENTRE_LINE, zorder=3)


def _hinge_line(pen: Pen, parts: PlacedParts) -> None:
    """The line of the face, which heights are told from, a little past the plate's end."""
    end = pen.beside((_right(parts), 0.0), (1.0, 0.0), 18.0)
    _centre(pen, (0.0, 0.0), end)


def _right(parts: PlacedParts) -> float:
    """The last thing on the plate."""
    return max(
        parts.placed.plate_length, parts.placed.motor_foot + 0.5 * parts.space.motor_feet,
        parts.placed.motor_foot + parts.scenario.motor.pulley_radius,
    )  # fmt: skip


def _heights(pen: Pen, parts: PlacedParts) -> None:
    """Dimensions square to the plate, right of it, from the face that the hinge's pin lies in."""
    placed, display = parts.placed, parts.scenario.display
    rise = placed.motor_height
    x = pen.beside((_right(parts), 0.0), (1.0, 0.0), 12.0)[0]
    past = pen.beside((x, rise), (1.0, 0.0), 3.0)
    pen.line(((placed.motor_foot, rise), past), linewidth=0.5, color=SOFT, zorder=1)
    arrow = {"arrowstyle": "<|-|>", "lw": 0.7, "color": INK, "shrinkA": 0, "shrinkB": 0}
    pen.axes.annotate("", pen.at((x, 0.0)), pen.at((x, rise)), arrowprops=arrow)
    lines = [
        f"motor shaft {marked(rise, display)}",
        "above the plate's face,",
        "which the pin lies in;",
    ]
    offset = parts.offset
    if abs(offset) >= LEVEL:
        side = "above" if offset > 0 else "below"
        lines += [f"{parts.tip_name} {marked(abs(offset), display)}", f"{side} that face;"]
    lines.append(f"plate {marked(parts.space.plate_thickness, display)} thick")
    middle = pen.beside((x, 0.5 * rise), (1.0, 0.0), 8.0)
    pen.axes.text(
        *pen.at(middle), "\n".join(lines), fontsize=FONT_SIZE, ha="left", va="center",
        gid="height", parse_math=False, linespacing=1.25,
    )  # fmt: skip
