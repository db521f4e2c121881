"""A scenario's numbers bound to the linkage's kernels."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.errors import MountError
from mountcalc.formulas import belt as belt_formulas
from mountcalc.linkage import kernels
from mountcalc.record import Record
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import AdjusterKind, Rotation, Scenario
from mountcalc.structure.give import PartsGive, give_of_parts

Array = NDArray[np.float64]
Numbers = float | Array
Point = tuple[Numbers, Numbers]


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


class Mount(Record):
    """A scenario's linkage and drive as functions of the plate angle.

    All methods take an array of plate angles [rad] of any shape. The numbers kept here may be
    arrays that broadcast with it: one object is then as many mounts, which share the rest of the
    scenario, such as ``replace(Mount.of(scenario), hinge=(x, y))`` with ``x`` and ``y`` of shape
    (1000, 1) and plate angles of shape (50,) or (1000, 50).

    Parameters
    ----------
    scenario : Scenario
        The mount, or what all of them share.
    stiffness : float or ndarray [N]
        EA of one belt: the scenario's, or another within its uncertainty.
    length : float or ndarray [m]
        Free length of one belt.
    hinge, motor_shaft, driven_shaft, motor_center, plate_center : pair of float or ndarray [m]
        Points as drawn; the last two are centres of mass.
    motor_weight, plate_weight : float or ndarray [N]
        Weights of motor and plate.
    motor_traction, driven_traction : float or ndarray [-]
        Traction on each pulley.
    bears_at, base_pin : pair of float or ndarray [m]
        Where the adjuster bears on the plate as drawn (a jack's tip, a link's pin in the plate),
        and a link's other pin.
    axis, normal : pair of float or ndarray [-]
        Unit vectors of a jack: the way its tip moves as it extends, and square to its face.
    spring : float or ndarray or None [N/m]
        Force over give of all that gives between bolt and plate, None where it is rigid.
    coil : pair of float or ndarray or None
        Rate [N/m] of a coil spring in series with that, and the travel [m] after which it is solid.
    """

    scenario: Scenario
    stiffness: Numbers
    length: Numbers
    hinge: Point
    motor_shaft: Point
    driven_shaft: Point
    motor_center: Point
    plate_center: Point
    motor_weight: Numbers
    plate_weight: Numbers
    motor_traction: Numbers
    driven_traction: Numbers
    bears_at: Point | None
    base_pin: Point | None
    axis: Point | None
    normal: Point | None
    spring: Numbers | None
    coil: Point | None

    @classmethod
    def of(cls, scenario: Scenario) -> Mount:
        """The mount as the scenario has it."""
        motor, plate, adjuster = scenario.motor, scenario.plate, scenario.adjuster
        axis, face = adjuster.axis, adjuster.face
        mount = cls(
            scenario,
            scenario.belt.stiffness,
            scenario.belt.length,
            plate.hinge,
            motor.shaft,
            scenario.driven.shaft,
            motor.center_of_mass,
            plate.center_of_mass,
            motor.weight,
            plate.weight,
            motor.traction,
            scenario.driven.traction,
            adjuster.plate_pin if adjuster.kind is AdjusterKind.LINK else adjuster.tip,
            adjuster.base_pin,
            None if axis is None else (math.cos(axis), math.sin(axis)),
            None if face is None else (-math.sin(face), math.cos(face)),
            None if isinstance(adjuster.spring, Giving) else adjuster.spring,
            None if adjuster.coil is None else (adjuster.coil.rate, adjuster.coil.stop),
        )
        if adjuster.spring is not Giving.PARTS:
            return mount
        given = mount.parts_give
        assert given is not None, "the rules ask for a board"
        return replace(mount, spring=given.stiffness)

    @property
    def parts_give(self) -> PartsGive | None:
        """What the parts give as drawn; None without an adjuster, or where no board is told."""
        if not self.has_adjuster:
            return None
        at = self.adjuster(0.0)
        meets, push = (float(at.at_x), float(at.at_y)), (float(at.force_x), float(at.force_y))
        return give_of_parts(self.scenario, meets, push)

    def error(self, key: str, text: str) -> MountError:
        """That this mount cannot do what was asked."""
        return MountError(self.scenario.source, key, text)

    def with_stiffness(self, stiffness: Numbers) -> Mount:
        """The same mount with another belt stiffness [N]."""
        return replace(self, stiffness=stiffness)

    def rows(self, rows: NDArray[np.intp], *, column: bool = False) -> Mount:
        """Of many mounts, with numbers of shape (m, 1), one for each row.

        Shape (rows,), or (rows, 1) in a column.
        """
        return self._picked(lambda numbers: numbers[rows] if column else numbers[rows, 0])

    def entries(self, which: NDArray[np.intp] | slice) -> Mount:
        """Of many mounts, with numbers of shape (m,), some."""
        return self._picked(lambda numbers: numbers[which])

    def _picked(self, pick: Callable[[Array], Array]) -> Mount:
        def picked(value: Any) -> Any:  # noqa: ANN401  # a number, a point, or what is no number
            if isinstance(value, tuple):
                return tuple(map(picked, value))
            return pick(value) if isinstance(value, np.ndarray) else value

        numbers = {field.name: picked(getattr(self, field.name)) for field in fields(self)}
        return replace(self, **numbers)

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
    def _drive(self) -> tuple[Numbers, ...]:
        radii = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        return (*self.hinge, *self.motor_shaft, *self.driven_shaft, *radii)

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
        share = self.share(strands.beta)
        return Pulls(tight[0], slack[0], tight[1], slack[1], share)

    def share(self, beta: ArrayLike) -> Array:
        """Half the greatest pull over the felt mean tension, on the pulley that slips first [-]."""
        on_motor, on_driven = belt_formulas.wraps(beta)
        share: Array = np.minimum(
            belt_formulas.slip_share(self.motor_traction, on_motor),
            belt_formulas.slip_share(self.driven_traction, on_driven),
        )
        return share

    def tension(self, path_length: ArrayLike) -> Array:
        """Rest tension of one strand of one belt [N] on a path [m]."""
        return belt_formulas.elastic_tension(path_length, self.length, self.stiffness)

    def tension_slope(self, length_slope: ArrayLike) -> Array:
        """dT/dphi of a taut belt [N/rad]."""
        return self.stiffness / self.length * np.asarray(length_slope)

    def weight_moment(self, phi: ArrayLike) -> Array:
        """Sum of W dy/dphi: the weights' moment about the hinge, clockwise positive [N m]."""
        motor, plate = self._centers(phi)
        moment: Array = self.motor_weight * motor.y_slope + self.plate_weight * plate.y_slope
        return moment

    @property
    def weight(self) -> Numbers:
        """Weight of motor and plate [N]."""
        return self.motor_weight + self.plate_weight

    def _centers(self, phi: ArrayLike) -> tuple[kernels.PlatePoint, kernels.PlatePoint]:
        """The centres of mass of motor and plate."""
        return (
            kernels.plate_point(phi, *self.hinge, *self.motor_center),
            kernels.plate_point(phi, *self.hinge, *self.plate_center),
        )

    @property
    def weight_scale(self) -> Numbers:
        """Sum of W times the distance of its point from the hinge [N m]."""
        x, y = self.hinge
        motor, plate = (
            np.hypot(center[0] - x, center[1] - y)
            for center in (self.motor_center, self.plate_center)
        )
        scale: Numbers = self.motor_weight * motor + self.plate_weight * plate
        return scale

    def energy(self, phi: ArrayLike) -> Array:
        """Potential energy of belts and weights at rest [J], up to a constant."""
        stretch = np.maximum(self.path(phi).length - self.length, 0.0)
        motor, plate = self._centers(phi)
        return (
            0.5 * self.count * self.stiffness / self.length * stretch**2
            + self.motor_weight * motor.y
            + self.plate_weight * plate.y
        )

    @property
    def gives(self) -> bool:
        """Whether anything gives between bolt and plate."""
        return self.spring is not None or self.coil is not None

    def give(self, force: Array) -> Array:
        """How much shorter the adjuster is under an axial force, compression positive [m]."""
        given = np.zeros_like(force) if self.spring is None else force / self.spring
        return given if self.coil is None else given + self._pressed(force, self.coil)

    def compliance(self, force: Array) -> Array:
        """d(give)/dF under an axial force, less once a coil is solid [m/N]."""
        slope = np.zeros_like(force) if self.spring is None else np.ones_like(force) / self.spring
        if self.coil is not None:
            rate, stop = self.coil
            slope = slope + np.where(np.abs(force) < rate * stop, 1.0 / rate, 0.0)
        return slope

    def strain_energy(self, force: Array) -> Array:
        """Energy in what gives, under an axial force [J]."""
        stored = np.zeros_like(force) if self.spring is None else 0.5 * force**2 / self.spring
        if self.coil is not None:
            stored = stored + 0.5 * self.coil[0] * self._pressed(force, self.coil) ** 2
        return stored

    @staticmethod
    def _pressed(force: Array, coil: Point) -> Array:
        """Travel of a coil spring, solid past its stop [m]."""
        rate, stop = coil
        travel: Array = np.clip(force / rate, -stop, stop)
        return travel

    @property
    def has_adjuster(self) -> bool:
        """Whether anything but weight and belt can fix the plate."""
        return self.scenario.adjuster.kind is not AdjusterKind.NONE

    def adjuster(self, phi: ArrayLike) -> kernels.AdjusterState:
        """The adjuster's kernel; only where :attr:`has_adjuster`."""
        assert self.bears_at is not None
        with np.errstate(invalid="ignore", divide="ignore"):
            if self.scenario.adjuster.kind is AdjusterKind.LINK:
                assert self.base_pin is not None
                return kernels.link(phi, *self.hinge, *self.bears_at, *self.base_pin)
            assert self.axis is not None
            assert self.normal is not None
            jack = (*self.hinge, *self.bears_at, *self.axis, *self.normal)
            if self.scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE:
                return kernels.jack_in_base(phi, *jack)
            return kernels.jack_in_plate(phi, *jack)
