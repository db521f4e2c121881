"""The machine's shaft with its pulley, bearings and loads, as a scenario has them."""

from enum import StrEnum
from typing import Annotated

from mountcalc.handbook.belts.sections import Shock
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.forms import DIRECTION, choice
from mountcalc.scenario.keys import REQUIRED, Without
from mountcalc.scenario.pulleys import FRICTION, ONE_SIZE, PULLEY_FACE, PULLEY_FORM, PulleyFace
from mountcalc.scenario.text.writing import Vector

IDLE_SHARE = 0.01
"""A machine that asks for less of the motor's rating idles: about what a belt and its bearings take
by themselves (our own choice)."""
STARTING_FACTOR = 2.0
"""Where nothing is said of the start (an estimate; usual ones stand in the cider mill's file)."""
STARTING_OVER_RUNNING_LIMIT = 2.0
"""Of a bearing (MPTA 401, for starting and occasional peaks)."""
_TWICE = Without("twice the limit")
_NOT_JUDGED = Without("not judged")
_NO_FILM = Without("no oil film is told")


class When(StrEnum):
    """When a load is on the driven shaft; "running" holds for starting too."""

    ALWAYS = "always"
    RUNNING = "running"


class LoadPlace(StrEnum):
    """What a load of the driven shaft sits on, where that has a place of its own."""

    PULLEY = "pulley"


class Bearing(Record):
    """A plain bearing of the driven shaft; what is not said of its box is None.

    ``limit`` [N] holds at rest and running, ``starting_limit`` [N] at the start;
    ``limit_given_as_pressure`` says how the user thinks of both. ``service`` is a row of the
    published pressure ranges.
    """

    name: Annotated[k.Name, "what pages call it", Without("bearing 1, bearing 2")]
    position: Annotated[k.Position, REQUIRED, "of its middle"]
    journal_diameter: Annotated[k.Distance, REQUIRED, "of the shaft in it"]
    length: Annotated[k.Distance, REQUIRED, "along the shaft"]
    limit: Annotated[k.BearingLoad, REQUIRED, "at rest and running"]
    starting_limit: Annotated[k.BearingLoad, "at the start", _TWICE]
    limit_given_as_pressure: bool
    clearance: Annotated[k.Clearance | None, "the bore's diameter less the journal's", _NO_FILM] = (
        None
    )
    cap_direction: Annotated[k.Direction | None, "from the shaft", _NOT_JUDGED] = None
    cap_dowelled: Annotated[k.Flag, "whether dowels keep the cap from moving sideways"] = False
    groove_direction: Annotated[
        k.Direction | None, "where its oil groove is, from the shaft", _NOT_JUDGED
    ] = None
    service: Annotated[k.Service | None, "for the pressures in use", _NOT_JUDGED] = None

    @property
    def projected_area(self) -> float:
        """Journal diameter times length [m^2]."""
        return self.journal_diameter * self.length


class ShaftLoad(Record):
    """A weight or working load on the driven shaft: ``force`` [N] along the unit ``direction``.

    ``position`` [m] is along the shaft; a load that is ``on`` the pulley is where that is.
    """

    name: Annotated[k.Name, "what pages call it", Without("load 1, load 2")]
    position: Annotated[k.Position, "along the shaft, as the bearings", Without("on the pulley")]
    force: Annotated[k.Force, REQUIRED, "weight or pull"]
    direction: Annotated[Vector, DIRECTION, REQUIRED, "the way it pulls"]
    when: Annotated[When, choice(When), "it is there"] = When.ALWAYS
    on: Annotated[
        LoadPlace | None, choice(LoadPlace), "it moves with that", Without("a position")
    ] = None


class Driven(Record, kw_only=True):
    """The machine's shaft; optional fields are None where the user does not say."""

    shaft: Annotated[k.Point, REQUIRED, "its middle"]
    pulley_radius: Annotated[k.Distance, *PULLEY_FORM, ONE_SIZE]
    pulley_face: Annotated[PulleyFace, *PULLEY_FACE] = PulleyFace.GROOVED
    pulley_position: Annotated[k.Position, REQUIRED, "along the shaft, as the bearings"]
    power: Annotated[k.Power, "what the machine takes", Without("the motor's")]
    starting_factor: Annotated[
        k.Factor, "torque at the start over running", Without(f"{STARTING_FACTOR:g}")
    ]
    max_speed: Annotated[k.Speed | None, "the most it may turn", Without("not judged")]
    traction: Annotated[k.Traction, *FRICTION]
    shock: Annotated[
        Shock | None, choice(Shock), "how evenly it loads the belt", Without('"light"')
    ] = None
    service_factor: Annotated[
        k.SmallFactor | None, "in place of shock and torque", Without("by shock and torque")
    ] = None
    shaft_diameter: Annotated[
        k.Distance | None, "between and beyond the journals", Without("how it bends is not told")
    ] = None
    oil: Annotated[k.OilText | None, "in the bearings", _NO_FILM] = None
    bearings: tuple[Bearing, Bearing]
    loads: tuple[ShaftLoad, ...]
