"""Whether the driven shaft passes the guard's front, and the opening that the front then needs."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack, along_stack, place_of
from mountcalc.draw.build import Build
from mountcalc.draw.guard.openings.driven import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.panel_words import bearing_before, guard_front
from mountcalc.draw.guard.sizes import GuardSizes
from mountcalc.scenario.model import Bearing

__all__ = ["FrontOpening", "Passes", "front_opening"]


@dataclass(frozen=True, slots=True)
class FrontOpening:
    """A round opening in the front, about the driven shaft's axis.

    Attributes
    ----------
    radius : float [m]
    housing : Bearing or None
        The bearing in whose housing the front stands; None where it is open for the shaft.
    gap : float [m]
        Around what it is open for.
    air : float or None [m]
        From the front back to the nearest pulley; None where positions do not tell.
    """

    radius: float
    housing: Bearing | None
    gap: float
    air: float | None


@dataclass(frozen=True, slots=True)
class Passes:
    """Whether the driven shaft passes the front.

    Attributes
    ----------
    opening : FrontOpening or None
        None where it does not pass it, or where that is not known.
    short : float or None [m]
        How far behind the front it ends; None where it passes it, or where that is not known.
    """

    opening: FrontOpening | None = None
    short: float | None = None


def front_opening(build: Build, sizes: GuardSizes) -> Passes:
    """The opening of the front."""
    stack = along_stack(build)
    if stack is None:
        between = _is_between(build)
        return Passes(_for_shaft(sizes, None) if between else None)
    front, end = guard_front(build, stack), stack.driven_shaft_end
    before = bearing_before(stack)
    if before is None and (front is None or end is None):
        return Passes()
    if before is None and front is not None and end is not None and end <= front:
        return Passes(short=front - end)
    air = _air(stack, front)
    met = None if front is None else _met(build, stack, front, sizes.thickness)
    if met is None:
        return Passes(_for_shaft(sizes, air))
    housing = 0.5 * HOUSING_OVER_JOURNAL * met.journal_diameter + sizes.slot_clearance
    radius = max(housing, sizes.opening_radius)
    return Passes(FrontOpening(radius, met, sizes.slot_clearance, air))


def _is_between(build: Build) -> bool:
    places = [one.position for one in build.scenario.driven.bearings]
    return min(places) < build.scenario.driven.pulley_position < max(places)


def _for_shaft(sizes: GuardSizes, air: float | None) -> FrontOpening:
    return FrontOpening(sizes.opening_radius, None, sizes.slot_clearance, air)


def _air(stack: AlongStack, front: float | None) -> float | None:
    motor, driven = stack.motor_pulley, stack.driven_pulley
    if front is None or motor is None or driven is None:
        return None
    return front - max(motor.front, driven.front)


def _met(build: Build, stack: AlongStack, front: float, thickness: float) -> Bearing | None:
    """The bearing in which the front stands, which lies on the strip's edge."""
    for one in build.scenario.driven.bearings:
        at = place_of(one, stack.outward)
        if at.back <= front + thickness and at.front >= front:
            return one
    return None
