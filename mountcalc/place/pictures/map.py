"""The ground that the hinge may be on: how fine it is there, and why it will not do elsewhere."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from mountcalc.drafting.items import around
from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.layout import (
    Pen,
    draw_keep_outs,
    draw_scale_bar,
    keep_out_labels,
    whiten_labels,
)
from mountcalc.pages.amounts import UNITS
from mountcalc.pages.plot_style import (
    BLACK,
    SOFT,
    figure_of,
    heading,
    new_figure,
    panel,
)
from mountcalc.place.pictures.cells import (
    Cells,
    Legend,
    cells_of,
    draw_cells,
    draw_colours,
    legend_of,
)
from mountcalc.place.results import Placement
from mountcalc.place.search.search import Sampled
from mountcalc.scenario.model import Vector
from mountcalc.scenario.search import Search

__all__ = ["map_figure"]

_WIDTH = 8.0
_LEFT, _RIGHT, _BELOW = 0.72, 1.25, 0.52  # inches around a view
_MAP, _AROUND = 5.3, 3.1  # inches: heights of the map, and of the view of all around it
_FILL = 0.92
# Ground that takes a smaller share of a view of all around it is drawn once more, larger.
_SMALL = 0.55
_SAME_PLACE = 7.0  # points between hinges that share a mark

Circle = tuple[str, Vector, float]


def map_figure(search: Search, placement: Placement, sampled: Sampled) -> Figure:
    """Draw the ground that the hinge may be on."""
    cells = cells_of(search.space, sampled, placement.layouts)
    legend = legend_of(search.space, placement, cells)
    ground = [(cells.x[0], cells.y[0]), (cells.x[-1], cells.y[-1])]
    ground += [layout.hinge for layout in placement.layouts]
    every = [*ground, *_extremes(_circles(search))]
    apart = _share(ground, every) < _SMALL
    lines = _lines(placement, apart=apart)
    tall = _MAP + _BELOW + legend.height + (_AROUND + _BELOW if apart else 0.0)
    figure = new_figure(_WIDTH, round(tall + 0.42 + 0.17 * (len(lines) + 1), 2))
    top = heading(figure, f"Where the hinge may be: {search.scenario.title}", lines) + 0.06
    if apart:
        _draw_around(_axes(figure, search, every, (top, _AROUND)), search, cells)
        top += _AROUND + _BELOW
    pen = _axes(figure, search, ground if apart else every, (top, _MAP))
    _draw_map(figure, pen, search, placement, (cells, legend))
    legend.draw(figure)
    return figure


def _lines(placement: Placement, *, apart: bool) -> tuple[str, ...]:
    what = (
        "Colour: least tension per turn of the layouts that will do with their hinge there. "
        "Hatched: none of those sampled will do; the hatch tells what most of them fail for first."
    )
    count = f"{placement.evaluated:,} layouts tried, {placement.feasible:,} will do."
    if placement.layouts:
        count += " Circles: hinges of the list, by rank."
    where = " Above: the ground among all around it." if apart else ""
    return what, f"{count}{where} Seen facing the motor's pulley."


def _circles(search: Search) -> list[Circle]:
    """Driven pulley, and the motor where it does not move."""
    driven, motor = search.scenario.driven, search.scenario.motor
    circles = [("driven pulley", driven.shaft, driven.pulley_radius)]
    if search.space.motor_direction is None:
        body = max(0.5 * search.space.motor_body, motor.pulley_radius)
        circles.append(("motor", motor.shaft, body))
    return circles


def _extremes(circles: Iterable[Circle]) -> list[Vector]:
    return [
        (x + way * radius, y + way * radius) for _, (x, y), radius in circles for way in (-1, 1)
    ]


def _box(points: Sequence[Vector]) -> tuple[np.ndarray, np.ndarray]:
    return np.min(points, axis=0), np.max(points, axis=0)


def _share(inner: Sequence[Vector], outer: Sequence[Vector]) -> float:
    """Which share of the scale of one view another could have."""
    spans = [np.max(high - low) for low, high in (_box(inner), _box(outer))]
    return float(spans[0] / spans[1])


def _axes(
    figure: Figure, search: Search, shown: Sequence[Vector], place: tuple[float, float]
) -> Pen:
    """Axes with equal scales about points, so far below the top and so high [inches]."""
    axes = panel(figure, _LEFT, _RIGHT, *place)
    return Pen.framed(axes, around(list(shown)), search.scenario.display, (_FILL, _FILL))


def _draw_around(pen: Pen, search: Search, cells: Cells) -> None:
    """All around the ground, and where it is."""
    figure = figure_of(pen.axes)
    draw_keep_outs(pen, search.space.keep_outs)
    _draw_machine(pen, search)
    _draw_edge(pen, cells, linewidth=1.4)
    middle = 0.5 * float(cells.x[0] + cells.x[-1]), float(cells.y[-1])
    placer = Placer(figure, pen.axes.get_window_extent())
    draw_scale_bar(pen, UNITS[search.scenario.display], placer.reserve)
    names = keep_out_labels(pen, search.space.keep_outs)
    placer.anew().place(
        [Label("the hinge's ground", pen.pixels(middle)), *_names(pen, search), *names]
    )


def _draw_map(
    figure: Figure, pen: Pen, search: Search, placement: Placement, ground: tuple[Cells, Legend]
) -> None:
    cells, legend = ground
    draw_keep_outs(pen, search.space.keep_outs)
    _draw_machine(pen, search)
    ranks = _draw_ranks(pen, placement)
    # Labels keep off what is drawn so far, not off the ground's colours.
    placer = Placer(figure, pen.axes.get_window_extent())
    placer.ink  # noqa: B018
    colours = draw_cells(pen, cells, legend.codes)
    _draw_edge(pen, cells, linewidth=0.8)
    bar = Placer(figure, placer.frame)
    draw_scale_bar(pen, UNITS[search.scenario.display], bar.reserve)
    placer.taken = bar.taken
    draw_colours(figure, pen, colours, search.scenario.display)
    names = keep_out_labels(pen, search.space.keep_outs)
    placer.place([*ranks, *_names(pen, search), *names])
    whiten_labels(figure)


def _draw_edge(pen: Pen, cells: Cells, linewidth: float) -> None:
    x, y = cells.x / pen.unit, cells.y / pen.unit
    pen.axes.add_patch(
        Rectangle(
            (x[0], y[0]), x[-1] - x[0], y[-1] - y[0], fill=False, ec=SOFT, lw=linewidth,
            zorder=2, gid="ground",
        )
    )  # fmt: skip


def _draw_machine(pen: Pen, search: Search) -> None:
    for name, center, radius in _circles(search):
        pen.circle(center, radius, linewidth=1.1, linestyle="-.", zorder=4, gid=name)
        pen.mark(center, "+", ms=11, mew=0.7, zorder=4)


def _names(pen: Pen, search: Search) -> list[Label]:
    """Names of what of the machine can be seen."""
    labels = []
    for name, center, radius in _circles(search):
        places = ((center[0], center[1] + radius), (center[0], center[1] - radius), center)
        seen = [place for place in places if _inside(pen, place)]
        if seen:
            labels.append(Label(name, pen.pixels(seen[0])))
    return labels


def _inside(pen: Pen, place: Vector) -> bool:
    x, y = pen.at(place)
    (x0, x1), (y0, y1) = pen.axes.get_xlim(), pen.axes.get_ylim()
    return bool(x0 < x < x1 and y0 < y < y1)


def _draw_ranks(pen: Pen, placement: Placement) -> list[Label]:
    """Circles at the hinges of the listed layouts; ranks that share a place share a label."""
    places: list[tuple[Vector, list[int]]] = []
    near = _SAME_PLACE * pen.point * pen.unit
    for layout in placement.layouts:
        close = [ranks for place, ranks in places if math.dist(place, layout.hinge) < near]
        if close:
            close[0].append(layout.rank)
        else:
            places.append((layout.hinge, [layout.rank]))
    for place, _ in places:
        x, y = pen.at(place)
        pen.axes.plot([x], [y], "o", ms=6, mfc="white", mec=BLACK, mew=1.1, zorder=6, gid="hinge")
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
