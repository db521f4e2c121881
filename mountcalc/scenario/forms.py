"""The forms of values in a scenario file: how each is read and written, and what is wanted."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Callable
from enum import StrEnum
from functools import partial
from typing import Any, NamedTuple

from mountcalc.handbook.belts.designation import WANTED as WANTED_DESIGNATION
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.hardware import known_strengths
from mountcalc.scenario.text import named, outlines
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.threads import WANTED_THREAD, read_thread
from mountcalc.scenario.text.wording import listed, near_spelling, shown
from mountcalc.scenario.text.writing import DIRECTIONS, UnitsToWrite, Vector, number_text, quoted
from mountcalc.thresholds import ROUNDING
from mountcalc.units import Dimension, si_factor

Range = tuple[float, float]

_LONGEST_NAME = 120
_MOST_ITEMS = 20
# Control, format, surrogate, line and paragraph characters: they would garble what is printed.
_NOT_IN_NAMES = {"Cc", "Cf", "Cs", "Zl", "Zp"}
_PRESSURE = Dimension(mass=1, length=-1, time=-2)
_TRAVEL = 'travel wanted (such as ["-12 deg", "12 deg"])'


class Form(NamedTuple):
    """How a value is read from a file, how it is written there, and what is wanted.

    ``wanted`` may have to be looked up; a form that is never written has no way to write it. Where
    ``is_quantity`` holds, a program may give a number in SI in the place of a text with a unit.
    """

    read: Callable[[object], Any]
    write: Callable[[Any, UnitsToWrite], str] | None = None
    wanted: str | Callable[[], str] = ""
    is_quantity: bool = False


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

    def words(length: float, which: str) -> str:
        return f"of at {which} {length * 1e3:g} mm ({length / si_factor('in'):.3g} in)"

    kind = q.DISTANCE._replace(high=most, high_words=words(most, "most"))
    if least is not None:
        kind = kind._replace(low=least, low_words=words(least, "least"))
    return quantity(kind, "length")


def number(low: float, high: float, *, above: bool = False) -> Form:
    """Return the form of a plain number within bounds; with ``above``, not the low one itself."""
    bounds = f"{'above' if above else 'from'} {low:g} to {high:g}"
    wanted = f"number {bounds} wanted"

    def read(value: object) -> float:
        hint = ", without quotes or unit" if isinstance(value, str) else ""
        if isinstance(value, bool) or not isinstance(value, int | float):
            q.refuse(f"plain number wanted ({bounds}){hint}", value)
        # Integers are compared as they are: a huge one does not fit a float.
        if not low <= value <= high or (above and value <= low):
            q.refuse(wanted, value)
        return float(value)

    return Form(read, lambda value, _: number_text(value), wanted)


def whole(low: int, high: int) -> Form:
    """Return the form of a whole number within bounds."""
    wanted = f"whole number from {low} to {high} wanted"

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            hint = ", without quotes" if isinstance(value, str) else ""
            q.refuse(f"{wanted}{hint}", value)
        return value

    return Form(read, lambda value, _: str(value), wanted)


def choice(choices: type[StrEnum], remark: str = "", *, but: StrEnum | None = None) -> Form:
    """Return the form of one of a few words; the remark says more of what is wanted."""
    words = [one.value for one in choices if one is not but]

    def read(value: object) -> StrEnum:
        return choices(named.read_word(value, words, remark))

    return Form(read, lambda value, _: quoted(value), f"{listed(map(shown, words))} wanted{remark}")


def named_text(read: Callable[[object], Any], wanted: str = "", name: str = "name") -> Form:
    """Return the form of what is written by its name, or by another text that it has."""
    return Form(read, lambda value, _: quoted(getattr(value, name)), wanted)


def several(form: Form, wanted: str) -> Form:
    """Return the form of a list of different things of a form, or one of them alone."""

    def read(value: object) -> tuple[Any, ...]:
        items = value if isinstance(value, list) else [value]
        if not 0 < len(items) <= _MOST_ITEMS:
            q.refuse(f"list of 1 to {_MOST_ITEMS} wanted (of {wanted})", value)
        found: list[Any] = []
        for item in items:
            one = form.read(item)
            if one in found:
                q.refuse("each only once wanted", item, " twice")
            found.append(one)
        return tuple(found)

    def write(values: tuple[Any, ...], units: UnitsToWrite) -> str:
        assert form.write is not None
        return f"[{', '.join(form.write(value, units) for value in values)}]"

    return Form(read, write, f"list wanted (of {wanted})", is_quantity=form.is_quantity)


def several_of(choices: type[StrEnum], *, but: StrEnum | None = None) -> Form:
    """Return the form of a list of words."""
    words = [shown(one.value) for one in choices if one is not but]
    return several(choice(choices, but=but), listed(words))


def range_of(kind: q.ValueKind, widest: float | None = None) -> Form:
    """Return the form of a range of a kind of quantity: one, or ``["low", "high"]``."""
    text, larger = shown(kind.examples[0]), shown("15 deg" if kind.name == "angle" else "20 in")
    wanted = f"{kind.name} or range of it wanted (such as {text} or [{text}, {larger}])"

    def read(value: object) -> Range:
        single = isinstance(value, str | q.Si)
        low, high, got = _ends([value, value] if single else value, kind, wanted)
        if low > high:
            q.fail(f"the smaller {kind.name} first and the larger second wanted, {got}")
        if widest is not None and high - low > widest * (1 + ROUNDING):
            q.fail(f"range of at most 360 deg wanted, {got}")
        return low, high

    return Form(read, wanted=wanted, is_quantity=True)


def _ends(value: object, kind: q.ValueKind, wanted: str) -> tuple[float, float, str]:
    """Read a list of two quantities; the text says what was found."""
    ends = outlines.pair(value, wanted)
    low, high = (q.read_quantity(end, kind) for end in ends)
    return low, high, f"got [{shown(ends[0])}, {shown(ends[1])}]"


def _read_travel(value: object) -> Vector:
    """Read the travel ``["-12 deg", "12 deg"]`` [rad]: from the smaller to the larger angle."""
    low, high, got = _ends(value, q.ANGLE_KIND, _TRAVEL)
    if max(abs(low), abs(high)) > math.pi * (1 + 1e-12):
        q.fail(f"angles from -180 deg to 180 deg wanted, {got}")
    if low >= high:
        q.fail(f"the smaller angle first and a larger one second wanted, {got}")
    return low, high


def _read_direction(value: object) -> float:
    """Read a direction [rad]: an angle from the right, counter-clockwise, or its name."""
    if isinstance(value, str) and value.strip() in DIRECTIONS:
        return DIRECTIONS[value.strip()]
    try:
        return q.read_quantity(value, q.ANGLE_KIND)
    except q.ValueTextError as error:
        words = f'a direction is "right", "up", "left", "down" or an angle: {error}'
        near = near_spelling(value, DIRECTIONS) if isinstance(value, str) else None
        hint = f"; did you mean {shown(near)}?" if near else ""
        raise q.ValueTextError(words + hint) from None


def _read_flag(value: object) -> bool:
    if not isinstance(value, bool):
        q.refuse(f"true or false wanted{', without quotes' * isinstance(value, str)}", value)
    return value


def _read_name(value: object) -> str:
    """Read a title or name: one line of text that prints."""
    if not isinstance(value, str):
        q.refuse("text wanted, between quotes", value)
    if not value.strip():
        q.refuse("text wanted", value)
    if len(value) > _LONGEST_NAME:
        q.refuse(f"text of at most {_LONGEST_NAME} characters wanted", value)
    if any(unicodedata.category(char) in _NOT_IN_NAMES for char in value):
        q.refuse("one line of text without control characters wanted", value)
    return value.strip()


def _read_belt(value: object) -> Designation:
    """Read what is printed on a belt, such as "A54" or "SPZ 1250"."""
    if not isinstance(value, str):
        q.refuse(WANTED_DESIGNATION, value)
    try:
        return read_designation(value)
    except DesignationError as error:
        raise q.ValueTextError(str(error)) from None


class BearingLimit(NamedTuple):
    """A limit as given: ``value`` is a pressure [Pa] or a load [N]."""

    value: float
    is_pressure: bool

    def as_load(self, projected_area: float) -> float:
        """Return the limit as a load [N] on the projected area [m^2]."""
        return self.value * projected_area if self.is_pressure else self.value


def _read_limit(value: object) -> BearingLimit:
    """Read the limit of a bearing: a projected pressure or a load."""
    limit, dimension = q.read_measure(value, q.LIMIT)
    return BearingLimit(limit, dimension == _PRESSURE)


def _corners(corners: tuple[Vector, ...], units: UnitsToWrite) -> str:
    return f"[{', '.join(map(units.point, corners))}]"


NAME = Form(_read_name, lambda text, _: quoted(text), "text wanted")
FLAG = Form(_read_flag, lambda flag, _: str(flag).lower(), "true or false wanted")
POINT = Form(
    outlines.read_point,
    lambda point, units: units.point(point),
    'point wanted (such as ["-20 in", "-4 in"])',
    is_quantity=True,
)
DIRECTION = Form(
    _read_direction,
    lambda angle, units: units.direction(angle),
    'direction wanted (such as "down")',
    is_quantity=True,
)
TRAVEL = Form(
    _read_travel,
    lambda ends, units: f"[{', '.join(units.write('angle', end) for end in ends)}]",
    _TRAVEL,
    is_quantity=True,
)
BEARING_LOAD = Form(_read_limit, wanted=named.wanted_limit, is_quantity=True)
BELT = named_text(_read_belt, WANTED_DESIGNATION, name="text")
THREAD = named_text(read_thread, WANTED_THREAD)
SERVICE = Form(
    named.read_service,
    lambda text, _: quoted(text),
    lambda: f"{listed(map(shown, named.known_services()))} wanted",
)
STRENGTH = Form(
    named.read_bolt_strength,
    lambda text, _: quoted(text),
    lambda: f"{listed(map(shown, known_strengths()))} wanted",
)
OIL = named_text(named.read_oil, named.WANTED_OIL)
FRAME = named_text(named.read_frame, named.WANTED_FRAME)
SCREW = named_text(named.read_screw, named.WANTED_SCREW)
PLACES = several(quantity(q.POSITION, "position"), 'lengths, such as "-2 in"')
BELTS = several(BELT, 'designations, such as "A54"')
BOX = Form(outlines.read_box, _corners, outlines.BOX, is_quantity=True)
POLYGON = Form(outlines.read_polygon, _corners, outlines.POLYGON, is_quantity=True)
