"""What each part of a mount carries, along the shafts too: immutable, SI units.

A board's own axes are ``along`` it, from the hinge's axis to the far edge, ``out`` of the face that
the leaf or the motor is on, and ``across``: along the shafts, from the middle of the plate's width,
positive towards the motor's pulley.
"""

from __future__ import annotations

import math
from enum import StrEnum

from mountcalc.record import Record
from mountcalc.scenario.text.writing import Vector


class Wood(StrEnum):
    """Whose wood a load is on."""

    PLATE = "plate"
    BASE = "base"


class Part(StrEnum):
    """What carries a load, or brings it into the wood."""

    PLATE = "plate"
    HINGE = "hinge"
    SCREW = "screw"
    BOLT = "bolt"
    FOOT = "foot"


class PartLoad(Record):
    """What one part brings into the wood in one load case.

    ``name`` tells it from its like: "hinge 1" (of leaves the pin's force), "hinge 1 screw 2",
    "bolt 1", "foot 3", and of the plate itself the station, such as "at the bolts". ``out`` [N] is
    square to the face, above zero where something is pulled away from it; of a screw its
    withdrawal, of a bolt its axial force, compression positive, of the plate the shear force.
    ``along_plate`` and ``along_shafts`` [N] are the side load, the former along the board that it
    is ``on``; of the plate the thrust in it, compression positive. ``moment`` [N m] bends the plate
    about the hinge's direction, hollow on the motor's face where positive; of a bolt that which its
    side load makes where it stands out of its nut. ``twist`` [N m] is about the line from the hinge
    along the plate. ``at`` [m] is how far along the board, ``across`` [m] along the shafts.
    """

    part: Part
    name: str
    case: str
    out: float
    along_plate: float = 0.0
    along_shafts: float = 0.0
    moment: float = 0.0
    twist: float = 0.0
    on: Wood = Wood.PLATE
    at: float = 0.0
    across: float = 0.0

    @property
    def side(self) -> float:
        """Size of the side load [N]."""
        return math.hypot(self.along_plate, self.along_shafts)


class Stiffness(Record):
    """What gives way where loads are shared: infinite where it is taken as rigid.

    ``bending`` EI and ``twisting`` GJ [N m^2] of the plate, along it from the hinge; ``hinge`` and
    ``bolt`` [N/m] of each hinge and each bolt with what is under its tip.
    """

    bending: float = math.inf
    twisting: float = math.inf
    hinge: float = math.inf
    bolt: float = math.inf


RIGID = Stiffness()


class HingeForce(Record):
    """The pin's force on the plate at one hinge: ``force`` [N] in the plane of the drawing.

    ``couple`` [N m] is what a single hinge has to hold besides, about x and y: with two hinges or
    more their forces do.
    """

    across: float
    force: Vector
    couple: Vector


class BoltForce(Record):
    """The axial ``force`` [N] of one bolt, compression positive."""

    across: float
    force: float


class SpaceLoads(Record):
    """One load case in three dimensions, at a plate angle [rad].

    ``tilt`` [rad] is the rotation of the motor, and so of its pulley, about the line ``along`` the
    plate and about the one ``out`` of it; 0 where all is rigid. ``loose`` says that one of two
    bolts that can only push, or only pull, carries nothing.
    """

    case: str
    plate_angle: float
    hinges: tuple[HingeForce, ...]
    bolts: tuple[BoltForce, ...]
    tilt_along: float
    tilt_out: float
    loose: bool = False

    @property
    def tilt(self) -> float:
        """Angle of the motor's shaft to where it would be without loads [rad]."""
        return math.hypot(self.tilt_along, self.tilt_out)


class Racking(Record):
    """What the difference between two bolts does, in radians and newtons per metre of it.

    ``plate`` [rad/m] is the twist of the plate at the bolts, ``pulley`` [rad/m] the tilt of the
    pulley, ``force`` [N/m] what the bolt that is further out gains and the other loses, infinite
    where nothing gives.
    """

    plate: float
    pulley: float
    force: float
