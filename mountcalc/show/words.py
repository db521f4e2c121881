"""Sentences for the bench: which way to turn, how to find zero, what the plate rests on."""

from __future__ import annotations

from mountcalc.results import Row, State, TensionTable, TightenBy, ZeroKind
from mountcalc.scenario.model import Acts, AdjusterKind, Rotation, Scenario
from mountcalc.show.display import UNITS

__all__ = ["adjuster_noun", "finding_zero", "marks", "rests_on", "rotation_words", "which_way"]

_ROTATION = {Rotation.CCW: "counter-clockwise", Rotation.CW: "clockwise"}


def adjuster_noun(scenario: Scenario) -> str:
    """What the adjuster is called: the bolt, or the link."""
    return "link" if scenario.adjuster.kind is AdjusterKind.LINK else "bolt"


def rotation_words(scenario: Scenario) -> str:
    """Rotation of both pulleys and from where it is seen."""
    return f"{_ROTATION[scenario.motor.rotation]} seen facing the motor's pulley"


def which_way(scenario: Scenario, table: TensionTable) -> str:
    """Which way to turn the wrench, and what one turn does."""
    if table.tighten_by is None or table.advance_per_turn is None:
        return "There is no adjuster: weight alone tightens the belt."
    units = UNITS[scenario.display]
    longer = table.tighten_by is TightenBy.EXTEND
    step = f"one turn {units.fine(table.advance_per_turn)} {units.length}"
    if scenario.adjuster.kind is AdjusterKind.LINK:
        becomes = "longer" if longer else "shorter"
        return f"Turn the nut or the turnbuckle so that the link gets {becomes} ({step})."
    thread = scenario.adjuster.thread
    moves = "comes out further" if longer else "draws back"
    if thread is None:
        return f"Turn the bolt so that its tip {moves} ({step})."
    clockwise = thread.right_handed == longer
    hand = "right" if thread.right_handed else "left"
    return (
        f"Turn the bolt {'clockwise' if clockwise else 'counter-clockwise'} seen from the head "
        f"({hand}-handed thread {thread.name}): its tip {moves}, {step}, one flat of the hex a "
        "sixth of that."
    )


def finding_zero(scenario: Scenario, table: TensionTable) -> str:
    """How the hands find the position that turns are counted from."""
    zero = table.zero
    if zero.plate_angle is None:
        return "The plate finds no balance by its weight: there is nothing to count from."
    units = UNITS[scenario.display]
    noun = adjuster_noun(scenario)
    tension = f"{units.strength(zero.tension, 2)} {units.force}"
    where = f"The shafts are then {units.long(zero.center_distance)} {units.length} apart."
    if table.tighten_by is None:
        return (
            "Let the plate down gently until the belt carries it. Weight alone then puts about "
            f"{tension} on each strand. {where}"
        )
    if zero.kind is ZeroKind.CONTACT:
        return (
            f"Back the {noun} off until it is clear of the plate and let the plate down gently "
            f"until the belt carries it: weight alone puts about {tension} on each strand. Bring "
            f"the {noun} up until it just touches and a slip of paper is just held. That is zero. "
            f"{where}"
        )
    back = "slacken" if scenario.adjuster.acts is Acts.BOTH else "back off"
    return (
        f"With the weight on the {noun}, {back} until both strands hang slack; then tighten until "
        "the slack is just gone and the strands are straight, yet a finger still moves them with "
        f"no effort. That is zero. {where}"
    )


def rests_on(scenario: Scenario, row: Row) -> str:
    """What the plate rests on, at rest and wherever that changes."""
    words = {
        State.HELD: adjuster_noun(scenario),
        State.RIDING: "belt",
        State.NO_BALANCE: "nothing",
        State.AT_STOP: "its stop",
        State.BEYOND_TRAVEL: "past the travel",
    }
    base = words[row.rest.state]
    changes = [
        f"{name} {words[case.state]}"
        for name, case in (("run", row.running), ("start", row.starting))
        if case.state is not row.rest.state
    ]
    return base + (f" ({', '.join(changes)})" if changes else "")


def marks(row: Row) -> str:
    """Short marks: where the belt slips, and where a bearing is at its limit."""
    found = []
    if row.running.slips:
        found.append("slips")
    elif row.starting.slips:
        found.append("start slips")
    if row.worst_share_of_limit >= 1.0:
        found.append("LIMIT")
    return ", ".join(found)
