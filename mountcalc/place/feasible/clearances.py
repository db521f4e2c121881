"""Whether many layouts clear the keep-outs and their own motor through their whole travel.

Between two plate angles no point of a part moves more than its speed times the angle, so that what
was measured at both bounds the distance in between from below. Intervals that this bound does not
decide are halved and halved again; layouts that it never decides count as not clear, which wrongs
only those that are clear by next to nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.layouts import IN_BASE, IN_PLATE, LINK, Layouts, Points
from mountcalc.place.feasible.parts import Part, jack_ends, parts_of, shapes_of
from mountcalc.place.feasible.statics import adjusters_of
from mountcalc.record import Record
from mountcalc.scenario.model import BarredPart, KeepOut
from mountcalc.scenario.search import Search, SearchSpace
from mountcalc.thresholds import ROUNDING, SETTLED

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

DISTANCE_ERROR = 1e-4
"""By how much a distance may be overrated for what happens between two plate angles [m]."""

# Plate angles at which an interval is measured, as shares of it, and how often what these leave
# open is looked at more closely.
_SHARES = np.linspace(0.0, 1.0, 5)
_LEVELS, _LEVELS_OF_BOLTS = 4, 6
# Layouts whose parts are laid out at once: they should stay in the processor's cache.
_BLOCK = 4096
# Stops are told in steps of this [rad], beyond install and take-up by at least a hair.
_STEP = math.radians(0.5)


def written_stops(install: ArrayLike, take_up: ArrayLike) -> tuple[Array, Array]:
    """Ends of the travel as a scenario tells them, a little beyond install and take-up."""
    low = np.floor((np.minimum(install, take_up) - SETTLED) / _STEP) * _STEP
    high = np.ceil((np.maximum(install, take_up) + SETTLED) / _STEP) * _STEP
    return np.maximum(low, -math.pi), np.minimum(high, math.pi)


def bars(keep_out: KeepOut, part: str) -> bool:
    """Whether a keep-out bars a part, by its name; room for the wrench goes with the bolt."""
    return BarredPart("bolt" if part == "wrench" else part) in keep_out.parts


def _beyond(distance: Array, needed: float) -> Array:
    """What is left of a distance beyond what is needed; to touch is never enough."""
    return distance - (needed - ROUNDING if needed else 0.0)


class Swinging(Record):
    """Things that swing by others, n in all, in pieces that each have some room.

    ``lever`` (n,) [m/rad] is how fast any point moves at most. ``room`` tells of some of them at
    plate angles (k, s) the room that each piece has, (pieces, k, s) [m]; ``speeds`` how fast a
    point of each moves at most between such angles, (pieces, k).
    """

    lever: Array
    room: Callable[[Ints, Array], Array]
    speeds: Callable[[Ints, Array], Array]

    def least(self, travel: Array, levels: int | None = None) -> Array:
        """Least room (n,) of each over its travel (n, 2).

        With so many levels it is sure where it is above zero; without, it is within
        `DISTANCE_ERROR` wherever it is above zero.
        """
        least = np.full(len(travel), np.inf)
        item, (low, high) = np.arange(len(travel)), travel.T
        while item.size and levels != 0:
            angles = low[:, None] + (high - low)[:, None] * _SHARES
            room, turned = self.room(item, angles), np.abs(angles[:, 1] - angles[:, 0])
            np.minimum.at(least, item, room.min(axis=(0, 2)))
            # Between two angles: the whole moves no more than its lever, a piece as it says.
            whole, moved = room.min(axis=0), self.speeds(item, angles) * turned
            between = np.maximum(
                whole[:, 1:] + whole[:, :-1] - (self.lever[item] * turned)[:, None],
                room[..., 1:] + room[..., :-1] - moved[..., None],  # what stays where it is, stays
            )
            sure = 0.0 if levels else 2.0 * (least[item, None] - DISTANCE_ERROR)
            # What is too near at an angle that was measured is too near for good.
            row, at = np.nonzero((between.min(axis=0) <= sure) & (least[item, None] > 0))
            item, low, high = item[row], angles[row, at], angles[row, at + 1]
            levels = None if levels is None else levels - 1
        least[item] = np.minimum(least[item], 0.0)
        return least


def _by_keep_outs(
    part: Part, layouts: Ints, polygons: NDArray[Any], needed: float = 0.0
) -> Swinging:
    """A part of some layouts by a keep-out each."""
    return Swinging(
        part.lever[layouts],
        lambda which, angles: _beyond(
            part.apart(polygons[which, None], layouts[which], angles), needed
        ),
        lambda which, angles: np.stack([one.speed(layouts[which], angles) for one in part.pieces]),
    )


def _polygons(keep_outs: Sequence[KeepOut]) -> NDArray[Any]:
    return np.array([shapely.Polygon(one.corners) for one in keep_outs], dtype=object)


def clear(
    layouts: Layouts,
    ends: tuple[Array, Array],
    keep_outs: Sequence[KeepOut],
    search: Search,
    clearance: float,
) -> Ints:
    """Index of the first keep-out that layouts do not clear between two plate angles, or -1."""
    if not keep_outs:
        return np.full(len(layouts), -1)
    travel, found = np.stack(ends, axis=1), [np.empty(0, dtype=np.intp)]
    for start in range(0, len(layouts), _BLOCK):
        block = slice(start, start + _BLOCK)
        parts = parts_of(layouts.take(block), travel[block], search)
        found.append(_first_met(parts, travel[block], keep_outs, clearance))
    return np.concatenate(found)


def _first_met(
    parts: Sequence[Part], travel: Array, keep_outs: Sequence[KeepOut], clearance: float
) -> Ints:
    """The same of some layouts: half-way through the travel, then all along it.

    Only what may be in the way first is measured.
    """
    polygons, order = _polygons(keep_outs), np.arange(len(keep_outs))[:, None]
    boxes = shapely.bounds(polygons)[:, None, :]
    first, every = np.full(len(travel), len(keep_outs)), np.arange(len(travel))
    half, middle = np.abs(np.diff(travel)[:, 0]) / 2, travel.mean(axis=1)[:, None]
    near = []
    for part in parts:
        needed = 0.0 if part.name == "wrench" else clearance
        # From the box about a keep-out to a disc that holds the part through its travel.
        corners = [piece.at(every, middle)[:, 0] for piece in part.pieces]
        center = np.concatenate(corners, axis=1).mean(axis=1)
        reach = np.max(
            [
                np.abs(at - center[:, None]).max(axis=1) + piece.radius
                for at, piece in zip(corners, part.pieces, strict=True)
            ],
            axis=0,
        )
        x, y = center.real, center.imag
        aside = np.maximum(np.maximum(boxes[..., 0] - x, x - boxes[..., 2]), 0.0)
        above = np.maximum(np.maximum(boxes[..., 1] - y, y - boxes[..., 3]), 0.0)
        room = _beyond(np.hypot(aside, above) - reach - part.lever * half, needed)
        barred = np.array([bars(keep_out, part.name) for keep_out in keep_outs])[:, None]
        near.append((part, needed, barred & part.there & (room <= 0)))
    for all_along in (False, True):
        for part, needed, asked in near:
            ground, layout = np.nonzero(asked & (order < first))
            one = _by_keep_outs(part, layout, polygons[ground], needed)
            if all_along:
                met = one.least(travel[layout], _LEVELS) <= 0
            else:
                rooms = one.room(np.arange(len(layout)), middle[layout])
                met = rooms.min(axis=(0, 2)) <= 0
            np.minimum.at(first, layout[met], ground[met])
    return np.where(first == len(keep_outs), -1, first)


def nearest_keep_out(
    layout: Layouts, ends: tuple[float, float], search: Search
) -> tuple[float, str] | None:
    """How near one layout's plate, motor, bolt and belt come to what, sure to `DISTANCE_ERROR`."""
    found: list[tuple[float, str]] = []
    for part in parts_of(layout, np.array([ends]), search):
        barred = [one for one in search.space.keep_outs if bars(one, part.name)]
        if barred and part.name != "wrench":
            only = np.zeros(len(barred), dtype=np.intp)
            least = _by_keep_outs(part, only, _polygons(barred)).least(
                np.tile(ends, (len(only), 1))
            )
            found += zip(least.tolist(), (one.name for one in barred), strict=True)
    return min(found, key=lambda one: one[0], default=None)


def bolts_by_motors(
    layouts: Layouts, travel: Array, space: SearchSpace, clearance: float
) -> Swinging:
    """Bolts and links, and room for wrenches, by body and feet of the motor on the same plate.

    They are taken as the plate sees them, the motor standing still: places are u along the plate
    from the motor's foot and v to the motor's side. What lies behind the face on which the motor
    stands is parted from it by the plate, however near.
    """
    least, most = jack_ends(layouts, travel, space)
    in_plate, link = layouts.kind == IN_PLATE, layouts.kind == LINK
    length = np.where(link, space.link_length, space.bolt_length)
    tips = [np.abs(layouts.reach + 1j * (layouts.offset + layouts.ahead * at))
            for at in (least - length, most)]  # fmt: skip
    # ds/dphi of a jack's extension is (reach + offset sin phi) / cos^2 phi.
    cosine = np.cos(np.abs(travel).max(axis=1))
    slope = (np.abs(layouts.reach) + np.abs(layouts.offset)) / cosine**2
    lever = np.maximum(*tips) + np.where(layouts.kind == IN_BASE, slope, 0.0)
    lever = np.where(in_plate, 0.0, lever)
    half, hair = space.motor_feet / 2, space.plate_face + ROUNDING

    def room(which: Ints, angles: Array) -> Array:
        some = layouts.take(which)
        slides, swings = (some.kind == IN_PLATE)[:, None], (some.kind == LINK)[:, None]
        moved = adjusters_of(some, space.link_length)(angles.T).extension.T
        back = np.exp(-1j * some.side[:, None] * angles)

        def seen(extension: Array, turns: Bools) -> Points:
            """A place on the adjuster's axis as drawn, which turns with the plate or stays."""
            v = some.offset[:, None] + some.ahead[:, None] * extension
            place = some.reach[:, None] + 1j * v
            return np.asarray(np.where(turns, place, place * back) - some.foot[:, None])

        lowest, highest = least[which, None], most[which, None]
        tip = seen(np.where(slides, highest, np.where(swings, 0.0, moved)), slides | swings)
        end = np.where(slides, lowest, moved) - space.bolt_length
        head = seen(np.where(swings, -space.link_length, end), slides)
        # The heads of a screw that turns with the plate lie on a line.
        last = head + 1j * np.where(slides, some.ahead[:, None] * (highest - lowest), 0.0)
        height = some.motor_height
        feet = shapely.box(-half, 0.0, half, height)[:, None]
        shaft = shapely.points(np.zeros(len(which)), height)[:, None]

        def from_motor(*ends: Points) -> Array:
            lines = shapes_of(np.stack(ends, axis=-1))
            body = shapely.distance(lines, shaft) - space.motor_body / 2
            apart: Array = np.minimum(body, shapely.distance(lines, feet))
            return apart

        bolt, behind = _beyond(from_motor(tip, head), clearance), hair - head.imag
        bolt = np.where(tip.imag <= hair, np.maximum(bolt, behind), bolt)
        farthest = space.plate_face - np.maximum(head.imag, last.imag)
        wrench = np.maximum(from_motor(head, last) - space.wrench_space, farthest)
        return np.stack([bolt, np.where(swings, np.inf, wrench)])

    return Swinging(lever, room, lambda which, _: np.stack([lever[which]] * 2))


def clear_of_motor(
    layouts: Layouts, ends: tuple[Array, Array], space: SearchSpace, clearance: float
) -> Bools:
    """Test which bolts, wrenches and links clear the body and the feet of the motor on the plate.

    What lies wholly behind the face on which the motor stands is clear, however near.
    """
    travel = np.stack(ends, axis=1)
    room = bolts_by_motors(layouts, travel, space, clearance).least(travel, _LEVELS_OF_BOLTS)
    return room > 0
