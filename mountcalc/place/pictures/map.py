"""The ground that the hinge may be on: how fine it is there, and why it will not do elsewhere."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.cm import ScalarMappable
from matplotlib.collections import PolyCollection
from matplotlib.colors import ListedColormap, LogNorm, Normalize
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.transforms import Bbox
from numpy.typing import NDArray

from mountcalc.drafting.items import around
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.layout import Pen, draw_keep_outs, draw_scale_bar, fill_keep_outs, room_beside
from mountcalc.pages.amounts import UNITS
from mountcalc.pages.plot_style import (
    FONT_SIZE,
    SOFT,
    figure_of,
    fitted_name,
    heading,
    new_figure,
    panel,
    plain,
)
from mountcalc.place.feasible.reasons import Reason, in_short, reason_name
from mountcalc.place.results import PlacedLayout, Placement
from mountcalc.place.search.optimiser import Sampled
from mountcalc.scenario.search import Search, SearchSpace
from mountcalc.scenario.text.writing import Vector
from mountcalc.units import si_factor

Array = NDArray[np.float64]
Circle = tuple[str, Vector, float]

_WIDTH = 8.0
_LEFT, _RIGHT, _BELOW = 0.72, 1.25, 0.52  # inches around a view
_MAP, _AROUND = 5.3, 3.1  # inches: heights of the map, and of the view of all around it
_FILL = 0.92
# Ground that takes a smaller share of a view of all around it is drawn once more, larger.
_SMALL = 0.55
_SAME_PLACE = 7.0  # points between hinges that share a mark

# Those that are told apart most easily come first; more reasons than these share the last one.
HATCHES = (
    *("////", "\\\\\\\\", "....", "xxxx", "----", "||||", "ooo", "++++"),
    *("///...", "\\\\\\...", "---...", "|||...", "xxx...", "**", "OO"),
    *("///ooo", "\\\\\\ooo", "---ooo", "|||ooo", "///---", "\\\\\\---"),
    *("///|||", "\\\\\\|||", "xx"),
)
_HATCHED: dict[str, Any] = {"facecolor": "white", "edgecolor": "0.45"}
_IN_CELL = 16  # layouts that a cell should hold so that what is most frequent there means something
_MOST_CELLS = 40  # along the longer side: smaller ones would not show their hatch
_LEAST_SIDE = 0.02  # of the longer side, where a range has no width
_LEAST_GROUND = 0.1  # [m] taken for the longer side where neither range has a width
_WIDE = 4.0  # ratio of the coarsest to the finest from which colours are logarithmic
_TICKS = 6

_LINE, _FOOT = 0.19, 0.12  # inches: of the legend, and below it
_TEXT_AT, _EDGE = 0.62, 0.1
_MOST_LINES = 7
_NAME, _WORDS = 40, 60  # characters of a keep-out's name, and of another reason


def map_figure(search: Search, placement: Placement, sampled: Sampled) -> Figure:
    """Draw the ground that the hinge may be on."""
    cells = cells_of(search.space, sampled, placement.layouts)
    legend = legend_of(search.space, placement, cells)
    ground = [(cells.x[0], cells.y[0]), (cells.x[-1], cells.y[-1])]
    ground += [layout.hinge for layout in placement.layouts]
    every = ground + [
        (x + way * radius, y + way * radius)
        for _, (x, y), radius in _machine(search)
        for way in (-1, 1)
    ]
    # Which share of the scale of one view the other could have.
    apart = max(np.ptp(ground, axis=0)) < _SMALL * max(np.ptp(every, axis=0))
    count = f"{placement.evaluated:,} layouts tried, {placement.feasible:,} will do."
    ranks = " Circles: hinges of the list, by rank." if placement.layouts else ""
    where = " Above: the ground among all around it." if apart else ""
    lines = (
        "Colour: the least tension per turn with the hinge there. Hatched: no layout tried there "
        "will do; the hatch tells why most of them fail.",
        f"{count}{ranks}{where} Seen facing the motor's pulley.",
    )
    tall = _MAP + _BELOW + legend.height + (_AROUND + _BELOW if apart else 0.0)
    figure = new_figure(_WIDTH, round(tall + 0.42 + 0.17 * (len(lines) + 1), 2))
    top = heading(figure, f"Where the hinge may be: {search.scenario.title}", lines) + 0.06
    display, fill = search.scenario.display, (_FILL, _FILL)
    if apart:
        axes = panel(figure, _LEFT, _RIGHT, top, _AROUND)
        pen = Pen.framed(axes, around(every), display, fill)
        middle = 0.5 * float(cells.x[0] + cells.x[-1]), float(cells.y[-1])
        _draw_view(pen, search, cells, [Label("the hinge's ground", pen.pixels(middle))])
        top += _AROUND + _BELOW
    axes = panel(figure, _LEFT, _RIGHT, top, _MAP)
    pen = Pen.framed(axes, around(ground if apart else every), display, fill)
    _draw_view(pen, search, cells, _draw_ranks(pen, placement), legend)
    legend.draw(figure)
    return figure


def _machine(search: Search) -> list[Circle]:
    """Driven pulley, and the motor where it does not move."""
    driven, motor = search.scenario.driven, search.scenario.motor
    circles = [("driven pulley", driven.shaft, driven.pulley_radius)]
    if search.space.motor_direction is None:
        body = max(0.5 * search.space.motor_body, motor.pulley_radius)
        circles.append(("motor", motor.shaft, body))
    return circles


def _draw_view(
    pen: Pen, search: Search, cells: Cells, labels: list[Label], legend: Legend | None = None
) -> None:
    """The ground with all that is near it, and its cells where there is a legend."""
    axes, names = pen.axes, draw_keep_outs(pen, search.space.keep_outs)
    low, high = (np.array(limits) for limits in zip(axes.get_xlim(), axes.get_ylim(), strict=True))
    for name, (x, y), radius in _machine(search):
        pen.circle((x, y), radius, linewidth=1.1, linestyle="-.", zorder=4, gid=name)
        pen.mark((x, y), "+", ms=11, mew=0.7, zorder=4)
        places = ((x, y + radius), (x, y - radius), (x, y))
        seen = [at for at in places if np.all((low < pen.at(at)) & (pen.at(at) < high))]
        labels += [Label(name, pen.pixels(at)) for at in seen[:1]]
    # Labels keep off what is drawn so far, not off the ground's colours; the scale keeps off both.
    placer = Placer(figure_of(axes), axes.get_window_extent())
    (left, right), (bottom, top) = cells.x[[0, -1]], cells.y[[0, -1]]
    placer.taken = [Bbox([pen.pixels((left, bottom)), pen.pixels((right, top))])]
    room = partial(room_beside, pen, placer)
    draw_scale_bar(pen, UNITS[search.scenario.display], room)
    placer.taken = placer.taken[1:]
    if legend is not None:
        _draw_cells(pen, cells, legend.codes, search)
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    weight = 1.4 if legend is None else 0.8
    pen.outline(corners, fill=False, edgecolor=SOFT, linewidth=weight, zorder=2, gid="ground")
    placer.place([*labels, *names])
    fill_keep_outs(pen)


def _draw_ranks(pen: Pen, placement: Placement) -> list[Label]:
    """Circles at the hinges of the listed layouts; ranks that share a place share a label."""
    places: list[tuple[Vector, list[int]]] = []
    for layout in placement.layouts:
        for place, ranks in places:
            if pen.on_paper(math.dist(place, layout.hinge)) < _SAME_PLACE:
                ranks.append(layout.rank)
                break
        else:
            places.append((layout.hinge, [layout.rank]))
            pen.mark(layout.hinge, "o", ms=6, mfc="white", mew=1.1, gid="hinge")
    return [Label(_ranks_text(ranks), pen.pixels(place)) for place, ranks in places]


def _ranks_text(ranks: Sequence[int]) -> str:
    """Ranks with runs joined: ``1-3, 7`` (with a dash)."""
    runs: list[list[int]] = []
    for rank in ranks:
        if runs and rank == runs[-1][-1] + 1:
            runs[-1].append(rank)
        else:
            runs.append([rank])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


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
    ranges = np.array([space.hinge_x, space.hinge_y])
    # A range without a width is a narrow strip.
    least = _LEAST_SIDE * max(*np.ptp(ranges, axis=1), _LEAST_GROUND)
    more = np.maximum(0.0, 0.5 * (least - np.ptp(ranges, axis=1)))
    low, high = ranges[:, 0] - more, ranges[:, 1] + more
    wanted = max(len(sampled.hinge_x) / _IN_CELL, 1.0)
    side = max(np.sqrt(np.prod(high - low) / wanted), max(high - low) / _MOST_CELLS)
    columns, rows = (max(1, round(length / side)) for length in high - low)
    x, y = np.linspace(low[0], high[0], columns + 1), np.linspace(low[1], high[1], rows + 1)

    def cell(across: Array, up: Array) -> NDArray[np.intp]:
        column, row = (
            np.clip(np.searchsorted(edges, places, "right") - 1, 0, len(edges) - 2)
            for edges, places in ((x, across), (y, up))
        )
        return np.asarray(row * columns + column)

    codes, at = np.asarray(sampled.reason, dtype=np.intp), cell(sampled.hinge_x, sampled.hinge_y)
    finest, good = np.full(rows * columns, np.nan), codes == Reason.FEASIBLE
    np.fmin.at(finest, at[good], np.asarray(sampled.tension_per_turn)[good])
    hinges = np.array([layout.hinge for layout in placed]).reshape(-1, 2)
    np.fmin.at(finest, cell(*hinges.T), [layout.tension_per_turn for layout in placed])
    counts = np.zeros((rows * columns, int(codes.max(initial=0)) + 1), dtype=np.intp)
    np.add.at(counts, (at, codes), 1)
    reason = np.where(counts.any(axis=1), counts.argmax(axis=1), -1)
    reason[np.isfinite(finest)] = Reason.FEASIBLE
    return Cells(x, y, finest.reshape(rows, columns), reason.reshape(rows, columns))


def _draw_cells(pen: Pen, cells: Cells, hatched: Sequence[int], search: Search) -> None:
    """Colour and hatch the ground."""
    x, y = cells.x / pen.unit, cells.y / pen.unit
    kinds = [(index, cells.reason == code) for index, code in enumerate(hatched)]
    rest = np.isin(cells.reason, [*hatched, int(Reason.FEASIBLE), -1], invert=True)
    for index, has in (*kinds, (len(HATCHES) - 1, rest)):
        boxes = [
            [(x[c], y[r]), (x[c + 1], y[r]), (x[c + 1], y[r + 1]), (x[c], y[r + 1])]
            for r, c in np.argwhere(has)
        ]
        if boxes:
            look: dict[str, Any] = {
                "hatch": HATCHES[index],
                "zorder": 1,
                "gid": f"hatch {index}",
                **_HATCHED,
            }
            pen.axes.add_collection(PolyCollection(boxes, linewidth=0, **look), autolim=False)
    if not np.isfinite(cells.finest).any():
        return
    low, high = float(np.nanmin(cells.finest)), float(np.nanmax(cells.finest))
    is_wide = low > 0 and high / low > _WIDE
    style: Any = LogNorm if is_wide else Normalize
    norm = style(low, max(high, low * (1 + 1e-6) + 1e-9))
    # Even to the eye and in grey: dark is fine; the palest is still darker than paper.
    mapped = ListedColormap(colormaps["viridis"](np.linspace(0.05, 0.93, 256)))
    colours = pen.axes.pcolormesh(
        x, y, np.ma.masked_invalid(cells.finest), cmap=mapped, norm=norm, zorder=1.2,
        gid="tension per turn",
    )  # fmt: skip
    _draw_colours(pen, colours, UNITS[search.scenario.display].force, is_wide=is_wide)


def _draw_colours(pen: Pen, colours: ScalarMappable, unit: str, *, is_wide: bool) -> None:
    """Tell right of the map what its colours mean."""
    figure, box = figure_of(pen.axes), pen.axes.get_position()
    inch = 1 / figure.get_size_inches()[0]
    place = (box.x1 + 0.18 * inch, box.y0, 0.18 * inch, box.height)
    bar = figure.colorbar(colours, cax=figure.add_axes(place, label="colours"))
    spaced, force = np.geomspace if is_wide else np.linspace, si_factor(unit)
    ticks = spaced(*colours.get_clim(), _TICKS)
    bar.set_ticks(ticks.tolist(), labels=[f"{tick / force:.3g}" for tick in ticks])
    bar.ax.minorticks_off()
    bar.ax.tick_params(labelsize=FONT_SIZE, width=0.5)
    bar.set_label(f"Tension per turn, one strand [{unit}]", fontsize=FONT_SIZE)


@dataclass(frozen=True, slots=True)
class Legend:
    """Reasons with a hatch of their own, by code, and lines of (hatch, text), the first on top."""

    codes: tuple[int, ...]
    lines: tuple[tuple[str | None, str], ...]

    @property
    def height(self) -> float:
        """Room that it takes [inches]."""
        return _FOOT + _LINE * (len(self.lines) + 1)

    def draw(self, figure: Figure) -> None:
        """Write it at the foot of a figure."""
        wide, tall = figure.get_size_inches()
        title = "Layouts by what failed first:" if self.lines else "Every layout tried will do."
        for index, (hatch, text) in enumerate(((None, title), *self.lines)):
            y = _FOOT + _LINE * (len(self.lines) - index)
            left = _TEXT_AT if index else 0.15
            room = (wide - left - _EDGE) * figure.dpi
            figure.text(
                left / wide, y / tall, fitted_name(figure, text, room), fontsize=FONT_SIZE,
                parse_math=False, gid="legend",
            )  # fmt: skip
            if hatch is not None:
                box = ((0.2 / wide, (y - 0.03) / tall), 0.34 / wide, 0.15 / tall)
                swatch = Rectangle(*box, hatch=hatch, linewidth=0.6, gid="swatch", **_HATCHED)
                figure.add_artist(swatch)


def legend_of(space: SearchSpace, placement: Placement, cells: Cells) -> Legend:
    """Give a hatch to what most cells fail for, and tell all counts."""
    found, sizes = np.unique(cells.reason[cells.reason > 0], return_counts=True)
    on_map = {
        reason_name(int(code), space.keep_outs): int(code)
        for code in found[np.argsort(-sizes, kind="stable")]
    }
    # The last hatch is for the rest, if there is one.
    count = len(on_map) if len(on_map) <= len(HATCHES) else len(HATCHES) - 1
    hatched = [*on_map][:count]
    counts = dict.fromkeys(hatched, 0) | {why.reason: why.count for why in placement.why_not}
    order = sorted(counts, key=lambda name: -counts[name])
    plain_ones = [name for name in order if name not in hatched]
    shown = {*hatched, *plain_ones[: max(0, _MOST_LINES - count)]}
    own = [name for name in order if name in hatched]
    hatches = dict.fromkeys(on_map, HATCHES[-1]) | dict(zip(own, HATCHES, strict=False))
    lines: list[tuple[str | None, str]] = [
        (hatches.get(name), f"{counts[name]:,} {_words(name)}") for name in order if name in shown
    ]
    if rest := [name for name in order if name not in shown]:
        total = sum(counts[name] for name in rest)
        text = _words(rest[0]) if len(rest) == 1 else f"for {len(rest)} other reasons"
        lines.append((next(filter(None, map(hatches.get, rest)), None), f"{total:,} {text}"))
    return Legend(tuple(on_map[name] for name in own), tuple(lines))


def _words(name: str) -> str:
    """A reason as people read it."""
    kind, _, keep_out = name.partition(":")
    if kind == "keep_out":
        return f"in the way: {plain(keep_out, _NAME)}"
    return plain(in_short(name), _WORDS)
