"""The bench card: how to feel, hear and weigh the tension of a belt, and when to look again."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from mountcalc.card.force_table import compare_with_table
from mountcalc.card.results import BenchCard, Gives, LookAgain, StrandTest, Timing
from mountcalc.card.strand_test import strand_test
from mountcalc.check import SetPoint, find_set_point
from mountcalc.equilibrium.states import State
from mountcalc.handbook.rows import load
from mountcalc.pages.page import Note
from mountcalc.requirements.notes import less_for_new, note, stretches_for_long
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Method, Setting
from mountcalc.requirements.setting import NO_ADJUSTER, certain_most, idles, new_belt_turns
from mountcalc.requirements.spring_balance import spring_balance
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.setting import keeps_sentence

__all__ = ["bench_card"]

SAME = 1e-3
"""A new belt set tighter by no more than this share is set the same."""

NO_TENSION = {
    State.NO_BALANCE: "no plate angle in the travel balances the plate with a taut belt",
    State.AT_STOP: "the mount tightens itself to the end of the travel",
}
SLACK = "the belt is slack there"


def bench_card(scenario: Scenario, turns: float | None = None) -> BenchCard:
    """What the hands need to find a setting again, for a belt that has bedded in and a new one.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float, optional [-]
        Turns from zero; without them those of the gentlest setting. A mount without an adjuster
        has one position, whatever the turns; a note then says so.

    Returns
    -------
    BenchCard
        In words where there is no tension to feel.

    Raises
    ------
    MountError
        Where the mount cannot be solved.
    InputError
        Where ``turns`` is not a number in the travel.
    """
    point = find_set_point(scenario, turns)
    setting = point.setting
    aside: tuple[Note, ...] = ()
    if turns is not None and scenario.adjuster.kind is AdjusterKind.NONE:
        aside = (note("turns-left-aside", turns=turns, why=NO_ADJUSTER),)
    asked = turns is not None and point.has_adjuster
    if not asked and point.has_adjuster and setting.set_turns is None:
        return _without(point, "no set point", _no_setting(scenario, setting))
    reason = "the gentlest setting" if point.has_adjuster else "the tension that weight alone gives"
    reason = "the turns that were asked for" if asked else reason
    methods = () if asked else setting.methods
    rest, index, solved = point.cases[0].rest, point.middle, point.requirements.solved
    # The deflection that the methods press by.
    over = next((one.span_over_deflection for one in methods if one.span_over_deflection), None)
    bedded = strand_test(solved, point.turns, rest, index, over)
    if bedded is None:
        why = NO_TENSION.get(State(str(rest.state[index])), SLACK)
        return _without(point, reason, f"There is no tension to feel: {why}", aside)
    new = _new_belt(point, bedded, asked=asked)
    balance = by_weight = None
    if point.has_adjuster and bedded.gives is not Gives.WHOLLY:
        balance = spring_balance(solved, bedded.tension, (new or bedded).tension)
    if point.has_adjuster and not asked:
        by_weight = keeps_sentence(scenario, setting)
    return BenchCard(
        title=scenario.title,
        count=scenario.belt.count,
        reason=reason,
        why_not=None,
        caution=_caution(point, asked=asked),
        bedded=bedded,
        new=new,
        spring_balance=balance,
        methods=methods,
        ceiling=_ceiling(setting) if asked else None,
        weight_alone=by_weight,
        look_again=_look_again(scenario, bedded.gives),
        table=compare_with_table(point.requirements, bedded, new),
        notes=(*aside, *_notes(scenario, bedded, new)),
    )


def _no_setting(scenario: Scenario, setting: Setting) -> str:
    opens = "" if idles(scenario) else "What would open the range is told by mountcalc setting. "
    return (
        f"There is no setting to feel for, because {setting.why_not_open}. {opens}Ask for turns to "
        "see how this mount feels there"
    )


def _without(point: SetPoint, reason: str, why: str, aside: tuple[Note, ...] = ()) -> BenchCard:
    """The card of a mount that has no tension to feel."""
    scenario = point.scenario
    nothing = dict.fromkeys(("caution", "bedded", "new", "spring_balance", "weight_alone", "table"))
    return BenchCard(
        title=scenario.title,
        count=scenario.belt.count,
        reason=reason,
        why_not=f"{why}.",
        methods=(),
        ceiling=None,
        look_again=(),
        notes=aside,
        **nothing,
    )


def _caution(point: SetPoint, *, asked: bool) -> str | None:
    """What is wrong with a setting that can be felt all the same."""
    setting = point.setting
    if not asked or point.turns is None:
        return None if setting.open else f"{_capital(setting.why_not_open or '')}."
    found = []
    if setting.turns_min is None:
        found.append(setting.governs.min_reason or "the wanted grip is not reached")
    elif point.turns < setting.turns_min:
        found.append(
            f"a grip of {setting.grip_wanted:g} needs {setting.turns_min:.2f} turns: "
            "here the belt has less, or slips"
        )
    if setting.turns_max is not None and point.turns > setting.turns_max:
        found.append(
            f"past {setting.turns_max:.2f} turns "
            + (setting.governs.max_reason or "a bearing is over its limit")
        )
    return f"{_capital('; '.join(found))}." if found else None


def _ceiling(setting: Setting) -> Method | None:
    """The leading way where it has a reading above which a limit may be passed."""
    lead = next(iter(setting.methods), None)
    return None if lead is None or lead.never_above is None else lead


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _new_belt(point: SetPoint, bedded: StrandTest, *, asked: bool) -> StrandTest | None:
    """The test of a new belt, or None where it is set no tighter."""
    if point.turns is None or bedded.gives is Gives.WHOLLY:
        return None
    turns = point.setting.new_turns
    if asked:
        turns = _new_turns(point.requirements, point.setting, point.turns)
    if turns is None:
        return None
    solved = point.requirements.solved
    rest = solved.case(solved.place(np.array([turns])), solved.demands["rest"], with_grip=False)
    test = strand_test(solved, turns, rest, 0, bedded.press.span_over_deflection)
    return None if test is None or test.tension <= bedded.tension * (1 + SAME) else test


def _new_turns(requirements: Requirements, setting: Setting, turns: float) -> float | None:
    """Turns for a new belt where turns were asked for: as much tighter as is certain to be kept."""
    ends = (requirements.last_turn, setting.turns_max, setting.free_turns)
    end = min(one for one in ends if one is not None)
    most = certain_most(requirements, setting.turns_min or 0.0, setting.turns_max, end)
    if most <= turns:
        return None
    new = new_belt_turns(requirements, turns, most)
    return new if new > turns and math.isfinite(new) else None


def _look_again(scenario: Scenario, gives: Gives) -> tuple[LookAgain, ...]:
    """When to look, and what to do then: weight takes up stretch by itself, an adjuster not."""
    what = "riding" if gives is Gives.WHOLLY else "held"
    kind = "stretches" if stretches_for_long(scenario.belt) else "V"
    return tuple(
        LookAgain(row["when"], row[what], row["source"], row["sure"])
        for row in load("bench_card")["look_again"]
        if row.get("of", kind) == kind
    )


def _notes(scenario: Scenario, bedded: StrandTest, new: StrandTest | None) -> Iterator[Note]:
    """What the numbers leave open."""
    if bedded.gives is Gives.WHOLLY:
        yield note("rides")
        if scenario.adjuster.kind is not AdjusterKind.NONE:
            yield note("carries-nothing")
    else:
        yield note("two-forces")
        yield note("widest", factor=scenario.belt.stiffness_factor)
        if bedded.gives is Gives.PARTLY:
            yield note("spring")
        if bedded.finer is not None:
            yield note("finer" if bedded.tells else "drowned")
        if scenario.belt.count > 1:
            yield note("many-belts")
        tighter = bedded if new is None else new
        less = less_for_new(
            scenario.limits.bedding,
            (bedded.turns, bedded.tension),
            (tighter.turns, tighter.tension),
        )
        if less is not None:
            yield less
    if bedded.span_frequency is None:
        yield note("no-mass")
        return
    if bedded.timing is not Timing.MICROPHONE:
        heard = load("bench_card")["heard"]
        yield note("not-heard", least_Hz=heard["least_Hz"], sure=heard["sure"])
    yield note("string")
