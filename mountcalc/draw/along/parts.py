"""What is drawn in the view along the shafts, and the points that are dimensioned in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from mountcalc.drafting.items import Layer, Line, Point
from mountcalc.drafting.names.callouts import short_name
from mountcalc.draw.along.bodies import Body
from mountcalc.draw.along.guard import guard_bodies
from mountcalc.draw.along.stack import AlongStack, place_of
from mountcalc.draw.boards.bolt_across import across_words
from mountcalc.draw.boards.plate_adjuster import meeting_on_plate
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.guard.openings.driven import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.plate_section import plate_across
from mountcalc.draw.guard.shape import GuardShape, guard_shape
from mountcalc.draw.pulley_rims import assumed_width, rim_radii
from mountcalc.layout import skeleton_of
from mountcalc.scenario.model import AdjusterKind, Bearing

__all__ = ["AlongParts", "along_parts"]

# How things are drawn of which the scenario does not say more (estimates).
_BODY_SHOWN = 1.2  # of a motor over its radius: the rest is broken off
_PAST = 0.02  # [m] a shaft is drawn past what is on it where its end is not known
_MARK = 0.012  # half a cross at the adjuster [m]
_CENTRE_PAST = 0.15  # of a pulley's radius that its centre line is longer


@dataclass(slots=True)
class AlongParts:
    """The parts, at their true heights.

    Attributes
    ----------
    datum : Point [m]
        On the edge from which distances along the shafts are measured.
    cut : list of Body
        What is cut along the driven shaft, and the guard: the nearest first.
    others : list of Body
        The motor and what is on its shaft.
    centre_lines : list of Line
        Of the pulleys.
    names : list of (tuple of Point, str)
        What is named, and points of it of which a leader may take any.
    driven_points, motor_points : list of (str, Point) [m]
        What is dimensioned from the datum, over the drive and under it, and what it is.
    shafts : list of (float, str)
        Heights of the shafts [m], and their names.
    notes : list of str
        What was assumed.
    """

    datum: Point
    cut: list[Body] = field(default_factory=list)
    others: list[Body] = field(default_factory=list)
    centre_lines: list[Line] = field(default_factory=list)
    names: list[tuple[tuple[Point, ...], str]] = field(default_factory=list)
    driven_points: list[tuple[str, Point]] = field(default_factory=list)
    motor_points: list[tuple[str, Point]] = field(default_factory=list)
    shafts: list[tuple[float, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

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


def along_parts(build: Build, stack: AlongStack | None) -> AlongParts:
    """Collect what is drawn."""
    shape = guard_shape(build)
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, shape.swing.snug)
    parts = AlongParts(_datum(build, stack))
    parts.shafts = [
        (build.scenario.driven.shaft[1], "driven shaft"),
        (motor[1], "motor shaft at snug"),
    ]
    _driven(parts, build, stack)
    _motor(parts, build, stack, motor[1])
    if stack is not None:
        _guard(parts, build, stack, shape)
        _adjuster(parts, build, stack, shape.swing)
    _name_datum(parts, build, stack)
    return parts


def _datum(build: Build, stack: AlongStack | None) -> Point:
    """The face of the bearing next to the pulley; the pulley's middle where that is not known."""
    driven = build.scenario.driven
    bearing = None if stack is None else stack.bearing_behind
    if stack is None or bearing is None:
        return driven.pulley_position, driven.shaft[1]
    return stack.outward * bearing.front, driven.shaft[1]


def _name_datum(parts: AlongParts, build: Build, stack: AlongStack | None) -> None:
    across, height = parts.datum
    if stack is None or stack.bearing_behind is None:
        half = rim_radii(build)[1] * (1 + _CENTRE_PAST)
        parts.name("datum: the pulley's middle", (across, height + half), (across, height - half))
        return
    half = max(0.5 * one.journal_diameter for one in build.scenario.driven.bearings)
    ends = [(across, height + side * share * half) for side in (1, -1) for share in (1.3, 1.7)]
    parts.name("datum: this bearing's face", *ends)


def _driven(parts: AlongParts, build: Build, stack: AlongStack | None) -> None:
    driven, along = build.scenario.driven, build.scenario.parts.along
    height, radius = driven.shaft[1], rim_radii(build)[1]
    width = along.driven_pulley_width
    pulley = _pulley(parts, build, (driven.pulley_position, height), width, radius)
    at = (driven.pulley_position, height)
    parts.driven_points += _pulley_points("driven pulley", pulley, width, at)
    parts.name("driven pulley", *_around(pulley.ends, height, radius))
    housings = []
    for one in _next_to(driven.pulley_position, driven.bearings):
        faces = one.position - 0.5 * one.length, one.position + 0.5 * one.length
        half = _housing(build, one, stack)
        housings.append(Body(faces, (height - half, height + half)))
        parts.name(f"bearing: {short_name(one.name)}", *_around(faces, height, half))
        face = min(faces, key=_from(driven.pulley_position))
        parts.driven_points.append((f"face of bearing {one.name!r}", (face, height)))
    parts.notes.append(
        f"Bearings are drawn {HOUSING_OVER_JOURNAL:g} times as high as their journals (estimate)."
    )
    reach = [end for body in (pulley, *housings) for end in body.ends]
    parts.cut += [*_driven_shaft(parts, build, reach), pulley, *housings]


def _housing(build: Build, bearing: Bearing, stack: AlongStack | None) -> float:
    """Half the height with which a bearing is drawn: it goes through the hole given for it [m]."""
    half = 0.5 * HOUSING_OVER_JOURNAL * bearing.journal_diameter
    given = build.scenario.parts.guard.bearing_opening
    if given is None or stack is None:
        return half
    is_met = place_of(bearing, stack.outward) == stack.bearing_behind
    return min(half, 0.5 * given) if is_met else half


def _driven_shaft(parts: AlongParts, build: Build, reach: list[float]) -> list[Body]:
    driven, end = build.scenario.driven, build.scenario.parts.along.driven_shaft_end
    height = driven.shaft[1]
    diameter = driven.shaft_diameter or min(one.journal_diameter for one in driven.bearings)
    levels = height - 0.5 * diameter, height + 0.5 * diameter
    left, right = min(reach) - _PAST, max(reach) + _PAST
    if end is None:
        return [Body((left, right), levels, broken=(left, right))]
    parts.driven_points.append(("end of the driven shaft", (end, height)))
    parts.name("end of the driven shaft", *((end, level) for level in levels))
    far = left if end > 0.5 * (left + right) else right
    return [Body((end, far), levels, broken=(far,))]


def _motor(parts: AlongParts, build: Build, stack: AlongStack | None, height: float) -> None:
    along, frame = build.scenario.parts.along, build.scenario.parts.frame
    if stack is not None and along.motor_face is not None and frame is not None:
        end = along.motor_face + stack.outward * frame.shaft_length
        levels = height - 0.5 * frame.shaft_diameter, height + 0.5 * frame.shaft_diameter
        parts.others.append(Body((along.motor_face, end), levels))
        parts.motor_points.append(("end of the motor's shaft", (end, height)))
        parts.name("end of the motor's shaft", *((end, level) for level in levels))
    if along.motor_pulley is not None:
        width, radius = along.motor_pulley_width, rim_radii(build)[0]
        pulley = _pulley(parts, build, (along.motor_pulley, height), width, radius)
        parts.others.append(pulley)
        at = (along.motor_pulley, height)
        parts.motor_points += _pulley_points("motor pulley", pulley, width, at)
        parts.name("motor pulley", *_around(pulley.ends, height, radius))
    if stack is None or along.motor_face is None:
        return
    body = skeleton_of(build.scenario).body_radius if frame is None else frame.body_radius
    back = along.motor_face - stack.outward * _BODY_SHOWN * body
    parts.others.append(
        Body((along.motor_face, back), (height - body, height + body), broken=(back,))
    )
    parts.motor_points.append(("motor's face", (along.motor_face, height)))
    parts.name("motor", *_around((along.motor_face, back), height, body)[:6])
    parts.notes.append("The height of the motor's body is an estimate.")


def _pulley(
    parts: AlongParts,
    build: Build,
    middle: Point,
    width: float | None,
    radius: float,
) -> Body:
    """A pulley from the side, with its centre line."""
    shown = assumed_width(build.scenario.belt) if width is None else width
    ends = middle[0] - 0.5 * shown, middle[0] + 0.5 * shown
    reach = radius * (1 + _CENTRE_PAST)
    low, high = (middle[0], middle[1] - reach), (middle[0], middle[1] + reach)
    parts.centre_lines.append(Line(low, high, Layer.CENTRE))
    if width is None:
        parts.notes.append("A pulley drawn thin has a width that was assumed (estimate).")
    layer = Layer.EDGE if width is None else Layer.VISIBLE
    return Body(ends, (middle[1] - radius, middle[1] + radius), layer)


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


def _guard(parts: AlongParts, build: Build, stack: AlongStack, shape: GuardShape) -> None:
    guard = guard_bodies(build, stack, shape)
    if guard is None:
        return
    parts.cut += [*guard.panel, *guard.strip, *guard.spacers]
    panel = [level for body in guard.panel for level in body.levels]
    low, high = min(panel), max(panel)
    parts.motor_points += [("guard panel", (end, low)) for end in guard.panel[0].ends]
    parts.motor_points.append(("front of the strip", (guard.strip_front, low)))
    faces = [(end, level) for end in guard.panel[0].ends for level in (low, high)]
    parts.name("guard panel", *((x, y + 0.1 * (0.5 * (low + high) - y)) for x, y in faces))
    parts.name("strip", *(guard.strip_ends()))
    if guard.spacers:
        parts.name("spacer", *guard.spacer_middles())
    parts.notes += guard.notes


def _adjuster(parts: AlongParts, build: Build, stack: AlongStack, swing: Swing) -> None:
    """Where it stands along the shafts, at the height at which it meets the plate at snug."""
    plate, frame = plate_across(build, stack), build.frame
    meeting = meeting_on_plate(build)
    if plate is None or meeting is None:
        return
    across = stack.outward * (0.5 * sum(plate) + (build.scenario.adjuster.across or 0.0))
    (x, y), (right, up) = frame.hinge, frame.along
    on_plate = x + meeting.at * right, y + meeting.at * up
    height = turned(on_plate, frame.hinge, swing.snug)[1]
    ends = ((across - _MARK, height), (across + _MARK, height))
    upright = ((across, height - _MARK), (across, height + _MARK))
    parts.centre_lines.append(Line(*upright, Layer.CENTRE))
    parts.centre_lines.append(Line(*ends, Layer.CENTRE))
    name = "link" if build.scenario.adjuster.kind is AdjusterKind.LINK else "bolt"
    parts.motor_points.append((f"middle of the {name}", (across, height)))
    parts.name(f"{name} at the plate", *ends)
    parts.notes.append(across_words(build))


def _next_to(position: float, bearings: Iterable[Bearing]) -> list[Bearing]:
    """The bearing next to a position on each side that has one."""
    found = []
    for side in (-1, 1):
        there = [one for one in bearings if side * (one.position - position) > 0]
        found += sorted(there, key=lambda one: abs(one.position - position))[:1]
    return found


def _from(position: float) -> Callable[[float], float]:
    return lambda at: abs(at - position)
