"""The plate as drawn: the line of its face, a board's own coordinates, and how far guesses go."""

from __future__ import annotations

import math
from enum import StrEnum

from mountcalc.handbook.machine import MotorFrame
from mountcalc.handbook.rows import datum, load
from mountcalc.record import Record
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.parts import Hinges
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, Display, Vector
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
    GUIDE = "the adjuster's point or the plate's centre of mass"
    SHAFT = "the motor's shaft"


class BoardFrame(Record):
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


class PlateLine(BoardFrame):
    """The plate as drawn, seen from the side that the motor stands on: the face it stands on.

    ``direction`` [rad] is the way from the hinge along the face, ``shaft_height`` [m] the
    distance of the motor's shaft from it, ``side`` +1 where the motor is to the left of the
    direction and -1 where it is to the right, ``taken_from`` what it was found by.
    """

    direction: float
    shaft_height: float
    side: int
    taken_from: LineFrom


def plate_line(scenario: Scenario) -> PlateLine:
    """Return the line of the plate of a scenario.

    The direction is the one given; else, by the motor's frame, that of the tangent from the hinge
    to the circle about the motor's shaft whose radius is the shaft height with what packs it up.
    Of the two tangents the one nearer to the adjuster's point on the plate is taken, or to the
    plate's center of mass. Without a frame the way to that point is taken itself.
    """
    plate, shaft, parts = scenario.plate, scenario.motor.shaft, scenario.parts
    to_shaft = shaft[0] - plate.hinge[0], shaft[1] - plate.hinge[1]
    on_plate = (scenario.adjuster.plate_pin, scenario.adjuster.tip, plate.center_of_mass)
    guide = next((point for point in on_plate if point not in (None, plate.hinge)), None)
    towards = guide or shaft
    direction = math.atan2(towards[1] - plate.hinge[1], towards[0] - plate.hinge[0])
    taken_from = LineFrom.GUIDE if guide else LineFrom.SHAFT
    if parts.plate.direction is not None:
        direction, taken_from = parts.plate.direction, LineFrom.GIVEN
    elif parts.frame is not None:
        height, distance = parts.frame.shaft_height + parts.packing, math.hypot(*to_shaft)
        if distance > height:
            middle, half = math.atan2(to_shaft[1], to_shaft[0]), math.asin(height / distance)
            tangents, guess = (middle - half, middle + half), direction
            direction = min(tangents, key=lambda angle: abs(_turn(angle - guess)))
            taken_from = LineFrom.FRAME
    direction = _turn(direction)
    along = x, y = math.cos(direction), math.sin(direction)
    offset = x * to_shaft[1] - y * to_shaft[0]
    side = 1 if offset >= 0 else -1
    normal = -side * y, side * x
    return PlateLine(plate.hinge, along, normal, direction, abs(offset), side, taken_from)


def _turn(angle: float) -> float:
    """Return the angle between -pi and pi."""
    return math.remainder(angle, 2 * math.pi)


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


class DrawnPlate:
    """What is known of a scenario's plate and motor as drawn; lengths [m].

    ``line`` is along the plate from the hinge, and off the face that the motor stands on.
    """

    # Names of the plate's faces: the other one, and by True that of the motor.
    faces = ("the plate's back", "the face that the motor stands on")

    def __init__(self, scenario: Scenario) -> None:
        parts, adjuster, frame = scenario.parts, scenario.adjuster, scenario.parts.frame
        self.scenario, self.line = scenario, plate_line(scenario)
        # Whether the way of the plate is told, and not guessed from a point on it.
        self.is_known = self.line.taken_from in {LineFrom.GIVEN, LineFrom.FRAME}
        self.has_face = self.is_known or adjuster.kind is AdjusterKind.JACK_IN_BASE
        self.face_words = (
            "the plate's face" if self.is_known else "the line from the hinge to the bolt's tip"
        )
        # What else may be amiss where the plate's way was found by the motor's frame.
        is_given = self.line.taken_from is LineFrom.GIVEN
        self.or_direction = "" if is_given else ", or give plate.direction"
        # Where the board ends, from the hinge's pin; None where its length is not said.
        length, edge = parts.plate.length, hinge_edge(parts.hinges, scenario.display)
        self.end = None if length is None else length + edge
        given = parts.plate.thickness
        self.thickness = _THICKEST if given is None else given
        # Along the plate; off its face, and the part of the axis that goes out of it.
        self.shaft = self.line.distance(scenario.motor.shaft)
        self.tip_height = 0.0 if adjuster.tip is None else self.line.height(adjuster.tip)
        self.axis_slope = 0.0 if adjuster.axis is None else self.line.slope(adjuster.axis)[1]
        # The radius that the motor's body surely has; the most that its shaft may be packed up;
        # from under the shaft to the ends of the feet, square to it and along it.
        mass = scenario.motor.weight / STANDARD_GRAVITY
        self.body = math.cbrt(mass / (math.pi * _SLENDEREST * _DENSEST))
        self.half_feet, self.half_feet_along = self.body, None
        if frame is not None:
            self.body = least_body(frame)
            self.half_feet = 0.5 * frame.feet_across + frame.hole
            self.half_feet_along = 0.5 * max(frame.feet_along) + frame.hole
        self.highest = _TALLEST * self.body + _PACKED

    def write(self, length: float) -> str:
        """Write a length for a sentence."""
        return UNITS_TO_WRITE[self.scenario.display].show(length, "length")


def least_body(frame: MotorFrame) -> float:
    """Radius [m] that the body of a motor surely has."""
    return _LEANEST * frame.shaft_height
