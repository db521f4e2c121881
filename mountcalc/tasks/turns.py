"""Which turns to tabulate: as asked for, or a range that is useful at the bench."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.errors import InputError
from mountcalc.tasks.bearings import worst_share

__all__ = ["MOST_ROWS", "parse_turns", "useful_turns"]

Array = NDArray[np.float64]

_NUMBER = re.compile(r"[+-]?(\d{1,9}(\.\d{0,9})?|\.\d{1,9}|\d{1,9}/\d{1,9})", re.ASCII)

# Rows of a table that a person reads, and of one that a program may ask for.
USEFUL_ROWS = 12
MOST_ROWS = 100_000

# Steps that a hand can set: sixteenths to whole turns, then tens.
_STEPS = (
    *(Fraction(1, parts) for parts in (16, 8, 4, 2)),
    *(Fraction(whole) for whole in (1, 2, 5, 10, 20, 50, 100, 200, 500)),
)
_SAMPLES = 129
# Shown past the first limit, so that it is seen to be passed.
_PAST_LIMIT = 1.15
# Without a limit or an end in reach: enough to see how the tension grows.
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
    wanted = f'turns: "A:B:STEP" wanted, such as 0:6:1/4, got "{text[:40]}"'
    parts = text.split(":")
    # A pattern first: Fraction would work out the digits of 1e999999999.
    if len(parts) not in (1, 3) or not all(_NUMBER.fullmatch(part.strip()) for part in parts):
        raise InputError(wanted)
    try:
        numbers = [Fraction(part.strip()) for part in parts]
    except ZeroDivisionError as error:
        raise InputError(wanted) from error
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


def useful_turns(solved: SolvedMount) -> Array:
    """From zero to a little past the first limit that is reached, about a dozen rows at most.

    Parameters
    ----------
    solved : SolvedMount
        The mount.

    Returns
    -------
    ndarray [-]
        The turns; without an adjuster a single 0.
    """
    if not solved.mount.has_adjuster:
        return np.zeros(1)
    end = max(solved.turns_at(solved.travel.low), solved.turns_at(solved.travel.high))
    limit = _first_limit(solved, end)
    last = min(end, _PLAIN_TURNS if limit is None else limit * _PAST_LIMIT)
    step = next(
        (step for step in _STEPS if last / step <= USEFUL_ROWS - 1), Fraction(math.ceil(last))
    )
    rows = math.ceil(last / step - 1e-9)
    turns = np.array([float(index * step) for index in range(rows + 1)])
    return turns[turns <= end] if not solved.travel.tight_end.is_dead else turns[turns < end]


def _first_limit(solved: SolvedMount, end: float) -> float | None:
    """First turn at which a bearing is at its limit; found on a grid, then on a finer one."""
    low, high = 0.0, end * (1 - 1e-9)
    found = None
    for _ in range(3):
        turns = np.linspace(low, high, _SAMPLES)
        over = np.flatnonzero(worst_share(solved, turns) >= 1.0)
        if over.size == 0:
            return found
        first = int(over[0])
        found = float(turns[first])
        if first == 0:
            return found
        low, high = float(turns[first - 1]), found
    return found
