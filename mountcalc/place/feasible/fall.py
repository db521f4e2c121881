"""What a plate does when the belt breaks: whether it falls, how far, and where a stop must be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely

from mountcalc.linkage import kernels
from mountcalc.place.feasible.clearances import bars
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.layouts import ACTIONS, IN_PLATE, Layouts
from mountcalc.place.feasible.parts import Part, parts_of
from mountcalc.place.feasible.statics import Statics
from mountcalc.scenario.model import KeepOut, Scenario, Vector
from mountcalc.scenario.search import Action, Search

__all__ = ["Fall", "Rests", "Stop", "fall_of"]

# A stop stands where it leaves the travel free by this angle [rad] (estimate: 1 degree).
_STOP_MARGIN = math.radians(1.0)
_TOUCHING = 1e-4  # [m]
# Weights whose common lever is below this share of its greatest turn the plate neither way.
_NO_LEVER = 1e-9


class Rests(StrEnum):
    """What holds a plate whose belt is gone; the text continues "the plate ..."."""

    ADJUSTER = "rests on the adjuster and does not fall"
    BALANCE = "has its weight over or under the hinge and does not fall"
    HANGING = "falls until it hangs from the hinge"
    KEEP_OUT = "falls against a keep-out"
    PULLEYS = "falls until the pulleys touch"


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a stop must be: just beyond the travel, on the side that the weight drives to.

    ``at`` [m] is the point of the plate's end that meets it, at the plate angle ``angle`` [rad];
    ``drop`` [m] is how far the motor's shaft sinks until then.
    """

    at: Vector
    angle: float
    drop: float


@dataclass(frozen=True, slots=True)
class Fall:
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


@dataclass(frozen=True, slots=True)
class _Plate:
    """One layout that may fall: its parts, and the keep-outs in the way of each."""

    scenario: Scenario
    layout: Layouts
    ends: tuple[float, float]
    parts: list[Part]
    in_the_way: list[tuple[KeepOut, Part, shapely.Polygon]]

    @classmethod
    def of(cls, search: Search, layout: Layouts, ends: tuple[float, float]) -> _Plate:
        """That of a layout; a bolt through the plate and its head fall with it."""
        names = {"plate", "motor"} | ({"bolt"} if layout.kind[0] == IN_PLATE else set())
        every = parts_of(layout, np.array([ends]), search)
        falls = [part for part in every if part.name in names]
        in_the_way = [
            (keep_out, part, shapely.Polygon(keep_out.corners))
            for keep_out in search.space.keep_outs
            for part in falls
            if bars(keep_out, part.name)
        ]
        return cls(search.scenario, layout, ends, list(every), in_the_way)

    @property
    def lever(self) -> float:
        """How far from the hinge what falls reaches [m]."""
        pieces = [piece for part in self.parts if part.name != "belt" for piece in part.pieces]
        return max(float(piece.lever[0] + piece.radius * piece.turns.any()) for piece in pieces)

    def height(self, angle: float) -> float:
        """Height of the motor's shaft [m]."""
        return self._motor(angle)[1]

    def _motor(self, angle: float) -> Vector:
        at = kernels.plate_point(angle, *self.layout.hinge[0], *self.layout.motor[0])
        return float(at.x), float(at.y)

    def room(self, angle: float) -> tuple[float, str | None]:
        """Distance [m] to the first thing in the way, and the keep-out's name if it is one."""
        driven = self.scenario.driven
        radii = driven.pulley_radius + self.scenario.motor.pulley_radius
        found: list[tuple[float, str | None]] = [
            (math.dist(self._motor(angle), driven.shaft) - radii, None)
        ]
        only, at = np.zeros(1, dtype=np.intp), np.array([[angle]])
        for keep_out, part, polygon in self.in_the_way:
            found.append((float(part.apart(polygon, only, at).min()), keep_out.name))
        return min(found, key=lambda one: one[0])


def fall_of(search: Search, layout: Layouts, ends: tuple[float, float], angle: float) -> Fall:
    """What happens when the belt of a layout that swings between two ends breaks at an angle."""
    scenario, space = search.scenario, search.space
    drives = drives_of(scenario, space, 0.0, 0.0).of(layout.belt)
    statics, plate = Statics(scenario, space, layout, drives), _Plate.of(search, layout, ends)
    # The weights' moment, clockwise positive, as drawn and a quarter turn on: both levers [N m].
    level, upright = statics.weights(np.array([[0.0], [math.pi / 2]])).y_slope[:, 0].tolist()
    moment = level * math.cos(angle) + upright * math.sin(angle)
    if abs(moment) <= _NO_LEVER * math.hypot(level, upright):
        return Fall(Rests.BALANCE, angle, 0.0, None, None)
    way = -math.copysign(1.0, moment)
    stop = _stop(plate, angle, way)
    slope = float(statics.adjuster(np.array([angle])).extension_slope[0])
    if _carried(layout, moment / slope):
        return Fall(Rests.ADJUSTER, angle, 0.0, None, stop)
    rests, end, against = _falls_to(plate, angle, way, _hanging(level, upright, angle, way))
    return Fall(rests, end, plate.height(angle) - plate.height(end), against, stop)


def _carried(layout: Layouts, force: float) -> bool:
    """Whether the adjuster can bear an axial force, compression positive."""
    pulls = ACTIONS[int(layout.acts[0])] is Action.PULL
    return force <= 0.0 if pulls else force >= 0.0


def _hanging(level: float, upright: float, angle: float, way: float) -> float:
    """Plate angle at which the weights hang straight down, met going one way from an angle."""
    # The lever is level cos(phi) + upright sin(phi); it hangs where that goes to zero on the way.
    zero = math.atan2(-level, upright)
    return angle + way * min((way * (at - angle)) % math.tau for at in (zero, zero + math.pi))


def _falls_to(
    plate: _Plate, angle: float, way: float, hanging: float
) -> tuple[Rests, float, str | None]:
    """Follow the fall: no part can meet anything before it has moved by the room that is left."""
    at, lever = angle, plate.lever
    while way * (hanging - at) > 0.0:
        room, against = plate.room(at)
        if room <= _TOUCHING:
            return (Rests.PULLEYS if against is None else Rests.KEEP_OUT), at, against
        at += way * room / lever
    return Rests.HANGING, hanging, None


def _stop(plate: _Plate, angle: float, way: float) -> Stop:
    """Where the plate's end is just beyond the end of the travel that it is driven to."""
    layout = plate.layout
    end = max(plate.ends, key=lambda at: way * at)
    stop_angle = end + way * _STOP_MARGIN
    corners = plate.parts[0].pieces[0].corners[0]
    ahead = way * np.array([-layout.along_y[0], layout.along_x[0]])
    # Of the corners of the plate's far end the one on the side that it moves to.
    far = (corners - layout.hinge[0]) @ layout.along[0]
    reach = np.where(far > 0.5 * far.max(), (corners - layout.hinge[0]) @ ahead, -np.inf)
    corner = corners[int(np.argmax(reach))]
    at = kernels.plate_point(stop_angle, *layout.hinge[0], *corner)
    drop = plate.height(angle) - plate.height(stop_angle)
    return Stop((float(at.x), float(at.y)), stop_angle, drop)
