"""Numbers as a shop reads them: one table of units by what is measured, and how each is rounded."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import partial

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Display
from mountcalc.units import STANDARD_GRAVITY, si_factor


class Kind(Record):
    """A kind of quantity: its unit in JSON, and the one in which people read it by display."""

    unit: str
    inch: str
    metric: str

    def outside(self, value: float) -> float:
        """An SI value in the unit of JSON."""
        return value / si_factor(self.unit) if self.unit else value

    def inside(self, value: float) -> float:
        """An SI value from one in the unit of JSON."""
        return value * si_factor(self.unit) if self.unit else value

    def text(self, value: float, display: Display, digits: int = 3) -> str:
        """An SI value for people, with its unit."""
        return f"{self.number(value, display, digits)} {self.shown(display)}".rstrip()

    def number(self, value: float, display: Display, digits: int = 3) -> str:
        """An SI value for people, without its unit."""
        return in_figures(value / self.size(display), digits)

    def shown(self, display: Display) -> str:
        """The unit for people."""
        return self._name(display).replace("*", " ")

    def size(self, display: Display) -> float:
        """SI value of one of that unit."""
        name = self._name(display)
        return si_factor(name) if name else 1.0

    def _name(self, display: Display) -> str:
        return self.inch if display is Display.INCH else self.metric


NUMBER = Kind("", "", "")
FORCE = Kind("N", "lbf", "N")
LENGTH = Kind("mm", "in", "mm")
PRESSURE = Kind("MPa", "psi", "MPa")
RATE = Kind("N/mm", "lbf/in", "N/mm")
ROTATION_SPEED = Kind("rpm", "rpm", "rpm")
SURFACE_SPEED = Kind("m/s", "ft/min", "m/s")
PRESSURE_SPEED = Kind("MPa*m/s", "psi*ft/min", "MPa*m/s")
POWER = Kind("W", "hp", "W")
ANGLE = Kind("deg", "deg", "deg")
SLOPE = Kind("mrad", "mrad", "mrad")
FILM = Kind("um", "thou", "um")
FREQUENCY = Kind("Hz", "Hz", "Hz")
TORQUE = Kind("N*m", "lbf*in", "N*m")
VISCOSITY = Kind("mPa*s", "mPa*s", "mPa*s")

_JUDGED = (NUMBER, FORCE, LENGTH, PRESSURE, ROTATION_SPEED, SURFACE_SPEED, PRESSURE_SPEED, POWER,
           ANGLE, SLOPE, FILM, FREQUENCY, RATE)  # fmt: skip


def kind_of(unit: str) -> Kind:
    """The kind of quantity that a judgement's unit stands for."""
    return next(kind for kind in _JUDGED if kind.unit.replace("*", " ") == unit)


_DECIMALS = {Display.INCH: 2, Display.METRIC: 0}  # of a length to mark out or to buy
_SPEED_DECIMALS = {Display.INCH: 0, Display.METRIC: 1}
# Of a shown digit: what arithmetic leaves on a whole number.
_SHOWN_ROUNDING = 1e-6
# Of a per cent: a limit that is just met is kept.
_PERCENT_ROUNDING = 1e-4
_FINEST = 32  # parts of an inch on a common steel rule (common practice)
_FINER = 64  # on its finest edge (common practice)
_SMALL = 0.125  # [in] below which a 32nd is too coarse (estimate)
_SAME = 0.0005  # [in] what thousandths do not show
_OUNCES_IN_A_POUND = 16
_LARGE, _TINY = 1e7, 1e-6
_GRAMS_BELOW = 5.0  # [N] below which a metric scale is read in grams
# A fraction off by less than this share is near enough: the force is off by as much.
_NEAR = 0.03


# The cautious side of a number is shown where the other would promise what is not kept: of room
# that there is the lower, of what is wanted and of a limit that is passed the upper.


def _down(number: float) -> int:
    return math.floor(number + _SHOWN_ROUNDING)


def _up(number: float) -> int:
    return math.ceil(number - _SHOWN_ROUNDING)


def significant(value: float, digits: int = 2, whole: Callable[[float], int] = round) -> float:
    """A number rounded to so many figures."""
    if value == 0:
        return 0.0
    places = digits - 1 - math.floor(math.log10(abs(value)))
    if whole is round:
        return round(value, places)
    return float(whole(value * 10.0**places) / 10.0**places)


def percent(share: float | None) -> str:
    """A share in whole per cent; past the whole rounded up, not to read as kept."""
    if share is None:
        return "-"
    hundred = 100 * share
    return f"{math.ceil(hundred - _PERCENT_ROUNDING) if share > 1 else round(hundred)}"


def at_least(value: float, kind: Kind, display: Display) -> float:
    """A force or a power rounded up to two figures: its text shows no less than is wanted."""
    size = kind.size(display)
    return significant(value / size, 2, _up) * size if value > 0 else value


def at_most(value: float, kind: Kind, display: Display) -> float:
    """The same rounded down; see :func:`at_least`."""
    size = kind.size(display)
    return significant(value / size, 2, _down) * size if value > 0 else value


force_text = partial(FORCE.text, digits=2)
"""A force to two figures, with its unit."""

rate_text = partial(RATE.text, digits=2)
"""A spring's stiffness to two figures, with its unit."""

power_text = POWER.text
"""A power to three figures, with its unit."""


def speed_text(value: float, display: Display) -> str:
    """A belt's or rim's speed, with its unit."""
    number = value / SURFACE_SPEED.size(display)
    return f"{number:.{_SPEED_DECIMALS[display]}f} {SURFACE_SPEED.shown(display)}"


def shown_length(value: float, display: Display, whole: Callable[[float], int] = round) -> float:
    """A length as its text shows it, so that what is made of it is what was reckoned."""
    scale = 10 ** _DECIMALS[display] / LENGTH.size(display)
    return float(whole(value * scale) / scale)


def length_text(value: float, display: Display) -> str:
    """A length to mark out or to buy, with its unit."""
    decimals = _DECIMALS[display]
    text = f"{value / LENGTH.size(display):.{decimals}f}"
    return f"{text.rstrip('0').rstrip('.') if decimals else text} {LENGTH.shown(display)}"


def room_text(value: float, display: Display) -> str:
    """A length that is there, rounded down, so that it never shows more than there is."""
    return length_text(shown_length(value, display, _down), display)


def need_text(value: float, display: Display) -> str:
    """A length that is wanted, rounded up, so that it never shows less than is wanted."""
    return length_text(shown_length(value, display, _up), display)


def bench_length(value: float, display: Display) -> str:
    """A length to be marked out, with its unit."""
    if display is Display.METRIC:
        number = round(value / si_factor("mm"), 1) + 0.0  # no "-0.0"
        return f"{number:.1f} mm"
    return f"{spelled(Fraction(round(value / si_factor('in') * _FINEST), _FINEST))} in"


def spelled(number: Fraction) -> str:
    """A mixed number: ``2 1/4``."""
    whole, rest = divmod(abs(number), 1)
    sign = "-" if number < 0 else ""
    return sign + (" ".join(str(part) for part in (whole, rest) if part) or "0")


def bench_size(one: float, other: float, display: Display) -> str:
    """Two lengths of one thing, with their unit once."""
    number, _, _ = bench_length(one, display).rpartition(" ")
    return f"{number} x {bench_length(other, display)}"


def fine_length(value: float, display: Display) -> str:
    """A length with its unit; a small one to 64ths and thousandths of an inch."""
    inches = value / si_factor("in")
    is_exact = abs(inches * _FINEST - round(inches * _FINEST)) <= _SAME * _FINEST
    if display is Display.METRIC or abs(inches) >= _SMALL or is_exact:
        return bench_length(value, display)
    nearest = Fraction(round(inches * _FINER), _FINER)
    exact = f"{inches:.3f} in"
    return f"{nearest} in ({exact})" if nearest else exact


def finest_length(display: Display) -> float:
    """The step in which `bench_length` tells lengths."""
    return 0.1 * si_factor("mm") if display is Display.METRIC else si_factor("in") / _FINEST


def deflection_text(deflection: float, display: Display) -> str:
    """A deflection to 0.1 mm or in 64ths of an inch; in thousandths where those are too coarse."""
    if display is Display.METRIC:
        return f"{deflection / si_factor('mm'):.1f} mm"
    parts_64 = deflection / si_factor("in") * _FINER
    if abs(round(parts_64) - parts_64) > _NEAR * parts_64:
        return f"{parts_64 / _FINER:.3f} in"
    return f"{spelled(Fraction(round(parts_64), _FINER))} in"


def in_figures(value: float, digits: int = 3) -> str:
    """A finite number to so many figures, without an exponent where a shop would not write one."""
    if value == 0:
        return "0"
    if not _TINY <= abs(value) < _LARGE:
        return f"{value:.2g}"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    text = f"{round(value, places):.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def figures(value: float, digits: int) -> str:
    """A number with so many figures, without an exponent where that is short; small is 0."""
    if abs(value) < 0.05:  # noqa: PLR2004 (below half a tenth: nothing at a bench)
        return "0"
    if abs(value) >= 1e5:  # noqa: PLR2004 (wider than a column)
        return _with_exponent(value, digits - 1)
    places = digits - 1 - math.floor(math.log10(abs(value)))
    return f"{round(value, places):.{min(max(places, 0), 1)}f}"


def _with_exponent(value: float, places: int) -> str:
    return f"{value:.{places}e}".replace("e+0", "e").replace("e+", "e")


def fitted(value: float, digits: int, width: int) -> str:
    """Like :func:`figures`, with fewer figures or an exponent where the column is narrow."""
    plain = [figures(value, fewer) for fewer in range(digits, 0, -1)]
    short = [_with_exponent(value, places) for places in (2, 1, 0)]
    return next(text for text in (*plain, *short, "#" * width) if len(text) <= width)


def range_text(low: float, high: float, unit: str) -> str:
    """A range of numbers to two figures, with their unit."""
    first, last = figures(low, 2), figures(high, 2)
    return f"{first} {unit}" if first == last else f"{first} to {last} {unit}"


def force_ranges(
    ranges: Iterable[tuple[float, float]], display: Display, by: float | None = None
) -> list[str]:
    """What scales read, all in one unit: ounces where one is below a pound-force, else lbf.

    Newtons with what a scale shows that is marked in grams, or in kilograms where all is more.
    The unit is that of a force to choose it ``by`` [N], where there is one.
    """
    ends = [*ranges]
    least = min(low for low, _ in ends) if by is None else by
    if display is Display.INCH:
        pound = si_factor("lbf")
        unit, parts = ("oz", _OUNCES_IN_A_POUND) if least < pound else ("lbf", 1)
        return [range_text(low * parts / pound, high * parts / pound, unit) for low, high in ends]
    unit, size = ("g", 1e-3) if least < _GRAMS_BELOW else ("kg", 1.0)
    size *= STANDARD_GRAVITY
    return [
        f"{range_text(low, high, 'N')} ({range_text(low / size, high / size, unit)})"
        for low, high in ends
    ]


Array = NDArray[np.float64]

# Parts of a turn, the coarsest first: sixteenths, then decimals.
_PARTS = (16, 100, 1000)


def turns_to_set(aim: float, low: float, high: float) -> float | None:
    """The number of turns to print for an aim, rounded to the side that keeps grip and limits."""
    for parts in _PARTS:
        first, last = math.ceil(low * parts), math.floor(high * parts)
        if first <= last:
            return min(max(round(aim * parts), first), last) / parts
    return None


def turns_text(turns: float | None) -> str:
    """Turns as a hand sets them: ``2 1/4``; decimals where they are no sixteenths."""
    if turns is None:
        return "-"
    exact = Fraction(turns).limit_denominator(16)
    if abs(float(exact) - turns) > 1e-6:  # noqa: PLR2004 (not a sixteenth)
        return f"{turns:.3f}".rstrip("0").rstrip(".")
    return spelled(exact)


_NUMBER = re.compile(
    r"[+-]?(?:\d{1,9}(?:\.\d{0,9})?|\.\d{1,9}|(?:\d{1,9}[ -])?\d{1,9}/\d{1,9})", re.ASCII
)

# Rows of a table that a program may ask for.
MOST_ROWS = 10_000


def parse_turns(text: str) -> Array:
    """Turns from ``A:B:STEP`` (or a single number); B is always included."""
    wanted = f'turns: "A:B:STEP" wanted, such as 0:6:1/4 or 0:1 1/2:1/8, got "{text[:40]}"'
    parts = [part.strip() for part in text.split(":")]
    # A pattern first: Fraction would work out the digits of 1e999999999.
    if len(parts) not in (1, 3) or not all(map(_NUMBER.fullmatch, parts)):
        raise InputError(wanted)
    try:
        numbers = [_number(part) for part in parts]
    except ZeroDivisionError as error:
        raise InputError(wanted) from error
    if len(numbers) == 1:
        return np.array([float(numbers[0])])
    first, last, step = numbers
    if step <= 0 or last < first:
        raise InputError(f"{wanted}: STEP above 0 and B not below A are wanted")
    count = (last - first) / step
    if count >= MOST_ROWS:
        raise InputError(f"{wanted}: at most {MOST_ROWS} rows, got {float(count):.3g}")
    turns = [first + index * step for index in range(math.floor(count) + 1)]
    if turns[-1] != last:
        turns.append(last)
    return np.array([float(turn) for turn in turns])


def _number(text: str) -> Fraction:
    size = sum(map(Fraction, re.split("[ -]", text.lstrip("+-"))), Fraction(0))
    return -size if text.startswith("-") else size


class DisplayUnits(Record):
    """Names of the units that people read, and numbers in them for columns: "-" for None."""

    decimals: tuple[int, int]  # of a distance to mark out or measure, of a small one
    length: str
    force: str
    speed: str
    pressure: str

    def of(self, value: float, unit: str) -> float:
        """An SI value in a named unit."""
        return value / si_factor(unit)

    def long(self, value: float | None) -> str:
        """A distance to mark out or measure."""
        return self._fixed(value, self.decimals[0])

    def fine(self, value: float | None) -> str:
        """A small distance for a feeler gauge or calliper."""
        return self._fixed(value, self.decimals[1])

    def strength(self, value: float | None, digits: int = 3, width: int = 8) -> str:
        """A force for a column of that width."""
        return "-" if value is None else fitted(value / si_factor(self.force), digits, width)

    def _fixed(self, value: float | None, decimals: int) -> str:
        if value is None:
            return "-"
        # A half goes up, whatever arithmetic left of it: a turn of 1/16 in reads as it is counted.
        text = f"{value / si_factor(self.length) * (1 + _SHOWN_ROUNDING):.{decimals}f}"
        return text.removeprefix("-") if float(text) == 0 else text


UNITS = {
    display: DisplayUnits(
        decimals, *(one.shown(display) for one in (LENGTH, FORCE, SURFACE_SPEED, PRESSURE))
    )
    for display, decimals in ((Display.INCH, (2, 3)), (Display.METRIC, (1, 2)))
}
