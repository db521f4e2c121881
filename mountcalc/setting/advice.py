"""All that is said of a setting: itself, weight alone, and the changes that would widen it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from mountcalc.check import CHANGES, Change, Evaluation, evaluate, hold_back, spring_in_series
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.errors import MountError
from mountcalc.requirements.notes import margins, notes
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.results import Advice, Remedy, Setting
from mountcalc.requirements.setting import gentlest_setting, idles
from mountcalc.scenario.model import Scenario
from mountcalc.setting.weights import weight_alone

__all__ = ["SolvedRemedy", "advise", "remedies", "solved_remedies"]

# A range that a change makes wider by less than this is no wider: rounding, or no use.
_LEAST_WIDENING = 1.005
# A range of fewer errors of the hand than this is narrow.
_ERRORS_IN_A_RANGE = 4.0


def advise(scenario: Scenario, *, always_remedies: bool = False) -> Advice:
    """The gentlest setting with everything beside it."""
    setting = gentlest_setting(scenario)
    solved = requirements_of(scenario).solved
    alone = weight_alone(scenario, setting)
    narrow = is_narrow(setting) and not idles(scenario) and not alone.keeps
    return Advice(
        setting=setting,
        weight_alone=alone,
        remedies=remedies(scenario) if always_remedies or narrow else (),
        margins=margins(solved),
        notes=notes(solved),
        span=None if setting.set_turns is None else _span(solved, setting.set_turns),
    )


def _span(solved: SolvedMount, turns: float) -> float:
    """Free length of a strand at rest [m]."""
    rest = solved.case(solved.place(np.array([turns])), solved.demands["rest"], with_grip=False)
    return float(np.sqrt(solved.mount.path(rest.phi).span_squared[0]))


def is_narrow(setting: Setting) -> bool:
    """Whether the range is closed, or hard to hit with the hand's error."""
    width = setting.sensitivity.turns_range
    narrow = width is not None and width < _ERRORS_IN_A_RANGE * setting.turn_error
    return not setting.open or narrow


@dataclass(frozen=True, slots=True)
class SolvedRemedy:
    """A remedy with the changed mount that it was solved on."""

    remedy: Remedy
    scenario: Scenario


@dataclass(frozen=True)
class _Range:
    """A setting's range in numbers that compare.

    ``room`` [-] is the tension at its end over that at its start, where the end is the travel's
    if no bearing reaches its limit; 0 where the belt never grips. For weight alone it is that of
    the range in whose middle its one tension would lie.
    """

    setting: Setting
    room: float

    @property
    def opening(self) -> float | None:
        """Tension at the most turns over that at the fewest, None where a side is not reached."""
        low, high = self.setting.tension_min, self.setting.tension_max
        return None if low is None or high is None or low <= 0 else high / low

    @property
    def turns(self) -> float | None:
        """Most less fewest turns."""
        return self.setting.sensitivity.turns_range


def remedies(scenario: Scenario) -> tuple[Remedy, ...]:
    """What would open the range of a mount, the best first."""
    return tuple(one.remedy for one in solved_remedies(scenario))


def solved_remedies(scenario: Scenario) -> tuple[SolvedRemedy, ...]:
    """The same with the changed scenario of each; see :func:`remedies`."""
    judged = evaluate(scenario)
    before = _range(judged)
    found = []
    names = set()
    for change in _changes(judged.point.requirements, judged.point.setting):
        if change.name in names:
            continue
        try:
            changed = evaluate(change.scenario)
        except MountError:
            continue
        after = _range(changed)
        if not after.setting.open or changed.spoils(judged):
            continue
        widening = _widening(before, after, is_finer=change.is_finer)
        if not before.setting.open or widening >= _LEAST_WIDENING:
            found.append((_rank(after, widening), _solved(change, before, after, widening)))
            names.add(change.name)
    found.sort(key=lambda one: one[0], reverse=True)
    return tuple(one for _, one in found)


def _changes(requirements: Requirements, setting: Setting) -> Iterator[Change]:
    snug = requirements.solved.travel.snug
    made = [make(requirements.scenario, snug) for make in CHANGES]
    made += [spring_in_series(requirements, setting), hold_back(requirements)]
    return (change for change in made if change is not None)


def _range(judged: Evaluation) -> _Range:
    point = judged.point
    return _Range(point.setting, _room(point.requirements, point.setting))


def _room(requirements: Requirements, setting: Setting) -> float:
    if not requirements.solved.mount.has_adjuster:
        return _room_by_weight(requirements)
    if setting.turns_min is None or setting.tension_min is None:
        return 0.0
    high = setting.tension_max
    if setting.turns_max is None:
        high = float(requirements.tension(np.array([requirements.last_turn]))[0])
    if high is None or not math.isfinite(high):
        return 0.0
    return high / setting.tension_min if setting.tension_min > 0 else math.inf


def _room_by_weight(requirements: Requirements) -> float:
    turn = np.zeros(1)
    grip = min(float(margin[0]) for margin in requirements.grip_margins(turn).values())
    share = float(requirements.worst(turn)[0])
    return min(grip, 1.0 / share if share > 0 else math.inf) ** 2


def _widening(before: _Range, after: _Range, *, is_finer: bool) -> float:
    """How many times wider; infinite where there was nothing, 1 where there is nothing still."""
    if is_finer:
        old, new = before.turns or 0.0, after.turns or 0.0
        return new / old if old > 0 and new > 0 else 1.0
    if math.isinf(before.room) or after.room == before.room:
        return 1.0
    return after.room / before.room if before.room > 0 else math.inf


def _rank(after: _Range, widening: float) -> tuple[float, float]:
    return widening, after.room


def _solved(change: Change, before: _Range, after: _Range, widening: float) -> SolvedRemedy:
    setting = after.setting
    remedy = Remedy(
        name=change.name,
        sentence=change.sentence,
        turns_min=setting.turns_min,
        turns_max=setting.turns_max,
        tension_min=setting.tension_min,
        tension_max=setting.tension_max,
        opening_before=before.opening,
        opening_after=after.opening,
        turns_range_before=before.turns,
        turns_range_after=after.turns,
        widening=widening if math.isfinite(widening) else None,
        open=setting.open,
        opens=setting.open and not before.setting.open,
    )
    return SolvedRemedy(remedy, change.scenario)
