"""Bars with the lines that they must reach or must not pass, and strips of states over turns."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    PALE,
    SOFT,
    figure_of,
    fitted_name,
    plain,
    text_size,
)

__all__ = ["Bar", "Stretch", "crossing", "draw_bars", "draw_strip", "spans"]

_BAR = 0.72
_PAST = 0.11  # of a line, past both sides of its bar
_LOW = 0.2  # of the scale: a line below this would cover the value at the bar's foot
_FACES = {"rest": "0.85", "running": "0.6", "starting": "white"}
_HATCHES = {"rest": "", "running": "", "starting": "////"}


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar at a place of the axes: the name below it, its value (None: nothing to say) as a text.

    ``line`` is what it must reach or must not pass, with what that is called; ``reach`` the
    range of the value.
    """

    place: float
    name: str
    case: str
    value: float | None
    text: str
    line: float | None = None
    line_text: str = ""
    reach: tuple[float | None, float | None] = (None, None)


def draw_bars(axes: Axes, bars: Sequence[Bar], top: float, slot: float) -> None:
    """Draw bars on a scale from 0, the names below them within so much of the axes' x."""
    axes.set_ylim(0, top)
    left, right = axes.get_xlim()
    room = slot * float(axes.bbox.width) / (right - left)
    names = [_two_lines(axes, bar.name, room) for bar in bars]
    axes.set_xticks([bar.place for bar in bars], names, parse_math=False)
    axes.tick_params(axis="x", length=0, pad=2)
    for bar in bars:
        _draw_bar(axes, bar)
        if bar.line is not None:
            _draw_line(axes, bar, bar.line, top)
        _write_value(axes, bar, top)


def _two_lines(axes: Axes, name: str, room: float) -> str:
    """A name below a bar: broken at a blank where it is long, the rest cut in its middle."""
    figure = figure_of(axes)
    first, _, rest = name.strip().partition(" ")
    if text_size(figure, plain(name))[0] <= room or not rest:
        return fitted_name(figure, name, room)
    return f"{fitted_name(figure, first, room)}\n{fitted_name(figure, rest, room)}"


def _draw_bar(axes: Axes, bar: Bar) -> None:
    if bar.value is not None:
        axes.bar(
            bar.place, bar.value, _BAR, facecolor=_FACES[bar.case], edgecolor=BLACK, linewidth=0.8,
            hatch=_HATCHES[bar.case], gid="bar",
        )  # fmt: skip
    low, high = bar.reach
    if low is not None and high is not None:
        axes.plot([bar.place] * 2, [low, high], "_-", color=BLACK, lw=1.2, ms=9)


def _draw_line(axes: Axes, bar: Bar, line: float, top: float) -> None:
    """The line where it is on the scale; its words, with an arrow where it is not."""
    text, offset, side = bar.line_text, 2.5, "bottom"
    if line <= top:
        ends = [bar.place - 0.5 * _BAR - _PAST, bar.place + 0.5 * _BAR + _PAST]
        axes.plot(ends, [line] * 2, color=LIMIT, lw=2.2, gid="limit")
    else:
        text, offset, side = text.replace("\n", " ↑\n", 1), -3, "top"
    axes.annotate(
        text, (bar.place, min(line, top)), (0, offset), textcoords="offset points",
        fontsize=FONT_SIZE, color=LIMIT, ha="center", va=side, linespacing=0.95,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.4},
    )  # fmt: skip


def _write_value(axes: Axes, bar: Bar, top: float) -> None:
    """The value at the bar's foot; it moves up where the line is as low."""
    value = bar.value or 0.0
    foot = 0.0
    if bar.line is not None and bar.line < _LOW * top:
        foot = max(bar.line + _LOW * top, min(value, top))
    arrow = " ↑" if value > top else ""
    axes.annotate(
        bar.text + arrow, (bar.place, foot), (0, 3), textcoords="offset points",
        fontsize=FONT_SIZE, ha="center", va="bottom", gid="value",
        bbox={"facecolor": "white", "edgecolor": PALE, "pad": 0.8, "lw": 0.5},
    )  # fmt: skip


Array = NDArray[np.float64]

_TALL = 0.84  # of a level, a strip's bar
_LINE = 0.148  # inches from one line of the key to the next
_AROUND = 1.1  # of a word: room that it takes on its bar
_HATCH_LEFT = 1.25  # of that: a bar no longer would lose its hatch behind it


def crossing(turns: Array, values: Array, wanted: float) -> float | None:
    """The last turn at which values rise through the wanted one, by linear interpolation."""
    found = None
    for (turn, low), (after, high) in pairwise(zip(turns.tolist(), values.tolist(), strict=True)):
        if low < wanted <= high:
            found = turn + (wanted - low) / (high - low) * (after - turn)
    return found


def spans(
    turns: Array, keys: Sequence[Hashable], edges: Sequence[float | None] = ()
) -> list[tuple[float, float, Hashable]]:
    """Stretches of turns with the same key."""
    found = []
    start = float(turns[0])
    for index, (key, after) in enumerate(pairwise(keys)):
        if key != after:
            low, high = float(turns[index]), float(turns[index + 1])
            exact = [edge for edge in edges if edge is not None and low <= edge <= high]
            end = exact[0] if exact else 0.5 * (low + high)
            found.append((start, end, key))
            start = end
    found.append((start, float(turns[-1]), keys[-1]))
    return found


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a bar from turn to turn, its word and its hatch."""

    start: float
    end: float
    word: str
    hatch: str
    gid: str


def draw_strip(axes: Axes, bars: Mapping[str, Sequence[Stretch]], kind: str) -> None:
    """One bar for each name, each stretch with its word; words that have no room stand beside."""
    axes.set_ylim(len(bars) - 0.5, -0.5)
    shown: dict[str, str] = {}
    written: set[str] = set()
    for level, stretches in enumerate(bars.values()):
        for one in stretches:
            shown.setdefault(one.word, one.hatch)
            _draw(axes, level, one)
            if _write(axes, level, one, kind):
                written.add(one.word)
    axes.set_yticks(range(len(bars)), list(bars))
    axes.tick_params(axis="both", length=0, labelbottom=False)
    for spine in axes.spines.values():
        spine.set_visible(False)
    _key(axes, {word: hatch for word, hatch in shown.items() if word not in written}, kind)


def _draw(axes: Axes, level: int, one: Stretch) -> None:
    corner, wide = (one.start, level - 0.5 * _TALL), one.end - one.start
    styles: tuple[dict[str, Any], ...] = (
        {"facecolor": "white", "edgecolor": SOFT, "hatch": one.hatch, "lw": 0},
        {"facecolor": "none", "edgecolor": BLACK, "lw": 0.7, "zorder": 5},
    )
    for style in styles:
        axes.add_patch(Rectangle(corner, wide, _TALL, gid=one.gid, **style))


def _write(axes: Axes, level: int, one: Stretch, kind: str) -> bool:
    """Write a word on its bar where it has room."""
    left, right = axes.get_xlim()
    wide = text_size(figure_of(axes), one.word)[0]
    over = _AROUND * wide * (right - left) / float(axes.bbox.width)
    if over * (_HATCH_LEFT if one.hatch else 1.0) > one.end - one.start:
        return False
    middle = 0.5 * (one.start + one.end)
    corner = (middle - 0.5 * over, level - 0.5 * _TALL)
    axes.add_patch(Rectangle(corner, over, _TALL, facecolor="white", linewidth=0, zorder=4))
    axes.text(
        middle, level, one.word, fontsize=FONT_SIZE, ha="center", va="center_baseline", zorder=6,
        gid=f"{kind} word",
    )  # fmt: skip
    return True


def _key(axes: Axes, words: Mapping[str, str], kind: str) -> None:
    """Name beside the strip what had no room on it."""
    dots = figure_of(axes).dpi
    wide, tall = (float(size) / dots for size in (axes.bbox.width, axes.bbox.height))
    for line, (word, hatch) in enumerate(words.items()):
        middle = 1 - (line + 0.5) * _LINE / tall
        axes.add_patch(
            Rectangle(
                (1 + 0.16 / wide, middle - 0.05 / tall), 0.26 / wide, 0.10 / tall,
                transform=axes.transAxes, clip_on=False, facecolor="white", edgecolor=BLACK,
                linewidth=0.6, hatch=hatch,
            )
        )  # fmt: skip
        axes.text(
            1 + 0.48 / wide, middle, word, transform=axes.transAxes, fontsize=FONT_SIZE,
            va="center", gid=f"{kind} key",
        )  # fmt: skip
