"""What is said of the guard along the shafts: where panel, strip and the mount's plate stand."""

from __future__ import annotations

import numpy as np
import shapely

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import AlongStack, along_stack
from mountcalc.draw.boards.side import board_side, board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.shape import GuardShape, at_share, guard_shape
from mountcalc.draw.guard.sizes import (
    guard_front,
    guard_sizes,
    least_air,
    least_strip_width,
    panel_of,
)
from mountcalc.draw.remarks import Remark, Remarks

_ANGLES = 181
_ROUNDING = 1e-6  # [m]
_POINTS = 721  # of each round of the outline


def say_panel(remarks: Remarks, build: Build) -> None:
    """Say where the guard's panel stands."""
    along, (gap, place) = build.scenario.parts.along, panel_of(build)
    wanted = {
        "motor.face_position": along.motor_face,
        "motor.pulley_position": along.motor_pulley,
        "motor.pulley_width": along.motor_pulley_width,
        "driven.pulley_width": along.driven_pulley_width,
    }
    remarks.needs(wanted, "all that bounds the guard's panel along the shafts")
    if gap is None:
        return
    remarks.facts["panel_gap"] = gap.width
    say_panel_cautions(remarks, build)
    if place is None:
        return
    if taken := guard_sizes(build).taken.get("guard.thickness"):
        remarks.add([taken])
    air = {"panel_air_behind": place.air_behind, "panel_air_before": place.air_before}
    remarks.facts |= air
    if place.fits:
        remarks.note("panel.stands", gap=gap, place=place)
    if place.spacer is None or place.air_before < 0:
        return
    if place.spacer > 0:
        remarks.facts["spacer"] = place.spacer
    remarks.note("panel.spacer" if place.spacer > 0 else "panel.no_spacer", place=place)


def say_into_motor(remarks: Remarks, build: Build) -> None:
    """Warn of a panel that cuts into the motor."""
    stack, place = along_stack(build), panel_of(build)[1]
    face = None if stack is None else stack.motor_face
    if place is not None and face is not None and place.back < face - _ROUNDING:
        remarks.caution("openings.into_motor", deep=face - place.back)


def say_panel_cautions(remarks: Remarks, build: Build) -> None:
    """What the panel meets or comes too near to along the shafts."""
    gap, place = panel_of(build)
    if gap is None or (place is not None and place.fits):
        return
    if place is None:
        remarks.caution("panel.no_room", gap=gap)
    elif build.scenario.parts.guard.position is None:
        thick = place.front - place.back
        remarks.caution("panel.not_clear", gap=gap, thick=thick, least=least_air())
    else:
        behind, before = (
            Remark(
                "panel.reaches" if air < 0 else "panel.air", {"air": air, "into": into, "to": to}
            )
            for air, into, to in (
                (place.air_behind, f"into {gap.behind}", gap.behind),
                (place.air_before, f"past the back of {gap.before}", gap.before),
            )
        )
        remarks.caution("panel.at_position", behind=behind, before=before, least=least_air())


def say_strip(remarks: Remarks, build: Build) -> None:
    """Say how wide the strip around the panel has to be."""
    sizes, width = guard_sizes(build), least_strip_width(build)
    given = build.scenario.parts.guard.strip_width
    if width is None:
        return
    if taken := sizes.taken.get("guard.clearance"):
        remarks.add([taken])
    remarks.facts["strip_least_width"] = width
    numbers = {"clearance": sizes.clearance, "width": width, "given": given}
    if width <= 0:
        remarks.caution("panel.guards_none")
    elif given is None:
        remarks.note("panel.strip_least", **numbers)
    elif given < width - SAME:
        remarks.caution("panel.strip_short", short=width - given, **numbers)
    else:
        remarks.note("panel.strip_given", **numbers)


def plate_across(build: Build, stack: AlongStack) -> tuple[float, float] | None:
    """Where the plate is along the shafts, the motor's feet on the middle of its width."""
    frame = build.scenario.parts.frame
    if frame is None or stack.motor_face is None:
        return None
    # Half way between the motor's outermost pairs of foot holes.
    middle = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    half = 0.5 * board_sizes(build).width
    return middle - half, middle + half


@once
def _covered(build: Build) -> tuple[float, float, float] | None:
    """Ends of what the guard covers of the board [m] from its edge, and where it is the most."""
    board, guard, swing = board_side(build), _material(guard_shape(build)), build.swing
    ends: list[float] = []
    areas: dict[float, float] = {}
    for angle in map(float, np.linspace(swing.low, swing.high, _ANGLES)):
        both = shapely.Polygon(board.corners(angle)).intersection(guard)
        if both.area > 0.0:
            areas[angle] = both.area
            corners = shapely.get_coordinates(both).tolist()
            ends += [board.frame.distance(build.turned((x, y), -angle)) for x, y in corners]
    if not ends:
        return None
    most = max(areas, key=lambda angle: areas[angle])
    return min(ends) - board.edge, max(ends) - board.edge, most


def _material(shape: GuardShape) -> shapely.Geometry:
    """Panel and strip in the mount's plane, without what is cut out."""
    shares = np.linspace(0.0, 1.0, _POINTS).tolist()
    edge = [at_share(part, share) for part in shape.outline.rounds for share in shares]
    opening = shapely.Point(shape.opening.centre).buffer(shape.opening.radius)
    holes = shape.slot.shape.union(opening)
    return shapely.MultiPoint(edge).convex_hull.buffer(shape.sizes.thickness).difference(holes)


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
    assert parts.frame is not None
    deep = plate[1] - place.back
    remarks.facts["plate_to_panel"] = -deep
    if front is None or max(-deep, plate[0] - front) >= air - _ROUNDING:
        return
    covered = _covered(build)
    if covered is None:
        return
    low, high, most = covered
    remarks.facts |= {"plate_in_guard_from": low, "plate_in_guard_to": high}
    # The narrowest plate has the motor's slots and the hinges.
    sizes, widest = board_sizes(build), 2.0 * (place.back - air - 0.5 * sum(plate))
    feet = max(parts.frame.feet_along) + parts.frame.hole + 2.0 * sizes.alignment
    is_wide = widest >= max(feet, sizes.hinges.number * sizes.hinges.leaf_length)
    swing, cures = build.swing, "cures" if is_wide else "cures_but_width"
    apart, when = min(
        (abs(swing.install - most), "at install"),
        (abs(swing.snug - most), "where the belt is snug"),
        (abs(swing.take_up - most), "at take-up"),
    )
    of_plate, of_guard = (
        sorted(stack.outward * end for end in ends) for ends in (plate, (place.back, front))
    )
    numbers = {"deep": deep, "air": air, "cut": max(deep, 0.0) + air, "widest": widest}
    remarks.caution(
        "plate_in_guard.overlap",
        meets=Remark(f"plate_in_guard.{'cuts' if deep > 0 else 'near'}", numbers),
        plate=_from_to(*of_plate),
        guard=_from_to(*of_guard),
        covered=_from_to(low, high),
        when=when if apart < 0.05 * (swing.high - swing.low) else "between them",
        cures=Remark(f"plate_in_guard.{cures}", numbers),
    )


def _from_to(low: float, high: float) -> Remark:
    return Remark("panel.from_to", {"low": low, "high": high})
