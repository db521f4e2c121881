"""The guard's panel as a shape in the mount's plane: outline, slot, opening, fixing holes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drafting.model import Arc, Circle, Ink, Point
from mountcalc.draw.guard.disc_hull import Disc, Outline, disc_family, hull
from mountcalc.draw.guard.openings.driven import DrivenOpening, driven_opening
from mountcalc.draw.guard.sizes import GuardSizes, guard_sizes, made
from mountcalc.draw.swing import Swing, swing_of, turned
from mountcalc.scenario.model import Scenario

__all__ = ["GuardShape", "Slot", "guard_shape"]


@dataclass(frozen=True, slots=True)
class Slot:
    """The slot in which the motor's shaft moves, about the hinge.

    Attributes
    ----------
    hinge : Point [m]
        The arc's centre.
    radius : float [m]
        From the hinge to the motor's shaft.
    half_width : float [m]
    start, end : float [rad]
        Directions from the hinge to the shaft at both ends, counter-clockwise.
    """

    hinge: Point
    radius: float
    half_width: float
    start: float
    end: float

    @property
    def length(self) -> float:
        """Over its round ends [m]."""
        return self.radius * (self.end - self.start) + 2.0 * self.half_width

    def at(self, direction: float) -> Point:
        """Where the shaft's axis is in a direction [rad] from the hinge [m]."""
        return (
            self.hinge[0] + self.radius * math.cos(direction),
            self.hinge[1] + self.radius * math.sin(direction),
        )

    def items(self, ink: Ink) -> tuple[Arc | Circle, ...]:
        """The slot as it is cut: two arcs about the hinge, and half a circle at each end."""
        half, start, end = self.half_width, self.start, self.end
        if self.radius <= half:
            return (Circle(self.hinge, self.radius + half, ink),)
        return (
            Arc(self.hinge, self.radius + half, start, end, ink),
            Arc(self.at(end), half, end, end + math.pi, ink),
            Arc(self.hinge, self.radius - half, start, end, ink),
            Arc(self.at(start), half, start + math.pi, start + 2.0 * math.pi, ink),
        )


@dataclass(frozen=True, slots=True)
class GuardShape:
    """The panel, in the scenario's coordinates.

    Attributes
    ----------
    sizes : GuardSizes
    swing : Swing
    outline : Outline
        Of the panel, inside the strip.
    slot : Slot
    opening : Circle
        For the driven shaft, or its bearing's housing.
    driven : DrivenOpening
        What that opening is for.
    holes : tuple of Circle
        For the screws that hold the panel.
    """

    sizes: GuardSizes
    swing: Swing
    outline: Outline
    slot: Slot
    opening: Circle
    driven: DrivenOpening
    holes: tuple[Circle, ...]


def guard_shape(scenario: Scenario) -> GuardShape:
    """Shape the panel of a mount's guard."""
    sizes, swing = guard_sizes(scenario), swing_of(scenario)
    # Screws go half way between the moving parts and the edge.
    inset = 0.5 * sizes.clearance
    along = _round_all(scenario, sizes, swing, sizes.clearance - inset)
    count = max(3, math.ceil(along.perimeter / made("hole_spacing")))
    driven = driven_opening(scenario, sizes)
    hole = 0.5 * made("hole_diameter")
    return GuardShape(
        sizes=sizes,
        swing=swing,
        outline=_round_all(scenario, sizes, swing, sizes.clearance),
        slot=_slot(scenario, sizes, swing),
        opening=Circle(scenario.driven.shaft, driven.radius, Ink.CUT),
        driven=driven,
        holes=tuple(Circle(point, hole, Ink.DRILL) for point in along.points(count)),
    )


def _round_all(scenario: Scenario, sizes: GuardSizes, swing: Swing, margin: float) -> Outline:
    """The string round both pulleys over the whole swing, moved out by a margin [m]."""
    driven = Disc(scenario.driven.shaft, sizes.driven_radius + margin)
    motor = disc_family(
        scenario.plate.hinge,
        scenario.motor.shaft,
        (swing.low, swing.high),
        sizes.motor_radius + margin,
    )
    return hull((driven, *motor))


def _slot(scenario: Scenario, sizes: GuardSizes, swing: Swing) -> Slot:
    hinge, shaft = scenario.plate.hinge, scenario.motor.shaft
    lowest = turned(shaft, hinge, swing.low)
    start = math.atan2(lowest[1] - hinge[1], lowest[0] - hinge[0])
    return Slot(
        hinge,
        math.dist(hinge, shaft),
        sizes.slot_half_width,
        start,
        start + swing.high - swing.low,
    )
