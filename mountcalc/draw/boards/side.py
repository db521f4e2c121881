"""The plate's board seen from its edge, in the plane of the drawing."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.boards.plate_adjuster import meeting_on_plate
from mountcalc.draw.boards.sizes import HingeSizes, TemplateSizes, template_size
from mountcalc.draw.build import Build, once, turned
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import Vector

__all__ = ["BoardSide", "board_side"]


@dataclass(frozen=True, slots=True)
class BoardSide:
    """The board [m], as drawn; the motor stands on its face, in the line of the hinge pin.

    Attributes
    ----------
    frame : BoardFrame
        The motor's face, through the pin.
    edge : float [m]
        From the pin to the board's near edge.
    length : float [m]
        From the pin to the board's far edge.
    thickness : float [m]
    notes : tuple of str
        What was taken because the scenario does not say.
    """

    frame: BoardFrame
    edge: float
    length: float
    thickness: float
    notes: tuple[str, ...]

    def at(self, along: float, off: float, plate_angle: float) -> Vector:
        """A point of the board."""
        way, out, hinge = self.frame.along, self.frame.normal, self.frame.hinge
        point = (
            hinge[0] + along * way[0] + off * out[0],
            hinge[1] + along * way[1] + off * out[1],
        )
        return turned(point, hinge, plate_angle)

    def corners(self, plate_angle: float) -> tuple[Vector, ...]:
        """The board's outline at a plate angle [rad]."""
        places = (
            (self.edge, 0.0),
            (self.length, 0.0),
            (self.length, -self.thickness),
            (self.edge, -self.thickness),
        )
        return tuple(self.at(along, off, plate_angle) for along, off in places)


@once
def board_side(build: Build) -> BoardSide:
    """The board of a scenario."""
    sizes, frame = TemplateSizes(build.scenario), build.frame
    hinges, given = sizes.hinges(), build.scenario.parts.plate
    thickness = sizes.length(given.thickness, "thickness", "plate.thickness")
    wanted = ("plate.", "hinge.knuckle_diameter")
    notes = [note for note in sizes.notes if note.startswith(wanted)]
    if given.length is not None:
        length = hinges.edge + given.length
    else:
        beyond = template_size(build.scenario, "length_beyond").value
        length = _furthest(build, frame, hinges) + beyond
        notes.append("plate.length is not given: drawn long enough for what stands on it.")
    return BoardSide(frame, hinges.edge, length, thickness, tuple(notes))


def _furthest(build: Build, frame: BoardFrame, hinges: HingeSizes) -> float:
    """The end of what stands on the board, from the pin [m]."""
    shaft = frame.distance(build.scenario.motor.shaft)
    ends = [hinges.edge + hinges.leaf_width, shaft]
    motor = build.scenario.parts.frame
    if motor is not None:
        ends.append(shaft + 0.5 * (motor.feet_across + motor.hole))
    meeting = meeting_on_plate(build)
    if meeting is not None:
        ends.append(meeting.high)
    return max(ends)
