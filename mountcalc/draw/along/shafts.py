"""What is said of the shafts: pulleys in one plane, on their shafts; ends that stick out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack, Place
from mountcalc.draw.build import Build
from mountcalc.draw.guard.sizes import guard_sizes, least_air
from mountcalc.draw.remarks import Remarks
from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.rows import INCH, datum, load

_FILE = "along_shafts"
_ROUNDING = 1e-9
_SAME = 1e-6  # [m]
_FLUSH = 5e-5  # [m] what no rule on the bench shows


@dataclass(frozen=True, slots=True)
class Alignment:
    """How far two pulleys are out of one plane.

    ``offset`` [m] is the middle of the motor's pulley less that of the driven one along the shafts,
    ``angle`` [rad] the slant of the belt that comes of it, ``limit`` [m] the most offset that is
    let pass; ``source`` is that of the limit, and how sure it is.
    """

    offset: float
    angle: float
    limit: float
    source: str

    @property
    def ok(self) -> bool:
        """Whether that is let pass."""
        return abs(self.offset) <= self.limit * (1 + _ROUNDING)


def alignment(
    motor_middle: float, driven_middle: float, center_distance: float, section_name: str | None
) -> Alignment:
    """Judge how far two pulleys are out of one plane."""
    is_v_belt = section_name is not None and section(section_name) is not None
    rows = load(_FILE)["alignment"]["v_belt" if is_v_belt else "flat_belt"]
    most, per_foot = datum(_FILE, rows["angle"]), datum(_FILE, rows["per_foot"])
    slant, source = min(math.tan(most.value), per_foot.value / (12 * INCH)), most.source
    offset = motor_middle - driven_middle
    angle = math.atan2(abs(offset), center_distance)
    return Alignment(offset, angle, slant * center_distance, f"{source}, {most.sure}")


def say_alignment(remarks: Remarks, build: Build) -> None:
    """Say whether both pulleys are in one plane."""
    middle, driven = build.scenario.parts.along.motor_pulley, build.scenario.driven
    wanted = {"motor.pulley_position": middle}
    if remarks.needs(wanted, "whether both pulleys are in one plane") or middle is None:
        return
    centers = math.dist(build.motor_at_snug, driven.shaft)
    found = alignment(middle, driven.pulley_position, centers, build.scenario.belt.section)
    remarks.facts |= {
        "pulley_offset": found.offset,
        "pulley_slant": found.angle,
        "pulley_offset_limit": found.limit,
    }
    offset = abs(found.offset)
    if offset < _SAME:
        remarks.note("shafts.one_plane")
    elif found.ok:
        remarks.note("shafts.plane_within", offset=offset, centers=centers, found=found)
    else:
        remarks.caution("shafts.out_of_plane", offset=offset, centers=centers, found=found)


def say_shaft_ends(remarks: Remarks, build: Build, stack: AlongStack) -> None:
    """Say whether the motor's shaft reaches through its pulley, and how far both ends stick out."""
    driven, end = build.scenario.driven, stack.driven_shaft_end
    _say_motor_reach(remarks, build, stack)
    wanted = {"driven.shaft_end": end, "driven.pulley_width": stack.driven_pulley}
    remarks.needs(wanted, "how far the driven shaft's end sticks out")
    if end is None or stack.driven_pulley is None:
        return
    places = [stack.driven_pulley, *stack.bearings]
    if end < min(one.middle for one in places):  # it is at the back
        end, places = -end, [Place(one.name, -one.front, -one.back) for one in places]
    nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
    outermost = max(places, key=lambda one: one.front)
    diameter = driven.shaft_diameter or nearest.journal_diameter
    _say_end(remarks, build, "driven", diameter, end, outermost)


def _say_motor_reach(remarks: Remarks, build: Build, stack: AlongStack) -> None:
    parts = build.scenario.parts
    frame, face, pulley = parts.frame, stack.motor_face, stack.motor_pulley
    wanted = {
        "motor.frame": frame,
        "motor.face_position": face,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.pulley_width": parts.along.motor_pulley_width,
    }
    remarks.needs(wanted, "whether the motor's shaft reaches through its pulley")
    if frame is None or face is None or pulley is None:
        return
    end = face + frame.shaft_length
    beyond, held = end - pulley.front, max(0.0, min(pulley.front, end) - max(pulley.back, face))
    remarks.facts |= {"motor_shaft_beyond_pulley": beyond, "motor_bore_held": held}
    if abs(beyond) < _FLUSH:
        remarks.note("shafts.motor_flush", frame=frame)
    elif beyond > 0:
        remarks.note("shafts.motor_beyond", frame=frame, beyond=beyond)
    else:
        remarks.caution("shafts.motor_short", frame=frame, beyond=beyond, held=held)
    # The pulley's middle for all of its width to be on the shaft, clear of the panel behind it.
    half, panel = 0.5 * (pulley.front - pulley.back), guard_sizes(build).thickness + 2 * least_air()
    least, most = panel + half, end - half - face
    if least > most + _FLUSH:
        remarks.caution("shafts.motor_too_short", short=least - most)
    else:
        ends = build.fine(least), build.fine(most)
        may = f"must be {ends[0]}" if ends[0] == ends[1] else f"may be {ends[0]} to {ends[1]}"
        remarks.note("shafts.motor_middle", may=may, at=pulley.middle - face)
    if beyond > _FLUSH:
        _say_end(remarks, build, "motor", frame.shaft_diameter, end, pulley)


def _say_end(
    remarks: Remarks, build: Build, shaft: str, diameter: float, end: float, past: Place
) -> None:
    """How far a shaft's end [m] sticks out of what it sticks out of."""
    length, rule = end - past.front, datum(_FILE, load(_FILE)["shaft_end"]["share"])
    cap, allowed = length + guard_sizes(build).clearance, rule.value * diameter
    remarks.facts[f"{shaft}_end_projects"] = length
    name = "motor's shaft" if shaft == "motor" else "driven shaft"
    numbers = {"name": name, "past": past.name, "length": length, "allowed": allowed, "rule": rule}
    if length <= _FLUSH:
        key = "shafts.end_flush" if length > -_FLUSH else "shafts.end_behind"
        remarks.note(key, **numbers)
    elif length <= allowed + _ROUNDING:
        remarks.note("shafts.end_allowed", **numbers)
    else:
        remarks.facts[f"{shaft}_cap_length"] = cap
        remarks.caution("shafts.end_sticks_out", cap=cap, **numbers)
