"""Turns as pages print them in full: what is typed back is what was judged."""

from __future__ import annotations

import math

__all__ = ["turns_to_set"]

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
