"""Bolt or link in the assembly, with the room for a wrench."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from mountcalc.drafting.dimensions import SAME
from mountcalc.drafting.items import Layer, Point
from mountcalc.draw.boards.side import LEAST_CROSSING, across_remark, board_side
from mountcalc.draw.build import Build, once
from mountcalc.draw.remarks import Remark
from mountcalc.draw.screws import (
    BLOCK_DEPTH,
    BLOCK_SHARE,
    WrenchRoom,
    bolt_diameter,
    drawn_diameter,
    wrench_room,
)
from mountcalc.draw.views import ViewParts
from mountcalc.layout import Segment, schematic_of
from mountcalc.scenario.model import Adjuster, AdjusterKind

_NUTS = 2.0  # diameters between what carries the bolt and its head: lock nut and washers (estimate)
_BODY = (0.32, 0.68)  # part of a link that is its body (estimate)
_SNUG = 1  # of the positions at install, snug and take-up


def draw_adjuster(parts: ViewParts, build: Build) -> None:
    """Draw the adjuster at snug."""
    adjuster, remarks = build.scenario.adjuster, parts.remarks
    if adjuster.kind is AdjusterKind.NONE:
        return
    diameter, thread = drawn_diameter(adjuster), adjuster.thread
    room, is_link = wrench_room(diameter), adjuster.kind is AdjusterKind.LINK
    remarks.add([across_remark(build)])
    if thread is None or bolt_diameter(thread) is None:
        key = "assembly.no_thread" if thread is None else "assembly.unknown_thread"
        remarks.note(key, size=diameter)
    if is_link:
        remarks.note("assembly.link")
        _link(parts, build, diameter, room)
    else:
        remarks.note("assembly.bolt_length", nuts=_NUTS * diameter)
        remarks.add(_bolt(build).remarks)
        _draw_bolt(parts, build, room)
    remarks.note("assembly.wrench", room=room, where="the body" if is_link else "the head")


def adjuster_outlines(build: Build) -> Iterator[tuple[str, float, tuple[Point, ...]]]:
    """What the adjuster takes of the drawing's plane: its name, the plate angle [rad], corners."""
    adjuster = build.scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE:
        return
    diameter = drawn_diameter(adjuster)
    room = wrench_room(diameter)
    if adjuster.kind is AdjusterKind.LINK:
        for angle in build.swing.three:
            yield "the link", angle, _link_outline(build, angle, diameter)
        return
    bolt = _bolt(build)
    far, half, flats = bolt.shank + room.head, 0.5 * diameter, 0.5 * room.across_flats.value
    shapes = {
        "the bolt": ((0.0, half), (0.0, -half), (far, -flats), (far, flats)),
        "the room for the wrench": tuple(
            (back, side * room.radius)
            for back, side in ((bolt.shank, 1), (bolt.shank, -1), (far, -1), (far, 1))
        ),
    }
    for name, places in shapes.items():
        for position, angle in enumerate(build.swing.three):
            yield name, angle, tuple(bolt.at(position, *place) for place in places)


@dataclass(frozen=True, slots=True)
class _Bolt:
    """A bolt at install, snug and take-up: what carries it, its tips [m] and their ways [rad]."""

    diameter: float
    nuts: tuple[Point, ...]
    tips: tuple[Point, ...]
    axes: tuple[float, ...]
    shank: float
    face: Segment
    remarks: tuple[Remark, ...]

    def at(self, position: int, back: float, side: float) -> Point:
        """A point so far back from the tip, and to the left of the axis [m]."""
        tip, axis = self.tips[position], self.axes[position]
        cosine, sine = math.cos(axis), math.sin(axis)
        return tip[0] - back * cosine - side * sine, tip[1] - back * sine + side * cosine

    def strip(self, near: float, far: float, low: float, high: float) -> tuple[Point, ...]:
        """Corners of a rectangle along its axis at snug."""
        places = ((near, high), (far, high), (far, low), (near, low))
        return tuple(self.at(_SNUG, back, side) for back, side in places)


@once
def _bolt(build: Build) -> _Bolt:
    adjuster, angles = build.scenario.adjuster, build.swing.three
    assert adjuster.axis is not None
    states = [build.mount.adjuster(angle) for angle in angles]
    nut, remarks = _nut(build, max(0.0, *(-float(state.extension) for state in states)))
    face, turns = schematic_of(build.scenario).face, adjuster.kind is AdjusterKind.JACK_IN_PLATE
    assert face is not None
    nuts = tuple(build.turned(nut, angle) if turns else nut for angle in angles)
    tips = tuple((float(state.at_x), float(state.at_y)) for state in states)
    reach = max(math.dist(nut, tip) for nut, tip in zip(nuts, tips, strict=True))
    snug, diameter = build.swing.snug, drawn_diameter(adjuster)
    return _Bolt(
        diameter=diameter,
        nuts=nuts,
        tips=tips,
        axes=tuple(adjuster.axis + (angle if turns else 0.0) for angle in angles),
        shank=reach + _NUTS * diameter,
        face=face if turns else (build.turned(face[0], snug), build.turned(face[1], snug)),
        remarks=remarks,
    )


def _nut(build: Build, draws_back: float) -> tuple[Point, tuple[Remark, ...]]:
    """Where the bolt, that draws back so far [m], passes through what carries it, as drawn."""
    adjuster, board, remarks = build.scenario.adjuster, board_side(build), []
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        assert adjuster.tip is not None
        assert adjuster.axis is not None
        _, out = board.frame.slope(adjuster.axis)
        past = board.frame.height(adjuster.tip) / out if abs(out) > LEAST_CROSSING else 0.0
        if past > SAME:
            # The tip is before the motor's face, or behind the back of the board.
            stands = past if out > 0 else past - board.thickness / abs(out)
            if draws_back >= stands:
                numbers = {"out": max(0.0, stands), "back": draws_back}
                remarks.append(Remark("assembly.plate_meets", numbers))
            way = math.cos(adjuster.axis), math.sin(adjuster.axis)
            at = adjuster.tip[0] - past * way[0], adjuster.tip[1] - past * way[1]
            return at, tuple(remarks)
        remarks.append(Remark("assembly.bolt_beside_plate"))
    nut = schematic_of(build.scenario, (-draws_back,)).nut
    assert nut is not None
    return nut, tuple(remarks)


def _draw_bolt(parts: ViewParts, build: Build, room: WrenchRoom) -> None:
    bolt = _bolt(build)
    half, flats, head = 0.5 * bolt.diameter, 0.5 * room.across_flats.value, bolt.shank + room.head
    parts.outline(bolt.strip(0.0, bolt.shank, -half, half), Layer.VISIBLE)
    parts.outline(bolt.strip(bolt.shank, head, -flats, flats), Layer.VISIBLE)
    near, far = bolt.at(_SNUG, -bolt.diameter, 0.0), bolt.at(_SNUG, head + 2 * bolt.diameter, 0.0)
    parts.line(near, far, Layer.CENTRE)
    parts.line(*bolt.face, Layer.EDGE)
    _wrench(parts, bolt, room)
    if build.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        parts.name("bolt through the plate", bolt.nuts[_SNUG])
    else:
        _block(parts, bolt)
    parts.points["bolt's tip at snug"] = bolt.tips[_SNUG]
    parts.name("tip bears here", bolt.tips[_SNUG])


def _wrench(parts: ViewParts, bolt: _Bolt, room: WrenchRoom) -> None:
    """Where the wrench's jaw turns, from take-up to install."""
    corners = [
        bolt.at(position, back, side)
        for side in (room.radius, -room.radius)
        for position in range(3)
        for back in (bolt.shank, bolt.shank + room.head)
    ]
    tip, axis = bolt.tips[_SNUG], bolt.axes[_SNUG]
    way = math.cos(axis), math.sin(axis)
    backs = [-(x - tip[0]) * way[0] - (y - tip[1]) * way[1] for x, y in corners]
    sides = [-(x - tip[0]) * way[1] + (y - tip[1]) * way[0] for x, y in corners]
    near, far, low, high = min(backs), max(backs), min(sides), max(sides)
    parts.outline(bolt.strip(near, far, low, high), Layer.EDGE)
    shares = (0.25, 0.5, 0.75)
    places = [(far, low + share * (high - low)) for share in shares]
    places += [(near + share * (far - near), side) for share in shares for side in (low, high)]
    parts.name("room for the wrench", *(bolt.at(_SNUG, *place) for place in places))


def _block(parts: ViewParts, bolt: _Bolt) -> None:
    """What the bolt is screwed through, on both sides of it."""
    middle = math.dist(bolt.nuts[_SNUG], bolt.tips[_SNUG])
    inner, outer = 0.5 * bolt.diameter, BLOCK_SHARE * bolt.diameter
    depth = 0.5 * BLOCK_DEPTH * bolt.diameter
    for side in (1, -1):
        ends = side * outer, side * inner
        parts.outline(bolt.strip(middle - depth, middle + depth, *ends), Layer.EDGE)
    parts.points["face of the bolt's block"] = bolt.at(_SNUG, middle - depth, 0.0)
    rims = ((middle + off, side * outer) for side in (1, -1) for off in (-depth, 0.0, depth))
    parts.name("block for the bolt", *(bolt.at(_SNUG, *place) for place in rims))
    parts.remarks.note("assembly.bolt_block")


def _link(parts: ViewParts, build: Build, diameter: float, room: WrenchRoom) -> None:
    """The link at snug, with its pins and the room for the wrench on its body."""
    base, plate = _pins(build.scenario.adjuster)
    plate = build.turned(plate, build.swing.snug)
    length = math.dist(base, plate)
    if length == 0:
        return
    way = (plate[0] - base[0]) / length, (plate[1] - base[1]) / length

    def at(share: float, side: float) -> Point:
        x, y = base[0] + share * length * way[0], base[1] + share * length * way[1]
        return x - side * way[1], y + side * way[0]

    for start, end, half, layer in (
        (0.0, _BODY[0], 0.5 * diameter, Layer.VISIBLE),
        (_BODY[1], 1.0, 0.5 * diameter, Layer.VISIBLE),
        (*_BODY, diameter, Layer.VISIBLE),
        (*_BODY, room.radius, Layer.EDGE),
    ):
        places = ((start, half), (end, half), (end, -half), (start, -half))
        parts.outline([at(share, side) for share, side in places], layer)
    for name, pin in (("base pin", base), ("plate pin at snug", plate)):
        parts.circle(pin, diameter, Layer.VISIBLE)
        parts.cross(pin, 2.0 * diameter)
        parts.points[name] = pin
        parts.round_name(name, pin, diameter)
    shares = (0.35, 0.42, 0.5, 0.58, 0.65)
    rims = (at(share, side * room.radius) for side in (-1, 1) for share in shares)
    parts.name("room for the wrench", *rims)


def _link_outline(build: Build, plate_angle: float, diameter: float) -> tuple[Point, ...]:
    """What a link takes of the drawing's plane."""
    base, plate = _pins(build.scenario.adjuster)
    end = build.turned(plate, plate_angle)
    way = math.atan2(end[1] - base[1], end[0] - base[0])
    across = -diameter * math.sin(way), diameter * math.cos(way)
    return tuple(
        (at[0] + side * across[0], at[1] + side * across[1])
        for at, side in ((base, 1), (base, -1), (end, -1), (end, 1))
    )


def _pins(adjuster: Adjuster) -> tuple[Point, Point]:
    assert adjuster.base_pin is not None
    assert adjuster.plate_pin is not None
    return adjuster.base_pin, adjuster.plate_pin
