"""How the fields of a scenario stand in its file: one annotation a key.

A field is annotated with the form of its value, which says how it is read, what it wants and how it
is written, with the words that stand behind it where it is written, and with what is taken where
the file does not have it, if its default does not say so::

    leaf_length: Annotated[PartLength | None, "along the hinge's line", usual("templates")] = None

It is the key of its own name in the table of its class (`mountcalc.scenario.file.tables.TABLES`),
unless it is annotated with a `Key`, or several. A field without a form has no key.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import MISSING, Field, fields
from functools import cache
from types import UnionType
from typing import Annotated, Any, Final, NamedTuple, TypeAlias, Union, get_args, get_origin

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.machine import MotorFrame
from mountcalc.handbook.rows import load
from mountcalc.scenario import forms
from mountcalc.scenario.forms import (
    Form,
    Range,
    number,
    part_length,
    quantity,
    range_of,
    several,
    whole,
)
from mountcalc.scenario.text import named
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.threads import Thread
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, Vector
from mountcalc.units import (
    KilogramsPerMetre,
    Metres,
    Newtons,
    NewtonsPerMetre,
    Radians,
    RadiansPerSecond,
    Watts,
)

REQUIRED: Final = object()
"""Of a field: a file without its key cannot be used."""


class Key(NamedTuple):
    """A key by another name than the field's; with a dot, of another table than the class's.

    Its own ``form`` and ``words`` take the place of the field's.
    """

    name: str
    form: Form | None = None
    words: str = ""


class Without(NamedTuple):
    """What is taken where the file does not have a key, in words; or the handbook's ``rows``."""

    words: str
    rows: str = ""

    def text(self, name: str) -> str:
        """The words; of sizes by display, those in inches and those in millimetres."""
        if not self.rows:
            return self.words
        sizes = (load(self.rows)["default"][display][name] for display in ("inch", "metric"))
        named = (next((unit, row[unit]) for unit in ("in", "mm") if unit in row) for row in sizes)
        return "; ".join(f"{size:g} {unit}" for unit, size in named)


def usual(rows: str) -> Without:
    """What is taken is a row of the key's name in the handbook, by display."""
    return Without("", rows)


class Declared(NamedTuple):
    """A key as it is declared: its table and name, and the field that it fills.

    ``words`` say what it is, ``without`` what is taken where the file does not have it.
    """

    table: str
    name: str
    field: str
    form: Form
    required: bool
    words: str
    without: str

    @property
    def wanted(self) -> str:
        """What its value has to be."""
        wanted = self.form.wanted
        return wanted if isinstance(wanted, str) else wanted()

    @property
    def missing(self) -> str:
        """What is wrong where the file does not have it."""
        what = "" if self.words in self.wanted else f", {self.words}"
        return f"missing: {self.wanted.replace(' wanted', f' wanted{what}', 1)}"


@cache
def declared(part: type[Any], home: str) -> tuple[Declared, ...]:
    """Return the keys that a class of the model declares, in order; ``home`` is its table."""
    found = []
    for field in fields(part):
        said = list(_metadata(field.type))
        own = [one for one in said if isinstance(one, Form)]
        words = "".join(one for one in said if isinstance(one, str))
        names = [one for one in said if isinstance(one, Key)]
        taken = next((one for one in said if isinstance(one, Without)), None)
        for key in names or ([Key(field.name)] if own else []):
            table, _, name = key.name.rpartition(".")
            form, required = key.form or own[0], REQUIRED in said
            without = taken.text(name) if taken else _default(field, form)
            found.append(
                Declared(
                    *(table or home, name, field.name, form, required, key.words or words, without)
                )
            )
    return tuple(found)


def _default(field: Field[Any], form: Form) -> str:
    """A field's default as a file has it, in the units in which that is shorter."""
    if form.write is None or field.default in (MISSING, None, ()):
        return ""
    return min((form.write(field.default, units) for units in UNITS_TO_WRITE.values()), key=len)


def _metadata(annotation: Any) -> Iterator[Any]:  # noqa: ANN401  # annotations are of any type
    """Yield what an annotation says beside the type, that of its alternatives first."""
    if get_origin(annotation) is Annotated:
        yield from _metadata(get_args(annotation)[0])
        yield from annotation.__metadata__
    elif get_origin(annotation) in (Union, UnionType):
        for one in get_args(annotation):
            yield from _metadata(one)


_ROOM = q.ValueKind("length", ("1/2 in", "12 mm"), q.DISTANCE.scales, 0.0, 1e4, "zero or more")

Name: TypeAlias = Annotated[str, forms.NAME]
Flag: TypeAlias = Annotated[bool, forms.FLAG]
Count: TypeAlias = Annotated[int, whole(1, 20)]

Position: TypeAlias = Annotated[Metres, quantity(q.POSITION, "position")]
Distance: TypeAlias = Annotated[Metres, quantity(q.DISTANCE, "length")]
Clearance: TypeAlias = Annotated[Metres, quantity(q.CLEARANCE, "length")]
Room: TypeAlias = Annotated[Metres, quantity(_ROOM, "length")]
Point: TypeAlias = Annotated[Vector, forms.POINT]
Direction: TypeAlias = Annotated[Radians, forms.DIRECTION]
Travel: TypeAlias = Annotated[Vector, forms.TRAVEL]
Weight: TypeAlias = Annotated[Newtons, quantity(q.LOAD, "weight")]
Force: TypeAlias = Annotated[Newtons, quantity(q.LOAD, "force")]
LoadLimit: TypeAlias = Annotated[Newtons, quantity(q.LOAD_LIMIT, "force")]
Stiffness: TypeAlias = Annotated[Newtons, quantity(q.STIFFNESS, "force")]
Rate: TypeAlias = Annotated[NewtonsPerMetre, quantity(q.RATE, "rate")]
MassPerLength: TypeAlias = Annotated[KilogramsPerMetre, quantity(q.MASS_PER_LENGTH, "mass")]
Power: TypeAlias = Annotated[Watts, quantity(q.POWER, "power")]
MotorPower: TypeAlias = Annotated[Watts, quantity(q.MOTOR_POWER, "power")]
Speed: TypeAlias = Annotated[RadiansPerSecond, quantity(q.ROTATION_SPEED, "speed")]
BearingLoad: TypeAlias = Annotated[Newtons, forms.BEARING_LOAD]

Traction: TypeAlias = Annotated[float, number(0, 5, above=True)]
Factor: TypeAlias = Annotated[float, number(0, 20, above=True)]
Uncertainty: TypeAlias = Annotated[float, number(1, 20)]
SmallFactor: TypeAlias = Annotated[float, number(1, 3)]
ErrorShare: TypeAlias = Annotated[float, number(0, 0.5)]
TurnError: TypeAlias = Annotated[float, number(0, 10)]

Service: TypeAlias = Annotated[str, forms.SERVICE]
Strength: TypeAlias = Annotated[str, forms.STRENGTH]
OilText: TypeAlias = Annotated[named.Oil, forms.OIL]
BeltName: TypeAlias = Annotated[Designation, forms.BELT]
ThreadName: TypeAlias = Annotated[Thread, forms.THREAD]
FrameName: TypeAlias = Annotated[MotorFrame, forms.FRAME]
ScrewSize: TypeAlias = Annotated[named.HingeScrew, forms.SCREW]

# Of parts; bounds are generous estimates: what is larger is no part of such a mount but a slip of
# unit.
BoardLength: TypeAlias = Annotated[Metres, part_length(3.0)]
BoardThickness: TypeAlias = Annotated[Metres, part_length(0.3)]
PulleyWidth: TypeAlias = Annotated[Metres, part_length(1.0)]
Gap: TypeAlias = Annotated[Metres, part_length(0.5)]

# Of builds: what is further off is no error but another mount.
Slip: TypeAlias = Annotated[
    Metres,
    quantity(
        _ROOM._replace(
            examples=("1/16 in", "1.5 mm"), high=0.1, high_words="of at most 100 mm (3.94 in)"
        ),
        "length",
    ),
]

# Of searches.
Positions: TypeAlias = Annotated[Range, range_of(q.POSITION)]
Distances: TypeAlias = Annotated[Range, range_of(q.DISTANCE)]
Threads: TypeAlias = Annotated[
    tuple[Thread, ...], several(forms.THREAD, 'threads, such as "3/8-16"')
]
