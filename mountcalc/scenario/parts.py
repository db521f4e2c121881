"""The parts that are made or bought for the mount, as far as the scenario tells of them.

Nothing here bears on tension or loads: it is what the drawings are made from. Lengths are in
metres, and what the user does not say is None. Positions along the shafts count from the same
origin as those of the bearings.
"""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.handbook.frames import MotorFrame

__all__ = [
    "AlongShafts",
    "Base",
    "Guard",
    "Hinges",
    "Parts",
    "PlateBoard",
    "Screw",
]


@dataclass(frozen=True, slots=True)
class PlateBoard:
    """The board of the hinged plate.

    ``length`` [m] runs from the edge that has the hinge to the far one, ``width`` [m] along the
    hinge's line, ``thickness`` [m] is that of all ``layers`` together. ``direction`` [rad] is the
    way the plate runs from the hinge as drawn, where the user says; `plate_line` has it always.
    """

    length: float | None = None
    width: float | None = None
    thickness: float | None = None
    layers: int | None = None
    material: str | None = None
    direction: float | None = None


@dataclass(frozen=True, slots=True)
class Screw:
    """A wood screw or machine screw: as written, ``diameter`` [m], ``length`` [m] where given."""

    name: str
    diameter: float
    length: float | None


@dataclass(frozen=True, slots=True)
class Hinges:
    """The hinges, all ``number`` of them alike.

    ``leaf_length`` [m] is along the hinge's line, ``leaf_width`` [m] that of one leaf from the
    pin's axis, ``knuckle_diameter`` [m] outside, ``mortise_depth`` [m] how deep a leaf is let in.
    """

    leaf_length: float | None = None
    leaf_width: float | None = None
    leaf_thickness: float | None = None
    knuckle_diameter: float | None = None
    number: int | None = None
    screw: Screw | None = None
    screws_per_leaf: int | None = None
    mortise_depth: float | None = None


@dataclass(frozen=True, slots=True)
class Guard:
    """The guard's panel and the strip that is bent around it; all lengths [m].

    ``clearance`` is kept around belt and pulleys, ``slot_clearance`` around the motor's shaft,
    ``bearing_opening`` is the diameter of the hole for a bearing that the panel meets, ``kerf`` the
    width of a saw cut, ``position`` that of the panel's middle along the shafts.
    """

    clearance: float | None = None
    slot_clearance: float | None = None
    bearing_opening: float | None = None
    thickness: float | None = None
    kerf: float | None = None
    strip_width: float | None = None
    position: float | None = None


@dataclass(frozen=True, slots=True)
class Base:
    """What carries the hinge.

    ``floor`` [m] is the y of the floor in the drawing's plane, ``direction`` [rad] the way in which
    the face that carries the leaves runs from the hinge's axis, ``thickness`` [m] that of the board
    behind it.
    """

    floor: float | None = None
    direction: float | None = None
    thickness: float | None = None


@dataclass(frozen=True, slots=True)
class AlongShafts:
    """Where things are along the shafts; all [m].

    ``motor_pulley`` is the middle of the motor's pulley (that of the driven one is
    ``Driven.pulley_position``), ``motor_face`` the shoulder of the motor's shaft, from which the
    shaft sticks out; ``driven_shaft_end`` the driven shaft's end on the pulley's side.
    """

    motor_pulley: float | None = None
    motor_pulley_width: float | None = None
    motor_face: float | None = None
    driven_pulley_width: float | None = None
    driven_shaft_end: float | None = None


@dataclass(frozen=True, slots=True)
class Parts:
    """All parts; a table that the scenario does not have is one in which nothing is said.

    ``packing`` [m] is the thickness of what lies between the plate and the motor's feet.
    """

    plate: PlateBoard = PlateBoard()
    hinges: Hinges = Hinges()
    guard: Guard = Guard()
    base: Base = Base()
    along: AlongShafts = AlongShafts()
    frame: MotorFrame | None = None
    packing: float = 0.0
