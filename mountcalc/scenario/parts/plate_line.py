"""The line of the plate's face on which the motor stands, in the plane of the drawing.

The hinge's axis is taken to lie in that face, as it does with butt hinges whose leaves are let in:
what is known of the plate is then the way it runs from the hinge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from mountcalc.scenario.model import Adjuster, Motor, Plate, Scenario, Vector
from mountcalc.scenario.parts.model import Parts

__all__ = ["LineFrom", "PlateLine", "line_of_plate", "plate_line"]


class LineFrom(StrEnum):
    """What the plate's direction was taken from."""

    GIVEN = "plate.direction"
    FRAME = "motor.frame"
    GUIDE = "the adjuster's point or the plate's center of mass"
    SHAFT = "the motor's shaft"


@dataclass(frozen=True, slots=True)
class PlateLine:
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
    return line_of_plate(scenario.plate, scenario.motor, scenario.adjuster, scenario.parts)


def line_of_plate(plate: Plate, motor: Motor, adjuster: Adjuster, parts: Parts) -> PlateLine:
    """Return the line of the plate from the parts of a scenario; see `plate_line`."""
    to_shaft = _minus(motor.shaft, plate.hinge)
    guide = _guide(plate, adjuster)
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
