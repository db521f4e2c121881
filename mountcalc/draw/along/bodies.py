"""Bodies that are drawn as upright rectangles, what is seen of their edges, and the guard's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from mountcalc.drafting.dimensions import HeightScale, zigzag
from mountcalc.drafting.items import Item, Layer, Path, Point
from mountcalc.draw.along.stack import AlongStack, place_of
from mountcalc.draw.build import Build
from mountcalc.draw.guard.openings import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.position import panel_of
from mountcalc.draw.guard.shape import Slot, guard_shape

_WITHIN = 1e-7  # [m] what only touches a body is not behind it
_FAR = 1e3  # [m] past all that is drawn
_SPACER_LEAST = 1e-3  # [m] what could not be drawn
_SLOT_POINTS = 181


@dataclass(frozen=True, slots=True)
class Body:
    """Something whose picture is an upright rectangle between ends and true levels [m].

    At its ``broken`` ends it goes on, and is broken off; one that is long may be broken between its
    levels.
    """

    ends: tuple[float, float]
    levels: tuple[float, float]
    layer: Layer = Layer.VISIBLE
    broken: tuple[float, ...] = ()
    is_long: bool = False

    @property
    def shape(self) -> shapely.Polygon:
        """What it covers."""
        return shapely.box(min(self.ends), min(self.levels), max(self.ends), max(self.levels))

    @property
    def edges(self) -> shapely.MultiLineString:
        """Its edges, none where it is broken off."""
        left, bottom, right, top = self.shape.bounds
        level = [((left, at), (right, at)) for at in (bottom, top)]
        upright = [((at, bottom), (at, top)) for at in (left, right) if at not in self.broken]
        return shapely.MultiLineString([*level, *upright])


def seen(
    cut: Sequence[Body], others: Sequence[Body], heights: HeightScale, scale: float
) -> tuple[Item, ...]:
    """Draw bodies that are cut and bodies that stand behind or before them."""
    before = shapely.union_all([body.shape for body in cut])
    solid = shapely.union_all([edges for _, edges in _in_order(cut, heights)])
    items: list[Item] = []
    for body, edges in _in_order(cut, heights):
        items += _lines(edges, body.layer, heights)
    for body, edges in _in_order(others, heights):
        items += _lines(edges.difference(before), body.layer, heights)
        covered = edges.intersection(before.buffer(-_WITHIN)).difference(solid)
        items += _lines(covered, Layer.EDGE, heights)
    for body in (*cut, *others):
        low, high = sorted(heights.drawn(level) for level in body.levels)
        items += [zigzag((at, low), (at, high), scale, count=1) for at in body.broken]
    return tuple(items)


def _in_order(
    bodies: Sequence[Body], heights: HeightScale
) -> Iterator[tuple[Body, shapely.Geometry]]:
    """Each body with what those before it leave of its edges."""
    nearer: shapely.Geometry = shapely.Polygon()
    for body in bodies:
        yield body, _unbroken(body.edges.difference(nearer), heights)
        nearer = nearer.union(body.shape)


def _unbroken(edges: shapely.Geometry, heights: HeightScale) -> shapely.Geometry:
    """What is left of edges outside the breaks."""
    left_out = [shapely.box(-_FAR, one.low, _FAR, one.high) for one in heights.breaks]
    return edges.difference(shapely.union_all(left_out))


def _lines(edges: shapely.Geometry, layer: Layer, heights: HeightScale) -> Iterator[Path]:
    """Edges as items, joined end to end."""
    merged = shapely.line_merge(
        shapely.union_all(
            [one for one in shapely.get_parts(edges) if isinstance(one, shapely.LineString)]
        )
    )
    for one in shapely.get_parts(merged):
        points: list[Point] = [(x, heights.drawn(y)) for x, y in one.coords]
        closed = one.is_closed
        if points:
            yield Path(tuple(points[:-1] if closed else points), closed=closed, layer=layer)


def panel_bodies(
    build: Build, ends: tuple[float, float], levels: tuple[float, float]
) -> tuple[Body, ...]:
    """The panel without slot and opening, each cut at its own shaft."""
    slot, opening = guard_shape(build).slot, guard_shape(build).opening
    driven, radius = opening.centre[1], opening.radius
    open_at = [(driven - radius, driven + radius), slot_at(slot, build.motor_at_snug[0])]
    left = shapely.LineString([(0.0, levels[0]), (0.0, levels[1])]).difference(
        shapely.union_all([shapely.box(-1.0, low, 1.0, high) for low, high in open_at])
    )
    pieces = [one.bounds for one in shapely.get_parts(left) if not one.is_empty]
    return tuple(Body(ends, (bottom, top), is_long=True) for _, bottom, _, top in pieces)


def slot_at(slot: Slot, across: float) -> tuple[float, float]:
    """From where to where the slot is open on an upright line."""
    ways = np.linspace(slot.start, slot.end, _SLOT_POINTS)
    middle = shapely.LineString([slot.at(way) for way in ways])
    line = shapely.LineString([(across, -_FAR), (across, _FAR)])
    inside = middle.buffer(slot.half_width, quad_segs=64).intersection(line)
    return float(inside.bounds[1]), float(inside.bounds[3])


def spacer_bodies(build: Build, stack: AlongStack) -> tuple[Body, ...]:
    """Between bearing and panel, where both have wood or metal."""
    bearing, driven, place = stack.bearing_behind, build.scenario.driven, panel_of(build)[1]
    if bearing is None or place is None or (place.spacer or 0.0) < _SPACER_LEAST:
        return ()
    diameter = next(
        one.journal_diameter for one in driven.bearings if place_of(one, stack.outward) == bearing
    )
    inner, outer = guard_shape(build).opening.radius, 0.5 * HOUSING_OVER_JOURNAL * diameter
    if outer - inner < _SPACER_LEAST:
        return ()
    ends, height = (stack.outward * bearing.front, stack.outward * place.back), driven.shaft[1]
    return tuple(Body(ends, (height + side * inner, height + side * outer)) for side in (1, -1))
