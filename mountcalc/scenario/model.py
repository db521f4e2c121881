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

from mountcalc.handbook.belts.sections import Joint, Torque
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.driven import Driven
from mountcalc.scenario.forms import BOX, POLYGON, choice, number, several_of, whole
from mountcalc.scenario.hardware import GIVE, Giving
from mountcalc.scenario.keys import REQUIRED, Key, Without
from mountcalc.scenario.parts import Parts
from mountcalc.scenario.pulleys import FRICTION, ONE_SIZE, PULLEY_FACE, PULLEY_FORM, PulleyFace
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.scenario.workmanship import Workmanship

STIFFNESS_FACTOR = 2.0
"""How far off a belt's stiffness may be where nothing is said of it (estimate)."""

# Motor standards differ in the end they look from.
_SEEN = " (as seen facing the motor's pulley; a nameplate may mean the other end)"
_OF_SECTION = Without("by its section")
_LIMITLESS = Without("no limit")
_OF_JACK, _OF_LINK = Without("wanted of a jack"), Without("wanted of a link")


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

    name: Annotated[k.Name, "what pages call it", Without("keep-out 1 ...")]
    corners: Annotated[
        tuple[Vector, ...],
        Key("box", BOX, "from corner to corner"),
        Key("polygon", POLYGON, "in place of a box: its corners in order"),
        Without("the other of the two"),
    ]
    parts: Annotated[
        tuple[BarredPart, ...], several_of(BarredPart), "that may not be there", Without("all")
    ] = tuple(BarredPart)


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


class Motor(Record, kw_only=True):
    """The motor.

    ``reverses`` says that it runs both ways; ``rotation`` is then the one that is shown.
    ``weight_error`` is the share by which its weight and the plate's may be off.
    """

    shaft: Annotated[k.Point, REQUIRED, "its middle"]
    pulley_radius: Annotated[k.Distance, *PULLEY_FORM, ONE_SIZE]
    pulley_face: Annotated[PulleyFace, *PULLEY_FACE] = PulleyFace.GROOVED
    power: Annotated[k.MotorPower, REQUIRED, "rated"]
    speed: Annotated[k.Speed, REQUIRED, "under load, as its nameplate says"]
    rotation: Annotated[
        Rotation, choice(Turning, _SEEN), REQUIRED, "as seen facing the motor's pulley"
    ]
    torque: Annotated[Torque | None, choice(Torque), "of its starts", Without('"normal"')] = None
    phases: Annotated[int, whole(1, 3), "of the mains that it runs on"] = 1
    weight: Annotated[k.Weight, REQUIRED, "with its pulley"]
    weight_error: Annotated[k.ErrorShare, "share; the plate's, too"] = 0.1
    center_of_mass: Annotated[k.Point, "of the motor", Without("on its shaft")]
    traction: Annotated[k.Traction, *FRICTION]
    reverses: bool = False


class Belt(Record, kw_only=True):
    """``count`` equal belts; the numbers are those of one.

    ``stiffness`` [N] is the force per unit strain (EA), known to lie between
    ``stiffness / stiffness_factor`` and ``stiffness * stiffness_factor``. ``designation`` is None
    where the file gives a length; ``width`` and ``thickness`` where nothing is known of them.
    """

    designation: Annotated[
        k.BeltName | None, "what is printed on it", Without("section and length")
    ] = None
    section: Annotated[
        k.Name | None, "with a length, in place of a designation", Without("by its designation")
    ]
    drive: Annotated[Drive, choice(Drive), "how it runs: no other is computed"] = Drive.OPEN
    count: Annotated[k.Count, "how many, all alike"] = 1
    length: Annotated[k.Distance, "PITCH length when free", Without("by its designation")]
    joint: Annotated[Joint, choice(Joint), "how its ends meet"] = Joint.ENDLESS
    width: Annotated[k.Distance | None, "of its top", _OF_SECTION] = None
    thickness: Annotated[k.Distance | None, "from its top to its bottom", _OF_SECTION] = None
    stiffness: Annotated[k.Stiffness, "force that would stretch it to double length", _OF_SECTION]
    stiffness_factor: Annotated[
        k.Uncertainty, "how far off that may be, either way", Without(f"{STIFFNESS_FACTOR:g}")
    ]
    mass: Annotated[k.MassPerLength, "of a length of it", _OF_SECTION]
    traction: Annotated[k.Traction | None, "where a pulley says nothing else", _OF_SECTION] = None


class Plate(Record):
    """The hinged plate: ``hinge`` [m], ``travel`` [rad] from as drawn, ``weight`` [N]."""

    hinge: Annotated[k.Point, REQUIRED, "its pin"]
    travel: Annotated[k.Travel, REQUIRED, "from as drawn, between its stops"]
    weight: Annotated[k.Weight, "without the motor", Without("none")]
    center_of_mass: Annotated[k.Point, "of the plate alone", Without("at the hinge")]


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
    ``spring`` [N/m] is force over give of all that gives between bolt and plate, or how that is
    found, rigid where it is None; ``coil`` is a spring put there on purpose, in series with it.
    """

    kind: Annotated[AdjusterKind, choice(AdjusterKind), REQUIRED, "what opens the hinge"]
    acts: Annotated[
        Acts | None,
        choice(Acts),
        "the force that it can carry",
        Without('"both" of a link, else "push"'),
    ] = None
    thread: Annotated[k.ThreadName | None, "of bolt or link", Without("advance_per_turn")] = None
    advance_per_turn: Annotated[
        k.Distance | None, "what one turn moves", Without("the thread's pitch")
    ] = None
    tip: Annotated[k.Point | None, "where it bears as drawn", _OF_JACK] = None
    axis: Annotated[k.Direction | None, "the way the tip moves as it extends", _OF_JACK] = None
    face: Annotated[k.Direction | None, "a direction along what it bears on", _OF_JACK] = None
    base_pin: Annotated[k.Point | None, "in what stands still", _OF_LINK] = None
    plate_pin: Annotated[k.Point | None, "in the plate as drawn", _OF_LINK] = None
    spring: Annotated[
        float | Giving | None,
        GIVE,
        Key("stiffness"),
        "force over give of plate, adjuster and what it bears on",
        Without("rigid"),
    ] = None
    coil: Coil | None = None
    across: Annotated[
        k.Position | None,
        "from the middle of the plate's width, positive towards the motor's pulley",
        Without("0"),
    ] = None
    zero_turns: Annotated[
        float | None, number(-100, 100), "zero, on your count of turns", Without("0")
    ] = None
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
        return self.spring not in {None, Giving.RIGID} or self.coil is not None


class Limits(Record):
    """What a setting must keep; ``adjuster`` and ``hinge`` are the most these parts may carry.

    ``starting_grip`` is in units of the starting pull, None where the belt may slip as it starts.
    """

    grip: Annotated[k.Factor, "wanted running, 1 is about to slip"] = 1.3
    starting_grip: Annotated[
        k.Factor | None, "wanted at the start, in units of that pull", Without("it may slip")
    ] = None
    bedding: Annotated[k.SmallFactor, "tension of a new belt over a bedded one's"] = 1.3
    turn_error: Annotated[k.TurnError, "turns by which a hand misses"] = 0.125
    adjuster: Annotated[k.LoadLimit | None, "the most it may carry", _LIMITLESS] = None
    hinge: Annotated[k.LoadLimit | None, "the most it may carry", _LIMITLESS] = None
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

    rotation: Annotated[k.Flag, "whether the motor may turn the other way"] = False
    loads: Annotated[k.Flag, "whether loads on the shaft may be made lighter"] = False


class Scenario(Record):
    """One mount with its drive, as read from a scenario file.

    ``notes`` are sentences about defaults that were taken and how uncertain they are, and
    about values that look wrong but are possible. ``keep_outs`` is ground that the search for a
    layout clears, and that drawings show. ``given`` has the tables of the file, as they were read.
    """

    title: Annotated[k.Name, "what pages are headed with", Without("the file's name")]
    display: Annotated[Display, choice(Display), "units of what you read", Without('"metric"')]
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
