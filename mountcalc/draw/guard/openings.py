"""Openings of the guard for shafts and housings, and what a hand reaches through them."""

from __future__ import annotations

import math
from typing import Literal

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import AlongStack, along_stack, place_of
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.sizes import bearing_before, guard_front, guard_sizes, panel_of
from mountcalc.draw.remarks import Remark, Remarks
from mountcalc.handbook.rows import Datum, load, source_of
from mountcalc.pages.amounts import finest_length
from mountcalc.record import Record
from mountcalc.scenario.model import Bearing

HOUSING_OVER_JOURNAL = 2.0  # a bearing's housing over its journal [-] (estimate)
_TOUCH = 1e-6  # [m]
_FILE = "guarding"
_MM = 1e-3
_ROUNDING = 1e-9  # [m]
_OF_STEP = 1e-6  # of a step: rounding
_HOUSING = "bearing's housing"


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
            met = _bearing_at(build, stack, place.back - _TOUCH, place.front + _TOUCH)
        elif stack.bearing_behind is not None:
            met = _bearing_at(build, stack, stack.bearing_behind.front, stack.bearing_behind.front)
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


def _bearing_at(build: Build, stack: AlongStack, back: float, front: float) -> Bearing | None:
    """The first bearing that has something between two places along the shafts [m]."""
    for one in build.scenario.driven.bearings:
        at = place_of(one, stack.outward)
        if at.back <= front and at.front >= back:
            return one
    return None


@once
def front_opening(build: Build) -> Opening:
    """The opening of the front, which lies on the strip's edge."""
    stack, sizes, driven = along_stack(build), guard_sizes(build), build.scenario.driven
    front, end = guard_front(build), None if stack is None else stack.driven_shaft_end
    radius, spare = sizes.opening_radius, sizes.slot_clearance
    passes: bool | None = None  # whether the driven shaft passes it, if that is known
    if stack is None:
        places = [one.position for one in driven.bearings]
        passes = min(places) < driven.pulley_position < max(places) or None
    elif bearing_before(stack) is not None:
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
        housed = _bearing_at(build, stack, front, front + sizes.thickness)
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
    row = next((row for row in table["rows"] if size <= row["to_mm"] * _MM + _ROUNDING), None)
    if row is None:
        return None
    is_short = length is not None and length <= table["short_slot_mm"] * _MM + _ROUNDING
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
