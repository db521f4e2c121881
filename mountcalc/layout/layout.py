"""The mount's layout as points: at zero, and at another setting.

Every point comes from the scenario or from the linkage's kernels; what draws it derives
nothing. A scenario does not say how long a plate, a screw or a motor is: those sizes are
nominal, chosen so that a drawing can be read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import AdjusterPosition, Cases, SolvedMount, solve_mount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.errors import InputError
from mountcalc.layout.schematic import Schematic, schematic_of
from mountcalc.linkage import kernels
from mountcalc.scenario.model import AdjusterKind, Display, Rotation, Scenario, Vector

__all__ = ["Belt", "Layout", "Link", "Pose", "Screw", "Segment", "belt_at", "mount_layout"]

Segment = tuple[Vector, Vector]

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
class Screw:
    """A jack: ``head``, ``nut`` (where it passes through base or plate) and ``tip`` [m].

    ``face`` is a piece of the face that the tip bears on; ``touches`` is False where the plate
    rides clear of it. The screw's length is nominal.
    """

    head: Vector
    nut: Vector
    tip: Vector
    face: Segment
    touches: bool


@dataclass(frozen=True, slots=True)
class Link:
    """An eye-bolt or turnbuckle between its pins [m]."""

    base_pin: Vector
    plate_pin: Vector


@dataclass(frozen=True, slots=True)
class Pose:
    """All that moves with the plate, at one setting at rest (points [m]).

    ``turns`` is None without an adjuster. ``plate`` runs through the hinge as a straight line;
    ``arms`` are the stand-offs from it to the motor shaft and to where the adjuster acts.
    """

    name: str
    turns: float | None
    state: State
    plate_angle: float
    motor_shaft: Vector
    motor_mass: Vector
    plate_mass: Vector | None
    belt: Belt
    plate: Segment
    arms: tuple[Segment, ...]
    adjuster: Screw | Link | None


@dataclass(frozen=True, slots=True)
class Layout:
    """A mount ready to be drawn: what is fixed, and the plate at zero and elsewhere.

    Lengths [m]. ``body_radius`` is a nominal motor; ``shaft_load`` [N] is the belts' pull on the
    driven shaft when running, at the other setting if there is one; None where it has none.
    ``remarks`` say what could not be drawn, and why.
    """

    title: str
    display: Display
    kind: AdjusterKind
    rotation: Rotation
    hinge: Vector
    driven_shaft: Vector
    driven_radius: float
    motor_radius: float
    body_radius: float
    zero: Pose
    other: Pose | None
    shaft_load: Vector | None
    remarks: tuple[str, ...]


def mount_layout(scenario: Scenario, turns: float) -> Layout:
    """The mount at zero and at other turns, at rest."""
    if not math.isfinite(turns):
        raise InputError("turns: a finite number is wanted")
    return _Builder(scenario, turns).layout()


def belt_at(mount: Mount, phi: float) -> Belt:
    """The belt's pitch line at a plate angle."""
    scenario, at = mount.scenario, mount.strands(phi)
    motor, driven = _turned(scenario, scenario.motor.shaft, phi), scenario.driven.shaft
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    normals = (
        (float(at.normal_plus_x), float(at.normal_plus_y)),
        (float(at.normal_minus_x), float(at.normal_minus_y)),
    )
    strands: list[Segment] = [
        (
            (motor[0] + radii[0] * x, motor[1] + radii[0] * y),
            (driven[0] + radii[1] * x, driven[1] + radii[1] * y),
        )
        for x, y in normals
    ]
    plus, minus = (math.atan2(y, x) for x, y in normals)
    wrap = 2 * float(at.beta)
    tight, slack = strands if scenario.motor.rotation is Rotation.CCW else strands[::-1]
    return Belt(tight, slack, (plus, plus + math.pi - wrap), (minus, minus + math.pi + wrap))


def _turned(scenario: Scenario, point: Vector, phi: float) -> Vector:
    at = kernels.plate_point(phi, *scenario.plate.hinge, *point)
    return float(at.x), float(at.y)


class _Builder:
    """Puts the solved mount's points together."""

    def __init__(self, scenario: Scenario, turns: float) -> None:
        self.scenario = scenario
        self.turns = turns
        self.solved: SolvedMount = solve_mount(Mount.of(scenario))
        self.placement: AdjusterPosition = self.solved.place(np.array([0.0, turns]))
        self.cases: Cases = self.solved.cases(self.placement)
        self.contacts = [float(angle) for angle in self.placement.angle]
        self.schematic: Schematic = schematic_of(scenario, self._draws_back())

    def layout(self) -> Layout:
        """Everything, put together."""
        scenario = self.scenario
        remarks: list[str] = []
        zero = self._zero_pose(remarks)
        other = self._other_pose(zero, remarks)
        force = self.cases.running.shaft_force[-1 if other is not None else 0]
        pulled = bool(np.all(np.isfinite(force))) and float(np.hypot(*force)) > 0
        return Layout(
            title=scenario.title,
            display=scenario.display,
            kind=scenario.adjuster.kind,
            rotation=scenario.motor.rotation,
            hinge=scenario.plate.hinge,
            driven_shaft=scenario.driven.shaft,
            driven_radius=scenario.driven.pulley_radius,
            motor_radius=scenario.motor.pulley_radius,
            body_radius=self.schematic.body_radius,
            zero=zero,
            other=other,
            shaft_load=(float(force[0]), float(force[1])) if pulled else None,
            remarks=tuple(remarks),
        )

    def _draws_back(self) -> float:
        if not self.solved.mount.has_adjuster:
            return 0.0
        extension = self.solved.mount.adjuster(np.array(self.contacts)).extension
        return max(0.0, -float(np.min(extension)))

    def _zero_pose(self, remarks: list[str]) -> Pose:
        state, phi = self._at_rest(0)
        if not self.solved.mount.has_adjuster:
            name = "at rest"
        else:
            name = f"zero ({'snug' if self.solved.zero.kind is ZeroKind.SNUG else 'contact'})"
        if state is State.AT_STOP:
            remarks.append("weight alone drives the plate to the tight end of its travel")
        if not math.isfinite(phi):
            remarks.append("no balance at rest: drawn as the scenario gives it")
            name, phi = "as drawn", 0.0
        turns = 0.0 if self.solved.mount.has_adjuster else None
        return self._pose(name, turns, state, phi, self.contacts[0])

    def _other_pose(self, zero: Pose, remarks: list[str]) -> Pose | None:
        if not self.solved.mount.has_adjuster:
            return self._running_pose(zero, remarks)
        if self.turns == 0:
            return None
        name = f"{self.turns:g} turn{'' if self.turns == 1 else 's'}"
        state, phi = self._at_rest(1)
        if not math.isfinite(phi):
            why = "past the travel" if state is State.BEYOND_TRAVEL else "no balance at rest"
            remarks.append(f"{name}: {why}, not drawn")
            return None
        return self._pose(name, self.turns, state, phi, self.contacts[1])

    def _running_pose(self, zero: Pose, remarks: list[str]) -> Pose | None:
        """Without an adjuster: where the load takes the plate."""
        running = self.cases.running
        state, phi = State(str(running.state[0])), float(running.phi[0])
        if not math.isfinite(phi):
            if zero.state is not State.NO_BALANCE:
                remarks.append("no balance when running: only the position at rest is drawn")
            return None
        if abs(phi - zero.plate_angle) < _UNMOVED:
            remarks.append("running, the plate stays within 0.01 degrees of where it is at rest")
            return None
        return self._pose("running", None, state, phi, phi)

    def _at_rest(self, index: int) -> tuple[State, float]:
        rest = self.cases.rest
        return State(str(rest.state[index])), float(rest.phi[index])

    def _turned(self, point: Vector, phi: float) -> Vector:
        return _turned(self.scenario, point, phi)

    def _pose(
        self, name: str, turns: float | None, state: State, phi: float, contact: float
    ) -> Pose:
        plate = self.scenario.plate
        schematic = self.schematic
        return Pose(
            name=name,
            turns=turns,
            state=state,
            plate_angle=phi,
            motor_shaft=self._turned(self.scenario.motor.shaft, phi),
            motor_mass=self._turned(self.scenario.motor.center_of_mass, phi),
            plate_mass=self._turned(plate.center_of_mass, phi) if plate.weight > 0 else None,
            belt=belt_at(self.solved.mount, phi),
            plate=self._turned_pair(schematic.plate, phi),
            arms=tuple(self._turned_pair(arm, phi) for arm in schematic.arms),
            adjuster=self._adjuster(phi, contact),
        )

    def _turned_pair(self, pair: Segment, phi: float) -> Segment:
        return self._turned(pair[0], phi), self._turned(pair[1], phi)

    def _adjuster(self, phi: float, contact: float) -> Screw | Link | None:
        adjuster = self.scenario.adjuster
        if adjuster.kind is AdjusterKind.NONE:
            return None
        if adjuster.kind is AdjusterKind.LINK:
            assert adjuster.base_pin is not None
            assert adjuster.plate_pin is not None
            return Link(adjuster.base_pin, self._turned(adjuster.plate_pin, phi))
        return self._screw(phi, contact)

    def _screw(self, phi: float, contact: float) -> Screw:
        """The screw as set at ``contact``, the plate being at ``phi``."""
        schematic = self.schematic
        assert schematic.nut is not None
        assert schematic.face is not None
        in_plate = self.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE
        tip = self._tip(phi, contact)
        nut = self._turned(schematic.nut, phi) if in_plate else schematic.nut
        reach = math.dist(nut, tip)
        longest = max(self._reach(schematic.nut, angle) for angle in self.contacts)
        back = (longest + schematic.overhang) / reach
        head = (tip[0] + back * (nut[0] - tip[0]), tip[1] + back * (nut[1] - tip[1]))
        face = schematic.face if in_plate else self._turned_pair(schematic.face, phi)
        return Screw(head, nut, tip, face, touches=abs(phi - contact) < _SAME_ANGLE)

    def _tip(self, phi: float, contact: float) -> Vector:
        """The tip at the extension that has contact at ``contact``."""
        at = self.solved.mount.adjuster(contact)
        tip = float(at.at_x), float(at.at_y)
        in_plate = self.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE
        return self._turned(tip, phi - contact) if in_plate else tip

    def _reach(self, nut: Vector, contact: float) -> float:
        """From nut to tip at a setting."""
        in_plate = self.scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE
        at_nut = self._turned(nut, contact) if in_plate else nut
        return math.dist(at_nut, self._tip(contact, contact))
