"""The picture of a setting: grip, bearings and tension against turns, or bars of a single one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.equilibrium.bearings import CASES
from mountcalc.equilibrium.states import State
from mountcalc.pages import curves
from mountcalc.pages.amounts import UNITS, figures, percent, turns_text
from mountcalc.pages.bars import Bar, draw_bars, name_groups
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    SOFT,
    STATE_WORDS,
    figure_of,
    fitted_name,
    heading,
    new_figure,
    panel,
    spread,
    text_size,
    turns_words,
)
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.setting.page import range_ends
from mountcalc.setting.series import SettingSeries
from mountcalc.table import TensionTable, words
from mountcalc.units import si_factor

Array = NDArray[np.float64]


def setting_figure(
    scenario: Scenario, setting: Setting, table: TensionTable, other: TensionTable | None = None
) -> Figure:
    """Draw a setting: curves over turns; bars where there is one setting alone."""
    units = UNITS[scenario.display]
    old = f"{units.strength(setting.set_tension, 2)} {units.force}"
    if not setting.open:
        verdict = f"Closed: {setting.why_not_open}."
    elif setting.set_turns is None or setting.new_turns is None:
        verdict = f"Open: weight alone puts {old} on each strand, which keeps grip and limits."
    else:
        new = f"{units.strength(setting.new_tension, 2)} {units.force}"
        verdict = (
            f"Open: {turns_text(setting.set_turns)} turns ({old} on each strand) for a belt that "
            f"has bedded in, {turns_text(setting.new_turns)} turns ({new}) for a new one."
        )
    tables = (table,) if other is None else (table, other)
    series = SettingSeries(scenario, setting, tuple(one.columns() for one in tables))
    if len(table.rows) == 1 or table.tighten_by is None:
        return _bars(series, table, verdict)
    fewest, most = range_ends(scenario, setting)
    lines = [verdict, f"Fewest: {fewest}", f"Most: {most}"]
    read, end = f"Zero is {words.ZERO_WORDS[table.zero.kind]}.", setting.turns_max
    around = f"ark: ±{turns_words(setting.turn_error)} around a setting."
    if setting.turns_min is not None and (end is None or setting.turns_min < end):
        read += f" Pale: the range that keeps both. D{around}"
    elif setting.set_turns is not None:
        read += f" D{around}"
    lines.append(read)
    if scenario.motor.reverses:
        lines.append(
            "The drive runs both ways and the range holds for both; the curves are those of "
            f"{words.rotation_words(scenario)}."
            if other is None
            else "The drive runs both ways: grip and share are those of the worse way."
        )
    return _curves(series, tuple(lines))


def _curves(series: SettingSeries, lines: tuple[str, ...]) -> Figure:
    tall = (0.60, None, None, None)
    figure, (strip, *panels) = curves.turns_panels(
        7.6, series.setting.title, lines, series.turns, tall, above=0.50
    )
    _draw_requirements(strip, series)
    _draw_mark_names(strip, series.setting)
    draws = (_draw_grip, _draw_shares, _draw_tension)
    labels = [draw(axes, series) for draw, axes in zip(draws, panels, strict=True)]
    right = panels[0].get_xlim()[1]
    for name, turns in _turns_shown(series.setting).items():
        _, style, width = MARKS[name]
        for axes in panels if turns <= right else ():
            axes.axvline(
                turns, color=BLACK, linestyle=style, linewidth=width, zorder=2.5,
                gid=f"line {name}",
            )  # fmt: skip
    placer = Placer(figure, panels[0].get_window_extent())
    for axes, own in zip(panels, labels, strict=True):
        placer.frame = axes.get_window_extent()
        placer.place(own)
    for axes in panels:
        _shade(axes, series.setting)
    return figure


def _draw_requirements(axes: Axes, series: SettingSeries) -> None:
    """A strip with one bar a requirement: where it is kept."""
    grip, limits = series.kept()
    both = ["kept" if pair == ("kept", "kept") else "broken" for pair in zip(grip, limits)]  # noqa: B905
    ends = (series.setting.turns_min, series.setting.turns_max)
    levels = {
        name: curves.Level(
            keys, {**curves.STATE_LOOKS, "kept": ("kept", ""), "broken": broken}, edges
        )
        for name, keys, edges, broken in (
            ("grip", grip, ends[:1], ("less than wanted", "////")),
            ("bearings", limits, ends[1:], ("over the limit", "xxxx")),
            ("both", both, ends, ("closed", "\\\\\\\\")),
        )
    }
    curves.draw_strip(axes, series.turns, levels, "requirement")


def _greatest(values: Array) -> float:
    return float(np.max(values[np.isfinite(values)], initial=0.0))


def _mark(axes: Axes, turns: float | None, value: float, gid: str, text: str) -> list[Label]:
    """A point of a curve and its label, where it lies in the panel."""
    (left, right), top = axes.get_xlim(), axes.get_ylim()[1]
    if turns is None or not left <= turns <= right or not value <= top:
        return []
    curves.draw_mark(axes, turns, value, gid)
    x, y = axes.transData.transform((turns, value))
    return [Label(text, (float(x), float(y)))]


def _draw_grip(axes: Axes, series: SettingSeries) -> list[Label]:
    needs, turns, setting = series.needs, series.turns, series.setting
    grips = {need.case: series.grip(need.case) for need in needs}
    most = max(_greatest(values) for values in grips.values())
    needed = max(need.grip for need in needs)
    # Four times what is needed says nothing more.
    top = 1.08 * min(max(most, needed), 4.0 * needed)
    curves.name_scale(axes, "grip [times\nthe pull needed]", top)
    if most == 0:  # say in words what has no curve
        said = [text for text in series.ways[0]["running_grip_reason"] if text]
        axes.text(
            0.5, 0.5, said[0] if said else "the belt carries nothing in this range",
            transform=axes.transAxes, fontsize=FONT_SIZE, ha="center", va="center", zorder=6,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 2.0}, gid="statement",
        )  # fmt: skip
    ends = []
    for case, grip, wanted in needs:
        word = f"wanted, {case}" if wanted else f"slips {case} below"
        look, late = curves.LevelLook(LIMIT, curves.NEEDS[case], 1.2), case == "starting"
        ends.append(curves.draw_level(axes, grip, f"{word}: {grip:.3g}", f"need {case}", look))
        curves.draw_curve(
            axes, turns, grips[case], f"grip {case}", curves.CurveLook(second=late, dashed=late)
        )

        def text(value: float, case: str = case) -> str:
            return f"{case}: {figures(value, 3)}"

        ends += curves.end_label(axes, turns, grips[case], text)
    curves.draw_end_labels(axes, ends)
    ruler, fewest = setting.governs.min, setting.turns_min
    if fewest is None or ruler is None or ruler.part is not None:
        return []
    need = next(need for need in needs if need.case == ruler.case)
    value = need.grip if fewest > 0 else float(np.interp(0.0, turns, grips[need.case]))
    return _mark(axes, fewest, value, "fewest", f"wanted grip, {words.case_words(need.case)}")


def _draw_shares(axes: Axes, series: SettingSeries) -> list[Label]:
    bearings, turns, setting = series.scenario.driven.bearings, series.turns, series.setting
    shares = [series.shares(index) for index in range(len(bearings))]
    worst = [100 * np.fmax.reduce(list(one.values())) for one in shares]
    top = 1.08 * max(100.0, *map(_greatest, worst))
    curves.name_scale(axes, "share of limit,\nworst case [%]", top)
    ends = [curves.draw_level(axes, 100.0, "limit: 100 %", "limit")]
    looks = (curves.CurveLook("#7a2f00", "^"), curves.CurveLook("#1f5c2e", "s", second=True))
    for index, (bearing, values, look) in enumerate(zip(bearings, worst, looks, strict=True)):
        curves.draw_curve(axes, turns, values, f"share {index}", look)
        last = int(np.max(np.flatnonzero(np.isfinite(values)), initial=0))
        at_end = {case: np.nan_to_num(share[last]) for case, share in shares[index].items()}

        def text(value: float, case: str = max(at_end, key=lambda case: at_end[case])) -> str:
            return f"{{}}, {case}: {percent(value / 100)} %"

        ends += curves.end_label(axes, turns, values, text, look.colour, bearing.name)
    curves.draw_end_labels(axes, ends)
    ruler, most = setting.governs.max, setting.turns_max
    if most is None or ruler is None:
        return []
    case, value = words.case_words(ruler.case), 100.0
    said = f"{case}: {STATE_WORDS[State.AT_STOP]}"
    if ruler.part is not None:
        room = 0.25 * float(axes.bbox.width)
        name = fitted_name(figure_of(axes), ruler.bearing or ruler.limited, room)
        said = f"{name}, {case}"
        if most == 0:  # it may be past the limit already
            value = max(value, *(values[0] for values in np.nan_to_num(worst)))
    return _mark(axes, most, value, "most", said)


def _draw_tension(axes: Axes, series: SettingSeries) -> list[Label]:
    setting, units = series.setting, UNITS[series.scenario.display]
    curves.draw_end_labels(axes, curves.tension_lines(axes, series.turns, series.ways[0], units))
    labels = []
    for name, turns, tension in (
        ("set", setting.set_turns, setting.set_tension),
        ("new belt", setting.new_turns, setting.new_tension),
    ):
        if tension is not None:
            text = f"{name}: {units.strength(tension, 2)} {units.force}"
            value = tension / si_factor(units.force)
            labels += _mark(axes, turns, value, f"point {name}", text)
    return labels


MARKS: Mapping[str, tuple[str, Any, float]] = {
    "fewest": ("turns_min", "-", 0.9),
    "set": ("set_turns", (0, (8, 2, 2, 2)), 1.5),
    "new belt": ("new_turns", (0, (1.5, 1.5)), 1.5),
    "most": ("turns_max", "-", 0.9),
}
"""Turns of a setting that are drawn as lines through all panels: which, how, how wide."""


def _turns_shown(setting: Setting) -> dict[str, float]:
    """Turns of the marks that there are, the fewest first."""
    turns = {name: getattr(setting, key) for name, (key, *_) in MARKS.items()}
    there = {name: turn for name, turn in turns.items() if turn is not None}
    return dict(sorted(there.items(), key=lambda item: item[1]))


def _shade(axes: Axes, setting: Setting) -> None:
    """Shade the range that keeps grip and limits, and where the hand may end up.

    Drawn last: on it a label is as readable as on white.
    """
    left, right = axes.get_xlim()
    start, error = setting.turns_min, setting.turn_error
    end = right if setting.turns_max is None else setting.turns_max
    areas = {
        f"band {name}": (max(turns - error, left), min(turns + error, right), "0.80", 0.3)
        for name, turns in (("set", setting.set_turns), ("new belt", setting.new_turns))
        if turns is not None
    }
    if start is not None and start < end:
        areas["window"] = start, end, "0.92", 0.2
    for gid, (low, high, grey, zorder) in areas.items():
        axes.axvspan(
            low, high, facecolor=grey, edgecolor="none", linewidth=0, zorder=zorder, gid=gid
        )


def _draw_mark_names(axes: Axes, setting: Setting) -> None:
    """Name the marks in a row above the strip; one past the range at its end, with an arrow."""
    figure, (left, right) = figure_of(axes), axes.get_xlim()
    wide, tall = (float(size) / figure.dpi for size in (axes.bbox.width, axes.bbox.height))
    over = 0.13  # inches from the strip up to the names
    shown = _turns_shown(setting)
    # What is to be set is told in full, the ends of the range are no advice.
    texts = [
        f"{name}\n{turns_text(turns) if name in {'set', 'new belt'} else f'{turns:.2f}'}"
        f"{' →' if turns > right else ''}"
        for name, turns in shown.items()
    ]
    gap = max((text_size(figure, text)[0] for text in texts), default=0.0) / figure.dpi + 0.10
    wanted = [wide * (min(turns, right) - left) / (right - left) for turns in shown.values()]
    for text, own, at in zip(texts, wanted, spread(wanted, gap, 0.0, wide), strict=True):
        axes.plot(
            [own / wide, own / wide, at / wide],
            [1.0, 1 + 0.04 / tall, 1 + (over - 0.01) / tall],
            transform=axes.transAxes, color=SOFT, linewidth=0.5, clip_on=False, gid="leader",
        )  # fmt: skip
        axes.text(
            at / wide, 1 + over / tall, text, transform=axes.transAxes, ha="center", va="bottom",
            fontsize=FONT_SIZE, linespacing=1.05, gid="mark name",
        )  # fmt: skip


def _bars(series: SettingSeries, table: TensionTable, verdict: str) -> Figure:
    """A single setting: grip, and each bearing's share of its limit."""
    row, units = table.rows[0], UNITS[series.scenario.display]
    at = "" if row.turns is None else f"At {turns_words(row.turns)}. "
    tension = f"{at}There is no tension at rest: the plate has no place."
    if row.tension is not None:
        low, high = (units.strength(one, 2) for one in (row.tension_low, row.tension_high))
        tension = (
            f"{at}Tension at rest, one strand: {units.strength(row.tension)} {units.force}; {low} "
            f"with the softest and {high} {units.force} with the stiffest belt."
        )
    grips: list[Bar] = []
    for number, (case, needed, wanted) in enumerate(series.needs):
        value = _value(series.grip(case))
        text = "none" if value is None else figures(value, 3)
        line = f"{'wanted' if wanted else 'slips below'} {needed:.3g}".replace("slips ", "slips\n")
        grips.append(Bar(number, case, case, value, text, needed, line))
    shares: list[Bar] = []
    for index, bearing in enumerate(series.scenario.driven.bearings):
        for group, (case, share) in enumerate(series.shares(index).items()):
            value = _value(100 * share)
            text = "none" if value is None else f"{percent(value / 100)} %"
            place = 2.5 * group + index
            shares.append(Bar(place, bearing.name, case, value, text, 100.0, "limit"))
    shares.sort(key=lambda bar: bar.place)
    figure = new_figure(8.0, 5.6)
    top = heading(figure, series.setting.title, (verdict, tension)) + 0.10
    height = 5.6 - 0.86 - top
    left = panel(figure, 0.75, 5.35, top, height)
    right = panel(figure, 3.35, 0.15, top, height)
    parts: tuple[tuple[Axes, list[Bar], str], ...] = (
        (left, grips, "grip [times the pull needed]"),
        (right, shares, "share of the bearing's limit [%]"),
    )
    for axes, bars, scale in parts:
        limit = max(bar.line or 0.0 for bar in bars)
        most = max([limit, *(bar.value for bar in bars if bar.value is not None)])
        axes.set_xlim(-0.75, bars[-1].place + 0.75)
        axes.set_ylabel(scale, fontsize=FONT_SIZE)
        # Room for the words at their limits, and for the names below the bars.
        draw_bars(axes, bars, 1.30 * min(most, 3.0 * limit), 0.95)
    states = (f"{words.case_words(case)}:\n{STATE_WORDS[row.cases[case].state]}" for case in CASES)
    name_groups(right, {2.5 * index + 0.5: text for index, text in enumerate(states)})
    return figure


def _value(array: Array) -> float | None:
    return float(array[0]) if np.isfinite(array[0]) else None
