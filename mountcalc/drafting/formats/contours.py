"""Closed contours: lines and arcs that meet end to end, joined as a router follows them."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from ezdxf.edgeminer import Deposit, Edge, find_all_simple_chains, is_loop, make_edge

from mountcalc.drafting.items import Arc, Circle, Layer, Line, Point, Stroke, along, sweep
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

_NOT_OUTLINES = {Layer.CENTRE, Layer.DIMENSION, Layer.NOTE}


class Leg(Record):
    """A part of a contour, up to where the next begins.

    It turns so far on the way [rad], counter-clockwise positive; 0 where it is straight.
    """

    start: Point
    turn: float = 0.0
    radius: float = 0.0

    @property
    def bulge(self) -> float:
        """Tangent of a quarter of its turn [-]."""
        return math.tan(self.turn / 4)


class Contour(Record):
    """A closed outline of at least two lines and arcs, counter-clockwise."""

    legs: tuple[Leg, ...]
    layer: Layer

    @property
    def area(self) -> float:
        """Of what it encloses [m2], negative where it runs clockwise."""
        points = [leg.start for leg in self.legs]
        twice = sum(
            start[0] * end[1] - end[0] * start[1] for start, end in pairwise((*points, points[0]))
        )
        # Between an arc and its chord.
        twice += sum(leg.radius**2 * (leg.turn - math.sin(leg.turn)) for leg in self.legs)
        return twice / 2

    def in_pieces(self, most: float) -> Contour:
        """The same outline, its arcs cut into equal parts that turn no more than so far."""
        legs: list[Leg] = []
        for leg, after in pairwise((*self.legs, self.legs[0])):
            (x, y), (end_x, end_y) = leg.start, after.start
            count = max(1, math.ceil(abs(leg.turn) / most - ROUNDING))
            part = leg.turn / count
            # The centre lies square to the way in which the arc begins.
            way = math.atan2(end_y - y, end_x - x) - leg.turn / 2
            centre = along(leg.start, way, 0.0, math.copysign(leg.radius, leg.turn))
            first = math.atan2(y - centre[1], x - centre[0])
            legs.append(dataclasses.replace(leg, turn=part))
            for number in range(1, count):
                start = along(centre, first + number * part, leg.radius)
                legs.append(dataclasses.replace(leg, start=start, turn=part))
        return dataclasses.replace(self, legs=tuple(legs))


def joined(strokes: Iterable[Stroke]) -> list[Stroke | Contour]:
    """Strokes in which lines and arcs that close an outline are one contour."""
    kept: dict[int, Stroke | Contour] = {}
    edges: dict[Layer, list[Edge]] = {}
    for place, stroke in enumerate(strokes):
        kept[place] = stroke
        if not isinstance(stroke, Line | Arc):
            continue
        start, end = _ends(stroke)
        apart = math.dist(start, end)
        length = stroke.radius * sweep(stroke) if isinstance(stroke, Arc) else apart
        if length <= ROUNDING:
            del kept[place]
        elif isinstance(stroke, Arc) and apart <= ROUNDING:
            kept[place] = Circle(stroke.centre, stroke.radius, stroke.layer)
        elif stroke.layer not in _NOT_OUTLINES:
            one = make_edge(start, end, length, payload=(place, stroke))
            edges.setdefault(stroke.layer, []).append(one)
    loops = (
        (chain, layer)
        for layer, some in edges.items()
        for chain in find_all_simple_chains(Deposit(some, gap_tol=ROUNDING))
        if len(chain) > 1 and is_loop(chain, gap_tol=ROUNDING)
    )
    for chain, layer in loops:
        contour = _contour(chain, layer)
        if contour.area > ROUNDING * sum(edge.length for edge in chain):
            places = [edge.payload[0] for edge in chain]
            kept = {place: one for place, one in kept.items() if place not in places}
            kept[min(places)] = contour
    return [kept[place] for place in sorted(kept)]


def _contour(chain: Sequence[Edge], layer: Layer) -> Contour:
    """A closed chain, from the edge on that was drawn first, whichever way is counter-clockwise."""
    first = min(range(len(chain)), key=lambda number: chain[number].payload[0])
    pieces = [(edge.payload[1], edge.is_reverse) for edge in (*chain[first:], *chain[:first])]
    contour = Contour(tuple(_leg(piece, backwards=back) for piece, back in pieces), layer)
    if contour.area < 0:
        pieces = [pieces[0], *reversed(pieces[1:])]
        legs = tuple(_leg(piece, backwards=not back) for piece, back in pieces)
        contour = Contour(legs, layer)
    return contour


def _leg(piece: Line | Arc, *, backwards: bool) -> Leg:
    start = _ends(piece)[backwards]
    if isinstance(piece, Line):
        return Leg(start)
    return Leg(start, -sweep(piece) if backwards else sweep(piece), piece.radius)


def _ends(piece: Line | Arc) -> tuple[Point, Point]:
    if isinstance(piece, Line):
        return piece.start, piece.end
    return (
        along(piece.centre, piece.start, piece.radius),
        along(piece.centre, piece.end, piece.radius),
    )
