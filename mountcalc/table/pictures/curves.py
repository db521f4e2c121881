"""The loads picture of a mount with an adjuster: curves over turns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from mountcalc.equilibrium.states import ZeroKind
from mountcalc.pages.display import UNITS, DisplayUnits
from mountcalc.pages.end_labels import EndLabel, draw_end_labels
from mountcalc.pages.plot_style import (
    BELT,
    FONT_SIZE,
    INK,
    LIMIT,
    LIMIT_STYLE,
    PALE,
    heading,
    new_figure,
    panel,
)
from mountcalc.scenario.model import Scenario
from mountcalc.table.pictures.limits import LimitLine, limit_lines, top_of_scale
from mountcalc.table.pictures.turn_ranges import crossing, draw_slip, draw_states
from mountcalc.table.results import Case, Row, TensionTable
from mountcalc.units import si_factor

__all__ = ["curves_figure"]

Array = NDArray[np.float64]

_WIDTH, _HEIGHT = 8.0, 6.4
_LEFT, _RIGHT, _BOTTOM = 0.88, 2.25, 0.46
# Inches of each panel from the top, and the gaps between them.
_TENSION, _STRIP, _GAP = 1.70, 0.56, 0.14
_MARKS = 9

_CASES = ("rest", "running", "starting")
_COLOURS = ("#14406b", "#7a2f00", "#1f5c2e")
_TINTS = ("#a9c3dd", "#e6c3a8", "#b5d6bd")
_MARKERS = ("o", "^", "s")


@dataclass(frozen=True)
class _Curves:
    """One table as arrays in display units; NaN (which matplotlib leaves blank) for None."""

    scenario: Scenario
    rows: list[Row]
    turns: Array

    @classmethod
    def of(cls, scenario: Scenario, table: TensionTable) -> _Curves:
        """The rows of a table in the order of their turns."""
        rows = [row for row in table.rows if row.turns is not None]
        rows.sort(key=lambda row: row.turns or 0.0)
        return cls(scenario, rows, np.array([row.turns for row in rows], dtype=float))

    @property
    def units(self) -> DisplayUnits:
        return UNITS[self.scenario.display]

    def force(self, name: str) -> Array:
        """A force of the rows."""
        return self._array([getattr(row, name) for row in self.rows])

    def cases(self, name: str) -> list[Case]:
        """One load case of all rows."""
        return [row.cases[name] for row in self.rows]

    def load(self, quantity: int, name: str) -> Array:
        """Load of the shaft (0) or of a bearing (1, 2) in a case."""
        cases = self.cases(name)
        if quantity == 0:
            return self._array([case.shaft_load for case in cases])
        return self._array([case.bearings[quantity - 1].load for case in cases])

    def _array(self, values: list[float | None]) -> Array:
        return np.array(values, dtype=float) / si_factor(self.units.force)


def curves_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Curves over turns."""
    curves = _Curves.of(scenario, table)
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, table.title, _lines(table)) + 0.06
    start = top + _TENSION + _STRIP + 2 * _GAP
    tension, strip, loads = (
        panel(figure, _LEFT, _RIGHT, below, height)
        for below, height in (
            (top, _TENSION),
            (top + _TENSION + _GAP, _STRIP),
            (start, _HEIGHT - _BOTTOM - start),
        )
    )
    for axes in (tension, strip, loads):
        axes.set_xlim(float(curves.turns[0]), float(curves.turns[-1]))
    for axes in (tension, strip):
        axes.tick_params(labelbottom=False)
    draw_states(strip, curves.turns, {name: curves.cases(name) for name in _CASES})
    _draw_loads(loads, curves)
    _draw_tension(tension, curves)
    loads.set_xlabel("turns of the adjuster from zero, positive tightens", fontsize=FONT_SIZE)
    return figure


def _lines(table: TensionTable) -> tuple[str, str]:
    found = {
        ZeroKind.SNUG: "where the belt is just taut by hand",
        ZeroKind.CONTACT: "where the adjuster just touches",
    }[table.zero.kind]
    return (
        f"Tension and loads against turns. Zero is {found}.",
        "Wide pale lines: at rest. Thin, filled marks: running. Dashed, open marks: starting.",
    )


def _name_scale(axes: Axes, text: str) -> None:
    """All scales are named at the same distance from their axes."""
    axes.set_ylabel(text, fontsize=FONT_SIZE)
    width = axes.get_position().width * _WIDTH
    axes.yaxis.set_label_coords(-0.49 / width, 0.5)


def _last(x: Array, y: Array) -> tuple[float, float] | None:
    """The last point of a curve that is there."""
    known = np.flatnonzero(np.isfinite(y))
    return (float(x[known[-1]]), float(y[known[-1]])) if known.size else None


def _draw_tension(axes: Axes, curves: _Curves) -> None:
    unit = curves.units.force
    tension, low, high = (curves.force(name) for name in ("tension", "tension_low", "tension_high"))
    axes.fill_between(
        curves.turns, low, high, facecolor=PALE, alpha=0.45, linewidth=0, gid="band", zorder=1
    )
    labels = []
    for values, style, text in (
        (high, ":", "stiffest belt"),
        (tension, "-", "as reckoned"),
        (low, ":", "softest belt"),
    ):
        strong = style == "-"
        axes.plot(
            curves.turns, values, linestyle=style, color=BELT, linewidth=1.8 if strong else 0.9,
            gid="tension" if strong else text, zorder=3, **_lone_mark(values),
        )  # fmt: skip
        end = _last(curves.turns, values)
        if end is not None:
            value = curves.units.strength(end[1] * si_factor(unit), 3 if strong else 2)
            labels.append(EndLabel(f"{text}: {value} {unit}", *end, colour=BELT))
    axes.set_ylim(0, _top(tension, high))
    labels += _least_lines(axes, curves, tension)
    _name_scale(axes, f"tension at rest,\none strand [{unit}]")
    draw_slip(axes, curves.turns, curves.rows, curves.scenario.driven.starting_factor)
    draw_end_labels(axes, labels)


def _top(*arrays: Array) -> float:
    """Upper end of a scale that shows arrays, above 0."""
    values = np.concatenate(arrays)
    most = float(np.max(values[np.isfinite(values)], initial=0.0))
    return 1.08 * most if most > 0 else 1.0


def _least_lines(axes: Axes, curves: _Curves, tension: Array) -> list[EndLabel]:
    """Lines at the tension from which on the belt carries the pull, where it is in the range."""
    labels = []
    unit = curves.units.force
    for name, wanted, style in (
        ("running", 1.0, (0, (6, 2))),
        ("starting", curves.scenario.driven.starting_factor, (0, (2, 1.5))),
    ):
        grip = np.array([case.grip for case in curves.cases(name)], dtype=float)
        at = crossing(curves.turns, grip, wanted)
        if at is None:
            continue
        least = float(np.interp(at, curves.turns, tension))
        line = axes.axhline(least, color=INK, linewidth=0.9, linestyle=style, zorder=2)
        line.set_gid(f"least {name}")
        axes.plot([at], [least], "D", color=INK, markersize=4, zorder=5)
        value = curves.units.strength(least * si_factor(unit))
        word = "run" if name == "running" else "start"
        labels.append(EndLabel(f"least to {word}: {value} {unit}", axes.get_xlim()[1], least))
    return labels


def _lone_mark(values: Array) -> dict[str, Any]:
    """A mark for what would else be a line of one point."""
    return {"marker": "o", "markersize": 3} if np.count_nonzero(np.isfinite(values)) == 1 else {}


def _draw_loads(axes: Axes, curves: _Curves) -> None:
    unit = curves.units.force
    names = [bearing.name for bearing in curves.scenario.driven.bearings]
    lines = limit_lines(curves.scenario)
    drawn = [curves.load(q, name) for q in range(3) for name in _CASES]
    flat = np.concatenate(drawn)
    loads = (flat[np.isfinite(flat)] * si_factor(unit)).tolist()
    axes.set_ylim(0, top_of_scale(loads, lines, unit))
    labels = []
    for quantity, noun in enumerate(("shaft", *names)):
        for name in _CASES:
            values = curves.load(quantity, name)
            _draw_case(axes, curves.turns, values, quantity, name)
            end = _last(curves.turns, values)
            if end is not None:
                text = f"{{}}, {name}: {curves.units.strength(end[1] * si_factor(unit))}"
                labels.append(EndLabel(text, *end, _COLOURS[quantity], noun))
    labels += _draw_limits(axes, lines, unit)
    _name_scale(axes, f"load on the shaft and\non each bearing [{unit}]")
    draw_end_labels(axes, labels)


def _draw_case(axes: Axes, turns: Array, values: Array, quantity: int, name: str) -> None:
    colour, gid = _COLOURS[quantity], f"load {quantity} {name}"
    if name == "rest":
        style = {**_lone_mark(values), "linewidth": 5.0, "color": _TINTS[quantity]}
        axes.plot(turns, values, solid_capstyle="butt", gid=gid, zorder=2, **style)
        return
    step = max(1, turns.size // _MARKS)
    running = name == "running"
    axes.plot(
        turns, values, gid=gid, zorder=4 if running else 5, color=colour,
        linestyle="-" if running else (0, (3, 2)), linewidth=1.1, marker=_MARKERS[quantity],
        markersize=4.2, markerfacecolor=colour if running else "white", markeredgewidth=0.8,
        markevery=(step // 4 if running else (3 * step) // 4, step),
    )  # fmt: skip


def _draw_limits(axes: Axes, lines: list[LimitLine], unit: str) -> list[EndLabel]:
    """Limits inside the scale as lines; the others are only named, at its top."""
    labels = []
    left, right = axes.get_xlim()
    top = axes.get_ylim()[1]
    for line in lines:
        load = line.load / si_factor(unit)
        if load <= top:
            axes.plot(
                [left, right], [load, load], color=LIMIT, gid="limit", zorder=3,
                linewidth=1.0 if line.starting else 1.7, linestyle=LIMIT_STYLE,
            )  # fmt: skip
            labels.append(EndLabel(line.text, right, load, LIMIT, line.name))
        else:
            labels.append(EndLabel(f"↑ {line.text}", right, top, LIMIT, line.name))
    return labels
