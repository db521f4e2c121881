"""Dimensions rounded to what can be marked out, and the marks next to them."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.layouts import Choices
from mountcalc.scenario.model import Display
from mountcalc.scenario.search import SearchSpace

__all__ = ["STEPS", "Marks"]

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

# What a rule is divided into [m]: sixteenths of an inch, or millimetres.
STEPS = {Display.INCH: 0.0254 / 16, Display.METRIC: 0.001}
_ROUNDING = 1e-9  # of a mark


@dataclass(frozen=True)
class Marks:
    """The dimensions that a search rounds, and between which marks each may be.

    ``step`` [m] is from mark to mark; ``low`` and ``high`` count marks. A dimension that the
    search holds at one value keeps it, and so does one whose range holds no mark.
    """

    step: float
    names: tuple[str, ...]
    low: Whole
    high: Whole

    @classmethod
    def of(cls, space: SearchSpace, display: Display) -> Marks:
        """Those of a search."""
        step = STEPS[display]
        ends: dict[str, tuple[float, float]] = {
            name: getattr(space, name) for name in ("hinge_x", "hinge_y", "reach", "motor_height")
        }
        if space.motor_direction is not None:
            ends |= {"motor_x": (-math.inf, math.inf), "motor_y": (-math.inf, math.inf)}
        marks: dict[str, tuple[int, int]] = {}
        for name, (low, high) in ends.items():
            if math.isinf(high):
                marks[name] = -(2**40), 2**40
                continue
            first, last = math.ceil(low / step - _ROUNDING), math.floor(high / step + _ROUNDING)
            if low < high and first <= last:
                marks[name] = first, last
        limits = np.array(list(marks.values()), dtype=np.int64).reshape(-1, 2)
        return cls(step, tuple(marks), limits[:, 0], limits[:, 1])

    def nearest(self, choices: Choices) -> Whole:
        """The marks next to what was chosen, shape (N, names)."""
        values = [getattr(choices, name) for name in self.names]
        count = len(choices.hinge_x)
        exact = np.array(values).reshape(len(self.names), count).T / self.step
        result: Whole = np.clip(np.rint(exact), self.low, self.high).astype(np.int64)
        return result

    def applied(self, choices: Choices, marks: Whole) -> Choices:
        """Choices with their dimensions at marks."""
        columns = {field.name: getattr(choices, field.name) for field in fields(Choices)}
        columns |= {name: marks[:, at] * self.step for at, name in enumerate(self.names)}
        return Choices(**columns)

    def around(self, marks: Whole, together: int | None = None) -> tuple[Whole, Whole]:
        """All marks one step away, kept within their ranges."""
        steps = np.array(list(itertools.product((0, 1, -1), repeat=len(self.names))))
        differ = np.count_nonzero(steps, axis=1)
        if together is not None:
            steps, differ = steps[differ <= together], differ[differ <= together]
        return np.clip(marks[:, None, :] + steps, self.low, self.high), differ
