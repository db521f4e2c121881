"""What to know of the numbers on a bench card."""

from __future__ import annotations

from mountcalc.card.results import Gives, StrandTest
from mountcalc.requirements.setting import NO_ADJUSTER
from mountcalc.scenario.model import AdjusterKind, Scenario

__all__ = ["SAME", "card_notes", "turns_left_aside"]

SAME = 1e-3
"""A new belt set tighter by no more than this share is set the same."""

RIDING = (
    "The plate rides on the belt and gives way as a strand is pressed in, so the belt does not "
    "stretch: one force, and no range."
)
CARRIES_NOTHING = (
    "The adjuster carries nothing here: backed off until it is clear, it leaves this tension to "
    "the weights, and there is nothing to pull at with a spring balance."
)
TWO_FORCES = (
    "Two forces are given: the lower where the belt creeps round the pulleys and stretches as a "
    "whole, the higher where only the pressed span stretches. Rocking the pulleys while pressing "
    "brings the reading towards the lower."
)
WIDEST = (
    "The range from the softest to the stiffest belt has its stiffness {factor:g} times less and "
    "{factor:g} times more besides; the tension is the same."
)
SPRING = "The adjuster's spring gives way a little: the lower force is that of a plate that rides."
FINER = (
    "At 1/64 of the span a stiff belt's stretch would ask for more than a third of what its "
    "tension does: hence the smaller deflection. Measure it well."
)
DROWNED = (
    "Even at the smallest deflection the stretch of this belt may drown its tension: trust the "
    "spring balance on the plate instead."
)
MANY_BELTS = (
    "Forces are those of one belt. While one is pressed the others hold the pulleys, so expect "
    "the upper end; press each belt, and set by their mean."
)
LESS_FOR_NEW = (
    "A new belt is wanted {bedding:g} times as tight as one that has bedded in; the bearings or "
    "the travel allow {times:.2f} times: look at it sooner."
)
SAME_FOR_NEW = (
    "A new belt is wanted {bedding:g} times as tight as one that has bedded in; the bearings or "
    "the travel allow no more than this: look at it sooner."
)
A_STRING = (
    "The span is taken as a string: a thick belt on a short span sounds higher and feels stiffer "
    "than that (common practice, from memory)."
)
LEFT_ASIDE = (
    "The {turns:g} turns that were asked for are left aside: {why}, and this is the one position "
    "that it finds."
)
NO_MASS = "The belt's mass is given as nothing, so the span's frequency is not known."


def card_notes(scenario: Scenario, bedded: StrandTest, new: StrandTest | None) -> tuple[str, ...]:
    """Say what the numbers leave open."""
    last = NO_MASS if bedded.span_frequency is None else A_STRING
    if bedded.gives is Gives.WHOLLY:
        has_adjuster = scenario.adjuster.kind is not AdjusterKind.NONE
        return (RIDING, *((CARRIES_NOTHING,) if has_adjuster else ()), last)
    return (*_of_the_force(scenario, bedded), *_of_a_new_belt(scenario, bedded, new), last)


def turns_left_aside(scenario: Scenario, turns: float | None) -> tuple[str, ...]:
    """Say that turns were asked for where there is nothing to turn."""
    if turns is None or scenario.adjuster.kind is not AdjusterKind.NONE:
        return ()
    return (LEFT_ASIDE.format(turns=turns, why=NO_ADJUSTER),)


def _of_the_force(scenario: Scenario, bedded: StrandTest) -> list[str]:
    found = [TWO_FORCES, WIDEST.format(factor=scenario.belt.stiffness_factor)]
    if bedded.gives is Gives.PARTLY:
        found.append(SPRING)
    if bedded.finer is not None:
        found.append(FINER if bedded.tells else DROWNED)
    if scenario.belt.count > 1:
        found.append(MANY_BELTS)
    return found


def _of_a_new_belt(
    scenario: Scenario, bedded: StrandTest, new: StrandTest | None
) -> tuple[str, ...]:
    bedding = scenario.limits.bedding
    times = 1.0 if new is None else new.tension / bedded.tension
    if times + _rounding(bedded, new) >= bedding * (1 - SAME):
        return ()
    if new is None:
        return (SAME_FOR_NEW.format(bedding=bedding),)
    return (LESS_FOR_NEW.format(bedding=bedding, times=times),)


def _rounding(bedded: StrandTest, new: StrandTest | None) -> float:
    """Share of the tension that a new belt's turns may lose as they are rounded to sixteenths."""
    if new is None or new.turns is None or bedded.turns is None or new.turns <= bedded.turns:
        return 0.0
    a_turn = (new.tension / bedded.tension - 1.0) / (new.turns - bedded.turns)
    return a_turn / 32
