"""Where the plate's board and the guard, both thick, are in each other's way."""

from __future__ import annotations

import numpy as np
import shapely

from mountcalc.draw.along.stack import AlongStack, along_stack
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.boards.sizes import board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.position import guard_front, least_air, panel_of
from mountcalc.draw.guard.shape import GuardShape, guard_shape
from mountcalc.draw.remarks import Remark, Remarks

_ANGLES = 181
_ROUNDING = 1e-6  # [m]
_POINTS = 721  # of each round of the outline


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
