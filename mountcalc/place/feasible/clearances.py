"""Whether many layouts clear the keep-outs and their own motor through their whole travel.

Between two plate angles no point of a part moves more than its speed times the angle, so that what
was measured at both bounds the distance in between from below. Layouts that this bound does not
decide are measured at more angles; those that it never decides count as not clear, which wrongs
only those that are clear by less than `slack_of`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.layouts import IN_BASE, IN_PLATE, LINK, Layouts
from mountcalc.place.feasible.parts import Part, extensions, parts_of, shapes_of
from mountcalc.scenario.model import BarredPart, KeepOut
from mountcalc.scenario.search import Search, SearchSpace

__all__ = [
    "DISTANCE_ERROR",
    "bars",
    "clear",
    "clear_of_motor",
    "motor_slack",
    "nearest_keep_out",
    "slack_of",
    "written_stops",
]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

DISTANCE_ERROR = 1e-4
"""By how much a distance may be overrated for what happens between two plate angles [m]."""

# Plate angles at which a part is measured; more where fewer do not decide.
_ANGLES = (3, 9, 33, 257)
_ANGLES_OF_BOLTS = (*_ANGLES, 2049)
_FIRST_ANGLES = 9  # of a distance that is told
# Layouts whose parts are laid out at once, and places that are measured at once: they should stay
# in the processor's cache.
_BLOCK = 4096
_NUMBERS = 2**13
_ROUNDING = 1e-9  # [m], of a gap that is as wide as is wanted
# Stops are told in steps of this [rad], beyond install and take-up by at least a hair.
_STEP = math.radians(0.5)
_HAIR = 1e-6


def written_stops(install: ArrayLike, take_up: ArrayLike) -> tuple[Array, Array]:
    """Ends of the travel as a scenario tells them, a little beyond install and take-up."""
    low = np.floor((np.minimum(install, take_up) - _HAIR) / _STEP) * _STEP
    high = np.ceil((np.maximum(install, take_up) + _HAIR) / _STEP) * _STEP
    return np.maximum(low, -math.pi), np.minimum(high, math.pi)


def bars(keep_out: KeepOut, part: str) -> bool:
    """Whether a keep-out bars a part, by its name; room for the wrench goes with the bolt."""
    return BarredPart("bolt" if part == "wrench" else part) in keep_out.parts


def slack_of(lever: Array, swing: Array, angles: int = _ANGLES[-1]) -> Array:
    """By how much the sure test may underrate the clearance of a part."""
    result: Array = lever * np.abs(swing) / (angles - 1) / 2
    return result


class _Swinging(Protocol):
    """Things that swing by others, in pieces that each have a distance."""

    @property
    def pieces(self) -> int:
        """How many they are."""

    @property
    def lever(self) -> Array:
        """How fast any point of it moves at most, shape (n,) [m/rad]."""

    def apart(self, which: Ints, angles: Array) -> Array:
        """How far pieces are from the other at angles (n, s), shape (pieces, n, s) [m]."""

    def speeds(self, which: Ints, angles: Array) -> Array:
        """How fast a point of each piece moves at most between even angles, shape (pieces, n)."""


@dataclass(frozen=True, slots=True)
class _ByKeepOuts:
    """A part of some ``layouts`` (n,) by a keep-out each."""

    part: Part
    layouts: Ints
    polygons: NDArray[Any]

    @property
    def pieces(self) -> int:
        return len(self.part.pieces)

    @property
    def lever(self) -> Array:
        return self.part.lever[self.layouts]

    def apart(self, which: Ints, angles: Array) -> Array:
        return self.part.apart(self.polygons[which, None], self.layouts[which], angles)

    def speeds(self, which: Ints, angles: Array) -> Array:
        layouts = self.layouts[which]
        return np.stack([piece.speed(layouts, angles) for piece in self.part.pieces])


def _bounds(
    one: _Swinging, travel: Array, needed: Array | float, counts: Sequence[int] = _ANGLES
) -> Array:
    """Lower bounds of the least distances over their travel (n, 2), shape (pieces, n)."""
    bounds = np.zeros((one.pieces, len(travel)))
    undecided, lever = np.arange(len(travel)), one.lever
    for count in counts:
        step, left = max(1, _NUMBERS // count), [undecided[:0]]
        for start in range(0, len(undecided), step):
            some = undecided[start : start + step]
            angles = _spread(travel[some], count)
            apart, turned = one.apart(some, angles), np.abs(angles[:, 1] - angles[:, 0])
            # Between two angles: the whole moves no more than its lever, a piece as it says.
            whole = apart.min(axis=0)
            between = whole[:, 1:] + whole[:, :-1] - (lever[some] * turned)[:, None]
            if len(apart) > 1:  # what stays where it is, stays
                moved = one.speeds(some, angles) * turned
                between = np.maximum(between, apart[..., 1:] + apart[..., :-1] - moved[..., None])
            least = apart.min(axis=-1)
            bounds[:, some] = np.minimum(0.5 * between.min(axis=-1), least)
            # What is too near at an angle that was measured is too near for good.
            again = ~_enough(bounds[:, some], needed) & _enough(least, needed)
            left.append(some[again])
        undecided = np.concatenate(left)
    return bounds


def _spread(travel: Array, count: int) -> Array:
    result: Array = travel[:, :1] + (travel[:, 1:] - travel[:, :1]) * np.linspace(0.0, 1.0, count)
    return result


def _enough(distances: Array, needed: Array | float) -> Bools:
    """Whether the distances of all pieces (first axis) will do; to touch is never enough."""
    result: Bools = np.all((distances >= needed - _ROUNDING) & (distances > 0), axis=0)
    return result


def clear(
    layouts: Layouts,
    ends: tuple[Array, Array],
    keep_outs: Sequence[KeepOut],
    search: Search,
    clearance: float,
) -> Ints:
    """Index of the first keep-out that layouts do not clear between two plate angles, or -1."""
    found = [np.full(0 if keep_outs else len(layouts), -1, dtype=np.intp)]
    for start in range(0, len(layouts) if keep_outs else 0, _BLOCK):
        block = slice(start, start + _BLOCK)
        travel = np.stack([ends[0][block], ends[1][block]], axis=1)
        parts = parts_of(layouts.take(block), travel, search)
        found.append(_test_block(parts, travel, keep_outs, clearance))
    return np.concatenate(found)


def _test_block(
    parts: Sequence[Part], travel: Array, keep_outs: Sequence[KeepOut], clearance: float
) -> Ints:
    """The same of some layouts, part by part: only what may be in the way first is measured."""
    polygons = shapely.polygons([shapely.linearrings(one.corners) for one in keep_outs])
    boxes = shapely.bounds(polygons)[:, None, :]
    first = np.full(len(travel), len(keep_outs))
    order = np.arange(len(keep_outs))[:, None]
    for part in parts:
        needed = 0.0 if part.name == "wrench" else clearance
        center, radius = _bounding(part, travel)
        # From the box about a keep-out to the disc about the part through its travel.
        outside = np.maximum(np.maximum(boxes[..., :2] - center, center - boxes[..., 2:]), 0.0)
        bound = np.hypot(outside[..., 0], outside[..., 1]) - radius
        barred = np.array([bars(keep_out, part.name) for keep_out in keep_outs])[:, None]
        asked = barred & part.there & (order < first)
        which = np.nonzero(asked & ~_enough(bound[None], needed))
        one = _ByKeepOuts(part, which[1], polygons[which[0]])
        bound[which] = _bounds(one, travel[which[1]], needed).min(axis=0)
        failed = asked & ~_enough(bound[None], needed)
        first = np.minimum(first, np.where(failed, order, len(keep_outs)).min(axis=0))
    return np.where(first == len(keep_outs), -1, first)


def _bounding(part: Part, travel: Array) -> tuple[Array, Array]:
    """Centres and radii of discs that hold a part through its whole travel."""
    every = np.arange(len(travel))
    corners = [piece.at(every, travel.mean(axis=1)[:, None])[:, 0] for piece in part.pieces]
    center = np.concatenate(corners, axis=1).mean(axis=1)
    reach = [
        np.hypot(*np.moveaxis(at - center[:, None], -1, 0)).max(axis=1) + piece.radius
        for at, piece in zip(corners, part.pieces, strict=True)
    ]
    return center, np.max(reach, axis=0) + part.lever * np.abs(np.diff(travel)[:, 0]) / 2


def nearest_keep_out(
    layout: Layouts, ends: tuple[float, float], search: Search
) -> tuple[float, str] | None:
    """How near one layout's plate, motor, bolt and belt come to what, sure to `DISTANCE_ERROR`."""
    only, parts = np.zeros(1, dtype=np.intp), parts_of(layout, np.array([ends]), search)
    found = [
        (
            _least(_ByKeepOuts(part, only, np.array([shapely.Polygon(keep_out.corners)])), ends),
            keep_out.name,
        )
        for keep_out in search.space.keep_outs
        for part in parts
        if part.name != "wrench" and bars(keep_out, part.name)
    ]
    return min(found, key=lambda one: one[0], default=None)


def _least(one: _Swinging, ends: tuple[float, float]) -> float:
    """Least distance of a single layout over its travel; where not above zero, some such.

    Intervals in which half the sum of the distances at both ends, less half the way that anything
    can move, is below the least found are halved.
    """

    def measured(angles: Array) -> Array:
        apart: Array = one.apart(np.zeros(1, dtype=np.intp), angles[None]).min(axis=0)[0]
        return apart

    angles = np.linspace(*ends, _FIRST_ANGLES)
    low, high, values, speed = angles[:-1], angles[1:], measured(angles), one.lever[0]
    at_low, at_high = values[:-1], values[1:]
    least = float(values.min())
    while least > 0.0:
        undecided = (at_low + at_high - speed * np.abs(high - low)) / 2 < least - DISTANCE_ERROR
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


@dataclass(frozen=True)
class _Bolts:
    """Bolts and links, and the heads of jacks, as the plate sees them: the motor stands still.

    Places are u from the motor's foot along the plate and v to the motor's side. What lies behind
    the face on which the motor stands is parted from it by the plate, however near.
    """

    layouts: Layouts
    travel: Array
    space: SearchSpace
    clearance: float
    pieces: int = 2

    @cached_property
    def _ends(self) -> tuple[Array, Array]:
        """Least and greatest extension over the travel [m]."""
        moved = extensions(self.layouts, self.travel)
        return moved.min(axis=1), moved.max(axis=1)

    @cached_property
    def lever(self) -> Array:
        """How fast any point moves at most; see `_Swinging`."""
        one, space, (least, most) = self.layouts, self.space, self._ends
        link = one.kind == LINK
        back = np.where(link, -space.link_length, least - space.bolt_length)
        lever = np.maximum(
            np.hypot(one.reach, one.offset + one.ahead * back),
            np.hypot(one.reach, one.offset + one.ahead * most),
        )
        # ds/dphi of a jack's extension is (reach + offset sin phi) / cos^2 phi.
        cosine = np.cos(np.abs(self.travel).max(axis=1))
        slope = (np.abs(one.reach) + np.abs(one.offset)) / cosine**2
        return np.where(link, lever, np.where(one.kind == IN_BASE, lever + slope, 0.0))

    def speeds(self, which: Ints, angles: Array) -> Array:  # noqa: ARG002  # as for all
        """The same of bolt and head; see `_Swinging`."""
        return np.stack([self.lever[which]] * self.pieces)

    def apart(self, which: Ints, angles: Array) -> Array:
        """How far bolt and room for the wrench are from the motor's feet and body."""
        height, half = self.layouts.motor_height[which], self.space.motor_feet / 2
        feet = shapely.box(-half, 0.0, half, height)[:, None]
        shaft = shapely.points(np.zeros(len(which)), height)[:, None]

        def from_motor(lines: Any) -> Array:  # noqa: ANN401
            body = shapely.distance(lines, shaft) - self.space.motor_body / 2
            apart: Array = np.minimum(body, shapely.distance(lines, feet))
            return apart

        return self._apart(which, angles, from_motor)

    def from_disc(self, angles: Array) -> Array:
        """How far all are from a disc about the shaft that holds feet and body, shape (2, n)."""
        height = self.layouts.motor_height
        shaft = shapely.points(np.zeros(len(height)), height)[:, None]
        radius = np.maximum(np.hypot(height, self.space.motor_feet / 2), self.space.motor_body / 2)

        def from_disc(lines: Any) -> Array:  # noqa: ANN401
            apart: Array = shapely.distance(lines, shaft) - radius[:, None]
            return apart

        return self._apart(np.arange(len(height)), angles, from_disc)[..., 0]

    def _apart(self, which: Ints, angles: Array, distance: Callable[[Any], Array]) -> Array:
        tip, head = self._places(which, angles)
        face, kind = self.space.plate_face, self.layouts.kind[which][:, None]
        bolt = distance(shapes_of(np.stack([tip, head], axis=-2)))
        behind = np.maximum(bolt, face - head[..., 1] + self.clearance)
        bolt = np.where(tip[..., 1] <= face + _ROUNDING, behind, bolt)
        # The heads of a screw that turns with the plate lie on a line.
        (least, most), last = self._ends, head.copy()
        along = (self.layouts.ahead * (most - least))[which][:, None]
        last[..., 1] += np.where(kind == IN_PLATE, along, 0.0)
        wrench = distance(shapes_of(np.stack([head, last], axis=-2))) - self.space.wrench_space
        wrench = np.maximum(wrench, face - np.maximum(head[..., 1], last[..., 1]))
        return np.stack([bolt, np.where(kind == LINK, np.inf, wrench)])

    def _places(self, which: Ints, angles: Array) -> tuple[Array, Array]:
        """Tips and heads, or the pins of links in plate and base, shape (n, s, 2)."""
        some, space = self.layouts.take(which), self.space
        least, most = (end[which][:, None] for end in self._ends)
        kind, ahead, turn = (one[:, None] for one in (some.kind, some.ahead, some.turn))
        in_plate, link = kind == IN_PLATE, kind == LINK
        moved = extensions(some, angles)
        tip = np.where(in_plate, most, np.where(link, 0.0, moved))
        head = np.where(in_plate, least, moved) - space.bolt_length
        head = np.where(link, -space.link_length, head)
        sin, cos = turn * np.sin(angles), np.cos(angles)
        u, foot = some.reach[:, None], some.foot[:, None]

        def seen(along_axis: Array, stays: Bools) -> Array:
            v = some.offset[:, None] + ahead * along_axis
            # What the plate swings towards v swings away from it as the plate sees it.
            x, y = np.where(stays, u, u * cos + v * sin), np.where(stays, v, v * cos - u * sin)
            return np.stack([x - foot, y], axis=-1)

        return seen(tip, in_plate | link), seen(head, in_plate)


def clear_of_motor(
    layouts: Layouts, ends: tuple[Array, Array], space: SearchSpace, clearance: float
) -> Bools:
    """Test which bolts, wrenches and links clear the body and the feet of the motor on the plate.

    What lies wholly behind the face on which the motor stands is clear, however near.
    """
    travel, needed = np.stack(ends, axis=1), np.array([[clearance], [0.0]])
    every = _Bolts(layouts, travel, space, clearance)
    moved = every.lever * np.abs(np.diff(travel)[:, 0])
    good = _enough(every.from_disc(travel.mean(axis=1)[:, None]) - moved / 2, needed)
    near = np.flatnonzero(~good)
    some = _Bolts(layouts.take(near), travel[near], space, clearance)
    good[near] = _enough(_bounds(some, travel[near], needed, _ANGLES_OF_BOLTS), needed)
    return good


def motor_slack(layouts: Layouts, ends: tuple[Array, Array], space: SearchSpace) -> Array:
    """By how much the test of bolts and motors may underrate the room that is left [m]."""
    travel = np.stack(ends, axis=1)
    lever = _Bolts(layouts, travel, space, 0.0).lever
    return slack_of(lever, np.diff(travel)[:, 0], _ANGLES_OF_BOLTS[-1])
