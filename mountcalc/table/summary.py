"""What a table comes to, in a few sentences: warnings first, then slip, limits and trust."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from mountcalc.equilibrium.states import State
from mountcalc.pages.display import turns_text
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.results import Method, MethodName
from mountcalc.requirements.setting import idles
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import Row, TensionTable
from mountcalc.table.words import adjuster_noun

__all__ = ["summary"]

_RATING_ROUNDING = 1e-9
_NO_LONGER = "no longer slips"
_BY = {
    MethodName.BALANCE: "spring balance",
    MethodName.PRESS: "pressing a strand",
    MethodName.HUM: "the plucked strand's swings",
    MethodName.TURNS: "turns",
}
IDLES = "No power to speak of is asked: mountcalc setting says what a belt that only idles wants."


def summary(scenario: Scenario, table: TensionTable, methods: Sequence[Method] = ()) -> str:
    """The table in short."""
    slip = IDLES if idles(scenario) else _slip(table)
    about_turns = (_limit(table), _freed(scenario, table), _trust(scenario, table))
    how = _how(scenario, methods) or (
        "Whether and how it can be set: mountcalc setting." if about_turns[-1] else ""
    )
    sentences = [*_warnings(scenario, table), slip, *about_turns, how]
    return " ".join(sentence for sentence in sentences if sentence)


def _warnings(scenario: Scenario, table: TensionTable) -> list[str]:
    found = []
    states = {case.state for row in table.rows for case in row.cases.values()}
    if State.AT_STOP in states:
        found.append(
            "WARNING: at settings marked so the mount pulls itself tight to the end of its travel, "
            "and nothing here limits the load on the bearings (see the notes)."
        )
    if State.NO_BALANCE in states:
        found.append("At settings that rest on nothing the belt hangs slack.")
    if scenario.driven.power > scenario.motor.power * (1 + _RATING_ROUNDING):
        found.append("WARNING: the motor is rated below what the machine takes.")
    most = scenario.driven.max_speed
    if most is not None and table.driven > most:
        found.append("WARNING: the driven shaft turns faster than its given maximum.")
    return found


def _slip(table: TensionTable) -> str:
    running = _slips(table.rows, lambda row: bool(row.running.slips))
    starting = _slips(table.rows, lambda row: bool(row.starting.slips))
    if running == starting:
        return f"Running and starting, the belt {running}."
    if running.startswith(_NO_LONGER) and starting.startswith(_NO_LONGER):
        return f"Running, the belt {running}; starting,{starting.removeprefix(_NO_LONGER)}."
    return f"Running, the belt {running}; starting, it {starting}."


def _slips(rows: Sequence[Row], slips: Callable[[Row], bool]) -> str:
    """Whether it slips, and from where on no longer, in words."""
    at = [index for index, row in enumerate(rows) if slips(row)]
    if not at:
        return "does not slip"
    if at[-1] + 1 < len(rows):
        return f"{_NO_LONGER} from {_turns(rows[at[-1] + 1])} on"
    if len(rows) == 1:
        return "slips"
    return "slips in every row" if len(at) == len(rows) else "slips in the last row, too"


def _turns(row: Row) -> str:
    """How many turns."""
    noun = "turn" if row.turns is not None and 0 < row.turns <= 1 else "turns"
    return f"{turns_text(row.turns)} {noun}"


def _limit(table: TensionTable) -> str:
    rows = table.rows
    over = next((i for i, row in enumerate(rows) if row.worst_share_of_limit >= 1.0), None)
    if over is None:
        return "All known limits are kept in these rows."
    row = rows[over]
    if row.turns is None:
        return f"Over its limit: {_worst(row)}."
    if over == 0:
        return _over_at_first(rows)
    kept, passed = _turns(rows[over - 1]), _turns(row)
    return f"All known limits are kept up to {kept}; at {passed} one is passed: {_worst(row)}."


def _over_at_first(rows: Sequence[Row]) -> str:
    """What is over its limit already in the first row, and whether a tighter belt mends that."""
    slack = rows[0].tension == 0
    text = "Over its limit before the belt pulls" if slack else "Over its limit from the first row"
    text += f": {_worst(rows[0])}"
    within = next((row for row in rows if row.worst_share_of_limit < 1.0), None)
    if within is None:
        return f"{text}{', and no tension shown mends that' if slack else ''}."
    return f"{text}; within it from {_turns(within)} on."


def _worst(row: Row) -> str:
    shares = {
        (limited, name): share
        for name, case in row.cases.items()
        for limited, share in case.shares_of_limits.items()
    }
    limited, case = max(shares, key=lambda key: shares[key])
    return f"{limited}, {'at rest' if case == 'rest' else case}"


def _freed(scenario: Scenario, table: TensionTable) -> str:
    """From where on a bolt that holds the plate back is free."""
    held = [row for row in table.rows if row.rest.state is State.HELD]
    free = [row for row in table.rows if row.rest.state is State.RIDING]
    if not held or not free or free[-1] is not table.rows[-1]:
        return ""
    noun = adjuster_noun(scenario)
    return f"At {_turns(free[0])} the {noun} is free: more turns add nothing."


def _trust(scenario: Scenario, table: TensionTable) -> str:
    """Whether the belt's unknown stiffness can make counted turns wrong."""
    if table.tighten_by is None or idles(scenario):
        return ""
    doubtful = any(
        (row.slips_if_soft and not row.running.slips)
        or (row.over_limit_if_stiff and row.worst_share_of_limit < 1.0)
        for row in table.rows
    )
    if not doubtful:
        return ""
    return (
        "Do not go by turns alone: how stiff the belt is, is not known well enough (marks with ?)."
    )


def _how(scenario: Scenario, methods: Sequence[Method]) -> str:
    """The way to set it by, and its aim."""
    if not methods or not methods[0].trustworthy:
        return ""
    lead = methods[0]
    shown = readings_of(lead, scenario.display)
    aim = shown.aim if lead.name is MethodName.TURNS else f"{shown.aim} {shown.unit}"
    aim += " gained" if lead.name is MethodName.BALANCE else ""
    return f"Set it by {_BY[lead.name]}: aim at {aim} (mountcalc setting says how)."
