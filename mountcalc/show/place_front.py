"""What is given up for what among the layouts that were found: two pairs of measures."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.results.place import PlacedLayout, Placement
from mountcalc.scenario.model import Scenario
from mountcalc.show.display import UNITS
from mountcalc.show.label_placing import Label, Placer
from mountcalc.show.plot_style import (
    FONT_SIZE,
    INK,
    LIMIT,
    LIMIT_STYLE,
    heading,
    new_figure,
    panel,
)
from mountcalc.units import si_factor

__all__ = ["front_figure"]

_WIDTH, _HEIGHT = 8.0, 8.0
_LEFT, _RIGHT, _GAP, _BOTTOM = 0.75, 0.2, 0.72, 0.62
_AROUND = 0.14  # of the spread of the points, free on either side
_SIZES = (5.0, 11.0)  # points: the shortest and the longest plate


def front_figure(scenario: Scenario, placement: Placement) -> Figure:
    """Draw the layouts of the list by what they are compared by.

    Parameters
    ----------
    scenario : Scenario
        The mount that the search started from, for its limits and units.
    placement : Placement
        At least one layout.

    Returns
    -------
    Figure
        Filled where no other layout is better in all: above, tension per turn and worst share of
        a bearing's limit; below, plate length and force on the adjuster.
    """
    figure = new_figure(_WIDTH, _HEIGHT)
    top = heading(figure, f"What is given up for what: {scenario.title}", _LINES) + 0.1
    tall = (_HEIGHT - top - _GAP - _BOTTOM) / 2
    units = UNITS[scenario.display]
    force, length = si_factor(units.force), si_factor(units.length)
    upper = panel(figure, _LEFT, _RIGHT, top, tall)
    lower = panel(figure, _LEFT, _RIGHT, top + tall + _GAP, tall)
    found = placement.layouts
    fine = [layout.tension_per_turn / force for layout in found]
    shares = [100 * layout.worst_share_of_limit for layout in found]
    plates = [layout.plate_length / length for layout in found]
    bolts = [abs(layout.adjuster) / force for layout in found]
    _panel(upper, (fine, shares), found, 100.0)
    limit = scenario.limits.adjuster
    _panel(lower, (plates, bolts), found, None if limit is None else limit / force)
    for axes, x, y in (
        (upper, f"Tension per turn, one strand [{units.force}]", "Worst share of a limit [%]"),
        (lower, f"Plate length [{units.length}]", f"Force on the adjuster [{units.force}]"),
    ):
        axes.set_xlabel(x, fontsize=FONT_SIZE)
        axes.set_ylabel(y, fontsize=FONT_SIZE)
    for axes, x_values, y_values in ((upper, fine, shares), (lower, plates, bolts)):
        _place_ranks(figure, axes, x_values, y_values, found)
    return figure


_LINES = (
    "Filled: on the Pareto front, no other layout is at least as good in all four and better in "
    "one. Numbers: ranks of the list. Larger circles: longer plates. Towards the lower left is "
    "better.",
    "Share of a bearing's limit: worst over the hand's error. Force on the adjuster: at rest, set.",
)


def _panel(
    axes: Axes,
    values: tuple[list[float], list[float]],
    found: tuple[PlacedLayout, ...],
    limit: float | None,
) -> None:
    x, y = values
    for axis, numbers in ((axes.set_xlim, x), (axes.set_ylim, y)):
        low, high = min(numbers), max(numbers)
        room = _AROUND * ((high - low) or abs(high) or 1.0)
        axis(low - room, high + room)
    lengths = [layout.plate_length for layout in found]
    least, most = min(lengths), max(lengths)
    for layout, across, up in zip(found, x, y, strict=True):
        share = (layout.plate_length - least) / ((most - least) or 1.0)
        size = _SIZES[0] + share * (_SIZES[1] - _SIZES[0])
        fill = "0.55" if layout.pareto else "white"
        axes.plot([across], [up], "o", ms=size, mfc=fill, mec=INK, mew=0.9, zorder=4, gid="layout")
    axes.grid(color="0.9", linewidth=0.5)
    axes.set_axisbelow(True)
    if limit is not None:
        _limit(axes, limit)


def _limit(axes: Axes, limit: float) -> None:
    """The limit as a line, or an arrow to it where it is far above."""
    low, high = axes.get_ylim()
    if limit <= high + 0.6 * (high - low):
        axes.set_ylim(low, max(high, limit + 0.12 * (high - low)))
        axes.axhline(limit, color=LIMIT, linewidth=1.4, linestyle=LIMIT_STYLE, gid="limit")
        axes.text(
            0.01, limit, "limit", transform=axes.get_yaxis_transform(), color=LIMIT,
            fontsize=FONT_SIZE, va="bottom", gid="limit name",
        )  # fmt: skip
        return
    axes.text(
        0.01, 0.97, f"limit {limit:.4g}, far above", transform=axes.transAxes, color=LIMIT,
        fontsize=FONT_SIZE, va="top", gid="limit name",
    )  # fmt: skip


def _place_ranks(
    figure: Figure, axes: Axes, x: list[float], y: list[float], found: tuple[PlacedLayout, ...]
) -> None:
    """Ranks beside their circles."""
    placer = Placer(figure, axes.get_window_extent())
    places = axes.transData.transform(list(zip(x, y, strict=True)))
    placer.place(
        [
            Label(str(layout.rank), (float(at[0]), float(at[1])), leader_from=9.0)
            for layout, at in zip(found, places, strict=True)
        ]
    )
