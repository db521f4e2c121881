"""The scenario as the rest of the program sees it: immutable, checked, SI units.

Frame of the drawing: one plane, square to the shafts, seen facing the motor's
pulley; x to the right, y up, gravity along -y, angles counter-clockwise from +x. All
points are *as drawn*, that is at plate angle 0.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from mountcalc.handbook.belts.ratings import Shock, Torque
from mountcalc.handbook.belts.sections import Joint
from mountcalc.scenario.parts import Parts

__all__ = [
    "Acts",
    "Adjuster",
    "AdjusterKind",
    "BarredPart",
    "Bearing",
    "Belt",
    "Display",
    "Driven",
    "KeepOut",
    "Limits",
    "LoadPlace",
    "MayChange",
    "Motor",
    "Oil",
    "Plate",
    "PulleyFace",
    "Rotation",
    "Scenario",
    "ShaftLoad",
    "Thread",
    "Vector",
    "When",
]


class BarredPart(StrEnum):
    """A part of the mount that a keep-out may bar; room for the wrench goes with the bolt."""

    PLATE = "plate"
    MOTOR = "motor"
    BOLT = "bolt"
    BELT = "belt"


@dataclass(frozen=True, slots=True)
class KeepOut:
    """Ground that ``parts`` of the mount must clear.

    ``corners`` [m] are those of a simple polygon, in order.
    """

    name: str
    corners: tuple[tuple[float, float], ...]
    parts: tuple[BarredPart, ...] = tuple(BarredPart)


Vector = tuple[float, float]


class Display(StrEnum):
    """Units of what people read; JSON and CSV are not touched by it."""

    INCH = "inch"
    METRIC = "metric"


class Rotation(StrEnum):
    """Rotation of the motor's pulley, seen facing that pulley."""

    CCW = "ccw"
    CW = "cw"


class When(StrEnum):
    """When a load is on the driven shaft; "running" holds for starting too."""

    ALWAYS = "always"
    RUNNING = "running"


class LoadPlace(StrEnum):
    """What a load of the driven shaft sits on, where that has a place of its own."""

    PULLEY = "pulley"


class AdjusterKind(StrEnum):
    """What opens the hinge."""

    JACK_IN_BASE = "jack-in-base"
    JACK_IN_PLATE = "jack-in-plate"
    LINK = "link"
    NONE = "none"


class Acts(StrEnum):
    """Which axial force the adjuster can carry: compression, tension or either."""

    PUSH = "push"
    PULL = "pull"
    BOTH = "both"


class PulleyFace(StrEnum):
    """What the belt runs on."""

    GROOVED = "grooved"
    FLAT = "flat"


@dataclass(frozen=True, slots=True)
class Bearing:
    """A plain bearing of the driven shaft.

    ``position`` [m] is along the shaft from any origin; ``limit`` [N] holds at rest and
    running, ``starting_limit`` [N] at the start. ``limit_given_as_pressure`` says how the
    user thinks of it. What is known of the box itself is None where the user does not say:
    ``clearance`` [m] diametral, ``cap_direction`` and ``groove_direction`` [rad] from the shaft,
    ``service`` a row of the published pressure ranges.
    """

    name: str
    position: float
    journal_diameter: float
    length: float
    limit: float
    starting_limit: float
    limit_given_as_pressure: bool
    clearance: float | None = None
    cap_direction: float | None = None
    cap_dowelled: bool = False
    groove_direction: float | None = None
    service: str | None = None

    @property
    def projected_area(self) -> float:
        """Journal diameter times length [m^2]."""
        return self.journal_diameter * self.length


@dataclass(frozen=True, slots=True)
class ShaftLoad:
    """A weight or working load on the driven shaft: ``force`` [N] along the unit ``direction``.

    ``position`` [m] is along the shaft; a load that is ``on`` the pulley is where that is.
    """

    name: str
    position: float
    force: float
    direction: Vector
    when: When
    on: LoadPlace | None = None


@dataclass(frozen=True, slots=True)
class Oil:
    """Oil of the bearings: ISO viscosity grade [mm^2/s at 40 degC] and temperature [K]."""

    grade: float
    temperature: float


IDLE_SHARE = 0.01
"""A machine that asks for less of the motor's rating idles: about what a belt and its bearings take
by themselves (our own choice)."""


@dataclass(frozen=True, slots=True)
class Driven:
    """The machine's shaft: points [m], pitch radius [m], power [W], speeds [rad/s].

    ``shaft_diameter`` [m] (between and beyond the journals), ``oil``, ``shock`` (how evenly the
    machine loads the belt) and ``service_factor`` [-] are None where the user does not say.
    """

    shaft: Vector
    pulley_radius: float
    pulley_position: float
    power: float
    starting_factor: float
    max_speed: float | None
    traction: float
    bearings: tuple[Bearing, Bearing]
    loads: tuple[ShaftLoad, ...]
    shaft_diameter: float | None = None
    oil: Oil | None = None
    pulley_face: PulleyFace = PulleyFace.GROOVED
    shock: Shock | None = None
    service_factor: float | None = None


@dataclass(frozen=True, slots=True)
class Motor:
    """The motor: points [m], pitch radius [m], rated power [W], speed [rad/s], weight [N].

    ``reverses`` says that it runs both ways; ``rotation`` is then the one that is shown.
    ``torque`` is that of its starts, None where the user does not say. ``weight_error`` is the
    share by which its weight and the plate's may be off.
    """

    shaft: Vector
    pulley_radius: float
    power: float
    speed: float
    rotation: Rotation
    weight: float
    center_of_mass: Vector
    traction: float
    reverses: bool = False
    pulley_face: PulleyFace = PulleyFace.GROOVED
    torque: Torque | None = None
    weight_error: float = 0.1


@dataclass(frozen=True, slots=True)
class Belt:
    """``count`` equal belts.

    ``length`` [m] is the free pitch length of one, ``stiffness`` [N] its force per unit
    strain (EA), ``mass`` [kg/m]; the stiffness is known to lie between
    ``stiffness / stiffness_factor`` and ``stiffness * stiffness_factor``. ``designation`` is None
    where the file gives a length; ``width`` and ``thickness`` [m] where nothing is known of them.
    """

    section: str | None
    count: int
    length: float
    stiffness: float
    stiffness_factor: float
    mass: float
    designation: str | None = None
    joint: Joint = Joint.ENDLESS
    width: float | None = None
    thickness: float | None = None


@dataclass(frozen=True, slots=True)
class Plate:
    """The hinged plate: ``hinge`` [m], ``travel`` [rad] from as drawn, ``weight`` [N]."""

    hinge: Vector
    travel: tuple[float, float]
    weight: float
    center_of_mass: Vector


@dataclass(frozen=True, slots=True)
class Thread:
    """A screw thread: designation as written, ``pitch`` [m], right-handed or left-handed."""

    name: str
    pitch: float
    right_handed: bool


@dataclass(frozen=True, slots=True)
class Adjuster:
    """What opens the hinge.

    For the jacks ``tip`` [m] is where the tip bears as drawn, ``axis`` [rad] the way the tip
    moves as the screw extends and ``face`` [rad] a direction along the face it bears on. For
    the link ``base_pin`` and ``plate_pin`` [m]. What a kind does not use is None. ``across`` [m]
    is how far it stands from the middle of the plate's width along the hinge's line, positive
    towards the end of the motor's shaft that has the pulley; None where the user does not say.
    ``advance_per_turn`` [m]; ``spring`` [N/m] is the stiffness of a spring between adjuster and
    plate, None where the adjuster bears on the plate itself.
    """

    kind: AdjusterKind
    acts: Acts | None = None
    thread: Thread | None = None
    advance_per_turn: float | None = None
    tip: Vector | None = None
    axis: float | None = None
    face: float | None = None
    base_pin: Vector | None = None
    plate_pin: Vector | None = None
    spring: float | None = None
    across: float | None = None


@dataclass(frozen=True, slots=True)
class Limits:
    """What a setting must keep.

    ``grip`` [-] is wanted running; ``starting_grip`` [-] as the belt starts, in units of the
    starting pull, None where it may slip then. ``bedding`` [-] is the tension of a new belt over
    that of one that has bedded in. ``turn_error`` [-] is how far a hand and a lock nut miss;
    ``balance_error`` [N] how far one reading of a spring balance is off, ``push_error`` and
    ``hum_error`` the share by which a push on a strand and the swings of a plucked one are.
    ``adjuster`` and ``hinge`` [N] are the most these parts may carry, None where not said.
    """

    grip: float = 1.3
    starting_grip: float | None = None
    bedding: float = 1.3
    turn_error: float = 0.125
    adjuster: float | None = None
    hinge: float | None = None
    # Half a pound-force, half a mark of a shop's balance (common practice).
    balance_error: float = 0.5 * 4.4482216152605
    # A deflection read to a tenth of itself; swings counted to 3 %, and half of what a belt's mass
    # to a tenth leaves open (estimates).
    push_error: float = 0.1
    hum_error: float = 0.08


@dataclass(frozen=True, slots=True)
class MayChange:
    """What the user would let a remedy change besides buying parts."""

    rotation: bool = False
    loads: bool = False


@dataclass(frozen=True, slots=True)
class Scenario:
    """One mount with its drive, as read from a scenario file.

    ``notes`` are sentences about defaults that were taken and how uncertain they are, and
    about values that look wrong but are possible. ``keep_outs`` is ground that the search for a
    layout clears, and that drawings show.
    """

    title: str
    display: Display
    driven: Driven
    motor: Motor
    belt: Belt
    plate: Plate
    adjuster: Adjuster
    limits: Limits = Limits()
    may_change: MayChange = MayChange()
    parts: Parts = field(default_factory=Parts)
    keep_outs: tuple[KeepOut, ...] = ()
    notes: tuple[str, ...] = ()
    source: str = ""
