"""What is said of all along the shafts: pulleys, shaft ends, guard, the mount's plate."""

from __future__ import annotations

import math

import numpy as np
import shapely

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import AlongStack, Place, along_stack
from mountcalc.draw.boards.section import say_base_height
from mountcalc.draw.boards.side import board_side, board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.shape import at_share, guard_shape
from mountcalc.draw.guard.sizes import guard_sizes, least_air, panel_of
from mountcalc.draw.remarks import Remark, Remarks, last_word, reminders
from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.machine import pulley_slant
from mountcalc.handbook.rows import datum, load
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING, SAME_PLACE

_FILE = "along_shafts"
_FLUSH = 5e-5  # [m] what no rule on the bench shows
_ANGLES = 181
_POINTS = 721  # of each round of the outline


def say_along(remarks: Remarks, build: Build, places: dict[str, list[float]]) -> None:
    """All that is said beside the view, with what it dimensions by its distances from the datum."""
    stack = along_stack(build)
    _say_alignment(remarks, build)
    if stack is None:
        remarks.say("along.outward")
    else:
        _say_panel(remarks, build)
        say_strip(remarks, build)
        say_plate_in_guard(remarks, build)
        _say_shaft_ends(remarks, build, stack)
    say_base_height(remarks, build)
    remarks.cautions_of((*reminders(build, "stored energy"), last_word("view")))
    _say_distances(remarks, build, places)


class Alignment(Record):
    """How far the middle of the motor's pulley is from that of the driven one along the shafts [m].

    ``angle`` [rad] is the slant of the belt that comes of it, ``limit`` [m] the most offset that is
    let pass, with its ``source`` and how sure that is.
    """

    offset: float
    angle: float
    limit: float
    source: str

    @property
    def ok(self) -> bool:
        """Whether that is let pass."""
        return abs(self.offset) <= self.limit * (1 + ROUNDING)


def alignment(
    motor_middle: float, driven_middle: float, center_distance: float, section_name: str | None
) -> Alignment:
    """Judge how far two pulleys are out of one plane."""
    is_v_belt = section_name is not None and section(section_name) is not None
    most, offset = pulley_slant(v_belt=is_v_belt), motor_middle - driven_middle
    angle = math.atan2(abs(offset), center_distance)
    return Alignment(offset, angle, most.value * center_distance, f"{most.source}, {most.sure}")


def _say_alignment(remarks: Remarks, build: Build) -> None:
    """Say whether both pulleys are in one plane."""
    middle, driven = build.scenario.parts.along.motor_pulley, build.scenario.driven
    remarks.needs({"motor.pulley_position": middle}, "whether both pulleys are in one plane")
    if middle is None:
        return
    centers = math.dist(build.motor_at_snug, driven.shaft)
    found = alignment(middle, driven.pulley_position, centers, build.scenario.belt.section)
    remarks.facts |= {
        "pulley_offset": found.offset,
        "pulley_slant": found.angle,
        "pulley_offset_limit": found.limit,
    }
    key = "plane_within" if found.ok else "out_of_plane"
    key = "one_plane" if abs(found.offset) < SAME_PLACE else key
    remarks.say(f"shafts.{key}", offset=abs(found.offset), centers=centers, found=found)


def _say_shaft_ends(remarks: Remarks, build: Build, stack: AlongStack) -> None:
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
    _say_end(remarks, build, "driven shaft", diameter, end, outermost)


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
    key = "motor_beyond" if beyond > 0 else "motor_short"
    key = "motor_flush" if abs(beyond) < _FLUSH else key
    remarks.say(f"shafts.{key}", frame=frame, beyond=beyond, held=held)
    # The pulley's middle for all of its width to be on the shaft, clear of the panel behind it.
    half, panel = 0.5 * (pulley.front - pulley.back), guard_sizes(build).thickness + 2 * least_air()
    least, most = panel + half, end - half - face
    if least > most + _FLUSH:
        remarks.say("shafts.motor_too_short", short=least - most)
    else:
        ends = build.fine(least), build.fine(most)
        may = f"must be {ends[0]}" if ends[0] == ends[1] else f"may be {ends[0]} to {ends[1]}"
        remarks.say("shafts.motor_middle", may=may, at=pulley.middle - face)
    if beyond > _FLUSH:
        _say_end(remarks, build, "motor's shaft", frame.shaft_diameter, end, pulley)


def _say_end(
    remarks: Remarks, build: Build, name: str, diameter: float, end: float, past: Place
) -> None:
    """How far a shaft's end [m] sticks out of what it sticks out of."""
    length, rule = end - past.front, datum(_FILE, load(_FILE)["shaft_end"]["share"])
    cap, allowed = length + guard_sizes(build).clearance, rule.value * diameter
    shaft = "driven" if name == "driven shaft" else "motor"
    remarks.facts[f"{shaft}_end_projects"] = length
    if length <= _FLUSH:
        key = "end_flush" if length > -_FLUSH else "end_behind"
    elif length <= allowed + ROUNDING:
        key = "end_allowed"
    else:
        key = "end_sticks_out"
        remarks.facts[f"{shaft}_cap_length"] = cap
    values = {"length": length, "allowed": allowed, "rule": rule, "cap": cap}
    remarks.say(f"shafts.{key}", name=name, past=past.name, **values)


def _say_panel(remarks: Remarks, build: Build) -> None:
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
        remarks.say("panel.stands", gap=gap, place=place)
    if place.spacer is None or place.air_before < 0:
        return
    if place.spacer > 0:
        remarks.facts["spacer"] = place.spacer
    remarks.say("panel.spacer" if place.spacer > 0 else "panel.no_spacer", place=place)


def say_panel_cautions(remarks: Remarks, build: Build) -> None:
    """What the panel meets or comes too near to along the shafts."""
    (gap, place), least = panel_of(build), least_air()
    if gap is None or (place is not None and place.fits):
        return
    if place is None:
        remarks.say("panel.no_room", gap=gap)
    elif build.scenario.parts.guard.position is None:
        remarks.say("panel.not_clear", gap=gap, thick=place.front - place.back, least=least)
    else:
        behind, before = (
            Remark(f"panel.{'reaches' if air < 0 else 'air'}", {"air": air, "into": into, "to": to})
            for air, into, to in (
                (place.air_behind, f"into {gap.behind}", gap.behind),
                (place.air_before, f"past the back of {gap.before}", gap.before),
            )
        )
        remarks.say("panel.at_position", behind=behind, before=before, least=least)


def say_strip(remarks: Remarks, build: Build) -> None:
    """Say how wide the strip around the panel has to be."""
    sizes, place = guard_sizes(build), panel_of(build)[1]
    given = build.scenario.parts.guard.strip_width
    if place is None:
        return
    width = place.least_strip
    if taken := sizes.taken.get("guard.clearance"):
        remarks.add([taken])
    remarks.facts["strip_least_width"] = width
    key, short = "strip_least", 0.0
    if width <= 0:
        key = "guards_none"
    elif given is not None:
        short = width - given
        key = "strip_short" if short > SAME else "strip_given"
    values = {"clearance": sizes.clearance, "width": width, "given": given, "short": short}
    remarks.say(f"panel.{key}", **values)


@once
def _covered(build: Build) -> tuple[float, float, float] | None:
    """Ends of what the guard covers of the board [m] from its edge, and where it is the most."""
    board, shape, swing = board_side(build), guard_shape(build), build.swing
    shares = np.linspace(0.0, 1.0, _POINTS).tolist()
    edge = shapely.MultiPoint([at_share(one, s) for one in shape.outline.rounds for s in shares])
    opening = shapely.Point(shape.opening.centre).buffer(shape.opening.radius)
    panel = edge.convex_hull.buffer(guard_sizes(build).thickness)  # with its strip
    guard = panel.difference(shape.slot.shape.union(opening))
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


def say_plate_in_guard(remarks: Remarks, build: Build) -> None:
    """Warn where the plate comes into the guard, or say what would tell."""
    stack, place, parts = along_stack(build), panel_of(build)[1], build.scenario.parts
    if stack is None:
        return
    wanted = {"motor.frame": parts.frame, "motor.face_position": parts.along.motor_face}
    remarks.needs(wanted, "whether the plate comes into the guard")
    plate, air = stack.plate, least_air()
    if parts.frame is None or plate is None or place is None:
        return
    deep = plate[1] - place.back
    remarks.facts["plate_to_panel"] = -deep
    if max(-deep, plate[0] - place.strip_front) >= air - SAME_PLACE:
        return
    covered = _covered(build)
    if covered is None:
        return
    low, high, most = covered
    remarks.facts |= {"plate_in_guard_from": low, "plate_in_guard_to": high}
    # The narrowest plate has the motor's slots and the hinges.
    sizes, widest = board_sizes(build), 2.0 * (place.back - air - 0.5 * sum(plate))
    feet = max(parts.frame.feet_along) + parts.frame.hole + 2.0 * sizes.alignment
    is_wide = widest >= max(feet, sizes.number * sizes.leaf_length)
    swing, cures = build.swing, "cures" if is_wide else "cures_but_width"
    apart, when = min(
        (abs(swing.install - most), "at install"),
        (abs(swing.snug - most), "where the belt is snug"),
        (abs(swing.take_up - most), "at take-up"),
    )
    of_plate, of_guard, of_covered = (
        Remark("panel.from_to", {"low": min(ends), "high": max(ends)})
        for ends in (
            [stack.outward * end for end in plate],
            [stack.outward * end for end in (place.back, place.strip_front)],
            (low, high),
        )
    )
    numbers = {"deep": deep, "air": air, "cut": max(deep, 0.0) + air, "widest": widest}
    remarks.say(
        "plate_in_guard.overlap",
        meets=Remark(f"plate_in_guard.{'cuts' if deep > 0 else 'near'}", numbers),
        plate=of_plate,
        guard=of_guard,
        covered=of_covered,
        when=when if apart < 0.05 * (swing.high - swing.low) else "between them",
        cures=Remark(f"plate_in_guard.{cures}", numbers),
    )


def _say_distances(remarks: Remarks, build: Build, places: dict[str, list[float]]) -> None:
    """Say where all is that the view dimensions, each by its distances from the datum [m]."""
    stack = along_stack(build)
    datum = "the middle of the driven pulley"
    ways = "to the front, where the motor's shaft points", "to the back"
    if stack is None:
        ways = "as positions grow", "as positions fall"
    elif stack.bearing_behind is not None:
        datum = f"the face of {stack.bearing_behind.name}"
        ways = "towards the pulleys", "away from them"
    for way, side in zip(ways, (1, -1), strict=True):
        there = []
        for name, found in places.items():
            near, far = sorted((side * min(found), side * max(found)))
            if far > SAME:
                # In the words of the dimensions, by which they are found again; "up to" where it
                # reaches past the datum.
                start = f" {build.bench(max(near, 0.0))} to" if near >= -SAME else " up to"
                there.append(f"{name}{start if far - near > SAME else ''} {build.bench(far)}")
        if there:
            remarks.say("along.distances", datum=datum, way=way, places="; ".join(there))
    level = [name for name, found in places.items() if max(map(abs, found)) <= SAME]
    others = [name for name in level if name != datum.removeprefix("the ")]
    if others:
        remarks.say("along.in_plane", datum=datum, places="; ".join(others))
