"""The shape that a string takes when it is drawn tight round discs: arcs and straight lines, exact.

A disc may stand for a whole family of them, those whose centres lie on an arc: seen from the
directions that the arc faces, the family reaches as far as one disc about the arc's own centre.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from mountcalc.drafting.items import Arc, Circle, Layer, Line, Point

# Directions [rad] that are nearer together are one, and so are points [m]: rounding.
_SAME = 1e-12
_SAME_PLACE = 1e-9


@dataclass(frozen=True, slots=True)
class Disc:
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


@dataclass(frozen=True, slots=True)
class Round:
    """A round part of an outline: on a disc, from a direction to another [rad]."""

    disc: Disc
    start: float
    end: float

    def at(self, direction: float) -> Point:
        """The point in a direction [rad] from the disc's centre [m]."""
        (x, y), radius = self.disc.centre, self.disc.radius
        return x + radius * math.cos(direction), y + radius * math.sin(direction)

    def share(self, share: float) -> Point:
        """The point at a share of it [m]."""
        return self.at(self.start + share * (self.end - self.start))


@dataclass(frozen=True, slots=True)
class Outline:
    """A convex outline of arcs in order, counter-clockwise; straight lines join them."""

    rounds: tuple[Round, ...]

    @property
    def arcs(self) -> tuple[tuple[float, float], ...]:
        """Radius [m] and turn [rad] of each arc, in order."""
        return tuple((part.disc.radius, part.end - part.start) for part in self.rounds)

    @property
    def perimeter(self) -> float:
        """Length all the way round [m]."""
        return sum(length for length, _ in self._steps())

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top [m]."""
        quarters = (math.pi, -math.pi / 2.0, 0.0, math.pi / 2.0)
        left, bottom, right, top = (self._reach(direction) for direction in quarters)
        return -left, -bottom, right, top

    def items(self, layer: Layer) -> tuple[Line | Arc | Circle, ...]:
        """The outline as it is drawn: true arcs and lines."""
        if len(self.rounds) == 1:
            return (Circle(self.rounds[0].disc.centre, self.rounds[0].disc.radius, layer),)
        drawn: list[Line | Arc | Circle] = []
        for part, (start, end) in self._with_lines():
            drawn.append(Arc(part.disc.centre, part.disc.radius, part.start, part.end, layer))
            if math.dist(start, end) > _SAME_PLACE:
                drawn.append(Line(start, end, layer))
        return tuple(drawn)

    def points(self, count: int) -> tuple[Point, ...]:
        """Points that share the outline into equal lengths."""
        step = self.perimeter / count
        return tuple(self._point_at(number * step) for number in range(count))

    def _point_at(self, distance: float) -> Point:
        for length, place in self._steps():
            if distance <= length:
                return place(distance / length if length > 0 else 0.0)
            distance -= length
        return self.rounds[0].at(self.rounds[0].start)

    def _steps(self) -> Iterator[tuple[float, Callable[[float], Point]]]:
        """Length of each arc and line, and the point at a share of it."""
        for part, ends in self._with_lines():
            yield part.disc.radius * (part.end - part.start), part.share
            if len(self.rounds) > 1:
                yield math.dist(*ends), partial(_between, *ends)

    def _with_lines(self) -> Iterator[tuple[Round, tuple[Point, Point]]]:
        """Each arc, and the ends of the line from it to the next."""
        for part, after in pairwise((*self.rounds, self.rounds[0])):
            yield part, (part.at(part.end), after.at(after.start))

    def _reach(self, direction: float) -> float:
        bearing = [
            part
            for part in self.rounds
            if (direction - part.start) % math.tau <= part.end - part.start + _SAME
        ]
        # In a gap of rounding between two arcs either will do.
        discs = [part.disc for part in bearing[:1] or self.rounds]
        return max(Disc(disc.centre, disc.radius).reach(direction) for disc in discs)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def disc_family(
    about: Point, first: Point, turns: tuple[float, float], radius: float
) -> tuple[Disc, ...]:
    """Discs whose centres lie on an arc, as the few that bear on a string round them."""
    arm = math.dist(about, first)
    at = math.atan2(first[1] - about[1], first[0] - about[0])
    low, high = at + turns[0], at + turns[1]
    ends = tuple(
        Disc((about[0] + arm * math.cos(angle), about[1] + arm * math.sin(angle)), radius)
        for angle in (low, high)
    )
    if arm * (high - low) < _SAME:
        return ends[:1]
    return (*ends, Disc(about, arm + radius, (low, high)))


def hull(discs: Sequence[Disc]) -> Outline:
    """The convex outline round discs."""
    turns = sorted(_changes(discs))
    turns = [
        turn for turn, after in pairwise((*turns, turns[0] + math.tau)) if after - turn > _SAME
    ]
    parts: list[Round] = []
    for start, end in pairwise((*turns, turns[0] + math.tau)):
        middle = 0.5 * (start + end)
        furthest = max(discs, key=lambda disc: disc.reach(middle))
        if parts and parts[-1].disc == furthest:
            parts[-1] = Round(furthest, parts[-1].start, end)
        else:
            parts.append(Round(furthest, start, end))
    if len(parts) > 1 and parts[0].disc == parts[-1].disc:
        first = parts.pop(0)
        parts[-1] = Round(first.disc, parts[-1].start, first.end + math.tau)
    return Outline(tuple(parts))


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
            if abs(larger) < apart - _SAME_PLACE:
                middle, half = math.atan2(up, across), math.acos(larger / apart)
                yield from ((middle - half) % math.tau, (middle + half) % math.tau)
