"""Curves over the turns of the adjuster: panels, levels, strips of states, labels at the ends."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import DisplayUnits
from mountcalc.pages.plot_style import (
    BELT,
    BLACK,
    FONT_SIZE,
    LIMIT,
    LIMIT_STYLE,
    PALE,
    SOFT,
    STATE_WORDS,
    figure_of,
    fitted_name,
    heading,
    new_figure,
    panel,
    spread,
    text_size,
)
from mountcalc.units import si_factor

Array = NDArray[np.float64]

# Inches: margins, between two panels, from the axes to the labels, free at the figure's edge.
_WIDTH, _LEFT, _RIGHT, _BOTTOM, _GAP = 8.0, 0.88, 2.25, 0.46, 0.15
_MARGIN, _EDGE = 0.16, 0.06
_LINE = 0.148  # inches from one end label, or line of a key, to the next
_MARKS = 9  # on a curve
_TALL = 0.84  # of a level, a strip's bar
_AROUND = 1.1  # of a word: room that it takes on its bar
_HATCH_LEFT = 1.25  # of that: a bar no longer would lose its hatch behind it
_DASHES = (0, (3, 2))

STATE_LOOKS: Mapping[str, tuple[str, str]] = {
    state: (STATE_WORDS[state], hatch)
    for state, hatch in zip(State, ("", "////", "xxxx", "....", "----"), strict=True)
}
"""What the plate rests on: its word and its hatch."""


def turns_panels(
    height: float,
    title: str,
    lines: tuple[str, ...],
    turns: Array,
    tall: Sequence[float | None],
    above: float = 0.06,
) -> tuple[Figure, list[Axes]]:
    """A figure of panels, so tall [inches], one below another; those of None share what is left."""
    figure = new_figure(_WIDTH, height)
    top = heading(figure, title, lines) + above
    left = height - top - _BOTTOM - (len(tall) - 1) * _GAP - sum(one or 0.0 for one in tall)
    panels = []
    for one in tall:
        inches = left / tall.count(None) if one is None else one
        axes = panel(figure, _LEFT, _RIGHT, top, inches)
        axes.set_xlim(float(turns[0]), float(turns[-1]))
        axes.tick_params(labelbottom=False)
        panels.append(axes)
        top += inches + _GAP
    panels[-1].tick_params(labelbottom=True)
    panels[-1].set_xlabel("turns of the adjuster from zero, positive tightens", fontsize=FONT_SIZE)
    return figure, panels


def name_scale(axes: Axes, text: str, top: float) -> None:
    """A scale from 0 and its name; those of all panels stand at the same distance."""
    axes.set_ylim(0, top)
    axes.set_ylabel(text, fontsize=FONT_SIZE)
    width = axes.get_position().width * float(figure_of(axes).get_size_inches()[0])
    axes.yaxis.set_label_coords(-0.49 / width, 0.5)


class CurveLook(NamedTuple):
    """Of a thin curve with a few marks; the ``second`` of two has open ones elsewhere."""

    colour: str = BLACK
    marker: str = "o"
    second: bool = False
    dashed: bool = False


def draw_curve(axes: Axes, turns: Array, values: Array, gid: str, look: CurveLook) -> None:
    """Draw values over turns."""
    step = max(1, turns.size // _MARKS)
    axes.plot(
        turns, values, gid=gid, zorder=5 if look.second else 4, color=look.colour, linewidth=1.2,
        linestyle=_DASHES if look.dashed else "-", marker=look.marker, markersize=4.2,
        markeredgewidth=0.8, markerfacecolor="white" if look.second else look.colour,
        markevery=(3 * step // 4 if look.second else step // 4, step),
    )  # fmt: skip


class LevelLook(NamedTuple):
    """A line across a panel; as it is a limit's."""

    colour: str = LIMIT
    style: Any = LIMIT_STYLE
    width: float = 1.7


AT_LIMIT = LevelLook()
NEEDS: Mapping[str, Any] = {"running": (0, (6, 2)), "starting": (0, (2, 1.5))}
"""Dashes of what a load case needs."""


def draw_level(
    axes: Axes, height: float, text: str, gid: str, look: LevelLook = AT_LIMIT, name: str = ""
) -> EndLabel:
    """Draw a line across the panel; above the scale there is only its label, with an arrow."""
    right, top = axes.get_xlim()[1], axes.get_ylim()[1]
    if height > top:
        return EndLabel(f"↑ {text}", right, top, look.colour, name)
    axes.axhline(
        height, color=look.colour, gid=gid, zorder=3, linewidth=look.width, linestyle=look.style
    )
    return EndLabel(text, right, height, look.colour, name)


def draw_mark(axes: Axes, turns: float, value: float, gid: str) -> None:
    """A point of a curve that is told of."""
    axes.plot([turns], [value], "D", color=BLACK, markersize=5, zorder=5, gid=gid)


def tension_lines(
    axes: Axes, turns: Array, columns: Mapping[str, Array], units: DisplayUnits
) -> list[EndLabel]:
    """The tension at rest [N] of the softest, the middling and the stiffest belt as a band."""
    low, middling, high = (
        columns[name] / si_factor(units.force)
        for name in ("tension_low", "tension", "tension_high")
    )
    known = np.concatenate([middling, high])
    top = 1.08 * float(np.max(known[np.isfinite(known)], initial=0.0)) or 1.0
    name_scale(axes, f"tension at rest,\none strand [{units.force}]", top)
    axes.fill_between(
        turns, low, high, facecolor=PALE, alpha=0.45, linewidth=0, gid="band", zorder=1
    )
    labels = []
    for values, style, text in (
        (high, ":", "stiffest belt"),
        (middling, "-", "middling belt"),
        (low, ":", "softest belt"),
    ):
        strong = style == "-"
        axes.plot(
            turns, values, linestyle=style, color=BELT, linewidth=1.8 if strong else 0.9,
            gid="tension" if strong else text, zorder=3, **lone_mark(values),
        )  # fmt: skip
        digits = 3 if strong else 2

        def said(value: float, text: str = text, digits: int = digits) -> str:
            shown = units.strength(value * si_factor(units.force), digits)
            return f"{text}: {shown} {units.force}"

        labels += end_label(axes, turns, values, said, BELT)
    return labels


def lone_mark(values: Array) -> dict[str, Any]:
    """A mark for what would else be a line of one point."""
    return {"marker": "o", "markersize": 3} if np.count_nonzero(np.isfinite(values)) == 1 else {}


@dataclass(frozen=True, slots=True)
class EndLabel:
    """A text for the line that ends at (x, y) [axes data].

    A user's ``name`` stands where the text has ``{}``, cut to the room that there is.
    """

    text: str
    x: float
    y: float
    colour: str = BLACK
    name: str = ""


def end_label(
    axes: Axes,
    turns: Array,
    values: Array,
    text: Callable[[float], str],
    colour: str = BLACK,
    name: str = "",
) -> list[EndLabel]:
    """The label of a curve's last point that is there, of its value; none where none is."""
    known = np.flatnonzero(np.isfinite(values))
    if not known.size:
        return []
    x, y, top = float(turns[known[-1]]), float(values[known[-1]]), axes.get_ylim()[1]
    return [EndLabel(f"{'↑ ' if y > top else ''}{text(y)}", x, min(y, top), colour, name)]


def draw_end_labels(axes: Axes, labels: Sequence[EndLabel]) -> None:
    """Write labels right of the axes, each joined to its line by a thin leader."""
    figure = figure_of(axes)
    box = axes.get_position()
    width, height = (float(size) for size in figure.get_size_inches())
    tall, wide = box.height * height, box.width * width
    low, high = axes.get_ylim()
    wanted = [tall * (label.y - low) / (high - low) for label in labels]
    left, right = axes.get_xlim()
    room = figure.dpi * ((1 - box.x1) * width - _MARGIN - _EDGE)
    for label, at in zip(labels, spread(wanted, _LINE, 0.02, tall), strict=True):
        end = 1 + (_MARGIN - 0.03) / wide
        start = (label.x - left) / (right - left)
        own = (label.y - low) / (high - low)
        axes.plot(
            [start, max(start, 1 + 0.03 / wide), end], [own, own, at / tall],
            transform=axes.transAxes, color=SOFT, linewidth=0.5, clip_on=False, gid="leader",
        )  # fmt: skip
        free = room - text_size(figure, label.text.replace("{}", ""))[0]
        axes.text(
            1 + _MARGIN / wide, at / tall,
            label.text.replace("{}", fitted_name(figure, label.name, free), 1),
            transform=axes.transAxes, color=label.colour, fontsize=FONT_SIZE, va="center",
            ha="left", parse_math=False, gid="end label",
        )  # fmt: skip


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


class Level(NamedTuple):
    """A bar of a strip: a key at each turn, the words and hatches of keys, and where they change.

    A key without a look has no bar.
    """

    keys: Sequence[str]
    looks: Mapping[str, tuple[str, str]] = STATE_LOOKS
    edges: Sequence[float | None] = ()


def draw_strip(axes: Axes, turns: Array, levels: Mapping[str, Level], kind: str) -> None:
    """Bars by their names, each stretch with its word; words that have no room stand beside."""
    axes.set_ylim(len(levels) - 0.5, -0.5)
    axes.set_yticks(range(len(levels)), list(levels))
    axes.tick_params(axis="both", length=0, labelbottom=False)
    for spine in axes.spines.values():
        spine.set_visible(False)
    shown: dict[str, str] = {}
    written: set[str] = set()
    for number, level in enumerate(levels.values()):
        for start, end, key in spans(turns, level.keys, level.edges):
            if key not in level.looks:
                continue
            word, hatch = level.looks[str(key)]
            shown.setdefault(word, hatch)
            styles: tuple[dict[str, Any], ...] = (
                {"facecolor": "white", "edgecolor": SOFT, "hatch": hatch, "lw": 0},
                {"facecolor": "none", "edgecolor": BLACK, "lw": 0.7, "zorder": 5},
            )
            for style in styles:
                corner = (start, number - 0.5 * _TALL)
                gid = f"{kind} {number} {key}"
                axes.add_patch(Rectangle(corner, end - start, _TALL, gid=gid, **style))
            if _write(axes, number, (start, end), word, _HATCH_LEFT if hatch else 1.0, kind):
                written.add(word)
    _key(axes, {word: hatch for word, hatch in shown.items() if word not in written}, kind)


def _write(
    axes: Axes, number: int, ends: tuple[float, float], word: str, around: float, kind: str
) -> bool:
    """Write a word on its bar where it has so many times its room."""
    left, right = axes.get_xlim()
    wide = text_size(figure_of(axes), word)[0]
    over = _AROUND * wide * (right - left) / float(axes.bbox.width)
    if over * around > ends[1] - ends[0]:
        return False
    middle = 0.5 * sum(ends)
    corner = (middle - 0.5 * over, number - 0.5 * _TALL)
    axes.add_patch(Rectangle(corner, over, _TALL, facecolor="white", linewidth=0, zorder=4))
    axes.text(
        middle, number, word, fontsize=FONT_SIZE, ha="center", va="center_baseline", zorder=6,
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
