"""The motor's body and feet in the plane of the drawing: estimates, whatever the scenario says."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.build import Build, once
from mountcalc.layout import skeleton_of

__all__ = ["MotorSize", "motor_size"]

_FOOT_SHARE = 0.12  # of the shaft height, where the frame is known (estimate)
_FOOT = 0.005  # [m] where it is not (estimate)
_EDGE = 2.0  # diameters of a foot's hole from its middle to the foot's end (estimate)


@dataclass(frozen=True, slots=True)
class MotorSize:
    """Sizes [m].

    Attributes
    ----------
    body : float
        Radius of the body about the shaft.
    half_feet : float
        From under the shaft to the end of the feet, along the plate.
    foot_height : float
        How far the feet stand out from what they stand on.
    """

    body: float
    half_feet: float
    foot_height: float


@once
def motor_size(build: Build) -> MotorSize:
    """The size of a scenario's motor."""
    frame = build.scenario.parts.frame
    if frame is None:
        body = skeleton_of(build.scenario).body_radius
        return MotorSize(body, body, _FOOT)
    half_feet = 0.5 * frame.feet_across + _EDGE * frame.hole
    return MotorSize(frame.body_radius, half_feet, _FOOT_SHARE * frame.shaft_height)
