"""The tension table as text for the bench: 80 columns, plain characters."""

from __future__ import annotations

import math
from collections.abc import Sequence

from mountcalc.pages.display import UNITS, figures, fitted, turns_text
from mountcalc.pages.page import CAUTIONS, bullets, heading, page, paragraph, wrap
from mountcalc.requirements.results import Method
from mountcalc.scenario.model import Scenario
from mountcalc.table import words
from mountcalc.table.results import Case, Row, TensionTable
from mountcalc.table.summary import summary

__all__ = ["table_text"]

_TURNS_WIDTH = 7
_HUM_WIDTH = 5
_MUCH_GRIP = 99.0
_CASES = ("rest", "run", "start")


def table_text(
    scenario: Scenario,
    table: TensionTable,
    methods: Sequence[Method] = (),
    *,
    more: bool = False,
) -> str:
    """The page: what to do, the setting, the loads; with ``more`` margins and notes."""
    answer = [
        _heading(scenario, table),
        paragraph("Zero", words.finding_zero(scenario, table)),
        paragraph("Tighten", words.which_way(scenario, table)),
        paragraph("In short", summary(scenario, table, methods)),
        _setting_block(scenario, table),
        _loads_block(scenario, table),
    ]
    return page("table FILE", answer, (_margin_block(table), _note_block(table)), more=more)


def _heading(scenario: Scenario, table: TensionTable) -> str:
    units = UNITS[scenario.display]
    rpm = table.driven * 60 / (2 * math.pi)
    speed = units.of(table.belt_speed, units.speed)
    lines = [
        heading(scenario.title),
        paragraph("Driven", f"{rpm:.0f} rpm, both pulleys {words.rotation_words(scenario)}"),
        paragraph("Belt", f"{_belt(scenario)}, running at {figures(speed, 3)} {units.speed}"),
    ]
    return "\n".join(lines)


def _belt(scenario: Scenario) -> str:
    units = UNITS[scenario.display]
    belt = scenario.belt
    count = f"{belt.count} belts" if belt.count > 1 else "one belt"
    section = f", section {belt.section}" if belt.section else ""
    return f"{count}{section}, pitch length {units.long(belt.length)} {units.length}"


def _setting_block(scenario: Scenario, table: TensionTable) -> str:
    units = UNITS[scenario.display]
    count = below = ""
    if table.tighten_by is not None:
        flats, moved = (
            f" {'flats':>6}" if words.flats(scenario) else "",
            words.moved(scenario, table),
        )
        count = f"{'turns':>7}{flats} {moved[0]:>10} "
        below = f"{units.length:>{len(count) - 1}} "
    lines = [
        "THE SETTING (tension of one strand of one belt, at rest)",
        f"{count}{'tension':>11} {'push':>6} {'hum':>5} {'grip':>5}  the plate rests on",
        f"{below}{units.force:>11} {units.force:>6} {'Hz':>5} {'run':>5}",
    ]
    lines += [_setting_row(scenario, table, row) for row in table.rows]
    lines.append(wrap(_setting_legend(scenario, table), "  ", "  "))
    return "\n".join(lines)


def _setting_row(scenario: Scenario, table: TensionTable, row: Row) -> str:
    units = UNITS[scenario.display]
    count = ""
    if table.tighten_by is not None and row.turns is not None:
        zero = table.zero.extension
        moved = None if row.extension is None or zero is None else abs(row.extension - zero)
        moved = -moved if moved is not None and row.turns < 0 else moved
        sides = words.flats(scenario)
        flats = f" {_flats(sides * row.turns):>6}" if sides else ""
        width = max(10, len(words.moved(scenario, table)[0]))
        count = f"{_turns(row):>7}{flats} {units.fine(moved):>{width}} "
    low, high = units.strength(row.tension_low, 2, 5), units.strength(row.tension_high, 2, 5)
    tension = low if low == high else f"{low}-{high}"
    grip = "-" if row.grip is None else _grip(row.grip)
    hum = "-" if row.span_frequency is None else _whole(row.span_frequency)
    push = units.strength(row.deflection_force, 2, 6)
    numbers = f"{count}{tension:>11} {push:>6} {hum:>5} {grip:>5}  "
    marks = ", ".join(words.marks(row))
    end = "  ".join(part for part in (words.rests_on(scenario, row), marks) if part)
    return wrap(end, numbers, " " * len(numbers))


def _grip(value: float) -> str:
    """Two decimals, never rounded up: 0.999 slips."""
    return f"{math.floor(value * 100) / 100:.2f}" if value < _MUCH_GRIP else f">{_MUCH_GRIP:.0f}"


def _whole(value: float) -> str:
    text = f"{value:.0f}"
    return text if len(text) <= _HUM_WIDTH else fitted(value, 2, _HUM_WIDTH)


def _turns(row: Row) -> str:
    text = turns_text(row.turns)
    return text if row.turns is None or len(text) <= _TURNS_WIDTH else f"{row.turns:.4g}"


def _flats(flats: float) -> str:
    text = f"{flats:.2f}".rstrip("0").rstrip(".")
    return text if len(text) < _TURNS_WIDTH else f"{flats:.3g}"


def _setting_legend(scenario: Scenario, table: TensionTable) -> str:
    legend = []
    if table.tighten_by is not None:
        name, what = words.moved(scenario, table)
        legend.append(f"{name}: {what}, a second measure of the turns, for a calliper.")
    legend += [
        "tension: as soft and as stiff as the belt may be; what follows is for a middling belt.",
        _push_legend(scenario, table),
        "hum: note of the plucked strand.",
        "grip: pull the belt can carry over pull needed, running; below 1 it slips.",
    ]
    if any(row.grip is None and row.running.grip_reason for row in table.rows):
        reasons = {row.running.grip_reason for row in table.rows if row.grip is None}
        legend.append(f"-: {'; '.join(sorted(reason for reason in reasons if reason))}.")
    shown = {mark for row in table.rows for mark in words.marks(row)}
    legend += [sentence for mark, sentence in words.MARKS.items() if mark in shown]
    if any("(" in words.rests_on(scenario, row) for row in table.rows):
        legend.append("In brackets: what it rests on running and starting, where that differs.")
    return " ".join(line for line in legend if line)


def _push_legend(scenario: Scenario, table: TensionTable) -> str:
    row = next((row for row in table.rows if row.deflection is not None), None)
    if row is None:
        return ""
    units = UNITS[scenario.display]
    span, deflection = units.long(row.span), units.fine(row.deflection)
    return (
        f"push: force that moves the middle of one strand by {deflection} {units.length} (1/64 of "
        f"the span of {span} {units.length})."
    )


def _loads_block(scenario: Scenario, table: TensionTable) -> str:
    units = UNITS[scenario.display]
    names = ["belt pull", *(bearing.name for bearing in scenario.driven.bearings)]
    if table.tighten_by is not None:
        names.append(words.adjuster_noun(scenario))
    lead = f"{'':>7}" if table.tighten_by is not None else ""
    head = "".join(f" {name[:16]:^17}" for name in names)
    cases = "".join(" " + "".join(f"{case:>5} " for case in _CASES)[:-1] for _ in names)
    lines = [
        f"LOADS ({units.force}; * at or over the limit)",
        f"{lead}{head}".rstrip(),
        f"{'turns':>7}{cases}" if lead else cases,
    ]
    lines += [_loads_row(scenario, row, has_adjuster=bool(lead)) for row in table.rows]
    legend = _limits(scenario)
    if table.tighten_by is not None:
        legend += f" The {words.adjuster_noun(scenario)}: pressed +, pulled -."
    legend += _hinge(scenario, table)
    lines.append(wrap(legend, "  ", "  "))
    return "\n".join(lines)


def _hinge(scenario: Scenario, table: TensionTable) -> str:
    """The most that the hinge carries in the rows shown."""
    units = UNITS[scenario.display]
    loads = {
        case.hinge: (name, row.turns)
        for row in table.rows
        for name, case in row.cases.items()
        if case.hinge is not None
    }
    if not loads:
        return ""
    most = max(loads)
    name, turns = loads[most]
    at = "" if turns is None else f" at {turns_text(turns)} turns"
    return f" The hinge carries at most {units.strength(most)} {units.force} ({name}{at})."


def _limits(scenario: Scenario) -> str:
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
    return f"Limits in {units.force}: {'; '.join(parts)}."


def _loads_row(scenario: Scenario, row: Row, *, has_adjuster: bool) -> str:
    cases = tuple(row.cases.values())
    columns = [[_load(scenario, case.shaft_load) for case in cases]]
    columns += [
        [_bearing(scenario, case, index) for case in cases]
        for index in range(len(scenario.driven.bearings))
    ]
    if has_adjuster:
        columns.append(
            [_load(scenario, case.adjuster, _mark(case.adjuster_share_of_limit)) for case in cases]
        )
    text = " " + "".join(cell for column in columns for cell in column)
    return (f"{_turns(row):>7}{text}" if has_adjuster else text).rstrip()


def _load(scenario: Scenario, value: float | None, mark: str = " ") -> str:
    return f"{UNITS[scenario.display].strength(value, width=5):>5}{mark}"


def _bearing(scenario: Scenario, case: Case, index: int) -> str:
    bearing = case.bearings[index]
    return _load(scenario, bearing.load, _mark(bearing.share_of_limit))


def _mark(share: float | None) -> str:
    return "*" if share is not None and share >= 1.0 else " "


def _margin_block(table: TensionTable) -> str:
    lines = ["WHAT IS STACKED UP IN THESE NUMBERS"]
    lines += [
        wrap(f"{margin.factor:.2f} x  {margin.name}: {margin.sentence}.", "  ", " " * 10)
        for margin in table.margins
    ]
    return "\n".join(lines)


def _note_block(table: TensionTable) -> str:
    return "NOTES\n" + bullets(note for note in table.notes if note not in CAUTIONS)
