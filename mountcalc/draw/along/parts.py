"""What is drawn in the view along the shafts, and the points that are dimensioned in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import shapely

from mountcalc.drafting.dimensions import HeightScale, zigzag
from mountcalc.drafting.items import Item, Layer, Line, Path, Point
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.along.stack import AlongStack, along_stack
from mountcalc.draw.boards.side import across_remark, board_side, meeting_on_plate
from mountcalc.draw.build import Build, assumed_width, motor_size, rim_radii
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.sizes import HOUSING_OVER_JOURNAL, guard_sizes, panel_of
from mountcalc.draw.remarks import Remarks
from mountcalc.draw.views import Wish, cross
from mountcalc.record import Record
from mountcalc.scenario.model import AdjusterKind

# How things are drawn of which the scenario does not say more (estimates).
_BODY_SHOWN = 1.2  # of a motor over its radius: the rest is broken off
_PAST = 0.02  # [m] a shaft is drawn past what is on it where its end is not known
_MARK = 0.012  # half a cross at the adjuster [m]
_CENTRE_PAST = 0.15  # of a pulley's radius that its centre line is longer
_WITHIN = 1e-7  # [m] what only touches a body is not behind it
_FAR = 1e3  # [m] past all that is drawn
_SPACER_LEAST = 1e-3  # [m] what could not be drawn
_WHICH = "first", "second"  # of two bolts


class Body(Record):
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
    left_out = [shapely.box(-_FAR, one.low, _FAR, one.high) for one in heights.breaks]
    breaks = shapely.union_all(left_out)

    def in_order(bodies: Sequence[Body]) -> Iterator[tuple[Body, shapely.Geometry]]:
        """Each body with what those before it, and the breaks, leave of its edges."""
        nearer: shapely.Geometry = breaks
        for body in bodies:
            yield body, body.edges.difference(nearer).difference(breaks)
            nearer = nearer.union(body.shape)

    def drawn(edges: shapely.Geometry, layer: Layer) -> Iterator[Path]:
        """Edges joined end to end."""
        lines = (one for one in shapely.get_parts(edges) if isinstance(one, shapely.LineString))
        for one in shapely.get_parts(shapely.line_merge(shapely.union_all(list(lines)))):
            points: list[Point] = [(x, heights.drawn(y)) for x, y in one.coords]
            closed = one.is_closed
            if points:
                yield Path(tuple(points[:-1] if closed else points), closed=closed, layer=layer)

    before, visible = shapely.union_all([body.shape for body in cut]), list(in_order(cut))
    solid = shapely.union_all([edges for _, edges in visible])
    items: list[Item] = [item for body, edges in visible for item in drawn(edges, body.layer)]
    for body, edges in in_order(others):
        items += drawn(edges.difference(before), body.layer)
        covered = edges.intersection(before.buffer(-_WITHIN)).difference(solid)
        items += drawn(covered, Layer.EDGE)
    for body in (*cut, *others):
        low, high = sorted(heights.drawn(level) for level in body.levels)
        items += [zigzag((at, low), (at, high), scale, count=1) for at in body.broken]
    return tuple(items)


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
        found = [(height, height) for height, _ in self.shafts]
        for body in (*self.cut, *self.others):
            low, high = sorted(body.levels)
            found += [(low, low), (high, high)] if body.is_long else [(low, high)]
        ends = (sorted((line.start[1], line.end[1])) for line in self.centre_lines)
        return found + [(low, high) for low, high in ends]


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
    """The driven shaft with its pulley, and the bearing next to that on each side that has one."""
    driven, along = build.scenario.driven, build.scenario.parts.along
    (x, height), points = (driven.pulley_position, driven.shaft[1]), parts.driven_points
    bodies = [_pulley(parts, build, x, is_motor=False)]
    given = build.scenario.parts.guard.bearing_opening
    for side in (-1, 1):
        there = [one for one in driven.bearings if side * (one.position - x) > 0]
        if not there:
            continue
        one = min(there, key=lambda bearing: abs(bearing.position - x))
        faces = one.position - 0.5 * one.length, one.position + 0.5 * one.length
        half = 0.5 * HOUSING_OVER_JOURNAL * one.journal_diameter
        if given is not None and stack is not None:
            is_met = stack.bearing_behind is not None and stack.bearing_behind.bearing is one
            half = min(half, 0.5 * given) if is_met else half  # it goes through that hole
        bodies.append(Body(faces, (height - half, height + half)))
        parts.name(f"bearing: {short_name(one.name)}", *_around(faces, height, half))
        face = min(faces, key=lambda at: abs(at - x))
        points.append((f"face of bearing {one.name!r}", (face, height)))
    parts.remarks.say("along.bearings", times=HOUSING_OVER_JOURNAL)
    reach, end = [at for body in bodies for at in body.ends], along.driven_shaft_end
    left, right = min(reach) - _PAST, max(reach) + _PAST
    diameter = driven.shaft_diameter or min(one.journal_diameter for one in driven.bearings)
    levels = height - 0.5 * diameter, height + 0.5 * diameter
    shaft = Body((left, right), levels, broken=(left, right))
    if end is not None:
        points.append(("end of the driven shaft", (end, height)))
        parts.name("end of the driven shaft", *((end, level) for level in levels))
        far = left if end > 0.5 * (left + right) else right
        shaft = Body((end, far), levels, broken=(far,))
    parts.cut += [shaft, *bodies]


def _motor(parts: AlongParts, build: Build, stack: AlongStack | None) -> None:
    given, points = build.scenario.parts, parts.motor_points
    along, frame = given.along, given.frame
    face, middle, height = along.motor_face, along.motor_pulley, build.motor_at_snug[1]
    if stack is not None and face is not None and frame is not None:
        end = face + stack.outward * frame.shaft_length
        levels = height - 0.5 * frame.shaft_diameter, height + 0.5 * frame.shaft_diameter
        parts.others.append(Body((face, end), levels))
        points.append(("end of the motor's shaft", (end, height)))
        parts.name("end of the motor's shaft", *((end, level) for level in levels))
    if middle is not None:
        parts.others.append(_pulley(parts, build, middle, is_motor=True))
    if stack is None or face is None:
        return
    body = motor_size(build).body
    back = face - stack.outward * _BODY_SHOWN * body
    parts.others.append(Body((face, back), (height - body, height + body), broken=(back,)))
    points.append(("motor's face", (face, height)))
    parts.name("motor", *_around((face, back), height, body)[:6])
    parts.remarks.say("along.motor")


def _pulley(parts: AlongParts, build: Build, x: float, *, is_motor: bool) -> Body:
    """A pulley from the side; without its width only its middle is dimensioned."""
    along, radii, driven = build.scenario.parts.along, rim_radii(build), build.scenario.driven
    name, y, radius = "driven pulley", driven.shaft[1], radii[1]
    width, points = along.driven_pulley_width, parts.driven_points
    if is_motor:
        name, y, radius = "motor pulley", build.motor_at_snug[1], radii[0]
        width, points = along.motor_pulley_width, parts.motor_points
    reach = radius * (1 + _CENTRE_PAST)
    half = 0.5 * (assumed_width(build.scenario.belt) if width is None else width)
    ends, layer = (x - half, x + half), Layer.EDGE if width is None else Layer.VISIBLE
    parts.centre_lines.append(Line((x, y - reach), (x, y + reach), Layer.CENTRE))
    if width is None:
        parts.remarks.say("along.assumed_width")
        points.append((f"middle of the {name}", (x, y)))
    else:
        points += [(name, (end, y)) for end in ends]
    parts.name(name, *_around(ends, y, radius))
    return Body(ends, (y - radius, y + radius), layer)


def _around(ends: tuple[float, float], height: float, half: float) -> tuple[Point, ...]:
    """Points on the edges of a body: level ones first, then upright ones."""
    start, end = ends
    across = [start + share * (end - start) for share in (0.5, 0.2, 0.8)]
    level = [(x, height + side * half) for x in across for side in (1, -1)]
    upright = [(end, height + share * half) for end in ends for share in (0.8, 0.5, -0.5, -0.8)]
    return (*level, *upright)


def _guard(parts: AlongParts, build: Build, stack: AlongStack) -> None:
    """Panel and strip, cut at both shafts, and spacers where bearing and panel have both."""
    place, shape = panel_of(build)[1], guard_shape(build)
    if place is None:
        return
    ends = stack.outward * place.back, stack.outward * place.front
    strip_front, thick = stack.outward * place.strip_front, guard_sizes(build).thickness
    _, bottom, _, top = shape.outline.bounds
    (_, height), open_by = shape.opening.centre, shape.opening.radius
    slot = shape.slot.open_at(build.motor_at_snug[0])
    wood = shapely.LineString([(0.0, bottom), (0.0, top)]).difference(
        shapely.box(-1.0, height - open_by, 1.0, height + open_by).union(
            shapely.box(-1.0, slot[0], 1.0, slot[1])
        )
    )
    pieces = [one.bounds for one in shapely.get_parts(wood) if not one.is_empty]
    panel = [Body(ends, (low, high), is_long=True) for _, low, _, high in pieces]
    strip = [
        Body((ends[0], strip_front), levels)
        for levels in ((top, top + thick), (bottom - thick, bottom))
    ]
    spacers: list[Body] = []
    behind = stack.bearing_behind
    if behind is not None and behind.bearing is not None and (place.spacer or 0.0) >= _SPACER_LEAST:
        housing = 0.5 * HOUSING_OVER_JOURNAL * behind.bearing.journal_diameter
        between = stack.outward * behind.front, ends[0]
        if housing - open_by >= _SPACER_LEAST:
            spacers = [
                Body(between, (height + side * open_by, height + side * housing))
                for side in (1, -1)
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
    parts.remarks.say("along.guard_is_cut")
    if build.scenario.parts.guard.strip_width is None:
        parts.remarks.say("along.least_strip")


def _adjuster(parts: AlongParts, build: Build, stack: AlongStack) -> None:
    """Where it stands along the shafts, at the height at which it meets the plate at snug."""
    plate, meeting = stack.plate, meeting_on_plate(build)
    if plate is None or meeting is None:
        return
    adjuster = build.scenario.adjuster
    _, y = board_side(build).at(meeting.at, 0.0, build.swing.snug)
    name, ends = "link" if adjuster.kind is AdjusterKind.LINK else "bolt", list[Point]()
    for number, across in enumerate(adjuster.places):
        x = stack.outward * (0.5 * sum(plate) + across)
        level, upright = cross((x, y), _MARK)
        parts.centre_lines += [upright, level]
        which = f"{_WHICH[number]} {name}" if adjuster.bolts else name
        parts.motor_points.append((f"middle of the {which}", (x, y)))
        ends += [level.start, level.end]
    parts.name(f"{name} at the plate", *ends)
    parts.remarks.add([across_remark(build)])
