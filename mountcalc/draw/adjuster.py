"""Bolt or link in the assembly, with the room for a wrench."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from mountcalc.drafting.items import Layer, Path, Point, along
from mountcalc.draw.boards.side import across_remark
from mountcalc.draw.build import Build, once
from mountcalc.draw.remarks import Remark
from mountcalc.draw.screws import (
    BLOCK_SHARE,
    WrenchRoom,
    drawn_diameter,
    wrench_room,
)
from mountcalc.draw.views import ViewParts
from mountcalc.layout import Segment, schematic_of
from mountcalc.scenario.model import AdjusterKind, Coil
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.strength.bolt_length import BLOCK_DEPTH, NUTS, length_words, through_plate

_BODY = (0.32, 0.68)  # part of a link, from its base, that is its body (estimate)
_COILS, _COIL = 6, 1.0  # turns of a spring as drawn, and half its width in the bolt's diameters
_SNUG = 1  # of the positions at install, snug and take-up


class _Rod(NamedTuple):
    """Bolt or link at one plate angle [m, rad]: its tip (or pin in the plate), and the way there.

    ``held`` is where a bolt passes through what carries it, or a link's pin in the base.
    """

    tip: Point
    way: float
    held: Point

    @property
    def length(self) -> float:
        """From what holds it to its tip."""
        return math.dist(self.held, self.tip)

    def at(self, back: float, side: float) -> Point:
        """A point so far back from the tip, and to the left of the axis."""
        return along(self.tip, self.way, -back, side)

    def strip(self, near: float, far: float, low: float, high: float) -> list[Point]:
        """Corners of a rectangle along the axis."""
        return [self.at(*place) for place in ((near, high), (far, high), (far, low), (near, low))]


class _Adjuster(NamedTuple):
    """A bolt or link at install, snug and take-up; ``shank`` [m] is 0 of a link."""

    rods: tuple[_Rod, ...]
    diameter: float
    room: WrenchRoom
    shank: float = 0.0
    face: Segment | None = None
    remarks: Sequence[Remark] = ()


@once
def _adjuster(build: Build) -> _Adjuster:
    adjuster, angles = build.scenario.adjuster, build.swing.three
    diameter = drawn_diameter(adjuster)
    room = wrench_room(diameter)
    if adjuster.base_pin is not None and adjuster.plate_pin is not None:
        (x, y), rods = adjuster.base_pin, []
        for angle in angles:
            pin = build.turned(adjuster.plate_pin, angle)
            rods.append(_Rod(pin, math.atan2(pin[1] - y, pin[0] - x), adjuster.base_pin))
        return _Adjuster(tuple(rods), diameter, room)
    assert adjuster.axis is not None
    states = [build.mount.adjuster(angle) for angle in angles]
    schematic = schematic_of(build.scenario, [float(state.extension) for state in states])
    assert schematic.nut is not None
    assert schematic.face is not None
    nut, face, remarks, turns = schematic.nut, schematic.face, list[Remark](), [0.0, 0.0, 0.0]
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        turns, through = list(angles), through_plate(build.scenario)
        if through is None:
            remarks.append(Remark("assembly.bolt_beside_plate"))
        else:
            nut, stands = through
            # Where the bolt draws back further than it stands out of the board, its end meets it.
            back = max(0.0, *(-float(state.extension) for state in states))
            if back >= stands:
                numbers = {"out": max(0.0, stands), "back": back}
                remarks.append(Remark("assembly.plate_meets", numbers))
    else:
        snug = build.swing.snug
        face = build.turned(face[0], snug), build.turned(face[1], snug)
    rods = [
        _Rod((float(state.at_x), float(state.at_y)), adjuster.axis + turn, build.turned(nut, turn))
        for state, turn in zip(states, turns, strict=True)
    ]
    shank = max(rod.length for rod in rods) + NUTS * diameter
    return _Adjuster(tuple(rods), diameter, room, shank, face, remarks)


def adjuster_outlines(build: Build) -> Iterator[tuple[str, float, Sequence[Point]]]:
    """What the adjuster takes of the drawing's plane: its name, the plate angle [rad], corners."""
    kind = build.scenario.adjuster.kind
    if kind is AdjusterKind.NONE:
        return
    rods, diameter, room, shank, *_ = _adjuster(build)
    head, half, flats = shank + room.head, 0.5 * diameter, 0.5 * room.across_flats.value
    for rod, angle in zip(rods, build.swing.three, strict=True):
        if kind is AdjusterKind.LINK:
            yield "the link", angle, rod.strip(0.0, rod.length, -diameter, diameter)
            continue
        taper = ((0.0, half), (0.0, -half), (head, -flats), (head, flats))
        yield "the bolt", angle, [rod.at(*place) for place in taper]
        yield "the room for the wrench", angle, rod.strip(shank, head, -room.radius, room.radius)


def draw_adjuster(parts: ViewParts, build: Build) -> None:
    """Draw the adjuster at snug."""
    adjuster, remarks = build.scenario.adjuster, parts.remarks
    if adjuster.kind is AdjusterKind.NONE:
        return
    found, is_link = _adjuster(build), adjuster.kind is AdjusterKind.LINK
    remarks.add([across_remark(build)])
    if adjuster.thread is None or bolt_diameter(adjuster.thread) is None:
        key = "assembly.no_thread" if adjuster.thread is None else "assembly.unknown_thread"
        remarks.say(key, size=found.diameter)
    if is_link:
        remarks.say("assembly.link")
        _draw_link(parts, found)
    else:
        remarks.say("assembly.bolt_length", nuts=NUTS * found.diameter)
        remarks.add(found.remarks)
        _draw_bolt(parts, found, in_plate=adjuster.kind is AdjusterKind.JACK_IN_PLATE)
    bolt = length_words(build.scenario)
    remarks.say("assembly.bolt_to_buy", bolt=f"{bolt[:1].upper()}{bolt[1:]}")
    if adjuster.coil is not None:
        _draw_spring(parts, build, adjuster.coil)
    where = "the body" if is_link else "the head"
    remarks.say("assembly.wrench", room=found.room, where=where)


def _draw_spring(parts: ViewParts, build: Build, coil: Coil) -> None:
    """A coil spring at snug: before a bolt's tip, or behind a link's pin in the base."""
    found, is_link = _adjuster(build), build.scenario.adjuster.kind is AdjusterKind.LINK
    at, rod = np.asarray(build.swing.snug), found.rods[_SNUG]
    force = build.mount.weight_moment(at) / build.mount.adjuster(at).extension_slope
    length = coil.free_length - min(abs(float(force)) / coil.rate, coil.stop)
    start = rod.length if is_link else 0.0
    turns = [start + length * turn / (2 * _COILS) for turn in range(2 * _COILS + 1)]
    sides = [0.0, *([_COIL, -_COIL] * _COILS)[:-1], 0.0]
    places = [
        rod.at(*place) for place in zip(turns, np.multiply(found.diameter, sides), strict=True)
    ]
    parts.items.append(Path(tuple(places), closed=False, layer=Layer.VISIBLE))
    parts.name("spring", *places[1:-1])
    free, solid = coil.free_length, coil.free_length - coil.stop
    parts.remarks.say("assembly.spring", rate=coil.rate, free=free, solid=solid, snug=length)
    parts.remarks.say("assembly.spring_link" if is_link else "assembly.spring_bolt")
    parts.remarks.say("assembly.spring_throws")


def _draw_bolt(parts: ViewParts, found: _Adjuster, *, in_plate: bool) -> None:
    rods, diameter, room, shank, face, _ = found
    rod, half, flats = rods[_SNUG], 0.5 * diameter, 0.5 * room.across_flats.value
    head = shank + room.head
    parts.outline(rod.strip(0.0, shank, -half, half), Layer.VISIBLE)
    parts.outline(rod.strip(shank, head, -flats, flats), Layer.VISIBLE)
    parts.line(rod.at(-diameter, 0.0), rod.at(head + 2 * diameter, 0.0), Layer.CENTRE)
    if face is not None:
        parts.line(*face, Layer.EDGE)
    # Where the wrench's jaw turns, from take-up to install.
    swept = [at for one in rods for at in one.strip(shank, head, -room.radius, room.radius)]
    seen = [(complex(*at) - complex(*rod.tip)) * cmath.rect(1.0, -rod.way) for at in swept]
    near, far = min(-one.real for one in seen), max(-one.real for one in seen)
    low, high = min(one.imag for one in seen), max(one.imag for one in seen)
    parts.outline(rod.strip(near, far, low, high), Layer.EDGE)
    shares = (0.25, 0.5, 0.75)
    places = [(far, low + share * (high - low)) for share in shares]
    places += [(near + share * (far - near), side) for share in shares for side in (low, high)]
    parts.name("room for the wrench", *(rod.at(*place) for place in places))
    if in_plate:
        parts.name("bolt through the plate", rod.held)
    else:
        # What the bolt is screwed through, on both sides of it.
        middle, outer = rod.length, BLOCK_SHARE * diameter
        depth = 0.5 * BLOCK_DEPTH * diameter
        for side in (1, -1):
            parts.outline(
                rod.strip(middle - depth, middle + depth, side * outer, side * half), Layer.EDGE
            )
        parts.points["face of the bolt's block"] = rod.at(middle - depth, 0.0)
        rims = ((middle + off, side * outer) for side in (1, -1) for off in (-depth, 0.0, depth))
        parts.name("block for the bolt", *(rod.at(*place) for place in rims))
        parts.remarks.say("assembly.bolt_block")
    parts.points["bolt's tip at snug"] = rod.tip
    parts.name("tip bears here", rod.tip)


def _draw_link(parts: ViewParts, found: _Adjuster) -> None:
    """The link with its pins and the room for the wrench on its body."""
    rod, diameter, room = found.rods[_SNUG], found.diameter, found.room
    length = rod.length
    if length == 0:
        return
    for start, end, half, layer in (
        (0.0, _BODY[0], 0.5 * diameter, Layer.VISIBLE),
        (_BODY[1], 1.0, 0.5 * diameter, Layer.VISIBLE),
        (*_BODY, diameter, Layer.VISIBLE),
        (*_BODY, room.radius, Layer.EDGE),
    ):
        parts.outline(rod.strip((1 - start) * length, (1 - end) * length, -half, half), layer)
    for name, pin in (("base pin", rod.held), ("plate pin at snug", rod.tip)):
        parts.circle(pin, diameter, Layer.VISIBLE)
        parts.cross(pin, 2.0 * diameter)
        parts.points[name] = pin
        parts.round_name(name, pin, diameter)
    shares = (0.35, 0.42, 0.5, 0.58, 0.65)
    rims = (
        rod.at((1 - share) * length, side * room.radius) for side in (-1, 1) for share in shares
    )
    parts.name("room for the wrench", *rims)
