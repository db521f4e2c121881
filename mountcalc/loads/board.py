"""The plate as a beam along its length: bending, shear, thrust and twist between its stations."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from mountcalc.loads.body import Array, Body, Force
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.results import SpaceLoads
from mountcalc.record import Record

HINGE, WEIGHT, BOLTS = "at the hinge", "at the plate's weight", "at the bolts"
FEET = ("at the first feet", "at the second feet")  # from the hinge


class Cut(NamedTuple):
    """What one side of a cut brings over: see `Beam`."""

    moment: float
    shear: float
    thrust: float
    twist: float


class Beam(Record):
    """All forces on the plate in its own axes, and the stations [m] that they act at.

    A cut carries what the part towards the hinge's end brings to it: ``moment`` [N m] about the
    middle of the thickness, hollow on the motor's face where positive, ``shear`` [N] out of the
    face, ``thrust`` [N] towards the far edge, ``twist`` [N m] about the line through the middle of
    the width.
    """

    body: Body
    forces: tuple[Force, ...]
    stations: dict[str, float]
    middle: float  # of the thickness, out of the face [m]

    def cut(self, place: float, *, beyond: bool) -> Cut:
        """Loads of a section just before or just beyond a place along the plate [m]."""
        along, loads = self._loads
        before = along <= place if beyond else along < place
        x, y, z, about_x, _, about_z = loads[before].sum(axis=0).tolist()
        moment = about_z - place * y + self.middle * x
        return Cut(-moment, y, x, about_x - self.middle * z)

    @cached_property
    def _loads(self) -> tuple[Array, Array]:
        """Where each force acts along the plate (k,), the force and its moment there (k, 6)."""
        along = np.array([one.at[0] for one in self.forces])
        return along, np.array([[*one.force, *one.about_hinge] for one in self.forces])

    def worst(self, place: float) -> Cut:
        """The greater of each on both sides of a place [m], with its sign."""
        sides = zip(self.cut(place, beyond=False), self.cut(place, beyond=True), strict=True)
        return Cut(*(max(pair, key=abs) for pair in sides))

    def deflection(self, place: float, bending: float) -> float:
        """How far the plate stands out of the straight line from hinge to bolts at a place [m].

        ``bending`` is its EI [N m^2]. Without a bolt it is out of the line that leaves the hinge
        as the plate does.
        """
        knots = np.unique([0.0, place, *self.stations.values()])
        level, slope = np.zeros(knots.size), np.zeros(knots.size)
        for number, (start, end) in enumerate(pairwise(knots.tolist())):
            # Between stations the moment is straight: integrated exactly.
            one, other = self.cut(start, beyond=True).moment, self.cut(end, beyond=False).moment
            step = end - start
            bent = (2.0 * one + other) * step**2 / (6.0 * bending)
            level[number + 1] = level[number] + slope[number] * step + bent
            slope[number + 1] = slope[number] + 0.5 * (one + other) * step / bending
        hinge, held = np.searchsorted(knots, [0.0, self.stations.get(BOLTS, 0.0)])
        line = slope[hinge]
        if held != hinge:
            line = (level[held] - level[hinge]) / knots[held]
        return float(level[np.searchsorted(knots, place)] - level[hinge] - line * place)


def beam_of(body: Body, loads: SpaceLoads, thickness: float) -> Beam:
    """The plate of a body under the loads of its hinges, bolts, feet and weight."""
    turned = body.turned
    places, feet = feet_forces(body)
    none = np.zeros(3)
    forces = [Force(at, force, none) for at, force in zip(places, feet, strict=True)]
    forces.append(body.board)
    for hinge in loads.hinges:
        own = body.own(hinge.force)
        couple = body.own(hinge.couple)
        forces.append(Force(np.array([0.0, 0.0, turned * hinge.across]), own, couple))
    for bolt in loads.bolts:
        at = np.array([*body.meets, turned * bolt.across])
        forces.append(Force(at, bolt.force * body.push, none))
    stations = {HINGE: 0.0, FEET[0]: places[0, 0], FEET[1]: places[2, 0]}
    if np.any(body.board.force):
        stations[WEIGHT] = body.board.at[0]
    if loads.bolts:
        stations[BOLTS] = body.meets[0]
    ordered = sorted(stations.items(), key=lambda one: one[1])
    return Beam(body, tuple(forces), {name: float(at) for name, at in ordered}, -0.5 * thickness)


def sections(beam: Beam) -> dict[str, tuple[float, Cut]]:
    """Every station with its place [m] and what the plate carries there."""
    return {name: (at, beam.worst(at)) for name, at in beam.stations.items()}
