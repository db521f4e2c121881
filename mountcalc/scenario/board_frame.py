"""A board's own coordinates: along the board from the hinge's axis, and off its face."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.scenario.model import Scenario, Vector
from mountcalc.scenario.parts.plate_line import plate_line

__all__ = ["BoardFrame", "plate_frame"]


@dataclass(frozen=True, slots=True)
class BoardFrame:
    """A board through the hinge's axis, seen from where its normal points to, hinge at the bottom.

    Attributes
    ----------
    hinge : Vector [m]
        The axis, in the plane of the scenario's drawing.
    along, normal : Vector
        Unit vectors along the board away from the hinge, and out of its face to the viewer.
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
