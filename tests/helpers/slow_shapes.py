"""The outlines of one layout and how far they are from the keep-outs, drawn anew with shapely.

The search lays out the same parts for many layouts at once; neither uses the other's geometry.
Discs are polygons of 256 corners drawn about the circle, too large by no more
than 8e-5 of their radius. Belt and pulleys count up to their pitch lines, bolts and links up to
their axes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

from mountcalc.linkage import kernels
from mountcalc.linkage.kernels import AdjusterState
from mountcalc.place.feasible.clearances import bars
from mountcalc.place.feasible.layouts import KINDS, Layouts
from mountcalc.scenario.model import AdjusterKind, KeepOut
from mountcalc.scenario.search import Search, SearchSpace
from mountcalc.scenario.text.writing import Vector

Array = NDArray[np.float64]

DISTANCE_ERROR = 1e-4
"""By how much a distance may be overrated for what happens between two plate angles [m]."""

_FIRST_ANGLES = 9


def least_over_travel(
    measured: Callable[[Array], Array], speed: float, ends: tuple[float, float]
) -> float:
    """Least distance over a travel, sure to `DISTANCE_ERROR`; where not above zero, some such.

    Between two angles it is at least half the sum of those at both, less half the way that
    anything can move: intervals in which that is below the least found are halved.
    """
    angles = np.linspace(*ends, _FIRST_ANGLES)
    low, high = angles[:-1], angles[1:]
    values = measured(angles)
    at_low, at_high = values[:-1], values[1:]
    least = float(values.min())
    while least > 0.0:
        bound = (at_low + at_high - speed * np.abs(high - low)) / 2
        undecided = bound < least - DISTANCE_ERROR
        if not undecided.any():
            break
        low, high = low[undecided], high[undecided]
        at_low, at_high = at_low[undecided], at_high[undecided]
        middle = (low + high) / 2
        between = measured(middle)
        least = min(least, float(between.min()))
        low, high = np.concatenate([low, middle]), np.concatenate([middle, high])
        at_low, at_high = np.concatenate([at_low, between]), np.concatenate([between, at_high])
    return least


DISC_HAIR = 1e-4
"""By how much a distance may be underrated for discs that are drawn too large [m]: those of a
radius up to 1.2 m."""

_QUARTER = 64  # edges of a quarter circle
_SWEPT_ANGLES = 65


@dataclass(frozen=True, slots=True)
class Gap:
    """How near a ``part`` comes to a keep-out over the travel: ``distance`` [m].

    The part "wrench" is the circle about a jack's head that must stay free.
    """

    keep_out: str
    part: str
    distance: float


@dataclass(frozen=True, slots=True)
class Outlines:
    """The parts of one layout as drawn, each a list of convex outlines.

    ``on_plate`` turn with it about the ``hinge``, ``fixed`` stay; a ``link`` has its pin in the
    base and its pin in the plate, and the belt is the hull of both pulleys. ``ends`` [rad] are the
    plate angles between which it swings.
    """

    hinge: Vector
    ends: tuple[float, float]
    on_plate: dict[str, list[Any]]
    fixed: dict[str, list[Any]]
    link: tuple[Vector, Vector] | None
    pulleys: tuple[Any, Any]

    @property
    def parts(self) -> tuple[str, ...]:
        """Names: "plate", "motor", "bolt", "wrench" where a jack has a head, and "belt"."""
        bolt = () if self.link is None else ("bolt",)
        return (*self.on_plate, *self.fixed, *bolt, "belt")

    def part(self, name: str, angle: float) -> list[Any]:
        """Convex outlines of a part at a plate angle."""
        if name in self.fixed:
            return self.fixed[name]
        if name in self.on_plate:
            return [self._turned(outline, angle) for outline in self.on_plate[name]]
        if name == "bolt" and self.link is not None:
            base, pin = self.link
            return [shapely.LineString([base, self._turned(shapely.Point(pin), angle).coords[0]])]
        driven, motor = self.pulleys
        return [shapely.union(driven, self._turned(motor, angle)).convex_hull]

    def lever(self, name: str) -> float:
        """How far from the hinge what turns of a part reaches [m]."""
        if name in self.fixed:
            return 0.0
        if name in self.on_plate:
            reach = shapely.get_coordinates(self.on_plate[name]) - np.array(self.hinge)
            return float(np.hypot(reach[:, 0], reach[:, 1]).max())
        if name == "bolt" and self.link is not None:
            return math.dist(self.link[1], self.hinge)
        center = self.pulleys[1].centroid
        return math.dist((center.x, center.y), self.hinge)

    def swept(self) -> dict[str, Any]:
        """All parts swept over the travel."""
        angles = np.linspace(*self.ends, _SWEPT_ANGLES)
        return {name: _swept([self.part(name, angle) for angle in angles]) for name in self.parts}

    def _turned(self, outline: Any, angle: float) -> Any:  # shapely has no types
        return affinity.rotate(outline, angle, origin=self.hinge, use_radians=True)


def _swept(steps: list[list[Any]]) -> Any:
    """Union of the hulls of each outline at neighbouring angles."""
    return shapely.union_all(
        [
            shapely.union(before, after).convex_hull
            for one, other in pairwise(steps)
            for before, after in zip(one, other, strict=True)
        ]
    )


def outlines_of(
    layouts: Layouts, index: int, ends: tuple[float, float], search: Search
) -> Outlines:
    """Outlines of one of some layouts."""
    one, space, driven = _Drawn.of(layouts, index), search.space, search.scenario.driven
    radius = search.scenario.motor.pulley_radius
    kind = KINDS[int(layouts.kind[index])]
    on_plate = {
        "plate": [one.board(float(layouts.plate_length[index]), space)],
        "motor": one.motor_body(space),
    }
    fixed: dict[str, list[Any]] = {}
    link = None
    if kind is AdjusterKind.LINK:
        link = one.on_axis(-space.link_length), one.tip
    else:
        (on_plate if kind is AdjusterKind.JACK_IN_PLATE else fixed).update(
            one.screw(kind, ends, space)
        )
    pulleys = _disc(driven.shaft, driven.pulley_radius), _disc(one.motor, radius)
    return Outlines(one.hinge, ends, on_plate, fixed, link, pulleys)


def gaps(outlines: Outlines, keep_outs: Sequence[KeepOut]) -> tuple[Gap, ...]:
    """How near each part comes to each keep-out that bars it, over the whole travel."""
    return tuple(
        Gap(keep_out.name, part, _least(outlines, part, shapely.Polygon(keep_out.corners)))
        for keep_out in keep_outs
        for part in outlines.parts
        if bars(keep_out, part)
    )


def clearance_of(found: Sequence[Gap]) -> dict[str, float]:
    """Clearance of plate, motor, bolt and belt from each keep-out [m]."""
    least: dict[str, float] = {}
    for gap in found:
        if gap.part != "wrench":
            least[gap.keep_out] = min(gap.distance, least.get(gap.keep_out, math.inf))
    return least


def _least(outlines: Outlines, part: str, polygon: Any) -> float:
    """Least distance [m] of a part from a polygon over the travel, sure to `DISTANCE_ERROR`."""

    def measured(angles: Array) -> Array:
        shapes = [outlines.part(part, angle) for angle in angles]
        return np.array([float(shapely.distance(shape, polygon).min()) for shape in shapes])

    return least_over_travel(measured, outlines.lever(part), outlines.ends)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """One layout as drawn."""

    hinge: Vector
    motor: Vector
    along: Vector
    normal: Vector
    tip: Vector
    axis: Vector

    @classmethod
    def of(cls, layouts: Layouts, index: int) -> _Drawn:
        names = ("hinge", "motor", "along", "normal", "tip", "axis")
        points = {name: getattr(layouts, name)[index] for name in names}
        return cls(**{name: (float(at.real), float(at.imag)) for name, at in points.items()})

    def on_axis(self, at: float) -> Vector:
        return self.tip[0] + at * self.axis[0], self.tip[1] + at * self.axis[1]

    def _on_plate(self, x: float, y: float) -> Vector:
        (ux, uy), (vx, vy) = self.along, self.normal
        return self.hinge[0] + x * ux + y * vx, self.hinge[1] + x * uy + y * vy

    def board(self, length: float, space: SearchSpace) -> Any:
        """The plate from the hinge's pin, with what of the hinge is before its edge."""
        back, face = space.plate_back, space.plate_face
        corners = ((0.0, face), (length, face), (length, back), (0.0, back))
        return shapely.Polygon([self._on_plate(*at) for at in corners])

    def motor_body(self, space: SearchSpace) -> list[Any]:
        """The motor's body, and its feet with what they stand on."""
        arm = self.motor[0] - self.hinge[0], self.motor[1] - self.hinge[1]
        foot = arm[0] * self.along[0] + arm[1] * self.along[1]
        height = arm[0] * self.normal[0] + arm[1] * self.normal[1]
        half = space.motor_feet / 2
        ground = [(foot - half, 0.0), (foot + half, 0.0), (foot + half, height)]
        feet = shapely.Polygon([self._on_plate(*at) for at in (*ground, (foot - half, height))])
        return [feet, _disc(self.motor, space.motor_body / 2)]

    def screw(
        self, kind: AdjusterKind, ends: tuple[float, float], space: SearchSpace
    ) -> dict[str, list[Any]]:
        """A jack wherever its travel takes it, and the circle about its head."""
        in_plate = kind is AdjusterKind.JACK_IN_PLATE
        place = (*self.hinge, *self.tip, *self.axis, *self.normal)
        angles = np.array(ends)
        state: AdjusterState = (
            kernels.jack_in_plate(angles, *place)
            if in_plate
            else kernels.jack_in_base(angles, *place)
        )
        least, most = float(state.extension.min()), float(state.extension.max())
        back = least - space.bolt_length
        heads = shapely.MultiPoint(
            [self.on_axis(back), self.on_axis(most - space.bolt_length)]
        ).convex_hull
        wider = space.wrench_space / math.cos(math.pi / 4 / _QUARTER)
        return {
            "bolt": [shapely.LineString([self.on_axis(most), self.on_axis(back)])],
            "wrench": [heads.buffer(wider, quad_segs=_QUARTER) if wider else heads],
        }


def _disc(center: Vector, radius: float) -> Any:
    wider = radius / math.cos(math.pi / 4 / _QUARTER)
    return shapely.Point(center).buffer(wider, quad_segs=_QUARTER)
