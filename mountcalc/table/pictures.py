"""The loads picture: tension, shaft load and bearing loads with their limits, as curves or bars."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import CASES
from mountcalc.pages import curves
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.bars import Bar, draw_bars, name_groups
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    STATE_WORDS,
    heading,
    new_figure,
    panel,
    turns_words,
)
from mountcalc.scenario.model import Scenario
from mountcalc.table import words
from mountcalc.table.results import Row, TensionTable
from mountcalc.units import si_factor

Array = NDArray[np.float64]
Columns = Mapping[str, Array]

_COLOURS = ("#14406b", "#7a2f00", "#1f5c2e")
_TINTS = ("#a9c3dd", "#e6c3a8", "#b5d6bd")
_MARKERS = ("o", "^", "s")
_FAR = 2.2  # a limit this many times the greatest load would flatten all that is drawn
_SLIPS = {"running": ("slips running", "xxx"), "starting": ("slips starting", "\\\\")}


def loads_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Draw a tension table over its turns; a single setting as bars."""
    if len(table.rows) == 1 or table.tighten_by is None:
        return _bars(scenario, table)
    columns, units = table.columns(), UNITS[scenario.display]
    turns = columns["turns"]
    lines = (
        f"Tension and loads against turns. Zero is {words.ZERO_WORDS[table.zero.kind]}.",
        "Wide pale lines: at rest. Thin, filled marks: running. Dashed, open marks: starting.",
    )
    figure, (tension, strip, loads) = curves.turns_panels(
        6.4, table.title, lines, turns, (1.70, 0.75, None)
    )
    labels = curves.tension_lines(tension, turns, columns, units)
    changes = []
    for name, word, wanted in (
        ("running", "run", 1.0),
        ("starting", "start", scenario.driven.starting_factor),
    ):
        at = curves.crossing(turns, columns[f"{name}_grip"], wanted)
        changes.append(at)
        if at is not None:  # the tension from which on the belt carries the pull
            force = float(np.interp(at, turns, columns["tension"]))
            text = f"least to {word}: {units.strength(force)} {units.force}"
            height = force / si_factor(units.force)
            look = curves.LevelLook(BLACK, curves.NEEDS[name], 0.9)
            labels.append(curves.draw_level(tension, height, text, f"least {name}", look))
            curves.draw_mark(tension, at, height, "least")
    curves.draw_end_labels(tension, labels)
    slips = [
        "running" if running else "starting" if starting else ""
        for running, starting in zip(
            columns["running_slips"], columns["starting_slips"], strict=True
        )
    ]
    levels = {name: curves.Level(columns[f"{name}_state"].tolist()) for name in CASES}
    levels["belt"] = curves.Level(slips, _SLIPS, changes)
    curves.draw_strip(strip, turns, levels, "state")
    for start, end, key in curves.spans(turns, slips, changes):
        if key:
            tension.add_patch(
                Rectangle(
                    (start, 0), end - start, tension.get_ylim()[1], facecolor="none",
                    edgecolor="0.72", linewidth=0, hatch=_SLIPS[str(key)][1], zorder=0.5,
                    gid=f"slip {key}",
                )
            )  # fmt: skip
    _draw_loads(loads, scenario, columns)
    return figure


def _draw_loads(axes: Axes, scenario: Scenario, columns: Columns) -> None:
    """Shaft and bearings in all cases, and the limits of both bearings."""
    units, turns, bearings = UNITS[scenario.display], columns["turns"], scenario.driven.bearings
    force = si_factor(units.force)
    keys = {"shaft_load": "shaft"}
    keys |= {f"bearing_{number}_load": one.name for number, one in enumerate(bearings, start=1)}
    loads = {(key, name): columns[f"{name}_{key}"] / force for key in keys for name in CASES}
    limits: list[tuple[float, str, bool, str]] = []  # load, text, whether for starting, bearing
    for starting, word in ((False, "limit"), (True, "start limit")):
        own = [one.starting_limit if starting else one.limit for one in bearings]
        texts = [units.strength(load) for load in own]
        if texts[0] == texts[1]:
            limits.append((own[0], f"{word}, both: {texts[0]} {units.force}", starting, ""))
        else:
            limits += [
                (load, f"{word}, {{}}: {text}", starting, one.name)
                for one, load, text in zip(bearings, own, texts, strict=True)
            ]
    values = np.concatenate(list(loads.values()))
    known = values[np.isfinite(values)].tolist()
    top = 1.06 * _top(known, [load / force for load, *_ in limits])
    curves.name_scale(axes, f"load on the shaft and\non each bearing [{units.force}]", top)
    labels: list[curves.EndLabel] = []
    for number, (key, noun) in enumerate(keys.items()):
        for name in CASES:
            curve, gid, colour = loads[key, name], f"load {number} {name}", _COLOURS[number]
            if name == "rest":
                axes.plot(
                    turns, curve, solid_capstyle="butt", gid=gid, zorder=2,
                    **{**curves.lone_mark(curve), "linewidth": 5.0, "color": _TINTS[number]},
                )  # fmt: skip
            else:
                late = name == "starting"
                look = curves.CurveLook(colour, _MARKERS[number], second=late, dashed=late)
                curves.draw_curve(axes, turns, curve, gid, look)

            def text(value: float, name: str = name) -> str:
                return f"{{}}, {name}: {units.strength(value * force)}"

            labels += curves.end_label(axes, turns, curve, text, colour, noun)
    labels += [
        curves.draw_level(
            axes,
            load / force,
            text,
            "limit",
            curves.LevelLook(width=1.0 if starting else 1.7),
            name,
        )
        for load, text, starting, name in limits
    ]
    curves.draw_end_labels(axes, labels)


def _top(values: list[float], limits: list[float]) -> float:
    """Upper end of a scale that holds all values and the limits that are near."""
    most = max(values, default=0.0)
    return max([most, *(limit for limit in limits if limit <= _FAR * most)]) or min(
        limits, default=1.0
    )


_GROUPS = {"rest": 1.0, "running": 5.0, "starting": 9.0}  # their middles


def _bars(scenario: Scenario, table: TensionTable) -> Figure:
    """One group a load case."""
    row, units = table.rows[0], UNITS[scenario.display]
    figure = new_figure(8.0, 6.0)
    at = "No adjuster: weight alone" if row.turns is None else f"At {turns_words(row.turns)}"
    lost = [name for name, case in row.cases.items() if case.shaft_load is None]
    lines = (
        f"Tension and loads at one setting. {at}. Tight and slack include the centrifugal part;",
        "the mark on the bar at rest goes from the softest to the stiffest belt.",
        *([f"Nothing to draw where the plate has no place: {', '.join(lost)}."] if lost else ()),
    )
    top = heading(figure, table.title, lines) + 0.10
    upper = panel(figure, 0.75, 0.15, top, 1.75)
    lower = panel(figure, 0.75, 0.15, top + 2.17, 6.0 - 0.62 - top - 2.17)
    for axes, scale, bars in (
        (upper, "tension of one strand\nof one belt", _tension_bars(scenario, row)),
        (lower, "load on the shaft and\non each bearing", _load_bars(scenario, row)),
    ):
        axes.set_xlim(-0.8, 10.8)
        axes.set_ylabel(f"{scale} [{units.force}]", fontsize=FONT_SIZE)
        drawn = [value for bar in bars for value in (bar.value, bar.reach[1]) if value is not None]
        limits = [bar.line for bar in bars if bar.line is not None]
        # Room above the bars for limits that are far, and below them for names.
        draw_bars(axes, bars, 1.30 * _top(drawn, limits), 1.11)
    name_groups(
        lower,
        {
            _GROUPS[name]: f"{name}: {STATE_WORDS[case.state]}{', slips' if case.slips else ''}"
            for name, case in row.cases.items()
        },
    )
    return figure


def _tension_bars(scenario: Scenario, row: Row) -> list[Bar]:
    bar = partial(_bar, UNITS[scenario.display])
    strands = (
        (name, _GROUPS[name] + side, strand, getattr(row.cases[name], strand))
        for name in ("running", "starting")
        for side, strand in ((-0.7, "tight"), (0.7, "slack"))
    )
    rest = bar(_GROUPS["rest"], "both at rest", "rest", row.tension)
    low, high = (
        bar(0.0, "", "rest", tension).value for tension in (row.tension_low, row.tension_high)
    )
    return [
        replace(rest, reach=(low, high)),
        *(bar(place, f"{name}, {strand}", name, value) for name, place, strand, value in strands),
    ]


def _load_bars(scenario: Scenario, row: Row) -> list[Bar]:
    bars, step = [], 1.15  # from one bar of a group to the next
    bar = partial(_bar, UNITS[scenario.display])
    for name, middle in _GROUPS.items():
        case = row.cases[name]
        bars.append(bar(middle - step, "shaft", name, case.shaft_load))
        for place, bearing, given in zip(
            (middle, middle + step), case.bearings, scenario.driven.bearings, strict=True
        ):
            limit = given.starting_limit if name == "starting" else given.limit
            bars.append(bar(place, given.name, name, bearing.load, limit))
    return bars


def _bar(
    units: DisplayUnits,
    place: float,
    name: str,
    case: str,
    force: float | None,
    limit: float | None = None,
) -> Bar:
    """A bar of a force [N]."""
    size, text = si_factor(units.force), "none" if force is None else units.strength(force)
    bar = Bar(place, name, case, None if force is None else force / size, text)
    if limit is None:
        return bar
    return replace(bar, line=limit / size, line_text=f"limit\n{units.strength(limit)}")
