"""The window of a setting over its panels: its ends, the set points, which promise is kept where.

A promise that is kept is white, one that is not is hatched; what keeps both lies between.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes

from mountcalc.equilibrium.states import State
from mountcalc.pages.display import turns_text
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    SOFT,
    STATE_HATCHES,
    STATE_WORDS,
    figure_of,
    spread,
    text_size,
)
from mountcalc.pages.strips import Stretch, draw_strip, spans
from mountcalc.requirements.results import Setting
from mountcalc.setting.pictures.series import SettingSeries

__all__ = ["Mark", "draw_mark_lines", "draw_mark_names", "draw_promises", "marks_of", "shade"]

_SET = frozenset({"set", "new belt"})
_SHADE, _BAND = "0.92", "0.80"
_NAME_GAP = 0.10  # inches between two names of marks
_NAMES_OVER = 0.13  # inches from the strip up to the names of the marks


@dataclass(frozen=True, slots=True)
class Mark:
    """A number of turns that is drawn as a line through all panels; a set point has a band."""

    name: str
    turns: float
    line: Any
    width: float
    has_band: bool


def marks_of(setting: Setting) -> list[Mark]:
    """Ends of the range and set points, as far as there are any."""
    found = [
        Mark(name, turns, line, width, has_band)
        for name, turns, line, width, has_band in (
            ("fewest", setting.turns_min, "-", 0.9, False),
            ("set", setting.set_turns, (0, (8, 2, 2, 2)), 1.5, True),
            ("new belt", setting.new_turns, (0, (1.5, 1.5)), 1.5, True),
            ("most", setting.turns_max, "-", 0.9, False),
        )
        if turns is not None
    ]
    return sorted(found, key=lambda mark: mark.turns)


def draw_mark_lines(axes: Axes, marks: Sequence[Mark]) -> None:
    """A line at each mark that lies in the range of turns."""
    left, right = axes.get_xlim()
    for mark in marks:
        if left <= mark.turns <= right:
            axes.axvline(
                mark.turns, color=BLACK, linestyle=mark.line, linewidth=mark.width, zorder=2.5,
                gid=f"line {mark.name}",
            )  # fmt: skip


def shade(axes: Axes, setting: Setting, marks: Sequence[Mark]) -> None:
    """Shade the range that keeps both promises, and where the hand may end up.

    Drawn last: on it a label is as readable as on white.
    """
    left, right = axes.get_xlim()
    start = setting.turns_min
    end = right if setting.turns_max is None else setting.turns_max
    if start is not None and start < end:
        _fill(axes, start, end, _SHADE, "window", 0.2)
    for mark in marks:
        if mark.has_band:
            low, high = mark.turns - setting.turn_error, mark.turns + setting.turn_error
            _fill(axes, max(low, left), min(high, right), _BAND, f"band {mark.name}", 0.3)


def _fill(axes: Axes, start: float, end: float, grey: str, gid: str, zorder: float) -> None:
    patch = axes.axvspan(start, end, facecolor=grey, edgecolor="none", linewidth=0, zorder=zorder)
    patch.set_gid(gid)


def draw_mark_names(axes: Axes, marks: Sequence[Mark]) -> None:
    """Name the marks in a row above the strip; one past the range at its end, with an arrow."""
    figure = figure_of(axes)
    left, right = axes.get_xlim()
    wide = float(axes.bbox.width) / figure.dpi
    tall = float(axes.bbox.height) / figure.dpi
    texts = [_name(mark, right) for mark in marks]
    gap = max((text_size(figure, text)[0] for text in texts), default=0.0) / figure.dpi + _NAME_GAP
    wanted = [wide * (min(mark.turns, right) - left) / (right - left) for mark in marks]
    for text, own, at in zip(texts, wanted, spread(wanted, gap, 0.0, wide), strict=True):
        axes.plot(
            [own / wide, own / wide, at / wide],
            [1.0, 1 + 0.04 / tall, 1 + (_NAMES_OVER - 0.01) / tall],
            transform=axes.transAxes, color=SOFT, linewidth=0.5, clip_on=False, gid="leader",
        )  # fmt: skip
        axes.text(
            at / wide, 1 + _NAMES_OVER / tall, text, transform=axes.transAxes, ha="center",
            va="bottom", fontsize=FONT_SIZE, linespacing=1.05, gid="mark name",
        )  # fmt: skip


def _name(mark: Mark, right: float) -> str:
    # What is to be set is told in full, the ends of the range are no advice.
    turns = turns_text(mark.turns) if mark.name in _SET else f"{mark.turns:.2f}"
    return f"{mark.name}\n{turns}{' →' if mark.turns > right else ''}"


def draw_promises(axes: Axes, series: SettingSeries) -> None:
    """A strip with one bar a promise: where it is kept."""
    setting = series.setting
    grip, bearings = series.grip_keys(), series.bearing_keys()
    both = [
        "kept" if set(keys) == {"kept"} else "broken" for keys in zip(grip, bearings, strict=True)
    ]
    ends = (setting.turns_min, setting.turns_max)
    bars = {}
    for level, (name, keys, edges, broken, hatch) in enumerate(
        (
            ("grip", grip, ends[:1], "less than wanted", "////"),
            ("bearings", bearings, ends[1:], "over the limit", "xxxx"),
            ("both", both, ends, "closed", "\\\\\\\\"),
        )
    ):
        bars[name] = [
            Stretch(start, end, *_look(str(key), broken, hatch), f"promise {level} {key}")
            for start, end, key in spans(series.turns, keys, edges)
        ]
    draw_strip(axes, bars, "promise")


def _look(key: str, broken: str, hatch: str) -> tuple[str, str]:
    """Word and hatch of a stretch."""
    if key == "kept":
        return "kept", ""
    if key == "broken":
        return broken, hatch
    return STATE_WORDS[State(key)], STATE_HATCHES[State(key)] or "||||"
