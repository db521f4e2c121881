"""Placements of our own invention, for the page, the JSON, the CSV and the files."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

from mountcalc.console.choices import Prefer
from mountcalc.place.results import PlacedLayout, Placement, PlateAngles, WhyNot
from mountcalc.requirements.results import Method, MethodName, ReadingUnit, SpringBalance
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_search
from mountcalc.scenario.text.writing import Display

__all__ = ["BENCH", "LAYOUT", "PLACEMENT", "WALL", "mount", "shown_in"]

SCENARIOS = Path(__file__).parents[2] / "scenarios"
BENCH = read_search(SCENARIOS / "fretsaw-bench.toml")
WALL = read_search(SCENARIOS / "polishing-lathe.toml")

INCH = 0.0254

# On the back of a plate of 3/4 in that leans to the right at 45 degrees, 9 3/16 in from the hinge.
TIP = (
    (-9.0 + (9.1875 + 0.75) * math.sqrt(0.5)) * INCH,
    (-14.8125 + (9.1875 - 0.75) * math.sqrt(0.5)) * INCH,
)
LAYOUT = PlacedLayout(
    rank=1,
    hinge=(-9.0 * INCH, -14.8125 * INCH),
    tip=TIP,
    motor=(-9.0 * INCH, -9.5 * INCH),
    reach=9.1875 * INCH,
    motor_foot=3.75 * INCH,
    motor_height=3.75 * INCH,
    kind="jack-in-base",
    acts="push",
    thread="3/8-24",
    belt="4L440",
    motor_side="above",
    plate_angles=PlateAngles(
        math.radians(-16.25), math.radians(0.4), math.radians(1.0), math.radians(20.5)
    ),
    set_turns=0.62,
    set_tension=25.3,
    tension_per_turn=41.2,
    tension_per_mm=38900.0,
    worst_share_of_limit=0.67,
    grip_low=1.31,
    adjuster=27.9,
    adjuster_most=33.1,
    hinge_load=101.0,
    hinge_most=140.0,
    plate_length=10.125 * INCH,
    bolt_travel=4.4 * INCH,
    clearance=0.62 * INCH,
    nearest="stretcher",
    fall=0.0,
    falls_onto="rests on the adjuster and does not fall",
    stop_at=(-3.0 * INCH, -6.5 * INCH),
    of_weight=False,
    turns_can_be_trusted=False,
    turns_why_not=("half a turn off breaks a promise", "the belt may be stiffer"),
    spring_balance=SpringBalance(
        "the bolt",
        9.1875 * INCH,
        27.9,
        41.85,
        tightens=True,
        slack_pull=12.4,
        slack_tightens=True,
        direction=math.pi,
    ),
    pareto=True,
    methods=tuple(
        Method(name, unit, *readings, trustworthy=True, why="invented")
        for name, unit, *readings in (
            (MethodName.HUM, ReadingUnit.SWINGS, 25.5, 29.5, 24.0, 32.5, 20.0, 60.0),
            (MethodName.BALANCE, ReadingUnit.FORCE, 15.5, 29.5, 11.0, 40.0, 20.0, 60.0),
        )
    ),
)

SECOND = dataclasses.replace(
    LAYOUT, rank=2, kind="jack-in-plate", acts="hold-back", thread="3/8-16", motor_side="below",
    fall=5.5 * INCH, falls_onto="falls against stretcher", clearance=None, nearest=None,
    turns_can_be_trusted=True, turns_why_not=(), spring_balance=None,
    pareto=False, grip_low=None, adjuster=-27.9, stop_at=None,
)  # fmt: skip

PLACEMENT = Placement(
    title=BENCH.scenario.title,
    prefer=Prefer.FINE,
    samples=65536,
    seed=1,
    evaluated=65536,
    refined=2048,
    feasible=1054,
    why_not=(
        WhyNot("plate_length", 15000, "let plate_length be more than 16 in"),
        WhyNot("keep_out:stretcher", 1799, "Let hinge_y begin higher."),
    ),
    layouts=(LAYOUT, SECOND),
    notes=("A note of the search",),
)


def mount(layout=LAYOUT, display=Display.INCH):
    """The mount that is drawn, its adjuster of the layout's kind."""
    scenario = dataclasses.replace(BENCH.scenario, display=display)
    adjuster = dataclasses.replace(scenario.adjuster, kind=AdjusterKind(layout.kind))
    if layout.kind == "link":
        adjuster = dataclasses.replace(adjuster, plate_pin=layout.tip, base_pin=(0.02, -0.3))
    board = dataclasses.replace(scenario.parts.plate, direction=math.radians(45))
    parts = dataclasses.replace(scenario.parts, plate=board)
    return dataclasses.replace(scenario, adjuster=adjuster, parts=parts)


def shown_in(display):
    """The bench as it is read in other units."""
    return dataclasses.replace(BENCH, scenario=dataclasses.replace(BENCH.scenario, display=display))
