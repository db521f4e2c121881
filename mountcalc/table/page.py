"""The tension table as text for the bench: 80 columns, plain characters."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from mountcalc.pages.amounts import UNITS, figures, fitted, percent, turns_text
from mountcalc.pages.page import bullets, heading, page, paragraph, unlikely, wrap
from mountcalc.requirements.notes import told
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.table import words
from mountcalc.table.results import Case, Row, TensionTable

__all__ = ["table_text"]

_TURNS_WIDTH = 7
_HUM_WIDTH = 5
_MUCH_GRIP = 99.0
_COLUMNS = 80
_CASES = ("rest", "run", "start")


class _Column(NamedTuple):
    """A column: two lines of heading, its width with the space before it, and a row's cell."""

    head: str
    unit: str
    width: int
    cell: Callable[[Row], str]


def table_text(
    scenario: Scenario,
    table: TensionTable,
    setting: Setting | None = None,
    *,
    more: bool = False,
) -> str:
    """The page: what to do, the setting; with ``more`` by hand, by load case, margins and notes."""
    answer = [
        _heading(scenario, table),
        paragraph("Verdict", words.verdict(scenario, table, setting)),
        paragraph("Zero", words.finding_zero(scenario, table)),
        paragraph("Tighten", words.which_way(scenario, table)),
        _setting(scenario, table),
        "" if more else unlikely(scenario),  # among the notes
    ]
    rest = (
        _by_hand(scenario, table),
        _loads(scenario, table),
        _margins(table),
        "NOTES\n" + bullets(told(table.notes)),
    )
    return page(
        "table FILE", answer, rest, more=more, what="loads by case, notes, sources, cautions"
    )


def _heading(scenario: Scenario, table: TensionTable) -> str:
    units, belt = UNITS[scenario.display], scenario.belt
    rpm = table.driven * 60 / (2 * math.pi)
    speed = figures(units.of(table.belt_speed, units.speed), 3)
    count = f"{belt.count} belts" if belt.count > 1 else "one belt"
    section = f", section {belt.section}" if belt.section else ""
    lines = [
        heading(scenario.title),
        paragraph("Driven", f"{rpm:.0f} rpm, both pulleys {words.rotation_words(scenario)}"),
        paragraph(
            "Belt",
            f"{count}{section}, pitch length {units.long(belt.length)} {units.length}, running at "
            f"{speed} {units.speed}",
        ),
    ]
    return "\n".join(lines)


def _lines(table: TensionTable, columns: Sequence[_Column], end: Callable[[Row], str]) -> list[str]:
    """Two lines of heading, and a line for each row; where it has a long end, more."""
    room = _COLUMNS - 2 - max((len(end(row)) for row in table.rows), default=0)
    if sum(one.width for one in columns) > room:  # closer, so that each row stays on its line
        columns = [_narrow(one, table.rows) for one in columns]
    heads = ["".join(f"{one[line]:>{one.width}}" for one in columns).rstrip() for line in (0, 1)]
    lines = []
    for row in table.rows:
        numbers = "".join(f"{one.cell(row):>{one.width}}" for one in columns)
        said = end(row)
        lines.append(wrap(said, f"{numbers}  ", " " * (len(numbers) + 2)) if said else numbers)
    return [*heads, *lines]


def _narrow(column: _Column, rows: Sequence[Row]) -> _Column:
    texts = (column.head, column.unit, *(column.cell(row) for row in rows))
    return column._replace(width=min(column.width, 2 + max(map(len, texts))))


def _turns_column(table: TensionTable) -> list[_Column]:
    return [] if table.tighten_by is None else [_Column("turns", "", _TURNS_WIDTH, _turns)]


def _setting(scenario: Scenario, table: TensionTable) -> str:
    """Each setting in a line: tension, grip, and what is loaded most in all cases."""
    units, noun = UNITS[scenario.display], words.adjuster_noun(scenario)
    moved, has_adjuster = words.moved(scenario, table), table.tighten_by is not None
    columns = _turns_column(table)
    if has_adjuster:
        columns.append(
            _Column(
                moved,
                units.length,
                max(9, len(moved) + 1),
                lambda row: _moved(table, row, units.fine),
            )
        )
    columns += [
        _Column("tension", units.force, 12, lambda row: _tension(scenario, row)),
        _Column("grip", "run", 6, lambda row: "-" if row.grip is None else _grip(row.grip)),
        _Column("pull", units.force, 7, lambda row: _most(scenario, row, "shaft_load")),
    ]
    if has_adjuster:
        columns.append(_Column(noun, units.force, 7, lambda row: _most(scenario, row, "adjuster")))
    columns.append(_Column("limit", "% used", 8, _limit))

    def end(row: Row) -> str:
        rests = words.rests_on(scenario, row)
        if has_adjuster:
            rests = rests.removeprefix(noun).strip()
        return "  ".join(part for part in (rests, ", ".join(words.marks(row))) if part)

    bolt = f"{noun} (pressed +, pulled -), " if has_adjuster else ""
    legend = [
        "tension: one strand of one belt at rest, softest to stiffest belt; the rest is for a "
        "middling one. grip: pull it can carry over pull needed, running; below 1 it slips. pull "
        f"on the driven shaft, {bolt}share of the limit most used up: the most of rest, running "
        "and starting."
    ]
    legend += [
        f"-: {reason}."
        for reason in sorted(
            {row.running.grip_reason or "" for row in table.rows if row.grip is None} - {""}
        )
    ]
    shown = {mark for row in table.rows for mark in words.marks(row)}
    legend += [sentence for mark, sentence in words.MARKS.items() if mark in shown]
    if has_adjuster and any(words.rests_on(scenario, row).startswith("belt") for row in table.rows):
        legend.append(f"belt: the plate rides on it, the {noun} is clear.")
    if any("(" in words.rests_on(scenario, row) for row in table.rows):
        legend.append("In brackets: what it rests on running and starting, where that differs.")
    lines = ["THE SETTING", *_lines(table, columns, end)]
    return "\n".join([*lines, wrap(" ".join(legend), "  ", "  ")])


def _turns(row: Row) -> str:
    text = turns_text(row.turns)
    return text if row.turns is None or len(text) <= _TURNS_WIDTH else f"{row.turns:.4g}"


def _moved(table: TensionTable, row: Row, show: Callable[[float | None], str]) -> str:
    zero = table.zero.extension
    if row.extension is None or zero is None or row.turns is None:
        return show(None)
    return show(math.copysign(abs(row.extension - zero), row.turns))


def _tension(scenario: Scenario, row: Row) -> str:
    units = UNITS[scenario.display]
    low, high = units.strength(row.tension_low, 2, 5), units.strength(row.tension_high, 2, 5)
    return low if low == high else f"{low}-{high}"


def _grip(value: float) -> str:
    """Two decimals, never rounded up: 0.999 slips."""
    return f"{math.floor(value * 100) / 100:.2f}" if value < _MUCH_GRIP else f">{_MUCH_GRIP:.0f}"


def _most(scenario: Scenario, row: Row, name: str) -> str:
    """The greatest of a load in all cases, with its sign."""
    loads = [load for case in row.cases.values() if (load := getattr(case, name)) is not None]
    most = max(loads, key=abs, default=None)
    return UNITS[scenario.display].strength(most, width=6)


def _limit(row: Row) -> str:
    if not any(case.shares_of_limits for case in row.cases.values()):
        return "-"
    share = row.worst_share_of_limit
    return percent(share) if share < _MUCH_GRIP else f">{100 * _MUCH_GRIP:.0f}"


def _by_hand(scenario: Scenario, table: TensionTable) -> str:
    """What each setting is told by: flats, a push on the strand, its note."""
    units, sides = UNITS[scenario.display], words.flats(scenario)
    columns = _turns_column(table)
    if columns and sides:
        columns.append(_Column("flats", "", 8, lambda row: _flats(sides * (row.turns or 0.0))))
    columns += [
        _Column("push", units.force, 8, lambda row: units.strength(row.deflection_force, 2, 6)),
        _Column("hum", "Hz", 7, _hum),
    ]
    row = next((row for row in table.rows if row.deflection is not None), None)
    push = (
        ""
        if row is None or row.deflection is None
        else f"push: force that moves the middle of one strand by {units.fine(row.deflection)} "
        f"{units.length} (1/64 of the span of {units.long(row.span)} {units.length}). "
    )
    legend = f"{push}hum: note of the plucked strand. Both for a middling belt."
    lines = ["BY HAND", *_lines(table, columns, lambda _: "")]
    return "\n".join([*lines, wrap(legend, "  ", "  ")])


def _flats(flats: float) -> str:
    text = f"{flats:.2f}".rstrip("0").rstrip(".")
    return text if len(text) < _TURNS_WIDTH else f"{flats:.3g}"


def _hum(row: Row) -> str:
    if row.span_frequency is None:
        return "-"
    text = f"{row.span_frequency:.0f}"
    return text if len(text) <= _HUM_WIDTH else fitted(row.span_frequency, 2, _HUM_WIDTH)


def _loads(scenario: Scenario, table: TensionTable) -> str:
    """Every load in every case."""
    units, noun = UNITS[scenario.display], words.adjuster_noun(scenario)
    has_adjuster = table.tighten_by is not None
    names = ["belt pull", *(bearing.name for bearing in scenario.driven.bearings)]
    names += [noun] if has_adjuster else []
    lead = " " * _TURNS_WIDTH if has_adjuster else ""
    cases = "".join(" " + "".join(f"{case:>5} " for case in _CASES)[:-1] for _ in names)
    lines = [
        f"LOADS ({units.force}; * at or over the limit)",
        f"{lead}{''.join(f' {name[:16]:^17}' for name in names)}".rstrip(),
        f"{'turns':>7}{cases}" if lead else cases,
    ]
    lines += [_loads_row(scenario, row, has_adjuster=has_adjuster) for row in table.rows]
    legend = f"Limits in {units.force}: {'; '.join(_limits(scenario))}."
    if has_adjuster:
        legend += f" The {noun}: pressed +, pulled -."
    lines.append(wrap(legend + _hinge(scenario, table), "  ", "  "))
    return "\n".join(lines)


def _hinge(scenario: Scenario, table: TensionTable) -> str:
    """The most that the hinge carries in the rows shown."""
    units = UNITS[scenario.display]
    loads = {
        case.hinge: f"{name}{'' if row.turns is None else f' at {words.counted_turns(row.turns)}'}"
        for row in table.rows
        for name, case in row.cases.items()
        if case.hinge is not None
    }
    if not loads:
        return ""
    most = max(loads)
    return f" The hinge carries at most {units.strength(most)} {units.force} ({loads[most]})."


def _limits(scenario: Scenario) -> list[str]:
    """All limits; those of the bearings as loads and as pressures."""
    units = UNITS[scenario.display]
    parts = []
    for bearing in scenario.driven.bearings:
        pressure = units.of(bearing.limit / bearing.projected_area, units.pressure)
        parts.append(
            f"{bearing.name} {units.strength(bearing.limit)} ({pressure:.3g} {units.pressure}), "
            f"starting {units.strength(bearing.starting_limit)}"
        )
    for name, limit in (("adjuster", scenario.limits.adjuster), ("hinge", scenario.limits.hinge)):
        if limit is not None:
            parts.append(f"{name} {units.strength(limit)}")
    return parts


def _loads_row(scenario: Scenario, row: Row, *, has_adjuster: bool) -> str:
    cases = tuple(row.cases.values())

    def load(value: float | None, share: float | None = None) -> str:
        mark = "*" if share is not None and share >= 1.0 else " "
        return f"{UNITS[scenario.display].strength(value, width=5):>5}{mark}"

    def bearing(case: Case, index: int) -> str:
        return load(case.bearings[index].load, case.bearings[index].share_of_limit)

    cells = [load(case.shaft_load) for case in cases]
    for index in range(len(scenario.driven.bearings)):
        cells += [bearing(case, index) for case in cases]
    if has_adjuster:
        cells += [load(case.adjuster, case.adjuster_share_of_limit) for case in cases]
    lead = f"{_turns(row):>{_TURNS_WIDTH}} " if has_adjuster else " "
    return f"{lead}{''.join(cells)}".rstrip()


def _margins(table: TensionTable) -> str:
    return "\n".join(
        [
            "WHAT IS STACKED UP IN THESE NUMBERS",
            *(
                wrap(f"{margin.factor:.2f} x  {margin.name}: {margin.sentence}.", "  ", " " * 10)
                for margin in table.margins
            ),
        ]
    )
