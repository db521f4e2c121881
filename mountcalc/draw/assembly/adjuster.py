"""Bolt or link in the assembly, with the room for a wrench."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from mountcalc.drafting.dimensions import SAME
from mountcalc.drafting.items import Layer, Point
from mountcalc.draw.assembly.link import draw_link, link_outline
from mountcalc.draw.boards.bolt_across import across_words
from mountcalc.draw.boards.bolt_hole import BLOCK_DEPTH, BLOCK_SHARE, bolt_diameter, drawn_diameter
from mountcalc.draw.boards.side import BoardSide
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.view_parts import ViewParts
from mountcalc.draw.wrench_room import WrenchRoom, wrench_room
from mountcalc.layout import Segment, skeleton_of
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import AdjusterKind

__all__ = ["adjuster_outlines", "draw_adjuster"]

_NUTS = 2.0  # diameters between what carries the bolt and its head: lock nut and washers (estimate)
# A bolt nearer to parallel with the plate than this (sine) does not pass through it.
_LEAST_CROSSING = 0.3


def draw_adjuster(parts: ViewParts, build: Build, swing: Swing, board: BoardSide) -> None:
    """Draw the adjuster at snug."""
    adjuster = build.scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE:
        return
    diameter = drawn_diameter(adjuster)
    parts.notes.append(across_words(build))
    _say_sizes(parts, build, diameter)
    room = wrench_room(diameter)
    if adjuster.kind is AdjusterKind.LINK:
        draw_link(parts, build, swing, diameter, room)
    else:
        nut = _nut(parts, build, swing, board)
        _bolt(parts, build, _Bolt.of(build, swing, nut, diameter), room)
    _say_room(parts, build, room)


def adjuster_outlines(
    build: Build, swing: Swing, board: BoardSide
) -> Iterator[tuple[str, float, tuple[Point, ...]]]:
    """What the adjuster takes of the drawing's plane."""
    adjuster, angles = build.scenario.adjuster, (swing.install, swing.snug, swing.take_up)
    if adjuster.kind is AdjusterKind.NONE:
        return
    diameter = drawn_diameter(adjuster)
    room = wrench_room(diameter)
    if adjuster.kind is AdjusterKind.LINK:
        for angle in angles:
            yield "the link", angle, link_outline(build, angle, diameter)
        return
    nut = _nut(ViewParts(), build, swing, board)
    bolt = _Bolt.of(build, swing, nut, diameter)
    far, half, flats = bolt.shank + room.head, 0.5 * diameter, 0.5 * room.across_flats.value
    shapes = {
        "the bolt": ((0.0, half), (0.0, -half), (far, -flats), (far, flats)),
        "the room for the wrench": tuple(
            (back, side * room.radius)
            for back, side in ((bolt.shank, 1), (bolt.shank, -1), (far, -1), (far, 1))
        ),
    }
    for name, places in shapes.items():
        for position, angle in enumerate(angles):
            yield name, angle, tuple(bolt.at(position, *place) for place in places)


def _say_sizes(parts: ViewParts, build: Build, diameter: float) -> None:
    """Say what is drawn without being told: the screw's thickness, its length, what it is in."""
    thread, size = build.scenario.adjuster.thread, bench_length(diameter, build.display)
    if thread is None:
        parts.notes.append(
            f"adjuster.thread is not given: a screw {size} thick is drawn (estimate)."
        )
    elif bolt_diameter(thread) is None:
        parts.notes.append(
            f"The thread's name does not tell its diameter: {size} is drawn (estimate)."
        )
    if build.scenario.adjuster.kind is AdjusterKind.LINK:
        parts.notes.append("The link's body and pins are drawn as estimates.")
    else:
        nuts = bench_length(_NUTS * diameter, build.display)
        parts.notes.append(
            f"The bolt is drawn with {nuts} for lock nut and washers under its head (estimate)."
        )


def _nut(parts: ViewParts, build: Build, swing: Swing, board: BoardSide) -> Point:
    """Where the bolt passes through what carries it, as drawn."""
    mount, adjuster = build.mount, build.scenario.adjuster
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    angles = (swing.install, swing.snug, swing.take_up)
    draws_back = max(0.0, *(-float(mount.adjuster(angle).extension) for angle in angles))
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        _, out = board.frame.slope(adjuster.axis)
        past = board.frame.height(adjuster.tip) / out if abs(out) > _LEAST_CROSSING else 0.0
        if past > SAME:
            # The tip is before the motor's face, or behind the back of the board.
            stands = past if out > 0 else past - board.thickness / abs(out)
            _say_meets(parts, build, stands, draws_back)
            way = math.cos(adjuster.axis), math.sin(adjuster.axis)
            return adjuster.tip[0] - past * way[0], adjuster.tip[1] - past * way[1]
        parts.notes.append(
            "As the plate is taken to run, the bolt does not pass through it behind its tip: "
            "plate.direction would say how it runs."
        )
    nut = skeleton_of(build.scenario, draws_back).nut
    assert nut is not None
    return nut


def _say_meets(parts: ViewParts, build: Build, stands: float, draws_back: float) -> None:
    """Say so where a bolt through the plate would have to come back further than it stands out."""
    if draws_back < stands:
        return
    out, back = (bench_length(max(0.0, size), build.display) for size in (stands, draws_back))
    parts.notes.append(
        f"As drawn the bolt stands {out} out of the plate, but has to come back {back} "
        "to install the belt: the plate meets what the tip bears on before that."
    )


def _say_room(parts: ViewParts, build: Build, room: WrenchRoom) -> None:
    flats, radius, length = (
        bench_length(size, build.display)
        for size in (room.across_flats.value, room.radius, room.length)
    )
    where = "the body" if build.scenario.adjuster.kind is AdjusterKind.LINK else "the head"
    parts.notes.append(
        f"Wrench: {flats} across flats ({room.across_flats.source}, {room.across_flats.sure}). "
        f"Keep {radius} clear round the axis at {where}, drawn thin, and {length} on one side for "
        "the wrench to swing (estimates)."
    )


@dataclass(frozen=True, slots=True)
class _Bolt:
    """A bolt by its position in the swing: [m], directions [rad].

    ``nut`` is where it passes through what carries it, ``tips`` and ``axes`` (the way of the tip)
    are at install, snug and take-up; ``shank`` is from under the head to the tip.
    """

    diameter: float
    nuts: tuple[Point, ...]
    tips: tuple[Point, ...]
    axes: tuple[float, ...]
    shank: float
    face: Segment

    @classmethod
    def of(cls, build: Build, swing: Swing, nut: Point, diameter: float) -> _Bolt:
        mount, adjuster = build.mount, build.scenario.adjuster
        angles = (swing.install, swing.snug, swing.take_up)
        states = [mount.adjuster(angle) for angle in angles]
        skeleton = skeleton_of(build.scenario)
        assert skeleton.face is not None
        assert adjuster.axis is not None
        hinge, turns = build.scenario.plate.hinge, adjuster.kind is AdjusterKind.JACK_IN_PLATE
        nuts = tuple(turned(nut, hinge, angle) if turns else nut for angle in angles)
        tips = tuple((float(state.at_x), float(state.at_y)) for state in states)
        axes = tuple(adjuster.axis + (angle if turns else 0.0) for angle in angles)
        reach = max(math.dist(nut, tip) for nut, tip in zip(nuts, tips, strict=True))
        ends = skeleton.face
        if not turns:
            ends = turned(ends[0], hinge, swing.snug), turned(ends[1], hinge, swing.snug)
        return cls(diameter, nuts, tips, axes, reach + _NUTS * diameter, ends)

    def at(self, position: int, back: float, side: float) -> Point:
        """A point so far back from the tip, and to the left of the axis [m]."""
        tip, axis = self.tips[position], self.axes[position]
        cosine, sine = math.cos(axis), math.sin(axis)
        return tip[0] - back * cosine - side * sine, tip[1] - back * sine + side * cosine


_SNUG = 1


def _bolt(parts: ViewParts, build: Build, bolt: _Bolt, room: WrenchRoom) -> None:
    half, flats = 0.5 * bolt.diameter, 0.5 * room.across_flats.value
    _strip(parts, bolt, (0.0, bolt.shank), half, Layer.VISIBLE)
    _strip(parts, bolt, (bolt.shank, bolt.shank + room.head), flats, Layer.VISIBLE)
    back = bolt.shank + room.head + 2 * bolt.diameter
    parts.line(bolt.at(_SNUG, -bolt.diameter, 0.0), bolt.at(_SNUG, back, 0.0), Layer.CENTRE)
    parts.line(*bolt.face, Layer.EDGE)
    _wrench(parts, bolt, room)
    _carrier(parts, build, bolt)
    parts.points["bolt's tip at snug"] = bolt.tips[_SNUG]
    parts.name("tip bears here", bolt.tips[_SNUG])


def _strip(
    parts: ViewParts, bolt: _Bolt, reach: tuple[float, float], half: float, layer: Layer
) -> None:
    """A rectangle along the bolt's axis at snug."""
    near, far = reach
    corners = ((near, half), (far, half), (far, -half), (near, -half))
    parts.outline(tuple(bolt.at(_SNUG, back, side) for back, side in corners), layer)


def _wrench(parts: ViewParts, bolt: _Bolt, room: WrenchRoom) -> None:
    """Where the wrench's jaw turns, from take-up to install."""
    corners = []
    for side in (room.radius, -room.radius):
        for position in (0, _SNUG, 2):
            corners += [
                bolt.at(position, back, side) for back in (bolt.shank, bolt.shank + room.head)
            ]
    axis = bolt.axes[_SNUG]
    way = math.cos(axis), math.sin(axis)
    tip = bolt.tips[_SNUG]
    backs = [-(x - tip[0]) * way[0] - (y - tip[1]) * way[1] for x, y in corners]
    sides = [-(x - tip[0]) * way[1] + (y - tip[1]) * way[0] for x, y in corners]
    places = (
        (min(backs), max(sides)),
        (max(backs), max(sides)),
        (max(backs), min(sides)),
        (min(backs), min(sides)),
    )
    parts.outline(tuple(bolt.at(_SNUG, back, side) for back, side in places), Layer.EDGE)
    near, far = min(backs), max(backs)
    shares = (0.25, 0.5, 0.75)
    rims = (
        (near + share * (far - near), side) for share in shares for side in (min(sides), max(sides))
    )
    ends = ((far, min(sides) + share * (max(sides) - min(sides))) for share in shares)
    parts.name("room for the wrench", *(bolt.at(_SNUG, *place) for place in (*ends, *rims)))


def _carrier(parts: ViewParts, build: Build, bolt: _Bolt) -> None:
    """What the bolt is screwed through, on both sides of it."""
    in_plate = build.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE
    middle = math.dist(bolt.nuts[_SNUG], bolt.tips[_SNUG])
    half, depth = 0.5 * bolt.diameter, 0.5 * BLOCK_DEPTH * bolt.diameter
    if in_plate:
        parts.name("bolt through the plate", bolt.nuts[_SNUG])
        return
    for side in (1, -1):
        near, far = side * half, side * BLOCK_SHARE * bolt.diameter
        places = (
            (middle - depth, near),
            (middle + depth, near),
            (middle + depth, far),
            (middle - depth, far),
        )
        parts.outline(tuple(bolt.at(_SNUG, back, off) for back, off in places), Layer.EDGE)
    parts.points["face of the bolt's block"] = bolt.at(_SNUG, middle - depth, 0.0)
    outer = BLOCK_SHARE * bolt.diameter
    rims = ((middle + off, side * outer) for side in (1, -1) for off in (-depth, 0.0, depth))
    parts.name("block for the bolt", *(bolt.at(_SNUG, *place) for place in rims))
    parts.notes.append(
        "The scenario does not say where along the bolt its block stands: it is drawn where it "
        "clears the swing, its size an estimate."
    )
