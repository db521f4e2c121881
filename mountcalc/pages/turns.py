"""Turns as pages print them in full, and as a person types them."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.pages.amounts import spelled

__all__ = ["MOST_ROWS", "parse_turns", "turns_text", "turns_to_set"]

Array = NDArray[np.float64]

# Parts of a turn, the coarsest first: sixteenths, then decimals.
_PARTS = (16, 100, 1000)


def turns_to_set(aim: float, low: float, high: float) -> float | None:
    """The number of turns to print for an aim, rounded to the side that keeps the promises."""
    for parts in _PARTS:
        first, last = math.ceil(low * parts), math.floor(high * parts)
        if first <= last:
            return min(max(round(aim * parts), first), last) / parts
    return None


def turns_text(turns: float | None) -> str:
    """Turns as a hand sets them: ``2 1/4``; decimals where they are no sixteenths."""
    if turns is None:
        return "-"
    exact = Fraction(turns).limit_denominator(16)
    if abs(float(exact) - turns) > 1e-6:  # noqa: PLR2004 (not a sixteenth)
        return f"{turns:.3f}".rstrip("0").rstrip(".")
    return f"{'-' if exact < 0 else ''}{spelled(abs(exact))}"


_NUMBER = re.compile(
    r"([+-]?)(?:(\d{1,9}(?:\.\d{0,9})?|\.\d{1,9})|(?:(\d{1,9})[ -])?(\d{1,9}/\d{1,9}))", re.ASCII
)


# Rows of a table that a program may ask for.
MOST_ROWS = 10_000


def parse_turns(text: str) -> Array:
    """Turns from ``A:B:STEP`` (or a single number); B is always included."""
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
