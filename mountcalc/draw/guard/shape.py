"""The guard's panel as a shape in the mount's plane: outline, slot, opening, fixing holes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from mountcalc.drafting.items import Arc, Circle, Layer, Point, along
from mountcalc.draw.along.stack import AlongStack, along_stack
from mountcalc.draw.boards.side import board_side, board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.hull import Disc, Outline, disc_family, hull
from mountcalc.draw.guard.openings import DrivenOpening, driven_opening
from mountcalc.draw.guard.sizes import (
    GuardSizes,
    guard_front,
    guard_sizes,
    least_air,
    made,
    panel_of,
)
from mountcalc.draw.remarks import Remark, Remarks

_ANGLES = 181
_ROUNDING = 1e-6  # [m]
_POINTS = 721  # of each round of the outline


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
        return along(self.hinge, direction, self.radius)

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
    screwed = _round_all(build, sizes.clearance - 0.5 * sizes.clearance)
    count = max(3, math.ceil(screwed.perimeter / made("hole_spacing")))
    lowest, hole = build.turned(shaft, swing.low), 0.5 * made("hole_diameter")
    start = math.atan2(lowest[1] - hinge[1], lowest[0] - hinge[0])
    end = start + swing.high - swing.low
    return GuardShape(
        sizes=sizes,
        outline=_round_all(build, sizes.clearance),
        slot=Slot(hinge, math.dist(hinge, shaft), sizes.slot_half_width, start, end),
        opening=Circle(build.scenario.driven.shaft, driven.radius, Layer.CUT),
        driven=driven,
        holes=tuple(Circle(point, hole, Layer.DRILL) for point in screwed.points(count)),
    )


def _round_all(build: Build, margin: float) -> Outline:
    """The string round both pulleys over the whole swing, moved out by a margin [m]."""
    sizes, swing = guard_sizes(build), build.swing
    driven = Disc(build.scenario.driven.shaft, sizes.driven_radius + margin)
    radius, turns = sizes.motor_radius + margin, (swing.low, swing.high)
    return hull((driven, *disc_family(build.hinge, build.scenario.motor.shaft, turns, radius)))


def plate_across(build: Build, stack: AlongStack) -> tuple[float, float] | None:
    """Where the plate is along the shafts, the motor's feet on the middle of its width."""
    frame = build.scenario.parts.frame
    if frame is None or stack.motor_face is None:
        return None
    # Half way between the motor's outermost pairs of foot holes.
    middle = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    half = 0.5 * board_sizes(build).width
    return middle - half, middle + half


def _least_width(build: Build) -> float:
    """The narrowest plate that has the motor's slots and the hinges [m]."""
    frame, sizes = build.scenario.parts.frame, board_sizes(build)
    feet = 0.0
    if frame is not None:
        feet = max(frame.feet_along) + frame.hole + 2.0 * sizes.alignment
    return max(feet, sizes.hinges.number * sizes.hinges.leaf_length)


@once
def _covered(build: Build) -> tuple[float, float, float] | None:
    """Ends of what the guard covers of the board [m] from its edge, and where it is the most."""
    board, guard, swing = board_side(build), _material(guard_shape(build)), build.swing
    ends: list[float] = []
    areas: dict[float, float] = {}
    for angle in map(float, np.linspace(swing.low, swing.high, _ANGLES)):
        both = shapely.Polygon(board.corners(angle)).intersection(guard)
        if both.area <= 0.0:
            continue
        areas[angle] = both.area
        for x, y in shapely.get_coordinates(both).tolist():
            ends.append(board.frame.distance(build.turned((x, y), -angle)))
    if not ends:
        return None
    most = max(areas, key=lambda angle: areas[angle])
    return min(ends) - board.edge, max(ends) - board.edge, most


def _material(shape: GuardShape) -> shapely.Geometry:
    """Panel and strip in the mount's plane, without what is cut out."""
    edge = shapely.MultiPoint(
        [
            part.at(float(way))
            for part in shape.outline.rounds
            for way in np.linspace(part.start, part.end, _POINTS)
        ]
    ).convex_hull
    slot, opening = shape.slot, shape.opening
    ways = np.linspace(slot.start, slot.end, _ANGLES)
    middle = shapely.LineString([slot.at(float(way)) for way in ways])
    holes = middle.buffer(slot.half_width).union(
        shapely.Point(opening.centre).buffer(opening.radius)
    )
    return edge.buffer(shape.sizes.thickness).difference(holes)


def say_plate_in_guard(remarks: Remarks, build: Build) -> None:
    """Warn where the plate comes into the guard, or say what would tell."""
    stack, place, parts = along_stack(build), panel_of(build)[1], build.scenario.parts
    if stack is None:
        return
    wanted = {"motor.frame": parts.frame, "motor.face_position": parts.along.motor_face}
    if remarks.needs(wanted, "whether the plate comes into the guard") or place is None:
        return
    plate, front, air = plate_across(build, stack), guard_front(build), least_air()
    assert plate is not None
    deep = plate[1] - place.back
    remarks.facts["plate_to_panel"] = -deep
    if front is None or max(-deep, plate[0] - front) >= air - _ROUNDING:
        return
    covered = _covered(build)
    if covered is None:
        return
    low, high, most = covered
    remarks.facts |= {"plate_in_guard_from": low, "plate_in_guard_to": high}
    widest = 2.0 * (place.back - air - 0.5 * sum(plate))
    cures = "cures" if widest >= _least_width(build) else "cures_but_width"
    positions = (
        sorted(stack.outward * end for end in ends) for ends in (plate, (place.back, front))
    )
    of_plate, of_guard = (_from_to(*ends) for ends in positions)
    numbers = {"deep": deep, "air": air, "cut": max(deep, 0.0) + air, "widest": widest}
    remarks.caution(
        "plate_in_guard.overlap",
        meets=Remark(f"plate_in_guard.{'cuts' if deep > 0 else 'near'}", numbers),
        plate=of_plate,
        guard=of_guard,
        covered=_from_to(low, high),
        when=_when(build, most),
        cures=Remark(f"plate_in_guard.{cures}", numbers),
    )


def _from_to(low: float, high: float) -> Remark:
    return Remark("panel.from_to", {"low": low, "high": high})


def _when(build: Build, angle: float) -> str:
    swing = build.swing
    nearest = min(
        (abs(swing.install - angle), "at install"),
        (abs(swing.snug - angle), "where the belt is snug"),
        (abs(swing.take_up - angle), "at take-up"),
    )
    return nearest[1] if nearest[0] < 0.05 * (swing.high - swing.low) else "between them"
