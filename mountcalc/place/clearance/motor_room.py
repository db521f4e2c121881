"""Whether the bolt clears the motor that stands on the same plate: a cheap sure test.

All is seen from the plate, where the motor stands still: u runs along the plate from the motor's
foot, v to the motor's side. What turns with the plate is measured once; what does not is measured
at some angles, and between two of them it moves no more than its speed times the angle (as in
:mod:`clearances`). A bolt that is wholly behind the face on which the motor
stands is parted from it by the plate, however near. The final word on a few layouts is
:mod:`mountcalc.place.clearance.motor_gap`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.clearance.parts import Sizes, extensions
from mountcalc.place.clearance.polygon_distance import point_to_segment
from mountcalc.place.clearance.stops import written_stops
from mountcalc.place.layouts.layouts import KINDS, Layouts
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["bolt_clears_motor", "motor_clearing", "slack_of"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
_Apart = Callable[[Ints, Array, Array], Array]

_IN_BASE, _IN_PLATE, _LINK = (
    KINDS.index(kind)
    for kind in (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
)
# Plate angles at which a bolt is measured; more where fewer do not decide.
_ANGLES = (5, 33, 257, 2049)
_ROUNDING = 1e-9  # [m], of a gap that is as wide as is wanted
_LEVEL = 1e-15  # [m]
_NUMBERS = 2**15  # of one array while they are measured: it should stay in the processor's cache


def bolt_clears_motor(
    layouts: Layouts, ends: tuple[Array, Array], sizes: Sizes, clearance: float
) -> Bools:
    """Test which bolts, wrenches and links clear the motor's body and feet."""
    travel = np.stack(ends, axis=1)
    seen = _Seen.of(layouts, travel, sizes)
    clear = seen.far_from_motor(travel, clearance)
    undecided = np.flatnonzero(~clear)
    for count in _ANGLES:
        step = max(1, _NUMBERS // count)
        left = []
        for start in range(0, len(undecided), step):
            some = undecided[start : start + step]
            room = seen.rooms(some, _spread(travel[some], count), clearance)
            moved = seen.speed[some] * np.abs(np.diff(travel[some])[:, 0]) / (count - 1)
            between = (room[..., 1:] + room[..., :-1] - moved[:, None]) / 2
            good = _enough(np.minimum(between.min(axis=-1), room.min(axis=-1)), clearance)
            clear[some] = good
            # What is too near at an angle that was measured is too near for good.
            left.append(some[~good & _enough(room.min(axis=-1), clearance)])
        undecided = np.concatenate(left) if left else undecided
        if not len(undecided):
            break
    return clear


def motor_clearing(
    scenario: Scenario, space: SearchSpace
) -> Callable[[Layouts, Array, Array], Bools]:
    """Bind the test to a search, from stop to stop as they are written."""
    sizes = Sizes.of(scenario, space)

    def test(layouts: Layouts, install: Array, take_up: Array) -> Bools:
        if space.bolt_beside_motor:
            return np.ones(len(layouts), dtype=bool)
        return bolt_clears_motor(layouts, written_stops(install, take_up), sizes, space.clearance)

    return test


def slack_of(layouts: Layouts, ends: tuple[Array, Array], sizes: Sizes) -> Array:
    """By how much the sure test may underrate the room that is left [m]."""
    travel = np.stack(ends, axis=1)
    speed = _Seen.of(layouts, travel, sizes).speed
    result: Array = speed * np.abs(np.diff(travel)[:, 0]) / (_ANGLES[-1] - 1) / 2
    return result


def _spread(travel: Array, count: int) -> Array:
    return travel[:, :1] + (travel[:, 1:] - travel[:, :1]) * np.linspace(0.0, 1.0, count)


def _enough(rooms: Array, clearance: float) -> Bools:
    """Whether bolt and wrench have room; to touch is never enough."""
    bolt = rooms[0] > 0 if clearance == 0 else rooms[0] >= -_ROUNDING
    result: Bools = bolt & (rooms[1] > 0)
    return result


@dataclass(frozen=True, slots=True)
class _Seen:
    """Bolts as the plate sees them; lengths in m, places from the hinge, one entry each.

    ``reach`` and ``offset`` are those of the tip as drawn, ``ahead`` is 1 where a jack gets longer
    to the motor's side and -1 where away from it, ``turn`` 1 where v is on the left of u and -1
    else. ``least`` and ``most`` are a jack's extensions, ``speed`` [m/rad] bounds how fast any
    point moves.
    """

    layouts: Layouts
    sizes: Sizes
    reach: Array
    offset: Array
    ahead: Array
    turn: Array
    height: Array
    least: Array
    most: Array
    speed: Array

    @classmethod
    def of(cls, layouts: Layouts, travel: Array, sizes: Sizes) -> _Seen:
        arm = layouts.tip - layouts.hinge
        reach = np.sum(arm * layouts.along, axis=1)
        offset = np.sum(arm * layouts.normal, axis=1)
        ahead = np.sign(np.sum(layouts.axis * layouts.normal, axis=1))
        turn = np.sign(layouts.along_x * layouts.normal_y - layouts.along_y * layouts.normal_x)
        height = np.sum((layouts.motor - layouts.hinge) * layouts.normal, axis=1)
        moved = extensions(layouts, travel)
        least, most = moved.min(axis=1), moved.max(axis=1)
        link = layouts.kind == _LINK
        back = np.where(link, -sizes.link_length, least - sizes.bolt_length)
        lever = np.hypot(reach, offset + ahead * back)
        lever = np.maximum(lever, np.hypot(reach, offset + ahead * most))
        # ds/dphi of a jack's extension is (reach + offset sin phi) / cos^2 phi.
        cosine = np.cos(np.abs(travel).max(axis=1))
        slope = (np.abs(reach) + np.abs(offset)) / cosine**2
        speed = np.where(link, lever, np.where(layouts.kind == _IN_BASE, lever + slope, 0.0))
        return cls(layouts, sizes, reach, offset, ahead, turn, height, least, most, speed)

    def far_from_motor(self, travel: Array, clearance: float) -> Bools:
        """Which clear a disc about body and feet, measured in the middle of the travel."""
        every = np.arange(len(travel))
        room = self.rooms(every, travel.mean(axis=1)[:, None], clearance, self._from_disc)
        swing = np.abs(np.diff(travel)[:, 0])
        return _enough(room[..., 0] - self.speed * swing / 2, clearance)

    def rooms(
        self, chosen: Ints, angles: Array, clearance: float, apart: _Apart | None = None
    ) -> Array:
        """Room that bolt and wrench have beyond what they need, shape (2, n, s) [m].

        What lies behind the face has as much room as it lies deep.
        """
        apart = apart or self._apart
        near, far = self._bolt(chosen, angles)
        face = self.sizes.plate_face
        depth = face - far[..., 1]
        on_face = near[..., 1] <= face + 1e-9
        bolt = apart(chosen, near, far) - clearance
        bolt = np.where(on_face, np.maximum(bolt, depth), bolt)
        kind = self.layouts.kind[chosen][:, None]
        # The heads of a screw that turns with the plate lie on a line.
        travel = (self.ahead * (self.most - self.least))[chosen][:, None]
        along = np.where(kind == _IN_PLATE, travel, np.zeros_like(depth))
        ahead = far + np.stack([np.zeros_like(depth), along], axis=-1)
        wrench = apart(chosen, far, ahead) - self.sizes.wrench_space
        depth = face - np.maximum(far[..., 1], ahead[..., 1])
        wrench = np.where(kind == _LINK, np.inf, np.maximum(wrench, depth))
        return np.stack([bolt, wrench])

    def _bolt(self, chosen: Ints, angles: Array) -> tuple[Array, Array]:
        """Tips and heads, or the pins of links, at plate angles: u from the motor's foot, and v."""
        one = [values[chosen][:, None] for values in (self.reach, self.offset, self.ahead)]
        reach, offset, ahead = (np.broadcast_to(values, angles.shape) for values in one)
        kind = self.layouts.kind[chosen][:, None]
        some = self.layouts.take(chosen)
        moved = extensions(some, angles)
        link, in_plate = kind == _LINK, kind == _IN_PLATE
        tip = np.where(in_plate, self.most[chosen][:, None], np.where(link, 0.0, moved))
        head = np.where(in_plate, self.least[chosen][:, None], moved) - self.sizes.bolt_length
        head = np.where(link, -self.sizes.link_length, head)
        foot, turn = some.foot[:, None], self.turn[chosen][:, None]
        sin, cos = turn * np.sin(angles), np.cos(angles)

        def seen(along_axis: Array, stays: Bools) -> Array:
            u, v = reach, offset + ahead * along_axis
            # What the plate swings towards v swings away from it as the plate sees it.
            x = np.where(stays, u, u * cos + v * sin)
            y = np.where(stays, v, v * cos - u * sin)
            return np.stack([x - foot, y], axis=-1)

        return seen(tip, in_plate | link), seen(head, in_plate)

    def _from_disc(self, chosen: Ints, start: Array, end: Array) -> Array:
        """Distance of segments from a disc about the shaft that holds feet and body."""
        height = self.height[chosen][:, None]
        radius = np.maximum(np.hypot(height, self.sizes.motor_feet / 2), self.sizes.motor_body / 2)
        shaft = np.stack([np.zeros_like(height), height], axis=-1)
        result: Array = np.sqrt(point_to_segment(shaft, start, end)) - radius
        return result

    def _apart(self, chosen: Ints, start: Array, end: Array) -> Array:
        """Distance of segments from the motor's feet and body."""
        height, half = self.height[chosen][:, None], self.sizes.motor_feet / 2
        shaft = np.stack([np.zeros_like(height), height], axis=-1)
        body = np.sqrt(point_to_segment(shaft, start, end)) - self.sizes.motor_body / 2
        return np.minimum(body, _from_feet(start, end, half, height))


def _from_feet(start: Array, end: Array, half: float, height: Array) -> Array:
    """Distance of segments from the box between u = -half and half, v = 0 and height."""
    corners = [
        np.stack(np.broadcast_arrays(u, v), axis=-1)
        for u in (-half, half)
        for v in (np.zeros_like(height), height)
    ]
    squared = np.min([point_to_segment(corner, start, end) for corner in corners], axis=0)
    for point in (start, end):
        beside = np.maximum(np.abs(point[..., 0]) - half, 0.0)
        over = np.maximum(np.maximum(-point[..., 1], point[..., 1] - height), 0.0)
        squared = np.minimum(squared, beside**2 + over**2)
    # It meets the box where a part of it is between both pairs of sides.
    enters, leaves = np.zeros(squared.shape), np.ones(squared.shape)
    for axis, low, high in ((0, -half, half), (1, 0.0, height)):
        way = end[..., axis] - start[..., axis]
        level = np.abs(way) < _LEVEL
        way = np.where(level, 1.0, way)
        one, other = (low - start[..., axis]) / way, (high - start[..., axis]) / way
        within = (start[..., axis] >= low) & (start[..., axis] <= high)
        first = np.where(level, np.where(within, 0.0, 2.0), np.minimum(one, other))
        last = np.where(level, np.where(within, 1.0, -1.0), np.maximum(one, other))
        enters, leaves = np.maximum(enters, first), np.minimum(leaves, last)
    return np.where(enters <= leaves, 0.0, np.sqrt(squared))
