"""How layouts move: plate angles for a centre distance or an extension, by the kernels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import AdjusterState
from mountcalc.linkage import kernels
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.scenario.model import AdjusterKind, Scenario, Vector
from mountcalc.scenario.search import SearchSpace

__all__ = ["Motion"]

Array = NDArray[np.float64]

# Newton's steps for a bolt that has turned a little; four do where nothing is near a dead centre.
_MOST_STEPS = 30
# A miss [m] that the step which is taken with it leaves below any rounding.
_NEARLY = 1e-9


@dataclass(frozen=True, slots=True)
class Motion:
    """The linkage of layouts that have one ``kind`` of adjuster.

    ``shaft`` [m] is the driven one's, the radii [m] are pitch radii, ``link_length`` [m] is between
    the pins of a link as drawn. All methods take plate angles [rad] whose last axis is that of the
    layouts.
    """

    shaft: Vector
    motor_radius: float
    driven_radius: float
    link_length: float
    kind: AdjusterKind

    @classmethod
    def of(cls, scenario: Scenario, space: SearchSpace, kind: AdjusterKind) -> Motion:
        """That of a search."""
        driven = scenario.driven
        radii = scenario.motor.pulley_radius, driven.pulley_radius
        return cls(driven.shaft, *radii, space.link_length, kind)

    def swing(self, layouts: Layouts, distance: Array) -> Array:
        """Plate angle [rad] at a centre distance, on the drawing's side of dead centre."""
        hinge = layouts.hinge_x, layouts.hinge_y
        motor = layouts.motor_x, layouts.motor_y
        both = kernels.swing_to(distance, *hinge, *motor, *self.shaft)
        return np.where(layouts.tightens > 0, both.counter_clockwise, both.clockwise)

    def path(self, layouts: Layouts, phi: Array) -> kernels.BeltPath:
        """The belt's path."""
        return kernels.belt_path(phi, *self._drive(layouts))

    def strands(self, layouts: Layouts, phi: Array) -> kernels.Strands:
        """The two strands."""
        return kernels.strands(phi, *self._drive(layouts))

    def _drive(self, layouts: Layouts) -> tuple[Array | float, ...]:
        hinge = layouts.hinge_x, layouts.hinge_y
        motor = layouts.motor_x, layouts.motor_y
        return (*hinge, *motor, *self.shaft, self.motor_radius, self.driven_radius)

    def adjuster(self, layouts: Layouts, phi: Array) -> AdjusterState:
        """The adjuster."""
        hinge, tip = (layouts.hinge_x, layouts.hinge_y), (layouts.tip_x, layouts.tip_y)
        axis = layouts.axis_x, layouts.axis_y
        if self.kind is AdjusterKind.LINK:
            base = (end - self.link_length * way for end, way in zip(tip, axis, strict=True))
            return kernels.link(phi, *hinge, *tip, *base)
        jack = (*hinge, *tip, *axis, layouts.normal_x, layouts.normal_y)
        if self.kind is AdjusterKind.JACK_IN_BASE:
            return kernels.jack_in_base(phi, *jack)
        return kernels.jack_in_plate(phi, *jack)

    def angle_after(self, layouts: Layouts, start: Array, extension: Array) -> Array:
        """Plate angle [rad] at which the adjuster has an extension, near a known angle."""
        phi = np.array(np.broadcast_to(start, extension.shape))
        moving = np.ones(phi.shape, dtype=bool)
        for _ in range(_MOST_STEPS):
            at = self.adjuster(layouts, phi)
            miss = at.extension - extension
            # What has settled stays, whatever else is in the same block.
            phi = np.where(moving, phi - miss / at.extension_slope, phi)
            moving &= ~(np.abs(miss) <= _NEARLY)
            if not np.any(moving):
                break
        return np.where(moving, np.nan, phi)
