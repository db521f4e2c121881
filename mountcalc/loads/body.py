"""Motor and plate as free bodies in one load case: every force on them, and where it acts.

Axes are the board's own, right-handed: along the board from the hinge's axis, out of the face that
the motor stands on, and along the shafts, counted from the middle of the plate's width the way that
makes three right-handed axes of them (``turned`` is -1 where that is away from the pulley).
"""

from __future__ import annotations

import cmath
from collections.abc import Iterator
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import CaseSolution, SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.record import Record
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.text.writing import Vector
from mountcalc.structure.places import Places, places_of
from mountcalc.structure.yielding import Levers

Array = NDArray[np.float64]


def cross(arm: Array, force: Array) -> Array:
    """The moment of one force; numpy's own is many times slower for one."""
    (x, y, z), (a, b, c) = arm.tolist(), force.tolist()
    return np.array([y * c - z * b, z * a - x * c, x * b - y * a])


class Force(Record):
    """A ``force`` [N] (3,) that acts ``at`` a place [m] (3,), with a ``moment`` [N m] (3,)."""

    at: Array
    force: Array
    moment: Array

    @classmethod
    def of(cls, at: complex, shafts: float, force: complex, moment: float = 0.0) -> Force:
        """One in the plane of the drawing, its moment about the shafts' direction."""
        return cls(
            np.array([at.real, at.imag, shafts]),
            np.array([force.real, force.imag, 0.0]),
            np.array([0.0, 0.0, moment]),
        )

    @cached_property
    def about_hinge(self) -> Array:
        """Its moment about the hinge's axis and the middle of the width [N m], shape (3,)."""
        return cross(self.at, self.force) + self.moment


class Body(Record):
    """Motor and plate in one load case, the adjuster so many ``turns`` [-] from zero.

    ``belts`` and ``weight`` act on the motor, ``board`` is the plate's weight; ``bolts`` [N] is the
    axial force of all bolts together, compression positive, ``push`` (3,) the force on the plate
    for each newton of it, ``meets`` [m] where the bolts meet the plate along it and out of its
    face; ``hinges`` (3,) [N] is the sum of the pins' forces on the plate; ``shaft`` [m] the
    motor's shaft along the board and out of its face.
    """

    case: str
    turns: float | None
    plate_angle: float
    direction: float
    turned: int
    places: Places
    belts: Force
    weight: Force
    board: Force
    bolts: float
    push: Array
    meets: Vector
    hinges: Array
    shaft: Vector

    @property
    def leverage(self) -> float:
        """Moment about the hinge of a newton of the bolts [m]."""
        return float(self.meets[0] * self.push[1] - self.meets[1] * self.push[0])

    def levers(self, thickness: float) -> Levers:
        """Where its forces act on a plate of a thickness [m]."""
        push = float(self.push[0]), float(self.push[1])
        return Levers(self.shaft, self.meets, push, thickness, self.places)

    def own(self, vector: Vector) -> Array:
        """A vector of the drawing, x and y, in the board's axes."""
        there = complex(*vector) * cmath.rect(1.0, -self.direction)
        return np.array([there.real, self.turned * there.imag, 0.0])

    def in_plane(self, vector: Array) -> Vector:
        """A vector of the board's axes as one of the drawing, x and y."""
        own = complex(float(vector[0]), self.turned * float(vector[1]))
        there = own * cmath.rect(1.0, self.direction)
        return there.real, there.imag


def bodies(solved: SolvedMount, turns: float | None) -> Iterator[Body]:
    """Motor and plate in each load case that has a balance; without an adjuster at no turns."""
    cases = solved.cases(solved.place(0.0 if turns is None else turns), with_grip=False)
    for name, case in cases._asdict().items():
        if case.state[0] in (State.HELD, State.RIDING):
            yield _body(solved, name, case, turns)


def _body(solved: SolvedMount, name: str, case: CaseSolution, turns: float | None) -> Body:
    mount, scenario, demand = solved.mount, solved.mount.scenario, solved.demands[name]
    line, places, phi = plate_line(scenario), places_of(scenario), float(case.phi[0])
    hinge, unit = complex(*scenario.plate.hinge), cmath.rect(1.0, -(line.direction + phi))

    def own(vector: complex) -> complex:
        """A vector of the drawing in the board's axes."""
        there = vector * unit
        return there if line.side > 0 else there.conjugate()

    def on_board(point: Vector) -> complex:
        """A point of the plate as drawn, from the hinge's axis."""
        return own((complex(*point) - hinge) * cmath.rect(1.0, phi))

    def shafts(across: float) -> float:
        return line.side * across

    def weight(point: Vector, across: float, newtons: float) -> Force:
        return Force.of(on_board(point), shafts(across), own(-1j * newtons))

    at = solved.balance.at(np.array([phi]))
    tight, slack = (float(one[0]) for one in at.felt(demand))
    moment = -mount.count * (tight * at.pulls.tight_arm[0] + slack * at.pulls.slack_arm[0])
    belts = own(-complex(*case.shaft_force[0]))
    push, meets = 0j, 0j
    if at.adjuster is not None:
        state = at.adjuster
        push = own(complex(np.ravel(state.force_x)[0], np.ravel(state.force_y)[0]))
        meets = own(complex(np.ravel(state.at_x)[0], np.ravel(state.at_y)[0]) - hinge)
    hinges, shaft = own(complex(*case.hinge[0])), on_board(scenario.motor.shaft)
    motor, plate = scenario.motor, scenario.plate
    return Body(
        case=name,
        turns=turns if mount.has_adjuster else None,
        plate_angle=phi,
        direction=line.direction + phi,
        turned=line.side,
        places=places,
        belts=Force.of(0j, shafts(places.pulley), belts, line.side * float(moment)),
        weight=weight(motor.center_of_mass, places.motor, motor.weight),
        board=weight(plate.center_of_mass, places.plate, plate.weight),
        bolts=float(case.adjuster[0]),
        push=np.array([push.real, push.imag, 0.0]),
        meets=(meets.real, meets.imag),
        hinges=np.array([hinges.real, hinges.imag, 0.0]),
        shaft=(shaft.real, shaft.imag),
    )
