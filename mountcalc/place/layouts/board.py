"""Where the wood of a plate ends, of many layouts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.scenario.search import SearchSpace

__all__ = ["surface"]

Array = NDArray[np.float64]


def surface(side: Array, space: SearchSpace) -> Array:
    """How far from the plate's line, to the motor's side, its wood ends on a side [m]."""
    return np.where(side > 0, space.plate_face, space.plate_back)
