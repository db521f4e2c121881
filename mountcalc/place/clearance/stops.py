"""Where the stops of a layout are written: the travel through which it must be clear."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["written_stops"]

Array = NDArray[np.float64]

# Stops are told in steps of this [rad], beyond install and take-up by at least a hair.
_STEP = math.radians(0.5)
_HAIR = 1e-6


def written_stops(install: ArrayLike, take_up: ArrayLike) -> tuple[Array, Array]:
    """Ends of the travel as a scenario tells them, a little beyond install and take-up."""
    low = np.floor((np.minimum(install, take_up) - _HAIR) / _STEP) * _STEP
    high = np.ceil((np.maximum(install, take_up) + _HAIR) / _STEP) * _STEP
    return np.maximum(low, -math.pi), np.minimum(high, math.pi)
