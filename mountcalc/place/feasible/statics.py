"""Forces of layouts at plate angles: strands, adjuster, hinge and bearings, in closed form."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import CASES
from mountcalc.equilibrium.mount import AdjusterState
from mountcalc.formulas.belt import elastic_tension, slip_share, wraps
from mountcalc.formulas.shaft import bearing_loads
from mountcalc.linkage import kernels
from mountcalc.place.layouts.drives import Drives
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.place.layouts.motion import Motion
from mountcalc.scenario.model import Rotation, Scenario, When
from mountcalc.scenario.search import SearchSpace

__all__ = ["Load", "Pulled", "Statics", "Strung"]

Array = NDArray[np.float64]


class Load(NamedTuple):
    """A load case: ``name``, whether centrifugal tension acts, and the pull in units of Te.

    ``way`` is +1 where the strand on the left of the line from motor to driven shaft is tight.
    """

    name: str
    in_motion: bool
    pulls: float
    way: float


class Strung(NamedTuple):
    """The belts at some plate angles: what every load case there needs.

    ``tension`` [N] at rest of one strand, ``share`` [-] half the greatest pull over the felt
    tension, ``arm_sum`` and ``arm_difference`` [m] of the two strands' moment arms about the
    hinge, left strand first, ``sum`` and ``difference`` of their unit vectors as x and y, and the
    weights' moment [N m], clockwise positive.
    """

    tension: Array
    share: Array
    arm_sum: Array
    arm_difference: Array
    sum_x: Array
    sum_y: Array
    difference_x: Array
    difference_y: Array
    weight: Array


class Pulled(NamedTuple):
    """What all belts together do under one load: moment [N m] and force on the motor [N]."""

    moment: Array
    force_x: Array
    force_y: Array


@dataclass(frozen=True)
class Statics:
    """The forces of layouts with one kind of adjuster.

    Parameters
    ----------
    scenario : Scenario
        The mount that the search starts from.
    space : SearchSpace
        What it may try.
    motion : Motion
        The layouts' linkage.
    """

    scenario: Scenario
    space: SearchSpace
    motion: Motion

    def cases(self) -> Iterator[Load]:
        """Rest, then running and starting for each rotation that the motor has."""
        yield Load("rest", in_motion=False, pulls=0.0, way=1.0)
        for way in self._ways():
            yield Load("running", in_motion=True, pulls=1.0, way=way)
            starting = self.scenario.driven.starting_factor
            yield Load("starting", in_motion=False, pulls=starting, way=way)

    def promised(self) -> Iterator[Load]:
        """The pulls up to which the grip is promised, where they are more than the cases'."""
        limits, factor = self.scenario.limits, self.scenario.driven.starting_factor
        for way in self._ways():
            if limits.grip > 1.0:
                yield Load("running", in_motion=True, pulls=limits.grip, way=way)
            if limits.starting_grip is not None and limits.starting_grip > 1.0:
                pulls = limits.starting_grip * factor
                yield Load("starting", in_motion=False, pulls=pulls, way=way)

    def _ways(self) -> tuple[float, ...]:
        if self.scenario.motor.reverses:
            return 1.0, -1.0
        return (1.0,) if self.scenario.motor.rotation is Rotation.CCW else (-1.0,)

    def plate_weight(self, layouts: Layouts) -> Array:
        """Weight of each plate [N]: the scenario's is that of the longest."""
        return self.scenario.plate.weight * layouts.plate_length / self.space.plate_length

    def weight_arms(self, layouts: Layouts) -> tuple[Array, Array]:
        """Sum of W times the place of its point from the hinge as drawn, x and y [N m].

        The plate's centre of mass is in the middle of its wood; the motor's keeps its place by the
        shaft. The sum turns with the plate as a point does.
        """
        motor, plate = self.scenario.motor, self.plate_weight(layouts)
        middle = 0.5 * layouts.plate_length * plate
        deep = self.space.plate_middle * plate
        beside = motor.center_of_mass[0] - motor.shaft[0], motor.center_of_mass[1] - motor.shaft[1]
        x = motor.weight * (layouts.motor_x - layouts.hinge_x + beside[0])
        y = motor.weight * (layouts.motor_y - layouts.hinge_y + beside[1])
        x += middle * layouts.along_x + deep * layouts.normal_x
        y += middle * layouts.along_y + deep * layouts.normal_y
        return x, y

    def weight_moment(self, layouts: Layouts, phi: Array) -> Array:
        """Sum of W dy/dphi: the weights' moment about the hinge [N m], clockwise positive."""
        return kernels.plate_point(phi, 0.0, 0.0, *self.weight_arms(layouts)).y_slope

    def strung(self, layouts: Layouts, drives: Drives, phi: Array) -> Strung:
        """The belts at plate angles."""
        path = self.motion.path(layouts, phi)
        strands = self.motion.strands(layouts, phi)
        on_motor, on_driven = wraps(strands.beta)
        share = np.minimum(
            slip_share(self.scenario.motor.traction, on_motor),
            slip_share(self.scenario.driven.traction, on_driven),
        )
        return Strung(
            elastic_tension(path.length, drives.length, drives.stiffness),
            share,
            strands.arm_plus + strands.arm_minus,
            strands.arm_plus - strands.arm_minus,
            strands.along_plus_x + strands.along_minus_x,
            strands.along_plus_y + strands.along_minus_y,
            strands.along_plus_x - strands.along_minus_x,
            strands.along_plus_y - strands.along_minus_y,
            self.weight_moment(layouts, phi),
        )

    def pulled(self, at: Strung, drives: Drives, load: Load) -> Pulled:
        """The belts under a load."""
        mean, half = self._felt(at, drives, load)
        return Pulled(
            mean * at.arm_sum + half * at.arm_difference,
            mean * at.sum_x + half * at.difference_x,
            mean * at.sum_y + half * at.difference_y,
        )

    def moment(self, at: Strung, drives: Drives, load: Load) -> Array:
        """The belts' moment under a load [N m], clockwise positive."""
        mean, half = self._felt(at, drives, load)
        return mean * at.arm_sum + half * at.arm_difference

    def _felt(self, at: Strung, drives: Drives, load: Load) -> tuple[Array, Array | float]:
        """Mean felt pull of a strand of all belts, and half the difference of both [N].

        A belt that is too slack for the load slips and pulls what it can.
        """
        mean = drives.count * at.tension
        if load.in_motion:
            mean = np.maximum(mean - drives.count * drives.centrifugal, 0.0)
        if load.pulls == 0:
            return mean, 0.0
        asked = 0.5 * load.pulls * drives.count * drives.pull
        return mean, load.way * np.minimum(asked, mean * at.share)

    def hinge(
        self, layouts: Layouts, pulled: Pulled, adjuster: AdjusterState, force: Array
    ) -> Array:
        """Size of the hinge's force [N]: what closes the plate's balance."""
        weight = self.scenario.motor.weight + self.plate_weight(layouts)
        x = pulled.force_x + force * adjuster.force_x
        y = pulled.force_y + force * adjuster.force_y - weight
        return np.sqrt(x * x + y * y)

    def share_of_limit(self, pulled: Pulled, load: Load) -> Array:
        """Load of the worse bearing over its limit [-]."""
        worst = np.zeros_like(pulled.force_x)
        for share, (fixed_x, fixed_y), limit in self._bearings[load.name]:
            x, y = fixed_x - share * pulled.force_x, fixed_y - share * pulled.force_y
            worst = np.maximum(worst, (x * x + y * y) / limit**2)
        return np.sqrt(worst)

    @cached_property
    def _bearings(self) -> dict[str, list[tuple[float, Array, float]]]:
        return {name: list(self._bearings_in(name)) for name in CASES}

    def _bearings_in(self, name: str) -> Iterator[tuple[float, Array, float]]:
        """Share of the pulley's load, load without the belts [N] and limit [N] of each bearing."""
        driven = self.scenario.driven
        places = [bearing.position for bearing in driven.bearings]
        of_pulley = bearing_loads([driven.pulley_position], [[1.0, 0.0]], *places)
        loads = [load for load in driven.loads if load.when is When.ALWAYS or name != "rest"]
        fixed = np.array([np.multiply(load.force, load.direction) for load in loads])
        others = bearing_loads([load.position for load in loads], fixed.reshape(-1, 2), *places)
        for bearing, share, other in zip(driven.bearings, of_pulley, others, strict=True):
            limit = bearing.starting_limit if name == "starting" else bearing.limit
            yield float(share[0]), other, limit
