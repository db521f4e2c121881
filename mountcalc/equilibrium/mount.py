"""A scenario's numbers bound to the linkage's kernels."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.formulas import belt as belt_formulas
from mountcalc.linkage import kernels
from mountcalc.scenario.model import Adjuster, AdjusterKind, Rotation, Scenario, Vector

__all__ = ["AdjusterState", "Mount", "Pulls"]

Array = NDArray[np.float64]


class AdjusterState(Protocol):
    """What every adjuster kernel gives; see :mod:`mountcalc.linkage.kernels`."""

    @property
    def extension(self) -> Array:
        """Extension s [m]."""

    @property
    def extension_slope(self) -> Array:
        """ds/dphi [m/rad]."""

    @property
    def bite(self) -> Array:
        """What the kernel divides by."""

    @property
    def force_x(self) -> Array:
        """Force on the plate for a unit of compression, x."""

    @property
    def force_y(self) -> Array:
        """The same, y."""

    @property
    def at_x(self) -> Array:
        """Where that force acts, x [m]."""

    @property
    def at_y(self) -> Array:
        """The same, y [m]."""


class Pulls(NamedTuple):
    """The strands as the load sees them.

    ``tight_arm`` and ``slack_arm`` [m] are moment arms about the hinge, clockwise positive;
    ``tight`` and ``slack`` unit vectors from motor to driven shaft, shape (..., 2);
    ``share`` [-] is half the greatest pull over the felt mean tension.
    """

    tight_arm: Array
    slack_arm: Array
    tight: Array
    slack: Array
    share: Array


def _adjuster_kernel(adjuster: Adjuster, hinge: Vector) -> Callable[[ArrayLike], AdjusterState]:
    """The kernel of the adjuster's kind with all but the plate angle filled in."""
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.plate_pin is not None
        assert adjuster.base_pin is not None
        pins = (*hinge, *adjuster.plate_pin, *adjuster.base_pin)
        return lambda phi: kernels.link(phi, *pins)
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    assert adjuster.face is not None
    axis = (math.cos(adjuster.axis), math.sin(adjuster.axis))
    normal = (-math.sin(adjuster.face), math.cos(adjuster.face))
    jack = (*hinge, *adjuster.tip, *axis, *normal)
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return lambda phi: kernels.jack_in_base(phi, *jack)
    return lambda phi: kernels.jack_in_plate(phi, *jack)


@dataclass(frozen=True)
class Mount:
    """A scenario's linkage and drive as functions of the plate angle.

    All methods take an array of plate angles [rad] of any shape.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    stiffness : float [N]
        EA of one belt: the scenario's, or another within its uncertainty.
    """

    scenario: Scenario
    stiffness: float

    @classmethod
    def of(cls, scenario: Scenario) -> Mount:
        """The mount with the belt stiffness that the scenario names."""
        return cls(scenario, scenario.belt.stiffness)

    def with_stiffness(self, stiffness: float) -> Mount:
        """The same mount with another belt stiffness [N]."""
        return replace(self, stiffness=stiffness)

    @property
    def count(self) -> int:
        """Number of belts n."""
        return self.scenario.belt.count

    @property
    def belt_speed(self) -> float:
        """Belt speed v = omega r [m/s]."""
        return self.scenario.motor.speed * self.scenario.motor.pulley_radius

    @property
    def driven_speed(self) -> float:
        """Speed of the driven shaft without creep [rad/s]."""
        return self.belt_speed / self.scenario.driven.pulley_radius

    @property
    def pull(self) -> float:
        """Effective pull of one belt that the driven power asks for, Te [N]."""
        return float(
            belt_formulas.pull_per_belt(self.scenario.driven.power, self.belt_speed, self.count)
        )

    @property
    def centrifugal_tension(self) -> float:
        """Tc at full speed [N]."""
        return float(belt_formulas.centrifugal_tension(self.scenario.belt.mass, self.belt_speed))

    @property
    def _drive(self) -> tuple[float, ...]:
        scenario = self.scenario
        return (
            *scenario.plate.hinge,
            *scenario.motor.shaft,
            *scenario.driven.shaft,
            scenario.motor.pulley_radius,
            scenario.driven.pulley_radius,
        )

    def path(self, phi: ArrayLike) -> kernels.BeltPath:
        """The belt's path; NaN where one pulley would lie inside the other."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return kernels.belt_path(phi, *self._drive)

    def strands(self, phi: ArrayLike) -> kernels.Strands:
        """The two strands by geometry (plus and minus)."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return kernels.strands(phi, *self._drive)

    def pulls(self, phi: ArrayLike) -> Pulls:
        """The two strands by load: the plus strand is tight for counter-clockwise rotation."""
        strands = self.strands(phi)
        plus = (strands.arm_plus, np.stack([strands.along_plus_x, strands.along_plus_y], axis=-1))
        minus = (
            strands.arm_minus,
            np.stack([strands.along_minus_x, strands.along_minus_y], axis=-1),
        )
        ccw = self.scenario.motor.rotation is Rotation.CCW
        tight, slack = (plus, minus) if ccw else (minus, plus)
        on_motor, on_driven = belt_formulas.wraps(strands.beta)
        share = np.minimum(
            belt_formulas.slip_share(self.scenario.motor.traction, on_motor),
            belt_formulas.slip_share(self.scenario.driven.traction, on_driven),
        )
        return Pulls(tight[0], slack[0], tight[1], slack[1], share)

    def tension(self, path_length: ArrayLike) -> Array:
        """Rest tension of one strand of one belt [N] on a path [m]."""
        return belt_formulas.elastic_tension(path_length, self.scenario.belt.length, self.stiffness)

    def tension_slope(self, length_slope: ArrayLike) -> Array:
        """dT/dphi of a taut belt [N/rad]."""
        return self.stiffness / self.scenario.belt.length * np.asarray(length_slope)

    def weight_moment(self, phi: ArrayLike) -> Array:
        """Sum of W dy/dphi: the weights' moment about the hinge, clockwise positive [N m]."""
        scenario = self.scenario
        hinge = scenario.plate.hinge
        motor = kernels.plate_point(phi, *hinge, *scenario.motor.center_of_mass)
        plate = kernels.plate_point(phi, *hinge, *scenario.plate.center_of_mass)
        return scenario.motor.weight * motor.y_slope + scenario.plate.weight * plate.y_slope

    @property
    def weight_scale(self) -> float:
        """Sum of W times the distance of its point from the hinge [N m]."""
        scenario = self.scenario
        hinge = scenario.plate.hinge
        motor = scenario.motor.weight * math.dist(scenario.motor.center_of_mass, hinge)
        return motor + scenario.plate.weight * math.dist(scenario.plate.center_of_mass, hinge)

    def energy(self, phi: ArrayLike) -> Array:
        """Potential energy of belts and weights at rest [J], up to a constant."""
        scenario = self.scenario
        hinge = scenario.plate.hinge
        stretch = np.maximum(self.path(phi).length - scenario.belt.length, 0.0)
        motor = kernels.plate_point(phi, *hinge, *scenario.motor.center_of_mass)
        plate = kernels.plate_point(phi, *hinge, *scenario.plate.center_of_mass)
        return (
            0.5 * self.count * self.stiffness / scenario.belt.length * stretch**2
            + scenario.motor.weight * motor.y
            + scenario.plate.weight * plate.y
        )

    @property
    def has_adjuster(self) -> bool:
        """Whether anything but weight and belt can fix the plate."""
        return self.scenario.adjuster.kind is not AdjusterKind.NONE

    def adjuster(self, phi: ArrayLike) -> AdjusterState:
        """The adjuster's kernel; only where :attr:`has_adjuster`."""
        kernel = _adjuster_kernel(self.scenario.adjuster, self.scenario.plate.hinge)
        with np.errstate(invalid="ignore", divide="ignore"):
            return kernel(phi)
