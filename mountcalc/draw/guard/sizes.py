"""Sizes of the guard, given or taken with a note; where it stands along the shafts."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import AlongStack, Place, along_stack
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.hull import Cuts
from mountcalc.draw.remarks import Remark, Remarks
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import flat_material, section
from mountcalc.handbook.rows import datum, load
from mountcalc.scenario.model import PulleyFace

_FILE = "guarding"
_ROUNDING = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class GuardSizes:
    """What a guard's panel is drawn from; lengths [m].

    The radii are those of pulleys or belt, whichever stands out further; the slot clears the
    motor's shaft by ``slot_clearance``, the opening is that for the driven shaft. ``taken`` tells
    by its key what the scenario does not say.
    """

    motor_radius: float
    driven_radius: float
    clearance: float
    slot_half_width: float
    slot_clearance: float
    opening_radius: float
    thickness: float
    cuts: Cuts
    taken: Mapping[str, Remark]


def made(name: str) -> float:
    """A size of how guards are made here."""
    return datum(_FILE, load(_FILE)["made"][name]).value


@once
def guard_sizes(build: Build) -> GuardSizes:
    """The guard's sizes."""
    parts, driven, taken = build.scenario.parts, build.scenario.driven, dict[str, Remark]()
    guard, frame = parts.guard, parts.frame

    def size(given: float | None, name: str, what: str, key: str) -> float:
        if given is not None:
            return given
        found = datum(_FILE, load(_FILE)["default"][build.display][name])
        numbers = {"what": what, "size": found.value, "sure": found.sure, "key": key}
        taken[key] = Remark("guard.taken", numbers)
        return found.value

    thickness = size(guard.thickness, "thickness", "Panel and strip", "guard.thickness")
    kerf = size(guard.kerf, "kerf", "Saw kerf", "guard.kerf")
    clearance = size(
        guard.clearance, "clearance", "Clearance of belt and pulleys", "guard.clearance"
    )
    around = size(
        guard.slot_clearance, "slot_clearance", "Clearance of the shafts", "guard.slot_clearance"
    )
    diameter = None if frame is None else frame.shaft_diameter
    shaft = size(diameter, "shaft_diameter", "Motor shaft's diameter", "motor.frame")
    belt = build.scenario.belt
    known = None if belt.section is None else section(belt.section)
    if known is None:
        is_flat = belt.section is not None and flat_material(belt.section) is not None
        thick = size(
            belt.thickness, "belt_over_pitch", "Belt outside its pitch line", "belt.section"
        )
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
        cuts=Cuts(kerf, thickness, min(made("skin"), made("skin_share") * thickness)),
        taken=taken,
    )


@dataclass(frozen=True, slots=True)
class Gap:
    """Room for the panel along the shafts [m], counted outward; its width is below zero for none.

    ``behind`` and ``before`` name what bounds it.
    """

    back: float
    front: float
    behind: str
    before: str

    @property
    def width(self) -> float:
        """From what is behind to what is before it [m]."""
        return self.front - self.back


@dataclass(frozen=True, slots=True)
class PanelPlace:
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
    gap = None if stack is None else _gap(stack)
    if stack is None or gap is None or gap.width <= 0:
        return gap, None
    at = 0.5 * (gap.back + gap.front) if given is None else stack.outward * given
    half = 0.5 * guard_sizes(build).thickness
    back, front, bearing = at - half, at + half, stack.bearing_behind
    spacer = None if bearing is None else back - bearing.front
    return gap, PanelPlace(back, front, back - gap.back, gap.front - front, spacer)


def _gap(stack: AlongStack) -> Gap | None:
    behind: list[tuple[float, str]] = []
    if stack.motor_face is not None:
        behind.append((stack.motor_face, "the motor's face"))
    if (bearing := stack.bearing_behind) is not None:
        behind.append((bearing.front, bearing.name))
    before = [(pulley.back, pulley.name) for pulley in stack.pulleys]
    if not behind or not before:
        return None
    (back, back_name), (front, front_name) = max(behind), min(before)
    return Gap(back, front, back_name, front_name)


def bearing_before(stack: AlongStack) -> Place | None:
    """The bearing next before the driven pulley, to which its shaft passes the guard's front."""
    before = [one for one in stack.bearings if one.middle > stack.driven_middle]
    return min(before, key=lambda one: one.middle, default=None)


def _least_strip_width(build: Build) -> float | None:
    """How wide the strip around the panel has to be [m]."""
    stack, place = along_stack(build), panel_of(build)[1]
    if stack is None or place is None or not stack.pulleys:
        return None
    driven_end = stack.driven_shaft_end if bearing_before(stack) is None else None
    ends = [one for one in (stack.motor_shaft_end, driven_end) if one is not None]
    outermost = max([one.front for one in stack.pulleys] + ends)
    return outermost + guard_sizes(build).clearance - place.back


def guard_front(build: Build) -> float | None:
    """Where the strip ends, and the guard's front lies on it."""
    place, least = panel_of(build)[1], _least_strip_width(build)
    if place is None or least is None:
        return None
    given = build.scenario.parts.guard.strip_width
    return place.back + (least if given is None else given)


def say_panel(remarks: Remarks, build: Build) -> None:
    """Say where the guard's panel stands."""
    parts, (gap, place) = build.scenario.parts, panel_of(build)
    wanted = {
        "motor.face_position": parts.along.motor_face,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.pulley_width": parts.along.motor_pulley_width,
        "driven.pulley_width": parts.along.driven_pulley_width,
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
    if place.spacer <= 0:
        remarks.note("panel.no_spacer", place=place)
    else:
        remarks.facts["spacer"] = place.spacer
        remarks.note("panel.spacer", place=place)


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
        behind = _air(place.air_behind, f"into {gap.behind}", gap.behind)
        before = _air(place.air_before, f"past the back of {gap.before}", gap.before)
        remarks.caution("panel.at_position", behind=behind, before=before, least=least_air())


def _air(air: float, into: str, to: str) -> Remark:
    """How the panel stands to what is next to it."""
    return Remark("panel.reaches" if air < 0 else "panel.air", {"air": air, "into": into, "to": to})


def say_strip(remarks: Remarks, build: Build) -> None:
    """Say how wide the strip around the panel has to be."""
    sizes, width = guard_sizes(build), _least_strip_width(build)
    if width is None:
        return
    if taken := sizes.taken.get("guard.clearance"):
        remarks.add([taken])
    remarks.facts["strip_least_width"] = width
    if width <= 0:
        remarks.caution("panel.guards_none")
        return
    given = build.scenario.parts.guard.strip_width
    numbers = {"clearance": sizes.clearance, "width": width, "given": given}
    if given is None:
        remarks.note("panel.strip_least", **numbers)
    elif given < width - SAME:
        remarks.caution("panel.strip_short", short=width - given, **numbers)
    else:
        remarks.note("panel.strip_given", **numbers)
