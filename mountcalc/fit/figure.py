"""The picture of a fit: tension against a person's turns, by the file and by the readings."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from mountcalc.fit.answer import FittedMount
from mountcalc.fit.results import FittedReading
from mountcalc.pages import curves
from mountcalc.pages.amounts import UNITS, DisplayUnits
from mountcalc.pages.plot_style import BELT, BLACK, FONT_SIZE, LIMIT, PALE, SOFT, turns_words
from mountcalc.scenario.model import Scenario
from mountcalc.table import tension_table
from mountcalc.units import si_factor

Array = NDArray[np.float64]

_POINTS = 81
_BEYOND = 1.15  # of the most turns and tension that were read
_SURE = 1.645  # standard deviations that nine of ten readings keep
_MARKS = {
    "balance": ("o", "circle"),
    "push": ("s", "square"),
    "swings": ("^", "triangle"),
    "hung": ("D", "diamond"),
    "spring": ("v", "triangle on its tip"),
}


def fit_figure(scenario: Scenario, found: FittedMount) -> Figure:
    """Draw the bands before and after, and what each reading by itself would mean."""
    fit, units = found.fit, UNITS[scenario.display]
    told = [one for one in fit.readings if one.turns is not None and one.tension is not None]
    marks = [f"{_MARKS[name][1]} {name}" for name in dict.fromkeys(one.method for one in told)]
    zero = fit.zero_turns.value
    last = _BEYOND * max([1.0, zero + 1.0, *(one.turns or 0.0 for one in told)])
    first = min([0.0, zero, *(one.turns or 0.0 for one in told)])
    turns = np.linspace(first - 0.05 * (last - first), last, _POINTS)
    lines = (
        "Bands: from the softest to the stiffest belt, as the file has it and as it was fitted.",
        "Marks: what each reading by itself tells, nine of ten within their bars"
        + (f" ({', '.join(marks)})." if marks else "."),
    )
    figure, (axes,) = curves.turns_panels(
        4.8, f"{fit.title}: before and after the readings", lines, turns, (None,)
    )
    axes.set_xlabel("turns on your count, positive tightens", fontsize=FONT_SIZE)
    before = _bands(scenario, turns[turns >= 0])
    after = _bands(found.scenario, turns[turns >= zero] - zero)
    force = si_factor(units.force)
    read = [((one.tension or 0.0) + _SURE * (one.tension_error or 0.0)) / force for one in told]
    most = [float(np.nanmax(after["tension_high"], initial=0.0)) / force, *read]
    curves.name_scale(axes, f"tension at rest,\none strand [{units.force}]", _BEYOND * max(most))
    labels = _band(axes, before, 0.0, "before", PALE, units)
    labels += _band(axes, after, zero, "fitted", BELT, units)
    for one in told:
        labels += _mark(axes, one, force, scenario.limits.turn_error)
    low, high = fit.zero_turns.low, fit.zero_turns.high
    axes.axvspan(low, high, facecolor=BLACK, alpha=0.08, linewidth=0, gid="zero range")
    axes.axvline(zero, color=BLACK, linewidth=0.8, linestyle=(0, (2, 2)), gid="true zero")
    axes.annotate(
        f"true zero: {turns_words(round(16 * zero) / 16)}", (zero, axes.get_ylim()[1]), (4, -12),
        textcoords="offset points", fontsize=FONT_SIZE, gid="zero word",
    )  # fmt: skip
    curves.draw_end_labels(axes, labels)
    return figure


def _bands(scenario: Scenario, turns: Array) -> Mapping[str, Array]:
    columns = tension_table(scenario, turns).columns()
    return {name: columns[name] for name in ("turns", "tension_low", "tension", "tension_high")}


def _band(
    axes: Axes, band: Mapping[str, Array], zero: float, name: str, colour: str, units: DisplayUnits
) -> list[curves.EndLabel]:
    """Draw the range of the tension; the label tells its ends at the last turn."""
    force = si_factor(units.force)
    turns = band["turns"] + zero
    low, middle, high = (band[key] / force for key in ("tension_low", "tension", "tension_high"))
    axes.fill_between(turns, low, high, facecolor=colour, alpha=0.4, linewidth=0, gid=name)
    line = SOFT if colour == PALE else colour
    axes.plot(turns, middle, color=line, linewidth=1.2, gid=f"{name} middle")

    def text(_: float) -> str:
        ends = (units.strength(float(one[np.isfinite(one)][-1]) * force, 2) for one in (low, high))
        return f"{name}: {'-'.join(ends)} {units.force}"

    return curves.end_label(axes, turns, middle, text, line)


def _mark(axes: Axes, one: FittedReading, force: float, missed: float) -> list[curves.EndLabel]:
    """A reading, and the turns that a hand misses; one that disagrees is named."""
    assert one.turns is not None
    assert one.tension is not None
    colour = LIMIT if one.suspect else BLACK
    height, error = one.tension / force, _SURE * (one.tension_error or 0.0) / force
    axes.errorbar(
        [one.turns], [height], xerr=[_SURE * missed], yerr=[error],
        fmt=_MARKS[one.method.value][0], color=colour, markersize=4.5, elinewidth=0.8, capsize=2.5,
        markerfacecolor="white", zorder=5, gid=f"reading {one.row}",
    )  # fmt: skip
    if not one.suspect:
        return []
    return [curves.EndLabel(f"row {one.row} disagrees", one.turns, height, colour)]
