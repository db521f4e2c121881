"""Bars with the lines that they must reach or must not pass."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes

from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    PALE,
    figure_of,
    fitted_name,
    plain,
    text_size,
)

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


def name_groups(axes: Axes, groups: Mapping[float, str]) -> None:
    """Words below groups of bars, by their middles."""
    for middle, words in groups.items():
        axes.annotate(
            words, (middle, 0), (0, -31), textcoords="offset points", fontsize=FONT_SIZE,
            ha="center", va="top", annotation_clip=False, gid="group",
        )  # fmt: skip


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
