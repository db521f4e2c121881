"""Whether one layout's bolt clears the motor on the same plate: the final word, by shapely.

The same for many layouts at once is in :mod:`motor_room`, which sees it from
the plate; here the plate swings. Discs are drawn as in :mod:`mountcalc.place.clearance.shapes`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from mountcalc.linkage import kernels
from mountcalc.place.clearance.least_distance import least_over_travel
from mountcalc.place.clearance.parts import Sizes
from mountcalc.place.clearance.shapes import Outlines
from mountcalc.place.layouts.layouts import KINDS, Layouts
from mountcalc.scenario.model import AdjusterKind

__all__ = ["MotorGap", "motor_gap"]

Array = NDArray[np.float64]

_ON_FACE = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class MotorGap:
    """Room that bolt or link and wrench have from the motor beyond what they need [m].

    The least over the travel, sure to :data:`DISTANCE_ERROR`;
    what lies behind the face on which the motor stands has as much as it lies deep. The ``wrench``
    of a link has infinite room.
    """

    bolt: float
    wrench: float


def motor_gap(
    layouts: Layouts, index: int, outlines: Outlines, sizes: Sizes, clearance: float
) -> MotorGap:
    """Measure the room between bolt and motor of one of some layouts."""
    one = _Mount.of(layouts, index, outlines, sizes)

    def bolt(angle: float) -> float:
        near, far = one.bolt(angle)
        apart = one.apart(angle, near, far) - clearance
        return max(apart, one.depth(angle, far)) if one.bears(angle, near) else apart

    def wrench(angle: float) -> float:
        first, last = one.heads(angle)
        apart = one.apart(angle, first, last) - sizes.wrench_space
        return max(apart, min(one.depth(angle, first), one.depth(angle, last)))

    def least(room: Callable[[float], float]) -> float:
        def measured(angles: Array) -> Array:
            return np.array([room(float(angle)) for angle in angles])

        return least_over_travel(measured, one.speed, outlines.ends)

    link = one.kind is AdjusterKind.LINK
    return MotorGap(least(bolt), math.inf if link else least(wrench))


@dataclass(frozen=True, slots=True)
class _Mount:
    """One layout as drawn; ``least`` and ``most`` are a jack's extensions over its travel."""

    kind: AdjusterKind
    outlines: Outlines
    sizes: Sizes
    hinge: Array
    tip: Array
    axis: Array
    normal: Array
    least: float = 0.0
    most: float = 0.0

    @classmethod
    def of(cls, layouts: Layouts, index: int, outlines: Outlines, sizes: Sizes) -> _Mount:
        hinge, tip, axis, normal = (
            getattr(layouts, name)[index] for name in ("hinge", "tip", "axis", "normal")
        )
        kind = KINDS[int(layouts.kind[index])]
        drawn = cls(kind, outlines, sizes, hinge, tip, axis, normal)
        moved = [drawn._extension(angle) for angle in outlines.ends]
        return replace(drawn, least=min(moved), most=max(moved))

    def _extension(self, angle: float) -> float:
        if self.kind is AdjusterKind.LINK:
            return 0.0
        place = (*self.hinge, *self.tip, *self.axis, *self.normal)
        if self.kind is AdjusterKind.JACK_IN_PLATE:
            return float(kernels.jack_in_plate(angle, *place).extension)
        return float(kernels.jack_in_base(angle, *place).extension)

    @property
    def speed(self) -> float:
        """How fast the bolt moves at most, seen from the plate [m/rad]."""
        if self.kind is AdjusterKind.JACK_IN_PLATE:
            return 0.0
        if self.kind is AdjusterKind.LINK:
            return math.dist(self.tip - self.sizes.link_length * self.axis, self.hinge)
        back = self.least - self.sizes.bolt_length
        lever = max(math.dist(self.tip + at * self.axis, self.hinge) for at in (back, self.most))
        arm = self.tip - self.hinge
        # ds/dphi of its extension is (a + b sin phi) / cos^2 phi, a and b along and across.
        cosine = math.cos(max(abs(end) for end in self.outlines.ends))
        return lever + math.hypot(*arm) * math.sqrt(2.0) / cosine**2

    def _turned(self, place: Array, angle: float) -> Array:
        cos, sin = math.cos(angle), math.sin(angle)
        x, y = place - self.hinge
        turned: Array = self.hinge + np.array([x * cos - y * sin, x * sin + y * cos])
        return turned

    def bolt(self, angle: float) -> tuple[Array, Array]:
        """A jack's tip and head, or the pins of a link in plate and base."""
        if self.kind is AdjusterKind.LINK:
            return self._turned(self.tip, angle), self.tip - self.sizes.link_length * self.axis
        if self.kind is AdjusterKind.JACK_IN_BASE:
            at = self._extension(angle)
            return self.tip + at * self.axis, self.heads(angle)[0]
        return self._turned(self.tip + self.most * self.axis, angle), self.heads(angle)[0]

    def heads(self, angle: float) -> tuple[Array, Array]:
        """Where a jack's head is; of one that turns with the plate, wherever it is screwed to."""
        length = self.sizes.bolt_length
        if self.kind is AdjusterKind.JACK_IN_BASE:
            head = self.tip + (self._extension(angle) - length) * self.axis
            return head, head
        back, front = (self.tip + (at - length) * self.axis for at in (self.least, self.most))
        return self._turned(back, angle), self._turned(front, angle)

    def depth(self, angle: float, place: Array) -> float:
        """How far a place is behind the face on which the motor stands."""
        out = self._turned(self.hinge + self.normal, angle) - self.hinge
        return self.sizes.plate_face - float(np.dot(place - self.hinge, out))

    def bears(self, angle: float, place: Array) -> bool:
        """Whether a tip or pin does not stand out on the motor's side."""
        return self.depth(angle, place) >= -_ON_FACE

    def apart(self, angle: float, start: Array, end: Array) -> float:
        """How far what is between two places is from the motor."""
        line = shapely.LineString([start, end])
        motor = self.outlines.part("motor", angle)
        return float(shapely.distance(line, motor).min())
