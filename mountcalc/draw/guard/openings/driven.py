"""The panel's opening around the driven shaft, or around its bearing's housing."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack, along_stack, place_of
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel_place import PanelPlace
from mountcalc.draw.guard.panel_words import panel_of
from mountcalc.draw.guard.sizes import GuardSizes
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Bearing

__all__ = ["HOUSING_OVER_JOURNAL", "DrivenOpening", "driven_opening"]

HOUSING_OVER_JOURNAL = 2.0  # a bearing's housing over its journal [-] (estimate)
_TOUCH = 1e-6  # [m]
_HOUSING = "bearing's housing"
_NOT_MET = (
    "guard.bearing_opening is not used: the panel stands clear of the bearings, and the opening is "
    "for the driven shaft."
)


@dataclass(frozen=True, slots=True)
class DrivenOpening:
    """A round opening about the driven shaft's axis.

    Attributes
    ----------
    radius : float [m]
    around : str
        What the panel is open for.
    gap : float or None [m]
        Between the panel and what it is open for; None where only the hole is known.
    notes, cautions : tuple of str
        What was taken, and what the panel meets.
    """

    radius: float
    around: str
    gap: float | None
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def driven_opening(build: Build, sizes: GuardSizes) -> DrivenOpening:
    """The opening for what the panel goes round at the driven shaft."""
    stack, given = along_stack(build), build.scenario.parts.guard.bearing_opening
    gap, place = (None, None) if stack is None else panel_of(build, stack)
    if stack is None or gap is None:
        return _place_unknown(given, sizes)
    cautions = _into_motor(build, stack, place)
    met = _bearing_met(build, stack, place)
    if met is None:
        notes = () if given is None else (_NOT_MET,)
        return _for_shaft(sizes, notes, cautions)
    meets = f"The panel meets bearing {met.name!r} along the shafts: the opening is"
    if given is not None:
        return _as_given(given, f"{meets} the one of guard.bearing_opening.", cautions)
    housing = HOUSING_OVER_JOURNAL * met.journal_diameter
    note = (
        f"{meets} for its housing, taken {bench_length(housing, build.display)} across, "
        f"{HOUSING_OVER_JOURNAL:.0f} times its journal (estimate); guard.bearing_opening would "
        "give the hole. Measure the housing and its feet before cutting."
    )
    radius = max(0.5 * housing + sizes.slot_clearance, sizes.opening_radius)
    return DrivenOpening(radius, _HOUSING, sizes.slot_clearance, (note,), cautions)


def _place_unknown(given: float | None, sizes: GuardSizes) -> DrivenOpening:
    """The opening where nothing tells whether the panel meets a bearing."""
    unknown = "Where the panel stands along the shafts is not known: the opening is"
    if given is not None:
        return _as_given(given, f"{unknown} the one of guard.bearing_opening.", ())
    note = (
        f"{unknown} for the driven shaft alone. Measure the bearing's housing first; if they meet, "
        "guard.bearing_opening opens for it."
    )
    return _for_shaft(sizes, (note,), ())


def _for_shaft(
    sizes: GuardSizes, notes: tuple[str, ...], cautions: tuple[str, ...]
) -> DrivenOpening:
    return DrivenOpening(
        sizes.opening_radius, "driven shaft", sizes.slot_clearance, notes, cautions
    )


def _as_given(given: float, note: str, cautions: tuple[str, ...]) -> DrivenOpening:
    return DrivenOpening(0.5 * given, _HOUSING, None, (note,), cautions)


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


def _into_motor(build: Build, stack: AlongStack, place: PanelPlace | None) -> tuple[str, ...]:
    if place is None or stack.motor_face is None or place.back >= stack.motor_face - _TOUCH:
        return ()
    deep = bench_length(stack.motor_face - place.back, build.display)
    return (
        f"The panel's back is {deep} behind the motor's face: it cuts into the motor, and the slot "
        "is for the motor's shaft alone.",
    )
