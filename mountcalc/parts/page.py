"""The list of parts as text for shop and saw."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.pages.page import bullets, heading, page, paragraph, unlikely, wrap
from mountcalc.parts.results import Part, PartsList
from mountcalc.scenario.model import Scenario

_NAME = 27
ESTIMATES = (
    "* taken as usual or as drawn, an estimate: measure what you have before you buy or saw."
)


def parts_text(scenario: Scenario, found: PartsList, *, more: bool = False) -> str:
    """The page: what to buy, what to cut, what is not told; with ``more`` the reasons."""
    answer = [
        heading(f"{found.title}: parts"),
        _section("BUY", [one for one in found.parts if not one.cut]),
        _section("CUT (as mountcalc draw has it)", [one for one in found.parts if one.cut]),
        wrap(ESTIMATES),
        paragraph("Not told", f"in the file: {by_table(found.not_told)}.")
        if found.not_told
        else "",
        "" if more else unlikely(scenario),
    ]
    rest = [
        "WHERE EACH COMES FROM\n" + bullets(map(_why, found.parts)),
        "NOTES\n" + bullets(found.notes) if found.notes else "",
        unlikely(scenario),
    ]
    return page("parts FILE", answer, rest, more=more, what="what goes with each, sources")


def _section(head: str, rows: Sequence[Part]) -> str:
    lines = [head]
    for row in rows:
        count = "?" if row.count is None else row.count
        first = f"{count:>4}  {row.name:<{_NAME}} "
        size = f"{row.size or 'size not told'}{' *' * row.estimate}"
        lines.append(wrap(size, first, " " * len(first)))
    return "\n".join(lines)


def by_table(keys: Sequence[str]) -> str:
    """Keys, those of one table together."""
    tables: dict[str, list[str]] = {}
    for key in keys:
        table, _, name = key.partition(".")
        tables.setdefault(table, []).append(name)
    return "; ".join(f"[{table}] {', '.join(names)}" for table, names in tables.items())


def _why(part: Part) -> str:
    missing = f" Not told: {', '.join(part.not_told)}." if part.not_told else ""
    source = f" ({part.source})" if part.source else ""
    name = f"{part.name[:1].upper()}{part.name[1:]}"
    return f"{name}: {part.sentence}{source}.{missing}"
