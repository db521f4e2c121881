"""The tension table as text for the bench: 80 columns, plain characters."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from mountcalc.results import Case, Row, TensionTable
from mountcalc.scenario.model import Scenario
from mountcalc.show import words
from mountcalc.show.display import UNITS, figures, fitted, turns_text
from mountcalc.show.page import bullets, heading, paragraph, wrap

__all__ = ["table_text"]

_FLATS = 6
_TURNS_WIDTH = 7
_HUM_WIDTH = 5
_CASES = ("rest", "run", "start")


def table_text(scenario: Scenario, table: TensionTable) -> str:
    """The whole page: what to do, the setting, the loads, margins and notes.

    Parameters
    ----------
    scenario : Scenario
        The mount, for its units and names.
    table : TensionTable
        Its results.

    Returns
    -------
    str
        Lines of at most 80 characters.
    """
    sections = [
        _heading(scenario, table),
        paragraph("Zero", words.finding_zero(scenario, table)),
        paragraph("Tighten", words.which_way(scenario, table)),
        _summary(table),
        _setting_block(scenario, table),
        _loads_block(scenario, table),
        _margin_block(table),
        _note_block(table),
    ]
    return "\n\n".join(section for section in sections if section)


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
    section = f"{scenario.belt.section} " if scenario.belt.section else ""
    count = f"{scenario.belt.count} " if scenario.belt.count > 1 else ""
    noun = "belts" if scenario.belt.count > 1 else "belt"
    length = units.long(scenario.belt.length)
    return f"{count}{section}{noun} of {length} {units.length} pitch length"


def _summary(table: TensionTable) -> str:
    """Where the rows stop slipping and where the first limit is reached."""
    lines = []
    last_slip = _last(table.rows, lambda row: bool(row.running.slips))
    if last_slip is not None and last_slip + 1 < len(table.rows):
        lines.append(
            f"The belt stops slipping between {turns_text(table.rows[last_slip].turns)} and "
            f"{turns_text(table.rows[last_slip + 1].turns)} turns, running."
        )
    elif last_slip is not None:
        lines.append("The belt slips, running, at every setting shown.")
    over = next((row for row in table.rows if row.worst_share_of_limit >= 1.0), None)
    if over is None:
        lines.append("No bearing reaches its limit at the settings shown.")
    else:
        at = "" if over.turns is None else f", at {turns_text(over.turns)} turns"
        lines.append(f"First limit: {_first_limit(over)}{at}.")
    return paragraph("In short", " ".join(lines))


def _last(rows: Sequence[Row], holds: Callable[[Row], bool]) -> int | None:
    found = [index for index, row in enumerate(rows) if holds(row)]
    return found[-1] if found else None


def _first_limit(row: Row) -> str:
    shares = {
        (bearing.name, name): bearing.share_of_limit or 0.0
        for name, case in row.cases.items()
        for bearing in case.bearings
    }
    bearing, case = max(shares, key=lambda key: shares[key])
    return f'bearing "{bearing}", {case}'


def _setting_block(scenario: Scenario, table: TensionTable) -> str:
    units = UNITS[scenario.display]
    noun = words.adjuster_noun(scenario)
    has_adjuster = table.tighten_by is not None
    gap = "link moved" if noun == "link" else "tip gap"
    count = f"{'turns':>7} {'flats':>6} {gap:>10} " if has_adjuster else ""
    below = f"{'':>7} {'':>6} {units.length:>10} " if has_adjuster else ""
    lines = [
        "THE SETTING (tension of one strand of one belt, at rest)",
        f"{count}{'tension':>11} {'push':>6} {'hum':>5} {'grip':>5}  the plate rests on",
        f"{below}{units.force:>11} {units.force:>6} {'Hz':>5} {'run':>5}",
    ]
    lines += [_setting_row(scenario, table, row) for row in table.rows]
    lines.append(wrap(_setting_legend(table), "  ", "  "))
    return "\n".join(lines)


def _setting_row(scenario: Scenario, table: TensionTable, row: Row) -> str:
    units = UNITS[scenario.display]
    count = ""
    if table.tighten_by is not None and row.turns is not None:
        zero = table.zero.extension
        moved = None if row.extension is None or zero is None else abs(row.extension - zero)
        count = f"{_turns(row):>7} {_flats(row.turns):>6} {units.fine(moved):>10} "
    low, high = units.strength(row.tension_low, 2, 5), units.strength(row.tension_high, 2, 5)
    tension = low if low == high else f"{low}-{high}"
    grip = "-" if row.grip is None else f"{min(row.grip, 99.9):.1f}"
    hum = "-" if row.span_frequency is None else _whole(row.span_frequency)
    push = units.strength(row.deflection_force, 2, 6)
    numbers = f"{count}{tension:>11} {push:>6} {hum:>5} {grip:>5}  "
    end = "  ".join(part for part in (words.rests_on(scenario, row), words.marks(row)) if part)
    return wrap(end, numbers, " " * len(numbers))


def _whole(value: float) -> str:
    text = f"{value:.0f}"
    return text if len(text) <= _HUM_WIDTH else fitted(value, 2, _HUM_WIDTH)


def _turns(row: Row) -> str:
    text = turns_text(row.turns)
    return text if row.turns is None or len(text) <= _TURNS_WIDTH else f"{row.turns:.4g}"


def _flats(turns: float) -> str:
    text = f"{_FLATS * turns:.1f}".removesuffix(".0")
    return text if len(text) < _TURNS_WIDTH else f"{_FLATS * turns:.3g}"


def _setting_legend(table: TensionTable) -> str:
    rows = table.rows
    spans = [row.deflection for row in rows if row.deflection is not None]
    legend = [
        "tip gap (or link moved): how far the adjuster has moved since zero, the same as the "
        "turns, for a calliper or feeler gauges."
        if table.tighten_by is not None
        else "",
        "tension: as soft and as stiff as the belt may be.",
        "push: force that moves the middle of one strand by 1/64 of the span, belt of middling "
        "stiffness."
        if spans
        else "",
        "hum: note of the plucked strand.",
        "grip: pull the belt can carry over pull needed; below 1 it slips.",
    ]
    shown = {mark for row in rows for mark in words.marks(row).split(", ")}
    if "slips" in shown:
        legend.append("slips: running.")
    if "start slips" in shown:
        legend.append("start slips: as it starts only.")
    if "LIMIT" in shown:
        legend.append("LIMIT: a bearing is at or over its limit.")
    return " ".join(line for line in legend if line)


def _loads_block(scenario: Scenario, table: TensionTable) -> str:
    units = UNITS[scenario.display]
    names = ["driven shaft", *(bearing.name for bearing in scenario.driven.bearings)]
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
    lines.append(wrap(legend, "  ", "  "))
    return "\n".join(lines)


def _limits(scenario: Scenario) -> str:
    """The limits of the bearings, as loads and as pressures."""
    units = UNITS[scenario.display]
    parts = []
    for bearing in scenario.driven.bearings:
        pressure = units.of(bearing.limit / bearing.projected_area, units.pressure)
        parts.append(
            f"{bearing.name} {units.strength(bearing.limit)} ({pressure:.3g} {units.pressure}), "
            f"starting {units.strength(bearing.starting_limit)}"
        )
    return f"Limits in {units.force}: {'; '.join(parts)}."


def _loads_row(scenario: Scenario, row: Row, *, has_adjuster: bool) -> str:
    cases = tuple(row.cases.values())
    columns = [[_load(scenario, case.shaft_load) for case in cases]]
    columns += [
        [_bearing(scenario, case, index) for case in cases]
        for index in range(len(scenario.driven.bearings))
    ]
    if has_adjuster:
        columns.append([_load(scenario, case.adjuster) for case in cases])
    text = "".join(" " + "".join(column)[:-1] for column in columns)
    return (f"{_turns(row):>7}{text}" if has_adjuster else text).rstrip()


def _load(scenario: Scenario, value: float | None, mark: str = " ") -> str:
    return f"{UNITS[scenario.display].strength(value, width=5):>5}{mark}"


def _bearing(scenario: Scenario, case: Case, index: int) -> str:
    bearing = case.bearings[index]
    over = bearing.share_of_limit is not None and bearing.share_of_limit >= 1.0
    return _load(scenario, bearing.load, "*" if over else " ")


def _margin_block(table: TensionTable) -> str:
    lines = ["WHAT IS STACKED UP IN THESE NUMBERS"]
    lines += [
        wrap(f"{margin.factor:.2f} x  {margin.name}: {margin.sentence}.", "  ", " " * 10)
        for margin in table.margins
    ]
    return "\n".join(lines)


def _note_block(table: TensionTable) -> str:
    return "NOTES AND CAUTIONS\n" + bullets(table.notes)
