"""Strips of bars over turns: what holds in which stretch of them, written on it or beside it."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.pages.plot_style import BLACK, FONT_SIZE, SOFT, figure_of, text_size

__all__ = ["Stretch", "crossing", "draw_strip", "spans"]

Array = NDArray[np.float64]

_BAR = 0.84
_LINE = 0.148  # inches from one line of the key to the next
_AROUND = 1.1  # of a word: room that it takes on its bar
_HATCH_LEFT = 1.25  # of that: a bar no longer would lose its hatch behind it


def crossing(turns: Array, values: Array, wanted: float) -> float | None:
    """The last turn at which values rise through the wanted one, by linear interpolation."""
    found = None
    for (turn, low), (after, high) in pairwise(zip(turns.tolist(), values.tolist(), strict=True)):
        if low < wanted <= high:
            found = turn + (wanted - low) / (high - low) * (after - turn)
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


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a bar from turn to turn, its word and its hatch."""

    start: float
    end: float
    word: str
    hatch: str
    gid: str


def draw_strip(axes: Axes, bars: Mapping[str, Sequence[Stretch]], kind: str) -> None:
    """One bar for each name, each stretch with its word; words that have no room stand beside."""
    axes.set_ylim(len(bars) - 0.5, -0.5)
    shown: dict[str, str] = {}
    written: set[str] = set()
    for level, stretches in enumerate(bars.values()):
        for one in stretches:
            shown.setdefault(one.word, one.hatch)
            _draw(axes, level, one)
            if _write(axes, level, one, kind):
                written.add(one.word)
    axes.set_yticks(range(len(bars)), list(bars))
    axes.tick_params(axis="both", length=0, labelbottom=False)
    for spine in axes.spines.values():
        spine.set_visible(False)
    _key(axes, {word: hatch for word, hatch in shown.items() if word not in written}, kind)


def _draw(axes: Axes, level: int, one: Stretch) -> None:
    corner, wide = (one.start, level - 0.5 * _BAR), one.end - one.start
    styles: tuple[dict[str, Any], ...] = (
        {"facecolor": "white", "edgecolor": SOFT, "hatch": one.hatch, "lw": 0},
        {"facecolor": "none", "edgecolor": BLACK, "lw": 0.7, "zorder": 5},
    )
    for style in styles:
        axes.add_patch(Rectangle(corner, wide, _BAR, gid=one.gid, **style))


def _write(axes: Axes, level: int, one: Stretch, kind: str) -> bool:
    """Write a word on its bar where it has room."""
    left, right = axes.get_xlim()
    wide = text_size(figure_of(axes), one.word)[0]
    over = _AROUND * wide * (right - left) / float(axes.bbox.width)
    if over * (_HATCH_LEFT if one.hatch else 1.0) > one.end - one.start:
        return False
    middle = 0.5 * (one.start + one.end)
    corner = (middle - 0.5 * over, level - 0.5 * _BAR)
    axes.add_patch(Rectangle(corner, over, _BAR, facecolor="white", linewidth=0, zorder=4))
    axes.text(
        middle, level, one.word, fontsize=FONT_SIZE, ha="center", va="center_baseline", zorder=6,
        gid=f"{kind} word",
    )  # fmt: skip
    return True


def _key(axes: Axes, words: Mapping[str, str], kind: str) -> None:
    """Name beside the strip what had no room on it."""
    dots = figure_of(axes).dpi
    wide, tall = (float(size) / dots for size in (axes.bbox.width, axes.bbox.height))
    for line, (word, hatch) in enumerate(words.items()):
        middle = 1 - (line + 0.5) * _LINE / tall
        axes.add_patch(
            Rectangle(
                (1 + 0.16 / wide, middle - 0.05 / tall), 0.26 / wide, 0.10 / tall,
                transform=axes.transAxes, clip_on=False, facecolor="white", edgecolor=BLACK,
                linewidth=0.6, hatch=hatch,
            )
        )  # fmt: skip
        axes.text(
            1 + 0.48 / wide, middle, word, transform=axes.transAxes, fontsize=FONT_SIZE,
            va="center", gid=f"{kind} key",
        )  # fmt: skip
