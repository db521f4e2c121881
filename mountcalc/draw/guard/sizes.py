"""Sizes of the guard, given or taken with a note; where it stands along the shafts."""

from __future__ import annotations

import math
from collections.abc import Mapping

from mountcalc.draw.along.stack import AlongStack, Place, along_stack
from mountcalc.draw.build import Build, once
from mountcalc.draw.remarks import Remark
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import flat_material, section
from mountcalc.handbook.rows import datum, load
from mountcalc.record import Record
from mountcalc.scenario.model import PulleyFace

_FILE = "guarding"
_ROUNDING = 1e-9  # [m]


class GuardSizes(Record):
    """What a guard's panel is drawn from; lengths [m].

    The radii are those of pulleys or belt, whichever stands out further; the slot clears the
    motor's shaft by ``slot_clearance``, the opening is that for the driven shaft; the strip's cuts
    leave a ``skin``. ``taken`` tells by its key what the scenario does not say.
    """

    motor_radius: float
    driven_radius: float
    clearance: float
    slot_half_width: float
    slot_clearance: float
    opening_radius: float
    thickness: float
    kerf: float
    skin: float
    taken: Mapping[str, Remark]


def made(name: str) -> float:
    """A size of how guards are made here."""
    return datum(_FILE, load(_FILE)["made"][name]).value


@once
def guard_sizes(build: Build) -> GuardSizes:
    """The guard's sizes."""
    parts, driven, taken = build.scenario.parts, build.scenario.driven, dict[str, Remark]()
    guard, frame, belt = parts.guard, parts.frame, build.scenario.belt

    def size(given: float | None, name: str, what: str, key: str) -> float:
        if given is not None:
            return given
        found = datum(_FILE, load(_FILE)["default"][build.display][name])
        numbers = {"what": what, "size": found.value, "sure": found.sure, "key": key}
        taken[key] = Remark("guard.taken", numbers)
        return found.value

    thickness = size(guard.thickness, "thickness", "Panel and strip", "guard.thickness")
    kerf = size(guard.kerf, "kerf", "Saw kerf", "guard.kerf")
    name = "Clearance of belt and pulleys"
    clearance = size(guard.clearance, "clearance", name, "guard.clearance")
    name = "Clearance of the shafts"
    around = size(guard.slot_clearance, "slot_clearance", name, "guard.slot_clearance")
    diameter = None if frame is None else frame.shaft_diameter
    shaft = size(diameter, "shaft_diameter", "Motor shaft's diameter", "motor.frame")
    known = None if belt.section is None else section(belt.section)
    if known is None:
        is_flat = belt.section is not None and flat_material(belt.section) is not None
        name = "Belt outside its pitch line"
        thick = size(belt.thickness, "belt_over_pitch", name, "belt.section")
        over_belt = over_rim = 0.5 * thick if is_flat else thick
    else:
        over_belt = known.pitch_to_outside.value / math.tau
        rim = outside_less_pitch(known.name)
        over_rim = max(over_belt, 0.0 if rim is None else 0.5 * rim.value)
    motor_radius, driven_radius = (
        one.pulley_radius + (over_rim if one.pulley_face is PulleyFace.GROOVED else over_belt)
        for one in (build.scenario.motor, driven)
    )
    # The thickest of the driven shaft where it passes the panel: journal or shaft.
    nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
    passing = max(nearest.journal_diameter, driven.shaft_diameter or 0.0)
    return GuardSizes(
        motor_radius=motor_radius,
        driven_radius=driven_radius,
        clearance=clearance,
        slot_half_width=0.5 * shaft + around,
        slot_clearance=around,
        opening_radius=0.5 * passing + around,
        thickness=thickness,
        kerf=kerf,
        skin=min(made("skin"), made("skin_share") * thickness),
        taken=taken,
    )


class Gap(Record):
    """Room for the panel along the shafts between what is behind and what is before it."""

    behind: str
    back: float
    before: str
    front: float

    @property
    def width(self) -> float:
        """[m], below zero where they overlap."""
        return self.front - self.back


class PanelPlace(Record):
    """Where the panel stands [m], counted outward.

    ``air`` is to what is behind and before it, below zero where they meet; ``spacer`` from the
    bearing's face to the panel's back: None without a bearing behind the pulley, below zero where
    the panel would have to stand behind that face.
    """

    back: float
    front: float
    air_behind: float
    air_before: float
    spacer: float | None

    @property
    def fits(self) -> bool:
        """Whether both have the least air."""
        return min(self.air_behind, self.air_before) >= least_air() - _ROUNDING


def least_air() -> float:
    """Least air [m] between the panel and what turns or stands next to it (estimate)."""
    return datum("along_shafts", load("along_shafts")["panel"]["least_air"]).value


@once
def panel_of(build: Build) -> tuple[Gap | None, PanelPlace | None]:
    """The room for the guard's panel, and where it stands in it."""
    stack, given = along_stack(build), build.scenario.parts.guard.position
    if stack is None:
        return None, None
    bearing = stack.bearing_behind
    behind = [] if stack.motor_face is None else [(stack.motor_face, "the motor's face")]
    behind += [] if bearing is None else [(bearing.front, bearing.name)]
    before = [(pulley.back, pulley.name) for pulley in stack.pulleys]
    if not behind or not before:
        return None, None
    (back, back_name), (front, front_name) = max(behind), min(before)
    gap = Gap(back_name, back, front_name, front)
    if gap.width <= 0:
        return gap, None
    half = 0.5 * guard_sizes(build).thickness
    at = 0.5 * (back + front) if given is None else stack.outward * given
    spacer = None if bearing is None else at - half - bearing.front
    return gap, PanelPlace(at - half, at + half, at - half - back, front - (at + half), spacer)


def bearing_before(stack: AlongStack) -> Place | None:
    """The bearing next before the driven pulley, to which its shaft passes the guard's front."""
    before = [one for one in stack.bearings if one.middle > stack.driven_middle]
    return min(before, key=lambda one: one.middle, default=None)


def least_strip_width(build: Build) -> float | None:
    """How wide the strip around the panel has to be [m]."""
    stack, place = along_stack(build), panel_of(build)[1]
    if stack is None or place is None:
        return None
    driven_end = stack.driven_shaft_end if bearing_before(stack) is None else None
    ends = [one for one in (stack.motor_shaft_end, driven_end) if one is not None]
    outermost = max([one.front for one in stack.pulleys] + ends)
    return outermost + guard_sizes(build).clearance - place.back


def guard_front(build: Build) -> float | None:
    """Where the strip ends, and the guard's front lies on it."""
    place, least = panel_of(build)[1], least_strip_width(build)
    if place is None or least is None:
        return None
    given = build.scenario.parts.guard.strip_width
    return place.back + (least if given is None else given)
