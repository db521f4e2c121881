"""Whether pulleys are in one plane and sit on their shafts, and how far shaft ends stick out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack, Place
from mountcalc.draw.build import Build
from mountcalc.draw.guard.place import least_air
from mountcalc.draw.guard.sizes import guard_sizes
from mountcalc.draw.remarks import Remarks
from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.rows import INCH, Datum, datum, load

_FILE = "along_shafts"
_FOOT = 12 * INCH
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
    ok: bool
    source: str


def greatest_slant(section_name: str | None) -> tuple[float, str]:
    """Offset of two pulleys over the distance of their shafts that is let pass."""
    is_v_belt = section_name is not None and section(section_name) is not None
    rows = load(_FILE)["alignment"]["v_belt" if is_v_belt else "flat_belt"]
    angle, per_foot = datum(_FILE, rows["angle"]), datum(_FILE, rows["per_foot"])
    return min(math.tan(angle.value), per_foot.value / _FOOT), f"{angle.source}, {angle.sure}"


def alignment(
    motor_middle: float, driven_middle: float, center_distance: float, section_name: str | None
) -> Alignment:
    """Judge how far two pulleys are out of one plane."""
    offset = motor_middle - driven_middle
    slant, source = greatest_slant(section_name)
    limit = slant * center_distance
    return Alignment(
        offset=offset,
        angle=math.atan2(abs(offset), center_distance),
        limit=limit,
        ok=abs(offset) <= limit * (1 + _ROUNDING),
        source=source,
    )


def say_alignment(remarks: Remarks, build: Build) -> None:
    """Say whether both pulleys are in one plane."""
    middle, driven = build.scenario.parts.along.motor_pulley, build.scenario.driven
    wanted: dict[str, object] = {"motor.pulley_position": middle}
    if remarks.needs(wanted, "whether both pulleys are in one plane") or middle is None:
        return
    centers = math.dist(build.motor_at_snug, driven.shaft)
    found = alignment(middle, driven.pulley_position, centers, build.scenario.belt.section)
    remarks.facts |= {
        "pulley_offset": found.offset,
        "pulley_slant": found.angle,
        "pulley_offset_limit": found.limit,
    }
    if abs(found.offset) < _SAME:
        remarks.note("shafts.one_plane")
        return
    numbers = {
        "offset": abs(found.offset),
        "degrees": math.degrees(found.angle),
        "centers": centers,
        "limit": found.limit,
        "source": found.source,
    }
    if found.ok:
        remarks.note("shafts.plane_within", **numbers)
    else:
        remarks.caution("shafts.out_of_plane", **numbers)


@dataclass(frozen=True, slots=True)
class MotorReach:
    """The motor's shaft and its pulley [m], counted outward.

    ``held`` is how much of the pulley's width is on the shaft, ``beyond`` from the pulley's front
    to the shaft's end, below zero where the pulley overhangs it. Between ``least`` and ``most`` the
    pulley's middle must be for all of its width to be on the shaft and clear of the panel behind
    it; ``most`` is the smaller one where the shaft is shorter than that.
    """

    held: float
    beyond: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class ProjectingEnd:
    """A shaft's end, and what it sticks out of so far [m], below zero where it ends inside.

    ``allowed`` is how far it may stick out without a guard.
    """

    past: str
    length: float
    allowed: float
    ok: bool


def unguarded_share() -> Datum:
    """Share of its diameter [-] by which a shaft's end may stick out unguarded."""
    return datum(_FILE, load(_FILE)["shaft_end"]["share"])


def motor_reach(face: float, shaft_end: float, pulley: Place, panel: float) -> MotorReach:
    """Judge whether a pulley sits on its shaft."""
    half = 0.5 * (pulley.front - pulley.back)
    held = min(pulley.front, shaft_end) - max(pulley.back, face)
    return MotorReach(
        held=max(0.0, held),
        beyond=shaft_end - pulley.front,
        least=face + panel + half,
        most=shaft_end - half,
    )


def projecting_end(end: float, diameter: float, past: Place) -> ProjectingEnd:
    """Judge how far a shaft's end sticks out."""
    length = end - past.front
    allowed = unguarded_share().value * diameter
    return ProjectingEnd(past.name, length, allowed, ok=length <= allowed + _ROUNDING)


def driven_end(stack: AlongStack, diameter: float) -> ProjectingEnd | None:
    """Judge the driven shaft's end, on whichever side it is."""
    end, pulley = stack.driven_shaft_end, stack.driven_pulley
    if end is None or pulley is None:
        return None
    places = [pulley, *stack.bearings]
    if end < min(one.middle for one in places):
        end = -end
        places = [Place(one.name, -one.front, -one.back) for one in places]
    return projecting_end(end, diameter, max(places, key=lambda one: one.front))


def say_shaft_ends(remarks: Remarks, build: Build, stack: AlongStack) -> None:
    """Say whether the motor's shaft reaches through its pulley, and how far both ends stick out."""
    _say_motor_reach(remarks, build, stack)
    frame, driven = build.scenario.parts.frame, build.scenario.driven
    if frame is not None and stack.motor_shaft_end is not None and stack.motor_pulley is not None:
        found = projecting_end(stack.motor_shaft_end, frame.shaft_diameter, stack.motor_pulley)
        if found.length > _FLUSH:
            _say_end(remarks, build, "motor", found)
    wanted: dict[str, object] = {
        "driven.shaft_end": stack.driven_shaft_end,
        "driven.pulley_width": stack.driven_pulley,
    }
    if remarks.needs(wanted, "how far the driven shaft's end sticks out"):
        return
    nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
    end = driven_end(stack, driven.shaft_diameter or nearest.journal_diameter)
    assert end is not None
    _say_end(remarks, build, "driven", end)


def _say_motor_reach(remarks: Remarks, build: Build, stack: AlongStack) -> None:
    parts = build.scenario.parts
    wanted: dict[str, object] = {
        "motor.frame": parts.frame,
        "motor.face_position": parts.along.motor_face,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.pulley_width": parts.along.motor_pulley_width,
    }
    if remarks.needs(wanted, "whether the motor's shaft reaches through its pulley"):
        return
    frame, face, end, pulley = (
        parts.frame,
        stack.motor_face,
        stack.motor_shaft_end,
        stack.motor_pulley,
    )
    assert frame is not None
    assert face is not None
    assert end is not None
    assert pulley is not None
    found = motor_reach(face, end, pulley, guard_sizes(build).thickness + 2 * least_air())
    remarks.facts |= {"motor_shaft_beyond_pulley": found.beyond, "motor_bore_held": found.held}
    numbers = {
        "frame": frame.name,
        "long": frame.shaft_length,
        "source": frame.source,
        "sure": frame.sure,
        "beyond": found.beyond,
        "short": -found.beyond,
        "held": found.held,
    }
    if abs(found.beyond) < _FLUSH:
        remarks.note("shafts.motor_flush", **numbers)
    elif found.beyond > 0:
        remarks.note("shafts.motor_beyond", **numbers)
    else:
        remarks.caution("shafts.motor_short", **numbers)
    # Where the middle of the motor's pulley may be, counted from the motor's face.
    if found.least > found.most + _FLUSH:
        remarks.caution(
            "shafts.motor_too_short",
            short=found.least - found.most,
        )
        return
    least, most = build.fine(found.least - face), build.fine(found.most - face)
    remarks.note(
        "shafts.motor_middle",
        may=f"must be {least}" if least == most else f"may be {least} to {most}",
        at=pulley.middle - face,
    )


def _say_end(remarks: Remarks, build: Build, shaft: str, found: ProjectingEnd) -> None:
    remarks.facts[f"{shaft}_end_projects"] = found.length
    rule = unguarded_share()
    cap = found.length + guard_sizes(build).clearance
    numbers = {
        "name": "motor's shaft" if shaft == "motor" else "driven shaft",
        "past": found.past,
        "length": found.length,
        "inside": -found.length,
        "allowed": found.allowed,
        "source": rule.source,
        "sure": rule.sure,
        "cap": cap,
    }
    if found.length <= _FLUSH:
        key = "shafts.end_flush" if found.length > -_FLUSH else "shafts.end_behind"
        remarks.note(key, **numbers)
    elif found.ok:
        remarks.note("shafts.end_allowed", **numbers)
    else:
        remarks.facts[f"{shaft}_cap_length"] = cap
        remarks.caution("shafts.end_sticks_out", **numbers)
