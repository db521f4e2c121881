"""The ground that the hinge may be on: how fine it is there, and why it will not do elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.collections import PolyCollection
from matplotlib.colors import Colormap, ListedColormap, LogNorm, Normalize
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from numpy.typing import NDArray

from mountcalc.placement.reasons import Reason, reason_name
from mountcalc.results.place import Placement
from mountcalc.scenario.model import Scenario, Vector
from mountcalc.scenario.search_model import Search, SearchSpace
from mountcalc.show.display import UNITS
from mountcalc.show.label_placing import Label, Placer
from mountcalc.show.layout_parts import Pen
from mountcalc.show.place_ground import draw_keep_outs, keep_out_labels, pixels
from mountcalc.show.plot_style import (
    FONT_SIZE,
    INK,
    SOFT,
    fitted_name,
    heading,
    new_figure,
    panel,
    plain,
)
from mountcalc.show.scale_bar import draw_scale_bar
from mountcalc.units import si_factor

__all__ = ["Sampled", "map_figure"]

Array = NDArray[np.float64]

_WIDTH, _HEIGHT = 8.0, 8.2
_LEFT, _RIGHT, _BOTTOM = 0.72, 1.25, 0.50  # inches around the map
_FILL = 0.92
# Layouts that a cell should hold so that what is most frequent there means something.
_IN_CELL = 12
_MOST_CELLS = 44  # along the longer side
_LEAST_SIDE = 0.02  # of the longer side, where a range has no width
_HATCHES = ("////", "\\\\\\\\", "....", "xxxx", "----", "||")
_HATCH_COLOUR = "0.45"
_WIDE = 4.0  # ratio of the coarsest to the finest from which colours are logarithmic
_LEGEND_LINE = 0.19  # inches
_WORDS = {
    "motor_height": "hinge nearer to the motor than the motor is high",
    "motor_side": "motor on the other side of its plate",
    "plate_length": "plate too long",
    "install": "a new belt does not go on",
    "take_up": "take-up or set point out of reach",
    "dead_centre": "too little leverage, or a dead centre",
    "adjuster_geometry": "bolt grazes, or passes its dead centre",
    "thread_length": "bolt travels too far",
    "leaves_adjuster": "plate leaves the adjuster",
    "adjuster_load": "load on the adjuster",
    "hinge_load": "load on the hinge",
    "bearing": "load on a bearing",
}


class Sampled(Protocol):
    """Some layouts that were tried, one entry each.

    Hinges [m], the code of what failed first (0: nothing), and the tension per turn [N], NaN where
    something failed.
    """

    @property
    def hinge_x(self) -> Array: ...  # noqa: D102
    @property
    def hinge_y(self) -> Array: ...  # noqa: D102
    @property
    def reason(self) -> NDArray[np.uint8]: ...  # noqa: D102
    @property
    def tension_per_turn(self) -> Array: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class _Cells:
    """The hinge's ground cut into cells: edges [m], and one entry for each cell [row, column].

    ``finest`` [N] is the least tension per turn, NaN where no layout will do; ``reason`` is the
    code that is most frequent there, 0 where one will do, -1 where none was tried.
    """

    x: Array
    y: Array
    finest: Array
    reason: NDArray[np.intp]


def map_figure(search: Search, placement: Placement, sampled: Sampled) -> Figure:
    """Draw the ground that the hinge may be on.

    Parameters
    ----------
    search : Search
        What was searched.
    placement : Placement
        What was found.
    sampled : Sampled
        Some of the layouts that were tried.

    Returns
    -------
    Figure
        To scale: coloured by the least tension per turn of any layout with its hinge there,
        hatched where none will do by what fails most often first.
    """
    figure = new_figure(_WIDTH, _HEIGHT)
    cells = _cells(search.space, sampled)
    shown = _shown_reasons(cells)
    lines = max(len(shown), 1) + 1
    top = heading(figure, f"Where the hinge may be: {search.scenario.title}", _lines(placement))
    tall = _HEIGHT - top - _BOTTOM - _LEGEND_LINE * lines - 0.45
    pen = _axes(figure, search, placement, cells, (top + 0.06, tall))
    draw_keep_outs(pen, search.space.keep_outs)
    _draw_machine(pen, search)
    groups = _marks(pen, placement)
    furniture = Placer(figure, pen.axes.get_window_extent())
    furniture.ink  # noqa: B018  # what labels avoid: drawn before the ground is coloured
    placer = Placer(figure, furniture.frame)
    placer.ink = furniture.ink
    colour = _draw_cells(pen, cells, shown)
    draw_scale_bar(pen, Placer(figure, furniture.frame), UNITS[search.scenario.display])
    _colour_bar(figure, pen.axes, colour, search.scenario)
    _legend(figure, search, placement, shown)
    names, _ = keep_out_labels(pen, search.space.keep_outs)
    placer.place([*groups, *_machine_labels(pen, search), *names])
    _on_white(figure)
    return figure


def _lines(placement: Placement) -> tuple[str, ...]:
    what = (
        "Colour: least tension per turn of any layout that will do with its hinge there. "
        "Hatched: none will do; the hatch tells what most fail for first."
    )
    count = f"{placement.evaluated:,} layouts tried, {placement.feasible:,} will do."
    if placement.layouts:
        count += " Circles: the layouts of the list, by rank."
    return what, count + " Seen facing the motor's pulley."


def _cells(space: SearchSpace, sampled: Sampled) -> _Cells:
    """Square cells over the ranges of the hinge, with what the sample says of each."""
    (x0, x1), (y0, y1) = (_widened(pair, space) for pair in (space.hinge_x, space.hinge_y))
    wide, tall = x1 - x0, y1 - y0
    wanted = max(len(sampled.hinge_x) / _IN_CELL, 1.0)
    side = max(np.sqrt(wide * tall / wanted), max(wide, tall) / _MOST_CELLS)
    columns, rows = (max(1, round(length / side)) for length in (wide, tall))
    x, y = np.linspace(x0, x1, columns + 1), np.linspace(y0, y1, rows + 1)
    column = np.clip(np.searchsorted(x, sampled.hinge_x, "right") - 1, 0, columns - 1)
    row = np.clip(np.searchsorted(y, sampled.hinge_y, "right") - 1, 0, rows - 1)
    cell, codes = row * columns + column, np.asarray(sampled.reason, dtype=np.intp)
    finest = np.full(rows * columns, np.inf)
    good = codes == Reason.FEASIBLE
    np.minimum.at(finest, cell[good], np.asarray(sampled.tension_per_turn)[good])
    counts = np.zeros((rows * columns, int(codes.max(initial=0)) + 1), dtype=np.intp)
    np.add.at(counts, (cell, codes), 1)
    reason = np.where(counts.sum(axis=1) == 0, -1, counts.argmax(axis=1))
    some = np.isfinite(finest)
    reason = np.where(some, Reason.FEASIBLE, reason)
    finest = np.where(some, finest, np.nan)
    return _Cells(x, y, finest.reshape(rows, columns), reason.reshape(rows, columns))


def _widened(pair: Vector, space: SearchSpace) -> Vector:
    """A range, or a narrow strip where it has no width."""
    spans = (space.hinge_x[1] - space.hinge_x[0], space.hinge_y[1] - space.hinge_y[0])
    least = _LEAST_SIDE * max(*spans, 0.1)
    more = max(0.0, 0.5 * (least - (pair[1] - pair[0])))
    return pair[0] - more, pair[1] + more


def _shown_reasons(cells: _Cells) -> list[int]:
    """Codes that have a hatch of their own, the most frequent first."""
    codes, counts = np.unique(cells.reason[cells.reason > 0], return_counts=True)
    order = np.argsort(-counts, kind="stable")
    kept = [int(code) for code in codes[order]]
    # The last hatch stands for all the rest where there are more reasons than hatches.
    return kept if len(kept) <= len(_HATCHES) else kept[: len(_HATCHES) - 1]


def _axes(
    figure: Figure,
    search: Search,
    placement: Placement,
    cells: _Cells,
    place: tuple[float, float],
) -> Pen:
    """Axes with equal scales over the ground, the machine and the layouts that are marked."""
    top, tall = place
    axes = panel(figure, _LEFT, _RIGHT, top, tall)
    unit = si_factor(UNITS[search.scenario.display].length)
    boxes = [(cells.x[0], cells.y[0]), (cells.x[-1], cells.y[-1])]
    for center, radius in _circles(search):
        boxes += [(center[0] + way * radius, center[1] + way * radius) for way in (-1, 1)]
    boxes += [layout.hinge for layout in placement.layouts]
    low, high = np.min(boxes, axis=0) / unit, np.max(boxes, axis=0) / unit
    wide = _WIDTH - _LEFT - _RIGHT
    per_inch = max((high - low) / (_FILL * np.array([wide, tall])))
    middle = 0.5 * (low + high)
    axes.set_xlim(middle[0] - 0.5 * wide * per_inch, middle[0] + 0.5 * wide * per_inch)
    axes.set_ylim(middle[1] - 0.5 * tall * per_inch, middle[1] + 0.5 * tall * per_inch)
    axes.set_aspect("equal", adjustable="box")
    length = UNITS[search.scenario.display].length
    axes.set_xlabel(f"x [{length}]", fontsize=FONT_SIZE, labelpad=2)
    axes.set_ylabel(f"y [{length}]", fontsize=FONT_SIZE, labelpad=2)
    return Pen(axes, float(per_inch) / 72.0, unit)


def _circles(search: Search) -> list[tuple[Vector, float]]:
    """Driven pulley, and the motor where it does not move."""
    driven = search.scenario.driven
    circles = [(driven.shaft, driven.pulley_radius)]
    if search.space.motor_direction is None:
        body = max(0.5 * search.space.motor_body, search.scenario.motor.pulley_radius)
        circles.append((search.scenario.motor.shaft, body))
    return circles


def _draw_machine(pen: Pen, search: Search) -> None:
    for center, radius in _circles(search):
        pen.circle(center, radius, linewidth=1.1, linestyle="-.", zorder=4, gid="machine")
        x, y = pen.at(center)
        pen.axes.plot([x], [y], "+", color=INK, markersize=11, markeredgewidth=0.9, zorder=4)


def _machine_labels(pen: Pen, search: Search) -> list[Label]:
    names = ("driven pulley", "motor")
    labels = []
    for name, (center, radius) in zip(names, _circles(search), strict=False):
        rim = center[0], center[1] + radius
        labels.append(Label(name, pixels(pen, rim), np.pi / 2))
    return labels


def _marks(pen: Pen, placement: Placement) -> list[Label]:
    """Circles at the hinges of the listed layouts; ranks that share a place share a label."""
    places: list[tuple[Vector, list[int]]] = []
    near = 7.0 * pen.point * pen.unit
    for layout in placement.layouts:
        for place, ranks in places:
            if np.hypot(place[0] - layout.hinge[0], place[1] - layout.hinge[1]) < near:
                ranks.append(layout.rank)
                break
        else:
            places.append((layout.hinge, [layout.rank]))
    labels = []
    for place, ranks in places:
        x, y = pen.at(place)
        pen.axes.plot([x], [y], "o", ms=6, mfc="white", mec=INK, mew=1.1, zorder=6, gid="hinge")
        labels.append(Label(_ranks_text(ranks), pixels(pen, place), leader_from=2.0))
    return labels


def _ranks_text(ranks: Sequence[int]) -> str:
    """Ranks with runs joined: ``1-3, 7``."""
    runs: list[list[int]] = []
    for rank in ranks:
        if runs and rank == runs[-1][-1] + 1:
            runs[-1].append(rank)
        else:
            runs.append([rank])
    parts = [str(run[0]) if len(run) == 1 else f"{run[0]}\u2013{run[-1]}" for run in runs]
    return ", ".join(parts)


def _draw_cells(pen: Pen, cells: _Cells, shown: Sequence[int]) -> ScalarMappable | None:
    """Colour and hatch the ground; what the colours mean, None without any."""
    x, y = cells.x / pen.unit, cells.y / pen.unit
    others = np.isin(cells.reason, [*shown, 0, -1], invert=True)
    for index, hatch in enumerate(_HATCHES):
        chosen = cells.reason == shown[index] if index < len(shown) else np.zeros_like(others)
        if index == len(_HATCHES) - 1 and len(shown) < len(_HATCHES):
            chosen = others
        boxes = [
            [(x[c], y[r]), (x[c + 1], y[r]), (x[c + 1], y[r + 1]), (x[c], y[r + 1])]
            for r, c in np.argwhere(chosen)
        ]
        if boxes:
            pen.axes.add_collection(
                PolyCollection(
                    boxes, facecolor="white", edgecolor=_HATCH_COLOUR, hatch=hatch, linewidth=0,
                    zorder=1, gid=f"hatch {index}",
                ),
                autolim=False,
            )  # fmt: skip
    pen.axes.add_patch(
        Rectangle((x[0], y[0]), x[-1] - x[0], y[-1] - y[0], fill=False, ec=SOFT, lw=0.8, zorder=2)
    )
    if not np.isfinite(cells.finest).any():
        return None
    return _colours(pen.axes, x, y, cells.finest)


def _colours(axes: Axes, x: Array, y: Array, finest: Array) -> ScalarMappable:
    low, high = float(np.nanmin(finest)), float(np.nanmax(finest))
    high = max(high, low * (1 + 1e-6) + 1e-9)
    style: Any = LogNorm if low > 0 and high / low > _WIDE else Normalize
    return axes.pcolormesh(
        x, y, np.ma.masked_invalid(finest), cmap=_colour_map(), norm=style(low, high), zorder=1.2,
        gid="fineness",
    )  # fmt: skip


def _colour_map() -> Colormap:
    """Even to the eye and in grey: dark is fine; the palest is still darker than paper."""
    return ListedColormap(colormaps["viridis"](np.linspace(0.05, 0.95, 256)))


def _colour_bar(
    figure: Figure, axes: Axes, colour: ScalarMappable | None, scenario: Scenario
) -> None:
    """What the colours mean, in forces per turn."""
    if colour is None:
        return
    units = UNITS[scenario.display]
    box = axes.get_position()
    place = (box.x1 + 0.18 / _WIDTH, box.y0, 0.18 / _WIDTH, box.height)
    bar_axes = figure.add_axes(place, label="colours")
    bar = figure.colorbar(colour, cax=bar_axes)
    force = si_factor(units.force)
    low, high = colour.norm.vmin or 0.0, colour.norm.vmax or 1.0
    if isinstance(colour.norm, LogNorm):
        ticks = np.geomspace(low, high, 6)
    else:
        ticks = np.linspace(low, high, 6)
    bar.set_ticks(ticks.tolist(), labels=[f"{tick / force:.3g}" for tick in ticks])
    bar.ax.minorticks_off()
    bar.ax.tick_params(labelsize=FONT_SIZE, width=0.5)
    bar.set_label(f"Tension per turn, one strand [{units.force}]", fontsize=FONT_SIZE)


def _legend(figure: Figure, search: Search, placement: Placement, shown: Sequence[int]) -> None:
    """Hatches with their reasons and how many layouts failed first for each."""
    counts = {why.reason: why.count for why in placement.why_not}
    rows = []
    for code in shown:
        name = reason_name(code, search.space.keep_outs)
        rows.append((_reason_words(name), counts.pop(name, None)))
    if counts:
        rest = f"other reasons ({', '.join(_reason_words(name) for name in counts)})"
        rows.append((rest, sum(counts.values())))
    bottom = 0.12 + _LEGEND_LINE * len(rows)
    for index, (words, count) in enumerate(rows):
        y = bottom - _LEGEND_LINE * index
        hatched = index < len(shown) or len(shown) == len(_HATCHES) - 1
        if hatched:
            hatch = _HATCHES[min(index, len(_HATCHES) - 1)]
            figure.add_artist(_swatch(y, hatch))
        number = "" if count is None else f"{count:,} "
        text = fitted_name(figure, f"{number}{words}", (_WIDTH - 0.72) * figure.dpi)
        figure.text(
            0.62 / _WIDTH, (y - 0.07) / _HEIGHT, text, fontsize=FONT_SIZE, va="center",
            parse_math=False, gid="legend",
        )  # fmt: skip
    title = "Layouts by what failed first:" if rows else "Every layout that was tried will do."
    figure.text(
        0.15 / _WIDTH, (bottom + 0.12) / _HEIGHT, title, fontsize=FONT_SIZE, va="center",
        gid="legend title",
    )  # fmt: skip


def _swatch(y: float, hatch: str) -> Rectangle:
    return Rectangle(
        (0.2 / _WIDTH, (y - 0.145) / _HEIGHT), 0.34 / _WIDTH, 0.15 / _HEIGHT, facecolor="white",
        edgecolor=_HATCH_COLOUR, hatch=hatch, linewidth=0.6, gid="swatch",
    )  # fmt: skip


def _reason_words(name: str) -> str:
    """A reason as people read it."""
    kind, _, keep_out = name.partition(":")
    if kind == "keep_out":
        return f"in the way: {plain(keep_out, 40)}"
    return _WORDS.get(name, plain(name.replace("_", " "), 60))


def _on_white(figure: Figure) -> None:
    """Labels on coloured and hatched ground get a white ground of their own."""
    for text in figure.texts:
        if text.get_gid() == "label":
            text.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 1.0, "alpha": 0.9})
