"""Sizes of the guard, given or taken with a note; where it stands; its openings and their reach."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.build import Build, once
from mountcalc.draw.remarks import Remark, Remarks
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import flat_material, section
from mountcalc.handbook.rows import Datum, datum, load, source_of
from mountcalc.pages.amounts import finest_length
from mountcalc.record import Record
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.thresholds import ROUNDING, SAME_PLACE

HOUSING_OVER_JOURNAL = 2.0  # a bearing's housing over its journal [-] (estimate)
_FILE = "guarding"
_MM = 1e-3
_OF_STEP = 1e-6  # of a step: rounding
_HOUSING = "bearing's housing"


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
    the panel would have to stand behind that face. The strip around it has to be ``least_strip``
    wide, and ends at ``strip_front``, where the guard's front lies on it.
    """

    back: float
    front: float
    air_behind: float
    air_before: float
    spacer: float | None
    least_strip: float
    strip_front: float

    @property
    def fits(self) -> bool:
        """Whether both have the least air."""
        return min(self.air_behind, self.air_before) >= least_air() - ROUNDING


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
    half, width = 0.5 * guard_sizes(build).thickness, build.scenario.parts.guard.strip_width
    at = 0.5 * (back + front) if given is None else stack.outward * given
    ends = [stack.motor_shaft_end, stack.driven_shaft_end if stack.bearing_before is None else None]
    outermost = [
        one for one in (*ends, *(pulley.front for pulley in stack.pulleys)) if one is not None
    ]
    least = max(outermost) + guard_sizes(build).clearance - (at - half)
    return gap, PanelPlace(
        back=at - half,
        front=at + half,
        air_behind=at - half - back,
        air_before=front - (at + half),
        spacer=None if bearing is None else at - half - bearing.front,
        least_strip=least,
        strip_front=at - half + (least if width is None else width),
    )


class Opening(Record):
    """A round opening about the driven shaft's axis, in the panel or in the front; [m].

    Without a ``radius`` there is none, or nobody knows. The ``gap`` is around what it is ``around``
    (None where only the hole is known), ``air`` to the nearest pulley. ``remarks`` tell what was
    taken, and what the board meets.
    """

    radius: float | None
    around: str
    gap: float | None
    air: float | None
    remarks: tuple[Remark, ...]


@once
def driven_opening(build: Build) -> Opening:
    """The panel's opening for what it goes round at the driven shaft."""
    sizes, given = guard_sizes(build), build.scenario.parts.guard.bearing_opening
    stack, (gap, place) = along_stack(build), panel_of(build)
    met = None
    if stack is not None and gap is not None:
        # The bearing that the panel stands in or touches; without room, the one behind the pulley.
        if place is not None:
            met = stack.bearing_at(place.back - SAME_PLACE, place.front + SAME_PLACE)
        elif stack.bearing_behind is not None:
            met = stack.bearing_at(stack.bearing_behind.front, stack.bearing_behind.front)
    radius, around, spare = sizes.opening_radius, "driven shaft", sizes.slot_clearance
    key, hole = "", None if met is None and gap is not None else given
    numbers: dict[str, object] = {} if met is None else {"bearing": met.name}
    if hole is not None:
        key = "given_unknown" if met is None else "given"
    elif met is not None:
        key, housing = "housing", HOUSING_OVER_JOURNAL * met.journal_diameter
        numbers |= {"housing": housing, "times": HOUSING_OVER_JOURNAL}
        radius, around = max(0.5 * housing + spare, radius), _HOUSING
    elif gap is None:
        key = "unknown"
    elif given is not None:
        key = "not_used"
    remarks = (Remark(f"openings.{key}", numbers),) if key else ()
    air = None if place is None else place.air_before
    if hole is not None:
        return Opening(0.5 * hole, _HOUSING, None, air, remarks)
    return Opening(radius, around, spare, air, remarks)


@once
def front_opening(build: Build) -> Opening:
    """The opening of the front, which lies on the strip's edge."""
    stack, sizes, driven = along_stack(build), guard_sizes(build), build.scenario.driven
    place, end = panel_of(build)[1], None if stack is None else stack.driven_shaft_end
    front = None if place is None else place.strip_front
    radius, spare = sizes.opening_radius, sizes.slot_clearance
    passes: bool | None = None  # whether the driven shaft passes it, if that is known
    if stack is None:
        places = [one.position for one in driven.bearings]
        passes = min(places) < driven.pulley_position < max(places) or None
    elif stack.bearing_before is not None:
        passes = True
    elif front is not None and end is not None:
        passes = end > front
    if not passes:
        short = None if front is None or end is None else front - end
        key = "openings.front_unknown" if passes is None else "openings.front_closed"
        return Opening(None, "", None, None, (Remark(key, {"short": short}),))
    air = housed = None
    if stack is not None and front is not None:
        motor, pulley = stack.motor_pulley, stack.driven_pulley
        if motor is not None and pulley is not None:
            air = front - max(motor.front, pulley.front)
        housed = stack.bearing_at(front, front + sizes.thickness)
    if housed is None:
        remark = Remark("openings.front_shaft", {"across": 2.0 * radius})
        return Opening(radius, "driven shaft", spare, air, (remark,))
    radius = max(0.5 * HOUSING_OVER_JOURNAL * housed.journal_diameter + spare, radius)
    numbers = {"bearing": housed.name, "across": 2.0 * radius, "times": HOUSING_OVER_JOURNAL}
    return Opening(radius, _HOUSING, spare, air, (Remark("openings.front_housing", numbers),))


def widest_opening() -> float:
    """The widest opening that the table has [m]; through wider ones whole arms reach."""
    return float(load(_FILE)["reach"]["rows"][-1]["to_mm"]) * _MM


def reach_distance(
    shape: Literal["slot", "square", "round"], size: float, length: float | None = None
) -> Datum | None:
    """Least distance from an opening to the danger behind it."""
    table = load(_FILE)["reach"]
    row = next((row for row in table["rows"] if size <= row["to_mm"] * _MM + ROUNDING), None)
    if row is None:
        return None
    is_short = length is not None and length <= table["short_slot_mm"] * _MM + ROUNDING
    is_short = is_short and shape == "slot" and "short_slot_mm" in row
    key = "short_slot_mm" if is_short else f"{shape}_mm"
    return Datum(row[key] * _MM, source_of(_FILE, table), table["sure"])


def say_reach(remarks: Remarks, build: Build, slot: tuple[float, float]) -> None:
    """Slot (width and length [m]), gap at the driven shaft and in the front, each against reach."""

    def say(
        name: str, cure: str, board: str, air: float | None, width: float, length: float | None
    ) -> None:
        found = reach_distance("slot", width, length)
        if found is None:
            remarks.say("reach.whole_arms", name=name, width=width, widest=widest_opening())
            return
        key = "too_near"
        if air is None:
            key = "measure"
        elif air < -SAME:
            key = "not_clear"
        elif air >= found.value:
            key = "far_enough"
        step = finest_length(build.display)
        least = math.ceil(found.value / step - _OF_STEP) * step
        numbers = {"name": name, "width": width, "source": found.source, "least": least}
        remarks.say(
            f"reach.{key}",
            wanted=Remark("reach.wanted", numbers),
            board=board,
            air=max(air or 0.0, 0.0),
            cure=Remark(f"reach.{cure}", {"board": board}),
        )

    driven, front = driven_opening(build), front_opening(build)
    say("The motor's slot", "cure_slot", "panel", driven.air, *slot)
    for board, one, name in (("panel", driven, "The gap"), ("front", front, "The front's gap")):
        if one.gap is not None:
            say(f"{name} around the {one.around}", "cure_ring", board, one.air, one.gap, None)
        elif one.radius is not None:
            numbers = {"around": one.around, "across": 2.0 * one.radius, "board": board}
            remarks.say("reach.unknown_gap", **numbers)
