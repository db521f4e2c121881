"""The loads picture of a single setting: bars, one group a load case."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.pages.display import UNITS, DisplayUnits
from mountcalc.pages.plot_style import (
    FONT_SIZE,
    INK,
    LIMIT,
    PALE,
    STATE_WORDS,
    fitted_name,
    heading,
    new_figure,
    panel,
    plain,
    text_size,
    turns_words,
)
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import Case, Row, TensionTable
from mountcalc.units import si_factor

__all__ = ["bars_figure"]

_WIDTH, _HEIGHT = 8.0, 6.0
_LEFT, _RIGHT = 0.75, 0.15
_UPPER, _LOWER_GAP, _BOTTOM = 1.75, 0.42, 0.62
_BAR = 0.72
_STEP = 1.15  # from one bar of a group to the next
_SLOT = 1.11  # of that, for the name below a bar
_FAR = 2.2
_WORDS = 0.30  # of the scale, above the bars, for limits that are far
_LOW = 0.2  # of the scale: a limit below this would cover the value at the bar's foot
_FACES = {"rest": "0.85", "running": "0.6", "starting": "white"}
_HATCHES = {"rest": "", "running": "", "starting": "////"}


@dataclass(frozen=True, slots=True)
class _Bar:
    """One bar: place, name below it, height [N] (None: nothing to say) and its limit [N]."""

    place: float
    name: str
    value: float | None
    case: str
    limit: float | None = None
    low: float | None = None
    high: float | None = None


def bars_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Bars for one setting."""
    row, units = table.rows[0], UNITS[scenario.display]
    figure = new_figure(_WIDTH, _HEIGHT)
    at = "No adjuster: weight alone" if row.turns is None else f"At {turns_words(row.turns)}"
    lines = (
        f"Tension and loads at one setting. {at}. Tight and slack include the centrifugal part;",
        "the mark on the bar at rest goes from the softest to the stiffest belt.",
        *_state_lines(row),
    )
    top = heading(figure, table.title, lines) + 0.10
    upper = panel(figure, _LEFT, _RIGHT, top, _UPPER)
    start = top + _UPPER + _LOWER_GAP
    lower = panel(figure, _LEFT, _RIGHT, start, _HEIGHT - _BOTTOM - start)
    for axes in (upper, lower):
        axes.set_xlim(-0.8, 10.8)
    _draw(upper, _tension_bars(row), units)
    upper.set_ylabel(f"tension of one strand\nof one belt [{units.force}]", fontsize=FONT_SIZE)
    _draw(lower, _load_bars(scenario, row), units)
    lower.set_ylabel(f"load on the shaft and\non each bearing [{units.force}]", fontsize=FONT_SIZE)
    for name, middle in (("rest", 1.0), ("running", 5.0), ("starting", 9.0)):
        lower.annotate(
            _group(name, row.cases[name]), (middle, 0), (0, -30), textcoords="offset points",
            fontsize=FONT_SIZE, ha="center", va="top", annotation_clip=False, gid="group",
        )  # fmt: skip
    return figure


def _group(name: str, case: Case) -> str:
    return f"{name}: {STATE_WORDS[case.state]}" + (", slips" if case.slips else "")


def _state_lines(row: Row) -> tuple[str, ...]:
    lost = [name for name, case in row.cases.items() if case.shaft_load is None]
    if not lost:
        return ()
    return (f"Nothing to draw where the plate has no place: {', '.join(lost)}.",)


def _tension_bars(row: Row) -> list[_Bar]:
    low, high = row.tension_low, row.tension_high
    bars = [_Bar(1.0, "both at rest", row.tension, "rest", None, low, high)]
    for name, middle in (("running", 5.0), ("starting", 9.0)):
        case = row.cases[name]
        bars.append(_Bar(middle - 0.7, f"{name}, tight", case.tight, name))
        bars.append(_Bar(middle + 0.7, f"{name}, slack", case.slack, name))
    return bars


def _load_bars(scenario: Scenario, row: Row) -> list[_Bar]:
    bars = []
    for name, middle in (("rest", 1.0), ("running", 5.0), ("starting", 9.0)):
        case = row.cases[name]
        bars.append(_Bar(middle - _STEP, "shaft", case.shaft_load, name))
        for step, bearing, given in zip(
            (0.0, _STEP), case.bearings, scenario.driven.bearings, strict=True
        ):
            limit = given.starting_limit if name == "starting" else given.limit
            bars.append(_Bar(middle + step, given.name, bearing.load, name, limit))
    return bars


def _draw(axes: Axes, bars: list[_Bar], units: DisplayUnits) -> None:
    unit = si_factor(units.force)
    top = _top_of_scale(bars, unit)
    axes.set_ylim(0, top)
    figure = axes.get_figure(root=True)
    assert figure is not None
    room = _SLOT * float(axes.bbox.width) / (axes.get_xlim()[1] - axes.get_xlim()[0])
    names = ["\n".join(_two_lines(figure, bar.name, room)) for bar in bars]
    axes.set_xticks([bar.place for bar in bars], names, parse_math=False)
    axes.tick_params(axis="x", length=0, pad=2)
    for bar in bars:
        _draw_bar(axes, bar, unit)
        _write_bar(axes, bar, units, top)


def _two_lines(figure: Figure, name: str, room: float) -> list[str]:
    """A name below a bar: broken at a blank where it is long, the rest cut in its middle."""
    first, _, rest = name.strip().partition(" ")
    if text_size(figure, plain(name))[0] <= room or not rest:
        return [fitted_name(figure, name, room)]
    return [fitted_name(figure, first, room), fitted_name(figure, rest, room)]


def _top_of_scale(bars: list[_Bar], unit: float) -> float:
    """Upper end of the scale [unit]: all bars, limits that are near, and room for words."""
    drawn = [value for bar in bars for value in (bar.value, bar.high) if value is not None]
    limits = [bar.limit for bar in bars if bar.limit is not None]
    most = max(drawn, default=0.0)
    near = [limit for limit in limits if limit <= _FAR * most]
    return (1 + _WORDS) * (max([most, *near]) or min(limits, default=unit)) / unit


def _draw_bar(axes: Axes, bar: _Bar, unit: float) -> None:
    if bar.value is not None:
        axes.bar(
            bar.place, bar.value / unit, _BAR, facecolor=_FACES[bar.case], edgecolor=INK,
            linewidth=0.8, hatch=_HATCHES[bar.case],
        )  # fmt: skip
    if bar.low is not None and bar.high is not None:
        axes.plot([bar.place] * 2, [bar.low / unit, bar.high / unit], "_-", color=INK, lw=1.2, ms=9)


def _write_bar(axes: Axes, bar: _Bar, units: DisplayUnits, top: float) -> None:
    """The value at the bar's foot, the limit at its line: the value moves up where they meet."""
    unit = si_factor(units.force)
    limit = None if bar.limit is None else bar.limit / unit
    foot, value = 0.0, "none" if bar.value is None else units.strength(bar.value)
    if limit is not None and limit < _LOW * top:
        foot = max(limit + _LOW * top, (bar.value or 0.0) / unit)
    axes.annotate(
        value, (bar.place, foot), (0, 3), textcoords="offset points", fontsize=FONT_SIZE,
        ha="center", va="bottom", gid="value",
        bbox={"facecolor": "white", "edgecolor": PALE, "pad": 0.8, "lw": 0.5},
    )  # fmt: skip
    if limit is None or bar.limit is None:
        return
    inside = limit <= top
    if inside:
        half = 0.5 * _BAR + 0.12
        ends = [bar.place - half, bar.place + half]
        axes.plot(ends, [limit] * 2, color=LIMIT, lw=2.2, gid="limit")
    axes.annotate(
        f"limit{'' if inside else ' ↑'}\n{units.strength(bar.limit)}",
        (bar.place, min(limit, top)), (0, 2.5 if inside else -3), textcoords="offset points",
        fontsize=FONT_SIZE, color=LIMIT, ha="center", va="bottom" if inside else "top",
        linespacing=0.95, bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.4},
    )  # fmt: skip
