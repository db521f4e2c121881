"""Turns as pages print them in full: what is typed back is what was judged."""

from __future__ import annotations

import math
from fractions import Fraction

__all__ = ["turns_text", "turns_to_set"]

# Parts of a turn, the coarsest first: sixteenths, then decimals.
_PARTS = (16, 100, 1000)


def turns_to_set(aim: float, low: float, high: float) -> float | None:
    """The number of turns to print for an aim, rounded to the side that keeps the promises.

    Parameters
    ----------
    aim : float [-]
        The turns reckoned.
    low, high : float [-]
        Ends of what may be set: the promises hold from one to the other, both included, with the
        hand's error allowed for.

    Returns
    -------
    float or None [-]
        The sixteenth between the ends that is nearest to the aim; where there is none the
        hundredth, then the thousandth; None where the ends leave no room for one.
    """
    for parts in _PARTS:
        first, last = math.ceil(low * parts), math.floor(high * parts)
        if first <= last:
            return min(max(round(aim * parts), first), last) / parts
    return None


def turns_text(turns: float | None) -> str:
    """Turns as a hand sets them: ``2 1/4``; decimals where they are no sixteenths.

    Parameters
    ----------
    turns : float or None [-]
        Turns, or None where there are none.

    Returns
    -------
    str
        As :func:`turns_to_set` gives them in full, others to a thousandth.
    """
    if turns is None:
        return "-"
    exact = Fraction(turns).limit_denominator(16)
    if abs(float(exact) - turns) > 1e-6:  # noqa: PLR2004 (not a sixteenth)
        return f"{turns:.3f}".rstrip("0").rstrip(".")
    whole, rest = divmod(abs(exact), 1)
    sign = "-" if exact < 0 else ""
    if rest == 0:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"
