"""Dimensions as a shop draws them: lines with arrows, and running dimensions in the margins."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.layout import Pen
from mountcalc.pages.plot_style import FONT_SIZE, INK, SOFT, spread, text_size
from mountcalc.place.marking_out import marked
from mountcalc.scenario.model import Display, Vector

__all__ = [
    "Mark",
    "draw_dimensions",
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
    figure = pen.axes.get_figure(root=True)
    assert figure is not None
    pixel = pen.unit * pen.point * 72.0 / figure.dpi
    wide = text_size(figure, text)[0] * pixel
    room = abs(end.at[0]) - _ARROWS * pen.unit * pen.point
    pen.axes.annotate(
        "", pen.at((0.0, line)), pen.at((end.at[0], line)),
        arrowprops={"arrowstyle": "<|-|>", "lw": 0.7, "color": INK, "shrinkA": 0, "shrinkB": 0},
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

    def told(axis: int, words: tuple[str, str]) -> list[str]:
        offsets = [(mark.name, mark.at[axis] - datum.at[axis]) for mark in marks]
        texts = [f"{name}: {offset_words(offset, words, display)}" for name, offset in offsets]
        return [f"{datum.name}: 0", *texts]

    return told(0, ("left", "right")), told(1, ("down", "up"))


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
    figure = axes.get_figure(root=True)
    assert figure is not None
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
