"""What is given up for what among the layouts that were found: two pairs of measures."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.drafting.names.figure import Label, Placer
from mountcalc.pages.amounts import UNITS
from mountcalc.pages.plot_style import (
    BLACK,
    FONT_SIZE,
    LIMIT,
    LIMIT_STYLE,
    SOFT,
    heading,
    new_figure,
    panel,
)
from mountcalc.place.search.objective import GOALS
from mountcalc.place.search.search import Found
from mountcalc.scenario.model import Scenario
from mountcalc.units import si_factor

_WIDTH, _HEIGHT = 8.0, 8.0
_LEFT, _RIGHT, _GAP, _BOTTOM = 0.75, 0.2, 0.72, 0.62
_FILLED = "0.55"
_NEAR = 1.5  # of the height of a panel that it may grow by to show a limit
_AROUND = 0.14  # of the spread of the points, free on either side
_SIZES = (5.0, 11.0)  # points: the shortest and the longest plate
_LINES = (
    "Filled (the Pareto front): no other layout is as good in all that is compared, above, below "
    "and in tension per length of bolt, and better in one. Numbers: ranks of the list. Small: not "
    "listed. Larger circles: longer plates. Lower left is better.",
)


class _Measure(NamedTuple):
    """A measure: its name, a listed layout's key, the column of goals of any, its unit."""

    name: str
    key: str
    goal: str
    unit: str
    factor: float


def front_figure(scenario: Scenario, found: Found) -> Figure:
    """Draw the layouts that were found by what they are compared by."""
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, f"What is given up for what: {scenario.title}", _LINES) + 0.1
    tall = (_HEIGHT - top - _GAP - _BOTTOM) / 2
    units, limit = UNITS[scenario.display], scenario.limits.adjuster
    force = units.force, si_factor(units.force)
    length = units.length, si_factor(units.length)
    upper = (
        _Measure("Tension per turn, one strand", "tension_per_turn", "tension_per_turn", *force),
        _Measure(
            "Worst share of a bearing's limit", "worst_share_of_limit", "worst_share", "%", 0.01
        ),
    )
    lower = (
        _Measure("Plate length", "plate_length", "plate_length", *length),
        _Measure("Force on the adjuster, at rest", "adjuster", "adjuster", *force),
    )
    above = panel(figure, _LEFT, _RIGHT, top, tall)
    below = panel(figure, _LEFT, _RIGHT, top + tall + _GAP, tall)
    places = (
        _draw_panel(above, upper, found, 100.0),
        _draw_panel(below, lower, found, None if limit is None else limit / force[1]),
    )
    placer, ranks = Placer(figure, above.bbox), [layout.rank for layout in found.placement.layouts]
    for axes, at in zip((above, below), places, strict=True):
        placer.frame = axes.get_window_extent()
        marks = zip(ranks, axes.transData.transform(at).tolist(), strict=True)
        placer.place([Label(str(rank), (x, y), leader_from=9.0) for rank, (x, y) in marks])
    return figure


def _draw_panel(
    axes: Axes, pair: tuple[_Measure, _Measure], found: Found, limit: float | None
) -> np.ndarray:
    """All layouts by two measures, and a limit of the second; places of the listed ones."""
    layouts, others, listed = found.placement.layouts, [], []
    for measure, axis in zip(pair, "xy", strict=True):
        others.append(found.goals[:, GOALS.index(measure.goal)] / measure.factor)
        keyed = [abs(getattr(layout, measure.key)) for layout in layouts]
        listed.append(np.array(keyed) / measure.factor)
        values = np.concatenate([others[-1], listed[-1]])
        low, high = float(np.min(values)), float(np.max(values))
        room = _AROUND * ((high - low) or abs(high) or 1.0)
        axes.set(**{f"{axis}lim": (low - room, high + room)})
        label = f"{measure.name} [{measure.unit}]"
        (axes.set_xlabel if axis == "x" else axes.set_ylabel)(label, fontsize=FONT_SIZE)
    for chosen, fill in ((found.on_front, _FILLED), (~found.on_front, "white")):
        axes.plot(
            others[0][chosen], others[1][chosen], "o", ms=3.0, mfc=fill, mec=SOFT, mew=0.6,
            zorder=3, gid="other",
        )  # fmt: skip
    lengths = np.array([layout.plate_length for layout in layouts])
    shares = (lengths - lengths.min()) / (np.ptp(lengths) or 1.0)
    sizes = _SIZES[0] + shares * (_SIZES[1] - _SIZES[0])
    for layout, across, up, size in zip(layouts, *listed, sizes, strict=True):
        fill = _FILLED if layout.pareto else "white"
        axes.plot(
            [across], [up], "o", ms=size, mfc=fill, mec=BLACK, mew=0.9, zorder=4, gid="layout"
        )
    axes.grid(color="0.9", linewidth=0.5)
    axes.set_axisbelow(True)
    if limit is not None:
        _draw_limit(axes, limit)
    return np.stack(listed, axis=-1)


def _draw_limit(axes: Axes, limit: float) -> None:
    """A line, or words where it is far above."""
    low, high = axes.get_ylim()
    at, side, text = 0.97, "top", f"limit {limit:.4g}: above this picture"
    if limit <= high + _NEAR * (high - low):
        axes.set_ylim(low, max(high, limit + 0.12 * (high - low)))
        axes.axhline(limit, color=LIMIT, linewidth=1.4, linestyle=LIMIT_STYLE, gid="limit")
        at, side, text = limit, "bottom", "limit"
    axes.text(
        0.01, at, text, color=LIMIT, fontsize=FONT_SIZE, va=side, gid="limit name",
        transform=axes.transAxes if side == "top" else axes.get_yaxis_transform(),
    )  # fmt: skip
