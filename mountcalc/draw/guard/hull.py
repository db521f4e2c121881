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

from mountcalc.drafting.items import Arc, Circle, Layer, Line, Point, along

# Directions [rad] that are nearer together are one, and so are points [m]: rounding.
_SAME = 1e-12
_SAME_PLACE = 1e-9
_ROUNDING = 1e-9
_MARKED = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a bend, where it is pointed at


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
        return along(self.disc.centre, direction, self.disc.radius)

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
    ends = tuple(Disc(along(about, angle, arm), radius) for angle in (low, high))
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


@dataclass(frozen=True, slots=True)
class Cuts:
    """Relief cuts: width of the saw's ``kerf``, ``thickness`` of the strip, ``skin`` left [m]."""

    kerf: float
    thickness: float
    skin: float

    @property
    def neutral(self) -> float:
        """From the inside to the middle of the skin [m], t - s/2, which keeps its length."""
        return self.thickness - 0.5 * self.skin

    @property
    def closing_angle(self) -> float:
        """Turn of the strip [rad] at one cut when its walls meet: theta = k / (t - s/2).

        The skin over the cut bends to an arc whose middle keeps its length k, on a radius
        k / theta; the walls stand along radii and meet where that is t - s/2.
        """
        return self.kerf / self.neutral

    def mouth(self, turn: float) -> float:
        """What is left open of a cut at the strip's inside."""
        return self.kerf - turn * self.neutral


@dataclass(frozen=True, slots=True)
class Bend:
    """Relief cuts for one arc of a panel's edge, of a ``radius`` [m], that turns by ``turn`` [rad].

    ``fewest`` cuts just close, or nearly; ``cuts`` are to be made, more where the strip would stand
    off the edge; ``spacing`` [m] is from the middle of one to that of the next on the strip while
    it is straight, ``length`` [m] of strip goes round, in the middle of its skin.
    """

    radius: float
    turn: float
    fewest: int
    cuts: int
    spacing: float
    length: float


def bend(radius: float, turn: float, cuts: Cuts, facet: float) -> Bend:
    """Relief cuts that take a strip round one arc."""
    # Facets of a polygon round the edge stand off at its corners by R / cos(theta/2) - R.
    flat = 2.0 * math.acos(radius / (radius + facet))
    fewest = _count(turn, cuts.closing_angle)
    number = max(fewest, _count(turn, flat))
    length = (radius + cuts.neutral) * turn
    return Bend(radius, turn, fewest, number, length / number, length)


def _count(turn: float, each: float) -> int:
    return max(1, math.ceil(turn / each - _ROUNDING))


def strip_length(edge: Outline, neutral: float) -> float:
    """Length of a strip round a convex edge: P + 2 pi d."""
    return edge.perimeter + math.tau * neutral


@dataclass(frozen=True, slots=True)
class Run:
    """A bend on the panel's edge and on the strip, numbered from the butt on, counter-clockwise.

    Its arc on the edge has a ``centre`` and a ``radius`` [m] and runs between two ``ways`` [rad]
    from there; on the straight strip it goes from ``start`` to ``end`` [m] from the butt.
    """

    number: int
    centre: Point
    radius: float
    ways: tuple[float, float]
    start: float
    end: float

    @property
    def turn(self) -> float:
        """By which the strip is bent [rad]."""
        return self.ways[1] - self.ways[0]

    def at(self, way: float, radius: float | None = None) -> Point:
        """A point in a direction [rad] from the centre, on the edge or at another radius [m]."""
        return along(self.centre, way, self.radius if radius is None else radius)

    @property
    def middles(self) -> tuple[Point, ...]:
        """Points of the edge on the bend [m], the middle first."""
        return tuple(self.at(self.ways[0] + share * self.turn) for share in _MARKED)


@dataclass(frozen=True, slots=True)
class StripLayout:
    """All of the strip.

    Its ends meet at the ``butt`` on the panel's edge, in the middle of a ``straight`` run so long
    [m], 0 where there is none; ``inward`` [rad] points from there square into the panel; ``length``
    [m] is from butt to butt.
    """

    butt: Point
    straight: float
    inward: float
    runs: tuple[Run, ...]
    length: float


def strip_layout(edge: Outline, neutral: float) -> StripLayout:
    """Lay a strip out from the middle of the longest straight run."""
    parts = edge.rounds
    straights = [
        math.dist(one.at(one.end), other.at(other.start)) if len(parts) > 1 else 0.0
        for one, other in pairwise((*parts, parts[0]))
    ]
    last = max(range(len(parts)), key=lambda number: straights[number])
    first = (last + 1) % len(parts)
    leaves, meets = parts[last].at(parts[last].end), parts[first].at(parts[first].start)
    butt = 0.5 * (leaves[0] + meets[0]), 0.5 * (leaves[1] + meets[1])
    runs: list[Run] = []
    place = 0.5 * straights[last]
    for number in range(len(parts)):
        which = (first + number) % len(parts)
        part = parts[which]
        end = place + (part.disc.radius + neutral) * (part.end - part.start)
        ways = part.start, part.end
        runs.append(Run(number + 1, part.disc.centre, part.disc.radius, ways, place, end))
        place = end + straights[which]
    length = runs[-1].end + 0.5 * straights[last]
    return StripLayout(butt, straights[last], parts[first].start + math.pi, tuple(runs), length)


def kerf_near(edge: Outline, cuts: Cuts, facet: float, block: float, step: float) -> float | None:
    """The kerf nearest to the given one that leaves wood between relief cuts on every bend."""
    longest = max((radius + cuts.neutral) * turn for radius, turn in edge.arcs)
    below = math.ceil(min(cuts.kerf, longest) / step - _ROUNDING) - 1
    above = math.floor(cuts.kerf / step + _ROUNDING) + 1
    numbers = (*range(below, 0, -1), *range(above, math.ceil(longest / step)))
    tried: list[float] = [cuts.kerf, *(step * number for number in numbers)]
    for kerf in tried:
        trial = Cuts(kerf, cuts.thickness, cuts.skin)
        bends = (bend(radius, turn, trial, facet) for radius, turn in edge.arcs)
        if all(one.spacing - kerf >= block for one in bends):
            return kerf
    return None
