"""Openings of the guard for shafts and housings, and what a hand reaches through them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import AlongStack, along_stack, place_of
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.sizes import (
    PanelPlace,
    bearing_before,
    guard_front,
    guard_sizes,
    panel_of,
)
from mountcalc.draw.remarks import Remark, Remarks
from mountcalc.handbook.rows import Datum, load, source_of
from mountcalc.pages.amounts import finest_length
from mountcalc.scenario.model import Bearing

HOUSING_OVER_JOURNAL = 2.0  # a bearing's housing over its journal [-] (estimate)
_TOUCH = 1e-6  # [m]
_FILE = "guarding"
_MM = 1e-3
_ROUNDING = 1e-9  # [m]
_OF_STEP = 1e-6  # of a step: rounding
_HOUSING = "bearing's housing"


@dataclass(frozen=True, slots=True)
class DrivenOpening:
    """The panel's round opening about the driven shaft's axis, and what it is open ``around``.

    ``gap`` [m] is between the panel and that; None where only the hole is known. ``remarks`` tell
    what was taken, and what the panel meets.
    """

    radius: float
    around: str
    gap: float | None
    remarks: tuple[Remark, ...]


@once
def driven_opening(build: Build) -> DrivenOpening:
    """The opening for what the panel goes round at the driven shaft."""
    sizes, given = guard_sizes(build), build.scenario.parts.guard.bearing_opening
    stack, (gap, place) = along_stack(build), panel_of(build)
    remarks: list[Remark] = []

    def opening(radius: float, around: str, gap: float | None) -> DrivenOpening:
        return DrivenOpening(radius, around, gap, tuple(remarks))

    is_known = stack is not None and gap is not None
    face = None if stack is None else stack.motor_face
    if is_known and place is not None and face is not None and place.back < face - _TOUCH:
        deep = {"deep": face - place.back}
        remarks.append(Remark("openings.into_motor", deep, is_caution=True))
    met = _bearing_met(build, stack, place) if stack is not None and is_known else None
    if met is None and is_known:
        if given is not None:
            remarks.append(Remark("openings.not_used"))
        return opening(sizes.opening_radius, "driven shaft", sizes.slot_clearance)
    numbers = {} if met is None else {"bearing": met.name}
    if given is not None:
        key = "openings.given_unknown" if met is None else "openings.given"
        remarks.append(Remark(key, numbers))
        return opening(0.5 * given, _HOUSING, None)
    if met is None:
        remarks.append(Remark("openings.unknown"))
        return opening(sizes.opening_radius, "driven shaft", sizes.slot_clearance)
    housing = HOUSING_OVER_JOURNAL * met.journal_diameter
    taken = {"housing": housing, "times": HOUSING_OVER_JOURNAL}
    remarks.append(Remark("openings.housing", numbers | taken))
    radius = max(0.5 * housing + sizes.slot_clearance, sizes.opening_radius)
    return opening(radius, _HOUSING, sizes.slot_clearance)


def _bearing_met(build: Build, stack: AlongStack, place: PanelPlace | None) -> Bearing | None:
    """The bearing that the panel stands in or touches; without room, the one behind the pulley."""
    for one in build.scenario.driven.bearings:
        at = place_of(one, stack.outward)
        if place is None:
            if stack.bearing_behind is not None and at.front == stack.bearing_behind.front:
                return one
        elif place.back <= at.front + _TOUCH and place.front >= at.back - _TOUCH:
            return one
    return None


@dataclass(frozen=True, slots=True)
class Front:
    """Whether the driven shaft passes the guard's front, and the opening that this then needs; [m].

    No ``radius`` where it does not pass, or where that is not known; ``housing`` is that in which
    the front stands, ``air`` from the front back to the nearest pulley, and the shaft ends
    ``short`` behind it.
    """

    radius: float | None = None
    housing: Bearing | None = None
    air: float | None = None
    short: float | None = None


@once
def front_opening(build: Build) -> Front:
    """The opening of the front."""
    stack, sizes, driven = along_stack(build), guard_sizes(build), build.scenario.driven
    if stack is None:
        places = [one.position for one in driven.bearings]
        is_between = min(places) < driven.pulley_position < max(places)
        return Front(sizes.opening_radius) if is_between else Front()
    front, end = guard_front(build), stack.driven_shaft_end
    if bearing_before(stack) is None:
        if front is None or end is None:
            return Front()
        if end <= front:
            return Front(short=front - end)
    if front is None:
        return Front(sizes.opening_radius)
    motor, pulley = stack.motor_pulley, stack.driven_pulley
    air = None
    if motor is not None and pulley is not None:
        air = front - max(motor.front, pulley.front)
    for one in driven.bearings:  # the front lies on the strip's edge
        at = place_of(one, stack.outward)
        if at.back <= front + sizes.thickness and at.front >= front:
            housing = 0.5 * HOUSING_OVER_JOURNAL * one.journal_diameter + sizes.slot_clearance
            return Front(max(housing, sizes.opening_radius), one, air)
    return Front(sizes.opening_radius, None, air)


def say_front(remarks: Remarks, build: Build) -> None:
    """Say how the front is open."""
    front = front_opening(build)
    key, across = "front_housing", 2.0 * (front.radius or 0.0)
    if front.short is not None:
        key = "front_closed"
    elif front.radius is None:
        key = "front_unknown"
    elif front.housing is None:
        key = "front_shaft"
    bearing = "" if front.housing is None else front.housing.name
    numbers = {"short": front.short, "across": across, "times": HOUSING_OVER_JOURNAL}
    remarks.note(f"openings.{key}", bearing=bearing, **numbers)


class Opening(StrEnum):
    """Shapes of openings that the table of reach tells apart."""

    SLOT = "slot"
    SQUARE = "square"
    ROUND = "round"


def widest_opening() -> float:
    """The widest opening that the table has [m]; through wider ones whole arms reach."""
    return float(load(_FILE)["reach"]["rows"][-1]["to_mm"]) * _MM


def reach_distance(shape: Opening, size: float, length: float | None = None) -> Datum | None:
    """Least distance from an opening to the danger behind it."""
    table = load(_FILE)["reach"]
    row = next((row for row in table["rows"] if size <= row["to_mm"] * _MM + _ROUNDING), None)
    if row is None:
        return None
    is_short = length is not None and length <= table["short_slot_mm"] * _MM + _ROUNDING
    key = f"{shape}_mm"
    if shape is Opening.SLOT and is_short and "short_slot_mm" in row:
        key = "short_slot_mm"
    return Datum(row[key] * _MM, source_of(_FILE, table), table["sure"])


def say_reach(remarks: Remarks, build: Build, slot: tuple[float, float]) -> None:
    """Slot (width and length [m]), gap at the driven shaft and in the front, each against reach."""
    driven, front, place = driven_opening(build), front_opening(build), panel_of(build)[1]
    air = None if place is None else place.air_before
    say = partial(_say_reach, remarks, build)
    say("The motor's slot", "cure_slot", ("panel", air), slot)
    around, gap = driven.around, guard_sizes(build).slot_clearance
    if driven.gap is None:
        across = 2.0 * driven.radius
        remarks.caution("reach.unknown_gap", around=around, across=across, board="panel")
    else:
        say(f"The gap around the {around}", "cure_ring", ("panel", air), (driven.gap, None))
    if front.radius is not None:
        around = "driven shaft" if front.housing is None else _HOUSING
        name = f"The front's gap around the {around}"
        say(name, "cure_ring", ("front", front.air), (gap, None))


def _say_reach(
    remarks: Remarks,
    build: Build,
    name: str,
    cure: str,
    board: tuple[str, float | None],
    size: tuple[float, float | None],
) -> None:
    """An opening of a width and a length [m] in a board so far [m] from the nearest pulley."""
    (of, air), (width, length) = board, size
    found = reach_distance(Opening.SLOT, width, length)
    if found is None:
        remarks.caution("reach.whole_arms", name=name, width=width, widest=widest_opening())
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
    remarks.caution(
        f"reach.{key}",
        wanted=Remark(
            "reach.wanted",
            {"name": name, "width": width, "source": found.source, "least": least},
        ),
        board=of,
        air=max(air or 0.0, 0.0),
        cure=Remark(f"reach.{cure}", {"board": of}),
    )
