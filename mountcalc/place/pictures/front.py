"""What is given up for what among the layouts that were found: two pairs of measures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

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
from mountcalc.place.results import PlacedLayout
from mountcalc.place.search.objective import GOALS
from mountcalc.place.search.search import Found
from mountcalc.scenario.model import Scenario
from mountcalc.units import si_factor

__all__ = ["front_figure"]

Array = NDArray[np.float64]

_WIDTH, _HEIGHT = 8.0, 8.0
_LEFT, _RIGHT, _GAP, _BOTTOM = 0.75, 0.2, 0.72, 0.62
_FILLED = "0.55"
_NEAR = 1.5  # of the height of a panel that it may grow by to show a limit
_AROUND = 0.14  # of the spread of the points, free on either side
_SIZES = (5.0, 11.0)  # points: the shortest and the longest plate


def front_figure(scenario: Scenario, found: Found) -> Figure:
    """Draw the layouts that were found by what they are compared by."""
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, f"What is given up for what: {scenario.title}", _LINES) + 0.1
    tall = (_HEIGHT - top - _GAP - _BOTTOM) / 2
    units = UNITS[scenario.display]
    force, length = si_factor(units.force), si_factor(units.length)
    limit = scenario.limits.adjuster
    places = []
    for below, pair, limit_here in (
        (0.0, (_FINE.of(force), _SHARE.of(0.01)), 100.0),
        (tall + _GAP, (_LENGTH.of(length), _BOLT.of(force)), limit and limit / force),
    ):
        axes = panel(figure, _LEFT, _RIGHT, top + below, tall)
        places.append((axes, _draw_panel(axes, pair, found, limit_here)))
        for name, measure in zip(("xlabel", "ylabel"), pair, strict=True):
            unit = {_SHARE.name: "%", _LENGTH.name: units.length}.get(measure.name, units.force)
            axes.set(**{name: f"{measure.name} [{unit}]"})
            axes.xaxis.label.set_fontsize(FONT_SIZE)
            axes.yaxis.label.set_fontsize(FONT_SIZE)
    for axes, at in places:
        _place_ranks(figure, axes, at, found.placement.layouts)
    return figure


@dataclass(frozen=True, slots=True)
class _Measure:
    """A measure by its name, of a listed layout and of any (a column of goals), per unit."""

    name: str
    listed: str
    goal: str
    unit: float = 1.0

    def of(self, unit: float) -> _Measure:
        """The same in a unit."""
        return replace(self, unit=unit)

    def of_listed(self, layouts: Sequence[PlacedLayout]) -> Array:
        """Of each listed layout."""
        return np.array([abs(getattr(layout, self.listed)) for layout in layouts]) / self.unit

    def of_all(self, goals: Array) -> Array:
        """Of all that were brought to marks."""
        return goals[:, GOALS.index(self.goal)] / self.unit


_FINE = _Measure("Tension per turn, one strand", "tension_per_turn", "tension_per_turn")
_SHARE = _Measure("Worst share of a bearing's limit", "worst_share_of_limit", "worst_share")
_LENGTH = _Measure("Plate length", "plate_length", "plate_length")
_BOLT = _Measure("Force on the adjuster, at rest", "adjuster", "adjuster")

_LINES = (
    "Filled: on the Pareto front, no other layout is at least as good in all that is compared "
    "(above, below, and tension per length of bolt) and better in one. Numbers: ranks of the list. "
    "Small: not listed. Larger circles: longer plates. Lower left is better.",
)


def _draw_panel(
    axes: Axes, pair: tuple[_Measure, _Measure], found: Found, limit: float | None
) -> list[tuple[float, float]]:
    """All layouts by two measures, and a limit of the second; places of the listed ones."""
    layouts = found.placement.layouts
    x, y = (measure.of_listed(layouts) for measure in pair)
    others = [measure.of_all(found.goals) for measure in pair]
    for set_limits, values in ((axes.set_xlim, (x, others[0])), (axes.set_ylim, (y, others[1]))):
        low, high = min(map(np.min, values)), max(map(np.max, values))
        room = _AROUND * ((high - low) or abs(high) or 1.0)
        set_limits(low - room, high + room)
    for chosen, fill in ((found.on_front, _FILLED), (~found.on_front, "white")):
        axes.plot(
            others[0][chosen], others[1][chosen], "o", ms=3.0, mfc=fill, mec=SOFT, mew=0.6,
            zorder=3, gid="other",
        )  # fmt: skip
    lengths = _LENGTH.of_listed(layouts)
    shares = (lengths - lengths.min()) / (np.ptp(lengths) or 1.0)
    sizes = _SIZES[0] + shares * (_SIZES[1] - _SIZES[0])
    for layout, across, up, size in zip(layouts, x, y, sizes, strict=True):
        fill = _FILLED if layout.pareto else "white"
        axes.plot(
            [across], [up], "o", ms=size, mfc=fill, mec=BLACK, mew=0.9, zorder=4, gid="layout"
        )
    axes.grid(color="0.9", linewidth=0.5)
    axes.set_axisbelow(True)
    if limit is not None:
        _limit(axes, limit)
    return list(zip(x.tolist(), y.tolist(), strict=True))


def _limit(axes: Axes, limit: float) -> None:
    """The limit as a line, or in words where it is far above."""
    low, high = axes.get_ylim()
    if limit <= high + _NEAR * (high - low):
        axes.set_ylim(low, max(high, limit + 0.12 * (high - low)))
        axes.axhline(limit, color=LIMIT, linewidth=1.4, linestyle=LIMIT_STYLE, gid="limit")
        place, text, side = (0.01, limit), "limit", "bottom"
        transform = axes.get_yaxis_transform()
    else:
        place, text, side = (0.01, 0.97), f"limit {limit:.4g}: above this picture", "top"
        transform = axes.transAxes
    axes.text(
        *place, text, transform=transform, color=LIMIT, fontsize=FONT_SIZE, va=side,
        gid="limit name",
    )  # fmt: skip


def _place_ranks(
    figure: Figure,
    axes: Axes,
    places: Sequence[tuple[float, float]],
    layouts: Sequence[PlacedLayout],
) -> None:
    """Ranks beside their circles."""
    placer = Placer(figure, axes.get_window_extent())
    labels = []
    for layout, place in zip(layouts, places, strict=True):
        x, y = axes.transData.transform(place)
        labels.append(Label(str(layout.rank), (float(x), float(y)), leader_from=9.0))
    placer.place(labels)
