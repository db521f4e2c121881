"""The strip round a panel, straight: where each bend begins and ends, from butt to butt."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drafting.items import Point
from mountcalc.draw.guard.disc_hull import Outline
from mountcalc.draw.guard.strip.edge import Cuts, bend

__all__ = ["Run", "StripLayout", "kerf_near", "strip_layout"]

_ROUNDING = 1e-9
_MARKED = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a bend, where it is pointed at


@dataclass(frozen=True, slots=True)
class Run:
    """A bend on the panel's edge and on the strip.

    Attributes
    ----------
    number : int
        From the butt on, counter-clockwise; the first is 1.
    centre : Point [m]
        Of its arc on the edge.
    radius : float [m]
    ways : (float, float) [rad]
        Directions from the centre in which the arc begins and ends.
    start, end : float [m]
        Where on the straight strip it begins and ends, from the butt.
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

    Attributes
    ----------
    butt : Point [m]
        Where its ends meet, on the panel's edge.
    straight : float [m]
        Length of the straight run in whose middle that is; 0 where there is none.
    inward : float [rad]
        Direction from the butt square into the panel.
    runs : tuple of Run
    length : float [m]
        From butt to butt.
    """

    butt: Point
    straight: float
    inward: float
    runs: tuple[Run, ...]
    length: float


def strip_layout(edge: Outline, neutral: float) -> StripLayout:
    """Lay a strip out from the middle of the longest straight run."""
    parts = edge.rounds
    after = (*parts[1:], parts[0])
    straights = [
        math.dist(one.at(one.end), other.at(other.start)) if len(parts) > 1 else 0.0
        for one, other in zip(parts, after, strict=True)
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
