"""A bench card's tests by the age of the belt, and what a force table would do here."""

from __future__ import annotations

from mountcalc.card.results import BenchCard, Gives, StrandTest, TableComparison, TableSetting
from mountcalc.pages.amounts import force_range
from mountcalc.pages.display import UNITS, percent
from mountcalc.pages.page import bullets, wrap
from mountcalc.scenario.model import Scenario

__all__ = ["by_age", "table_text"]


def by_age(card: BenchCard) -> dict[str, StrandTest]:
    """The card's tests by the age of the belt; weight alone treats every belt alike."""
    if card.bedded is None:
        return {}
    if card.new is not None:
        return {"bedded in": card.bedded, "new belt": card.new}
    return {"old or new" if card.bedded.gives is Gives.WHOLLY else "bedded in": card.bedded}


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
        f"{force_range(one.table_force, one.table_force, scenario.display)} at span/64 is "
        f"{units.strength(one.table_tension, 2)} {units.force} on each strand, "
        f"{one.times_tension:.1f} times this card's"
    )
    if one.share_of_limit is None or one.share_as_set is None:
        return f"{text}; {one.why_not}."
    return (
        f'{text}; at rest bearing "{one.bearing}" would be at {percent(one.share_of_limit)} % of '
        f"its limit, where this card has {percent(one.share_as_set)} %."
    )
