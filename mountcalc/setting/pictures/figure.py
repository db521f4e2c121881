"""The picture of a setting: between slip and the bearings' limits, and where to set the bolt."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.equilibrium.states import ZeroKind
from mountcalc.pages.amounts import UNITS, DisplayUnits, figures, nearest_percent, turns_text
from mountcalc.pages.bars import Bar, draw_bars
from mountcalc.pages.plot_style import (
    FONT_SIZE,
    STATE_WORDS,
    heading,
    new_figure,
    panel,
    plain,
    turns_words,
)
from mountcalc.requirements.results import Ruler, Setting
from mountcalc.scenario.model import Scenario
from mountcalc.setting.pictures.curves import setting_curves
from mountcalc.setting.pictures.series import CASE_WORDS, SettingSeries
from mountcalc.table import TensionTable, rotation_words

__all__ = ["setting_figure"]

_WIDTH, _HEIGHT = 8.0, 5.6
_LEFT, _RIGHT, _GAP, _BOTTOM = 0.75, 0.15, 0.85, 0.86
_GRIP_WIDTH = 1.75  # inches
_SLOT = 0.95  # for the name below a bar
_FAR = 3.0
_HEADROOM = 1.30  # over the bars, for the words at their limits
_NAME = 40  # characters
_ZERO = {
    ZeroKind.SNUG: "where the belt is just taut by hand",
    ZeroKind.CONTACT: "where the adjuster just touches",
}


def setting_figure(
    scenario: Scenario, setting: Setting, table: TensionTable, other: TensionTable | None = None
) -> Figure:
    """Draw a setting."""
    tables = (table,) if other is None else (table, other)
    series = SettingSeries.of(scenario, setting, tables)
    if len(series.rows) > 1 and series.rows[0].turns is not None:
        lines = _curves_heading(scenario, setting, table, both_ways=other is not None)
        return setting_curves(series, setting.title, lines)
    return _bars(series, setting.title, (_verdict(scenario, setting),))


def _verdict(scenario: Scenario, setting: Setting) -> str:
    """Open or closed, and why."""
    if not setting.open:
        return f"Closed: {setting.why_not_open}."
    units = UNITS[scenario.display]
    old = f"{units.strength(setting.set_tension, 2)} {units.force}"
    if setting.set_turns is None or setting.new_turns is None:
        return f"Open: weight alone puts {old} on each strand, which keeps both promises."
    new = f"{units.strength(setting.new_tension, 2)} {units.force}"
    return (
        f"Open: {turns_text(setting.set_turns)} turns ({old} on each strand) for a belt that has "
        f"bedded in, {turns_text(setting.new_turns)} turns ({new}) for a new one."
    )


def _curves_heading(
    scenario: Scenario, setting: Setting, table: TensionTable, *, both_ways: bool
) -> tuple[str, ...]:
    """All lines over the curves."""
    lines = [_verdict(scenario, setting), *_ends(setting, UNITS[scenario.display])]
    error = turns_words(setting.turn_error)
    read = f"Zero is {_ZERO[table.zero.kind]}."
    if _has_window(setting):
        read += f" Pale: the range that keeps both. Dark: ±{error} around a setting."
    elif setting.set_turns is not None:
        read += f" Dark: ±{error} around a setting."
    lines.append(read)
    if scenario.motor.reverses:
        lines.append(
            "The drive runs both ways: grip and share are those of the worse way."
            if both_ways
            else f"The drive runs both ways and the range holds for both; the curves are those of "
            f"{rotation_words(scenario)}."
        )
    return tuple(lines)


def _has_window(setting: Setting) -> bool:
    if setting.turns_min is None:
        return False
    return setting.turns_max is None or setting.turns_min < setting.turns_max


def _ends(setting: Setting, units: DisplayUnits) -> tuple[str, str]:
    governs = setting.governs
    fewest = _end("Fewest", setting.turns_min, setting.tension_min, units, governs.min_reason)
    most = _end("Most", setting.turns_max, setting.tension_max, units, governs.max_reason)
    if setting.turns_min is not None:
        fewest += _reached(governs.min, setting) + _aside(governs.min_reason)
    if setting.turns_max is not None:
        most += _at_limit(governs.max, governs.max_reason)
    return f"{fewest}.", f"{most}."


def _end(
    name: str, turns: float | None, tension: float | None, units: DisplayUnits, reason: str | None
) -> str:
    if turns is None:
        return f"{name}: not reached, {reason}" if reason else f"{name}: not reached"
    return f"{name}: {turns:.2f} turns, {units.strength(tension, 2)} {units.force}"


def _reached(ruler: Ruler | None, setting: Setting) -> str:
    if setting.turns_min == 0:
        return ": zero itself has the wanted grip"
    if ruler is None:
        return ""
    if ruler.part is not None:
        return f": with fewer {ruler.limited} is over its limit, {CASE_WORDS[ruler.case]}"
    wanted = f" of {setting.grip_wanted:.3g}" if ruler.case == "running" else ""
    return f": the wanted grip{wanted} is reached, {CASE_WORDS[ruler.case]}"


def _at_limit(ruler: Ruler | None, reason: str | None) -> str:
    if ruler is None or ruler.part is None:
        return f": {reason}" if reason else ""
    limited = ruler.limited if ruler.bearing is None else f'bearing "{_short(ruler.bearing)}"'
    return f": {limited} is at its limit, {CASE_WORDS[ruler.case]}" + _aside(reason)


def _short(name: str) -> str:
    """A user's name cut in its middle: two bearings' names often begin alike."""
    whole = plain(name)
    half = _NAME // 2
    return whole if len(whole) <= _NAME else f"{whole[:half].rstrip()}…{whole[-half:].lstrip()}"


def _aside(reason: str | None) -> str:
    return f" ({reason})" if reason else ""


def _bars(series: SettingSeries, title: str, lines: tuple[str, ...]) -> Figure:
    """A single setting: grip, and each bearing's share of its limit."""
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


def _grip_bars(series: SettingSeries) -> list[Bar]:
    bars = []
    for place, line in enumerate(series.grip_lines()):
        value = _value(series.grip(line.case))
        word = "wanted" if line.wanted else "slips\nbelow"
        text = "none" if value is None else figures(value, 3)
        bars.append(
            Bar(place, line.case, line.case, value, text, line.value, f"{word} {line.value:.3g}")
        )
    return bars


def _share_bars(series: SettingSeries) -> list[Bar]:
    bars = []
    for group, case in enumerate(CASE_WORDS):
        for index, bearing in enumerate(series.scenario.driven.bearings):
            share = _value(series.case_share(index, case))
            value = None if share is None else 100 * share
            text = "none" if share is None else f"{nearest_percent(share)} %"
            place = 2.5 * group + index
            bars.append(Bar(place, bearing.name, case, value, text, 100.0, "limit"))
    return bars


def _draw(axes: Axes, bars: list[Bar], scale: str) -> None:
    lines = max(bar.line or 0.0 for bar in bars)
    most = max([lines, *(bar.value for bar in bars if bar.value is not None)])
    axes.set_xlim(-0.75, bars[-1].place + 0.75)
    axes.set_ylabel(scale, fontsize=FONT_SIZE)
    draw_bars(axes, bars, _HEADROOM * min(most, _FAR * lines), _SLOT)
