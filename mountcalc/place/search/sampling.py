"""Points that fill the unit cube evenly, however many are taken: the same ones for a seed.

Point i is the fractional part of (shift + i a), an additive recurrence (Weyl, Kronecker; H.
Niederreiter, "Random Number Generation and Quasi-Monte Carlo Methods", 1992, chapter 3, from
memory). The steps a are the powers 1/g, 1/g^2, ... of the root g of g^(d+1) = g + 1, the golden
ratio for d = 1 (such roots: V. Krcadinac, Fibonacci Quarterly 44, 2006, from memory).
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

__all__ = ["points", "shifts"]

Array = NDArray[np.float64]

# Places after the binary point: of a step, and of what a floating-point number below 1 holds.
_BITS = 64
_HELD = 53
_GUARD = 32


def points(start: int, count: int, dimensions: int, seed: int) -> Array:
    """Some points of the sequence that belongs to a seed.

    Steps and shifts are whole numbers of 2^-64, so that whole numbers that overflow keep the
    fractional part exactly: the ten-millionth point is as good as the first, and point i is the
    same however many are taken and in what pieces.
    """
    index = np.arange(start, start + count, dtype=np.uint64)[:, None]
    whole = index * np.array(_steps(dimensions), dtype=np.uint64) + shifts(dimensions, seed)
    return (whole >> np.uint64(_BITS - _HELD)).astype(np.float64) * 2.0**-_HELD


def shifts(dimensions: int, seed: int) -> NDArray[np.uint64]:
    """By how much a seed shifts the points, in units of 2^-64."""
    return np.random.SeedSequence(seed).generate_state(dimensions, np.uint64).astype(np.uint64)


@lru_cache(maxsize=4)
def _steps(dimensions: int) -> tuple[int, ...]:
    """The powers of 1/g in units of 2^-64, cut off."""
    unit = 1 << (_BITS + _GUARD)
    root = Fraction(_root(dimensions, unit), unit)
    return tuple(int(root**power * 2**_BITS) for power in range(1, dimensions + 1))


def _root(dimensions: int, unit: int) -> int:
    """1/g in a unit: where x^(d+1) + x^d = 1, found by halving."""
    low, high = 0, unit
    while high - low > 1:
        middle = (low + high) // 2
        x = Fraction(middle, unit)
        if x**dimensions * (x + 1) < 1:
            low = middle
        else:
            high = middle
    return low
