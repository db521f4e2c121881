"""The bench card: how to feel, hear and weigh the tension of a belt, and when to look again."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from mountcalc.card.force_table import compare_with_table
from mountcalc.card.results import BenchCard, Deflection, Gives, LookAgain, StrandTest, Timing
from mountcalc.check import SetPoint, find_set_point
from mountcalc.equilibrium.give import kept_of_growth
from mountcalc.equilibrium.solve import CaseSolution, SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import (
    DEFLECTION_RATIO,
    coarsest_that_tells,
    mid_span_force,
    span_frequency,
    string_force,
)
from mountcalc.handbook.rows import load
from mountcalc.pages.page import Note
from mountcalc.requirements.methods import spring_balance
from mountcalc.requirements.notes import less_for_new, note, own_count, stretches_for_long
from mountcalc.requirements.setting import NO_ADJUSTER, certain_most, idles, new_belt_turns
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.setting import keeps_sentence
from mountcalc.table import words
from mountcalc.thresholds import ROUNDING


def bench_card(scenario: Scenario, turns: float | None = None) -> BenchCard:
    """What the hands need to find a setting again, for a belt that has bedded in and a new one.

    Without turns [-] that of the gentlest setting; in words where there is no tension to feel. A
    mount without an adjuster has one position, whatever the turns; a note then says so.
    """
    point = find_set_point(scenario, turns)
    setting, solved = point.setting, point.requirements.solved
    aside: tuple[Note, ...] = ()
    if turns is not None and not point.has_adjuster:
        aside = (note("turns-left-aside", turns=turns, why=NO_ADJUSTER),)
    gentlest = math.nan if setting.set_turns is None else setting.set_turns
    asked = turns is not None and point.has_adjuster and not abs(turns - gentlest) <= ROUNDING
    reason = "the turns that were asked for" if asked else "the gentlest setting"
    if not point.has_adjuster:
        reason = "the tension that weight alone gives"

    def without(reason: str, why: str) -> BenchCard:
        return BenchCard(
            title=scenario.title,
            count=scenario.belt.count,
            reason=reason,
            why_not=f"{why}.",
            notes=aside,
        )

    if not asked and point.has_adjuster and setting.set_turns is None:
        opens = "" if idles(scenario) else "mountcalc setting says what would open the range. "
        why = f"There is no setting to feel for, because {setting.why_not_open}. {opens}"
        return without("no setting", f"{why}With --turns the card is for a setting of yours")
    methods = () if asked else setting.methods
    rest, index = point.cases[0].rest, point.middle
    # The deflection that the methods press by.
    over = next((one.span_over_deflection for one in methods if one.span_over_deflection), None)
    bedded = strand_test(solved, point.turns, rest, index, over)
    if bedded is None:
        why = words.NO_LOADS.get(State(str(rest.state[index])), "the belt is slack there")
        return without(reason, f"There is no tension to feel: {why}")
    new = _new_belt(point, bedded, asked=asked)
    is_held = bedded.gives is not Gives.WHOLLY
    lead = next(iter(setting.methods), None) if asked else None
    return BenchCard(
        title=scenario.title,
        count=scenario.belt.count,
        reason=reason,
        caution=_caution(point, asked=asked),
        bedded=bedded,
        new=new,
        spring_balance=spring_balance(solved, bedded.tension, (new or bedded).tension)
        if point.has_adjuster and is_held
        else None,
        methods=methods,
        ceiling=None if lead is None or lead.never_above is None else lead,
        weight_alone=keeps_sentence(scenario, setting)
        if point.has_adjuster and not asked
        else None,
        look_again=_look_again(scenario, "held" if is_held else "riding"),
        table=compare_with_table(point.requirements, bedded, new),
        notes=(*aside, *_notes(scenario, bedded, new)),
    )


def _caution(point: SetPoint, *, asked: bool) -> str | None:
    """What is wrong with a setting that can be felt all the same."""
    setting, found = point.setting, []
    if not asked or point.turns is None:
        found = [] if setting.open else [setting.why_not_open or ""]
    elif setting.turns_min is None:
        found = [setting.governs.min_reason or "the wanted grip is not reached"]
    elif point.turns < setting.turns_min:
        needs = f"a grip of {setting.grip_wanted:g} needs {setting.turns_min:.2f} turns"
        found = [f"{needs}: here the belt has less, or slips"]
    most = setting.turns_max
    if asked and most is not None and point.turns is not None and point.turns > most:
        why = setting.governs.max_reason or "a bearing is over its limit"
        found.append(f"past {most:.2f} turns {why}")
    said = "; ".join(found)
    return f"{said[:1].upper()}{said[1:]}." if found else None


def _new_belt(point: SetPoint, bedded: StrandTest, *, asked: bool) -> StrandTest | None:
    """The test of a new belt, or None where it is set no tighter."""
    if point.turns is None or bedded.gives is Gives.WHOLLY:
        return None
    requirements, setting, turns = point.requirements, point.setting, point.setting.new_turns
    if asked:  # as much tighter as is certain to be kept
        ends = (requirements.last_turn, setting.turns_max, setting.free_turns)
        end = min(one for one in ends if one is not None)
        most = certain_most(requirements, setting.turns_min or 0.0, setting.turns_max, end)
        turns = new_belt_turns(requirements, point.turns, most) if most > point.turns else None
        if turns is not None and not (turns > point.turns and math.isfinite(turns)):
            turns = None
    if turns is None:
        return None
    solved = requirements.solved
    rest = solved.at_rest(turns)
    test = strand_test(solved, turns, rest, 0, bedded.press.span_over_deflection)
    # Tighter by no more than a thousandth is the same.
    return None if test is None or test.tension <= bedded.tension * 1.001 else test


def strand_test(
    solved: SolvedMount,
    turns: float | None,
    rest: CaseSolution,
    index: int,
    over: int | None = None,
) -> StrandTest | None:
    """How one strand of one belt feels under the thumb and sounds when plucked."""
    tension, scenario = float(rest.tension[index]), solved.mount.scenario
    if not math.isfinite(tension) or tension <= 0:
        return None
    belt = scenario.belt
    span = float(np.sqrt(solved.mount.path(rest.phi[index : index + 1]).span_squared[0]))
    gives = Gives.PARTLY if scenario.adjuster.gives else Gives.NOT
    if rest.state[index] != State.HELD:  # riding, the plate gives way
        gives = Gives.WHOLLY
    spread = 0.0
    if gives is not Gives.WHOLLY:
        spread = span / belt.length * float(kept_of_growth(solved.mount, rest.phi[index]))
    fixed = 0.0 if gives is Gives.WHOLLY else 1.0
    factor = belt.stiffness_factor

    def deflected(ratio: float) -> Deflection:
        """Its forces over the belt's stiffness and over how far it creeps."""
        forces = [
            float(mid_span_force(tension, stiffness * belt.stiffness, share, ratio))
            if share
            else float(string_force(tension, ratio))
            for stiffness, share in ((1 / factor, spread), (1, spread), (1, fixed), (factor, fixed))
        ]
        return Deflection(round(1.0 / ratio), span * ratio, *forces)

    ratio, tells = coarsest_that_tells(tension, fixed * belt.stiffness * factor, 1.0)
    if over is not None:
        ratio = 1.0 / over
    frequency = float(span_frequency(tension, belt.mass, span)) if belt.mass > 0 else None
    return StrandTest(
        turns=turns,
        tension=tension,
        span=span,
        gives=gives,
        usual=deflected(DEFLECTION_RATIO),
        finer=None if ratio == DEFLECTION_RATIO else deflected(ratio),
        tells=tells,
        span_frequency=frequency,
        timing=None if frequency is None else timing_of(frequency),
    )


def timing_of(frequency: float) -> Timing:
    """By what the swings of a span can be told."""
    facts = load("bench_card")
    if frequency <= facts["counted"]["most_Hz"]:
        return Timing.COUNT
    return Timing.FILM if frequency < facts["heard"]["least_Hz"] else Timing.MICROPHONE


def _look_again(scenario: Scenario, what: str) -> tuple[LookAgain, ...]:
    """When to look, and what to do then: weight takes up stretch by itself, an adjuster not."""
    kind = "stretches" if stretches_for_long(scenario.belt) else "V"
    return tuple(
        LookAgain(row["when"], row[what], row["source"], row["sure"])
        for row in load("bench_card")["look_again"]
        if row.get("of", kind) == kind
    )


def _notes(scenario: Scenario, bedded: StrandTest, new: StrandTest | None) -> Iterator[Note]:
    """What the numbers leave open."""
    if (own := own_count(scenario)) is not None:
        yield own
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
