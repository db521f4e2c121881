"""The tables and keys of a scenario file, as the validation library checks them.

Every key's type says how its value is read; rules between keys are in `checks`.
"""

from __future__ import annotations

from enum import StrEnum
from functools import partial
from typing import Annotated, TypeAlias

from pydantic import Field, PlainValidator

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.ratings import Shock, Torque
from mountcalc.handbook.belts.sections import Joint
from mountcalc.scenario.file.keys import Direction, Distance, Name, Position, Table, Wanted
from mountcalc.scenario.file.keys import choice as _choice
from mountcalc.scenario.file.keys import number as _number
from mountcalc.scenario.file.keys import one_of as _one_of
from mountcalc.scenario.file.keys import quantity as _quantity
from mountcalc.scenario.file.schema_parts import (
    BaseTable,
    BoardLength,
    BoardThickness,
    Frame,
    GuardTable,
    HingeTable,
    PulleyWidth,
)
from mountcalc.scenario.file.schema_search import KeepOutTable, SearchTable
from mountcalc.scenario.model import (
    Acts,
    AdjusterKind,
    Display,
    LoadPlace,
    Oil,
    PulleyFace,
    Thread,
    Vector,
    When,
)
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text import values as v
from mountcalc.scenario.text.named import WANTED_OIL, read_oil, read_service, wanted_limit
from mountcalc.scenario.text.threads import WANTED_THREAD, read_thread

__all__ = [
    "AdjusterTable",
    "BearingTable",
    "BeltTable",
    "Drive",
    "DrivenTable",
    "LimitsTable",
    "LoadTable",
    "MayChangeTable",
    "MotorTable",
    "PlateTable",
    "ScenarioTable",
    "Table",
    "Turning",
    "Wanted",
]


# Motor standards differ in the end they look from.
_SEEN = " (as seen facing the motor's pulley; a nameplate may mean the other end)"


class Drive(StrEnum):
    """The drives that are computed."""

    OPEN = "open"


class Turning(StrEnum):
    """How the motor turns."""

    CCW = "ccw"
    CW = "cw"
    BOTH = "both"


_load, _load_wanted = _quantity(q.LOAD)
_stiffness, _ = _quantity(q.STIFFNESS)
_mass, _ = _quantity(q.MASS_PER_LENGTH)
_power, _power_wanted = _quantity(q.POWER)
_speed, _speed_wanted = _quantity(q.ROTATION_SPEED)

Load: TypeAlias = Annotated[float, _load, _load_wanted]
LoadLimit: TypeAlias = Annotated[float, _quantity(q.LOAD_LIMIT)[0]]
Clearance: TypeAlias = Annotated[float, _quantity(q.CLEARANCE)[0]]
Stiffness: TypeAlias = Annotated[float, _stiffness]
MassPerLength: TypeAlias = Annotated[float, _mass]
Power: TypeAlias = Annotated[float, _power, _power_wanted]
MotorPower: TypeAlias = Annotated[float, _quantity(q.MOTOR_POWER)[0], _power_wanted]
Speed: TypeAlias = Annotated[float, _speed, _speed_wanted]
Limit: TypeAlias = Annotated[v.BearingLimit, PlainValidator(v.read_limit), Wanted(wanted_limit)]
Point: TypeAlias = Annotated[
    Vector, PlainValidator(v.read_point), Wanted('point wanted (such as ["-20 in", "-4 in"])')
]
Travel: TypeAlias = Annotated[
    Vector, PlainValidator(v.read_travel), Wanted('travel wanted (such as ["-12 deg", "12 deg"])')
]
Traction: TypeAlias = Annotated[float, _number(0, 5, above=True)]
Factor: TypeAlias = Annotated[float, _number(0, 20, above=True)]
Uncertainty: TypeAlias = Annotated[float, _number(1, 20)]
ServiceFactor: TypeAlias = Annotated[float, _number(1, 3)]
Bedding: TypeAlias = Annotated[float, _number(1, 3)]
TurnError: TypeAlias = Annotated[float, _number(0, 10)]
ErrorShare: TypeAlias = Annotated[float, _number(0, 0.5)]
Flag: TypeAlias = Annotated[bool, PlainValidator(v.read_flag)]
Service: TypeAlias = Annotated[str, PlainValidator(read_service)]
OilText: TypeAlias = Annotated[Oil, PlainValidator(read_oil), Wanted(WANTED_OIL)]
Count: TypeAlias = Annotated[int, PlainValidator(partial(v.read_count, most=20))]
BeltName: TypeAlias = Annotated[Designation, PlainValidator(v.read_belt)]
ThreadName: TypeAlias = Annotated[Thread, PlainValidator(read_thread), Wanted(WANTED_THREAD)]


class BearingTable(Table):
    """``[[driven.bearing]]``."""

    name: Name | None = None
    position: Position
    journal_diameter: Distance
    length: Distance
    limit: Limit
    starting_limit: Limit | None = None
    clearance: Clearance | None = None
    cap_direction: Direction | None = None
    cap_dowelled: Flag = False
    groove_direction: Direction | None = None
    service: Service | None = None


class LoadTable(Table):
    """``[[driven.load]]``."""

    name: Name | None = None
    position: Position | None = None
    on: Annotated[LoadPlace, _choice(LoadPlace)] | None = None
    force: Load
    direction: Direction
    when: Annotated[When, _choice(When)] = When.ALWAYS


class PulleyTable(Table):
    """The keys of a pulley: one size of several, and what the belt runs on."""

    pulley_diameter: Distance | None = None
    pulley_datum_diameter: Distance | None = None
    pulley_outside_diameter: Distance | None = None
    pulley_rim_diameter: Distance | None = None
    pulley_outside_circumference: Distance | None = None
    pulley_rim_circumference: Distance | None = None
    pulley_face: Annotated[PulleyFace, _choice(PulleyFace)] | None = None
    pulley_width: PulleyWidth | None = None


class DrivenTable(PulleyTable):
    """``[driven]``."""

    shaft: Point
    pulley_position: Position
    power: Power | None = None
    starting_factor: Factor | None = None
    max_speed: Speed | None = None
    traction: Traction | None = None
    shaft_diameter: Distance | None = None
    oil: OilText | None = None
    shock: Annotated[Shock, _choice(Shock)] | None = None
    service_factor: ServiceFactor | None = None
    shaft_end: Position | None = None
    bearing: list[BearingTable]
    load: list[LoadTable] = Field(default_factory=list)


class MotorTable(PulleyTable):
    """``[motor]``."""

    shaft: Point
    power: MotorPower
    speed: Speed
    rotation: Annotated[Turning, _choice(Turning, _SEEN), _one_of(Turning, _SEEN)]
    weight: Load
    weight_error: ErrorShare = 0.1
    center_of_mass: Point | None = None
    traction: Traction | None = None
    torque: Annotated[Torque, _choice(Torque)] | None = None
    frame: Frame | None = None
    packing: BoardThickness | None = None
    pulley_position: Position | None = None
    face_position: Position | None = None


class BeltTable(Table):
    """``[belt]``."""

    designation: BeltName | None = None
    section: Name | None = None
    drive: Annotated[Drive, _choice(Drive)] = Drive.OPEN
    count: Count = 1
    length: Distance | None = None
    joint: Annotated[Joint, _choice(Joint)] = Joint.ENDLESS
    width: Distance | None = None
    thickness: Distance | None = None
    stiffness: Stiffness | None = None
    stiffness_factor: Uncertainty | None = None
    mass: MassPerLength | None = None
    traction: Traction | None = None


class PlateTable(Table):
    """``[plate]``."""

    hinge: Point
    travel: Travel
    weight: Load | None = None
    center_of_mass: Point | None = None
    length: BoardLength | None = None
    width: BoardLength | None = None
    thickness: BoardThickness | None = None
    layers: Count | None = None
    material: Name | None = None
    direction: Direction | None = None


class AdjusterTable(Table):
    """``[adjuster]``; which keys go with which kind is a rule of `checks`."""

    kind: Annotated[AdjusterKind, _choice(AdjusterKind), _one_of(AdjusterKind)]
    acts: Annotated[Acts, _choice(Acts)] | None = None
    thread: ThreadName | None = None
    advance_per_turn: Distance | None = None
    tip: Point | None = None
    axis: Direction | None = None
    face: Direction | None = None
    base_pin: Point | None = None
    plate_pin: Point | None = None
    across: Position | None = None


class LimitsTable(Table):
    """``[limits]``; what is left out has the default of the model."""

    grip: Factor | None = None
    starting_grip: Factor | None = None
    bedding: Bedding | None = None
    turn_error: TurnError | None = None
    adjuster: LoadLimit | None = None
    hinge: LoadLimit | None = None
    balance_error: LoadLimit | None = None
    push_error: ErrorShare | None = None
    hum_error: ErrorShare | None = None


class MayChangeTable(Table):
    """``[may_change]``."""

    rotation: Flag = False
    loads: Flag = False


class ScenarioTable(Table):
    """The whole file."""

    title: Name | None = None
    display: Annotated[Display, _choice(Display)] = Display.METRIC
    driven: DrivenTable
    motor: MotorTable
    belt: BeltTable
    plate: PlateTable
    adjuster: AdjusterTable
    limits: LimitsTable | None = None
    may_change: MayChangeTable | None = None
    hinge: HingeTable | None = None
    guard: GuardTable | None = None
    base: BaseTable | None = None
    search: SearchTable | None = None
    keep_out: list[KeepOutTable] = Field(default_factory=list)
