"""Which turns to tabulate: as asked for, or a range that is useful at the bench."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.errors import InputError
from mountcalc.results.table import State
from mountcalc.tasks.bearings import worst_share

__all__ = ["MOST_ROWS", "parse_turns", "useful_turns"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_NUMBER = re.compile(
    r"([+-]?)(?:(\d{1,9}(?:\.\d{0,9})?|\.\d{1,9})|(?:(\d{1,9})[ -])?(\d{1,9}/\d{1,9}))", re.ASCII
)

# Rows of a table that a person reads, and of one that a program may ask for.
USEFUL_ROWS = 12
MOST_ROWS = 10_000

# Steps that a hand can set: sixteenths to whole turns, then tens.
_STEPS = (
    *(Fraction(1, parts) for parts in (16, 8, 4, 2)),
    *(Fraction(whole) for whole in (1, 2, 5, 10, 20, 50, 100, 200, 500)),
)
_SAMPLES = 129
_LEVELS = 3
# Shown past the first limit, so that it is seen to be passed.
_PAST_LIMIT = 1.15
# Grip to spare: more of it is of no use at a bench.
_MUCH_GRIP = 4.0
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
    last = min(end, _last_of_interest(solved, end) * _PAST_LIMIT)
    step = next(
        (step for step in _STEPS if last / step <= USEFUL_ROWS - 1), Fraction(math.ceil(last))
    )
    rows = math.ceil(last / step - 1e-9)
    turns = np.array([float(index * step) for index in range(rows + 1)])
    inside = turns < end if solved.travel.tight_end.is_dead else turns <= end
    useful: Array = turns[inside | (turns == 0)]
    return useful


def _last_of_interest(solved: SolvedMount, end: float) -> float:
    """Turns [-] up to which a table is worth reading.

    To the first limit that is reached; without one, until there is grip to spare and, on a mount
    that comes to ride on the belt, until more turns change nothing.
    """

    def at_limit(turns: Array) -> Bools:
        return worst_share(solved, turns) >= 1.0

    def rides(turns: Array) -> Bools:
        rest = solved.case(solved.place(turns), solved.demands["rest"], with_grip=False)
        riding: Bools = rest.state == State.RIDING
        return riding

    def grips(turns: Array) -> Bools:
        case = solved.case(solved.place(turns), solved.demands["running"])
        gripping: Bools = case.grip.value >= _MUCH_GRIP
        return gripping

    limit = _first_turn(at_limit, end)
    if limit:  # at zero already, the rest of the story is told all the same
        return limit
    found = [turn for turn in (_first_turn(rides, end), _first_turn(grips, end)) if turn]
    return max(found, default=_PLAIN_TURNS)


def _first_turn(holds: Callable[[Array], Bools], end: float) -> float | None:
    """First turn at which something holds; found on a grid, then on finer ones."""
    low, high = 0.0, end * (1 - 1e-9)
    found = None
    for _ in range(_LEVELS):
        turns = np.linspace(low, high, _SAMPLES)
        there = np.flatnonzero(holds(turns))
        if there.size == 0:
            return found
        first = int(there[0])
        found = float(turns[first])
        if first == 0:
            return found
        low, high = float(turns[first - 1]), found
    return found
