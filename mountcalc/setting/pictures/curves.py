"""The picture of a setting with an adjuster: grip, bearings and tension against turns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Bbox
from numpy.typing import NDArray

from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import UNITS, figures, nearest_percent, turns_text
from mountcalc.pages.bars import Stretch, draw_strip, spans
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    LIMIT_STYLE,
    SOFT,
    STATE_HATCHES,
    STATE_WORDS,
    EndLabel,
    draw_end_labels,
    figure_of,
    fitted_name,
    heading,
    last_point,
    name_scale,
    new_figure,
    panel,
    spread,
    tension_lines,
    text_size,
)
from mountcalc.requirements.results import Setting
from mountcalc.setting.pictures.series import CASE_WORDS, GripLine, SettingSeries
from mountcalc.units import si_factor

__all__ = ["marks_of", "setting_curves"]

Array = NDArray[np.float64]

_WIDTH, _HEIGHT = 8.0, 7.6
_LEFT, _RIGHT, _BOTTOM = 0.88, 2.25, 0.46
# Inches: names of the marks, strip of the promises, gap between panels.
_NAMES, _STRIP, _GAP = 0.50, 0.60, 0.15
_MARKS = 9
_FAR = 4.0  # grip this many times what is needed says nothing more
_NAME_ROOM = 0.25  # of a panel's width, for a bearing's name in it
_GRIP_STYLES: dict[str, dict[str, Any]] = {
    "running": {"linestyle": "-", "markerfacecolor": BLACK},
    "starting": {"linestyle": (0, (3, 2)), "markerfacecolor": "white"},
}
_BEARING_COLOURS = ("#7a2f00", "#1f5c2e")
_BEARING_MARKERS = ("^", "s")


def setting_curves(series: SettingSeries, title: str, lines: tuple[str, ...]) -> Figure:
    """Curves over turns."""
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, title, lines) + _NAMES
    start = top + _STRIP + _GAP
    height = (_HEIGHT - _BOTTOM - start - 2 * _GAP) / 3
    strip = panel(figure, _LEFT, _RIGHT, top, _STRIP)
    panels = [
        panel(figure, _LEFT, _RIGHT, start + index * (height + _GAP), height) for index in range(3)
    ]
    marks = marks_of(series.setting)
    turns = series.turns
    for axes in (strip, *panels):
        axes.set_xlim(float(turns[0]), float(turns[-1]))
    _draw_promises(strip, series)
    _draw_mark_names(strip, marks)
    draws = (_draw_grip, _draw_share, _draw_tension)
    labels = [draw(axes, series) for draw, axes in zip(draws, panels, strict=True)]
    for axes in panels:
        _draw_mark_lines(axes, marks)
        axes.tick_params(labelbottom=axes is panels[-1])
    for axes, own in zip(panels, labels, strict=True):
        _place(figure, axes, own)
    for axes in panels:
        _shade(axes, series.setting, marks)
    panels[-1].set_xlabel("turns of the adjuster from zero, positive tightens", fontsize=FONT_SIZE)
    return figure


def _place(figure: Figure, axes: Axes, labels: list[Label]) -> None:
    """Place labels in a panel; one that cannot but stand on a line hides it behind itself."""
    before = set(figure.texts)
    placer = Placer(figure, Bbox.from_extents(*axes.get_window_extent().extents))
    placer.place(labels)
    for text in (text for text in figure.texts if text not in before):
        x0, y0, x1, y1 = (int(edge) for edge in text.get_window_extent().extents)
        if placer.ink[y0:y1, x0:x1].any():
            text.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 1.0})


def _greatest(values: Array) -> float:
    return float(np.max(values[np.isfinite(values)], initial=0.0))


def _inside(axes: Axes, turns: float | None) -> bool:
    left, right = axes.get_xlim()
    return turns is not None and left <= turns <= right


def _pixel(axes: Axes, turns: float, value: float) -> tuple[float, float]:
    x, y = axes.transData.transform((turns, value))
    return float(x), float(y)


def _state(axes: Axes, text: str) -> None:
    """Say in words what has no curve."""
    axes.text(
        0.5, 0.5, text, transform=axes.transAxes, fontsize=FONT_SIZE, ha="center", va="center",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 2.0}, zorder=6, gid="statement",
    )  # fmt: skip


def _draw_grip(axes: Axes, series: SettingSeries) -> list[Label]:
    needs = series.grip_lines()
    curves = {line.case: series.grip(line.case) for line in needs}
    most = max(_greatest(values) for values in curves.values())
    needed = max(line.value for line in needs)
    axes.set_ylim(0, 1.08 * min(max(most, needed), _FAR * needed))
    name_scale(axes, "grip [times\nthe pull needed]")
    if most == 0:
        reasons = [row.running.grip_reason for row in series.rows if row.running.grip_reason]
        _state(axes, reasons[0] if reasons else "the belt carries nothing in this range")
    labels = _draw_needs(axes, needs)
    for case, values in curves.items():
        labels += _draw_one_grip(axes, series.turns, case, values)
    draw_end_labels(axes, labels)
    return _fewest_label(axes, series)


def _draw_one_grip(axes: Axes, turns: Array, case: str, values: Array) -> list[EndLabel]:
    step = max(1, turns.size // _MARKS)
    first = step // 4 if case == "running" else 3 * step // 4
    axes.plot(
        turns, values, color=BLACK, linewidth=1.3, marker="o", markersize=4, markeredgewidth=0.8,
        markevery=(first, step), zorder=4, gid=f"grip {case}", **_GRIP_STYLES[case],
    )  # fmt: skip
    end = last_point(turns, values)
    if end is None:
        return []
    top = axes.get_ylim()[1]
    far = "↑ " if end[1] > top else ""
    return [EndLabel(f"{far}{case}: {figures(end[1], 3)}", end[0], min(end[1], top))]


def _draw_needs(axes: Axes, needs: list[GripLine]) -> list[EndLabel]:
    labels = []
    for line, style in zip(needs, ((0, (6, 2)), (0, (2, 1.5))), strict=True):
        drawn = axes.axhline(line.value, color=LIMIT, linewidth=1.2, linestyle=style, zorder=2)
        drawn.set_gid(f"need {line.case}")
        word = f"wanted, {line.case}" if line.wanted else f"slips {line.case} below"
        text = f"{word}: {line.value:.3g}"
        labels.append(EndLabel(text, axes.get_xlim()[1], line.value, LIMIT))
    return labels


def _fewest_label(axes: Axes, series: SettingSeries) -> list[Label]:
    turns, ruler = series.setting.turns_min, series.setting.governs.min
    if turns is None or ruler is None or ruler.part is not None or not _inside(axes, turns):
        return []
    line = next(line for line in series.grip_lines() if line.case == ruler.case)
    value = float(np.interp(turns, series.turns, series.grip(ruler.case)))
    if turns > 0:
        value = line.value
    if not np.isfinite(value) or value > axes.get_ylim()[1]:
        return []
    axes.plot([turns], [value], "D", color=BLACK, markersize=5, zorder=5, gid="fewest")
    return [Label(f"wanted grip, {CASE_WORDS[ruler.case]}", _pixel(axes, turns, value))]


def _draw_share(axes: Axes, series: SettingSeries) -> list[Label]:
    name_scale(axes, "share of limit,\nworst case [%]")
    bearings = series.scenario.driven.bearings
    found = [series.share(index) for index in range(len(bearings))]
    axes.set_ylim(0, 108 * max(1.0, *(_greatest(values) for values, _ in found)))
    axes.axhline(100, color=LIMIT, linewidth=1.7, linestyle=LIMIT_STYLE, zorder=3, gid="limit")
    labels = [EndLabel("limit: 100 %", axes.get_xlim()[1], 100, LIMIT)]
    for index, (values, cases) in enumerate(found):
        labels += _draw_one_share(axes, series, index, (100 * values, cases))
    draw_end_labels(axes, labels)
    return _most_label(axes, series)


def _draw_one_share(
    axes: Axes, series: SettingSeries, index: int, curve: tuple[Array, list[str]]
) -> list[EndLabel]:
    turns, (values, cases) = series.turns, curve
    step = max(1, turns.size // _MARKS)
    colour = _BEARING_COLOURS[index]
    axes.plot(
        turns, values, color=colour, linewidth=1.3, marker=_BEARING_MARKERS[index], markersize=4.2,
        markerfacecolor=colour if index == 0 else "white", markeredgewidth=0.8,
        markevery=(step // 4 if index == 0 else 3 * step // 4, step), zorder=4,
        gid=f"share {index}",
    )  # fmt: skip
    end = last_point(turns, values)
    if end is None:
        return []
    case = cases[int(np.flatnonzero(np.isfinite(values))[-1])]
    text = f"{{}}, {case}: {nearest_percent(end[1] / 100)} %"
    return [EndLabel(text, *end, colour, series.scenario.driven.bearings[index].name)]


def _most_label(axes: Axes, series: SettingSeries) -> list[Label]:
    turns, ruler = series.setting.turns_max, series.setting.governs.max
    if turns is None or ruler is None or not _inside(axes, turns):
        return []
    case = CASE_WORDS[ruler.case]
    room = _NAME_ROOM * float(axes.bbox.width)
    if ruler.part is None:
        text, value = f"{case}: {STATE_WORDS[State.AT_STOP]}", 100.0
    else:
        name = ruler.bearing or ruler.limited
        text = f"{fitted_name(figure_of(axes), name, room)}, {case}"
        value = 100 * max(1.0, _share_at_zero(series) if turns == 0 else 1.0)
    axes.plot([turns], [value], "D", color=BLACK, markersize=5, zorder=5, gid="most")
    return [Label(text, _pixel(axes, turns, value))]


def _share_at_zero(series: SettingSeries) -> float:
    """The worst share at the first turn, which may be past the limit already."""
    first = [series.share(index)[0][0] for index in range(len(series.scenario.driven.bearings))]
    return _greatest(np.array(first))


def _draw_tension(axes: Axes, series: SettingSeries) -> list[Label]:
    names = ("tension_low", "tension", "tension_high")
    low, middling, high = (series.tension(name) for name in names)
    units = UNITS[series.scenario.display]
    draw_end_labels(axes, tension_lines(axes, series.turns, (low, middling, high), units))
    return _tension_labels(axes, series)


def _tension_labels(axes: Axes, series: SettingSeries) -> list[Label]:
    setting, units = series.setting, UNITS[series.scenario.display]
    labels = []
    for name, turns, tension in (
        ("set", setting.set_turns, setting.set_tension),
        ("new belt", setting.new_turns, setting.new_tension),
    ):
        if turns is None or tension is None or not _inside(axes, turns):
            continue
        value = tension / si_factor(units.force)
        axes.plot([turns], [value], "D", color=BLACK, markersize=5, zorder=5, gid=f"point {name}")
        text = f"{name}: {units.strength(tension, 2)} {units.force}"
        labels.append(Label(text, _pixel(axes, turns, value)))
    return labels


_SET = frozenset({"set", "new belt"})
_SHADE, _BAND = "0.92", "0.80"
_NAME_GAP = 0.10  # inches between two names of marks
_NAMES_OVER = 0.13  # inches from the strip up to the names of the marks


@dataclass(frozen=True, slots=True)
class _Mark:
    """A number of turns that is drawn as a line through all panels; a set point has a band."""

    name: str
    turns: float
    line: Any
    width: float
    has_band: bool


def marks_of(setting: Setting) -> list[_Mark]:
    """Ends of the range and set points, as far as there are any."""
    found = [
        _Mark(name, turns, line, width, has_band)
        for name, turns, line, width, has_band in (
            ("fewest", setting.turns_min, "-", 0.9, False),
            ("set", setting.set_turns, (0, (8, 2, 2, 2)), 1.5, True),
            ("new belt", setting.new_turns, (0, (1.5, 1.5)), 1.5, True),
            ("most", setting.turns_max, "-", 0.9, False),
        )
        if turns is not None
    ]
    return sorted(found, key=lambda mark: mark.turns)


def _draw_mark_lines(axes: Axes, marks: Sequence[_Mark]) -> None:
    """A line at each mark that lies in the range of turns."""
    left, right = axes.get_xlim()
    for mark in marks:
        if left <= mark.turns <= right:
            axes.axvline(
                mark.turns, color=BLACK, linestyle=mark.line, linewidth=mark.width, zorder=2.5,
                gid=f"line {mark.name}",
            )  # fmt: skip


def _shade(axes: Axes, setting: Setting, marks: Sequence[_Mark]) -> None:
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


def _draw_mark_names(axes: Axes, marks: Sequence[_Mark]) -> None:
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


def _name(mark: _Mark, right: float) -> str:
    # What is to be set is told in full, the ends of the range are no advice.
    turns = turns_text(mark.turns) if mark.name in _SET else f"{mark.turns:.2f}"
    return f"{mark.name}\n{turns}{' →' if mark.turns > right else ''}"


def _draw_promises(axes: Axes, series: SettingSeries) -> None:
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
