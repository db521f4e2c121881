"""Layouts with their belts as mounts: where they are and what they carry at plate angles."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import bearing_shares
from mountcalc.equilibrium.mount import Mount
from mountcalc.formulas.belt import slip_share, wraps
from mountcalc.linkage import kernels
from mountcalc.linkage.kernels import AdjusterState
from mountcalc.place.feasible.drives import Drives, taut_distance
from mountcalc.place.feasible.layouts import IN_BASE, LINK, Columns, Layouts, Points
from mountcalc.record import Record
from mountcalc.scenario.model import Rotation, Scenario
from mountcalc.scenario.search import SearchSpace

Array = NDArray[np.float64]

# Newton's steps for a bolt that has turned a little; four do where nothing is near a dead centre.
_MOST_STEPS = 30
# A miss [m] that the step which is taken with it leaves below any rounding.
_NEARLY = 1e-9


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


def adjusters_of(layouts: Layouts, link_length: float) -> Callable[[Array], AdjusterState]:
    """The adjusters of layouts as a function of plate angles, the layouts on its last axis."""
    kinds, found = np.unique(layouts.kind), []
    for code in kinds:
        which = slice(None) if len(kinds) == 1 else np.flatnonzero(layouts.kind == code)
        some = layouts.take(which)
        last = [some.tip - link_length * some.axis] if code == LINK else [some.axis, some.normal]
        columns = [part for at in (some.hinge, some.tip, *last) for part in _xy(at)]
        jack = kernels.jack_in_base if code == IN_BASE else kernels.jack_in_plate
        found.append((which, kernels.link if code == LINK else jack, columns))

    def adjusters(phi: Array) -> AdjusterState:
        values = np.empty((len(AdjusterState._fields), *phi.shape))
        for which, kernel, columns in found:
            values[..., which] = kernel(phi[..., which], *columns)
        return AdjusterState(*values)

    return adjusters


def _xy(points: Points) -> tuple[Array, Array]:
    return points.real.copy(), points.imag.copy()


class Statics(Record):
    """Layouts of one search as mounts; all plate angles [rad] have the layouts on the last axis.

    ``scenario`` is the mount that the search starts from, ``space`` what it may try; ``drives`` are
    the layouts' belts.
    """

    scenario: Scenario
    space: SearchSpace
    layouts: Layouts
    drives: Drives

    def take(self, which: NDArray[np.intp]) -> Statics:
        """Those of some layouts."""
        return replace(self, layouts=self.layouts.take(which), drives=self.drives.of(which))

    @cached_property
    def mount(self) -> Mount:
        """All of them as one mount of arrays, whatever their adjusters."""
        one, drives = self.layouts, self.drives
        return replace(
            Mount.of(self.scenario),
            stiffness=drives.stiffness,
            length=drives.length,
            hinge=(one.hinge_x, one.hinge_y),
            motor_shaft=(one.motor_x, one.motor_y),
        )

    @cached_property
    def adjuster(self) -> Callable[[Array], AdjusterState]:
        """The adjusters at plate angles."""
        return adjusters_of(self.layouts, self.space.link_length)

    @property
    def carries(self) -> Array:
        """Sign of the axial force that each adjuster carries: +1 in compression, -1 in tension."""
        return np.where(self.layouts.pulls, -1.0, 1.0)

    def swing(self, distance: Array) -> Array:
        """Plate angle at a centre distance, on the drawing's side of dead centre."""
        mount = self.mount
        both = kernels.swing_to(
            distance, *mount.hinge, *mount.motor_shaft, *self.scenario.driven.shaft
        )
        return np.where(self.layouts.tightens > 0, both.counter_clockwise, both.clockwise)

    def angle_after(self, start: Array, extension: Array) -> Array:
        """Plate angle at which the adjuster has an extension [m], near a known angle."""
        phi = np.array(np.broadcast_to(start, extension.shape))
        moving = np.ones(phi.shape, dtype=bool)
        for _ in range(_MOST_STEPS):
            at = self.adjuster(phi)
            miss = at.extension - extension
            # What has settled stays, whatever else is in the same block.
            phi = np.where(moving, phi - miss / at.extension_slope, phi)
            moving &= ~(np.abs(miss) <= _NEARLY)
            if not np.any(moving):
                break
        return np.where(moving, np.nan, phi)

    def tension(self, phi: Array) -> Array:
        """Tension of one strand at rest [N]."""
        return self.mount.tension(self.mount.path(phi).length)

    def angle_at(self, tension: Array) -> Array:
        """Plate angle at a tension [N]; below none the belt is as short as it would be."""
        drives = self.drives
        length = drives.length * (1.0 + tension / drives.stiffness)
        return self.swing(taut_distance(length, drives.snug, self.scenario))

    @property
    def _plate_weight(self) -> Array:
        """Weight of each plate [N]: the scenario's is that of the longest."""
        return self.scenario.plate.weight * self.layouts.plate_length / self.space.plate_length

    @cached_property
    def _levers(self) -> tuple[Array, Array]:
        """Sum of W times the place of its point from the hinge as drawn, x and y [N m].

        The plate's centre of mass is in the middle of its wood; the motor's keeps its place by the
        shaft. The sum turns with the plate as a point does.
        """
        motor, one = self.scenario.motor, self.layouts
        of_motor = one.motor - one.hinge + complex(*motor.center_of_mass) - complex(*motor.shaft)
        of_plate = 0.5 * one.plate_length + 1j * one.side * self.space.plate_middle
        return _xy(motor.weight * of_motor + self._plate_weight * of_plate * one.along)

    def weights(self, phi: Array) -> kernels.PlatePoint:
        """The weights' moment about the hinge as ``y_slope`` [N m], clockwise positive."""
        return kernels.plate_point(phi, 0.0, 0.0, *self._levers)

    def cases(self) -> Iterator[Load]:
        """Rest, then running and starting for each rotation that the motor has."""
        yield Load("rest", 0.0, 1.0)
        for way in self._ways:
            yield Load("running", 1.0, way)
            yield Load("starting", self.scenario.driven.starting_factor, way)

    def promised(self) -> Iterator[Load]:
        """The pulls up to which the grip is promised, where they are more than the cases'."""
        limits, factor = self.scenario.limits, self.scenario.driven.starting_factor
        for way in self._ways:
            if limits.grip > 1.0:
                yield Load("running", limits.grip, way)
            if limits.starting_grip is not None and limits.starting_grip > 1.0:
                yield Load("starting", limits.starting_grip * factor, way)

    @property
    def _ways(self) -> tuple[float, ...]:
        if self.scenario.motor.reverses:
            return 1.0, -1.0
        return (1.0,) if self.scenario.motor.rotation is Rotation.CCW else (-1.0,)

    def strung(self, phi: Array) -> Strung:
        """The belts at plate angles."""
        strands = self.mount.strands(phi)
        plus = strands.along_plus_x + 1j * strands.along_plus_y
        minus = strands.along_minus_x + 1j * strands.along_minus_y
        on_motor, on_driven = wraps(strands.beta)
        share = np.minimum(
            slip_share(self.scenario.motor.traction, on_motor),
            slip_share(self.scenario.driven.traction, on_driven),
        )
        return Strung(
            self.tension(phi),
            share,
            strands.arm_plus + strands.arm_minus,
            strands.arm_plus - strands.arm_minus,
            plus + minus,
            plus - minus,
            self.weights(phi).y_slope,
        )

    def pulled(self, at: Strung, load: Load) -> Pulled:
        """The belts under a load; one that is too slack for it slips and pulls what it can."""
        drives = self.drives
        mean = drives.count * at.tension
        if load.name == "running":
            mean = np.maximum(mean - drives.count * drives.centrifugal, 0.0)
        asked = 0.5 * load.pulls * drives.count * drives.pull
        half = load.way * np.minimum(asked, mean * at.share)
        return Pulled(
            mean * at.arm_sum + half * at.arm_difference, mean * at.sum + half * at.difference
        )

    def hinge(self, pulled: Pulled, adjuster: AdjusterState, force: Array) -> Array:
        """Size of the hinge's force [N]: what closes the plate's balance."""
        weight = self.scenario.motor.weight + self._plate_weight
        x = pulled.force.real + force * adjuster.force_x
        y = pulled.force.imag + force * adjuster.force_y - weight
        return np.sqrt(x * x + y * y)

    def share_of_limit(self, pulled: Pulled, load: Load) -> Array:
        """Load of the worse bearing over its limit [-]."""
        worst = np.zeros(pulled.force.shape)
        for share, fixed, limit in bearing_shares(self.scenario.driven, load.name):
            at = complex(*fixed) - share * pulled.force
            worst = np.maximum(worst, (at.real**2 + at.imag**2) / limit**2)
        return np.sqrt(worst)
