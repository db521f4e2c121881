"""The template of the guard's panel, seen facing the motor's pulley."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from mountcalc.drafting.dimensions import Baseline, Run, baselines, beside
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Arc, Item, Layer, Line, Point, along, moved
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.along.remarks import say_panel_cautions, say_plate_in_guard, say_strip
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.board import FIRST, box
from mountcalc.draw.build import Build
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.sizes import (
    driven_opening,
    front_opening,
    guard_sizes,
    least_air,
    made,
    panel_of,
    say_reach,
)
from mountcalc.draw.guard.strip import say_bends, say_strip_made, strip_detail, strip_of
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, UNITS, Remark, Remarks, bare, last_word, reminders
from mountcalc.draw.views import Wish, cross, drawing_of, with_glance
from mountcalc.thresholds import SAME_PLACE

_SHARES = tuple(0.1 * number for number in range(1, 10))  # of a line, where it is pointed at
_CROSS = 0.006  # half a centre cross [m]
_GAP = 0.012  # from the blank to the detail above it [m]
_SWING = math.radians(0.05)  # what no build shows
# Wood [m] between two cuts, or a cut and an edge, below which a panel breaks out (estimate).
_LEAST_WEB = 0.005


def guard_panel(build: Build) -> Drawing:
    """The panel with the slot for the motor's shaft, ready to be cut."""
    shape, strip, remarks = guard_shape(build), strip_of(build), Remarks(build.display)
    left, bottom, right, top = shape.outline.bounds
    blank = right - left, top - bottom
    parts = [moved(one, (-left, -bottom)) for one in (*_parts(build), *strip.marks())]
    wishes = [
        (tuple((x - left, y - bottom) for x, y in places), text)
        for places, text in (*_wishes(build), *strip.names())
    ]

    def drawn(scale: float) -> list[Item]:
        return [*parts, *_marks(build, blank, scale)]

    # Crosses at centres are to be kept as clear of names as what is cut.
    whole = drawn(1.0)
    hard = [
        replace(one, layer=Layer.CUT)
        if isinstance(one, Line) and one.layer is Layer.CENTRE
        else one
        for one in whole
    ]
    names = callouts(wishes, hard, 1.0, (0.0, 0.0, *blank))
    detail: tuple[Item, ...] = ()
    if strip.is_cut:
        corner = 0.0, blank[1] + _GAP
        detail = strip_detail(strip.sharpest, strip.cuts, corner, build.display)
    _say(remarks, build)
    remarks.facts |= {
        "blank_width": blank[0],
        "blank_height": blank[1],
        "datum_x": left,
        "datum_y": bottom,
        "slot_radius": shape.slot.radius,
        "slot_width": 2.0 * shape.slot.half_width,
        "slot_length": shape.slot.length,
        "opening_diameter": 2.0 * shape.opening.radius,
        "fixing_holes": float(len(shape.holes)),
        "outline_length": shape.outline.perimeter,
        "strip_length": strip.length,
        "least_radius": strip.sharpest.arc.radius,
        "relief_cuts": float(strip.sharpest.cuts),
        "relief_spacing": strip.sharpest.spacing,
    }
    template = drawing_of(build, remarks, "guard", (*whole, *names, *detail))
    return with_glance(template, drawn, lambda _: wishes)


def _parts(build: Build) -> Iterator[Item]:
    """What is cut and drilled, with its centre lines, in the scenario's coordinates."""
    shape = guard_shape(build)
    slot = shape.slot
    yield from shape.outline.items
    yield from slot.items
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
    yield box(0.0, 0.0, width, height, Layer.EDGE)
    left, bottom, *_ = shape.outline.bounds
    points = [(x - left, y - bottom) for x, y in (shape.opening.centre, *shape.slot.ends)]
    first = FIRST * scale
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
    yield rim, f"opening for the {driven_opening(build).around}, {across} across"
    holes = tuple(hole.centre for hole in shape.holes)
    yield holes, f"{len(holes)} holes, {build.bench(2.0 * shape.holes[0].radius)} across"
    yield tuple((left + share * (right - left), bottom) for share in _SHARES), "datum edge"
    yield tuple((left, bottom + share * (top - bottom)) for share in _SHARES), "datum edge"


def _say(remarks: Remarks, build: Build) -> None:
    """All that is said of panel and strip."""
    shape, swing, along = guard_shape(build), build.swing, Remarks(build.display)
    sizes, slot = guard_sizes(build), shape.slot
    given, (low, high) = build.scenario.parts.guard.strip_width, build.scenario.plate.travel
    stack, place = along_stack(build), panel_of(build)[1]
    face = None if stack is None else stack.motor_face
    if place is not None and face is not None and place.back < face - SAME_PLACE:
        along.say("openings.into_motor", deep=face - place.back)
    for say in (say_panel_cautions, say_strip, say_plate_in_guard):
        say(along, build)
    remarks.cautions_of(keep_out_cautions(build, "the guard"))
    remarks.add(one for one in along.all if one.is_caution)
    remarks.say("guard.clearances", clearance=sizes.clearance, slot=sizes.slot_clearance)
    # How much further than the outline covers the build lets the plate swing.
    past = {"install": swing.low - low, "take-up": high - swing.high}
    if swing.install > swing.take_up:
        past = {"install": high - swing.high, "take-up": swing.low - low}
    ends = [f"{math.degrees(one):.1f} deg past {end}" for end, one in past.items() if one > _SWING]
    if ends:
        remarks.say("guard.travel_past_the_outline", ends=" and ".join(ends))
    say_strip_made(remarks, build)
    if "strip_least_width" in along.facts:
        remarks.add(
            one for one in along.all if one.key in {"panel.strip_least", "panel.strip_given"}
        )
    else:
        key = "guard.strip_width_unknown" if given is None else "guard.strip_width_given"
        remarks.say(key, given=given)
    across, apart = 2 * shape.holes[0].radius, made("hole_spacing")
    remarks.say("guard.fixing_holes", count=len(shape.holes), across=across, apart=apart)
    _say_places(remarks, build)
    remarks.say("guard.fixing_screws", wide=max(sizes.clearance - least_air(), 0.0))
    remarks.add(front_opening(build).remarks)
    remarks.say("guard.pulleys_that_stay")
    remarks.add(driven_opening(build).remarks)
    _say_thin_places(remarks, build)
    remarks.notes_of(swing.notes)
    remarks.add(sizes.taken.values())
    remarks.say("guard.slot_end", spare=sizes.slot_clearance)
    say_reach(remarks, build, (2 * slot.half_width, slot.length))
    remarks.cautions_of((*reminders(build), last_word("closing")))


def _say_places(remarks: Remarks, build: Build) -> None:
    """Where all of the panel is, from the corner of its blank: to mark it out without a print."""
    shape, strip, display = guard_shape(build), strip_of(build), build.display
    slot, opening, arcs = shape.slot, shape.opening, [one.arc for one in strip.bends]
    left, bottom, right, top = shape.outline.bounds

    def at(point: Point) -> str:
        return bare((point[0] - left, point[1] - bottom), display)

    is_outside = any(x < left or y < bottom for x, y in (slot.hinge, *(arc.centre for arc in arcs)))
    outside = " (below zero: outside it)" if is_outside else ""
    edges = Remark("guard.edges", {"side": LEFT, "unit": UNITS[display], "outside": outside})
    bends = (
        f"bend {number} of radius {bare(arc.radius, display)} about {at(arc.centre)}"
        for number, arc in enumerate(arcs, 1)
    )
    remarks.say(
        "guard.outline",
        width=right - left,
        height=top - bottom,
        edges=edges,
        bends="; ".join(bends),
        joined=", joined by straight lines where they do not meet" if len(arcs) > 1 else "",
        butt=Remark("guard.butt_straight" if strip.straight > 0 else "guard.butt_at_bend"),
        place=at(strip.butt),
    )
    start, end = map(at, slot.ends)
    remarks.say(
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
    holes = "; ".join(at(hole.centre) for hole in shape.holes)
    remarks.say("guard.hole_centres", unit=UNITS[display], side=LEFT, places=holes)
    say_bends(remarks, build)


def _say_thin_places(remarks: Remarks, build: Build) -> None:
    """Where the panel's own cuts come too near to each other."""
    shape, sizes, driven = guard_shape(build), guard_sizes(build), driven_opening(build)
    slot, centre = shape.slot, shape.opening.centre
    edge = sizes.motor_radius + sizes.clearance - slot.half_width
    screws = edge - 0.5 * sizes.clearance - shape.holes[0].radius
    rim = sizes.driven_radius + sizes.clearance - shape.opening.radius
    towards = math.atan2(centre[1] - slot.hinge[1], centre[0] - slot.hinge[0])
    nearest = list(slot.ends)
    if (towards - slot.start) % math.tau <= slot.end - slot.start:
        nearest.append(slot.at(towards))
    apart = min(math.dist(point, centre) for point in nearest)
    between = apart - slot.half_width - shape.opening.radius
    opening = f"the opening for the {driven.around}"
    smaller = "take a smaller guard.slot_clearance"
    cure = f"{smaller}{'' if driven.gap is not None else ' or guard.bearing_opening'}"
    for left, places, how in (
        (edge, "the slot and the panel's edge", smaller),
        (screws, "the slot and the nearest fixing holes", smaller),
        (between, f"the slot and {opening}", cure),
        (rim, f"{opening} and the panel's edge", cure),
    ):
        if left < _LEAST_WEB:
            key = "guard.thin" if left > 0 else "guard.nothing_left"
            remarks.say(key, left=left, places=places, least=_LEAST_WEB, how=how)
    if sizes.clearance < 2.0 * made("screw_head"):
        remarks.say("guard.screw_heads", clearance=sizes.clearance)
