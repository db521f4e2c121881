"""Which one more reading would narrow the stiffness most, and to what."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import MountError
from mountcalc.fit.least_squares.estimate import Estimate
from mountcalc.fit.least_squares.model import ReadingModel, lever_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.results import Interval, NextReading
from mountcalc.fit.sentences import METHOD_WORDS
from mountcalc.formulas.belt import DEFLECTION_RATIO
from mountcalc.pages.amounts import FORCE
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.window import first_reach
from mountcalc.table import words

Array = NDArray[np.float64]

# A wrench sets eighths of a turn; where there are many more than these, coarser steps do.
_WRENCH, _MOST_TURNS = 8, 48
# A method that is at hand already is worth as much as one that tells a little more.
_AT_HAND = 1.03
_NONE = (
    "No more reading is proposed: at no setting is it sure that the belt is tight and every limit "
    "kept."
)
_NOT_AGAIN = (ReadingMethod.TIP, ReadingMethod.SLIP, ReadingMethod.SPRING)


def next_reading(best: Estimate, times: Interval, zero: Interval) -> NextReading:
    """The reading worth most; none where no setting is tight within limits and travel.

    ``times`` is the logarithm of the stiffness over the scenario's.
    """
    scenario = best.model.solved.mount.scenario
    turns = _turns(best, times, zero)
    candidates = [
        Reading(0, float(turn), method, 1.0, at)
        for method, at in _methods(best.model).items()
        for turn in turns
    ]
    if not candidates:
        return NextReading(_NONE)
    # Read in the latest session, whose zero is the last; the other settings take no part.
    session = best.model.zeros.stop - 2
    model = replace(
        best.model,
        readings=tuple(candidates),
        session=np.full(len(candidates), session),
        setting=np.full(len(candidates), -1),
    )
    count, first = len(candidates), model.first_setting
    slopes = model.predicted(best.parameters[:first])[1][:count]
    spread = best.covariance[:first, :first]
    by_turns = scenario.limits.turn_error * slopes[:, 1 + session]
    noise = model.errors[:count] ** 2 + by_turns**2
    gained = (slopes @ spread[0]) ** 2 / (noise + np.einsum("ij,jk,ik->i", slopes, spread, slopes))
    left = np.sqrt(np.maximum(1.0 - gained / spread[0, 0], 0.0))
    used = {one.method for one in best.model.readings}
    handy = np.array([1.0 if one.method in used else _AT_HAND for one in candidates])
    at = int(np.argmin(left * handy))
    ends = (times.value + left[at] * (end - times.value) for end in (times.low, times.high))
    low, high = (scenario.belt.stiffness * math.exp(end) for end in ends)
    chosen, display = candidates[at], scenario.display
    sentence = (
        f"One more reading tells most with {METHOD_WORDS[chosen.method]} at "
        f"{words.counted_turns(chosen.turns)}: stiffness is then known within "
        f"{FORCE.number(low, display)} to {FORCE.text(high, display)}."
    )
    return NextReading(sentence, chosen.turns, chosen.method, low, high)


def _turns(best: Estimate, times: Interval, zero: Interval) -> Array:
    """Turns that a wrench sets: the belt is tight there, within travel and limits, all for sure."""
    scenario = best.model.solved.mount.scenario
    stiffest = replace(scenario.belt, stiffness=scenario.belt.stiffness * math.exp(times.high))
    try:
        requirements = requirements_of(replace(scenario, belt=stiffest))
        last = requirements.last_turn
        limit = first_reach(requirements.worst, last)
    except MountError:
        return np.zeros(0)
    last = last if limit is None else limit
    most = (zero.low + last - scenario.limits.turn_error) * _WRENCH
    first = (zero.high + scenario.limits.turn_error) * _WRENCH
    step = max(1, int(2.0 ** math.ceil(math.log2(max(1.0, (most - first) / _MOST_TURNS)))))
    steps = range(math.ceil(first / step), math.floor(most / step) + 1)
    return np.array(steps) * (step / _WRENCH)


def _methods(model: ReadingModel) -> dict[ReadingMethod, float | None]:
    """Methods that this mount can be read by, each with its ``at``."""
    solved, belt = model.solved, model.solved.mount.scenario.belt
    span = math.sqrt(float(solved.mount.path(solved.travel.snug).span_squared))
    found: dict[ReadingMethod, float | None] = {}
    if lever_of(solved) > 0:
        found[ReadingMethod.BALANCE] = None
    found[ReadingMethod.PUSH] = DEFLECTION_RATIO * span
    if belt.mass > 0:
        found[ReadingMethod.SWINGS] = None
    for one in model.readings:
        # What was hung, or measured by tape, can be again; a slip is never asked for, which wears
        # and heats the belt and shakes the bearings, and a spring's rate stays as unsure as it is.
        if one.turns is not None and one.method not in _NOT_AGAIN:
            found[one.method] = one.at
    return found
