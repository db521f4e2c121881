"""The picture of a single setting: bars of grip and of each bearing's share of its limit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.pages.display import UNITS, figures, percent
from mountcalc.pages.plot_style import (
    FONT_SIZE,
    INK,
    LIMIT,
    PALE,
    STATE_WORDS,
    fitted_name,
    heading,
    new_figure,
    panel,
    plain,
    text_size,
    turns_words,
)
from mountcalc.setting.pictures.series import CASE_WORDS, SettingSeries

__all__ = ["setting_bars"]

_WIDTH, _HEIGHT = 8.0, 5.6
_LEFT, _RIGHT, _GAP, _BOTTOM = 0.75, 0.15, 0.85, 0.86
_GRIP_WIDTH = 1.75  # inches
_BAR = 0.72
_FAR = 3.0
_HEADROOM = 1.30  # over the bars, for the words at their limits
_LOW = 0.12  # of the scale
_FACES = {"rest": "0.85", "running": "0.6", "starting": "white"}
_HATCHES = {"rest": "", "running": "", "starting": "////"}


@dataclass(frozen=True, slots=True)
class _Bar:
    """A bar with the line that it must reach or must not pass, and what the line is called."""

    place: float
    name: str
    case: str
    value: float | None
    text: str
    line: float
    line_text: str


def setting_bars(series: SettingSeries, title: str, lines: tuple[str, ...]) -> Figure:
    """Bars for the first row."""
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, title, (*lines, _tension_line(series))) + 0.10
    height = _HEIGHT - _BOTTOM - top
    middle = _WIDTH - _RIGHT - _LEFT - _GRIP_WIDTH
    left = panel(figure, _LEFT, middle, top, height)
    right = panel(figure, _LEFT + _GRIP_WIDTH + _GAP, _RIGHT, top, height)
    _draw(left, _grip_bars(series), "grip [times the pull needed]")
    _draw(right, _share_bars(series), "share of the bearing's limit [%]")
    for index, (case, word) in enumerate(CASE_WORDS.items()):
        state = STATE_WORDS[series.rows[0].cases[case].state]
        right.annotate(
            f"{word}:\n{state}", (2.5 * index + 0.5, 0), (0, -32), textcoords="offset points",
            fontsize=FONT_SIZE, ha="center", va="top", annotation_clip=False, gid="group",
        )  # fmt: skip
    return figure


def _tension_line(series: SettingSeries) -> str:
    row, units = series.rows[0], UNITS[series.scenario.display]
    at = "" if row.turns is None else f"At {turns_words(row.turns)}. "
    if row.tension is None:
        return f"{at}There is no tension at rest: the plate has no place."
    low, high = (units.strength(value, 2) for value in (row.tension_low, row.tension_high))
    return (
        f"{at}Tension at rest, one strand: {units.strength(row.tension)} {units.force}; {low} with "
        f"the softest and {high} {units.force} with the stiffest belt."
    )


def _value(array: np.ndarray) -> float | None:
    value = float(array[0])
    return value if np.isfinite(value) else None


def _grip_bars(series: SettingSeries) -> list[_Bar]:
    bars = []
    for place, line in enumerate(series.grip_lines()):
        value = _value(series.grip(line.case))
        word = "wanted" if line.wanted else "slips\nbelow"
        text = "none" if value is None else figures(value, 3)
        bars.append(
            _Bar(place, line.case, line.case, value, text, line.value, f"{word} {line.value:.3g}")
        )
    return bars


def _share_bars(series: SettingSeries) -> list[_Bar]:
    bars = []
    for group, case in enumerate(CASE_WORDS):
        for index, bearing in enumerate(series.scenario.driven.bearings):
            share = _value(series.case_share(index, case))
            value = None if share is None else 100 * share
            text = "none" if share is None else f"{percent(share)} %"
            place = 2.5 * group + index
            bars.append(_Bar(place, bearing.name, case, value, text, 100.0, "limit"))
    return bars


def _draw(axes: Axes, bars: list[_Bar], scale: str) -> None:
    lines = max(bar.line for bar in bars)
    most = max([lines, *(bar.value for bar in bars if bar.value is not None)])
    top = _HEADROOM * min(most, _FAR * lines)
    axes.set_ylim(0, top)
    last = bars[-1].place
    axes.set_xlim(-0.75, last + 0.75)
    figure = axes.get_figure(root=True)
    assert figure is not None
    room = 0.95 * float(axes.bbox.width) / (last + 1.5)
    names = [_two_lines(figure, bar.name, room) for bar in bars]
    axes.set_xticks([bar.place for bar in bars], names, parse_math=False)
    axes.tick_params(axis="x", length=0, pad=2)
    axes.set_ylabel(scale, fontsize=FONT_SIZE)
    for bar in bars:
        _draw_bar(axes, bar, top)


def _two_lines(figure: Figure, name: str, room: float) -> str:
    """A name below a bar: broken at a blank where it is long, the rest cut in its middle."""
    first, _, rest = name.strip().partition(" ")
    if text_size(figure, plain(name))[0] <= room or not rest:
        return fitted_name(figure, name, room)
    return f"{fitted_name(figure, first, room)}\n{fitted_name(figure, rest, room)}"


def _draw_bar(axes: Axes, bar: _Bar, top: float) -> None:
    if bar.value is not None:
        axes.bar(
            bar.place, bar.value, _BAR, facecolor=_FACES[bar.case], edgecolor=INK, linewidth=0.8,
            hatch=_HATCHES[bar.case], gid="bar",
        )  # fmt: skip
    ends = [bar.place - 0.5 * _BAR - 0.1, bar.place + 0.5 * _BAR + 0.1]
    axes.plot(ends, [bar.line] * 2, color=LIMIT, linewidth=2.2, gid="line")
    box = {"facecolor": "white", "edgecolor": "none", "pad": 0.4}
    axes.annotate(
        bar.line_text, (bar.place, bar.line), (0, 2.5), textcoords="offset points",
        fontsize=FONT_SIZE, color=LIMIT, ha="center", va="bottom", linespacing=0.95, bbox=box,
    )  # fmt: skip
    # The value stands at the bar's foot, or over the line's words where the line is as low.
    foot = bar.line + _LOW * top if bar.line < _LOW * top else 0.0
    arrow = " ↑" if bar.value is not None and bar.value > top else ""
    axes.annotate(
        bar.text + arrow, (bar.place, foot), (0, 3), textcoords="offset points", fontsize=FONT_SIZE,
        ha="center", va="bottom", gid="value",
        bbox={"facecolor": "white", "edgecolor": PALE, "pad": 0.8, "lw": 0.5},
    )  # fmt: skip
