"""Layouts that are not all alike: what a person would call another layout."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import Layouts
from mountcalc.scenario.search import SearchSpace

__all__ = ["Differences"]

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

# Two layouts that agree in adjuster, belt and side differ by this share of a range, or by this
# many times as much of that of the motor's height, which changes little.
_APART = 0.1
_HEIGHT = 5.0


class Differences:
    """Tells which of some layouts differ from those taken before.

    Parameters
    ----------
    layouts : Layouts
        N layouts.
    space : SearchSpace
        What the search may try; lengths are compared in its ranges.
    """

    def __init__(self, layouts: Layouts, space: SearchSpace) -> None:
        self._places = _places(layouts, space)
        # On which side the motor stands, seen along the plate from its hinge.
        side = np.sign(
            layouts.along_x * layouts.normal_y - layouts.along_y * layouts.normal_x
        ).astype(np.intp)
        self._listed = np.stack([layouts.kind, layouts.acts, layouts.belt, side], axis=-1)

    def differ(self, one: int, taken: list[int], apart: float = _APART) -> bool:
        """Whether a layout is another one than all that were taken."""
        same = np.all(self._listed[taken] == self._listed[one], axis=1)
        furthest = np.max(np.abs(self._places[taken] - self._places[one]), axis=1, initial=0.0)
        return bool(np.all(~same | (furthest >= apart)))

    def first(self, most: int) -> Ints:
        """The first layouts of which each differs from those before."""
        taken: list[int] = []
        for one in range(len(self._places)):
            if len(taken) == most:
                break
            if not taken or self.differ(one, taken):
                taken.append(one)
        return np.array(taken, dtype=np.intp)


def _places(layouts: Layouts, space: SearchSpace) -> Array:
    """Where each layout lies in the ranges of the search."""
    columns = [
        (getattr(layouts, name) - low) / (high - low) / (_HEIGHT if name == "motor_height" else 1.0)
        for name in ("hinge_x", "hinge_y", "reach", "motor_height")
        for low, high in (getattr(space, name),)
        if high > low
    ]
    if space.motor_direction is not None:
        # The motor moves with its belt's length besides: compared in the hinge's ranges.
        width = max(high - low for low, high in (space.hinge_x, space.hinge_y)) or 1.0
        columns += [layouts.motor_x / width, layouts.motor_y / width]
    count = len(layouts)
    return np.array(columns).reshape(len(columns), count).T
