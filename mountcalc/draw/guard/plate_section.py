"""Where the plate's board and the guard, both thick, are in each other's way."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from mountcalc.draw.along.stack import AlongStack
from mountcalc.draw.boards.plate_sizes import plate_width
from mountcalc.draw.boards.side import BoardSide, board_side
from mountcalc.draw.boards.sizes import TemplateSizes, template_size
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.panel_place import PanelPlace, least_air
from mountcalc.draw.guard.panel_words import guard_front
from mountcalc.draw.guard.shape import GuardShape
from mountcalc.scenario.model import Vector

__all__ = ["PlateInGuard", "plate_across", "plate_in_guard"]

_ANGLES = 181
_ROUNDING = 1e-6  # [m]
_POINTS = 721  # of each round of the outline


@dataclass(frozen=True, slots=True)
class PlateInGuard:
    """A plate that comes too near to the guard; positions along the shafts counted outward.

    Attributes
    ----------
    plate, guard : (float, float) [m]
        From where to where they reach along the shafts.
    deep : float [m]
        From the panel's back to the plate's edge; below zero for air between them.
    along : (float, float) [m]
        From where to where the guard covers the plate over the swing, from its hinged edge.
    most : float [rad]
        The plate angle at which it covers the most.
    widest : float or None [m]
        The widest plate with the least air; None where it would not carry motor and hinges.
    """

    plate: tuple[float, float]
    guard: tuple[float, float]
    deep: float
    along: tuple[float, float]
    most: float
    widest: float | None


def plate_across(build: Build, stack: AlongStack) -> tuple[float, float] | None:
    """Where the plate is along the shafts, the motor's feet on the middle of its width."""
    middle = _feet_middle(build, stack)
    if middle is None:
        return None
    sizes = TemplateSizes(build.scenario)
    half = 0.5 * plate_width(build, sizes.hinges(), sizes)
    return middle - half, middle + half


def plate_in_guard(
    build: Build, stack: AlongStack, shape: GuardShape, place: PanelPlace
) -> PlateInGuard | None:
    """Whether the plate comes into the guard's panel or strip, from install to take-up."""
    plate, middle = plate_across(build, stack), _feet_middle(build, stack)
    front = guard_front(build, stack)
    if plate is None or middle is None or front is None:
        return None
    air = least_air()
    if max(place.back - plate[1], plate[0] - front) >= air - _ROUNDING:
        return None
    board = board_side(build)
    covered = _covered(shape, board)
    if covered is None:
        return None
    low, high, most = covered
    widest = 2.0 * (place.back - air - middle)
    return PlateInGuard(
        plate=plate,
        guard=(place.back, front),
        deep=plate[1] - place.back,
        along=(low - board.edge, high - board.edge),
        most=most,
        widest=widest if widest >= _least_width(build) else None,
    )


def _feet_middle(build: Build, stack: AlongStack) -> float | None:
    """Half way between the motor's outermost pairs of foot holes [m], counted outward."""
    frame = build.scenario.parts.frame
    if frame is None or stack.motor_face is None:
        return None
    return stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)


def _least_width(build: Build) -> float:
    """The narrowest plate that has the motor's slots and the hinges [m]."""
    frame, hinges = build.scenario.parts.frame, TemplateSizes(build.scenario).hinges()
    feet = 0.0
    if frame is not None:
        extra = template_size(build.scenario, "alignment").value
        feet = max(frame.feet_along) + frame.hole + 2.0 * extra
    return max(feet, hinges.number * hinges.leaf_length)


def _covered(shape: GuardShape, board: BoardSide) -> tuple[float, float, float] | None:
    """Ends of what the guard covers of the board [m] from the pin, and where it is the most."""
    guard, hinge = _material(shape), board.frame.hinge
    ends: list[float] = []
    areas: dict[float, float] = {}
    for angle in map(float, np.linspace(shape.swing.low, shape.swing.high, _ANGLES)):
        section = shapely.Polygon(board.corners(angle))
        both = section.intersection(guard)
        if both.area <= 0.0:
            continue
        areas[angle] = both.area
        for x, y in shapely.get_coordinates(both).tolist():
            as_drawn: Vector = turned((x, y), hinge, -angle)
            ends.append(board.frame.distance(as_drawn))
    if not ends:
        return None
    return min(ends), max(ends), max(areas, key=lambda angle: areas[angle])


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
    middle = shapely.LineString(
        [slot.at(float(way)) for way in np.linspace(slot.start, slot.end, _ANGLES)]
    )
    holes = middle.buffer(slot.half_width).union(
        shapely.Point(opening.centre).buffer(opening.radius)
    )
    return edge.buffer(shape.sizes.thickness).difference(holes)
