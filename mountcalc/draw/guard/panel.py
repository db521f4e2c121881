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
from mountcalc.draw.guard.openings import say_front, say_reach
from mountcalc.draw.guard.shape import guard_shape, say_plate_in_guard
from mountcalc.draw.guard.sizes import least_air, made, say_panel_cautions, say_strip
from mountcalc.draw.guard.strip import (
    say_strip_cautions,
    say_strip_made,
    say_strip_runs,
    strip_detail,
    strip_marks,
    strip_names,
    strip_of,
)
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, UNITS, Remark, Remarks, bare, last_word, reminders
from mountcalc.draw.views import Wish, cross, drawing_of, with_glance

_FIRST = 0.014  # from the blank to the first dimension line [m]
_SHARES = tuple(0.1 * number for number in range(1, 10))  # of a line, where it is pointed at
_CROSS = 0.006  # half a centre cross [m]
_GAP = 0.012  # from the blank to the detail above it [m]
_SWING = math.radians(0.05)  # what no build shows
# Wood [m] between two cuts, or a cut and an edge, below which a panel breaks out (estimate).
_LEAST_WEB = 0.005
_STRIP_WIDTH = ("panel.strip_least", "panel.strip_given")


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


def say_guard(remarks: Remarks, build: Build) -> None:
    """Notes, then cautions of panel and strip."""
    shape = guard_shape(build)
    sizes, slot = shape.sizes, shape.slot
    along = _along_shafts(build)
    remarks.note("guard.clearances", clearance=sizes.clearance, slot=sizes.slot_clearance)
    _say_beyond(remarks, build)
    say_strip_made(remarks, build)
    _say_strip_width(remarks, build, along)
    remarks.note(
        "guard.fixing_holes",
        count=len(shape.holes),
        across=2 * shape.holes[0].radius,
        apart=made("hole_spacing"),
    )
    _say_places(remarks, build)
    remarks.note("guard.fixing_screws", wide=max(sizes.clearance - least_air(), 0.0))
    say_front(remarks, build)
    remarks.note("guard.pulleys_that_stay")
    remarks.add(one for one in shape.driven.remarks if not one.is_caution)
    _say_thin_places(remarks, build)
    remarks.notes_of(build.swing.notes)
    remarks.add(sizes.taken.values())
    remarks.cautions_of(keep_out_cautions(build, "the guard"))
    remarks.add(one for one in shape.driven.remarks if one.is_caution)
    remarks.add(one for one in along.all if one.is_caution)
    say_strip_cautions(remarks, build)
    remarks.caution("guard.slot_end", spare=sizes.slot_clearance)
    say_reach(remarks, build, (2 * slot.half_width, slot.length))
    remarks.cautions_of((*reminders(build), last_word("closing")))


def _along_shafts(build: Build) -> Remarks:
    """What is said of the guard along the shafts."""
    remarks = Remarks(build.display)
    say_panel_cautions(remarks, build)
    say_strip(remarks, build)
    say_plate_in_guard(remarks, build)
    return remarks


def _say_beyond(remarks: Remarks, build: Build) -> None:
    """How much further than the outline covers the build lets the plate swing."""
    (low, high), swing = build.scenario.plate.travel, build.swing
    is_up = swing.install <= swing.take_up
    past = {
        "install": swing.low - low if is_up else high - swing.high,
        "take-up": high - swing.high if is_up else swing.low - low,
    }
    ends = [f"{math.degrees(one):.1f} deg past {end}" for end, one in past.items() if one > _SWING]
    if ends:
        remarks.note("guard.travel_past_the_outline", ends=" and ".join(ends))


def _say_strip_width(remarks: Remarks, build: Build, along: Remarks) -> None:
    """How wide the strip has to be, as far as positions along the shafts tell."""
    given = build.scenario.parts.guard.strip_width
    if "strip_least_width" in along.facts:
        remarks.add(one for one in along.all if one.key in _STRIP_WIDTH)
    elif given is not None:
        remarks.note("guard.strip_width_given", given=given)
    else:
        remarks.note("guard.strip_width_unknown")


def _say_places(remarks: Remarks, build: Build) -> None:
    """Where all of the panel is, from the corner of its blank: to mark it out without a print."""
    shape, layout, display = guard_shape(build), strip_of(build).layout, build.display
    slot, opening = shape.slot, shape.opening
    left, bottom, right, top = shape.outline.bounds

    def at(point: tuple[float, float]) -> str:
        return bare((point[0] - left, point[1] - bottom), display)

    centres = (slot.hinge, *(run.centre for run in layout.runs))
    is_outside = any(x < left or y < bottom for x, y in centres)
    outside = " (below zero: outside it)" if is_outside else ""
    edges = Remark("guard.edges", {"side": LEFT, "unit": UNITS[display], "outside": outside})
    bends = (
        f"bend {run.number} of radius {bare(run.radius, display)} about {at(run.centre)}"
        for run in layout.runs
    )
    several = len(layout.runs) > 1
    remarks.note(
        "guard.outline",
        width=right - left,
        height=top - bottom,
        edges=edges,
        bends="; ".join(bends),
        joined=", joined by straight lines where they do not meet" if several else "",
        butt=Remark("guard.butt_straight" if layout.straight > 0 else "guard.butt_at_bend"),
        place=at(layout.butt),
    )
    start, end = map(at, slot.ends)
    remarks.note(
        "guard.slot",
        wide=2.0 * slot.half_width,
        radius=slot.radius,
        edges=edges,
        hinge=at(slot.hinge),
        start=start,
        end=end,
        across=2.0 * opening.radius,
        centre=at(opening.centre),
    )
    remarks.note(
        "guard.hole_centres",
        unit=UNITS[display],
        side=LEFT,
        places="; ".join(at(hole.centre) for hole in shape.holes),
    )
    say_strip_runs(remarks, build)


def _say_thin_places(remarks: Remarks, build: Build) -> None:
    """Where the panel's own cuts come too near to each other."""
    shape = guard_shape(build)
    sizes, slot, centre = shape.sizes, shape.slot, shape.opening.centre
    edge = sizes.motor_radius + sizes.clearance - slot.half_width
    screws = edge - 0.5 * sizes.clearance - shape.holes[0].radius
    rim = sizes.driven_radius + sizes.clearance - shape.opening.radius
    towards = math.atan2(centre[1] - slot.hinge[1], centre[0] - slot.hinge[0])
    nearest = list(slot.ends)
    if (towards - slot.start) % math.tau <= slot.end - slot.start:
        nearest.append(slot.at(towards))
    apart = min(math.dist(point, centre) for point in nearest)
    between = apart - slot.half_width - shape.opening.radius
    opening = f"the opening for the {shape.driven.around}"
    smaller = "take a smaller guard.slot_clearance"
    cure = f"{smaller}{'' if shape.driven.gap is not None else ' or guard.bearing_opening'}"
    for left, places, how in (
        (edge, "the slot and the panel's edge", smaller),
        (screws, "the slot and the nearest fixing holes", smaller),
        (between, f"the slot and {opening}", cure),
        (rim, f"{opening} and the panel's edge", cure),
    ):
        if left < _LEAST_WEB:
            key = "guard.thin" if left > 0 else "guard.nothing_left"
            remarks.note(key, left=left, places=places, least=_LEAST_WEB, how=how)
    if sizes.clearance < 2.0 * made("screw_head"):
        remarks.note("guard.screw_heads", clearance=sizes.clearance)
