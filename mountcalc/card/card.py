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
from mountcalc.pages.page import Note, Side
from mountcalc.requirements.notes import stretches_for_long
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Setting, SpringBalance
from mountcalc.requirements.setting import NO_ADJUSTER, idles
from mountcalc.requirements.spring_balance import spring_balance
from mountcalc.requirements.window import first_reach
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.setting import weight_alone

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
    aside = _turns_left_aside(scenario, turns)
    if not point.has_adjuster:
        turns = None
    if turns is None and point.has_adjuster and point.setting.set_turns is None:
        return _without(point, "no set point", _no_setting(scenario, point.setting))
    rest, index = point.cases[0].rest, point.middle
    asked = turns is not None
    over = None if asked else _press_over(point.setting)
    bedded = strand_test(point.promises.solved, point.turns, rest, index, over)
    if bedded is None:
        why = NO_TENSION.get(State(str(rest.state[index])), SLACK)
        reason = _reason(point, asked=asked)
        return _without(point, reason, f"There is no tension to feel: {why}", aside)
    return _card(point, bedded, aside, asked=asked)


def _press_over(setting: Setting) -> int | None:
    """Span over the deflection that the methods press by."""
    return next(
        (one.span_over_deflection for one in setting.methods if one.span_over_deflection), None
    )


def _card(
    point: SetPoint, bedded: StrandTest, aside: tuple[Note, ...], *, asked: bool
) -> BenchCard:
    """The card of a mount that has a tension to feel."""
    scenario = point.scenario
    new = _new_belt(point, bedded, asked=asked)
    return BenchCard(
        title=scenario.title,
        count=scenario.belt.count,
        reason=_reason(point, asked=asked),
        why_not=None,
        caution=_caution(point, asked=asked),
        bedded=bedded,
        new=new,
        spring_balance=_spring_balance(point, bedded, new),
        methods=() if asked else point.setting.methods,
        weight_alone=None if asked else _weight_that_keeps(point),
        look_again=_look_again(scenario, bedded.gives),
        table=compare_with_table(point.promises, bedded, new),
        notes=(*aside, *_notes(scenario, bedded, new)),
    )


def _spring_balance(
    point: SetPoint, bedded: StrandTest, new: StrandTest | None
) -> SpringBalance | None:
    """The pull on the plate; there is none where the adjuster carries nothing."""
    if not point.has_adjuster or bedded.gives is Gives.WHOLLY:
        return None
    tighter = bedded if new is None else new
    return spring_balance(point.promises.solved, bedded.tension, tighter.tension)


def _weight_that_keeps(point: SetPoint) -> str | None:
    """What `setting` says first where weight alone keeps all and there is an adjuster to leave."""
    if not point.has_adjuster:
        return None
    return weight_alone(point.scenario, point.setting).keeps_sentence


def _no_setting(scenario: Scenario, setting: Setting) -> str:
    opens = "" if idles(scenario) else "What would open the range is told by mountcalc setting. "
    return (
        f"There is no setting to feel for, because {setting.why_not_open}. {opens}Ask for turns to "
        "see how this mount feels there"
    )


def _without(point: SetPoint, reason: str, why: str, aside: tuple[Note, ...] = ()) -> BenchCard:
    """The card of a mount that has no tension to feel."""
    return BenchCard(
        title=point.scenario.title,
        count=point.scenario.belt.count,
        reason=reason,
        why_not=f"{why}.",
        caution=None,
        bedded=None,
        new=None,
        spring_balance=None,
        methods=(),
        weight_alone=None,
        look_again=(),
        table=None,
        notes=aside,
    )


def _reason(point: SetPoint, *, asked: bool) -> str:
    if asked:
        return "the turns that were asked for"
    return "the gentlest setting" if point.has_adjuster else "the tension that weight alone gives"


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


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _new_belt(point: SetPoint, bedded: StrandTest, *, asked: bool) -> StrandTest | None:
    """The test of a new belt, or None where it is set no tighter."""
    if point.turns is None or bedded.gives is Gives.WHOLLY:
        return None
    turns = point.setting.new_turns
    if asked:
        turns = _new_turns(point.promises, point.setting, point.turns, bedded.tension)
    if turns is None:
        return None
    solved = point.promises.solved
    rest = solved.case(solved.place(np.array([turns])), solved.demands["rest"], with_grip=False)
    test = strand_test(solved, turns, rest, 0, bedded.press.span_over_deflection)
    return None if test is None or test.tension <= bedded.tension * (1 + SAME) else test


def _new_turns(promises: Promises, setting: Setting, turns: float, tension: float) -> float | None:
    """Turns for a new belt where turns were asked for: as much tighter as the bearings allow."""
    ends = (promises.last_turn, setting.turns_max, setting.free_turns)
    end = min(one for one in ends if one is not None)
    most = float(promises.tension(np.array([end]))[0])
    wanted = tension * promises.scenario.limits.bedding
    if end <= turns or not math.isfinite(most):
        return None
    if wanted >= most:
        return end
    return first_reach(lambda turn: np.nan_to_num(promises.tension(turn)) / wanted, end)


def _look_again(scenario: Scenario, gives: Gives) -> tuple[LookAgain, ...]:
    """When to look, and what to do then: weight takes up stretch by itself, an adjuster not."""
    what = "riding" if gives is Gives.WHOLLY else "held"
    kind = "stretches" if stretches_for_long(scenario.belt) else "V"
    return tuple(
        LookAgain(row["when"], row[what], row["source"], row["sure"])
        for row in load("bench_card")["look_again"]
        if row.get("of", kind) == kind
    )


def _turns_left_aside(scenario: Scenario, turns: float | None) -> tuple[Note, ...]:
    """Say that turns were asked for where there is nothing to turn."""
    if turns is None or scenario.adjuster.kind is not AdjusterKind.NONE:
        return ()
    text = (
        f"The {turns:g} turns that were asked for are left aside: {NO_ADJUSTER}, and this is the "
        "one position that it finds."
    )
    return (Note("turns-left-aside", Side.MOUNT, text, (turns,)),)


def _notes(scenario: Scenario, bedded: StrandTest, new: StrandTest | None) -> Iterator[Note]:
    """What the numbers leave open."""
    heard = load("bench_card")["heard"]
    if bedded.gives is Gives.WHOLLY:
        text = (
            "The plate rides on the belt and gives way as a strand is pressed in, so the belt does "
            "not stretch: one force, and no range."
        )
        yield Note("rides", Side.MODEL, text)
        if scenario.adjuster.kind is not AdjusterKind.NONE:
            text = (
                "The adjuster carries nothing here: backed off until it is clear, it leaves this "
                "tension to the weights, and there is nothing to pull at with a spring balance."
            )
            yield Note("carries-nothing", Side.MOUNT, text)
    else:
        yield from _of_the_force(scenario, bedded)
        yield from _of_a_new_belt(scenario, bedded, new)
    if bedded.span_frequency is None:
        text = "The belt's mass is given as nothing, so the span's frequency is not known."
        yield Note("no-mass", Side.MOUNT, text)
        return
    if bedded.timing is not Timing.MICROPHONE:
        text = (
            f"Most telephones hear nothing below about {heard['least_Hz']:.0f} swings a second "
            f"({heard['sure']}): do not trust what a tuner program shows here."
        )
        yield Note("not-heard", Side.MODEL, text, (heard["least_Hz"],))
    text = (
        "The span is taken as a string: a thick belt on a short span sounds higher and feels "
        "stiffer than that (common practice, from memory)."
    )
    yield Note("string", Side.MODEL, text)


def _of_the_force(scenario: Scenario, bedded: StrandTest) -> Iterator[Note]:
    factor = scenario.belt.stiffness_factor
    said = {
        "two-forces": "Two forces are given: the lower where the belt creeps round the pulleys and "
        "stretches as a whole, the higher where only the pressed span stretches. Rocking the "
        "pulleys while pressing brings the reading towards the lower.",
        "widest": f"The range from the softest to the stiffest belt has its stiffness {factor:g} "
        f"times less and {factor:g} times more besides; the tension is the same.",
    }
    if bedded.gives is Gives.PARTLY:
        said["spring"] = (
            "The adjuster's spring gives way a little: the lower force is that of a plate that "
            "rides."
        )
    if bedded.finer is not None and bedded.tells:
        said["finer"] = (
            "At 1/64 of the span a stiff belt's stretch would ask for more than a third of what "
            "its tension does: hence the smaller deflection. Measure it well."
        )
    elif bedded.finer is not None:
        said["drowned"] = (
            "Even at the smallest deflection the stretch of this belt may drown its tension: trust "
            "the spring balance on the plate instead."
        )
    if scenario.belt.count > 1:
        said["many-belts"] = (
            "Forces are those of one belt. While one is pressed the others hold the pulleys, so "
            "expect the upper end; press each belt, and set by their mean."
        )
    yield from (Note(name, Side.MODEL, text) for name, text in said.items())


def _of_a_new_belt(
    scenario: Scenario, bedded: StrandTest, new: StrandTest | None
) -> Iterator[Note]:
    bedding = scenario.limits.bedding
    times = 1.0 if new is None else new.tension / bedded.tension
    rounding = 0.0
    more = 0.0 if new is None else (new.turns or 0.0) - (bedded.turns or 0.0)
    if more > 0:  # what a new belt's turns may lose as they are rounded to sixteenths
        rounding = (times - 1.0) / more / 32
    if times + rounding < bedding * (1 - SAME):
        allows = "no more than this" if new is None else f"{times:.2f} times"
        text = (
            f"A new belt is wanted {bedding:g} times as tight as one that has bedded in; the "
            f"bearings or the travel allow {allows}: look at it sooner."
        )
        yield Note("less-for-new", Side.MOUNT, text, (bedding, times))
