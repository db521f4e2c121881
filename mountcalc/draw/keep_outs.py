"""Keep-outs in drawings: what comes into them over the swing, and how they are shown."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely

from mountcalc.drafting.items import Bounds, Layer, Path
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.adjuster import adjuster_outlines
from mountcalc.draw.boards.section import STEPS, Swung, base_section, stop_to_stop, swung, way_out
from mountcalc.draw.build import Build, once, rim_radii
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.stop import Beside, catches
from mountcalc.draw.views import ViewParts, on_sides
from mountcalc.scenario.model import BarredPart

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


def keep_out_cautions(build: Build, *parts: str) -> tuple[str, ...]:
    """Say which parts come into a keep-out that bars them."""
    said = []
    for (name, ground), (depth, angle) in _entries(build).items():
        if parts and not name.startswith(parts):
            continue
        text, deep = f"{name[0].upper()}{name[1:]}", build.bench(depth)
        if angle is None:
            said.append(f'{text} stands {deep} in the keep-out "{ground}".')
        else:
            where = build.swing.where(angle)
            said.append(f'{text} comes {deep} into the keep-out "{ground}", {where}.')
    return tuple(said)


@once
def _entries(build: Build) -> dict[tuple[str, str], tuple[float, float | None]]:
    """How deep [m] parts come into keep-outs, by both names, and at which angle most."""
    deepest: dict[tuple[str, str], tuple[float, float | None]] = {}
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
            if key not in deepest or out > deepest[key][0]:
                deepest[key] = out, part.angle
    return deepest


def _parts(build: Build) -> Iterator[_Part]:
    """All parts, what swings at angles from stop to stop."""
    for angle in map(float, np.linspace(*stop_to_stop(build), STEPS)):
        for name, outline in swung(build, angle):
            barred_as = BarredPart.PLATE if name is Swung.PLATE else BarredPart.MOTOR
            yield _Part(name.value, barred_as, outline, angle)
    for angle in map(float, np.linspace(build.swing.low, build.swing.high, STEPS)):
        motor = build.turned(build.scenario.motor.shaft, angle)
        shafts = zip((motor, build.scenario.driven.shaft), rim_radii(build), strict=True)
        rims = [shapely.Point(at).buffer(radius) for at, radius in shafts]
        belt = shapely.union_all(rims).convex_hull
        yield _Part("the belt", BarredPart.BELT, belt, angle)
    for of, angle, corners in adjuster_outlines(build):
        yield _Part(of, BarredPart.BOLT, shapely.Polygon(corners), angle)
    standing = [("the base", BarredPart.PLATE, base_section(build).corners())]
    standing += [
        (f"the stop beyond {stop.beyond}", BarredPart.PLATE, stop.corners)
        for stop in catches(build)
        if stop.place.beside is not Beside.NO_ROOM
    ]
    guard = guard_shape(build).outline.points(_OUTLINE)
    for of, barred_as, corners in (*standing, ("the guard", BarredPart.BELT, guard)):
        yield _Part(of, barred_as, shapely.Polygon(corners), None)


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
