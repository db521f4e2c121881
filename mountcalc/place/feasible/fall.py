"""What a plate does when the belt breaks: whether it falls, how far, and where a stop must be."""

from __future__ import annotations

import cmath
import math
from enum import StrEnum

import numpy as np
import shapely

from mountcalc.place.feasible.clearances import bars
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.layouts import IN_PLATE, Layouts
from mountcalc.place.feasible.parts import parts_of
from mountcalc.place.feasible.statics import Statics
from mountcalc.record import Record
from mountcalc.scenario.search import Search
from mountcalc.scenario.text.writing import Vector
from mountcalc.thresholds import MARKED, ROUNDING

# A stop stands where it leaves the travel free by this angle [rad] (estimate: 1 degree).
_STOP_MARGIN = math.radians(1.0)


class Rests(StrEnum):
    """What holds a plate whose belt is gone; the text continues "the plate ..."."""

    ADJUSTER = "rests on the adjuster and does not fall"
    BALANCE = "has its weight over or under the hinge and does not fall"
    HANGING = "falls until it hangs from the hinge"
    KEEP_OUT = "falls against a keep-out"
    PULLEYS = "falls until the pulleys touch"


class Stop(Record):
    """Where a stop must be: just beyond the travel, on the side that the weight drives to.

    ``at`` [m] is the point of the plate's end that meets it, at the plate angle ``angle`` [rad];
    ``drop`` [m] is how far the motor's shaft sinks until then.
    """

    at: Vector
    angle: float
    drop: float


class Fall(Record):
    """What happens when the belt breaks at the set point.

    ``angle`` [rad] is the plate angle at which it comes to rest and ``drop`` [m] how far the
    motor's shaft has sunk then, without a stop; a plate that falls until it hangs swings past that
    first. ``against`` names the keep-out. ``stop`` is None where the weight drives it nowhere.
    """

    rests: Rests
    angle: float
    drop: float
    against: str | None
    stop: Stop | None


def fall_of(search: Search, layout: Layouts, ends: tuple[float, float], angle: float) -> Fall:
    """What happens when the belt of a layout that swings between two ends breaks at an angle."""
    scenario, space = search.scenario, search.space
    statics = Statics(scenario, space, layout, drives_of(scenario, space, 0.0, 0.0).of(layout.belt))
    hinge, motor = complex(layout.hinge[0]), complex(layout.motor[0])
    parts = parts_of(layout, np.array([ends]), search)

    def turned(place: complex, to: float) -> complex:
        return hinge + (place - hinge) * cmath.rect(1.0, to)

    def drop(to: float) -> float:
        return turned(motor, angle).imag - turned(motor, to).imag

    # The weights' moment, clockwise positive, as drawn and a quarter turn on: both levers [N m].
    level, upright = statics.held.weights(np.array([[0.0], [math.pi / 2]])).y_slope[:, 0].tolist()
    moment = level * math.cos(angle) + upright * math.sin(angle)
    if abs(moment) <= ROUNDING * math.hypot(level, upright):
        return Fall(Rests.BALANCE, angle, 0.0, None, None)
    way = -math.copysign(1.0, moment)

    # Of the corners of the plate's far end the stop meets the one on the side that it moves to.
    stop_angle = max(ends, key=lambda at: way * at) + way * _STOP_MARGIN
    along = complex(layout.along[0])
    corners = [complex(at) for at in parts[0].pieces[0].corners[0]]
    far = sorted(corners, key=lambda at: ((at - hinge) / along).real)[2:]
    meets = turned(max(far, key=lambda at: way * ((at - hinge) / along).imag), stop_angle)
    stop = Stop((meets.real, meets.imag), stop_angle, drop(stop_angle))

    if moment / statics.adjuster(np.array([angle])).extension_slope[0] * statics.carries[0] >= 0.0:
        return Fall(Rests.ADJUSTER, angle, 0.0, None, stop)

    # A bolt through the plate and its head fall with it.
    names = {"plate", "motor"} | ({"bolt"} if layout.kind[0] == IN_PLATE else set())
    in_the_way = [
        (keep_out.name, part, shapely.Polygon(keep_out.corners))
        for keep_out in search.space.keep_outs
        for part in parts
        if part.name in names and bars(keep_out, part.name)
    ]
    pieces = [piece for part in parts if part.name != "belt" for piece in part.pieces]
    lever = max(float(one.lever[0] + one.radius * one.turns.any()) for one in pieces)
    radii = scenario.driven.pulley_radius + scenario.motor.pulley_radius
    driven, only = complex(*scenario.driven.shaft), np.zeros(1, dtype=np.intp)
    # The lever is level cos(phi) + upright sin(phi); the weights hang where that is nothing.
    zero = math.atan2(-level, upright)
    hanging = angle + way * min((way * (at - angle)) % math.tau for at in (zero, zero + math.pi))
    at = angle
    while way * (hanging - at) > 0.0:
        # No part can meet anything before it has moved by the room that is left.
        found: list[tuple[float, str | None]] = [(abs(turned(motor, at) - driven) - radii, None)]
        for name, part, polygon in in_the_way:
            found.append((float(part.apart(polygon, only, np.array([[at]])).min()), name))
        room, against = min(found, key=lambda one: one[0])
        if room <= MARKED:
            rests = Rests.PULLEYS if against is None else Rests.KEEP_OUT
            return Fall(rests, at, drop(at), against, stop)
        at += way * room / lever
    return Fall(Rests.HANGING, hanging, drop(hanging), None, stop)
