"""The restorer's sheet of a mount: what is found of it, and as sections of a report."""

from __future__ import annotations

from mountcalc.card import BenchCard
from mountcalc.check import Check
from mountcalc.handbook.restoring import (
    ShopRule,
    box_temperatures,
    heat_shed,
    oiled_ways,
    room,
    shop_rules,
    starting_factors,
)
from mountcalc.pages.amounts import PRESSURE, in_figures
from mountcalc.report.blocks import Grid, Paper, Points, Section, Text
from mountcalc.report.restorer.bedding import bedding_log
from mountcalc.report.restorer.boxes import conditions, old_boxes, rise_text, warmth_text
from mountcalc.report.restorer.results import RestorerSheet
from mountcalc.report.restorer.steps import dressing_rules, first_run
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display


def restorer_sheet(scenario: Scenario, check: Check, card: BenchCard) -> RestorerSheet:
    """Old boxes, oil, heat, belts, the first run and the log, at the check's set point."""
    boxes = old_boxes(scenario, check)
    return RestorerSheet(
        title=scenario.title,
        conditions=conditions(),
        boxes=boxes,
        air=room().value,
        warmths=box_temperatures(),
        oil=shop_rules("oil_advice"),
        shims=shop_rules("box_advice"),
        starting_factor=scenario.driven.starting_factor,
        starting_factors=starting_factors(),
        dressing=dressing_rules(scenario),
        first_run=first_run(scenario, check, card, boxes),
        log=bedding_log(scenario, card),
    )


def restorer_sections(scenario: Scenario, sheet: RestorerSheet) -> tuple[Section, ...]:
    """The sheet but for its log: first run, boxes, warmth, oil and belt, starting factor."""
    display = scenario.display
    return (
        Section("first-run", "First run", (Points(sheet.first_run, numbered=True),), Paper.ROOM),
        Section("boxes", "Old boxes", _boxes(sheet, display), Paper.ROOM),
        Section("warmth", "How warm a box gets", _warmth(sheet, display), Paper.ROOM),
        Section(
            "oil-and-belt",
            "Oil, and a belt that slips",
            (_rules(sheet.oil), _rules(sheet.dressing)),
            Paper.ROOM,
        ),
        Section("starting", "Starting factor", _starting(sheet), Paper.ROOM),
    )


def _rules(rules: tuple[ShopRule, ...]) -> Points:
    """Rules of the shop; those that are no common practice say so."""
    return Points(
        tuple(
            one.text if one.sure == "common practice" else f"{one.text} ({one.sure})"
            for one in rules
        )
    )


def _boxes(sheet: RestorerSheet, display: Display) -> tuple[Text | Points | Grid, ...]:
    """What each box may carry and wants, and what is done about shims and oval boxes."""
    unit = PRESSURE.shown(display)
    ranges = tuple(
        (
            one.state,
            f"{PRESSURE.number(one.service_low, display)} to "
            f"{PRESSURE.number(one.service_high, display)}",
            f"{one.source} ({one.sure})",
        )
        for one in sheet.conditions
    )
    heads = ("state of the box", f"limit, {unit}", "source")
    blocks: list[Text | Points | Grid] = [
        Grid("What a box may carry, by its state", heads, ranges, (0, 2))
    ]
    for box in sheet.boxes:
        blocks += [Text(f'"{box.name}"', strong=True), Points(box.told)]
    return (*blocks, Text("Shims and oval boxes (common practice)", strong=True),
            _rules(sheet.shims))  # fmt: skip


def _warmth(sheet: RestorerSheet, display: Display) -> tuple[Grid, ...]:
    """How far each box settles above the room, and at which temperature one stops."""
    ways = dict.fromkeys(one.oiled for box in sheet.boxes for one in box.heats)
    rows = []
    for way in ways:
        cells = []
        for box in sheet.boxes:
            heat = next((one for one in box.heats if one.oiled == way), None)
            cells.append("-" if heat is None else rise_text(heat.rise_low, heat.rise_high, display))
        rows.append((way, *cells))
    least, most = heat_shed()
    frictions = ", ".join(f"{one.friction:g} {one.name}" for one in oiled_ways())
    rubbing = next(iter(oiled_ways()))
    legend = (
        f"In still air of {warmth_text(sheet.air, display)}. The box is taken to shed "
        f"{least.value:g} to {most.value:g} W/(m2 K) of diameter times length ({most.source}, "
        f"{most.sure}); friction {frictions} ({rubbing.source}); flooded: that of the oil film, as "
        "warm as it makes itself. Shaft and frame take heat away, so a real box stays cooler. "
        "A range to look out for, no verdict."
    )
    heads = ("oiled", *(f'"{box.name}"' for box in sheet.boxes))
    stops = tuple(
        (warmth_text(one.temperature, display), one.by, one.what, f"{one.source} ({one.sure})")
        for one in sheet.warmths
    )
    return (
        *((Grid("How far a box settles above the room", heads, tuple(rows), (), legend),)
          if rows else ()),
        Grid("When to stop", ("outside of the box", "by hand", "do", "source"), stops, (1, 2, 3)),
    )  # fmt: skip


def _starting(sheet: RestorerSheet) -> tuple[Grid, Text]:
    """Usual starting factors, and the one that this mount is computed with."""
    usual = sheet.starting_factors
    rows = tuple((motor, *cells) for motor, cells in zip(usual.motors, usual.rows, strict=True))
    legend = f"Torque through the belt at the start over running ({usual.source}, {usual.sure})."
    return (
        Grid("Usual starting factors", ("motor", *usual.machines), rows, (), legend),
        Text(f"This mount is computed with {in_figures(sheet.starting_factor)}."),
    )
