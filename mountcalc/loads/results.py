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
    along the plate. ``at`` [m] is how far along the board, ``across`` [m] along the shafts, all
    at so many ``turns`` [-] from zero, None without an adjuster.
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
    turns: float | None = None

    @property
    def side(self) -> float:
        """Size of the side load [N]."""
        return math.hypot(self.along_plate, self.along_shafts)


class Stiffness(Record):
    """What gives way where loads are shared: infinite where it is taken as rigid.

    ``bending`` EI and ``twisting`` GJ [N m^2] of the plate, along it from the hinge; ``hinge`` and
    ``bolt`` [N/m] of each hinge and each bolt with what is under its tip. ``creep`` [-] is what the
    plate's first bend grows by in the end, in units of itself.
    """

    bending: float = math.inf
    twisting: float = math.inf
    hinge: float = math.inf
    bolt: float = math.inf
    creep: float = 0.0


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


class Mode(Record):
    """A natural frequency [Hz], infinite where a part is held rigidly.

    ``low`` and ``high`` are those of the softest and the stiffest belt; ``moves`` says by how many
    hundredths the frequency goes for a hundredth of what is named.
    """

    name: str
    frequency: float
    low: float
    high: float
    moves: dict[str, float]


class Shaker(Record):
    """Something that shakes the mount, at a ``frequency`` [Hz]."""

    name: str
    frequency: float


class Meeting(Record):
    """A shaker near so many ``times`` the natural frequency of a mode."""

    mode: str
    shaker: str
    times: int


class Ripple(Record):
    """How the bolt's force swings at a ``frequency`` [Hz] as the motor's torque does.

    ``torque`` [N m] and ``force`` [N] swing so far to both sides of their means; ``held`` [N] is
    the size of the bolt's force as it runs. A bolt that acts one way ``loses_contact`` where the
    swing takes off all of it.
    """

    frequency: float
    torque: float
    force: float
    held: float
    loses_contact: bool


class StartTransient(Record):
    """A bound while the rotor speeds up: the ``torque`` [N m] that its inertia takes at once.

    ``bolt`` [N] is then the axial force of all bolts, compression positive, and ``hinge`` [N] the
    size of the hinges' reaction; the plate ``lifts`` off a bolt that cannot carry that force.
    """

    torque: float
    bolt: float
    hinge: float
    lifts: bool


class Shaking(Record):
    """What shakes a mount as it runs.

    ``inertia`` [kg m^2] is that of motor and plate about the hinge.
    """

    inertia: float
    modes: tuple[Mode, ...]
    shakers: tuple[Shaker, ...]
    meetings: tuple[Meeting, ...]
    ripple: Ripple | None
    start: StartTransient | None
