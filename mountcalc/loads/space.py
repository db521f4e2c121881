"""What the plane says of hinge and bolt, shared out along the shafts.

With two hinges and one bolt statics decides all of it. Two bolts leave one force open: how much of
the twist they hold back, and how much the hinges. There the plate is a bar along its length that is
twisted, its hinged end turned by the give of the hinges, and the bolts give as springs; where
nothing is known to give, hinges and bolts count as alike on a rigid plate. More than two hinges on
one line share as alike springs under a rigid edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from mountcalc.loads.body import Array, Body, Force
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.results import BoltForce, HingeForce, Racking, SpaceLoads, Stiffness
from mountcalc.record import Record
from mountcalc.scenario.model import Acts

_PAIR = 2


class Twist(Record):
    """How the plate of a body gives when it is twisted about its length.

    ``shafts`` [m] are the bolts' places in the body's axes, ``hinge`` [rad/(N m)] the give of the
    hinges, ``plate`` [rad/(N m) per m] that of the plate, ``bolt`` [m/N] that of each bolt.
    """

    body: Body
    shafts: tuple[float, ...]
    hinge: float
    plate: float
    bolt: float

    @classmethod
    def of(cls, body: Body, stiffness: Stiffness, leaf_length: float) -> Twist:
        """That of a body whose hinges have leaves of a length [m]."""
        places, spread = body.places, _spread(body.places.hinges, leaf_length)
        shafts = tuple(body.turned * one for one in places.bolts)
        gives = 1 / (stiffness.hinge * spread), 1 / stiffness.twisting, 1 / stiffness.bolt
        if len(shafts) == _PAIR and not any(gives):
            gives = 1 / spread, 0.0, 1.0
        return cls(body, shafts, *gives)

    @property
    def feet(self) -> tuple[float, float]:
        """Where the motor's two rows of feet are along the plate [m]: it turns as their mean."""
        shaft, half = self.body.shaft[0], self.body.places.feet[1]
        return shaft - half, shaft + half

    @property
    def bolts(self) -> tuple[float]:
        """Where the bolts meet it along the plate [m]."""
        return (self.body.meets[0],)

    def between(self, ones: Sequence[float], others: Sequence[float]) -> float:
        """Mean rotation [rad/(N m)] of places along the plate [m] by a torque spread on others."""
        shared = [min(abs(one), abs(other)) for one in ones for other in others if one * other > 0]
        return self.hinge + self.plate * sum(shared) / (len(ones) * len(others))

    @property
    def apart(self) -> float:
        """Torque on the plate [m] for a newton more on the first bolt and one less on the other."""
        return -float(self.body.push[1]) * (self.shafts[0] - self.shafts[1])

    @property
    def against(self) -> float:
        """What a newton from one bolt to the other takes as difference in length [m/N]."""
        return self.apart**2 * self.between(self.bolts, self.bolts) + 2.0 * self.bolt

    def turned_at(self, places: Sequence[float], shifted: float) -> float:
        """Mean rotation [rad] of places along the plate, so many newtons on the first bolt."""
        body = self.body
        middle = sum(self.shafts) / max(len(self.shafts), 1)
        of_bolts = -float(body.push[1]) * body.bolts * middle
        if len(self.shafts) == _PAIR:
            of_bolts += self.apart * shifted
        own = sum(torque * self.between((place,), places) for place, torque in _torques(body))
        return own + of_bolts * self.between(self.bolts, places)


def _torques(body: Body) -> Iterator[tuple[float, float]]:
    """Where feet and weight twist the plate along it [m], and by how much [N m]."""
    for at, force in zip(*feet_forces(body), strict=True):
        yield float(at[0]), -float(at[2] * force[1])
    yield float(body.board.at[0]), float(body.board.about_hinge[0])


def _spread(hinges: tuple[float, ...], leaf_length: float) -> float:
    """Sum of squares of the hinges' distances from their middle; of one, over its leaf [m^2]."""
    if len(hinges) == 1:
        return leaf_length**2 / 12.0
    return float(np.var(hinges)) * len(hinges)


def share_out(
    body: Body, stiffness: Stiffness, leaf_length: float, acts: Acts | None, ahead: float = 0.0
) -> SpaceLoads:
    """The forces of each hinge and each bolt.

    ``ahead`` [m] is how much further the first of two bolts is out than the other.
    """
    twist = Twist.of(body, stiffness, leaf_length)
    shares, shifted, loose = [body.bolts] * len(twist.shafts), 0.0, False
    if len(twist.shafts) == _PAIR:
        shifted = (ahead - twist.apart * twist.turned_at(twist.bolts, 0.0)) / twist.against
        half = 0.5 * body.bolts
        if acts is not Acts.BOTH and abs(shifted) >= abs(half):
            shifted, loose = math.copysign(half, shifted), body.bolts != 0
        shares = [half + shifted, half - shifted]
    bolts = [
        Force.of(complex(*body.meets), shafts, force * complex(body.push[0], body.push[1]))
        for shafts, force in zip(twist.shafts, shares, strict=True)
    ]
    others = [body.belts, body.weight, body.board, *bolts]
    wanted = -sum((one.at[2] * one.force for one in others), np.zeros(3))
    hinges, couple = _hinges(body, wanted)
    spread = _spread(body.places.hinges, leaf_length)
    about_out = float(sum(one.at[2] * one.force[0] for one in others))
    return SpaceLoads(
        case=body.case,
        plate_angle=body.plate_angle,
        hinges=tuple(
            HingeForce(across, body.in_plane(force), body.in_plane(couple))
            for across, force in zip(body.places.hinges, hinges, strict=True)
        ),
        bolts=tuple(
            BoltForce(across, force)
            for across, force in zip(body.places.bolts, shares, strict=True)
        ),
        tilt_along=twist.turned_at(twist.feet, shifted),
        tilt_out=about_out / (stiffness.hinge * spread),
        loose=loose,
    )


def _hinges(body: Body, wanted: Array) -> tuple[Array, Array]:
    """Force of each pin [N] (k, 3), and the couple [N m] (3,) that a single one holds besides.

    ``wanted`` [N m] is the sum of their forces times their places along the shafts.
    """
    shafts = body.turned * np.array(body.places.hinges)
    middle, off = float(np.mean(shafts)), shafts - np.mean(shafts)
    left = wanted - middle * body.hinges
    if shafts.size == 1:
        return body.hinges[np.newaxis], np.array([-left[1], left[0], 0.0])
    shares = body.hinges / shafts.size + np.outer(off, left) / np.sum(off**2)
    return shares, np.zeros(3)


def racking(body: Body, stiffness: Stiffness, leaf_length: float) -> Racking | None:
    """What a difference between two bolts does; None where there is one."""
    twist = Twist.of(body, stiffness, leaf_length)
    if len(twist.shafts) != _PAIR:
        return None
    is_rigid = stiffness == Stiffness()
    if is_rigid:
        # As the limit of a plate that gives alone: it turns with its bolts.
        twist = Twist(body, twist.shafts, 0.0, 1.0, 0.0)
    share = abs(twist.apart) / twist.against
    return Racking(
        plate=share * twist.between(twist.bolts, twist.bolts),
        pulley=share * twist.between(twist.bolts, twist.feet),
        force=math.inf if is_rigid else 1.0 / twist.against,
    )
