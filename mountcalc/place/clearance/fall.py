"""What a plate does when the belt breaks: whether it falls, how far, and where a stop must be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely

from mountcalc.linkage import kernels
from mountcalc.place.clearance.clearances import bars
from mountcalc.place.clearance.shapes import Outlines
from mountcalc.place.feasible.statics import Statics
from mountcalc.place.layouts.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.layouts.motion import Motion
from mountcalc.scenario.model import KeepOut, Scenario, Vector
from mountcalc.scenario.search import Action, SearchSpace

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
    """One layout that may fall: its parts, its weight and what is in the way."""

    scenario: Scenario
    layout: Layouts
    outlines: Outlines
    polygons: dict[str, shapely.Polygon]
    keep_outs: Sequence[KeepOut]

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
        nearest: tuple[float, str | None] = (
            math.dist(self._motor(angle), driven.shaft) - radii,
            None,
        )
        for keep_out in self.keep_outs:
            for name in self.outlines.on_plate:
                if bars(keep_out, name) and name != "wrench":
                    polygon = self.polygons[keep_out.name]
                    distance = float(
                        shapely.distance(self.outlines.part(name, angle), polygon).min()
                    )
                    nearest = min(nearest, (distance, keep_out.name), key=lambda one: one[0])
        return nearest


def fall_of(
    scenario: Scenario, space: SearchSpace, layout: Layouts, outlines: Outlines, angle: float
) -> Fall:
    """What happens when the belt of a layout breaks."""
    motion = Motion.of(scenario, space, KINDS[int(layout.kind[0])])
    statics = Statics(scenario, space, motion)
    polygons = {one.name: shapely.Polygon(one.corners) for one in space.keep_outs}
    plate = _Plate(scenario, layout, outlines, polygons, space.keep_outs)
    # The weights' moment, clockwise positive, as drawn and a quarter turn on: both levers [N m].
    quarters = (np.array([[at]]) for at in (0.0, math.pi / 2))
    level, upright = (float(statics.weight_moment(layout, at)[0, 0]) for at in quarters)
    moment = level * math.cos(angle) + upright * math.sin(angle)
    if abs(moment) <= _NO_LEVER * math.hypot(level, upright):
        return Fall(Rests.BALANCE, angle, 0.0, None, None)
    way = -math.copysign(1.0, moment)
    stop = _stop(plate, angle, way)
    slope = float(motion.adjuster(layout, np.array([angle])).extension_slope[0])
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
    at = angle
    lever = max(plate.outlines.lever(name) for name in (*plate.outlines.on_plate, "belt"))
    while way * (hanging - at) > 0.0:
        room, against = plate.room(at)
        if room <= _TOUCHING:
            return (Rests.PULLEYS if against is None else Rests.KEEP_OUT), at, against
        at += way * room / lever
    return Rests.HANGING, hanging, None


def _stop(plate: _Plate, angle: float, way: float) -> Stop:
    """Where the plate's end is just beyond the end of the travel that it is driven to."""
    layout = plate.layout
    end = max(plate.outlines.ends, key=lambda at: way * at)
    stop_angle = end + way * _STOP_MARGIN
    corners = shapely.get_coordinates(plate.outlines.on_plate["plate"][0])
    ahead = way * np.array([-layout.along_y[0], layout.along_x[0]])
    # Of the corners of the plate's far end the one on the side that it moves to.
    far = (corners - layout.hinge[0]) @ layout.along[0]
    reach = np.where(far > 0.5 * far.max(), (corners - layout.hinge[0]) @ ahead, -np.inf)
    corner = corners[int(np.argmax(reach))]
    at = kernels.plate_point(stop_angle, *layout.hinge[0], *corner)
    drop = plate.height(angle) - plate.height(stop_angle)
    return Stop((float(at.x), float(at.y)), stop_angle, drop)
