"""Layouts on their way through the trials: who is left, and what the others failed at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.reasons import Reason

__all__ = ["Sieve"]


@dataclass(slots=True)
class Sieve:
    """The ``reason`` codes of all layouts, and the ``places`` in it of those still in."""

    reason: NDArray[np.uint8]
    places: NDArray[np.intp]

    def keep(self, good: NDArray[np.bool_], reason: Reason) -> NDArray[np.intp]:
        """Drop those that are not good, for a reason."""
        self.reason[self.places[~good]] = reason
        self.places = self.places[good]
        return np.flatnonzero(good)

    def keep_clear(self, good: NDArray[np.bool_], offending: NDArray[np.intp]) -> NDArray[np.intp]:
        """Drop those that are in the way of a keep-out."""
        self.reason[self.places[~good]] = Reason.KEEP_OUT + offending[~good]
        self.places = self.places[good]
        return np.flatnonzero(good)
