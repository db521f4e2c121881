"""Many mounts whose adjusters hold their plates: what they carry, as arrays in closed form.

Tensions and centre distances depend on the belt alone, and forces are linear in the pull: a plate
that is held at no pull and at some pull is held at every pull in between. Layouts of a search and
builds of one drawing are such mounts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from functools import cached_property
from typing import Any, NamedTuple, Self

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import bearing_shares
from mountcalc.equilibrium.mount import Mount, Numbers
from mountcalc.formulas import belt as belt_formulas
from mountcalc.linkage import kernels
from mountcalc.record import Record
from mountcalc.scenario.model import Rotation, Scenario

Array = NDArray[np.float64]
Points = NDArray[np.complex128]

# From a tension to its centre distance; each step gains three digits or more.
_STEPS = 12
# A step [m] of Newton's method that leaves less than rounding behind.
_NEARLY = 1e-9


class Columns(Record):
    """Arrays whose last axis has an entry for each of some mounts."""

    def take(self, which: NDArray[np.intp] | NDArray[np.bool_] | slice) -> Self:
        """Those of some of them."""
        return type(self)(**{name: of[..., which] for name, of in self.columns.items()})

    @classmethod
    def joined(cls, parts: Sequence[Self]) -> Self:
        """Parts, end to end."""
        names = parts[0].columns
        return cls(**{name: np.concatenate([one.columns[name] for one in parts]) for name in names})

    @property
    def columns(self) -> dict[str, Any]:
        """The arrays by their names."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


class Load(NamedTuple):
    """A load case: ``name`` and the pull in units of Te.

    ``way`` is +1 where the strand on the left of the line from motor to driven shaft is tight.
    """

    name: str
    pulls: float
    way: float


class Strung(Columns):
    """The belts at some plate angles: what every load case there needs.

    ``tension`` [N] at rest of one strand, ``share`` [-] half the greatest pull over the felt
    tension, ``arm_sum`` and ``arm_difference`` [m] of the two strands' moment arms about the
    hinge, left strand first, ``sum`` and ``difference`` of their directions, and the weights'
    moment [N m], clockwise positive.
    """

    tension: Array
    share: Array
    arm_sum: Array
    arm_difference: Array
    sum: Points
    difference: Points
    weight: Array


class Pulled(NamedTuple):
    """What all belts together do under one load: moment [N m] and force on the motor [N]."""

    moment: Array
    force: Points


class Held(Record):
    """Mounts whose plates are held; all plate angles [rad] have the mounts on the last axis.

    ``mount`` has numbers with an entry for each, or that all share; so have the belts' ``count``
    [-], ``pull`` Te and ``centrifugal`` tension Tc [N] of one, and the centre distance [m] at which
    they are ``snug``. ``tightens`` is the sign of dL/dphi.
    """

    mount: Mount
    count: Numbers
    pull: Numbers
    centrifugal: Numbers
    snug: Array
    tightens: Array

    def take(self, which: NDArray[np.intp]) -> Held:
        """Some of mounts whose belts are all as many."""
        return replace(
            self,
            mount=self.mount.entries(which),
            snug=self.snug[which],
            tightens=self.tightens[which],
        )

    def swing(self, distance: Array) -> Array:
        """Plate angle at a centre distance, on the drawing's side of dead centre."""
        one = self.mount
        both = kernels.swing_to(distance, *one.hinge, *one.motor_shaft, *one.driven_shaft)
        return np.where(self.tightens > 0, both.counter_clockwise, both.clockwise)

    def tension(self, phi: Array) -> Array:
        """Tension of one strand at rest [N]."""
        return self.mount.tension(self.mount.path(phi).length)

    def angle_at(self, tension: Array) -> Array:
        """Plate angle at a tension [N]; below none the belt is as short as it would be."""
        length = self.mount.length * (1.0 + tension / self.mount.stiffness)
        return self.swing(taut_distance(length, self.snug, self.mount.scenario))

    @cached_property
    def _levers(self) -> tuple[Numbers, Numbers]:
        """Sum of W times the place of its point from the hinge as drawn, x and y [N m].

        It turns with the plate as a point does.
        """
        one = self.mount
        x, y = (
            one.motor_weight * (motor - hinge) + one.plate_weight * (plate - hinge)
            for hinge, motor, plate in zip(
                one.hinge, one.motor_center, one.plate_center, strict=True
            )
        )
        return x, y

    def weights(self, phi: Array) -> kernels.PlatePoint:
        """The weights' moment about the hinge as ``y_slope`` [N m], clockwise positive."""
        return kernels.plate_point(phi, 0.0, 0.0, *self._levers)

    def cases(self) -> Iterator[Load]:
        """Rest, then running and starting for each rotation that the motor has."""
        yield Load("rest", 0.0, 1.0)
        for way in self._ways:
            yield Load("running", 1.0, way)
            yield Load("starting", self.mount.scenario.driven.starting_factor, way)

    def wanted(self) -> Iterator[Load]:
        """The pulls up to which grip is wanted."""
        scenario = self.mount.scenario
        limits, factor = scenario.limits, scenario.driven.starting_factor
        for way in self._ways:
            yield Load("running", limits.grip, way)
            if limits.starting_grip is not None:
                yield Load("starting", limits.starting_grip * factor, way)

    def promised(self) -> Iterator[Load]:
        """Those of them that are more than the cases'."""
        cases = {(case.name, case.way): case.pulls for case in self.cases()}
        yield from (one for one in self.wanted() if one.pulls > cases[one.name, one.way])

    @property
    def _ways(self) -> tuple[float, ...]:
        motor = self.mount.scenario.motor
        if motor.reverses:
            return 1.0, -1.0
        return (1.0,) if motor.rotation is Rotation.CCW else (-1.0,)

    def strung(self, phi: Array) -> Strung:
        """The belts at plate angles."""
        strands = self.mount.strands(phi)
        plus = strands.along_plus_x + 1j * strands.along_plus_y
        minus = strands.along_minus_x + 1j * strands.along_minus_y
        return Strung(
            self.tension(phi),
            self.mount.share(strands.beta),
            strands.arm_plus + strands.arm_minus,
            strands.arm_plus - strands.arm_minus,
            plus + minus,
            plus - minus,
            self.weights(phi).y_slope,
        )

    def pulled(self, at: Strung, load: Load) -> Pulled:
        """The belts under a load; one that is too slack for it slips and pulls what it can."""
        mean = self.count * at.tension
        if load.name == "running":
            mean = np.maximum(mean - self.count * self.centrifugal, 0.0)
        asked = 0.5 * load.pulls * self.count * self.pull
        half = load.way * np.minimum(asked, mean * at.share)
        return Pulled(
            mean * at.arm_sum + half * at.arm_difference, mean * at.sum + half * at.difference
        )

    def hinge(self, pulled: Pulled, adjuster: kernels.AdjusterState, force: Array) -> Array:
        """Size of the hinge's force [N]: what closes the plate's balance."""
        x = pulled.force.real + force * adjuster.force_x
        y = pulled.force.imag + force * adjuster.force_y - self.mount.weight
        return np.sqrt(x * x + y * y)

    def share_of_limit(self, pulled: Pulled, load: Load) -> Array:
        """Load of the worse bearing over its limit [-]."""
        worst = np.zeros(pulled.force.shape)
        for share, fixed, limit in bearing_shares(self.mount.scenario.driven, load.name):
            at = complex(*fixed) - share * pulled.force
            worst = np.maximum(worst, (at.real**2 + at.imag**2) / limit**2)
        return np.sqrt(worst)


def taut_distance(length: Array, start: Array, scenario: Scenario) -> Array:
    """Centre distance [m] at which a belt is so long [m], by Newton's method from one near it."""
    radii, distance = (scenario.motor.pulley_radius, scenario.driven.pulley_radius), start
    for _ in range(_STEPS):
        belt = kernels.open_belt(distance, *radii)
        step = (length - belt.length) / belt.length_slope
        distance = distance + step
        if not np.any(np.abs(step) > _NEARLY):
            break
    return distance


def carrying(
    mount: Mount, pull: Numbers, centrifugal: Numbers, snug: Array, times: tuple[float, float]
) -> tuple[Array, Array]:
    """Tension [N] and centre distance [m] at which belts carry so many times their loads.

    ``times`` are those of the running and of the starting pull; pull, centrifugal tension [N] and
    the distance [m] at which belts are ``snug`` as in :class:`Held`. What is needed hardly changes
    with the distance (the wraps do it), the tension steeply: Newton's step on the tension alone
    converges.
    """
    scenario, distance, (running, starting) = mount.scenario, snug, times
    asked = (
        (running * pull, centrifugal),
        (starting * scenario.driven.starting_factor * pull, 0.0),
    )
    for _ in range(_STEPS):
        belt = kernels.open_belt(
            distance, scenario.motor.pulley_radius, scenario.driven.pulley_radius
        )
        share = mount.share(belt.beta)
        # Rest tensions of a held belt; none is needed for no pull.
        tension = np.zeros(distance.shape)
        for one, gone in asked:
            needed = belt_formulas.least_tension(one, share, gone)
            tension = np.maximum(tension, np.where(one > 0, needed, 0.0))
        path = mount.length * (1.0 + tension / mount.stiffness)
        distance = distance + (path - belt.length) / belt.length_slope
    return tension, distance
