"""The numbers of a bench card as text, by the age of the belt, and the force table beside them."""

from __future__ import annotations

from mountcalc.results.card import (
    BenchCard,
    Deflection,
    Gives,
    StrandTest,
    TableComparison,
    TableSetting,
)
from mountcalc.scenario.model import Display, Scenario
from mountcalc.show.card_forces import deflection_text, force_text, mass_text
from mountcalc.show.display import UNITS, percent, turns_text
from mountcalc.show.page import bullets, wrap

__all__ = ["by_age", "numbers_text", "table_text"]

_LABEL, _COLUMN = 36, 22


def by_age(card: BenchCard) -> dict[str, StrandTest]:
    """The card's tests by the age of the belt; weight alone treats every belt alike."""
    if card.bedded is None:
        return {}
    if card.new is not None:
        return {"bedded in": card.bedded, "new belt": card.new}
    return {"old or new" if card.bedded.gives is Gives.WHOLLY else "bedded in": card.bedded}


def numbers_text(scenario: Scenario, card: BenchCard) -> str:
    """The numbers of one strand of one belt."""
    units, named = UNITS[scenario.display], by_age(card)
    tests = list(named.values())
    lines = ["NUMBERS (one strand of one belt, at rest)", _line("", list(named))]
    turns = [turns_text(test.turns) for test in tests if test.turns is not None]
    if turns:
        lines.append(_line("turns from zero", turns))
    lines.append(
        _line("tension", [f"{units.strength(test.tension)} {units.force}" for test in tests])
    )
    lines.append(_line("free span", [f"{units.long(test.span)} {units.length}" for test in tests]))
    hertz = [f"{test.span_frequency:.1f} Hz" for test in tests if test.span_frequency is not None]
    if hertz:
        lines.append(_line("span frequency", hertz))
    lines += _deflections([test.usual for test in tests], scenario.display)
    finer = [test.finer for test in tests if test.finer is not None]
    if finer:
        lines += _deflections(finer, scenario.display)
    return "\n".join(lines)


def _deflections(ones: list[Deflection], display: Display) -> list[str]:
    """Rows of one deflection: as reckoned, on a metric scale, and over the belt's stiffness."""
    first = ones[0]
    title = f"{deflection_text(first.deflection, display)}, span/{first.span_over_deflection}"
    middling = [(one.force_creeping, one.force_not_creeping) for one in ones]
    lines = [_line(f"force at {title}", [force_text(*ends, display) for ends in middling])]
    if display is Display.METRIC:
        lines.append(_line("  on a scale", [mass_text(*ends) for ends in middling]))
    if first.force_low < first.force_high:
        widest = [force_text(one.force_low, one.force_high, display) for one in ones]
        lines.append(_line("  softest to stiffest belt", widest))
    return lines


def _line(label: str, cells: list[str]) -> str:
    return (f"{label:{_LABEL}}" + "".join(f"{cell:{_COLUMN}}" for cell in cells)).rstrip()


def table_text(scenario: Scenario, table: TableComparison | None) -> str:
    """What a force table would do here, and what the common one does at large."""
    if table is None:
        return ""
    lines = ["WHY NOT A FORCE TABLE", wrap(table.published, "  ", "  ")]
    if table.row is None:
        here = f"For this mount the common table cannot be used: {table.why_not}."
        return "\n".join([*lines, wrap(here, "  ", "  ")])
    row = f"Here, by the {table.row} (stretch taken off: {table.stretch}):"
    lines.append(wrap(row, "  ", "  "))
    pairs = (("bedded in", table.bedded), ("new belt", table.new))
    lines.append(bullets(f"{name}: {_of_row(scenario, one)}" for name, one in pairs if one))
    return "\n".join(lines)


def _of_row(scenario: Scenario, one: TableSetting) -> str:
    units = UNITS[scenario.display]
    text = (
        f"{force_text(one.table_force, one.table_force, scenario.display)} at span/64 is "
        f"{units.strength(one.table_tension, 2)} {units.force} on each strand, "
        f"{one.times_tension:.1f} times this card's"
    )
    if one.share_of_limit is None or one.share_as_set is None:
        return f"{text}; {one.why_not}."
    return (
        f'{text}; at rest bearing "{one.bearing}" would be at {percent(one.share_of_limit)} % of '
        f"its limit, where this card has {percent(one.share_as_set)} %."
    )
