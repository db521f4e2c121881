"""What is drawn in the view along the shafts, and the points that are dimensioned in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from mountcalc.drafting.dimensions import HeightScale, zigzag
from mountcalc.drafting.items import Item, Layer, Line, Path, Point
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.along.stack import AlongStack, along_stack, place_of
from mountcalc.draw.boards.side import across_remark, board_side, meeting_on_plate
from mountcalc.draw.build import Build, assumed_width, motor_size, rim_radii
from mountcalc.draw.guard.along import plate_across
from mountcalc.draw.guard.openings import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.shape import Slot, guard_shape
from mountcalc.draw.guard.sizes import guard_front, panel_of
from mountcalc.draw.remarks import Remarks
from mountcalc.draw.views import Wish
from mountcalc.scenario.model import AdjusterKind, Bearing

# How things are drawn of which the scenario does not say more (estimates).
_BODY_SHOWN = 1.2  # of a motor over its radius: the rest is broken off
_PAST = 0.02  # [m] a shaft is drawn past what is on it where its end is not known
_MARK = 0.012  # half a cross at the adjuster [m]
_CENTRE_PAST = 0.15  # of a pulley's radius that its centre line is longer
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


@dataclass(slots=True)
class AlongParts:
    """The parts, at their true heights.

    ``cut`` is along the driven shaft and of the guard, the nearest first; ``others`` are the motor
    and what is on its shaft. Points are dimensioned from the ``datum``, over the drive (driven) and
    under it (motor).
    """

    remarks: Remarks
    datum: Point
    cut: list[Body] = field(default_factory=list)
    others: list[Body] = field(default_factory=list)
    centre_lines: list[Line] = field(default_factory=list)
    names: list[Wish] = field(default_factory=list)
    driven_points: list[tuple[str, Point]] = field(default_factory=list)
    motor_points: list[tuple[str, Point]] = field(default_factory=list)
    shafts: list[tuple[float, str]] = field(default_factory=list)

    def name(self, text: str, *at: Point) -> None:
        """Name a part at any of its points."""
        self.names.append((at, text))

    def taken(self) -> list[tuple[float, float]]:
        """From where to where something stands that cannot be broken between [m]."""
        found = []
        for body in (*self.cut, *self.others):
            low, high = sorted(body.levels)
            found += [(low, low), (high, high)] if body.is_long else [(low, high)]
        for line in self.centre_lines:
            low, high = sorted((line.start[1], line.end[1]))
            found.append((low, high))
        return found + [(height, height) for height, _ in self.shafts]


def along_parts(build: Build) -> AlongParts:
    """Collect what is drawn."""
    stack, driven = along_stack(build), build.scenario.driven
    height, bearing = driven.shaft[1], None if stack is None else stack.bearing_behind
    # The face of the bearing next to the pulley; the pulley's middle where that is not known.
    across = driven.pulley_position
    if stack is not None and bearing is not None:
        across = stack.outward * bearing.front
    parts = AlongParts(Remarks(build.display), (across, height))
    parts.shafts = [(height, "driven shaft"), (build.motor_at_snug[1], "motor shaft at snug")]
    _driven(parts, build, stack)
    _motor(parts, build, stack)
    if stack is not None:
        _guard(parts, build, stack)
        _adjuster(parts, build, stack)
    if bearing is None:
        half = rim_radii(build)[1] * (1 + _CENTRE_PAST)
        parts.name("datum: the pulley's middle", (across, height + half), (across, height - half))
    else:
        half = max(0.5 * one.journal_diameter for one in driven.bearings)
        ends = [(across, height + side * share * half) for side in (1, -1) for share in (1.3, 1.7)]
        parts.name("datum: this bearing's face", *ends)
    return parts


def _driven(parts: AlongParts, build: Build, stack: AlongStack | None) -> None:
    driven, along = build.scenario.driven, build.scenario.parts.along
    (x, height), radius = (driven.pulley_position, driven.shaft[1]), rim_radii(build)[1]
    pulley = _pulley(parts, build, (x, height), along.driven_pulley_width, radius)
    parts.driven_points += _pulley_points(
        "driven pulley", pulley, along.driven_pulley_width, (x, height)
    )
    parts.name("driven pulley", *_around(pulley.ends, height, radius))
    housings = []
    for side in (-1, 1):  # the bearing next to the pulley on each side that has one
        there = [one for one in driven.bearings if side * (one.position - x) > 0]
        if not there:
            continue
        one = min(there, key=lambda bearing: abs(bearing.position - x))
        faces = one.position - 0.5 * one.length, one.position + 0.5 * one.length
        half = _housing(build, one, stack)
        housings.append(Body(faces, (height - half, height + half)))
        parts.name(f"bearing: {short_name(one.name)}", *_around(faces, height, half))
        face = min(faces, key=lambda at: abs(at - x))
        parts.driven_points.append((f"face of bearing {one.name!r}", (face, height)))
    parts.remarks.note("along.bearings", times=HOUSING_OVER_JOURNAL)
    reach = [end for body in (pulley, *housings) for end in body.ends]
    parts.cut += [_driven_shaft(parts, build, min(reach), max(reach)), pulley, *housings]


def _housing(build: Build, bearing: Bearing, stack: AlongStack | None) -> float:
    """Half the height with which a bearing is drawn: it goes through the hole given for it [m]."""
    half = 0.5 * HOUSING_OVER_JOURNAL * bearing.journal_diameter
    given = build.scenario.parts.guard.bearing_opening
    if given is None or stack is None:
        return half
    is_met = place_of(bearing, stack.outward) == stack.bearing_behind
    return min(half, 0.5 * given) if is_met else half


def _driven_shaft(parts: AlongParts, build: Build, least: float, most: float) -> Body:
    driven, end = build.scenario.driven, build.scenario.parts.along.driven_shaft_end
    height, left, right = driven.shaft[1], least - _PAST, most + _PAST
    diameter = driven.shaft_diameter or min(one.journal_diameter for one in driven.bearings)
    levels = height - 0.5 * diameter, height + 0.5 * diameter
    if end is None:
        return Body((left, right), levels, broken=(left, right))
    parts.driven_points.append(("end of the driven shaft", (end, height)))
    parts.name("end of the driven shaft", *((end, level) for level in levels))
    far = left if end > 0.5 * (left + right) else right
    return Body((end, far), levels, broken=(far,))


def _motor(parts: AlongParts, build: Build, stack: AlongStack | None) -> None:
    along, frame, height = (
        build.scenario.parts.along,
        build.scenario.parts.frame,
        build.motor_at_snug[1],
    )
    face, middle = along.motor_face, along.motor_pulley
    if stack is not None and face is not None and frame is not None:
        end = face + stack.outward * frame.shaft_length
        levels = height - 0.5 * frame.shaft_diameter, height + 0.5 * frame.shaft_diameter
        parts.others.append(Body((face, end), levels))
        parts.motor_points.append(("end of the motor's shaft", (end, height)))
        parts.name("end of the motor's shaft", *((end, level) for level in levels))
    if middle is not None:
        width, radius, at = along.motor_pulley_width, rim_radii(build)[0], (middle, height)
        pulley = _pulley(parts, build, at, width, radius)
        parts.others.append(pulley)
        parts.motor_points += _pulley_points("motor pulley", pulley, width, at)
        parts.name("motor pulley", *_around(pulley.ends, height, radius))
    if stack is None or face is None:
        return
    body = motor_size(build).body
    back = face - stack.outward * _BODY_SHOWN * body
    parts.others.append(Body((face, back), (height - body, height + body), broken=(back,)))
    parts.motor_points.append(("motor's face", (face, height)))
    parts.name("motor", *_around((face, back), height, body)[:6])
    parts.remarks.note("along.motor")


def _pulley(
    parts: AlongParts, build: Build, middle: Point, width: float | None, radius: float
) -> Body:
    """A pulley from the side, with its centre line."""
    (x, y), reach = middle, radius * (1 + _CENTRE_PAST)
    half = 0.5 * (assumed_width(build.scenario.belt) if width is None else width)
    parts.centre_lines.append(Line((x, y - reach), (x, y + reach), Layer.CENTRE))
    if width is None:
        parts.remarks.note("along.assumed_width")
    layer = Layer.EDGE if width is None else Layer.VISIBLE
    return Body((x - half, x + half), (y - radius, y + radius), layer)


def _pulley_points(
    name: str, body: Body, width: float | None, middle: Point
) -> list[tuple[str, Point]]:
    """What is dimensioned of a pulley: its faces, or its middle where they are not known."""
    if width is None:
        return [(f"middle of the {name}", middle)]
    return [(name, (end, middle[1])) for end in body.ends]


def _around(ends: tuple[float, float], height: float, half: float) -> tuple[Point, ...]:
    """Points on the edges of a body: level ones first, then upright ones."""
    start, end = ends
    across = [start + share * (end - start) for share in (0.5, 0.2, 0.8)]
    level = [(x, height + side * half) for x in across for side in (1, -1)]
    upright = [(end, height + share * half) for end in ends for share in (0.8, 0.5, -0.5, -0.8)]
    return (*level, *upright)


def _guard(parts: AlongParts, build: Build, stack: AlongStack) -> None:
    place, front, shape = panel_of(build)[1], guard_front(build), guard_shape(build)
    if place is None or front is None:
        return
    ends = stack.outward * place.back, stack.outward * place.front
    strip_front, thick = stack.outward * front, shape.sizes.thickness
    _, bottom, _, top = shape.outline.bounds
    panel, spacers = panel_bodies(build, ends, (bottom, top)), spacer_bodies(build, stack)
    strip = [
        Body((ends[0], strip_front), levels)
        for levels in ((top, top + thick), (bottom - thick, bottom))
    ]
    parts.cut += [*panel, *strip, *spacers]
    levels = [level for body in panel for level in body.levels]
    low, high = min(levels), max(levels)
    parts.motor_points += [("guard panel", (end, low)) for end in ends]
    parts.motor_points.append(("front of the strip", (strip_front, low)))
    faces = [(end, level) for end in ends for level in (low, high)]
    parts.name("guard panel", *((x, y + 0.1 * (0.5 * (low + high) - y)) for x, y in faces))
    edge = strip_front, 0.5 * (0.5 * (ends[0] + strip_front) + strip_front)
    parts.name("strip", *((x, y) for x in edge for y in (top + thick, bottom - thick)))
    if spacers:
        middles = ((0.5 * sum(one.ends), 0.5 * sum(one.levels)) for one in spacers)
        parts.name("spacer", *middles)
    parts.remarks.note("along.guard_is_cut")
    if build.scenario.parts.guard.strip_width is None:
        parts.remarks.note("along.least_strip")


def _adjuster(parts: AlongParts, build: Build, stack: AlongStack) -> None:
    """Where it stands along the shafts, at the height at which it meets the plate at snug."""
    plate, meeting = plate_across(build, stack), meeting_on_plate(build)
    if plate is None or meeting is None:
        return
    adjuster = build.scenario.adjuster
    x = stack.outward * (0.5 * sum(plate) + (adjuster.across or 0.0))
    _, y = board_side(build).at(meeting.at, 0.0, build.swing.snug)
    ends = ((x - _MARK, y), (x + _MARK, y))
    parts.centre_lines += [
        Line((x, y - _MARK), (x, y + _MARK), Layer.CENTRE),
        Line(*ends, Layer.CENTRE),
    ]
    name = "link" if adjuster.kind is AdjusterKind.LINK else "bolt"
    parts.motor_points.append((f"middle of the {name}", (x, y)))
    parts.name(f"{name} at the plate", *ends)
    parts.remarks.add([across_remark(build)])
