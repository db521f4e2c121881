"""Which turns to tabulate: as asked for, or a range that is useful at the bench."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.scenario.model import Scenario
from mountcalc.tasks.first_reach import first_reach, free_turns
from mountcalc.tasks.promises import Promises, promises_of
from mountcalc.tasks.setting import gentlest_setting

__all__ = ["MOST_ROWS", "parse_turns", "useful_turns"]

Array = NDArray[np.float64]

_NUMBER = re.compile(
    r"([+-]?)(?:(\d{1,9}(?:\.\d{0,9})?|\.\d{1,9})|(?:(\d{1,9})[ -])?(\d{1,9}/\d{1,9}))", re.ASCII
)

# Rows of a table that a person reads, and of one that a program may ask for.
USEFUL_ROWS = 12
_FEWEST_ROWS = 8
MOST_ROWS = 10_000

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


def parse_turns(text: str) -> Array:
    """Turns from ``A:B:STEP`` (or a single number); B is always included.

    Parameters
    ----------
    text : str
        Decimals or fractions, such as ``0:6:1/4``.

    Returns
    -------
    ndarray [-]
        The turns, increasing.

    Raises
    ------
    InputError
        Where the text is not of that form, or asks for too many rows.
    """
    wanted = f'turns: "A:B:STEP" wanted, such as 0:6:1/4 or 0:1 1/2:1/8, got "{text[:40]}"'
    parts = text.split(":")
    # A pattern first: Fraction would work out the digits of 1e999999999.
    matches = [_NUMBER.fullmatch(part.strip()) for part in parts]
    if len(parts) not in (1, 3):
        raise InputError(wanted)
    try:
        numbers = [_number(match) for match in matches if match is not None]
    except ZeroDivisionError as error:
        raise InputError(wanted) from error
    if len(numbers) != len(parts):
        raise InputError(wanted)
    if len(numbers) == 1:
        return np.array([float(numbers[0])])
    first, last, step = numbers
    if step <= 0 or last < first:
        raise InputError(f"{wanted}: STEP above 0 and B not below A are wanted")
    count = (last - first) / step
    if count >= MOST_ROWS:
        raise InputError(f"{wanted}: at most {MOST_ROWS} rows, got {float(count):.3g}")
    turns = [first + index * step for index in range(math.floor(count) + 1)]
    if turns[-1] != last:
        turns.append(last)
    return np.array([float(turn) for turn in turns])


def _number(match: re.Match[str]) -> Fraction:
    sign, plain, whole, fraction = match.groups()
    value = Fraction(plain) if plain else Fraction(whole or 0) + Fraction(fraction)
    return -value if sign == "-" else value


def useful_turns(scenario: Scenario) -> Array:
    """From zero to past every setting and the first limit that are reached, some 8 to 14 rows.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    ndarray [-]
        The turns; without an adjuster a single 0. Where a limit is far beyond the setting the
        steps get wider on the way to it.

    Raises
    ------
    MountError
        Where the mount cannot be solved.
    """
    promises = promises_of(scenario)
    if not promises.solved.mount.has_adjuster:
        return np.zeros(1)
    end = promises.last_turn
    near, far = _of_interest(promises)
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


def _of_interest(promises: Promises) -> tuple[float, float]:
    """The first and the last turns [-] that a table must show; the same where there is one."""
    free, most = free_turns(promises), first_reach(promises.worst, promises.last_turn)
    found = [free, most]
    grips = _first_grip(promises, most) if most else None
    if grips is not None:
        found.append(grips)
    else:
        setting = gentlest_setting(promises.scenario)
        found += [setting.turns_min, setting.turns_max, setting.set_turns, setting.new_turns]
    turns = [turn for turn in found if turn]
    return (min(turns), max(turns)) if turns else (_PLAIN_TURNS, _PLAIN_TURNS)


def _first_grip(promises: Promises, most: float) -> float | None:
    """About the fewest turns with the wanted grip up to a limit; every setting lies between."""
    turns = np.linspace(0.0, most, _SAMPLES)
    least = np.min(np.stack(list(promises.grip_margins(turns).values())), axis=0)
    there = np.flatnonzero(least >= 1.0)
    return float(turns[there[0]]) if there.size else None
