"""The mount to be drawn: what is fixed, and all that moves with the plate at some of its angles.

Every point comes from the scenario or from the linkage's kernels; what draws it derives nothing.
What a scenario does not tell (how long a screw is, how large a motor) is nominal, so that a drawing
can be read; nothing that is computed depends on it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from mountcalc.drafting.items import along
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import AT_REST, solve_mount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.errors import InputError
from mountcalc.linkage import kernels
from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.model import Acts, AdjusterKind, Rotation, Scenario
from mountcalc.scenario.text.writing import Vector

Segment = tuple[Vector, Vector]
Named = tuple[str, float | None, State | None]
"""A pose's name, turns and state."""

# As shares of the mount's reach: points nearer than this are one, and how far a screw's parts go.
_SAME_POINT = 0.02
_FACE_HALF = 0.06
_NUT_BACK = 0.07
_OVERHANG = 0.07
_SPRING_OF_REACH = 0.8  # of what is between the tip's face and the nut
# A screw nearer to parallel with the plate than this (sine) is not taken to pass through its line.
_LEAST_CROSSING = 0.3
# A motor's body against its pulley's radius and the distance between the shafts.
_LEAST_BODY = 1.3
_PLAIN_BODY = 1.7
_MOST_BODY = 3.0
_BODY_OF_CENTRES = 0.4
# A tip nearer to its face than this angle of the plate [rad] touches it.
_SAME_ANGLE = 1e-6
# A plate that moves less than this [rad] under load is not drawn twice: a hundredth of a degree.
_UNMOVED = math.radians(0.01)


@dataclass(frozen=True, slots=True)
class Belt:
    """The belt's path: its strands by load, from motor to driven pulley [m], and what it wraps.

    ``motor_arc`` and ``driven_arc`` are (start, end) [rad], counter-clockwise from start to end.
    """

    tight: Segment
    slack: Segment
    motor_arc: tuple[float, float]
    driven_arc: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Rod:
    """A jack from its head to its tip, or a link from its pin in the base to that in the plate [m].

    Of a jack, ``nut`` is where it passes through base or plate, ``face`` a piece of the face that
    the tip bears on; ``touches`` is False where the plate rides clear of it. A coil ``spring`` lies
    between tip and face, or between a link's pin in the base and its nut.
    """

    start: Vector
    tip: Vector
    nut: Vector | None = None
    face: Segment | None = None
    touches: bool = True
    spring: Segment | None = None


@dataclass(frozen=True, slots=True)
class Schematic:
    """Sizes that a drawing needs, as drawn (plate angle 0) [m]; nominal unless ``is_to_size``.

    ``plate`` is a line through the hinge, ``arms`` stand off from it, ``board`` are the corners of
    a plate whose size is known. ``nut``, ``face`` and ``screw`` (from head to tip at most) are None
    or 0 where there is no screw; ``block`` is False where nothing can hold it.
    """

    plate: Segment
    arms: tuple[Segment, ...]
    board: tuple[Vector, ...]
    body_radius: float
    nut: Vector | None
    face: Segment | None
    screw: float
    is_to_size: bool = False
    block: bool = True


@dataclass(frozen=True, slots=True)
class Pose:
    """All that moves with the plate, at one of its angles (points [m]).

    ``turns`` is None without an adjuster. ``plate`` runs through the hinge as a straight line;
    ``arms`` are the stand-offs from it to the motor shaft and to where the adjuster acts;
    ``masses`` are the centres of mass of motor and plate by their names.
    """

    name: str
    turns: float | None
    state: State | None
    plate_angle: float
    motor_shaft: Vector
    masses: Mapping[str, Vector]
    belt: Belt
    plate: Segment
    board: tuple[Vector, ...]
    arms: tuple[Segment, ...]
    adjuster: Rod | None


@dataclass(frozen=True, slots=True)
class Layout:
    """A mount ready to be drawn: at zero (or as drawn), and thin at another setting.

    At ``ends`` only the plate and the motor are drawn. ``shaft_load`` [N] is the belts' pull on the
    driven shaft when running, at the other setting if there is one; None where it has none.
    ``remarks`` say what could not be drawn, and why. ``places`` are more points that are named,
    each with the radius [m] of a circle about it; ``where`` says where a point is.
    """

    scenario: Scenario
    schematic: Schematic
    zero: Pose
    other: Pose | None = None
    ends: tuple[Pose, ...] = ()
    shaft_load: Vector | None = None
    remarks: tuple[str, ...] = ()
    places: Mapping[str, tuple[Vector, float]] = field(default_factory=dict)
    where: Callable[[Vector], str] | None = None

    @property
    def poses(self) -> list[Pose]:
        """At zero, and at the other setting."""
        return [self.zero] if self.other is None else [self.zero, self.other]


def mount_layout(scenario: Scenario, turns: float) -> Layout:
    """The mount at zero and at other turns, at rest; without an adjuster at rest and running."""
    if not math.isfinite(turns):
        raise InputError("turns: a finite number is wanted")
    solved = solve_mount(Mount.of(scenario))
    mount, place = solved.mount, solved.place(np.array([0.0, turns]))
    cases, adjusts = solved.cases(place), solved.mount.has_adjuster
    contacts = [float(angle) for angle in place.angle]
    schematic = schematic_of(scenario, mount.adjuster(place.angle).extension if adjusts else (0.0,))
    state = State(str(cases.rest.state[0]))
    phi, remarks, other = float(cases.rest.phi[0]), list[str](), None
    snug = "snug" if solved.zero.kind is ZeroKind.SNUG else "contact"
    name = f"zero ({snug})" if adjusts else "at rest"
    if state is State.AT_STOP:
        remarks.append("weight alone drives the plate to the tight end of its travel")
    if not math.isfinite(phi):
        remarks.append("no balance at rest: drawn as the scenario gives it")
        name, phi = "as drawn", 0.0
    zero = _pose(mount, schematic, (name, 0.0 if adjusts else None, state), phi, contacts[0])
    if turns or not adjusts:
        # Without an adjuster, where the load takes the plate.
        case, index, name = cases.running, 0, "running"
        if adjusts:
            case, index, name = cases.rest, 1, f"{turns:g} turn{'' if turns == 1 else 's'}"
        named = name, turns if adjusts else None, State(str(case.state[index]))
        phi = float(case.phi[index])
        if (why := _not_drawn(zero, named, phi)) is None:
            other = _pose(mount, schematic, named, phi, contacts[index])
        elif why:
            remarks.append(why)
    x, y = (float(part) for part in cases.running.shaft_force[0 if other is None else -1])
    pulled = math.isfinite(x + y) and math.hypot(x, y) > 0
    return Layout(scenario, schematic, zero, other, (), (x, y) if pulled else None, tuple(remarks))


def poses_at(scenario: Scenario, turns: Iterable[float]) -> tuple[float, list[Pose | None]]:
    """The motor's radius [m], and the mount at rest at turns of its adjuster if it rests there."""
    solved = solve_mount(Mount.of(scenario))
    place = solved.place(list(turns))
    rest = solved.case(place, AT_REST, with_grip=False)
    schematic = schematic_of(scenario, solved.mount.adjuster(place.angle).extension)
    poses = (
        _pose(solved.mount, schematic, (f"{turn:g}", turn, State(str(state))), phi, contact)
        if math.isfinite(phi)
        else None
        for turn, state, phi, contact in zip(
            place.turns.tolist(),
            rest.state,
            rest.phi.tolist(),
            place.angle.tolist(),
            strict=True,
        )
    )
    return schematic.body_radius, list(poses)


def _not_drawn(zero: Pose, named: Named, phi: float) -> str | None:
    """Why a plate at ``phi`` is not drawn beside that at zero, or None."""
    name, turns, state = named
    if turns is None and abs(phi - zero.plate_angle) < _UNMOVED:
        return "running, the plate stays within 0.01 degrees of where it is at rest"
    if math.isfinite(phi):
        return None
    if turns is None:
        is_said = zero.state is State.NO_BALANCE
        return "" if is_said else "no balance when running: only the position at rest is drawn"
    why = "past the travel" if state is State.BEYOND_TRAVEL else "no balance at rest"
    return f"{name}: {why}, not drawn"


def mount_as_drawn(
    scenario: Scenario,
    sizes: Mapping[str, Any],
    ends: Mapping[str, float],
    **more: Any,  # noqa: ANN401 (of Layout)
) -> Layout:
    """The mount as the scenario gives it, with sizes of its schematic, and at other angles."""
    mount, schematic = Mount.of(scenario), replace(schematic_of(scenario), is_to_size=True, **sizes)
    zero, *others = (
        replace(_pose(mount, schematic, (name, None, None), angle, angle), masses={})
        for name, angle in ({"as drawn": 0.0} | dict(ends)).items()
    )
    return Layout(scenario, schematic, zero, ends=tuple(others), **more)


def belt_at(mount: Mount, phi: float) -> Belt:
    """The belt's pitch line at a plate angle."""
    scenario, at = mount.scenario, mount.strands(phi)
    motor, driven = _turned(scenario, scenario.motor.shaft, phi), scenario.driven.shaft
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    plus = math.atan2(float(at.normal_plus_y), float(at.normal_plus_x))
    minus = math.atan2(float(at.normal_minus_y), float(at.normal_minus_x))
    strands = [(along(motor, way, radii[0]), along(driven, way, radii[1])) for way in (plus, minus)]
    wrap = 2 * float(at.beta)
    tight, slack = strands if scenario.motor.rotation is Rotation.CCW else strands[::-1]
    return Belt(tight, slack, (plus, plus + math.pi - wrap), (minus, minus + math.pi + wrap))


def schematic_of(scenario: Scenario, extensions: Iterable[float] = (0.0,)) -> Schematic:
    """The sizes of a scenario's drawing, in which the adjuster's extensions [m] are shown."""
    hinge, motor, adjuster = scenario.plate.hinge, scenario.motor.shaft, scenario.adjuster
    known, in_plate = DrawnPlate(scenario), adjuster.kind is AdjusterKind.JACK_IN_PLATE
    direction, centres = known.line.direction, math.dist(motor, scenario.driven.shaft)
    reach = max(centres, math.dist(hinge, motor), math.dist(hinge, scenario.driven.shaft))
    nut, face, screw = None, None, 0.0
    if adjuster.tip is not None and adjuster.axis is not None and adjuster.face is not None:
        draws_back = max(0.0, -float(min(extensions)))
        long = 0.0 if adjuster.coil is None else adjuster.coil.free_length
        back, half = draws_back + _NUT_BACK * reach + long, _FACE_HALF * reach
        out = known.line.slope(adjuster.axis)[1]
        if in_plate and abs(out) > _LEAST_CROSSING:
            through = known.line.height(adjuster.tip) / out
            if draws_back + _SAME_POINT * reach < through < reach:
                back = through
        nut = along(adjuster.tip, adjuster.axis, -back)
        face = along(adjuster.tip, adjuster.face, -half), along(adjuster.tip, adjuster.face, half)
        screw = back + float(max(extensions)) + _OVERHANG * reach
    # The point fixed to the plate at which the adjuster acts.
    acts_at = nut if in_plate else adjuster.tip or adjuster.plate_pin
    carried = [motor] if acts_at is None else [motor, acts_at]
    masses = [scenario.plate.center_of_mass] if scenario.plate.weight > 0 else []
    ends = [known.line.distance(point) for point in (*carried, *masses)]
    feet = [along(hinge, direction, end) for end in ends]
    board: tuple[Vector, ...] = ()
    thickness = scenario.parts.plate.thickness
    if known.end is not None and thickness is not None:
        ends, back = [known.end], -known.line.side * thickness
        places = ((0.0, 0.0), (known.end, 0.0), (known.end, back), (0.0, back))
        board = tuple(along(hinge, direction, *place) for place in places)
    pulley, height = scenario.motor.pulley_radius, math.dist(feet[0], motor)
    body = max(_LEAST_BODY * pulley, min(height, _MOST_BODY * pulley, _BODY_OF_CENTRES * centres))
    if height < _LEAST_BODY * pulley:
        body = _PLAIN_BODY * pulley
    if scenario.parts.frame is not None:
        body = scenario.parts.frame.body_radius
    return Schematic(
        plate=(along(hinge, direction, min(0.0, *ends)), along(hinge, direction, max(0.0, *ends))),
        arms=tuple(
            (foot, point)
            for foot, point in zip(feet, carried, strict=False)
            if math.dist(foot, point) > 0.5 * _SAME_POINT * reach
        ),
        board=board,
        body_radius=body,
        nut=nut,
        face=face,
        screw=screw,
    )


def _turned(scenario: Scenario, point: Vector, phi: float) -> Vector:
    at = kernels.plate_point(phi, *scenario.plate.hinge, *point)
    return float(at.x), float(at.y)


def _towards(start: Vector, goal: Vector, length: float) -> Vector:
    """A point so far [m] from one towards another."""
    return along(start, math.atan2(goal[1] - start[1], goal[0] - start[0]), length)


def _pose(
    mount: Mount,
    schematic: Schematic,
    named: Named,
    phi: float,
    contact: float,
) -> Pose:
    """The plate at ``phi``, the adjuster as set where it has contact at ``contact``."""
    scenario = mount.scenario
    plate, adjuster = scenario.plate, scenario.adjuster

    def turned(point: Vector) -> Vector:
        return _turned(scenario, point, phi)

    def both(pair: Segment) -> Segment:
        return turned(pair[0]), turned(pair[1])

    rod: Rod | None = None
    nut, face, coil, out = schematic.nut, schematic.face, adjuster.coil, 0.0
    if mount.gives and named[2] is State.HELD:
        # What gives is pressed in between the plate and where the adjuster would have it.
        ends = mount.adjuster(np.array([contact, phi])).extension
        out, contact = float(abs(ends[1] - ends[0])), phi
    long = 0.0
    if coil is not None and not schematic.is_to_size:
        long = max(coil.free_length - out, coil.free_length - coil.stop)
    if adjuster.base_pin is not None and adjuster.plate_pin is not None:
        rod = Rod(adjuster.base_pin, turned(adjuster.plate_pin))
        if long:
            side = -1.0 if adjuster.acts is Acts.PULL else 1.0
            rod = replace(rod, spring=(rod.start, _towards(rod.start, rod.tip, side * long)))
    elif nut is not None and face is not None:
        at = mount.adjuster(contact)
        tip = float(at.at_x), float(at.at_y)
        if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
            tip, nut = _turned(scenario, tip, phi - contact), turned(nut)
        else:
            face = both(face)
        end = _towards(tip, nut, min(long, _SPRING_OF_REACH * math.dist(tip, nut)))
        head = _towards(tip, nut, schematic.screw)
        touches = abs(phi - contact) < _SAME_ANGLE
        rod = Rod(head, end, nut, face, touches, (end, tip) if long else None)
    masses = {"motor": turned(scenario.motor.center_of_mass)}
    if plate.weight > 0:
        masses["plate"] = turned(plate.center_of_mass)
    return Pose(
        *named,
        plate_angle=phi,
        motor_shaft=turned(scenario.motor.shaft),
        masses=masses,
        belt=belt_at(mount, phi),
        plate=both(schematic.plate),
        board=tuple(map(turned, schematic.board)),
        arms=tuple(map(both, schematic.arms)),
        adjuster=rod,
    )
