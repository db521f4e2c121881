"""What is known of plate and motor as they are drawn, and how far guesses go where it is not."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.scenario.board_frame import BoardFrame, plate_frame
from mountcalc.scenario.model import Scenario, Vector
from mountcalc.scenario.parts.hinge_edge import hinge_edge
from mountcalc.scenario.parts.model import MotorFrame
from mountcalc.scenario.parts.plate_line import LineFrom, PlateLine, plate_line
from mountcalc.units import STANDARD_GRAVITY

__all__ = ["DrawnPlate", "drawn_plate", "least_body"]

# Estimates, on the side on which a good mount is never blamed.
_DENSEST = 6000.0  # [kg/m^3] a motor as a whole: iron, copper and air
_SLENDEREST = 4.0  # length of a motor's body over its radius
_LEANEST = 0.75  # radius of a motor's body over the shaft height of its frame
_TALLEST = 4.0  # shaft height over the radius that the body surely has
_PACKED = 0.15  # [m] under the feet
_THICKEST = 0.075  # [m] of a plate of which nothing is said


@dataclass(frozen=True, slots=True)
class DrawnPlate:
    """Plate and motor as drawn; lengths [m].

    Attributes
    ----------
    scenario : Scenario
    line : PlateLine
    frame : BoardFrame
        Along the plate from the hinge, and off the face that the motor stands on.
    """

    scenario: Scenario
    line: PlateLine
    frame: BoardFrame

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
