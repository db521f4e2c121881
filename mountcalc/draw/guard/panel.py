"""The template of the guard's panel, seen facing the motor's pulley."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from mountcalc.drafting.dimensions import Baseline, Run, baselines, beside
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Arc, Item, Layer, Line, Path, Point, moved
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.at_a_glance import with_glance
from mountcalc.draw.build import Build
from mountcalc.draw.guard.places import guard_places
from mountcalc.draw.guard.shape import GuardShape, guard_shape
from mountcalc.draw.guard.strip.detail import strip_detail
from mountcalc.draw.guard.strip.edge import Bend
from mountcalc.draw.guard.strip.marks import strip_marks, strip_names
from mountcalc.draw.guard.strip.words import Strip, strip_of
from mountcalc.draw.guard.words import guard_cautions, guard_notes
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display

__all__ = ["guard_panel"]

_FIRST = 0.014  # from the blank to the first dimension line [m]
_SHARES = tuple(0.1 * number for number in range(1, 10))  # of a line, where it is pointed at
_CROSS = 0.006  # half a centre cross [m]
_GAP = 0.012  # from the blank to the detail above it [m]


def guard_panel(build: Build) -> Drawing:
    """The panel with the slot for the motor's shaft, ready to be cut."""
    shape = guard_shape(build)
    strip = strip_of(shape, build.display)
    left, bottom, right, top = shape.outline.bounds
    drawn = (*_parts(shape), *strip_marks(strip.layout))
    parts = tuple(moved(item, (-left, -bottom)) for item in drawn)
    blank = (right - left, top - bottom)
    marks = partial(_marks, shape, build.display, blank, (left, bottom))
    words = [
        (tuple((x - left, y - bottom) for x, y in places), text)
        for places, text in (*_told(shape, build.display), *strip_names(strip.layout))
    ]
    drawn = (*parts, *marks(1.0))
    told = callouts(words, tuple(map(_as_hard, drawn)), 1.0, (0.0, 0.0, *blank))
    sharpest = min(strip.bends, key=lambda one: (round(one.radius, 6), -one.turn))
    detail: tuple[Item, ...] = ()
    if strip.is_cut:
        corner = 0.0, blank[1] + _GAP
        detail = strip_detail(sharpest, shape.sizes.cuts, corner, build.display)
    here, other = (guard_places(shape, strip, side, build.display) for side in ("left", "right"))
    template = Drawing(
        display=build.display,
        name="guard",
        title=f"Guard panel: {build.scenario.title}",
        view="Seen facing the motor's pulley",
        items=(*drawn, *told, *detail),
        notes=guard_notes(build, shape, strip),
        cautions=(
            *keep_out_cautions(build, "the guard"),
            *guard_cautions(build, shape, strip),
        ),
        true_scale=True,
        facts=_facts(shape, strip, sharpest),
        other_hand=dict(zip(here, other, strict=True)),
    )
    return with_glance(template, lambda scale: [*parts, *marks(scale)], lambda _: words)


def _as_hard(item: Item) -> Item:
    """Crosses at centres are to be kept as clear of names as what is cut."""
    if isinstance(item, Line) and item.layer is Layer.CENTRE:
        return replace(item, layer=Layer.CUT)
    return item


def _parts(shape: GuardShape) -> Iterator[Item]:
    """What is cut and drilled, with its centre lines, in the scenario's coordinates."""
    yield from shape.outline.items(Layer.CUT)
    yield from shape.slot.items(Layer.CUT)
    yield shape.opening
    yield from shape.holes
    slot = shape.slot
    yield Arc(slot.hinge, slot.radius, slot.start, slot.end, Layer.CENTRE)
    for point in _centres(shape):
        yield from _cross(point, _CROSS)
    for hole in shape.holes:
        yield from _cross(hole.centre, 2.0 * hole.radius)


def _centres(shape: GuardShape) -> tuple[Point, Point, Point]:
    """Centres that are measured: opening, and both ends of the slot."""
    slot = shape.slot
    return shape.opening.centre, slot.at(slot.start), slot.at(slot.end)


def _cross(at: Point, half: float) -> tuple[Line, Line]:
    x, y = at
    return (
        Line((x - half, y), (x + half, y), Layer.CENTRE),
        Line((x, y - half), (x, y + half), Layer.CENTRE),
    )


def _marks(
    shape: GuardShape, display: Display, blank: Point, corner: Point, scale: float
) -> Iterator[Item]:
    """The blank with its datum edges, and the dimensions from them."""
    width, height = blank
    yield Path(((0.0, 0.0), (width, 0.0), blank, (0.0, height)), closed=True, layer=Layer.EDGE)
    points = [(x - corner[0], y - corner[1]) for x, y in _centres(shape)]
    first = _FIRST * scale
    across = Baseline(Run.ACROSS, (0.0, 0.0), -first, -1, scale, display)
    level = baselines(across, [*points, (width, 0.0)])
    yield from level
    left = beside(level, 0.0, scale) - first
    up = Baseline(Run.UP, (0.0, 0.0), left, -1, scale, display)
    yield from baselines(up, [*points, (0.0, height)])


def _told(shape: GuardShape, display: Display) -> Iterator[tuple[tuple[Point, ...], str]]:
    """What is pointed at, anywhere of it, in the scenario's coordinates; and what is said of it."""
    slot, opening, (left, bottom, right, top) = shape.slot, shape.opening, shape.outline.bounds
    ways = [slot.start + share * (slot.end - slot.start) for share in _SHARES]
    inner, outer = (slot.radius + max(side * slot.half_width, -slot.radius) for side in (-1.0, 1.0))
    sides = tuple(_round(slot.hinge, radius, way) for radius in (inner, outer) for way in ways)
    yield sides, f"slot {bench_length(2.0 * slot.half_width, display)} wide"
    arc = tuple(slot.at(way) for way in ways)
    yield arc, f"{bench_length(slot.radius, display)} about the hinge"
    ends = {shape.swing.low: slot.start, shape.swing.high: slot.end}
    yield (slot.at(ends[shape.swing.install]),), "motor's shaft at install"
    yield (slot.at(ends[shape.swing.take_up]),), "motor's shaft at take-up"
    rim = tuple(_round(opening.centre, opening.radius, math.tau * share) for share in _SHARES)
    across = bench_length(2.0 * opening.radius, display)
    yield rim, f"opening for the {shape.driven.around}, {across} across"
    hole = bench_length(2.0 * shape.holes[0].radius, display)
    holes = tuple(hole.centre for hole in shape.holes)
    yield holes, f"{len(holes)} holes, {hole} across"
    yield tuple((left + share * (right - left), bottom) for share in _SHARES), "datum edge"
    yield tuple((left, bottom + share * (top - bottom)) for share in _SHARES), "datum edge"


def _round(centre: Point, radius: float, way: float) -> Point:
    return centre[0] + radius * math.cos(way), centre[1] + radius * math.sin(way)


def _facts(shape: GuardShape, strip: Strip, sharpest: Bend) -> dict[str, float]:
    left, bottom, right, top = shape.outline.bounds
    return {
        "blank_width": right - left,
        "blank_height": top - bottom,
        "datum_x": left,
        "datum_y": bottom,
        "slot_radius": shape.slot.radius,
        "slot_width": 2.0 * shape.slot.half_width,
        "slot_length": shape.slot.length,
        "opening_diameter": 2.0 * shape.opening.radius,
        "fixing_holes": float(len(shape.holes)),
        "outline_length": shape.outline.perimeter,
        "strip_length": strip.layout.length,
        "least_radius": sharpest.radius,
        "relief_cuts": float(sharpest.cuts),
        "relief_spacing": sharpest.spacing,
    }
