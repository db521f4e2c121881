"""How the fields of a scenario stand in its file: one annotation a key.

A field is annotated with the form of its value, which says how it is read, what it wants and how it
is written, and with the words that stand behind it where it is written::

    leaf_length: Annotated[PartLength | None, "along the hinge's line"] = None

It is the key of its own name in the table of its class (`mountcalc.scenario.file.tables.TABLES`),
unless it is annotated with a `Key`, or several. A field without a form has no key.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields
from enum import StrEnum
from functools import cache, partial
from types import UnionType
from typing import Annotated, Any, Final, NamedTuple, TypeAlias, Union, get_args, get_origin

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.frames import MotorFrame
from mountcalc.scenario.text import named
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text import values as v
from mountcalc.scenario.text.threads import WANTED_THREAD, Thread, read_thread
from mountcalc.scenario.text.wording import listed, shown
from mountcalc.scenario.text.writing import UnitsToWrite, Vector, number_text, quoted
from mountcalc.units import (
    KilogramsPerMetre,
    Metres,
    Newtons,
    Radians,
    RadiansPerSecond,
    Watts,
    si_factor,
)

REQUIRED: Final = object()
"""Of a field: a file without its key cannot be used."""


class Form(NamedTuple):
    """How a value is read from a file, how it is written there, and what is wanted.

    ``wanted`` may have to be looked up; a form that is never written has no way to write it. Where
    ``is_quantity`` holds, a program may give a number in SI in the place of a text with a unit.
    """

    read: Callable[[object], Any]
    write: Callable[[Any, UnitsToWrite], str] | None = None
    wanted: str | Callable[[], str] = ""
    is_quantity: bool = False


class Key(NamedTuple):
    """A key by another name than the field's; with a dot, of another table than the class's."""

    name: str
    form: Form | None = None


class Declared(NamedTuple):
    """A key as it is declared: its table and name, and the field that it fills."""

    table: str
    name: str
    field: str
    form: Form
    required: bool
    words: str

    @property
    def missing(self) -> str:
        """What is wrong where the file does not have it."""
        wanted = self.form.wanted
        return f"missing: {wanted if isinstance(wanted, str) else wanted()}"


@cache
def declared(part: type[Any], home: str) -> tuple[Declared, ...]:
    """Return the keys that a class of the model declares, in order; ``home`` is its table."""
    found = []
    for field in fields(part):
        said = list(_metadata(field.type))
        forms = [one for one in said if isinstance(one, Form)]
        words = "".join(one for one in said if isinstance(one, str))
        names = [one for one in said if isinstance(one, Key)]
        for key in names or ([Key(field.name)] if forms else []):
            table, _, name = key.name.rpartition(".")
            form, required = key.form or forms[0], REQUIRED in said
            found.append(Declared(table or home, name, field.name, form, required, words))
    return tuple(found)


def _metadata(annotation: Any) -> Iterator[Any]:  # noqa: ANN401  # annotations are of any type
    """Yield what an annotation says beside the type, that of its alternatives first."""
    if get_origin(annotation) is Annotated:
        yield from _metadata(get_args(annotation)[0])
        yield from annotation.__metadata__
    elif get_origin(annotation) in (Union, UnionType):
        for one in get_args(annotation):
            yield from _metadata(one)


def quantity(kind: q.ValueKind, unit: str) -> Form:
    """Return the form of a quantity; ``unit`` is the kind of units that it is written in."""
    return Form(
        partial(q.read_quantity, kind=kind),
        lambda value, units: units.write(unit, value),
        kind.wanted,
        is_quantity=True,
    )


def part_length(most: float, least: float | None = None) -> Form:
    """Return the form of a length [m] that is drawn and cut: parts at a bench are no larger.

    What is drawn and laid out grows with these lengths, and so do time and memory.
    """

    def words(length: float) -> str:
        return f"{length * 1e3:g} mm ({length / si_factor('in'):.3g} in)"

    kind = q.DISTANCE._replace(high=most, high_words=f"of at most {words(most)}")
    if least is not None:
        kind = kind._replace(low=least, low_words=f"of at least {words(least)}")
    return quantity(kind, "length")


def number(low: float, high: float, *, above: bool = False) -> Form:
    """Return the form of a plain number within bounds."""
    read = partial(v.read_number, low=low, high=high, above=above)
    return Form(read, lambda value, _: number_text(value))


def whole(low: int, high: int) -> Form:
    """Return the form of a whole number within bounds."""
    return Form(partial(v.read_whole, low=low, high=high), lambda value, _: str(value))


def choice(choices: type[StrEnum], remark: str = "", *, but: StrEnum | None = None) -> Form:
    """Return the form of one of a few words; the remark says more of what is wanted."""
    words = [one.value for one in choices if one is not but]

    def read(value: object) -> StrEnum:
        return choices(v.read_word(value, words, remark))

    return Form(read, lambda value, _: quoted(value), f"{listed(map(shown, words))} wanted{remark}")


def named_text(read: Callable[[object], Any], wanted: str = "") -> Form:
    """Return the form of what has a ``name`` that it is written by."""
    return Form(read, lambda value, _: quoted(value.name), wanted)


def several(form: Form, wanted: str) -> Form:
    """Return the form of a list of different things of a form, or one of them alone."""

    def write(values: tuple[Any, ...], units: UnitsToWrite) -> str:
        assert form.write is not None
        return f"[{', '.join(form.write(value, units) for value in values)}]"

    return Form(partial(v.read_several, wanted=f"of {wanted}", read=form.read), write)


def several_of(choices: type[StrEnum], *, but: StrEnum | None = None) -> Form:
    """Return the form of a list of words."""
    words = [shown(one.value) for one in choices if one is not but]
    return several(choice(choices, but=but), listed(words))


def range_of(kind: q.ValueKind, widest: float | None = None) -> Form:
    """Return the form of a range of a kind of quantity."""
    return Form(
        partial(v.read_range, kind=kind, widest=widest),
        wanted=v.range_wanted(kind),
        is_quantity=True,
    )


def _corners(corners: tuple[Vector, ...], units: UnitsToWrite) -> str:
    return f"[{', '.join(map(units.point, corners))}]"


_ROOM = q.ValueKind("length", ("1/2 in", "12 mm"), q.DISTANCE.scales, 0.0, 1e4, "zero or more")
_BELT = Form(v.read_belt, lambda belt, _: quoted(belt.text))
_THREAD = named_text(read_thread, WANTED_THREAD)
DIRECTION = Form(
    v.read_direction,
    lambda angle, units: units.direction(angle),
    'direction wanted (such as "down")',
    is_quantity=True,
)

Name: TypeAlias = Annotated[str, Form(v.read_name, lambda text, _: quoted(text))]
Flag: TypeAlias = Annotated[bool, Form(v.read_flag, lambda flag, _: str(flag).lower())]
Count: TypeAlias = Annotated[int, whole(1, 20)]

Position: TypeAlias = Annotated[Metres, quantity(q.POSITION, "position")]
Distance: TypeAlias = Annotated[Metres, quantity(q.DISTANCE, "length")]
Clearance: TypeAlias = Annotated[Metres, quantity(q.CLEARANCE, "length")]
Room: TypeAlias = Annotated[Metres, quantity(_ROOM, "length")]
Point: TypeAlias = Annotated[
    Vector,
    Form(
        v.read_point,
        lambda point, units: units.point(point),
        'point wanted (such as ["-20 in", "-4 in"])',
        is_quantity=True,
    ),
]
Direction: TypeAlias = Annotated[Radians, DIRECTION]
Travel: TypeAlias = Annotated[
    Vector,
    Form(
        v.read_travel,
        lambda ends, units: f"[{', '.join(units.write('angle', end) for end in ends)}]",
        'travel wanted (such as ["-12 deg", "12 deg"])',
        is_quantity=True,
    ),
]
Weight: TypeAlias = Annotated[Newtons, quantity(q.LOAD, "weight")]
Force: TypeAlias = Annotated[Newtons, quantity(q.LOAD, "force")]
LoadLimit: TypeAlias = Annotated[Newtons, quantity(q.LOAD_LIMIT, "force")]
Stiffness: TypeAlias = Annotated[Newtons, quantity(q.STIFFNESS, "force")]
MassPerLength: TypeAlias = Annotated[KilogramsPerMetre, quantity(q.MASS_PER_LENGTH, "mass")]
Power: TypeAlias = Annotated[Watts, quantity(q.POWER, "power")]
MotorPower: TypeAlias = Annotated[Watts, quantity(q.MOTOR_POWER, "power")]
Speed: TypeAlias = Annotated[RadiansPerSecond, quantity(q.ROTATION_SPEED, "speed")]
BearingLoad: TypeAlias = Annotated[
    Newtons, Form(v.read_limit, wanted=named.wanted_limit, is_quantity=True)
]

Traction: TypeAlias = Annotated[float, number(0, 5, above=True)]
Factor: TypeAlias = Annotated[float, number(0, 20, above=True)]
Uncertainty: TypeAlias = Annotated[float, number(1, 20)]
SmallFactor: TypeAlias = Annotated[float, number(1, 3)]
ErrorShare: TypeAlias = Annotated[float, number(0, 0.5)]

Service: TypeAlias = Annotated[str, Form(named.read_service, lambda text, _: quoted(text))]
OilText: TypeAlias = Annotated[named.Oil, named_text(named.read_oil, named.WANTED_OIL)]
BeltName: TypeAlias = Annotated[Designation, _BELT]
ThreadName: TypeAlias = Annotated[Thread, _THREAD]
FrameName: TypeAlias = Annotated[MotorFrame, named_text(named.read_frame)]
ScrewSize: TypeAlias = Annotated[named.HingeScrew, named_text(named.read_screw)]

# Of parts; bounds are generous estimates: what is larger is no part of such a mount but a slip of
# unit.
BoardLength: TypeAlias = Annotated[Metres, part_length(3.0)]
BoardThickness: TypeAlias = Annotated[Metres, part_length(0.3)]
PulleyWidth: TypeAlias = Annotated[Metres, part_length(1.0)]
Gap: TypeAlias = Annotated[Metres, part_length(0.5)]

# Of searches.
Positions: TypeAlias = Annotated[v.Range, range_of(q.POSITION)]
Distances: TypeAlias = Annotated[v.Range, range_of(q.DISTANCE)]
Threads: TypeAlias = Annotated[tuple[Thread, ...], several(_THREAD, 'threads, such as "3/8-16"')]
BELTS = several(_BELT, 'designations, such as "A54"')
BOX = Form(v.read_box, _corners, is_quantity=True)
POLYGON = Form(v.read_polygon, _corners, is_quantity=True)
