"""Tension, shaft load and bearing loads with the limits: curves over turns, or bars."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.pages.amounts import UNITS
from mountcalc.pages.bars import Bar, draw_bars
from mountcalc.pages.plot_style import (
    FONT_SIZE,
    STATE_WORDS,
    heading,
    new_figure,
    panel,
    turns_words,
)
from mountcalc.scenario.model import Scenario
from mountcalc.table.pictures.curves import FAR, curves_figure
from mountcalc.table.results import Case, Row, TensionTable
from mountcalc.units import si_factor

__all__ = ["loads_figure"]

_WIDTH, _HEIGHT = 8.0, 6.0
_LEFT, _RIGHT = 0.75, 0.15
_UPPER, _LOWER_GAP, _BOTTOM = 1.75, 0.42, 0.62
_STEP = 1.15  # from one bar of a group to the next
_SLOT = 1.11  # for the name below a bar
_WORDS = 0.30  # of the scale, above the bars, for limits that are far
_GROUPS = {"rest": 1.0, "running": 5.0, "starting": 9.0}  # their middles


def loads_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Draw a tension table: of a single setting as bars, one group a load case."""
    turns = [row.turns for row in table.rows if row.turns is not None]
    if len(turns) > 1:
        return curves_figure(scenario, table)
    row, force = table.rows[0], UNITS[scenario.display].force
    figure = new_figure(_WIDTH, _HEIGHT)
    at = "No adjuster: weight alone" if row.turns is None else f"At {turns_words(row.turns)}"
    lost = [name for name, case in row.cases.items() if case.shaft_load is None]
    lines = (
        f"Tension and loads at one setting. {at}. Tight and slack include the centrifugal part;",
        "the mark on the bar at rest goes from the softest to the stiffest belt.",
        *([f"Nothing to draw where the plate has no place: {', '.join(lost)}."] if lost else ()),
    )
    top = heading(figure, table.title, lines) + 0.10
    start = top + _UPPER + _LOWER_GAP
    upper = panel(figure, _LEFT, _RIGHT, top, _UPPER)
    lower = panel(figure, _LEFT, _RIGHT, start, _HEIGHT - _BOTTOM - start)
    _draw(upper, _tension_bars(scenario, row))
    _draw(lower, _load_bars(scenario, row))
    upper.set_ylabel(f"tension of one strand\nof one belt [{force}]", fontsize=FONT_SIZE)
    lower.set_ylabel(f"load on the shaft and\non each bearing [{force}]", fontsize=FONT_SIZE)
    for name, middle in _GROUPS.items():
        lower.annotate(
            _group(name, row.cases[name]), (middle, 0), (0, -30), textcoords="offset points",
            fontsize=FONT_SIZE, ha="center", va="top", annotation_clip=False, gid="group",
        )  # fmt: skip
    return figure


def _group(name: str, case: Case) -> str:
    return f"{name}: {STATE_WORDS[case.state]}" + (", slips" if case.slips else "")


def _bar(
    scenario: Scenario,
    place: float,
    names: tuple[str, str],
    value: float | None,
    limit: float | None = None,
) -> Bar:
    """A bar of a force [N] by its name and its case."""
    units = UNITS[scenario.display]
    force = si_factor(units.force)
    text = "none" if value is None else units.strength(value)
    shown = None if value is None else value / force
    if limit is None:
        return Bar(place, *names, shown, text)
    return Bar(place, *names, shown, text, limit / force, f"limit\n{units.strength(limit)}")


def _tension_bars(scenario: Scenario, row: Row) -> list[Bar]:
    bars = []
    for name in ("running", "starting"):
        case, middle = row.cases[name], _GROUPS[name]
        bars.append(_bar(scenario, middle - 0.7, (f"{name}, tight", name), case.tight))
        bars.append(_bar(scenario, middle + 0.7, (f"{name}, slack", name), case.slack))
    rest = _bar(scenario, _GROUPS["rest"], ("both at rest", "rest"), row.tension)
    force = si_factor(UNITS[scenario.display].force)
    low, high = (
        None if value is None else value / force for value in (row.tension_low, row.tension_high)
    )
    return [Bar(rest.place, rest.name, rest.case, rest.value, rest.text, reach=(low, high)), *bars]


def _load_bars(scenario: Scenario, row: Row) -> list[Bar]:
    bars = []
    for name, middle in _GROUPS.items():
        case = row.cases[name]
        bars.append(_bar(scenario, middle - _STEP, ("shaft", name), case.shaft_load))
        for step, bearing, given in zip(
            (0.0, _STEP), case.bearings, scenario.driven.bearings, strict=True
        ):
            limit = given.starting_limit if name == "starting" else given.limit
            bars.append(_bar(scenario, middle + step, (given.name, name), bearing.load, limit))
    return bars


def _draw(axes: Axes, bars: list[Bar]) -> None:
    axes.set_xlim(-0.8, 10.8)
    # All bars, limits that are near, and room for words.
    drawn = [value for bar in bars for value in (bar.value, bar.reach[1]) if value is not None]
    limits = [bar.line for bar in bars if bar.line is not None]
    most = max(drawn, default=0.0)
    near = [limit for limit in limits if limit <= FAR * most]
    nearest = min(limits, default=1.0)
    draw_bars(axes, bars, (1 + _WORDS) * (max([most, *near]) or nearest), _SLOT)
