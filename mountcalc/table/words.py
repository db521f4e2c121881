"""Sentences for the bench: which way to turn, how to find zero, what the plate rests on."""

from __future__ import annotations

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.pages.display import UNITS
from mountcalc.requirements.results import SpringBalance
from mountcalc.scenario.model import AdjusterKind, Rotation, Scenario
from mountcalc.table.results import Row, TensionTable, TightenBy

__all__ = [
    "MARKS",
    "adjuster_noun",
    "finding_zero",
    "flats",
    "marks",
    "moved",
    "new_belt_hangs_free",
    "rests_on",
    "rotation_words",
    "which_way",
]

_ROTATION = {Rotation.CCW: "counter-clockwise", Rotation.CW: "clockwise"}


def adjuster_noun(scenario: Scenario) -> str:
    """What the adjuster is called: the bolt, or the link."""
    return "link" if scenario.adjuster.kind is AdjusterKind.LINK else "bolt"


def flats(scenario: Scenario) -> int | None:
    """Flats of what is turned in one turn: those of a bolt's hex; a link is told in turns alone."""
    return None if scenario.adjuster.kind is AdjusterKind.LINK else 6


def moved(scenario: Scenario, table: TensionTable) -> tuple[str, str]:
    """How the adjuster's move since zero is called, and what it is."""
    extends = table.tighten_by is TightenBy.EXTEND
    if scenario.adjuster.kind is AdjusterKind.LINK:
        becomes = "longer" if extends else "shorter"
        return f"link {becomes}", f"how much {becomes} it has become since zero"
    return "tip moved", f"how far it has {'come out' if extends else 'drawn back'} since zero"


def rotation_words(scenario: Scenario) -> str:
    """Rotation of both pulleys and from where it is seen."""
    seen = f"{_ROTATION[scenario.motor.rotation]} seen facing the motor's pulley"
    return f"{seen} (it runs both ways; this is for the one)" if scenario.motor.reverses else seen


def which_way(scenario: Scenario, table: TensionTable) -> str:
    """Which way to turn the wrench, and what one turn does."""
    if table.tighten_by is None or table.advance_per_turn is None:
        return "There is no adjuster: weight alone tightens the belt."
    units = UNITS[scenario.display]
    step = f"one turn {units.fine(table.advance_per_turn)} {units.length}"
    how = _turn_it(scenario, table, tighten=True)
    thread = scenario.adjuster.thread
    if scenario.adjuster.kind is AdjusterKind.LINK or thread is None:
        return f"Turn {how}, {step}."
    hand = "right" if thread.right_handed else "left"
    moves = "comes out further" if table.tighten_by is TightenBy.EXTEND else "draws back"
    return (
        f"Turn {how} ({hand}-handed thread {thread.name}): its tip {moves}, {step}, one flat of "
        "the hex a sixth of that."
    )


def _turn_it(scenario: Scenario, table: TensionTable, *, tighten: bool) -> str:
    """What to turn, and which way."""
    longer = (table.tighten_by is TightenBy.EXTEND) == tighten
    if scenario.adjuster.kind is AdjusterKind.LINK:
        becomes = "longer" if longer else "shorter"
        return f"the nut or the turnbuckle so that the link gets {becomes}"
    thread = scenario.adjuster.thread
    if thread is None:
        return f"the bolt so that its tip {'comes out further' if longer else 'draws back'}"
    way = "clockwise" if thread.right_handed == longer else "counter-clockwise"
    return f"the bolt {way} seen from the head"


def finding_zero(scenario: Scenario, table: TensionTable) -> str:
    """How the hands find the position that turns are counted from."""
    zero = table.zero
    if zero.plate_angle is None:
        return "The plate finds no balance by its weight: there is nothing to count from."
    units = UNITS[scenario.display]
    tension = f"{units.strength(zero.tension, 2)} {units.force}"
    where = f"The shafts are then {units.long(zero.center_distance)} {units.length} apart."
    if table.tighten_by is None:
        return (
            "Let the plate down gently until the belt carries it. Weight alone then puts about "
            f"{tension} on each strand. {where}"
        )
    loosen = _turn_it(scenario, table, tighten=False)
    if zero.kind is ZeroKind.CONTACT:
        return (
            f"Loosen first: turn {loosen}, until {_clear(scenario)} and the belt carries the "
            f"plate, let down gently: weight alone puts about {tension} on each strand. Turn back "
            f"until {_touching(scenario)}. That is zero. {where}"
        )
    return (
        f"Loosen first: turn {loosen}, until both strands hang slack with the plate's weight on "
        f"the {adjuster_noun(scenario)}. Turn back until the slack is just gone and the strands "
        f"are straight, yet a finger still moves them with no effort. That is zero. {where}"
    )


def _clear(scenario: Scenario) -> str:
    return {
        AdjusterKind.JACK_IN_BASE: "its tip is clear of the plate",
        AdjusterKind.JACK_IN_PLATE: "its tip is clear of the face that it bears on",
    }.get(scenario.adjuster.kind, "the link has play at its pins")


def _touching(scenario: Scenario) -> str:
    if scenario.adjuster.kind is AdjusterKind.LINK:
        return "the play is just gone"
    return "the tip just touches and a slip of paper is just held"


def new_belt_hangs_free(scenario: Scenario, balance: SpringBalance) -> bool:
    """Whether a new belt's pull is too small to be told from a plate that hangs on the belt."""
    return not balance.tightens and balance.new_pull < scenario.limits.balance_error


def rests_on(scenario: Scenario, row: Row) -> str:
    """What the plate rests on, at rest and wherever that changes."""
    words = {
        State.HELD: adjuster_noun(scenario),
        State.RIDING: "belt",
        State.NO_BALANCE: "nothing",
        State.AT_STOP: "PULLS ITSELF TIGHT",
        State.BEYOND_TRAVEL: "past the travel",
    }
    base = words[row.rest.state]
    changes = [
        f"{name} {words[case.state]}"
        for name, case in (("run", row.running), ("start", row.starting))
        if case.state is not row.rest.state
    ]
    return base + (f" ({', '.join(changes)})" if changes else "")


MARKS = {
    "slips": "slips: running.",
    "slips?": "slips?: running, if the belt is as soft as it may be.",
    "start slips": "start slips: as it starts only.",
    "LIMIT": "LIMIT: something is at or over its limit.",
    "LIMIT?": "LIMIT?: if the belt is as stiff as it may be.",
}


def marks(row: Row) -> tuple[str, ...]:
    """Short marks: where the belt slips, and where something is at its limit."""
    found = []
    if row.running.slips:
        found.append("slips")
    elif row.slips_if_soft:
        found.append("slips?")
    if row.starting.slips and not row.running.slips:
        found.append("start slips")
    if row.worst_share_of_limit >= 1.0:
        found.append("LIMIT")
    elif row.over_limit_if_stiff:
        found.append("LIMIT?")
    return tuple(found)
