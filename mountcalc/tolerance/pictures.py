"""Many builds as a picture: bands of the tension over turns, and which error makes them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.pages import curves
from mountcalc.pages.amounts import UNITS, turns_text
from mountcalc.pages.bars import Bar, draw_bars, name_groups
from mountcalc.pages.plot_style import (
    BELT,
    BLACK,
    FONT_SIZE,
    PALE,
    heading,
    new_figure,
    panel,
    turns_words,
)
from mountcalc.scenario.model import Scenario
from mountcalc.tolerance.page import SOURCES, of_builds
from mountcalc.tolerance.results import Tolerance
from mountcalc.units import si_factor

_WIDTH, _HEIGHT, _BARS, _BELOW, _BETWEEN = 8.0, 6.4, 1.7, 0.72, 0.75
_TOP = 112.0  # of the bars' scale, in per cent
_TOLD = 0.01  # of a variance: less has no bar
_MOST = 3  # bars of one answer; the others share one
_FEWEST = 6  # bars that there is room for: few are no wider
_ANSWERS = (
    ("snug_turns_share", "where zero comes", "rest"),
    ("tension_per_turn_share", "what a turn gives", "running"),
    ("set_tension_share", "tension as set", "starting"),
)


def tolerance_figure(scenario: Scenario, found: Tolerance) -> Figure:
    """Draw what builds come to: bands over turns, where there are any, and bars of shares."""
    lines = [
        f"{found.builds:,} builds: the range is open in {of_builds(found.outcome.open_share)}."
    ]
    if found.outcome.set_share is not None and found.set_turns is not None:
        lines.append(
            f"Set by counting {turns_words(found.set_turns)}, {of_builds(found.outcome.set_share)} "
            "keep grip and limits."
        )
    tall = _HEIGHT if found.rows else _HEIGHT - 2.6
    figure = new_figure(_WIDTH, tall)
    title = f"{found.title}: how well it must be built"
    top = heading(figure, title, (" ".join(lines),)) + (0.08 if found.set_turns is None else 0.22)
    if found.rows:
        height = tall - top - _BETWEEN - _BARS - _BELOW
        _draw_bands(panel(figure, 0.88, 2.25, top, height), scenario, found)
        top += height + _BETWEEN
    _draw_shares(panel(figure, 0.88, 0.15, top, tall - top - _BELOW), found)
    return figure


def _draw_bands(axes: Axes, scenario: Scenario, found: Tolerance) -> None:
    units, force = UNITS[scenario.display], si_factor(UNITS[scenario.display].force)
    turns = np.array([row.turns for row in found.rows])
    low, middle, high = (
        np.array([getattr(row, f"tension_p{percent}") for row in found.rows]) / force
        for percent in (5, 50, 95)
    )
    axes.set_xlim(float(turns[0]), float(turns[-1]))
    curves.name_scale(axes, f"tension at rest,\none strand [{units.force}]", 1.08 * np.max(high))
    axes.set_xlabel("turns from the build's own zero, positive tightens", fontsize=FONT_SIZE)
    axes.fill_between(turns, low, high, facecolor=PALE, alpha=0.45, linewidth=0, gid="band")
    labels = []
    for values, percent, style, wide in (
        (high, 95, ":", 0.9),
        (middle, 50, "-", 1.8),
        (low, 5, ":", 0.9),
    ):
        axes.plot(turns, values, style, color=BELT, linewidth=wide, gid=f"p{percent}", zorder=3)

        def said(value: float, percent: int = percent) -> str:
            return f"{percent} % below {units.strength(value * force, 2)} {units.force}"

        labels += curves.end_label(axes, turns, values, said, BELT)
    curves.draw_end_labels(axes, labels)
    if found.set_turns is not None and found.set_tension is not None:
        axes.axvline(found.set_turns, color=BLACK, linewidth=0.9, linestyle="--", gid="line set")
        curves.draw_mark(axes, found.set_turns, found.set_tension / force, "drawn")
        axes.annotate(
            f"set as drawn: {turns_text(found.set_turns)}", (found.set_turns, 1.0), (0, 3),
            xycoords=("data", "axes fraction"), textcoords="offset points", fontsize=FONT_SIZE,
            ha="center", va="bottom", gid="set name",
        )  # fmt: skip


def _draw_shares(axes: Axes, found: Tolerance) -> None:
    bars, groups = list[Bar](), dict[float, str]()
    for name, words, case in _ANSWERS:
        shares = list(_shares(found, name))
        if shares:
            first = bars[-1].place + 1.6 if bars else 0.0
            for number, (source, share) in enumerate(shares):
                text = f"{100 * share:.0f} %"
                bars.append(Bar(first + number, source, case, 100 * share, text))
            groups[first + 0.5 * (len(shares) - 1)] = words if found.zero else "tension by weight"
    axes.set_xlim(-0.75, max(bars[-1].place if bars else 0.0, _FEWEST) + 0.75)
    axes.set_ylabel("share of\nthe variance [%]", fontsize=FONT_SIZE)
    draw_bars(axes, bars, _TOP, 0.95)
    name_groups(axes, groups)


def _shares(found: Tolerance, name: str) -> Iterator[tuple[str, float]]:
    """The sources of one answer's variance, the greatest first, then what is left of it."""
    known = {SOURCES[one.source]: getattr(one, name) for one in found.shares}
    told = sorted(
        ((source, share) for source, share in known.items() if (share or 0.0) >= _TOLD),
        key=lambda pair: -pair[1],
    )[:_MOST]
    yield from told
    left = 1.0 - sum(share for _, share in told)
    if told and left >= _TOLD:
        yield "others", left
