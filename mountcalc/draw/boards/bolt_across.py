"""Where the adjuster stands across the boards, along the hinge's line."""

from __future__ import annotations

from mountcalc.draw.boards.plate_adjuster import Meeting
from mountcalc.draw.build import Build
from mountcalc.draw.motor_size import motor_size
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import BoardFrame

__all__ = ["across_words", "drills_into_motor", "place_across"]


def place_across(build: Build, frame: BoardFrame, width: float) -> float:
    """How far the adjuster is from the left edge of a board."""
    return 0.5 * width + frame.pulley_side * (build.scenario.adjuster.across or 0.0)


def across_words(build: Build) -> str:
    """Say where the adjuster stands across plate and base."""
    across = build.scenario.adjuster.across
    if across is None:
        return (
            "The adjuster is drawn in the middle of the plate's width (estimate; adjuster.across "
            "would say where it stands)."
        )
    if across == 0:
        return "The adjuster stands in the middle of the plate's width."
    way = "towards the pulley's end" if across > 0 else "away from the pulley's end"
    return (
        f"The adjuster stands {bench_length(abs(across), build.display)} from the middle of the "
        f"plate's width, {way} of the motor's shaft."
    )


def drills_into_motor(build: Build, meeting: Meeting | None) -> bool:
    """Whether a bolt's hole in the plate would come out under the motor."""
    if meeting is None or meeting.kind != "hole":
        return False
    motor, frame, across = (
        motor_size(build),
        build.scenario.parts.frame,
        build.scenario.adjuster.across,
    )
    shaft = build.frame.distance(build.scenario.motor.shaft)
    if abs(meeting.at - shaft) >= max(motor.half_feet, motor.body) + 0.5 * (meeting.diameter or 0):
        return False
    if frame is None:
        return across is None
    # Counted from the middle of the feet, towards the pulley's end of the shaft.
    front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
    return front - frame.body_length < (across or 0.0) < front
