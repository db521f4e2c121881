"""A link from the base to the plate in the assembly: eye-bolt or turnbuckle between two pins."""

from __future__ import annotations

import math

from mountcalc.drafting.items import Layer, Point
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.view_parts import ViewParts
from mountcalc.draw.wrench_room import WrenchRoom
from mountcalc.scenario.model import Adjuster

__all__ = ["draw_link", "link_outline"]

_BODY = (0.32, 0.68)  # part of a link that is its body (estimate)


def draw_link(
    parts: ViewParts, build: Build, swing: Swing, diameter: float, room: WrenchRoom
) -> None:
    """Draw the link at snug, with its pins and the room for the wrench on its body."""
    base, plate = _pins(build.scenario.adjuster)
    plate = turned(plate, build.scenario.plate.hinge, swing.snug)
    length = math.dist(base, plate)
    if length == 0:
        return
    way = (plate[0] - base[0]) / length, (plate[1] - base[1]) / length

    def at(along: float, side: float) -> Point:
        return (
            base[0] + along * way[0] - side * way[1],
            base[1] + along * way[1] + side * way[0],
        )

    def strip(ends: tuple[float, float], half: float, layer: Layer) -> None:
        places = ((ends[0], half), (ends[1], half), (ends[1], -half), (ends[0], -half))
        parts.outline(tuple(at(along, side) for along, side in places), layer)

    body = _BODY[0] * length, _BODY[1] * length
    strip((0.0, body[0]), 0.5 * diameter, Layer.VISIBLE)
    strip((body[1], length), 0.5 * diameter, Layer.VISIBLE)
    strip(body, diameter, Layer.VISIBLE)
    strip(body, room.radius, Layer.EDGE)
    for name, pin in (("base pin", base), ("plate pin at snug", plate)):
        parts.circle(pin, diameter, Layer.VISIBLE)
        parts.cross(pin, 2.0 * diameter)
        parts.points[name] = pin
        parts.round_name(name, pin, diameter)
    shares = (0.35, 0.42, 0.5, 0.58, 0.65)
    rims = (at(share * length, side * room.radius) for side in (-1, 1) for share in shares)
    parts.name("room for the wrench", *rims)


def link_outline(build: Build, plate_angle: float, diameter: float) -> tuple[Point, ...]:
    """What a link takes of the drawing's plane."""
    base, plate = _pins(build.scenario.adjuster)
    end = turned(plate, build.scenario.plate.hinge, plate_angle)
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
