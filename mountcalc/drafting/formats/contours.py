"""Closed contours: lines and arcs that meet end to end, joined as a router follows them."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

from ezdxf.edgeminer import Deposit, Edge, find_all_simple_chains, is_loop, make_edge

from mountcalc.drafting.items import Arc, Circle, Layer, Line, Point, along, sweep
from mountcalc.drafting.paper.sheets import Stroke

__all__ = ["Contour", "Leg", "joined"]

_Piece: TypeAlias = Line | Arc

# [m] between ends that are one: far above rounding, far below what any machine can follow.
_GAP = 1e-9
_ROUNDING = 1e-9  # of a part of an arc
_NOT_OUTLINES = {Layer.CENTRE, Layer.DIMENSION, Layer.NOTE}


@dataclasses.dataclass(frozen=True, slots=True)
class Leg:
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


@dataclasses.dataclass(frozen=True, slots=True)
class Contour:
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
        """The same outline, its arcs cut into equal parts."""
        legs: list[Leg] = []
        for leg, after in pairwise((*self.legs, self.legs[0])):
            count = max(1, math.ceil(abs(leg.turn) / most - _ROUNDING))
            legs += (
                dataclasses.replace(leg, start=point, turn=leg.turn / count)
                for point in _points(leg, after.start, count)
            )
        return dataclasses.replace(self, legs=tuple(legs))


def _points(leg: Leg, end: Point, count: int) -> list[Point]:
    """Where equal parts of a leg begin."""
    if count == 1:
        return [leg.start]
    chord = math.atan2(end[1] - leg.start[1], end[0] - leg.start[0])
    side = math.copysign(leg.radius, leg.turn)
    # The centre lies square to the way in which the arc begins.
    centre = along(leg.start, chord - leg.turn / 2, 0.0, side)
    first = math.atan2(leg.start[1] - centre[1], leg.start[0] - centre[0])
    return [leg.start] + [
        along(centre, first + number * leg.turn / count, leg.radius) for number in range(1, count)
    ]


def joined(strokes: Iterable[Stroke]) -> list[Stroke | Contour]:
    """Strokes in which lines and arcs that close an outline are one contour."""
    kept: dict[int, Stroke | Contour] = {
        place: _rounded(stroke) for place, stroke in enumerate(strokes) if not _is_nothing(stroke)
    }
    pieces = {place: stroke for place, stroke in kept.items() if isinstance(stroke, Line | Arc)}
    for layer in Layer:
        if layer in _NOT_OUTLINES:
            continue
        edges = [
            make_edge(*_ends(piece), _length(piece), payload=place)
            for place, piece in pieces.items()
            if piece.layer is layer
        ]
        for chain in _loops(edges):
            contour = _contour([(pieces[edge.payload], edge.is_reverse) for edge in chain])
            if contour.area > _GAP * sum(edge.length for edge in chain):
                for edge in chain:
                    del kept[edge.payload]
                kept[min(edge.payload for edge in chain)] = contour
    return [kept[place] for place in sorted(kept)]


def _loops(edges: Sequence[Edge]) -> list[Sequence[Edge]]:
    """Closed chains, each from the edge that was drawn first."""
    loops: list[Sequence[Edge]] = []
    if not edges:
        return loops
    for chain in find_all_simple_chains(Deposit(edges, gap_tol=_GAP)):
        if len(chain) > 1 and is_loop(chain, gap_tol=_GAP):
            first = min(range(len(chain)), key=lambda place: chain[place].payload)
            loops.append([*chain[first:], *chain[:first]])
    return loops


def _contour(chain: Sequence[tuple[_Piece, bool]]) -> Contour:
    """Pieces end to end, each with whether it is run through backwards, as a contour."""
    legs = tuple(_leg(piece, backwards=backwards) for piece, backwards in chain)
    contour = Contour(legs, chain[0][0].layer)
    if contour.area >= 0:
        return contour
    first, *others = ((piece, not backwards) for piece, backwards in chain)
    return _contour([first, *reversed(others)])


def _leg(piece: _Piece, *, backwards: bool) -> Leg:
    start = _ends(piece)[1 if backwards else 0]
    if isinstance(piece, Line):
        return Leg(start)
    return Leg(start, -sweep(piece) if backwards else sweep(piece), piece.radius)


def _ends(piece: _Piece) -> tuple[Point, Point]:
    if isinstance(piece, Line):
        return piece.start, piece.end
    return (
        along(piece.centre, piece.start, piece.radius),
        along(piece.centre, piece.end, piece.radius),
    )


def _length(piece: _Piece) -> float:
    if isinstance(piece, Line):
        return math.dist(piece.start, piece.end)
    return piece.radius * sweep(piece)


def _is_nothing(stroke: Stroke) -> bool:
    return isinstance(stroke, Line | Arc) and _length(stroke) <= _GAP


def _rounded(stroke: Stroke) -> Stroke:
    if isinstance(stroke, Arc) and math.dist(*_ends(stroke)) <= _GAP:
        return Circle(stroke.centre, stroke.radius, stroke.layer)
    return stroke
