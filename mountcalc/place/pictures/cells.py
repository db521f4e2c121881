"""The hinge's ground cut into cells, coloured by how fine it is or hatched by what fails."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.cm import ScalarMappable
from matplotlib.collections import PolyCollection
from matplotlib.colors import Colormap, ListedColormap, LogNorm, Normalize
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.layout import Pen
from mountcalc.pages.amounts import UNITS
from mountcalc.pages.plot_style import FONT_SIZE, fitted_name, plain
from mountcalc.place.feasible.reasons import Reason, reason_name
from mountcalc.place.results import PlacedLayout, Placement
from mountcalc.place.search.search import Sampled
from mountcalc.scenario.model import Display, Vector
from mountcalc.scenario.search import SearchSpace
from mountcalc.units import si_factor

__all__ = ["HATCHES", "Cells", "Legend", "cells_of", "draw_cells", "draw_colours", "legend_of"]

Array = NDArray[np.float64]

# Those that are told apart most easily come first; more reasons than these share the last one.
HATCHES = (
    *("////", "\\\\\\\\", "....", "xxxx", "----", "||||", "ooo", "++++"),
    *("///...", "\\\\\\...", "---...", "|||...", "xxx...", "**", "OO"),
    *("///ooo", "\\\\\\ooo", "---ooo", "|||ooo", "///---", "\\\\\\---"),
    *("///|||", "\\\\\\|||", "xx"),
)
HATCH_COLOUR = "0.45"

# Layouts that a cell should hold so that what is most frequent there means something.
_IN_CELL = 16
_MOST_CELLS = 40  # along the longer side: smaller ones would not show their hatch
_LEAST_SIDE = 0.02  # of the longer side, where a range has no width
_LEAST_GROUND = 0.1  # [m] taken for the longer side where neither range has a width
_WIDE = 4.0  # ratio of the coarsest to the finest from which colours are logarithmic
_TICKS = 6


@dataclass(frozen=True, slots=True)
class Cells:
    """The ground: edges of its cells [m], and one entry for each [row, column].

    ``finest`` [N] is the least tension per turn, NaN where no layout will do; ``reason`` is the
    code that is most frequent there, 0 where one will do, -1 where none was tried.
    """

    x: Array
    y: Array
    finest: Array
    reason: NDArray[np.intp]


def cells_of(space: SearchSpace, sampled: Sampled, placed: Sequence[PlacedLayout] = ()) -> Cells:
    """Cut the ground into about square cells, and tell what the sample says of each."""
    (x0, x1), (y0, y1) = (_widened(pair, space) for pair in (space.hinge_x, space.hinge_y))
    wide, tall = x1 - x0, y1 - y0
    wanted = max(len(sampled.hinge_x) / _IN_CELL, 1.0)
    side = max(np.sqrt(wide * tall / wanted), max(wide, tall) / _MOST_CELLS)
    columns, rows = (max(1, round(length / side)) for length in (wide, tall))
    x, y = np.linspace(x0, x1, columns + 1), np.linspace(y0, y1, rows + 1)
    column, row = _index(x, sampled.hinge_x), _index(y, sampled.hinge_y)
    finest, reason = _of_sample(row * columns + column, rows * columns, sampled)
    hinges = np.array([layout.hinge for layout in placed]).reshape(-1, 2)
    at = _index(y, hinges[:, 1]) * columns + _index(x, hinges[:, 0])
    np.fmin.at(finest, at, [layout.tension_per_turn for layout in placed])
    reason[at] = Reason.FEASIBLE
    return Cells(x, y, finest.reshape(rows, columns), reason.reshape(rows, columns))


def _index(edges: Array, places: Array) -> NDArray[np.intp]:
    """Between which edges places lie."""
    return np.clip(np.searchsorted(edges, places, "right") - 1, 0, len(edges) - 2)


def _of_sample(
    cell: NDArray[np.intp], count: int, sampled: Sampled
) -> tuple[Array, NDArray[np.intp]]:
    """Least tension per turn and most frequent reason of each cell."""
    codes = np.asarray(sampled.reason, dtype=np.intp)
    finest = np.full(count, np.inf)
    good = codes == Reason.FEASIBLE
    np.minimum.at(finest, cell[good], np.asarray(sampled.tension_per_turn)[good])
    counts = np.zeros((count, int(codes.max(initial=0)) + 1), dtype=np.intp)
    np.add.at(counts, (cell, codes), 1)
    some = np.isfinite(finest)
    reason = np.where(counts.sum(axis=1) == 0, -1, counts.argmax(axis=1))
    return np.where(some, finest, np.nan), np.where(some, int(Reason.FEASIBLE), reason)


def _widened(pair: Vector, space: SearchSpace) -> Vector:
    """A range, or a narrow strip where it has no width."""
    spans = (space.hinge_x[1] - space.hinge_x[0], space.hinge_y[1] - space.hinge_y[0])
    least = _LEAST_SIDE * max(*spans, _LEAST_GROUND)
    more = max(0.0, 0.5 * (least - (pair[1] - pair[0])))
    return pair[0] - more, pair[1] + more


def draw_cells(pen: Pen, cells: Cells, hatched: Sequence[int]) -> ScalarMappable | None:
    """Colour and hatch the ground."""
    x, y = cells.x / pen.unit, cells.y / pen.unit
    for index, hatch in enumerate(HATCHES):
        boxes = [
            [(x[c], y[r]), (x[c + 1], y[r]), (x[c + 1], y[r + 1]), (x[c], y[r + 1])]
            for r, c in np.argwhere(_with_hatch(cells, hatched, index))
        ]
        if boxes:
            pen.axes.add_collection(
                PolyCollection(
                    boxes, facecolor="white", edgecolor=HATCH_COLOUR, hatch=hatch, linewidth=0,
                    zorder=1, gid=f"hatch {index}",
                ),
                autolim=False,
            )  # fmt: skip
    if not np.isfinite(cells.finest).any():
        return None
    low, high = float(np.nanmin(cells.finest)), float(np.nanmax(cells.finest))
    style: Any = LogNorm if low > 0 and high / low > _WIDE else Normalize
    colours = style(low, max(high, low * (1 + 1e-6) + 1e-9))
    return pen.axes.pcolormesh(
        x, y, np.ma.masked_invalid(cells.finest), cmap=_colour_map(), norm=colours, zorder=1.2,
        gid="tension per turn",
    )  # fmt: skip


def _with_hatch(cells: Cells, hatched: Sequence[int], index: int) -> NDArray[np.bool_]:
    """Cells that have a hatch."""
    if index < len(hatched):
        return np.asarray(cells.reason == hatched[index])
    if index == len(HATCHES) - 1:
        return np.isin(cells.reason, [*hatched, int(Reason.FEASIBLE), -1], invert=True)
    return np.zeros(cells.reason.shape, dtype=bool)


def _colour_map() -> Colormap:
    """Even to the eye and in grey: dark is fine; the palest is still darker than paper."""
    return ListedColormap(colormaps["viridis"](np.linspace(0.05, 0.93, 256)))


def draw_colours(
    figure: Figure, pen: Pen, colours: ScalarMappable | None, display: Display
) -> None:
    """Tell right of the map what its colours mean."""
    if colours is None:
        return
    units, box = UNITS[display], pen.axes.get_position()
    inch = 1 / figure.get_size_inches()[0]
    place = (box.x1 + 0.18 * inch, box.y0, 0.18 * inch, box.height)
    bar = figure.colorbar(colours, cax=figure.add_axes(place, label="colours"))
    low, high = colours.norm.vmin or 0.0, colours.norm.vmax or 1.0
    spaced = np.geomspace if isinstance(colours.norm, LogNorm) else np.linspace
    ticks = spaced(low, high, _TICKS)
    force = si_factor(units.force)
    bar.set_ticks(ticks.tolist(), labels=[f"{tick / force:.3g}" for tick in ticks])
    bar.ax.minorticks_off()
    bar.ax.tick_params(labelsize=FONT_SIZE, width=0.5)
    bar.set_label(f"Tension per turn, one strand [{units.force}]", fontsize=FONT_SIZE)


_LINE = 0.19  # inches
_BELOW = 0.12
_TEXT_AT, _EDGE = 0.62, 0.1
_MOST_LINES = 7
_NAME = 40  # characters of a keep-out's name
_WORDS = {
    "motor_height": "hinge nearer to the motor than the motor is high",
    "motor_side": "motor on the other side of its plate",
    "feet_past_hinge": "motor's feet reach past the hinge",
    "plate_length": "plate too long",
    "install": "a new belt does not go on",
    "take_up": "set point or take-up out of reach",
    "dead_centre": "too little leverage, or a dead centre",
    "adjuster_geometry": "bolt grazes its face, or passes its dead centre",
    "thread_length": "bolt travels too far",
    "leaves_adjuster": "plate leaves the adjuster",
    "adjuster_load": "adjuster over its limit",
    "hinge_load": "hinge over its limit",
    "bearing": "a bearing over its limit",
    "motor_in_the_way": "bolt or wrench meets the motor",
}


@dataclass(frozen=True, slots=True)
class Legend:
    """Reasons with a hatch of their own, by code, and lines of (hatch, text), the first on top."""

    codes: tuple[int, ...]
    lines: tuple[tuple[str | None, str], ...]

    @property
    def height(self) -> float:
        """Room that it takes [inches]."""
        return _BELOW + _LINE * (len(self.lines) + 1)

    def draw(self, figure: Figure) -> None:
        """Write it at the foot of a figure."""
        wide, tall = figure.get_size_inches()
        title = "Layouts by what failed first:" if self.lines else "Every layout tried will do."
        texts = [(None, title), *self.lines]
        for index, (hatch, text) in enumerate(texts):
            y = _BELOW + _LINE * (len(texts) - 1 - index)
            left = _TEXT_AT if index else 0.15
            room = (wide - left - _EDGE) * figure.dpi
            figure.text(
                left / wide, y / tall, fitted_name(figure, text, room), fontsize=FONT_SIZE,
                parse_math=False, gid="legend",
            )  # fmt: skip
            if hatch is not None:
                box = ((0.2 / wide, (y - 0.03) / tall), 0.34 / wide, 0.15 / tall)
                figure.add_artist(
                    Rectangle(
                        *box, facecolor="white", edgecolor=HATCH_COLOUR, hatch=hatch,
                        linewidth=0.6, gid="swatch",
                    )
                )  # fmt: skip


def legend_of(space: SearchSpace, placement: Placement, cells: Cells) -> Legend:
    """Give a hatch to what most cells fail for, and tell all counts."""
    codes = _hatched(cells)
    hatched = {reason_name(code, space.keep_outs): code for code in codes}
    counts = dict.fromkeys(hatched, 0) | {why.reason: why.count for why in placement.why_not}
    order = sorted(counts, key=lambda name: -counts[name])
    shown = set(hatched) | set(order[:_MOST_LINES])
    while len(shown) > max(_MOST_LINES, len(hatched)):
        shown.remove(next(name for name in reversed(order) if name in shown - hatched.keys()))
    own = [name for name in order if name in shown]
    hatches = dict(zip((name for name in own if name in hatched), HATCHES, strict=False))
    # What is on the map without a hatch of its own has the last one.
    others = {
        reason_name(int(code), space.keep_outs)
        for code in np.unique(cells.reason[cells.reason > 0])
    }
    hatches |= dict.fromkeys(others - hatched.keys(), HATCHES[-1])
    lines: list[tuple[str | None, str]] = [
        (hatches.get(name), f"{counts[name]:,} {_words(name)}") for name in own
    ]
    if rest := [name for name in order if name not in shown]:
        in_map = not hatches.keys().isdisjoint(rest)
        total = sum(counts[name] for name in rest)
        text = _words(rest[0]) if len(rest) == 1 else f"for {len(rest)} other reasons"
        lines.append((HATCHES[-1] if in_map else None, f"{total:,} {text}"))
    return Legend(tuple(hatched[name] for name in own if name in hatched), tuple(lines))


def _hatched(cells: Cells) -> Sequence[int]:
    """Codes that get a hatch of their own: the last hatch is for the rest, if there is one."""
    codes, sizes = np.unique(cells.reason[cells.reason > 0], return_counts=True)
    kept = [int(code) for code in codes[np.argsort(-sizes, kind="stable")]]
    return kept if len(kept) <= len(HATCHES) else kept[: len(HATCHES) - 1]


def _words(name: str) -> str:
    """A reason as people read it."""
    kind, _, keep_out = name.partition(":")
    if kind == "keep_out":
        return f"in the way: {plain(keep_out, _NAME)}"
    return _WORDS.get(name, plain(name.replace("_", " "), _NAME))
