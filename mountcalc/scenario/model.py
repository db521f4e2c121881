"""The scenario as the rest of the program sees it: immutable, checked, SI units.

Frame of the drawing: one plane, square to the shafts, seen facing the motor's
pulley; x to the right, y up, gravity along -y, angles counter-clockwise from +x. All
points are *as drawn*, that is at plate angle 0.
"""

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from importlib import import_module
from typing import Annotated, Any, Self

from mountcalc.handbook.belts.sections import Joint, Shock, Torque
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.keys import REQUIRED, Key, choice
from mountcalc.scenario.parts import Parts
from mountcalc.scenario.pulleys import PULLEY_KEYS, PulleyFace
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.scenario.workmanship import Workmanship

# Motor standards differ in the end they look from.
_SEEN = " (as seen facing the motor's pulley; a nameplate may mean the other end)"
_PULLEY = tuple(map(Key, PULLEY_KEYS))
_ALONG = "along the shaft, as the bearings"
_FRICTION = "friction on this pulley, wedging included"
_RUNS_ON = "what the belt runs on"


class BarredPart(StrEnum):
    """A part of the mount that a keep-out may bar; room for the wrench goes with the bolt."""

    PLATE = "plate"
    MOTOR = "motor"
    BOLT = "bolt"
    BELT = "belt"


class KeepOut(Record):
    """Ground that ``parts`` of the mount must clear.

    ``corners`` [m] are those of a simple polygon, in order.
    """

    name: k.Name
    corners: Annotated[tuple[Vector, ...], Key("box", k.BOX), Key("polygon", k.POLYGON)]
    parts: Annotated[tuple[BarredPart, ...], k.several_of(BarredPart)] = tuple(BarredPart)


class Rotation(StrEnum):
    """Rotation of the motor's pulley, seen facing that pulley."""

    CCW = "ccw"
    CW = "cw"


class Turning(StrEnum):
    """How the motor turns, as a file says it."""

    CCW = "ccw"
    CW = "cw"
    BOTH = "both"


class Drive(StrEnum):
    """The drives that are computed."""

    OPEN = "open"


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


class Bearing(Record):
    """A plain bearing of the driven shaft; what is not said of its box is None.

    ``limit`` [N] holds at rest and running, ``starting_limit`` [N] at the start;
    ``limit_given_as_pressure`` says how the user thinks of both. ``service`` is a row of the
    published pressure ranges.
    """

    name: k.Name
    position: Annotated[k.Position, REQUIRED, "of its middle"]
    journal_diameter: Annotated[k.Distance, REQUIRED]
    length: Annotated[k.Distance, REQUIRED]
    limit: Annotated[k.BearingLoad, REQUIRED]
    starting_limit: k.BearingLoad
    limit_given_as_pressure: bool
    clearance: Annotated[k.Clearance | None, "the bore's diameter less the journal's"] = None
    cap_direction: Annotated[k.Direction | None, "from the shaft"] = None
    cap_dowelled: k.Flag = False
    groove_direction: k.Direction | None = None
    service: k.Service | None = None

    @property
    def projected_area(self) -> float:
        """Journal diameter times length [m^2]."""
        return self.journal_diameter * self.length


class ShaftLoad(Record):
    """A weight or working load on the driven shaft: ``force`` [N] along the unit ``direction``.

    ``position`` [m] is along the shaft; a load that is ``on`` the pulley is where that is.
    """

    name: k.Name
    position: k.Position
    force: Annotated[k.Force, REQUIRED]
    direction: Annotated[Vector, k.DIRECTION, REQUIRED]
    when: Annotated[When, choice(When)] = When.ALWAYS
    on: Annotated[LoadPlace | None, choice(LoadPlace), "it moves with that"] = None


IDLE_SHARE = 0.01
"""A machine that asks for less of the motor's rating idles: about what a belt and its bearings take
by themselves (our own choice)."""


class Driven(Record, kw_only=True):
    """The machine's shaft; optional fields are None where the user does not say."""

    shaft: Annotated[k.Point, REQUIRED]
    pulley_radius: Annotated[k.Distance, *_PULLEY]
    pulley_face: Annotated[PulleyFace, choice(PulleyFace), _RUNS_ON] = PulleyFace.GROOVED
    pulley_position: Annotated[k.Position, REQUIRED, _ALONG]
    power: Annotated[k.Power, "what the machine takes"]
    starting_factor: Annotated[k.Factor, "torque at the start over running"]
    max_speed: k.Speed | None
    traction: Annotated[k.Traction, _FRICTION]
    shock: Annotated[Shock | None, choice(Shock), "how evenly it loads the belt"] = None
    service_factor: k.SmallFactor | None = None
    shaft_diameter: Annotated[k.Distance | None, "between and beyond the journals"] = None
    oil: Annotated[k.OilText | None, "in the bearings"] = None
    bearings: tuple[Bearing, Bearing]
    loads: tuple[ShaftLoad, ...]


class Motor(Record, kw_only=True):
    """The motor.

    ``reverses`` says that it runs both ways; ``rotation`` is then the one that is shown.
    ``weight_error`` is the share by which its weight and the plate's may be off.
    """

    shaft: Annotated[k.Point, REQUIRED]
    pulley_radius: Annotated[k.Distance, *_PULLEY]
    pulley_face: Annotated[PulleyFace, choice(PulleyFace), _RUNS_ON] = PulleyFace.GROOVED
    power: Annotated[k.MotorPower, REQUIRED, "rated"]
    speed: Annotated[k.Speed, REQUIRED]
    rotation: Annotated[
        Rotation, choice(Turning, _SEEN), REQUIRED, "as seen facing the motor's pulley"
    ]
    torque: Annotated[Torque | None, choice(Torque), "of its starts"] = None
    phases: Annotated[int, k.whole(1, 3), "of the mains that it runs on"] = 1
    weight: Annotated[k.Weight, REQUIRED]
    weight_error: Annotated[k.ErrorShare, "share; the plate's, too"] = 0.1
    center_of_mass: k.Point
    traction: Annotated[k.Traction, _FRICTION]
    reverses: bool = False


class Belt(Record, kw_only=True):
    """``count`` equal belts; the numbers are those of one.

    ``stiffness`` [N] is the force per unit strain (EA), known to lie between
    ``stiffness / stiffness_factor`` and ``stiffness * stiffness_factor``. ``designation`` is None
    where the file gives a length; ``width`` and ``thickness`` where nothing is known of them.
    """

    designation: k.BeltName | None = None
    section: k.Name | None
    drive: Annotated[Drive, choice(Drive)] = Drive.OPEN
    count: k.Count = 1
    length: Annotated[k.Distance, "PITCH length when free"]
    joint: Annotated[Joint, choice(Joint)] = Joint.ENDLESS
    width: k.Distance | None = None
    thickness: k.Distance | None = None
    stiffness: k.Stiffness
    stiffness_factor: Annotated[k.Uncertainty, "how far off that may be, either way"]
    mass: k.MassPerLength
    traction: Annotated[k.Traction | None, "where a pulley says nothing else"] = None


class Plate(Record):
    """The hinged plate: ``hinge`` [m], ``travel`` [rad] from as drawn, ``weight`` [N]."""

    hinge: Annotated[k.Point, REQUIRED]
    travel: Annotated[k.Travel, REQUIRED, "from as drawn, between its stops"]
    weight: k.Weight
    center_of_mass: k.Point


class Bolt(Record):
    """One of two equal bolts that are turned together."""

    across: Annotated[k.Position, REQUIRED, "as adjuster.across"]


class Coil(Record):
    """A coil spring between the adjuster and what it moves, pressed as the adjuster bears.

    ``rate`` [N/m] is force over travel; past the travel ``stop`` [m] it is solid, and the adjuster
    as stiff as without it. ``free_length`` [m] is that under no load.
    """

    rate: Annotated[k.Rate, REQUIRED, "force over travel, of all its springs together"]
    free_length: Annotated[k.Distance, REQUIRED, "under no load"]
    stop: Annotated[k.Distance, REQUIRED, "travel after which it is solid"]
    # What is bought is within a tenth; a rule read to half a millimetre (estimates).
    rate_error: Annotated[k.ErrorShare, "share by which the rate may be off"] = 0.1
    length_error: Annotated[k.Distance, "of one reading of its length"] = 0.5e-3


class Adjuster(Record):
    """What opens the hinge; what a kind does not use is None.

    ``across`` is along the hinge's line, towards the end of the motor's shaft that has the pulley;
    of two ``bolts`` their middle.
    ``zero_turns`` [-] is where a person's own count of turns has the zero of this mount.
    ``spring`` [N/m] is force over give of all that gives between bolt and plate, None where that is
    taken as rigid; ``coil`` is a spring that is put there on purpose, in series with it.
    """

    kind: Annotated[AdjusterKind, choice(AdjusterKind), REQUIRED]
    acts: Annotated[Acts | None, choice(Acts), "the force that it can carry"] = None
    thread: k.ThreadName | None = None
    advance_per_turn: Annotated[k.Distance | None, "what one turn moves"] = None
    tip: Annotated[k.Point | None, "where it bears as drawn"] = None
    axis: Annotated[k.Direction | None, "the way the tip moves as it extends"] = None
    face: Annotated[k.Direction | None, "a direction along what it bears on"] = None
    base_pin: k.Point | None = None
    plate_pin: Annotated[k.Point | None, "as drawn"] = None
    spring: Annotated[
        k.Rate | None, Key("stiffness"), "force over give of plate, adjuster and what it bears on"
    ] = None
    coil: Coil | None = None
    across: Annotated[
        k.Position | None,
        "from the middle of the plate's width, positive towards the motor's pulley",
    ] = None
    zero_turns: Annotated[float | None, k.number(-100, 100), "zero, on your count of turns"] = None
    bolts: tuple[Bolt, ...] = ()

    @property
    def places(self) -> tuple[float, ...]:
        """Where each bolt stands across [m]; without an adjuster none."""
        if self.kind is AdjusterKind.NONE:
            return ()
        return tuple(one.across for one in self.bolts) or (self.across or 0.0,)

    @property
    def gives(self) -> bool:
        """Whether anything between bolt and plate is taken to give."""
        return self.spring is not None or self.coil is not None


class Limits(Record):
    """What a setting must keep; ``adjuster`` and ``hinge`` are the most these parts may carry.

    ``starting_grip`` is in units of the starting pull, None where the belt may slip as it starts.
    """

    grip: Annotated[k.Factor, "wanted running, 1 is about to slip"] = 1.3
    starting_grip: k.Factor | None = None
    bedding: Annotated[k.SmallFactor, "tension of a new belt over a bedded one's"] = 1.3
    turn_error: Annotated[k.TurnError, "turns by which a hand misses"] = 0.125
    adjuster: k.LoadLimit | None = None
    hinge: k.LoadLimit | None = None
    # Half a pound-force, half a mark of a shop's balance (common practice).
    balance_error: Annotated[k.LoadLimit, "of one reading of a spring balance"] = (
        0.5 * 4.4482216152605
    )
    # A deflection read to a tenth of itself; swings counted to 3 %, and half of what a belt's mass
    # to a tenth leaves open (estimates).
    push_error: Annotated[k.ErrorShare, "share, of a push on a strand"] = 0.1
    hum_error: Annotated[k.ErrorShare, "share, of a plucked strand's swings"] = 0.08


class MayChange(Record):
    """What the user would let a remedy change besides buying parts."""

    rotation: k.Flag = False
    loads: k.Flag = False


class Scenario(Record):
    """One mount with its drive, as read from a scenario file.

    ``notes`` are sentences about defaults that were taken and how uncertain they are, and
    about values that look wrong but are possible. ``keep_outs`` is ground that the search for a
    layout clears, and that drawings show. ``given`` has the tables of the file, as they were read.
    """

    title: k.Name
    display: Annotated[Display, choice(Display), "units of what you read"]
    driven: Driven
    motor: Motor
    belt: Belt
    plate: Plate
    adjuster: Adjuster
    limits: Limits = Limits()
    may_change: MayChange = MayChange()
    build: Workmanship = Workmanship()
    parts: Parts = field(default_factory=Parts)
    keep_outs: tuple[KeepOut, ...] = ()
    notes: tuple[str, ...] = ()
    source: str = ""
    given: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)

    def with_(self, **tables: Any) -> Self:  # noqa: ANN401  # what a file may have
        """Return the scenario with other keys, checked as from a file.

        Defaults are taken and notes are made anew. Of keys that say the same in two ways, such as
        the sizes of a pulley or ``designation`` and ``length`` of the belt, the one that is put in
        takes the other out.

        Parameters
        ----------
        **tables : dict, list of dict or value
            By the name of the table, or of a key outside of tables: what changes in it, key by key.
            A number for a quantity is in SI, a text has its unit; None takes a key or table away. A
            list of tables that is as long as the one there changes these one by one ({} leaves one
            as it is), else it takes their place.

        Returns
        -------
        Scenario

        Raises
        ------
        ScenarioError
            All that is wrong with it, by key.

        Examples
        --------
        >>> mill = read_scenario("scenarios/cider-mill.toml")
        >>> wider = mill.with_(plate={"travel": ["-10 deg", "10 deg"]}, belt={"stiffness": 50e3})
        >>> wider.belt.stiffness
        50000.0
        >>> mill.with_(belt={"stiffness": 0.0})  # doctest: +ELLIPSIS
        Traceback (most recent call last):
        mountcalc.errors.ScenarioError: scenarios/cider-mill.toml: belt.stiffness: force above ...
        """
        scenario: Self = import_module("mountcalc.scenario.writer").changed(self, tables)
        return scenario

    def to_toml(self) -> str:
        """Return the scenario as the text of a file, every value explicit.

        Returns
        -------
        str
            TOML; reading it gives the same scenario.

        Examples
        --------
        >>> mill = read_scenario("scenarios/cider-mill.toml")
        >>> parse_scenario(mill.to_toml()).belt == mill.belt
        True
        """
        text: str = import_module("mountcalc.scenario.writer").scenario_text(self)
        return text
