"""Keep-outs in drawings: what comes into them over the swing, and how they are shown."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from mountcalc.drafting.items import Bounds, Layer, Path, Point
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.adjuster import adjuster_outlines
from mountcalc.draw.boards.section import STEPS, Swung, base_section, stop_to_stop, swung, way_out
from mountcalc.draw.build import Build, once, rim_radii
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.stop import Beside, catches
from mountcalc.draw.views import ViewParts, on_sides
from mountcalc.scenario.model import BarredPart, KeepOut

_AROUND = 0.25  # of what is drawn, how far ground beside it is shown
_NOTHING = 0.5e-6  # [m2] of overlap: what just touches
_SHARES = (0.5, 0.2, 0.8)  # of a side, at which a leader may point
_OUTLINE = 360  # points of the guard's outline


class _Part(NamedTuple):
    """A part somewhere in its swing; ``angle`` [rad] is None for what stands still."""

    name: str
    barred_as: BarredPart
    outline: shapely.Polygon
    angle: float | None


class _Entry(NamedTuple):
    """A part that comes into a keep-out, where it is deepest."""

    part: _Part
    keep_out: KeepOut
    depth: float


def keep_out_cautions(build: Build, *parts: str) -> tuple[str, ...]:
    """Say which parts come into a keep-out that bars them."""
    said = []
    for part, keep_out, depth in _entries(build):
        if parts and not part.name.startswith(parts):
            continue
        name, deep = f"{part.name[0].upper()}{part.name[1:]}", build.bench(depth)
        if part.angle is None:
            said.append(f'{name} stands {deep} in the keep-out "{keep_out.name}".')
        else:
            where = build.swing.where(part.angle)
            said.append(f'{name} comes {deep} into the keep-out "{keep_out.name}", {where}.')
    return tuple(said)


@once
def _entries(build: Build) -> tuple[_Entry, ...]:
    deepest: dict[tuple[str, str], _Entry] = {}
    grounds = [(one, shapely.Polygon(one.corners)) for one in build.scenario.keep_outs]
    for part in _parts(build) if grounds else ():
        for keep_out, ground in grounds:
            if part.barred_as not in keep_out.parts:
                continue
            met = ground.intersection(part.outline)
            if met.area <= _NOTHING:
                continue
            # Of a keep-out with a corner inwards, out of what is met of it.
            hull = ground.convex_hull
            is_convex = hull.area - ground.area <= _NOTHING
            out = way_out(hull if is_convex else met.convex_hull, part.outline.convex_hull)
            key = part.name, keep_out.name
            if key not in deepest or out > deepest[key].depth:
                deepest[key] = _Entry(part, keep_out, out)
    return tuple(deepest.values())


def _parts(build: Build) -> Iterator[_Part]:
    """All parts, what swings at angles from stop to stop."""
    for angle in map(float, np.linspace(*stop_to_stop(build), STEPS)):
        for name, outline in swung(build, angle):
            barred_as = BarredPart.PLATE if name is Swung.PLATE else BarredPart.MOTOR
            yield _Part(name.value, barred_as, outline, angle)
    for angle in map(float, np.linspace(build.swing.low, build.swing.high, STEPS)):
        yield _Part("the belt", BarredPart.BELT, _belt(build, angle), angle)
    for of, angle, corners in adjuster_outlines(build):
        yield _Part(of, BarredPart.BOLT, shapely.Polygon(corners), angle)
    yield _fixed("the base", BarredPart.PLATE, base_section(build).corners)
    for stop in catches(build):
        if stop.place.beside is not Beside.NO_ROOM:
            yield _fixed(f"the stop beyond {stop.beyond}", BarredPart.PLATE, stop.corners)
    yield _fixed("the guard", BarredPart.BELT, guard_shape(build).outline.points(_OUTLINE))


def _fixed(name: str, barred_as: BarredPart, corners: Sequence[Point]) -> _Part:
    return _Part(name, barred_as, shapely.Polygon(corners), None)


def _belt(build: Build, angle: float) -> shapely.Polygon:
    """The belt and its pulleys."""
    motor = build.turned(build.scenario.motor.shaft, angle)
    shafts = zip((motor, build.scenario.driven.shaft), rim_radii(build), strict=True)
    return shapely.union_all(
        [shapely.Point(at).buffer(radius) for at, radius in shafts]
    ).convex_hull


def draw_keep_outs(parts: ViewParts, build: Build, bounds: Bounds, level: float) -> None:
    """Draw the edges of keep-outs that are near, thin, and name them."""
    left, bottom, right, top = bounds
    past = _AROUND * max(right - left, top - bottom)
    low, high = min(bottom - past, level), max(top + past, level)
    shown = shapely.box(left - past, low, right + past, high)
    for keep_out in build.scenario.keep_outs:
        edges = shapely.line_merge(shapely.Polygon(keep_out.corners).exterior.intersection(shown))
        runs = [
            [(float(x), float(y)) for x, y in one.coords]
            for one in shapely.get_parts(edges)
            if isinstance(one, shapely.LineString | shapely.LinearRing)
        ]
        for run in runs:
            is_closed = math.dist(run[0], run[-1]) == 0
            points = tuple(run[:-1] if is_closed else run)
            parts.items.append(Path(points, closed=is_closed, layer=Layer.EDGE))
        sides = [point for share in _SHARES for run in runs for point in on_sides(run, (share,))]
        if sides:
            parts.name(f"keep-out: {short_name(keep_out.name)}", *sides)
