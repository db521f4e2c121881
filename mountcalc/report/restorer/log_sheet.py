"""The log sheet for bedding in: a table to print and to fill in beside the machine."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.pages.amounts import in_figures
from mountcalc.report.blocks import Grid, Paper, Points, Section
from mountcalc.report.restorer.results import LogRow, RestorerSheet
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import Display

_EMPTY = 3  # rows more


def log_section(scenario: Scenario, sheet: RestorerSheet) -> Section:
    """When to look and what is done then, what a belt has left, and cells to write in."""
    degrees = "°F" if scenario.display is Display.INCH else "°C"
    boxes = tuple(f"{box.name}, {degrees}" for box in sheet.boxes)
    left = ("left alone",) if any(row.old is not None for row in sheet.log.rows) else ()
    turns = ("turns",) if sheet.log.turns else ()
    blank = "date", *turns, sheet.log.read
    heads = "when", *left, *blank
    rows = [
        (row.when, *([_left(row)] if left else []), *[""] * len(blank))
        for row in sheet.log.rows
        if not row.feel
    ]
    rows += [("",) * len(heads)] * _EMPTY
    grid = Grid(
        "Log for bedding in",
        heads,
        tuple(rows),
        (0, 1) if left else (0,),
        " ".join(_legend(sheet)),
        form=True,
    )
    felt = tuple((row.when, *[""] * len(boxes)) for row in sheet.log.rows if row.feel)
    warm = Grid("Boxes on the first run", ("when", *boxes), felt, (0,), form=True)
    # What several rows ask for is told once.
    looks = dict.fromkeys(row.look for row in sheet.log.rows)
    whens = {one: [row.when for row in sheet.log.rows if row.look == one] for one in looks}
    do = tuple(f"{listed(whens[one], 'and').capitalize()}: {one}" for one in looks)
    return Section("log", "Log sheet", (warm, grid, Points(do)), Paper.ALWAYS)


def _left(row: LogRow) -> str:
    """What is read of a belt that has bedded in, and of a new one."""
    if row.old is None:
        return ""
    new = "" if row.new is None else f", new {row.new.reading}"
    return f"{row.old.reading}{new}"


def _legend(sheet: RestorerSheet) -> Iterator[str]:
    """What a belt that nobody touched has, and how many turns bring it back."""
    known = {row.when: row.old for row in sheet.log.rows if row.old is not None}
    if known:
        yield f"Left alone: {sheet.log.read}, of a belt that was set and not touched since."
    turns = {
        when: in_figures(one.turns_to_add, 2) for when, one in known.items() if one.turns_to_add
    }
    if turns:
        yield (
            f"Up to {listed(turns.values(), 'and')} turns bring a bedded-in one back after "
            f"{listed(turns, 'and')}."
        )
