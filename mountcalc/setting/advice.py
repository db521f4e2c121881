"""All that is said of a setting: itself, weight alone, and the changes that would widen it."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from mountcalc.check import CHANGES, Evaluation, evaluate, hold_back, spring_in_series
from mountcalc.errors import MountError
from mountcalc.requirements.notes import margins, notes
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import Advice, Remedy, Setting
from mountcalc.requirements.setting import gentlest_setting, idles
from mountcalc.scenario.model import Scenario
from mountcalc.setting.weights import weight_alone
from mountcalc.strength.bolt_length import bolt_length

# A range that a change makes wider by less than this is no wider: rounding, or no use.
_LEAST_WIDENING = 1.005


def advise(scenario: Scenario, *, always_remedies: bool = False) -> Advice:
    """The gentlest setting with everything beside it."""
    setting, solved = gentlest_setting(scenario), requirements_of(scenario).solved
    alone, width, span = weight_alone(scenario, setting), setting.sensitivity.turns_range, None
    # A range of fewer errors of the hand than four is narrow.
    is_narrow = not setting.open or (width is not None and width < 4.0 * setting.turn_error)
    wanted = always_remedies or (is_narrow and not idles(scenario) and not alone.keeps)
    if setting.set_turns is not None:
        rest = solved.at_rest(setting.set_turns)
        span = float(np.sqrt(solved.mount.path(rest.phi).span_squared[0]))
    bolt = bolt_length(scenario)
    return Advice(
        setting=setting,
        weight_alone=alone,
        remedies=tuple(remedy for remedy, _ in solved_remedies(scenario)) if wanted else (),
        margins=margins(solved),
        notes=notes(solved),
        span=span,
        adjuster_travel=None if bolt is None else bolt.travel,
        bolt_length=None if bolt is None else bolt.length,
        adjuster_stiffness=None if solved.mount.spring is None else float(solved.mount.spring),
        parts_give=solved.mount.parts_give,
    )


@lru_cache(maxsize=32)
def solved_remedies(scenario: Scenario) -> tuple[tuple[Remedy, Scenario], ...]:
    """What would open the range of a mount, the best first, with the changed scenario of each."""
    judged = evaluate(scenario)
    requirements, before = judged.point.requirements, judged.point.setting
    room, found = _room(judged), {}
    made = [make(scenario, requirements.solved.travel.snug) for make in CHANGES]
    made += [spring_in_series(requirements, before), hold_back(requirements)]
    for change in made:
        if change is None or change.name in found:
            continue
        try:
            changed = evaluate(change.scenario)
        except MountError:
            continue
        after = changed.point.setting
        if not after.open or changed.spoils(judged):
            continue
        new_room = _room(changed)
        widening = _times(room, new_room)
        if change.is_finer:  # the tensions stay, so the turns tell
            ranges = [one.sensitivity.turns_range or 0.0 for one in (before, after)]
            widening = _times(*ranges) if min(ranges) > 0 else 1.0
        if before.open and widening < _LEAST_WIDENING:
            continue
        remedy = Remedy(
            name=change.name,
            sentence=change.sentence,
            turns_min=after.turns_min,
            turns_max=after.turns_max,
            tension_min=after.tension_min,
            tension_max=after.tension_max,
            opening_before=_opening(before),
            opening_after=_opening(after),
            turns_range_before=before.sensitivity.turns_range,
            turns_range_after=after.sensitivity.turns_range,
            widening=widening if math.isfinite(widening) else None,
            open=after.open,
            opens=not before.open,
        )
        found[change.name] = (widening, new_room), (remedy, change.scenario)
    ranked = sorted(found.values(), key=lambda one: one[0], reverse=True)
    return tuple(one for _, one in ranked)


def _times(before: float, after: float) -> float:
    """How many times wider; infinite where there was nothing, 1 where there is nothing still."""
    if math.isinf(before) or after == before:
        return 1.0
    return after / before if before > 0 else math.inf


def _opening(setting: Setting) -> float | None:
    """Tension at the most turns over that at the fewest, None where a side is not reached."""
    low, high = setting.tension_min, setting.tension_max
    return None if low is None or high is None or low <= 0 else high / low


def _room(judged: Evaluation) -> float:
    """The same as a number that compares.

    The end is the travel's if no bearing reaches its limit; 0 where the belt never grips. For
    weight alone it is that of the range in whose middle its one tension would lie.
    """
    requirements, setting = judged.point.requirements, judged.point.setting
    if not requirements.solved.mount.has_adjuster:
        grip, share = (float(one(0.0)[0]) for one in (requirements.grip, requirements.worst))
        return min(grip, 1.0 / share if share > 0 else math.inf) ** 2
    if setting.turns_min is None or setting.tension_min is None:
        return 0.0
    high = setting.tension_max
    if setting.turns_max is None:
        high = float(requirements.tension(np.array([requirements.last_turn]))[0])
    if high is None or not math.isfinite(high):
        return 0.0
    return high / setting.tension_min if setting.tension_min > 0 else math.inf
