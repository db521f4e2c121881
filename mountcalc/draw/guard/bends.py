"""The strip that is bent round a panel's edge: where it bends, how long it is, its relief cuts.

Saw cuts square to the strip, on its inside, leave a skin that bends. A cut turns the strip by the
angle at which its walls meet; the strip keeps its length in the middle of the skin. All of it is
plane geometry; that strips are so bent is common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from mountcalc.drafting.items import Point
from mountcalc.draw.guard.hull import Outline

_ROUNDING = 1e-9
_MARKED = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a bend, where it is pointed at


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
        reach = self.radius if radius is None else radius
        return self.centre[0] + reach * math.cos(way), self.centre[1] + reach * math.sin(way)

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
    along = 0.5 * straights[last]
    for number in range(len(parts)):
        which = (first + number) % len(parts)
        part = parts[which]
        end = along + (part.disc.radius + neutral) * (part.end - part.start)
        ways = part.start, part.end
        runs.append(Run(number + 1, part.disc.centre, part.disc.radius, ways, along, end))
        along = end + straights[which]
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
