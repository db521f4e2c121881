"""Sentences for the bench: how to find zero, which way to turn, and what a table comes to."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.pages.amounts import UNITS, turns_text
from mountcalc.requirements import notes
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.requirements import weight_keeps
from mountcalc.requirements.results import MethodName, Setting
from mountcalc.requirements.setting import idles
from mountcalc.scenario.model import AdjusterKind, Rotation, Scenario
from mountcalc.table.results import Row, TensionTable, TightenBy
from mountcalc.thresholds import ROUNDING

_ROTATION = {Rotation.CCW: "counter-clockwise", Rotation.CW: "clockwise"}
_FLATS = 6
NO_LOADS = {
    State.NO_BALANCE: "no plate angle in the travel balances the plate with a taut belt",
    State.AT_STOP: "the mount tightens itself to the end of the travel",
    State.BEYOND_TRAVEL: "past the travel",
}
"""Why there are none, nor a tension."""
ZERO_WORDS = {
    ZeroKind.SNUG: "where the belt is just taut by hand",
    ZeroKind.CONTACT: "where the adjuster just touches",
}
"""Where turns are counted from."""
_BOTH = " There are two: turn both as far, in small steps (mountcalc check says how small)."
_BY = {
    MethodName.BALANCE: "spring balance",
    MethodName.PRESS: "pressing a strand",
    MethodName.HUM: "plucked strand",
    MethodName.TURNS: "turns",
    MethodName.SPRING: "the spring's length",
}


def adjuster_noun(scenario: Scenario) -> str:
    """What the adjuster is called: the bolt, or the link."""
    return "link" if scenario.adjuster.kind is AdjusterKind.LINK else "bolt"


def case_words(name: str) -> str:
    """A load case as it stands in a sentence."""
    return "at rest" if name == "rest" else name


def leave_it(scenario: Scenario) -> str:
    """What is done with the adjuster where weight alone will do."""
    if scenario.adjuster.kind is AdjusterKind.NONE:
        return "Leave it to the weight"
    return f"Leave the {'link unpinned' if adjuster_noun(scenario) == 'link' else 'bolt clear'}"


def flats(scenario: Scenario) -> int | None:
    """Flats of what is turned in one turn: those of a bolt's hex; a link is told in turns alone."""
    return None if scenario.adjuster.kind is AdjusterKind.LINK else _FLATS


def moved(scenario: Scenario, table: TensionTable) -> str:
    """How the adjuster's move since zero is called."""
    if scenario.adjuster.kind is not AdjusterKind.LINK:
        return "tip out" if table.tighten_by is TightenBy.EXTEND else "tip in"
    return "link longer" if table.tighten_by is TightenBy.EXTEND else "link shorter"


def rotation_words(scenario: Scenario) -> str:
    """Rotation of both pulleys and from where it is seen."""
    seen = f"{_ROTATION[scenario.motor.rotation]} seen facing the motor's pulley"
    return f"{seen} (it runs both ways; this is for the one)" if scenario.motor.reverses else seen


def which_way(scenario: Scenario, table: TensionTable) -> str:
    """Which way to turn the wrench, and what one turn does."""
    if table.tighten_by is None or table.advance_per_turn is None:
        return "There is no adjuster: weight alone tightens the belt."
    units = UNITS[scenario.display]
    step = f"{units.fine(table.advance_per_turn)} {units.length}"
    how = _turn_it(scenario, table, tighten=True)
    thread = scenario.adjuster.thread
    both = _BOTH if scenario.adjuster.bolts else ""
    if scenario.adjuster.kind is AdjusterKind.LINK or thread is None:
        return f"Turn {how}, {step} a turn.{both}"
    hand = "right" if thread.right_handed else "left"
    moves = "comes out" if table.tighten_by is TightenBy.EXTEND else "draws back"
    flat = f"{units.fine(table.advance_per_turn / _FLATS)} {units.length}"
    return (
        f"Turn {how} ({hand}-handed thread {thread.name}): its tip {moves} {step} a turn, {flat} a "
        f"flat.{both}"
    )


def _turn_it(scenario: Scenario, table: TensionTable, *, tighten: bool) -> str:
    """What to turn, and which way."""
    longer = (table.tighten_by is TightenBy.EXTEND) == tighten
    if scenario.adjuster.kind is AdjusterKind.LINK:
        return f"nut or turnbuckle so that the link gets {'longer' if longer else 'shorter'}"
    thread = scenario.adjuster.thread
    if thread is None:
        return f"the bolt so that its tip {'comes out' if longer else 'draws back'}"
    way = "clockwise" if thread.right_handed == longer else "counter-clockwise"
    return f"the bolt {way} seen from the head"


def finding_zero(scenario: Scenario, table: TensionTable) -> str:
    """How the hands find the position that turns are counted from."""
    zero = table.zero
    if zero.plate_angle is None:
        return "The plate finds no balance by its weight: there is nothing to count from."
    units = UNITS[scenario.display]
    tension = f"{units.strength(zero.tension, 2)} {units.force}"
    apart = f"{units.long(zero.center_distance)} {units.length} apart"
    if table.tighten_by is None:
        return (
            "Let the plate down gently until the belt carries it: weight alone puts about "
            f"{tension} on each strand. The shafts are then {apart}."
        )
    loosen = f"Loosen first: turn {_turn_it(scenario, table, tighten=False)},"
    there = f"That is zero, with the shafts {apart}."
    if zero.kind is ZeroKind.CONTACT:
        clear, touching = {
            AdjusterKind.JACK_IN_BASE: ("its tip is clear of the plate", _TOUCHES),
            AdjusterKind.JACK_IN_PLATE: ("its tip is clear of the face it bears on", _TOUCHES),
        }.get(scenario.adjuster.kind, ("it has play at its pins", "the play is just gone"))
        return (
            f"{loosen} until {clear} and the belt carries the plate, let down gently: weight "
            f"alone puts about {tension} on each strand. Turn back until {touching}. "
            f"{there}{own_count(scenario)}"
        )
    slack = (
        f"{loosen} until both strands hang slack and the {adjuster_noun(scenario)} carries the "
        "plate."
    )
    own = own_count(scenario)
    if own:  # readings told it better than a finger does
        return f"{slack} Turn back to zero: shafts {apart}.{own}"
    return (
        f"{slack} Turn back until the slack is just gone, yet a finger still moves a strand with "
        f"no effort. {there}"
    )


_TOUCHES = "the tip just touches and just holds a slip of paper"


def own_count(scenario: Scenario) -> str:
    """How turns are read on a person's own count, as what follows on a sentence."""
    own = notes.own_count(scenario)
    return "" if own is None else f" {own.text}"


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
    run, start = row.running.state, row.starting.state
    if run is start is not row.rest.state:
        return f"{base} (run, start {words[run]})"
    changes = [
        f"{name} {words[state]}"
        for name, state in (("run", run), ("start", start))
        if state is not row.rest.state
    ]
    return base + (f" ({', '.join(changes)})" if changes else "")


MARKS = {
    "slips": "slips: running.",
    "slips?": "slips?: softest belt.",
    "start": "start: as it starts only.",
    "LIMIT": "LIMIT: at or over it.",
    "LIMIT?": "LIMIT?: stiffest belt.",
}


def marks(row: Row) -> tuple[str, ...]:
    """Short marks: where the belt slips, and where something is at its limit."""
    found = []
    if row.running.slips:
        found.append("slips")
    elif row.slips_if_soft:
        found.append("slips?")
    if row.starting.slips and not row.running.slips:
        found.append("start")
    if row.worst_share_of_limit >= 1.0:
        found.append("LIMIT")
    elif row.over_limit_if_stiff:
        found.append("LIMIT?")
    return tuple(found)


def verdict(scenario: Scenario, table: TensionTable, setting: Setting | None = None) -> str:
    """What the table comes to: warnings and how to set it first, then slip, limits and trust."""
    is_idle = idles(scenario)
    rows = [row for row in table.rows if row.rest.state is not State.BEYOND_TRAVEL]
    if not rows:
        return "No row is within the travel."
    # Whether the belt's unknown stiffness can make counted turns wrong.
    doubtful = table.tighten_by is not None and not is_idle
    doubtful &= any(mark.endswith("?") for row in rows for mark in marks(row))
    how = "Whether and how it can be set: mountcalc setting." if doubtful else ""
    if setting is not None and setting.methods and setting.methods[0].trustworthy:
        how = _how(scenario, setting)
        doubtful &= setting.methods[0].name is not MethodName.TURNS
    elif setting is not None and setting.set_tension is None and not is_idle:
        doubtful = False
        how = f"Closed: {setting.why_not_open}. What would open it: mountcalc setting."
    idle = (
        "No power to speak of is asked: mountcalc setting says what a belt that only idles wants."
    )
    trust = "Do not go by turns alone: the belt's stiffness is too unsure (marks with ?)."
    sentences = [
        *_warnings(scenario, table),
        how,
        idle if is_idle else _slip(rows),
        _limit(rows),
        _freed(scenario, rows),
        trust if doubtful else "",
    ]
    return " ".join(sentence for sentence in sentences if sentence)


def _how(scenario: Scenario, setting: Setting) -> str:
    """The way to set it by and its aim; before it weight alone, where that will do."""
    lead = setting.methods[0]
    shown = readings_of(lead, scenario)
    unit = "swings/s" if lead.name is MethodName.HUM else shown.unit
    aim = shown.aim if lead.name is MethodName.TURNS else f"{shown.aim} {unit}"
    aim += " gained" if lead.name is MethodName.BALANCE else ""
    how = f"et it by {_BY[lead.name]}: aim at {aim} (mountcalc setting says how)."
    if setting.set_turns is None or not weight_keeps(scenario):
        return f"S{how}"
    noun = adjuster_noun(scenario)
    return f"{leave_it(scenario)}: weight alone keeps grip and limits. By {noun}, s{how}"


def _warnings(scenario: Scenario, table: TensionTable) -> list[str]:
    states = {case.state for row in table.rows for case in row.cases.values()}
    most = scenario.driven.max_speed
    found = {
        "WARNING: at settings marked so the mount pulls itself tight to the end of its travel, and "
        "nothing here limits the load on the bearings.": State.AT_STOP in states,
        "At settings that rest on nothing the belt hangs slack.": State.NO_BALANCE in states,
        "WARNING: the motor is rated below what the machine takes.": scenario.driven.power
        > scenario.motor.power * (1 + ROUNDING),
        "WARNING: the driven shaft turns faster than its given maximum.": most is not None
        and table.driven > most,
    }
    return [sentence for sentence, holds in found.items() if holds]


def _slip(rows: Sequence[Row]) -> str:
    running, run_free = _slips(rows, [bool(row.running.slips) for row in rows])
    starting, start_free = _slips(rows, [bool(row.starting.slips) for row in rows])
    if running == starting:
        return f"Running and starting, the belt {running}."
    if run_free and start_free:
        return f"Running, the belt {running}; starting, by {start_free}."
    return f"Running, the belt {running}; starting, it {starting}."


def _slips(rows: Sequence[Row], slips: list[bool]) -> tuple[str, str]:
    """Whether it slips, and the turns from which on it slips no longer, if there are."""
    last = max((index for index, one in enumerate(slips) if one), default=None)
    if last is None:
        return "does not slip", ""
    if last + 1 < len(rows):
        free = counted_turns(rows[last + 1].turns)
        return f"stops slipping by {free}", free
    if len(rows) == 1:
        return "slips", ""
    return "slips in every row" if all(slips) else "slips in the last row", ""


def counted_turns(turns: float | None) -> str:
    """Turns with their noun: a part of one, or one, is a turn; decimals are turns."""
    text = turns_text(turns)
    single = turns is not None and 0 < turns <= 1 and "." not in text
    return f"{text} {'turn' if single else 'turns'}"


def _limit(rows: Sequence[Row]) -> str:
    over = next((i for i, row in enumerate(rows) if row.worst_share_of_limit >= 1.0), None)
    if over is None:
        return "All known limits are kept in these rows."
    row = rows[over]
    shares = {
        (limited, case_words(name)): share
        for name, case in row.cases.items()
        for limited, share in case.shares_of_limits.items()
    }
    limited, when = max(shares, key=lambda key: shares[key])
    worst = f"{limited}, {when}"
    if row.turns is None:
        return f"Over its limit: {worst}."
    if over > 0:
        kept, passed = counted_turns(rows[over - 1].turns), counted_turns(row.turns)
        return (
            f"All known limits are kept up to {kept}; at {passed} {limited} is over its limit, "
            f"{when}."
        )
    slack = row.tension == 0
    text = f"Over its limit {'before the belt pulls' if slack else 'from the first row'}: {worst}"
    within = next((row for row in rows if row.worst_share_of_limit < 1.0), None)
    if within is None:
        return f"{text}{', and no tension shown mends that' if slack else ''}."
    return f"{text}; within it from {counted_turns(within.turns)} on."


def _freed(scenario: Scenario, rows: Sequence[Row]) -> str:
    """From where on a bolt that holds the plate back is free."""
    states = [row.rest.state for row in rows]
    if State.HELD not in states or states[-1] is not State.RIDING:
        return ""
    free = counted_turns(rows[states.index(State.RIDING)].turns)
    return f"At {free} the {adjuster_noun(scenario)} is free: more turns add nothing."
