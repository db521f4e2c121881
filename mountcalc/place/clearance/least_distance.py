"""The least of something over the travel that changes no faster than is known."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

__all__ = ["DISTANCE_ERROR", "least_over_travel"]

Array = NDArray[np.float64]

DISTANCE_ERROR = 1e-4
"""By how much a distance may be overrated for what happens between two plate angles [m]."""

_FIRST_ANGLES = 9


def least_over_travel(
    measured: Callable[[Array], Array], speed: float, ends: tuple[float, float]
) -> float:
    """Least distance over a travel, sure to `DISTANCE_ERROR`; where not above zero, some such.

    Between two angles it is at least half the sum of those at both, less half the way that
    anything can move: intervals in which that is below the least found are halved.
    """
    angles = np.linspace(*ends, _FIRST_ANGLES)
    low, high = angles[:-1], angles[1:]
    values = measured(angles)
    at_low, at_high = values[:-1], values[1:]
    least = float(values.min())
    while least > 0.0:
        bound = (at_low + at_high - speed * np.abs(high - low)) / 2
        undecided = bound < least - DISTANCE_ERROR
        if not undecided.any():
            break
        low, high = low[undecided], high[undecided]
        at_low, at_high = at_low[undecided], at_high[undecided]
        middle = (low + high) / 2
        between = measured(middle)
        least = min(least, float(between.min()))
        low, high = np.concatenate([low, middle]), np.concatenate([middle, high])
        at_low, at_high = np.concatenate([at_low, between]), np.concatenate([between, at_high])
    return least
