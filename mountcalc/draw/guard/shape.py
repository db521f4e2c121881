"""The guard's panel as a shape in the mount's plane: outline, slot, opening, fixing holes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drafting.items import Arc, Circle, Layer, Point
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.hull import Disc, Outline, disc_family, hull
from mountcalc.draw.guard.openings import DrivenOpening, driven_opening
from mountcalc.draw.guard.sizes import GuardSizes, guard_sizes, made


@dataclass(frozen=True, slots=True)
class Slot:
    """The slot in which the motor's shaft moves, about the hinge; [m].

    ``radius`` is from the hinge to the shaft; ``start`` and ``end`` [rad] are the directions from
    the hinge to the shaft at both ends, counter-clockwise.
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

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the shaft's axis is at both ends [m]."""
        return self.at(self.start), self.at(self.end)

    def at(self, direction: float) -> Point:
        """Where the shaft's axis is in a direction [rad] from the hinge [m]."""
        (x, y), radius = self.hinge, self.radius
        return x + radius * math.cos(direction), y + radius * math.sin(direction)

    def items(self, layer: Layer) -> tuple[Arc | Circle, ...]:
        """The slot as it is cut: two arcs about the hinge, and half a circle at each end."""
        half, start, end = self.half_width, self.start, self.end
        if self.radius <= half:
            return (Circle(self.hinge, self.radius + half, layer),)
        return (
            Arc(self.hinge, self.radius + half, start, end, layer),
            Arc(self.at(end), half, end, end + math.pi, layer),
            Arc(self.hinge, self.radius - half, start, end, layer),
            Arc(self.at(start), half, start + math.pi, start + 2.0 * math.pi, layer),
        )


@dataclass(frozen=True, slots=True)
class GuardShape:
    """The panel inside its strip, in the scenario's coordinates.

    ``driven`` is what its ``opening`` is for, ``holes`` are for the screws that hold it.
    """

    sizes: GuardSizes
    outline: Outline
    slot: Slot
    opening: Circle
    driven: DrivenOpening
    holes: tuple[Circle, ...]


@once
def guard_shape(build: Build) -> GuardShape:
    """Shape the panel of a mount's guard."""
    sizes, swing, shaft = guard_sizes(build), build.swing, build.scenario.motor.shaft
    hinge, driven = build.hinge, driven_opening(build)
    # Screws go half way between the moving parts and the edge.
    along = _round_all(build, sizes.clearance - 0.5 * sizes.clearance)
    count = max(3, math.ceil(along.perimeter / made("hole_spacing")))
    lowest, hole = build.turned(shaft, swing.low), 0.5 * made("hole_diameter")
    start = math.atan2(lowest[1] - hinge[1], lowest[0] - hinge[0])
    end = start + swing.high - swing.low
    return GuardShape(
        sizes=sizes,
        outline=_round_all(build, sizes.clearance),
        slot=Slot(hinge, math.dist(hinge, shaft), sizes.slot_half_width, start, end),
        opening=Circle(build.scenario.driven.shaft, driven.radius, Layer.CUT),
        driven=driven,
        holes=tuple(Circle(point, hole, Layer.DRILL) for point in along.points(count)),
    )


def _round_all(build: Build, margin: float) -> Outline:
    """The string round both pulleys over the whole swing, moved out by a margin [m]."""
    sizes, swing = guard_sizes(build), build.swing
    driven = Disc(build.scenario.driven.shaft, sizes.driven_radius + margin)
    radius, turns = sizes.motor_radius + margin, (swing.low, swing.high)
    return hull((driven, *disc_family(build.hinge, build.scenario.motor.shaft, turns, radius)))
