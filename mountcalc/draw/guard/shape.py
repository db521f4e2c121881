"""The guard's panel in the mount's plane: outline, slot, opening, fixing holes.

Its outline is what a string takes that is drawn tight round discs: arcs and straight lines, exact.
A disc may stand for a whole family of them, those whose centres lie on an arc: seen from the
directions that the arc faces, the family reaches as far as one disc about the arc's own centre.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from mountcalc.drafting.annotations import extremes
from mountcalc.drafting.items import Arc, Bounds, Circle, Layer, Line, Point, along, around, sweep
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.sizes import driven_opening, guard_sizes, made
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

# Directions [rad] that are nearer together are one, and so are points [m]: rounding.
_SAME = 1e-12
_WAYS = 181
_FAR = 1e3  # [m] past all that is drawn


class Disc(Record):
    """A disc [m], or the part of one that faces certain directions.

    ``facing`` [rad] is from which direction to which, counter-clockwise; None for all.
    """

    centre: Point
    radius: float
    facing: tuple[float, float] | None = None

    def reach(self, direction: float) -> float:
        """How far it reaches in a direction [rad], from the origin [m]."""
        if self.facing is not None:
            start, end = self.facing
            if (direction - start) % math.tau > end - start:
                return -math.inf
        (x, y), (cosine, sine) = self.centre, (math.cos(direction), math.sin(direction))
        return x * cosine + y * sine + self.radius


def at_share(piece: Arc | Line, share: float) -> Point:
    """The point at a share of a line or an arc."""
    if isinstance(piece, Arc):
        return along(piece.centre, piece.start + share * sweep(piece), piece.radius)
    (x, y), (far, high) = piece.start, piece.end
    return x + share * (far - x), y + share * (high - y)


class Outline(Record):
    """A convex outline of arcs in order, counter-clockwise; straight lines join them.

    ``pieces`` are each arc and the line after it, be it as short as rounding, with its length [m];
    ``items`` are the outline as it is cut.
    """

    rounds: tuple[Arc, ...]
    pieces: tuple[tuple[Arc | Line, float], ...]
    items: tuple[Line | Arc | Circle, ...]
    perimeter: float
    bounds: Bounds

    def points(self, count: int) -> tuple[Point, ...]:
        """Points that share the outline into equal lengths."""
        lengths = np.array([length for _, length in self.pieces])
        ends = np.cumsum(lengths)
        places = np.arange(count) * ends[-1] / count
        which = np.searchsorted(ends, places)
        shares = (1.0 - (ends[which] - places) / lengths[which]).tolist()
        return tuple(at_share(self.pieces[w][0], s) for w, s in zip(which, shares, strict=True))


def disc_family(
    about: Point, first: Point, turns: tuple[float, float], radius: float
) -> tuple[Disc, ...]:
    """Discs whose centres lie on an arc, as the few that bear on a string round them."""
    arm = math.dist(about, first)
    at = math.atan2(first[1] - about[1], first[0] - about[0])
    low, high = at + turns[0], at + turns[1]
    ends = tuple(Disc(along(about, angle, arm), radius) for angle in (low, high))
    if arm * (high - low) < _SAME:
        return ends[:1]
    return (*ends, Disc(about, arm + radius, (low, high)))


def hull(discs: Sequence[Disc]) -> Outline:
    """The convex outline round discs."""
    turns = sorted(_changes(discs))
    ends = pairwise((*turns, turns[0] + math.tau))
    turns = [turn for turn, after in ends if after - turn > _SAME]
    parts: list[tuple[Disc, float, float]] = []
    for start, end in pairwise((*turns, turns[0] + math.tau)):
        middle = 0.5 * (start + end)
        furthest = max(discs, key=lambda disc: disc.reach(middle))
        goes_on = bool(parts) and parts[-1][0] == furthest
        parts.append((furthest, parts.pop()[1] if goes_on else start, end))
    if len(parts) > 1 and parts[0][0] == parts[-1][0]:
        disc, _, end = parts.pop(0)
        parts[-1] = disc, parts[-1][1], end + math.tau
    cut, pieces = Layer.CUT, list[tuple[Arc | Line, float]]()
    rounds = [Arc(disc.centre, disc.radius, start, end, cut) for disc, start, end in parts]
    for one, after in pairwise((*rounds, rounds[0])):
        line = Line(at_share(one, 1.0), at_share(after, 0.0), cut)
        pieces += [(one, one.radius * sweep(one)), (line, math.dist(line.start, line.end))]
    items: list[Line | Arc | Circle] = [Circle(rounds[0].centre, rounds[0].radius, cut)]
    if len(rounds) > 1:
        items = [one for one, long in pieces if isinstance(one, Arc) or long > ROUNDING]
    bounds = around(point for item in items for point in extremes(item, 1.0))
    length = sum(length for _, length in pieces)
    return Outline(tuple(rounds), tuple(pieces), tuple(items), length, bounds)


def _changes(discs: Sequence[Disc]) -> Iterator[float]:
    """Directions in [0, 2 pi) in which another disc may begin to reach furthest."""
    yield 0.0
    for number, one in enumerate(discs):
        if one.facing is not None:
            yield from (angle % math.tau for angle in one.facing)
        for other in discs[:number]:
            across, up = one.centre[0] - other.centre[0], one.centre[1] - other.centre[1]
            apart, larger = math.hypot(across, up), other.radius - one.radius
            # One that touches the other from inside, as the end of a family does, passes it
            # nowhere: the angle would be rounding.
            if abs(larger) < apart - ROUNDING:
                middle, half = math.atan2(up, across), math.acos(larger / apart)
                yield from ((middle - half) % math.tau, (middle + half) % math.tau)


class Slot(Record):
    """The slot in which the motor's shaft moves, about the hinge; [m].

    ``radius`` is from the hinge to the shaft; ``start`` and ``end`` [rad] are the directions from
    the hinge to the shaft at both ends, counter-clockwise.
    """

    hinge: Point
    radius: float
    half_width: float
    start: float
    end: float

    @property
    def length(self) -> float:
        """Over its round ends [m]."""
        return self.radius * (self.end - self.start) + 2.0 * self.half_width

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the shaft's axis is at both ends [m]."""
        return self.at(self.start), self.at(self.end)

    def at(self, direction: float) -> Point:
        """Where the shaft's axis is in a direction [rad] from the hinge [m]."""
        return along(self.hinge, direction, self.radius)

    @property
    def shape(self) -> shapely.Polygon:
        """What it takes of the plane."""
        ways = np.linspace(self.start, self.end, _WAYS).tolist()
        middle = shapely.LineString([self.at(way) for way in ways])
        return middle.buffer(self.half_width, quad_segs=64)

    def open_at(self, across: float) -> tuple[float, float]:
        """From where to where it is open on an upright line [m]."""
        line = shapely.LineString([(across, -_FAR), (across, _FAR)])
        _, low, _, high = self.shape.intersection(line).bounds
        return low, high

    @property
    def items(self) -> tuple[Arc | Circle, ...]:
        """The slot as it is cut: two arcs about the hinge, and half a circle at each end."""
        half, start, end, cut = self.half_width, self.start, self.end, Layer.CUT
        if self.radius <= half:
            return (Circle(self.hinge, self.radius + half, cut),)
        return (
            Arc(self.hinge, self.radius + half, start, end, cut),
            Arc(self.at(end), half, end, end + math.pi, cut),
            Arc(self.hinge, self.radius - half, start, end, cut),
            Arc(self.at(start), half, start + math.pi, start + 2.0 * math.pi, cut),
        )


class GuardShape(Record):
    """The panel inside its strip, in the scenario's coordinates.

    ``holes`` are for the screws that hold it.
    """

    outline: Outline
    slot: Slot
    opening: Circle
    holes: tuple[Circle, ...]


@once
def guard_shape(build: Build) -> GuardShape:
    """Shape the panel of a mount's guard."""
    sizes, swing, shaft = guard_sizes(build), build.swing, build.scenario.motor.shaft
    hinge, axis = build.hinge, build.scenario.driven.shaft

    def round_all(margin: float) -> Outline:
        """The string round both pulleys over the whole swing, moved out."""
        turns, radius = (swing.low, swing.high), sizes.motor_radius + margin
        family = disc_family(hinge, shaft, turns, radius)
        return hull((Disc(axis, sizes.driven_radius + margin), *family))

    # Screws go half way between the moving parts and the edge.
    screwed = round_all(sizes.clearance - 0.5 * sizes.clearance)
    count = max(3, math.ceil(screwed.perimeter / made("hole_spacing")))
    lowest, hole = build.turned(shaft, swing.low), 0.5 * made("hole_diameter")
    start = math.atan2(lowest[1] - hinge[1], lowest[0] - hinge[0])
    end = start + swing.high - swing.low
    return GuardShape(
        outline=round_all(sizes.clearance),
        slot=Slot(hinge, math.dist(hinge, shaft), sizes.slot_half_width, start, end),
        opening=Circle(axis, driven_opening(build).radius or 0.0, Layer.CUT),
        holes=tuple(Circle(point, hole, Layer.DRILL) for point in screwed.points(count)),
    )
