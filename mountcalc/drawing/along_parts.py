"""What is drawn in the view along the shafts, and the points that are dimensioned in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from mountcalc.drawing.along_stack import AlongStack
from mountcalc.drawing.driven_opening import HOUSING_OVER_JOURNAL
from mountcalc.drawing.guard_sizes import guard_sizes
from mountcalc.drawing.model import Ink, Item, Line, Path, Point
from mountcalc.drawing.panel_words import panel_of
from mountcalc.drawing.pulley_rims import assumed_width, rim_radii
from mountcalc.drawing.swing import Swing, turned
from mountcalc.scenario.model import Bearing, Scenario
from mountcalc.tasks.skeleton import skeleton_of

__all__ = ["AlongParts", "along_parts"]

# How things are drawn of which the scenario does not say more (estimates).
_BODY_SHOWN = 1.2  # of a motor over its radius: the rest is broken off
_PAST = 0.02  # [m] a shaft is drawn past what is on it where its end is not known


@dataclass(slots=True)
class AlongParts:
    """The drawn parts.

    Attributes
    ----------
    datum : Point [m]
        On the edge from which distances along the shafts are measured.
    level : float [m]
        Height from which heights are measured: the floor, else the hinge.
    items : list of Item
        In the drawing's own frame: positions along the shafts across, heights up.
    names : list of (tuple of Point, str)
        What is named, and points of it of which a leader may take any.
    driven_points, motor_points : list of Point [m]
        What is dimensioned from the datum.
    heights : list of float [m]
        What is dimensioned from the level.
    notes : list of str
        What was assumed.
    """

    datum: Point
    level: float
    items: list[Item] = field(default_factory=list)
    names: list[tuple[tuple[Point, ...], str]] = field(default_factory=list)
    driven_points: list[Point] = field(default_factory=list)
    motor_points: list[Point] = field(default_factory=list)
    heights: list[float] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def name(self, text: str, *at: Point) -> None:
        """Name a part at one of its points."""
        self.names.append((at, text))

    def broken(self, closed_end: float, open_end: float, height: float, half: float) -> None:
        """Something that goes on past one end [m]."""
        low, high = height - half, height + half
        corners = ((open_end, low), (closed_end, low), (closed_end, high), (open_end, high))
        self.items.append(Path(corners, closed=False, ink=Ink.VISIBLE))

    def box(self, ends: tuple[float, float], levels: tuple[float, float], ink: Ink) -> None:
        """An upright rectangle [m]."""
        (left, right), (low, high) = sorted(ends), sorted(levels)
        corners = ((left, low), (right, low), (right, high), (left, high))
        self.items.append(Path(corners, closed=True, ink=ink))


def along_parts(
    scenario: Scenario, stack: AlongStack | None, swing: Swing, *, to_floor: bool
) -> AlongParts:
    """Collect what is drawn.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.
    stack : AlongStack or None
        Positions along the shafts; None where it is not known which way is outward.
    swing : Swing
        The motor stands where it is at snug; the panel covers all of it.
    to_floor : bool
        Whether the drawing reaches down to hinge and floor.

    Returns
    -------
    AlongParts
    """
    motor = turned(scenario.motor.shaft, scenario.plate.hinge, swing.snug)
    floor = scenario.parts.base.floor if to_floor else None
    heights = [scenario.driven.shaft[1]]
    if scenario.parts.along.motor_pulley is not None:
        heights.append(motor[1])
    level = min(heights) if floor is None else floor
    parts = AlongParts(_datum(scenario, stack), level)
    _driven(parts, scenario)
    _motor(parts, scenario, stack, motor[1])
    if stack is not None:
        _panel(parts, scenario, stack, swing)
    _levels(parts, scenario, motor[1], floor)
    return parts


def _datum(scenario: Scenario, stack: AlongStack | None) -> Point:
    """The face of the bearing next to the pulley; the pulley's middle where that is not known."""
    driven = scenario.driven
    bearing = None if stack is None else stack.bearing_behind
    if stack is None or bearing is None:
        return driven.pulley_position, driven.shaft[1]
    return stack.outward * bearing.front, driven.shaft[1]


def _driven(parts: AlongParts, scenario: Scenario) -> None:
    driven, along = scenario.driven, scenario.parts.along
    height = driven.shaft[1]
    width = along.driven_pulley_width
    ends = _pulley(parts, scenario, (driven.pulley_position, height), width, rim_radii(scenario)[1])
    if width is None:
        parts.driven_points.append((driven.pulley_position, height))
    else:
        parts.driven_points += [(end, height) for end in ends]
    parts.name("driven pulley", (ends[0], height + 0.7 * rim_radii(scenario)[1]))
    reach = list(ends)
    for one in _next_to(driven.pulley_position, driven.bearings):
        faces = one.position - 0.5 * one.length, one.position + 0.5 * one.length
        half = 0.5 * HOUSING_OVER_JOURNAL * one.journal_diameter
        parts.box(faces, (height - half, height + half), Ink.VISIBLE)
        parts.name(f"bearing: {one.name}", (one.position, height + half))
        parts.driven_points.append((min(faces, key=_from(driven.pulley_position)), height))
        reach += faces
    _driven_shaft(parts, scenario, reach)


def _driven_shaft(parts: AlongParts, scenario: Scenario, reach: list[float]) -> None:
    driven, end = scenario.driven, scenario.parts.along.driven_shaft_end
    height = driven.shaft[1]
    diameter = driven.shaft_diameter or min(one.journal_diameter for one in driven.bearings)
    if end is None:
        # Both ends are broken off: a line across would look like the shaft's end.
        left, right = min(reach) - _PAST, max(reach) + _PAST
        for level in (height - 0.5 * diameter, height + 0.5 * diameter):
            parts.items.append(Line((left, level), (right, level), Ink.VISIBLE))
        return
    middle = 0.5 * (min(reach) + max(reach))
    far = min(reach) - _PAST if end > middle else max(reach) + _PAST
    parts.broken(end, far, height, 0.5 * diameter)
    parts.driven_points.append((end, height))
    parts.name("end of the driven shaft", (end, height - 0.5 * diameter))


def _motor(parts: AlongParts, scenario: Scenario, stack: AlongStack | None, height: float) -> None:
    along, frame = scenario.parts.along, scenario.parts.frame
    if along.motor_pulley is not None:
        width = along.motor_pulley_width
        radius = rim_radii(scenario)[0]
        ends = _pulley(parts, scenario, (along.motor_pulley, height), width, radius)
        if width is None:
            parts.motor_points.append((along.motor_pulley, height))
        else:
            parts.motor_points += [(end, height) for end in ends]
        parts.name("motor pulley", (ends[0], height - 0.7 * radius))
    if stack is None or along.motor_face is None:
        return
    body = skeleton_of(scenario).body_radius if frame is None else frame.body_radius
    back = along.motor_face - stack.outward * _BODY_SHOWN * body
    parts.broken(along.motor_face, back, height, body)
    parts.motor_points.append((along.motor_face, height))
    parts.name("motor", (0.5 * (along.motor_face + back), height - body))
    parts.notes.append("The height of the motor's body is an estimate.")
    if frame is not None:
        end = along.motor_face + stack.outward * frame.shaft_length
        half = 0.5 * frame.shaft_diameter
        parts.box((along.motor_face, end), (height - half, height + half), Ink.VISIBLE)
        parts.motor_points.append((end, height))
        parts.name("end of the motor's shaft", (end, height - half))


def _pulley(
    parts: AlongParts,
    scenario: Scenario,
    middle: Point,
    width: float | None,
    radius: float,
) -> tuple[float, float]:
    """A pulley from the side; its ends along the shaft [m]."""
    shown = assumed_width(scenario.belt) if width is None else width
    ends = middle[0] - 0.5 * shown, middle[0] + 0.5 * shown
    levels = middle[1] - radius, middle[1] + radius
    parts.box(ends, levels, Ink.EDGE if width is None else Ink.VISIBLE)
    past = 0.15 * radius
    centre_line = Line((middle[0], levels[0] - past), (middle[0], levels[1] + past), Ink.CENTRE)
    parts.items.append(centre_line)
    if width is None:
        parts.notes.append("A pulley drawn thin has a width that was assumed (estimate).")
    return ends


def _panel(parts: AlongParts, scenario: Scenario, stack: AlongStack, swing: Swing) -> None:
    _, place = panel_of(scenario, stack)
    if place is None:
        return
    sizes = guard_sizes(scenario)
    motor = scenario.motor.shaft
    swept = [
        turned(motor, scenario.plate.hinge, angle)[1]
        for angle in (swing.install, swing.snug, swing.take_up)
    ]
    over_motor = sizes.motor_radius + sizes.clearance
    over_driven = sizes.driven_radius + sizes.clearance
    driven = scenario.driven.shaft[1]
    low = min(min(swept) - over_motor, driven - over_driven)
    high = max(max(swept) + over_motor, driven + over_driven)
    ends = stack.outward * place.back, stack.outward * place.front
    parts.box(ends, (low, high), Ink.VISIBLE)
    parts.name("guard panel", (ends[0], high))
    parts.motor_points += [(end, low) for end in ends]


def _levels(parts: AlongParts, scenario: Scenario, motor: float, floor: float | None) -> None:
    """The shafts' centre lines, hinge and floor across all that is drawn."""
    across = [point[0] for item in parts.items if isinstance(item, Path) for point in item.points]
    left, right = min(across) - _PAST, max(across) + _PAST
    named = [(scenario.driven.shaft[1], "driven shaft")]
    if scenario.parts.along.motor_pulley is not None:
        named.append((motor, "motor shaft at snug"))
    if floor is not None:
        named.append((scenario.plate.hinge[1], "hinge pin"))
        parts.items.append(Line((left, floor), (right, floor), Ink.VISIBLE))
        parts.name("floor", (right, floor))
    for height, name in named:
        parts.items.append(Line((left, height), (right, height), Ink.CENTRE))
        parts.name(name, (right, height))
        parts.heights.append(height)


def _next_to(position: float, bearings: Iterable[Bearing]) -> list[Bearing]:
    """The bearing next to a position on each side that has one."""
    found = []
    for side in (-1, 1):
        there = [one for one in bearings if side * (one.position - position) > 0]
        found += sorted(there, key=lambda one: abs(one.position - position))[:1]
    return found


def _from(position: float) -> Callable[[float], float]:
    return lambda at: abs(at - position)
