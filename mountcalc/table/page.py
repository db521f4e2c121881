"""The tension table as text for the bench: 80 columns, plain characters."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from mountcalc.equilibrium.bearings import CASES
from mountcalc.pages.amounts import UNITS, figures, fitted, percent, turns_text
from mountcalc.pages.page import bullets, columns, heading, page, paragraph, unlikely, wrap
from mountcalc.requirements.notes import note_texts
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import section_words
from mountcalc.strength.bolt_length import length_words
from mountcalc.table import words
from mountcalc.table.giving import giving, unsaid
from mountcalc.table.results import Row, TensionTable

_SIGNS = "pressed +, pulled -"
_MUCH_GRIP = 99.0
# Two lines of heading, and a row's cell.
_Column = tuple[str, str, Callable[[Row], str]]


def table_text(
    scenario: Scenario,
    table: TensionTable,
    setting: Setting | None = None,
    *,
    more: bool = False,
) -> str:
    """The page: what to do, the setting; with ``more`` by hand, by load case, margins and notes."""
    units, belt = UNITS[scenario.display], scenario.belt
    count = f"{belt.count} belts" if belt.count > 1 else "one belt"
    section = f", {section_words(belt.section)}" if belt.section else ""
    tighten = paragraph("Tighten", words.which_way(scenario, table))
    answer = [
        "\n".join(
            one
            for one in [
                heading(scenario.title),
                paragraph(
                    "Driven",
                    f"{table.driven * 60 / (2 * math.pi):.0f} rpm, pulleys "
                    f"{words.rotation_words(scenario)}",
                ),
                paragraph(
                    "Belt",
                    f"{count}{section}, pitch length {units.long(belt.length)} {units.length}, "
                    f"running at {figures(units.of(table.belt_speed, units.speed), 3)} "
                    f"{units.speed}",
                ),
                unsaid(scenario, None if setting is None else setting.set_turns),
            ]
            if one
        ),
        paragraph("Verdict", words.verdict(scenario, table, setting)),
        paragraph("Zero", words.finding_zero(scenario, table)),
        "\n".join(filter(None, [tighten, giving(scenario, table, setting)])),
        _section("THE SETTING", setting_grid(scenario, table)),
        "" if more else unlikely(scenario),  # among the notes
    ]
    bolt = length_words(scenario)
    rest = (
        paragraph("Bolt", f"{bolt[:1].upper()}{bolt[1:]} (mountcalc parts).") if bolt else "",
        _by_hand(scenario, table),
        _loads(scenario, table),
        "\n".join(
            [
                "WHAT IS STACKED UP IN THESE NUMBERS",
                *(
                    wrap(f"{one.factor:.2f} x  {one.name}: {one.sentence}.", "  ", " " * 10)
                    for one in table.margins
                ),
            ]
        ),
        "NOTES\n" + bullets(note_texts(table.notes)),
    )
    return page(
        "table FILE", answer, rest, more=more, what="loads by case, notes, sources, cautions"
    )


def _section(title: str, grid: SettingGrid) -> str:
    """A section: two lines of heading, a line for each row with what is said at its end."""
    lines, heads = [title], zip(*grid.heads, strict=True)
    for numbers, end in zip(columns([*heads, *grid.rows]), ["", "", *grid.ends], strict=True):
        said = " " * (2 + len(numbers))
        lines.append(wrap(end, f"{numbers}  ", said) if end else numbers)
    return "\n".join([*lines, wrap(grid.legend, "  ", "  ")])


class SettingGrid(NamedTuple):
    """Each setting in a row: heads with their units, cells, what is said at its end, and legend."""

    heads: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]
    ends: tuple[str, ...]
    legend: str


def setting_grid(scenario: Scenario, table: TensionTable) -> SettingGrid:
    """Tension, grip, and what is loaded most in all cases, at each setting."""
    shown = _setting_columns(scenario, table)
    noun, has_adjuster = words.adjuster_noun(scenario), table.tighten_by is not None
    rests = [words.rests_on(scenario, row) for row in table.rows]
    marks = [words.marks(row) for row in table.rows]
    signs = "both together, pressed +, pulled -" if scenario.adjuster.bolts else _SIGNS
    bolt = f"{noun}: {signs}. " if has_adjuster else ""
    reasons = {row.running.grip_reason for row in table.rows if row.grip is None} - {None}
    legend = [
        "tension: one strand of one belt at rest, softest to stiffest; all else is for a middling "
        "belt. grip: pull it can carry over pull needed; below 1 it slips. pull: on the "
        f"driven shaft. {bolt}limit: the one most used up. Each at its worst: rest, run or start.",
        "spring: its length at rest." if scenario.adjuster.coil is not None else "",
        *(f"-: {reason}." for reason in sorted(map(str, reasons))),
        *(sentence for mark, sentence in words.MARKS.items() if mark in {*sum(marks, ())}),
    ]
    if has_adjuster and any(one.startswith("belt") for one in rests):
        legend.append(f"belt: the plate rides on it, the {noun} is clear.")
    if any("(" in one for one in rests):
        legend.append("In brackets: what it rests on running and starting, where that differs.")
    if has_adjuster:
        rests = [one.removeprefix(noun).strip() for one in rests]
    ends = (
        "  ".join(part for part in (rest, ", ".join(found)) if part)
        for rest, found in zip(rests, marks, strict=True)
    )
    return SettingGrid(
        tuple((head, unit) for head, unit, _ in shown),
        tuple(tuple(cell(row) for *_, cell in shown) for row in table.rows),
        tuple(ends),
        " ".join(filter(None, legend)),
    )


def _setting_columns(scenario: Scenario, table: TensionTable) -> list[_Column]:
    units = UNITS[scenario.display]

    def moved(row: Row) -> str:
        zero = table.zero.extension
        if row.extension is None or zero is None or row.turns is None:
            return "-"
        return units.fine(math.copysign(abs(row.extension - zero), row.turns))

    def tension(row: Row) -> str:
        low, high = units.strength(row.tension_low, 2, 5), units.strength(row.tension_high, 2, 5)
        return low if low == high else f"{low}-{high}"

    def grip(row: Row) -> str:
        if row.grip is None:
            return "-"
        much = row.grip >= _MUCH_GRIP  # else two decimals, never rounded up: 0.999 slips
        return f">{_MUCH_GRIP:.0f}" if much else f"{math.floor(row.grip * 100) / 100:.2f}"

    def most(name: str) -> Callable[[Row], str]:
        """The greatest of a load in all cases, with its sign."""

        def cell(row: Row) -> str:
            loads = [getattr(case, name) for case in row.cases.values()]
            known = [load for load in loads if load is not None]
            return units.strength(max(known, key=abs, default=None), width=6)

        return cell

    def spring(row: Row) -> str:
        return "-" if row.spring_length is None else units.fine(row.spring_length)

    has_spring = scenario.adjuster.coil is not None
    shown: list[_Column] = [
        ("turns", "", _turns),
        ("spring", units.length, spring)
        if has_spring
        else (words.moved(scenario, table), units.length, moved),
        ("tension", units.force, tension),
        ("grip", "run", grip),
        ("pull", units.force, most("shaft_load")),
        (words.adjuster_noun(scenario), units.force, most("adjuster")),
        ("limit", "% used", _limit),
    ]
    if table.tighten_by is None:
        return [one for one in shown if one[0] in {"tension", "grip", "pull", "limit"}]
    return shown


def _limit(row: Row) -> str:
    if not any(case.shares_of_limits for case in row.cases.values()):
        return "-"
    share = row.worst_share_of_limit
    return percent(share) if share < _MUCH_GRIP else f">{100 * _MUCH_GRIP:.0f}"


def _turns(row: Row) -> str:
    text = turns_text(row.turns)
    return text if row.turns is None or len(text) <= 7 else f"{row.turns:.4g}"  # noqa: PLR2004


def _by_hand(scenario: Scenario, table: TensionTable) -> str:
    """What each setting is told by: flats, a push on the strand, its note."""
    units, sides = UNITS[scenario.display], words.flats(scenario)

    def flats(row: Row) -> str:
        turned = (sides or 0) * (row.turns or 0.0)
        text = f"{turned:.2f}".rstrip("0").rstrip(".")
        return text if len(text) < 7 else f"{turned:.3g}"  # noqa: PLR2004

    def hum(row: Row) -> str:
        if row.span_frequency is None:
            return "-"
        text = f"{row.span_frequency:.0f}"
        return text if len(text) <= 5 else fitted(row.span_frequency, 2, 5)  # noqa: PLR2004

    shown: list[_Column] = [
        ("press", units.force, lambda row: units.strength(row.deflection_force, 2, 6)),
        ("pluck", "Hz", hum),
    ]
    if table.tighten_by is not None:
        shown = [("turns", "", _turns), *([("flats", "", flats)] if sides else []), *shown]
    legend = "pluck: swings a second of the plucked strand. Both for a middling belt."
    row = next((row for row in table.rows if row.deflection is not None), None)
    if row is not None:
        legend = (
            f"press: force that moves the middle of one strand by {units.fine(row.deflection)} "
            f"{units.length} (1/64 of the span of {units.long(row.span)} {units.length}). {legend}"
        )
    rows = tuple(tuple(cell(row) for *_, cell in shown) for row in table.rows)
    heads = tuple((head, unit) for head, unit, _ in shown)
    return _section("BY HAND", SettingGrid(heads, rows, ("",) * len(rows), legend))


def _loads(scenario: Scenario, table: TensionTable) -> str:
    """Every load in every case; the limits; the most that the hinge carries."""
    units, noun = UNITS[scenario.display], words.adjuster_noun(scenario)
    bearings, has_adjuster = scenario.driven.bearings, table.tighten_by is not None
    names = ["belt pull", *(bearing.name for bearing in bearings), *([noun] * has_adjuster)]
    lead = " " * 7 * has_adjuster
    cases = " rest   run start"
    lines = [
        f"LOADS ({units.force}; * at or over the limit)",
        f"{lead}{''.join(f' {name[:16]:^17}' for name in names)}".rstrip(),
        f"{'turns' if has_adjuster else '':>{len(lead)}} {' '.join([cases] * len(names))}",
    ]
    hinge: dict[float, str] = {}
    for row in table.rows:
        at = "" if row.turns is None else f" at {words.counted_turns(row.turns)}"
        loads = [
            [
                (case.shaft_load, None),
                *((one.load, one.share_of_limit) for one in case.bearings),
                (case.adjuster, case.adjuster_share_of_limit),
            ][: len(names)]
            for case in row.cases.values()
        ]
        cells = "".join(
            f"{units.strength(load, width=5):>5}{'*' if (share or 0.0) >= 1.0 else ' '}"
            for part in zip(*loads, strict=True)
            for load, share in part
        )
        first = f"{_turns(row):>7} " if has_adjuster else " "
        lines.append(f"{first}{cells}".rstrip())
        hinge |= {
            case.hinge: f"{name}{at}"
            for name, case in zip(CASES, row.cases.values(), strict=True)
            if case.hinge is not None
        }
    limits = [
        f"{one.name} {units.strength(one.limit)} "
        f"({units.of(one.limit / one.projected_area, units.pressure):.3g} {units.pressure}), "
        f"starting {units.strength(one.starting_limit)}"
        for one in bearings
    ]
    limits += [
        f"{name} {units.strength(limit)}"
        for name, limit in (
            ("adjuster", scenario.limits.adjuster),
            ("hinge", scenario.limits.hinge),
        )
        if limit is not None
    ]
    legend = f"Limits in {units.force}: {'; '.join(limits)}."
    if has_adjuster:
        both = "s together" if scenario.adjuster.bolts else ""
        legend += f" The {noun}{both}: {_SIGNS}."
    if hinge:
        most = max(hinge)
        carried = f"{units.strength(most)} {units.force} ({hinge[most]})"
        legend += f" The hinge carries at most {carried}."
    return "\n".join([*lines, wrap(legend, "  ", "  ")])
