"""Ranges of turns: where the belt slips, and what the plate rests on."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State
from mountcalc.pages.plot_style import FONT_SIZE, INK, SOFT, STATE_HATCHES, STATE_WORDS, text_size
from mountcalc.table.results import Case, Row

__all__ = ["crossing", "draw_slip", "draw_states", "spans"]

Array = NDArray[np.float64]

_SLIP_HATCHES = {"running": "xxx", "starting": "\\\\"}
_SLIP_WORDS = {"running": "slips running", "starting": "slips starting"}
_BAR = 0.84
_LINE = 0.148  # inches from one line of the key to the next


def crossing(turns: Array, values: Array, wanted: float) -> float | None:
    """The last turn at which values rise through the wanted one, by linear interpolation."""
    found = None
    for index in range(turns.size - 1):
        low, high = float(values[index]), float(values[index + 1])
        if low < wanted <= high:
            share = (wanted - low) / (high - low)
            found = float(turns[index] + share * (turns[index + 1] - turns[index]))
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


def draw_slip(axes: Axes, turns: Array, rows: Sequence[Row], starting_factor: float) -> None:
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
    wide, tall = text_size(_figure(axes), word)
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


def _figure(axes: Axes) -> Figure:
    figure = axes.get_figure(root=True)
    assert figure is not None
    return figure


def _pixels(axes: Axes, turns: float) -> float:
    left, right = axes.get_xlim()
    return turns / (right - left) * float(axes.bbox.width)


def draw_states(axes: Axes, turns: Array, cases: Mapping[str, Sequence[Case]]) -> None:
    """A strip with one bar a load case: what the plate rests on."""
    named: set[State] = set()
    shown: list[State] = []
    for level, each in enumerate(cases.values()):
        for start, end, key in spans(turns, [case.state for case in each]):
            state = State(str(key))
            shown += [state] if state not in shown else []
            corner = (start, level - 0.5 * _BAR)
            styles: tuple[dict[str, Any], ...] = (
                {"facecolor": "white", "edgecolor": SOFT, "hatch": STATE_HATCHES[state], "lw": 0},
                {"facecolor": "none", "edgecolor": INK, "lw": 0.7, "zorder": 5},
            )
            for style in styles:
                patch = Rectangle(corner, end - start, _BAR, gid=f"state {state}", **style)
                axes.add_patch(patch)
            if _name_state(axes, 0.5 * (start + end), level, _pixels(axes, end - start), state):
                named.add(state)
    axes.set_ylim(len(cases) - 0.5, -0.5)
    axes.set_yticks(range(len(cases)), list(cases))
    axes.tick_params(axis="y", length=0)
    axes.tick_params(axis="x", length=0)
    for spine in axes.spines.values():
        spine.set_visible(False)
    _key(axes, [state for state in shown if state not in named])


def _name_state(axes: Axes, middle: float, level: int, room: float, state: State) -> bool:
    """Write the state on its bar where it has room."""
    word = STATE_WORDS[state]
    wide = 1.1 * text_size(_figure(axes), word)[0]
    if wide > room:
        return False
    left, right = axes.get_xlim()
    over = wide * (right - left) / float(axes.bbox.width)
    corner = (middle - 0.5 * over, level - 0.5 * _BAR)
    axes.add_patch(Rectangle(corner, over, _BAR, facecolor="white", linewidth=0, zorder=4))
    axes.text(
        middle, level, word, fontsize=FONT_SIZE, ha="center", va="center_baseline", zorder=6,
        gid="state word",
    )  # fmt: skip
    return True


def _key(axes: Axes, states: Sequence[State]) -> None:
    """Name beside the strip what had no room on it."""
    wide, tall = (float(size) / _figure(axes).dpi for size in (axes.bbox.width, axes.bbox.height))
    for line, state in enumerate(states):
        middle = 1 - (line + 0.5) * _LINE / tall
        axes.add_patch(
            Rectangle(
                (1 + 0.16 / wide, middle - 0.05 / tall), 0.26 / wide, 0.10 / tall,
                transform=axes.transAxes, clip_on=False, facecolor="white", edgecolor=INK,
                linewidth=0.6, hatch=STATE_HATCHES[state],
            )
        )  # fmt: skip
        axes.text(
            1 + 0.48 / wide, middle, STATE_WORDS[state], transform=axes.transAxes,
            fontsize=FONT_SIZE, va="center", gid="state key",
        )  # fmt: skip
