"""The log sheet for bedding in: a table to print and to fill in beside the machine."""

from __future__ import annotations

from mountcalc.pages.amounts import in_figures
from mountcalc.report.blocks import Grid, Paper, Section
from mountcalc.report.restorer.results import Expected, LogRow, RestorerSheet
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display

_EMPTY = 4  # rows more


def log_section(scenario: Scenario, sheet: RestorerSheet) -> Section:
    """When to look, what a belt then has that nobody touched, and cells to write in."""
    degrees = "°F" if scenario.display is Display.INCH else "°C"
    boxes = tuple(f'"{box.name}", {degrees}' for box in sheet.boxes)
    heads = ("when", "do", "left alone it has", "date", "turns", sheet.log.read, *boxes)
    rows = [(row.when, row.look, _has(row), *[""] * (3 + len(boxes))) for row in sheet.log.rows]
    rows += [("", "", "", *[""] * (3 + len(boxes)))] * _EMPTY
    legend = (
        f"Left alone it has: what {sheet.log.read} shows of a bedded-in belt (a new one) that was "
        "set and not touched since, and up to how many turns bring it back."
    )
    known = any(row.old is not None for row in sheet.log.rows)
    grid = Grid(
        "Log for bedding in", heads, tuple(rows), (0, 1, 2), legend if known else "", form=True
    )
    return Section("log", "Log sheet", (grid,), Paper.ALWAYS)


def _has(row: LogRow) -> str:
    """What is read of an old belt, of a new one, and what brings the old one back."""
    if row.old is None:
        return ""
    new = "" if row.new is None or not row.new.reading else f" ({row.new.reading})"
    return f"{row.old.reading}{new}{_turns(row.old)}"


def _turns(one: Expected) -> str:
    if not one.turns_to_add:
        return ""
    return f"; {in_figures(one.turns_to_add, 2)} turns"
