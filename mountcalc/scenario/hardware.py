"""What boards and hardware are made of, as far as the scenario tells: their strength hangs on it.

Lengths are in metres; what the user does not say is None.
"""

from enum import StrEnum
from typing import Annotated

from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.forms import Form, choice, number, part_length, quantity
from mountcalc.scenario.keys import Without
from mountcalc.scenario.text.named import read_word
from mountcalc.scenario.text.quantities import RATE
from mountcalc.scenario.text.writing import UnitsToWrite, quoted
from mountcalc.units import Metres

_PERCENT = number(2, 30)
_RATE = quantity(RATE, "rate")
_WEAKEST = Without("the weakest sold: grade 2, 4.6")
_MARKED = "as its head is marked"
_USUAL = Without("6 to 10 heated, 9 to 15 unheated")


class Giving(StrEnum):
    """How plate, adjuster and what it bears on give, where no value is told for all of it."""

    PARTS = "parts"
    RIGID = "rigid"


def _read_give(value: object) -> float | Giving:
    if isinstance(value, str) and not any(map(str.isdigit, value)):
        return Giving(read_word(value, Giving, f", or {_RATE.wanted}"))
    found: float = _RATE.read(value)
    return found


def _write_give(value: float | Giving, units: UnitsToWrite) -> str:
    return quoted(value) if isinstance(value, Giving) else units.write("rate", value)


GIVE = Form(_read_give, _write_give, f'"parts", "rigid" or {_RATE.wanted}', is_quantity=True)


class Joined(StrEnum):
    """How the layers of a board hold together."""

    GLUED = "glued"
    SCREWED = "screwed"


class Grain(StrEnum):
    """The way the grain of the plate's face runs."""

    FROM_HINGE = "from-hinge"
    ALONG_HINGE = "along-hinge"


class Holder(StrEnum):
    """What a bolt turns in."""

    NUT = "nut"
    INSERT = "insert"
    T_NUT = "t-nut"
    TAPPED_WOOD = "tapped-wood"


class Room(StrEnum):
    """Where the mount stands."""

    HEATED = "heated"
    UNHEATED = "unheated"


class Cut(StrEnum):
    """How a board was sawn from the log."""

    FLAT = "flat-sawn"
    QUARTER = "quarter-sawn"


class Member(StrEnum):
    """Which side of the hinge a piece of wood is on."""

    PLATE = "plate"
    BASE = "base"


class BoltMake(Record):
    """What the adjuster's bolt is and turns in, bears on and is turned with."""

    strength: Annotated[k.Strength | None, _MARKED, _WEAKEST] = None
    holder: Annotated[Holder | None, choice(Holder), "what the bolt turns in", Without("a nut")] = (
        None
    )
    engagement: Annotated[
        Metres | None, part_length(0.3), "length of thread in it", Without("as high as a nut")
    ] = None
    stands_out: Annotated[
        Metres | None,
        part_length(0.5),
        "from there to the tip, as drawn",
        Without("bending and buckling are not judged"),
    ] = None
    pad: Annotated[
        Metres | None,
        part_length(0.3),
        "diameter of the metal under the tip",
        Without("none: the bare tip"),
    ] = None
    friction: Annotated[
        float | None, number(0, 1, above=True), "of thread and tip", Without("0.15")
    ] = None
    wrench: Annotated[
        Metres | None,
        part_length(1.0),
        "length of the one that turns it",
        Without("19 times the bolt's diameter"),
    ] = None


class Feet(Record):
    """The bolts of the motor's feet, all alike."""

    bolt: Annotated[k.ThreadName | None, "its thread", Without("to fit the frame's hole")] = None
    strength: Annotated[k.Strength | None, _MARKED, _WEAKEST] = None
    washer: Annotated[
        Metres | None, part_length(0.2), "its outside, on the wood", Without("a common one")
    ] = None


class Piece(Record):
    """A length of wood between hinge and bolt, across its grain, that moves with the seasons."""

    name: Annotated[k.Name, "what pages call it", Without("piece 1, piece 2 ...")]
    part: Annotated[Member, choice(Member), k.REQUIRED, "which side of the hinge it is on"]
    length: Annotated[k.BoardLength, k.REQUIRED, "across the grain"]
    direction: Annotated[k.Direction, k.REQUIRED, "from the hinge's end to the bolt's, as drawn"]
    material: Annotated[k.Name, k.REQUIRED, "what it is made of"]
    cut: Annotated[Cut, choice(Cut), "how it was sawn"] = Cut.FLAT


class Surroundings(Record):
    """Where the wood is, and its moisture over the year in percent of its dry weight."""

    room: Annotated[Room, choice(Room), "where the mount stands"] = Room.HEATED
    moisture_from: Annotated[float | None, _PERCENT, "percent, driest season", _USUAL] = None
    moisture_to: Annotated[float | None, _PERCENT, "percent, dampest season", _USUAL] = None
    pieces: tuple[Piece, ...] = ()
