"""The rows of a table that nobody chose: a range of turns that is useful at the bench."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.requirements.window import first_reach, free_turns
from mountcalc.scenario.model import Scenario

__all__ = ["useful_turns"]

Array = NDArray[np.float64]

# Rows of a table that a person reads.
USEFUL_ROWS = 12
_FEWEST_ROWS = 8
# Steps that a hand can set: sixteenths to whole turns, then tens.
_STEPS = (
    *(Fraction(1, parts) for parts in (16, 8, 4, 2)),
    *(Fraction(whole) for whole in (1, 2, 5, 10, 20, 50, 100, 200, 500)),
)
# Shown past what is of interest, so that it is seen to be passed.
_PAST = 1.15
_SAMPLES = 33
# With nothing of interest in reach: enough to see how the tension grows.
_PLAIN_TURNS = 12.0


def useful_turns(scenario: Scenario) -> Array:
    """From zero to past every setting and the first limit that are reached, some 8 to 14 rows."""
    requirements = requirements_of(scenario)
    if not requirements.solved.mount.has_adjuster:
        return np.zeros(1)
    end = requirements.last_turn
    near, far = _of_interest(requirements)
    near, far = (min(_PAST * turns, end) for turns in (near, far))
    turns = _steps(0.0, far, USEFUL_ROWS, _FEWEST_ROWS)
    if near < turns[1]:
        turns = _steps(0.0, near, USEFUL_ROWS // 2)
        rest = _steps(float(turns[-1]), far, USEFUL_ROWS // 2, _FEWEST_ROWS + 1 - turns.size)
        turns = np.append(turns, rest[1:])
    inside: Array = turns[turns < end]
    return np.append(inside, end) if inside.size < turns.size else inside


def _steps(first: float, last: float, rows: int, fewest: int = 2) -> Array:
    """From a first turn by whole steps to the last or just past it, in about so many rows."""
    step = next(
        (step for step in _STEPS if (last - first) / step <= rows - 1),
        Fraction(math.ceil((last - first) / rows)),
    )
    start = math.floor(first / step) * step if first else Fraction(0)
    count = max(math.ceil((last - float(start)) / step - 1e-9), fewest - 1)
    turns = np.array([float(start + index * step) for index in range(count + 1)])
    later: Array = np.append(first, turns[turns > first])
    return later


def _of_interest(requirements: Requirements) -> tuple[float, float]:
    """The first and the last turns [-] that a table must show; the same where there is one."""
    free, most = free_turns(requirements), first_reach(requirements.worst, requirements.last_turn)
    found = [free, most]
    grips = _first_grip(requirements, most) if most else None
    if grips is not None:
        found.append(grips)
    else:
        setting = gentlest_setting(requirements.scenario)
        found += [setting.turns_min, setting.turns_max, setting.set_turns, setting.new_turns]
    turns = [turn for turn in found if turn]
    return (min(turns), max(turns)) if turns else (_PLAIN_TURNS, _PLAIN_TURNS)


def _first_grip(requirements: Requirements, most: float) -> float | None:
    """About the fewest turns with the wanted grip up to a limit; every setting lies between."""
    turns = np.linspace(0.0, most, _SAMPLES)
    least = np.min(np.stack(list(requirements.grip_margins(turns).values())), axis=0)
    there = np.flatnonzero(least >= 1.0)
    return float(turns[there[0]]) if there.size else None
