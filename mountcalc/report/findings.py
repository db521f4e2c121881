"""All that a report tells of a mount, found once."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from mountcalc.card import BenchCard, bench_card
from mountcalc.check import Check, check
from mountcalc.errors import MountError
from mountcalc.parts import PartsList, parts_list
from mountcalc.record import Record
from mountcalc.report.restorer.results import RestorerSheet
from mountcalc.report.restorer.sheet import restorer_sheet
from mountcalc.requirements.results import Advice
from mountcalc.scenario.model import Scenario
from mountcalc.setting import advise
from mountcalc.table import TensionTable, tension_table
from mountcalc.tolerance import Tolerance, tolerance

_BUILDS = 400
_Found = TypeVar("_Found")


class Findings(Record):
    """What the rooms found; a sentence where one of them refuses the mount."""

    scenario: Scenario
    table: TensionTable
    advice: Advice
    card: BenchCard
    check: Check
    parts: PartsList | str
    tolerance: Tolerance | str
    restorer: RestorerSheet


def findings_of(scenario: Scenario) -> Findings:
    """Ask all rooms about a mount; one without a table is refused."""
    card, judged = bench_card(scenario), check.check(scenario)
    return Findings(
        scenario=scenario,
        table=tension_table(scenario),
        advice=advise(scenario),
        card=card,
        check=judged,
        parts=or_why(lambda: parts_list(scenario)),
        tolerance=or_why(lambda: tolerance.tolerance(scenario, _BUILDS)),
        restorer=restorer_sheet(scenario, judged, card),
    )


def or_why(find: Callable[[], _Found]) -> _Found | str:
    """What is found, or in a sentence why it is not."""
    try:
        return find()
    except MountError as error:
        return f"{error}."
