"""The loads picture of a mount with an adjuster: curves over turns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.bars import Stretch, crossing, draw_strip, spans
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    LIMIT_STYLE,
    STATE_HATCHES,
    STATE_WORDS,
    EndLabel,
    draw_end_labels,
    figure_of,
    heading,
    last_point,
    lone_mark,
    name_scale,
    new_figure,
    panel,
    tension_lines,
    text_size,
)
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import Case, Row, TensionTable
from mountcalc.units import si_factor

__all__ = ["FAR", "curves_figure"]

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
FAR = 2.2  # a limit this many times the greatest load would flatten every curve
_HEADROOM = 1.06
_SLIP_HATCHES = {"running": "xxx", "starting": "\\\\"}
_SLIP_WORDS = {"running": "slips running", "starting": "slips starting"}


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
    _draw_states(strip, curves)
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


def _draw_tension(axes: Axes, curves: _Curves) -> None:
    names = ("tension_low", "tension", "tension_high")
    low, tension, high = (curves.force(name) for name in names)
    force = si_factor(curves.units.force)
    labels = tension_lines(
        axes, curves.turns, (low * force, tension * force, high * force), curves.units
    )
    labels += _least_lines(axes, curves, tension)
    _draw_slip(axes, curves.turns, curves.rows, curves.scenario.driven.starting_factor)
    draw_end_labels(axes, labels)


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
        line = axes.axhline(least, color=BLACK, linewidth=0.9, linestyle=style, zorder=2)
        line.set_gid(f"least {name}")
        axes.plot([at], [least], "D", color=BLACK, markersize=4, zorder=5)
        value = curves.units.strength(least * si_factor(unit))
        word = "run" if name == "running" else "start"
        labels.append(EndLabel(f"least to {word}: {value} {unit}", axes.get_xlim()[1], least))
    return labels


def _draw_loads(axes: Axes, curves: _Curves) -> None:
    unit = curves.units.force
    names = [bearing.name for bearing in curves.scenario.driven.bearings]
    lines = _limit_lines(curves.scenario)
    drawn = [curves.load(q, name) for q in range(3) for name in _CASES]
    flat = np.concatenate(drawn)
    loads = (flat[np.isfinite(flat)] * si_factor(unit)).tolist()
    axes.set_ylim(0, _top_of_scale(loads, lines, unit))
    labels = []
    for quantity, noun in enumerate(("shaft", *names)):
        for name in _CASES:
            values = curves.load(quantity, name)
            _draw_case(axes, curves.turns, values, quantity, name)
            end = last_point(curves.turns, values)
            if end is not None:
                text = f"{{}}, {name}: {curves.units.strength(end[1] * si_factor(unit))}"
                labels.append(EndLabel(text, *end, _COLOURS[quantity], noun))
    labels += _draw_limits(axes, lines, unit)
    name_scale(axes, f"load on the shaft and\non each bearing [{unit}]")
    draw_end_labels(axes, labels)


def _draw_case(axes: Axes, turns: Array, values: Array, quantity: int, name: str) -> None:
    colour, gid = _COLOURS[quantity], f"load {quantity} {name}"
    if name == "rest":
        style = {**lone_mark(values), "linewidth": 5.0, "color": _TINTS[quantity]}
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


@dataclass(frozen=True, slots=True)
class _LimitLine:
    """A limit at ``load`` [N]: for ``starting``, or for rest and running.

    In its text ``{}`` stands for the bearing's ``name``, empty where both have this limit.
    """

    load: float
    text: str
    starting: bool
    name: str = ""


def _limit_lines(scenario: Scenario) -> list[_LimitLine]:
    """Limits of both bearings at rest and running, and at the start; those that agree as one."""
    units = UNITS[scenario.display]
    lines = []
    for starting in (False, True):
        word = "start limit" if starting else "limit"
        loads = [
            bearing.starting_limit if starting else bearing.limit
            for bearing in scenario.driven.bearings
        ]
        texts = [units.strength(load) for load in loads]
        if texts[0] == texts[1]:
            lines.append(_LimitLine(loads[0], f"{word}, both: {texts[0]} {units.force}", starting))
            continue
        for bearing, load, text in zip(scenario.driven.bearings, loads, texts, strict=True):
            lines.append(_LimitLine(load, f"{word}, {{}}: {text}", starting, bearing.name))
    return lines


def _top_of_scale(loads: list[float], lines: list[_LimitLine], unit: str) -> float:
    """Upper end of a load scale [unit] that holds all loads and the limits that are near."""
    most = max(loads, default=0.0)
    near = [line.load for line in lines if line.load <= FAR * most]
    nearest = min((line.load for line in lines), default=0.0)
    top = max([most, *near]) or nearest or si_factor(unit)
    return _HEADROOM * top / si_factor(unit)


def _draw_limits(axes: Axes, lines: list[_LimitLine], unit: str) -> list[EndLabel]:
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


def _draw_states(axes: Axes, curves: _Curves) -> None:
    """A strip with one bar a load case: what the plate rests on."""
    bars = {}
    for name in _CASES:
        keys = [case.state for case in curves.cases(name)]
        stretches = []
        for start, end, key in spans(curves.turns, keys):
            state = State(str(key))
            word, hatch = STATE_WORDS[state], STATE_HATCHES[state]
            stretches.append(Stretch(start, end, word, hatch, f"state {state}"))
        bars[name] = stretches
    draw_strip(axes, bars, "state")


def _draw_slip(axes: Axes, turns: Array, rows: Sequence[Row], starting_factor: float) -> None:
    """Hatch where the belt slips, and write it there or beside it."""
    keys = [
        "running" if row.running.slips else "starting" if row.starting.slips else "" for row in rows
    ]
    edges = [
        crossing(turns, np.array([case.grip for case in cases], dtype=float), wanted)
        for cases, wanted in (
            ([row.running for row in rows], 1.0),
            ([row.starting for row in rows], starting_factor),
        )
    ]
    top = axes.get_ylim()[1]
    free = float(turns[0])
    for start, end, key in spans(turns, keys, edges):
        if key in _SLIP_HATCHES:
            axes.add_patch(
                Rectangle(
                    (start, 0), end - start, top, facecolor="none", edgecolor="0.72", linewidth=0,
                    hatch=_SLIP_HATCHES[str(key)], zorder=0.5, gid=f"slip {key}",
                )
            )  # fmt: skip
            free = _name_slip(axes, start, end, _SLIP_WORDS[str(key)], free)


def _name_slip(axes: Axes, start: float, end: float, word: str, free_from: float) -> float:
    """Name a stretch: inside it, upright where it is narrow, else beside it.

    No word stands left of ``free_from``; what is free after it is returned.
    """
    wide, tall = text_size(figure_of(axes), word)
    left, right = axes.get_xlim()
    turn = (right - left) / float(axes.bbox.width)  # of a pixel
    start = max(start, free_from)
    level = end - start > 1.15 * wide * turn
    size = (1.1 * wide, 1.3 * tall) if level else (1.3 * tall, 1.1 * wide)
    over = size[0] * turn
    if level or end - start > 1.15 * over:
        stretch = (start, end)
    else:
        beside = max(end, free_from)
        beside = beside if beside + over < right else max(start - over, left)
        stretch = (beside, beside)
    at, height = _clear_place(axes, stretch, size)
    axes.annotate(
        word, (at, height), (3, 0), textcoords="offset points", fontsize=FONT_SIZE,
        va="center", ha="left", rotation=0 if level else 90, zorder=6, gid="slip word",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0},
    )  # fmt: skip
    return at + 1.1 * over


def _clear_place(
    axes: Axes, stretch: tuple[float, float], size: tuple[float, float]
) -> tuple[float, float]:
    """Left end and middle height at which a word of a size [pixels] stands clear of all curves.

    The first from the left, and there the highest, of those that are clear enough.
    """
    left, right = axes.get_xlim()
    over = size[0] * (right - left) / float(axes.bbox.width)
    starts = np.linspace(stretch[0], max(stretch[1] - 1.1 * over, stretch[0]), 7)
    found = [(start, *_clear_height(axes, start, start + over, size[1])) for start in starts]
    start, height, _ = max(found, key=lambda place: place[2])
    return float(start), height


def _clear_height(axes: Axes, start: float, end: float, tall: float) -> tuple[float, float]:
    """The height at which a word so tall [pixels] is furthest from all curves, and how far."""
    top = axes.get_ylim()[1]
    half = 0.5 * tall * top / float(axes.bbox.height)
    heights = np.linspace(top - 1.15 * half, 1.15 * half, 25)[:, np.newaxis]
    between = np.linspace(start, end, 9)
    gaps = np.full(heights.shape[0], 1.3 * half)  # further away is no better
    for line in axes.lines:
        x, y = (np.asarray(data, dtype=float) for data in line.get_data())
        known = np.isfinite(y)
        if known.any():
            curve = np.interp(between, x[known], y[known])
            passes = (heights > curve).any(axis=1) & (heights < curve).any(axis=1)
            gaps = np.minimum(gaps, np.where(passes, 0.0, np.abs(heights - curve).min(axis=1)))
    best = int(np.argmax(gaps))
    return float(heights[best, 0]), float(gaps[best])
