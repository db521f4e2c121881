"""Whether the base's board would stand where the motor on the plate does."""

from __future__ import annotations

import math

from mountcalc.drawing.motor_size import MotorSize, motor_size
from mountcalc.drawing.plate_frame import BoardFrame, plate_frame
from mountcalc.drawing.swing import Swing, turned
from mountcalc.scenario.model import Scenario, Vector

__all__ = ["meets_motor"]

_STEPS = 9


def meets_motor(
    scenario: Scenario, frame: BoardFrame, size: tuple[float, float], swing: Swing
) -> bool:
    """Whether feet or body of the motor come into a board behind the base's face.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.
    frame : BoardFrame
        The base's face.
    size : tuple of float [m]
        How far the board reaches from the hinge's axis, and its thickness.
    swing : Swing
        Install, snug and take-up are looked at.

    Returns
    -------
    bool
    """
    motor, hinge = motor_size(scenario), scenario.plate.hinge
    feet = _feet(scenario, motor)
    for angle in (swing.low, swing.snug, swing.high):
        if _off(frame, turned(scenario.motor.shaft, hinge, angle), size) < motor.body:
            return True
        if any(_off(frame, turned(foot, hinge, angle), size) < motor.foot_height for foot in feet):
            return True
    return False


def _feet(scenario: Scenario, motor: MotorSize) -> list[Vector]:
    """Points half a foot above the plate's face, under the motor."""
    plate = plate_frame(scenario)
    middle = plate.distance(scenario.motor.shaft)
    places = (
        middle + motor.half_feet * (2.0 * step / (_STEPS - 1) - 1.0) for step in range(_STEPS)
    )
    up = 0.5 * motor.foot_height
    return [
        (
            plate.hinge[0] + place * plate.along[0] + up * plate.normal[0],
            plate.hinge[1] + place * plate.along[1] + up * plate.normal[1],
        )
        for place in places
    ]


def _off(frame: BoardFrame, point: Vector, size: tuple[float, float]) -> float:
    """From a point to the board [m]; 0 inside it."""
    length, thickness = size
    along, height = frame.distance(point), frame.height(point)
    return math.hypot(
        max(-along, 0.0, along - length),
        max(height, 0.0, -thickness - height),
    )
