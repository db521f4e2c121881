"""The plate as drawn: the line of its face, a board's own coordinates, and how far guesses go."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from mountcalc.handbook.frames import MotorFrame
from mountcalc.handbook.rows import datum, load
from mountcalc.scenario.model import Adjuster, Display, Plate, Scenario, Vector
from mountcalc.scenario.parts import Hinges
from mountcalc.scenario.text.writing import Notes
from mountcalc.units import STANDARD_GRAVITY

# Estimates, on the side on which a good mount is never blamed.
_DENSEST = 6000.0  # [kg/m^3] a motor as a whole: iron, copper and air
_SLENDEREST = 4.0  # length of a motor's body over its radius
_LEANEST = 0.75  # radius of a motor's body over the shaft height of its frame
_TALLEST = 4.0  # shaft height over the radius that the body surely has
_PACKED = 0.15  # [m] under the feet
_THICKEST = 0.075  # [m] of a plate of which nothing is said


class LineFrom(StrEnum):
    """What the plate's direction was taken from."""

    GIVEN = "plate.direction"
    FRAME = "motor.frame"
    GUIDE = "the adjuster's point or the plate's center of mass"
    SHAFT = "the motor's shaft"


class PlateLine(NamedTuple):
    """The face of the plate that the motor stands on, as drawn.

    ``direction`` [rad] is the way from the hinge along the face, ``shaft_height`` [m] the
    distance of the motor's shaft from it, ``side`` +1 where the motor is to the left of the
    direction and -1 where it is to the right, ``taken_from`` what it was found by.
    """

    direction: float
    shaft_height: float
    side: int
    taken_from: LineFrom

    @property
    def along(self) -> Vector:
        """Unit vector along the face, away from the hinge."""
        return math.cos(self.direction), math.sin(self.direction)

    @property
    def towards_motor(self) -> Vector:
        """Unit vector square to the face, on the motor's side."""
        x, y = self.along
        return -self.side * y, self.side * x


def plate_line(scenario: Scenario) -> PlateLine:
    """Return the line of the plate of a scenario.

    The direction is the one given; else, by the motor's frame, that of the tangent from the hinge
    to the circle about the motor's shaft whose radius is the shaft height with what packs it up.
    Of the two tangents the one nearer to the adjuster's point on the plate is taken, or to the
    plate's center of mass. Without a frame the way to that point is taken itself.
    """
    plate, motor, parts = scenario.plate, scenario.motor, scenario.parts
    to_shaft = _minus(motor.shaft, plate.hinge)
    guide = _guide(plate, scenario.adjuster)
    if parts.plate.direction is not None:
        return _line(parts.plate.direction, to_shaft, LineFrom.GIVEN)
    towards = _minus(guide or motor.shaft, plate.hinge)
    direction = math.atan2(towards[1], towards[0])
    if parts.frame is not None:
        height = parts.frame.shaft_height + parts.packing
        tangents = _tangents(to_shaft, height)
        if tangents:
            nearest = min(tangents, key=lambda angle: abs(_turn(angle - direction)))
            return _line(nearest, to_shaft, LineFrom.FRAME)
    return _line(direction, to_shaft, LineFrom.GUIDE if guide else LineFrom.SHAFT)


def _guide(plate: Plate, adjuster: Adjuster) -> Vector | None:
    """The point of the adjuster, or the plate's center of mass; None where both are the hinge."""
    for point in (adjuster.plate_pin, adjuster.tip, plate.center_of_mass):
        if point is not None and point != plate.hinge:
            return point
    return None


def _tangents(to_shaft: Vector, height: float) -> tuple[float, ...]:
    """Directions of the tangents from the hinge [rad]; none where it is inside the circle."""
    distance = math.hypot(*to_shaft)
    if distance <= height:
        return ()
    middle, half = math.atan2(to_shaft[1], to_shaft[0]), math.asin(height / distance)
    return middle - half, middle + half


def _line(direction: float, to_shaft: Vector, taken_from: LineFrom) -> PlateLine:
    offset = math.cos(direction) * to_shaft[1] - math.sin(direction) * to_shaft[0]
    return PlateLine(_turn(direction), abs(offset), 1 if offset >= 0 else -1, taken_from)


def _minus(point: Vector, other: Vector) -> Vector:
    return point[0] - other[0], point[1] - other[1]


def _turn(angle: float) -> float:
    """Return the angle between -pi and pi."""
    return math.remainder(angle, 2 * math.pi)


@dataclass(frozen=True, slots=True)
class BoardFrame:
    """A board through the ``hinge``'s axis [m], seen from where its normal points to.

    ``along`` and ``normal`` are unit vectors along the board away from the hinge, which is at the
    bottom, and out of its face to the viewer.
    """

    hinge: Vector
    along: Vector
    normal: Vector

    def distance(self, point: Vector) -> float:
        """How far a point is along the board from the hinge's axis [m]."""
        return _dot((point[0] - self.hinge[0], point[1] - self.hinge[1]), self.along)

    def height(self, point: Vector) -> float:
        """How far a point stands off the face towards the viewer [m]."""
        return _dot((point[0] - self.hinge[0], point[1] - self.hinge[1]), self.normal)

    def slope(self, direction: float) -> tuple[float, float]:
        """Shares of a direction [rad] along the board and out of its face."""
        unit = (math.cos(direction), math.sin(direction))
        return _dot(unit, self.along), _dot(unit, self.normal)

    @property
    def pulley_side(self) -> int:
        """+1 where the motor's pulley is to the right for the viewer, -1 to the left.

        In the plane of the scenario's drawing the pulleys face the viewer: with the board upright
        and its face to the left, they are seen on the right of the face.
        """
        turn = self.along[0] * self.normal[1] - self.along[1] * self.normal[0]
        return 1 if turn >= 0 else -1


def plate_frame(scenario: Scenario) -> BoardFrame:
    """The plate, seen from the side that the motor stands on."""
    line = plate_line(scenario)
    return BoardFrame(scenario.plate.hinge, line.along, line.towards_motor)


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1]


def hinge_edge(hinges: Hinges, display: Display) -> float:
    """From the pin's axis to a board's edge [m]: half of the knuckle."""
    knuckle = hinges.knuckle_diameter
    if knuckle is None:
        knuckle = datum(
            "templates", load("templates")["default"][display]["knuckle_diameter"]
        ).value
    return 0.5 * knuckle


class DrawnPlate(NamedTuple):
    """Plate and motor as drawn; lengths [m].

    ``frame`` is along the plate from the hinge, and off the face that the motor stands on.
    """

    scenario: Scenario
    line: PlateLine
    frame: BoardFrame

    def write(self, length: float) -> str:
        """Write a length for a sentence."""
        return Notes(self.scenario.display).show(length, "length")

    @property
    def is_known(self) -> bool:
        """Whether the way of the plate is told, and not guessed from a point on it."""
        return self.line.taken_from in {LineFrom.GIVEN, LineFrom.FRAME}

    @property
    def end(self) -> float | None:
        """Where the board ends, from the hinge's pin; None where its length is not said."""
        length = self.scenario.parts.plate.length
        edge = hinge_edge(self.scenario.parts.hinges, self.scenario.display)
        return None if length is None else length + edge

    @property
    def thickness(self) -> float:
        """Of the plate, or the most that one is taken to have."""
        given = self.scenario.parts.plate.thickness
        return _THICKEST if given is None else given

    @property
    def shaft(self) -> float:
        """Where the motor's shaft is along the plate."""
        return self.frame.distance(self.scenario.motor.shaft)

    @property
    def body(self) -> float:
        """Radius that the motor's body surely has."""
        frame = self.scenario.parts.frame
        if frame is not None:
            return least_body(frame)
        mass = self.scenario.motor.weight / STANDARD_GRAVITY
        return math.cbrt(mass / (math.pi * _SLENDEREST * _DENSEST))

    @property
    def highest(self) -> float:
        """Shaft height that a motor of no known frame has at most, with what packs it up."""
        return _TALLEST * self.body + _PACKED

    @property
    def half_feet(self) -> float:
        """From under the shaft to the end of the feet, square to the shaft; at least."""
        frame = self.scenario.parts.frame
        return self.body if frame is None else 0.5 * frame.feet_across + frame.hole

    @property
    def half_feet_along(self) -> float | None:
        """From the middle of the feet to their ends along the shaft; None without a frame."""
        frame = self.scenario.parts.frame
        return None if frame is None else 0.5 * max(frame.feet_along) + frame.hole

    def past_shaft(self, point: Vector, direction: float) -> float:
        """How far a line through a point in a direction [rad] passes the motor's shaft."""
        x, y = point[0] - self.scenario.motor.shaft[0], point[1] - self.scenario.motor.shaft[1]
        return abs(x * math.sin(direction) - y * math.cos(direction))


def drawn_plate(scenario: Scenario) -> DrawnPlate:
    """Return what is known of a scenario's plate and motor."""
    return DrawnPlate(scenario, plate_line(scenario), plate_frame(scenario))


def least_body(frame: MotorFrame) -> float:
    """Radius [m] that the body of a motor surely has."""
    return _LEANEST * frame.shaft_height
