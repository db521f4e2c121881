"""The plate of a layout as it lies on the bench; dimensions as a shop draws them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from mountcalc.layout import Pen
from mountcalc.pages.plot_style import BLACK, FONT_SIZE, PALE, SOFT, figure_of, spread, text_size
from mountcalc.place.marking_out import LEVEL, marked
from mountcalc.place.placed_parts import PlacedParts
from mountcalc.scenario.model import AdjusterKind, Display, Vector

__all__ = [
    "ROOM_BELOW",
    "Mark",
    "draw_plate",
    "draw_running_dimensions",
    "margin_of",
    "offset_words",
    "running_texts",
]

_THIN = 0.5  # points
_FIRST_ROW, _ROW = 20.0, 16.0  # points below the part, and from one dimension line to the next
_BEYOND = 3.0  # points that an extension line goes past its dimension line
_ARROWS = 16.0  # points that two arrow heads take beside a text
_LABEL_GAP = 0.155  # inches from one running dimension to the next
_KINK, _TEXT = 0.20, 0.24  # inches outside the axes where a leader ends and its text begins


@dataclass(frozen=True, slots=True)
class Mark:
    """A named point [m] whose place is told."""

    name: str
    at: Vector


def offset_words(offset: float, words: tuple[str, str], display: Display) -> str:
    """A distance from a datum and on which side of it, in words instead of a sign."""
    text = marked(abs(offset), display)
    if text.startswith("0 "):
        return text
    return f"{text} {words[offset > 0]}"


def draw_dimensions(
    pen: Pen, bottom: float, ends: Sequence[Mark], display: Display, *, tall: float
) -> None:
    """Dimension lines from the datum x = 0 to marks, one below the other, the shortest first."""
    # What lies behind the datum comes first: its extension line then crosses no other's text.
    order = sorted(ends, key=lambda end: (end.at[0] >= 0, abs(end.at[0])))
    row = min(_ROW, (tall - _FIRST_ROW) / max(len(order) - 1, 1))
    lowest = pen.beside((0.0, bottom), (0.0, -1.0), _FIRST_ROW + row * (len(order) - 1) + _BEYOND)
    pen.line(((0.0, 0.0), lowest), linewidth=_THIN, color=SOFT, zorder=1)
    for index, end in enumerate(order):
        line = pen.beside((0.0, bottom), (0.0, -1.0), _FIRST_ROW + row * index)[1]
        foot = pen.beside((end.at[0], line), (0.0, -1.0), _BEYOND)
        pen.line((end.at, foot), linewidth=_THIN, color=SOFT, zorder=1)
        _dimension(pen, end, line, f"{end.name} {marked(abs(end.at[0]), display)}")


def _dimension(pen: Pen, end: Mark, line: float, text: str) -> None:
    """One line with arrows; its text in the middle, or behind the datum where it is too short."""
    figure = figure_of(pen.axes)
    pixel = pen.unit * pen.point * 72.0 / figure.dpi
    wide = text_size(figure, text)[0] * pixel
    room = abs(end.at[0]) - _ARROWS * pen.unit * pen.point
    pen.axes.annotate(
        "", pen.at((0.0, line)), pen.at((end.at[0], line)),
        arrowprops={"arrowstyle": "<|-|>", "lw": 0.7, "color": BLACK, "shrinkA": 0, "shrinkB": 0},
    )  # fmt: skip
    middle = 0.5 * end.at[0]
    if wide > room:
        gap = 4.0 * pen.unit * pen.point + 0.5 * wide
        middle = -gap if end.at[0] >= 0 else end.at[0] - gap
    x, y = pen.at((middle, line))
    pen.axes.text(
        x, y, text, fontsize=FONT_SIZE, ha="center", va="center", parse_math=False, zorder=8,
        gid="dimension", bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0},
    )  # fmt: skip


def running_texts(
    datum: Mark, marks: Sequence[Mark], display: Display
) -> tuple[list[str], list[str]]:
    """What is told of marks: how far right or left of a datum, and how far up or down."""

    def along(axis: int, words: tuple[str, str]) -> list[str]:
        offsets = [(mark.name, mark.at[axis] - datum.at[axis]) for mark in marks]
        texts = [f"{name}: {offset_words(offset, words, display)}" for name, offset in offsets]
        return [f"{datum.name}: 0", *texts]

    return along(0, ("left", "right")), along(1, ("down", "up"))


def margin_of(figure: Figure, texts: Sequence[str]) -> float:
    """Room that running dimensions take outside the axes [inches]."""
    widest: float = max(text_size(figure, text)[0] for text in texts)
    return _TEXT + widest / float(figure.dpi)


def draw_running_dimensions(
    pen: Pen, places: Sequence[Vector], texts: tuple[Sequence[str], Sequence[str]]
) -> None:
    """Tell where places are, in words below the axes and right of them."""
    spots = [pen.at(place) for place in places]
    for axis, words in enumerate(texts):
        _run(pen.axes, axis, spots, words)


def _run(axes: Axes, axis: int, places: Sequence[Vector], texts: Sequence[str]) -> None:
    """Extension lines from places to one margin, and the texts there, none on another."""
    figure = figure_of(axes)
    box = axes.get_position()
    width, height = (float(size) for size in figure.get_size_inches())
    sizes = box.width * width, box.height * height
    low, high = axes.get_xlim() if axis == 0 else axes.get_ylim()
    start, end = axes.get_ylim() if axis == 0 else axes.get_xlim()
    wanted = [sizes[axis] * (place[axis] - low) / (high - low) for place in places]
    spreads = spread(wanted, _LABEL_GAP, 0.0, sizes[axis])
    # Seen along the other axis, outwards from the edge where the texts are: down or right.
    edge, out = (0.0, -1.0) if axis == 0 else (1.0, 1.0)
    across = sizes[1 - axis]
    for place, own, at, text in zip(places, wanted, spreads, texts, strict=True):
        inside = (place[1 - axis] - start) / (end - start)
        along = [own / sizes[axis], own / sizes[axis], at / sizes[axis]]
        away = [inside, edge, edge + out * _KINK / across]
        line = (along, away) if axis == 0 else (away, along)
        axes.plot(
            *line, transform=axes.transAxes, color=SOFT, linewidth=_THIN, clip_on=False, zorder=1,
            gid="extension",
        )  # fmt: skip
        spot = (at / sizes[axis], edge + out * _TEXT / across)
        x, y = spot if axis == 0 else spot[::-1]
        axes.text(
            x, y, text, transform=axes.transAxes, fontsize=FONT_SIZE, parse_math=False,
            rotation=90 if axis == 0 else 0, ha="center" if axis == 0 else "left",
            va="top" if axis == 0 else "center", gid="running dimension",
        )  # fmt: skip


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
        pen.cross(at, ms=5)
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
    style = {"edgecolor": BLACK, "linewidth": 0.9, **style}
    pen.axes.add_patch(Polygon([pen.at(corner) for corner in corners], **style))  # type: ignore[arg-type]


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
    arrow = {"arrowstyle": "<|-|>", "lw": 0.7, "color": BLACK, "shrinkA": 0, "shrinkB": 0}
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
