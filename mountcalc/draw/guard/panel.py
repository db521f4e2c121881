"""The template of the guard's panel, seen facing the motor's pulley."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from mountcalc.drafting.dimensions import Baseline, Run, baselines, beside
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Arc, Item, Layer, Line, Path, Point, along, moved
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.build import Build
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.strip import strip_detail, strip_marks, strip_names, strip_of
from mountcalc.draw.guard.words import say_guard
from mountcalc.draw.remarks import Remarks
from mountcalc.draw.views import Wish, cross, drawing_of, with_glance

_FIRST = 0.014  # from the blank to the first dimension line [m]
_SHARES = tuple(0.1 * number for number in range(1, 10))  # of a line, where it is pointed at
_CROSS = 0.006  # half a centre cross [m]
_GAP = 0.012  # from the blank to the detail above it [m]


def guard_panel(build: Build) -> Drawing:
    """The panel with the slot for the motor's shaft, ready to be cut."""
    shape, strip, remarks = guard_shape(build), strip_of(build), Remarks(build.display)
    left, bottom, right, top = shape.outline.bounds
    blank = right - left, top - bottom
    cut = (*_parts(build), *strip_marks(strip.layout))
    parts = tuple(moved(item, (-left, -bottom)) for item in cut)
    wishes = [
        (tuple((x - left, y - bottom) for x, y in places), text)
        for places, text in (*_wishes(build), *strip_names(strip.layout))
    ]

    def drawn(scale: float) -> list[Item]:
        return [*parts, *_marks(build, blank, scale)]

    whole = drawn(1.0)
    names = callouts(wishes, tuple(map(_as_hard, whole)), 1.0, (0.0, 0.0, *blank))
    detail: tuple[Item, ...] = ()
    if strip.is_cut:
        corner = 0.0, blank[1] + _GAP
        detail = strip_detail(strip.sharpest, shape.sizes.cuts, corner, build.display)
    say_guard(remarks, build)
    remarks.facts |= _facts(build)
    template = drawing_of(build, remarks, "guard", (*whole, *names, *detail))
    return with_glance(template, drawn, lambda _: wishes)


def _as_hard(item: Item) -> Item:
    """Crosses at centres are to be kept as clear of names as what is cut."""
    if isinstance(item, Line) and item.layer is Layer.CENTRE:
        return replace(item, layer=Layer.CUT)
    return item


def _parts(build: Build) -> Iterator[Item]:
    """What is cut and drilled, with its centre lines, in the scenario's coordinates."""
    shape = guard_shape(build)
    slot = shape.slot
    yield from shape.outline.items(Layer.CUT)
    yield from slot.items(Layer.CUT)
    yield shape.opening
    yield from shape.holes
    yield Arc(slot.hinge, slot.radius, slot.start, slot.end, Layer.CENTRE)
    for point in (shape.opening.centre, *slot.ends):
        yield from cross(point, _CROSS)
    for hole in shape.holes:
        yield from cross(hole.centre, 2.0 * hole.radius)


def _marks(build: Build, blank: Point, scale: float) -> Iterator[Item]:
    """The blank with its datum edges, and the dimensions from them."""
    shape, display, (width, height) = guard_shape(build), build.display, blank
    yield Path(((0.0, 0.0), (width, 0.0), blank, (0.0, height)), closed=True, layer=Layer.EDGE)
    left, bottom, *_ = shape.outline.bounds
    points = [(x - left, y - bottom) for x, y in (shape.opening.centre, *shape.slot.ends)]
    first = _FIRST * scale
    across = Baseline(Run.ACROSS, (0.0, 0.0), -first, -1, scale, display)
    level = baselines(across, [*points, (width, 0.0)])
    yield from level
    aside = beside(level, 0.0, scale) - first
    up = Baseline(Run.UP, (0.0, 0.0), aside, -1, scale, display)
    yield from baselines(up, [*points, (0.0, height)])


def _wishes(build: Build) -> Iterator[Wish]:
    """What is pointed at, anywhere of it, in the scenario's coordinates; and what is said of it."""
    shape, swing = guard_shape(build), build.swing
    slot, opening, (left, bottom, right, top) = shape.slot, shape.opening, shape.outline.bounds
    ways = [slot.start + share * (slot.end - slot.start) for share in _SHARES]
    radii = (slot.radius + max(side * slot.half_width, -slot.radius) for side in (-1.0, 1.0))
    sides = tuple(along(slot.hinge, way, radius) for radius in radii for way in ways)
    yield sides, f"slot {build.bench(2.0 * slot.half_width)} wide"
    yield tuple(map(slot.at, ways)), f"{build.bench(slot.radius)} about the hinge"
    ends = {swing.low: slot.start, swing.high: slot.end}
    yield (slot.at(ends[swing.install]),), "motor's shaft at install"
    yield (slot.at(ends[swing.take_up]),), "motor's shaft at take-up"
    rim = tuple(along(opening.centre, math.tau * share, opening.radius) for share in _SHARES)
    across = build.bench(2.0 * opening.radius)
    yield rim, f"opening for the {shape.driven.around}, {across} across"
    holes = tuple(hole.centre for hole in shape.holes)
    yield holes, f"{len(holes)} holes, {build.bench(2.0 * shape.holes[0].radius)} across"
    yield tuple((left + share * (right - left), bottom) for share in _SHARES), "datum edge"
    yield tuple((left, bottom + share * (top - bottom)) for share in _SHARES), "datum edge"


def _facts(build: Build) -> dict[str, float]:
    shape, strip = guard_shape(build), strip_of(build)
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
        "least_radius": strip.sharpest.radius,
        "relief_cuts": float(strip.sharpest.cuts),
        "relief_spacing": strip.sharpest.spacing,
    }
