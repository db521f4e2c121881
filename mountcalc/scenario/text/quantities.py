"""Reading ``"14 1/2 in"``: text with a number and a unit becomes an SI float of the wanted kind.

Number and unit are taken apart here, since units libraries read ``"14 1/2 in"`` as 7 in. No
text is evaluated.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from itertools import pairwise
from math import pi
from typing import NamedTuple, NoReturn

from mountcalc.scenario.text.wording import dimension_name, listed, shown
from mountcalc.thresholds import ROUNDING
from mountcalc.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    STANDARD_GRAVITY,
    Dimension,
    Unit,
    UnitError,
    UnknownUnitError,
    near_units,
    parse_unit,
)

_LONGEST_TEXT = 100
_ABOVE_ZERO = "above zero"
_MINUS = {"-", "−"}

_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5),
    "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8),
    "⅞": (7, 8),
}  # fmt: skip
_ONE_VULGAR = f"[{''.join(_VULGAR)}]"

_NUMBER = re.compile(
    rf"""
    (?P<sign>[+\-−]?)\s*
    (?:
        (?P<vulgar_whole>[0-9]*)(?:\s*|-)(?P<vulgar>{_ONE_VULGAR})
      | (?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<top>[0-9]+)\s?[/⁄]\s?(?P<bottom>[0-9]+)
      | (?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+\-]?[0-9]+)?)
    )
    (?![0-9.,]|\s?[/⁄]\s?[0-9])
    """,
    re.VERBOSE,
)
_SIMPLE_UNIT = re.compile(r"\s*([^\W\d]+|[\"″”'′’°])\s*")
_COMMA = re.compile(r"[0-9],[0-9]")
_NOT_FINITE = r"(?i)\s*[+-]?(nan|inf|infinity)\b"


class ValueTextError(ValueError):
    """A value of the scenario that is not what is wanted there; the text says what is."""


class ValueKind(NamedTuple):
    """A kind of quantity that a key of the scenario takes.

    ``examples`` would be right; ``scales`` are the dimensions that are taken, and by what their SI
    value is multiplied. Bounds [SI] are wide: within them later arithmetic cannot overflow. A value
    below ``low`` or above ``high`` is told ``low_words`` or ``high_words``.
    """

    name: str
    examples: tuple[str, ...]
    scales: Mapping[Dimension, float]
    low: float
    high: float
    low_words: str = _ABOVE_ZERO
    high_words: str = ""

    @property
    def wanted(self) -> str:
        """What the kind wants, with examples."""
        return f"{self.name} wanted (such as {listed(map(shown, self.examples))})"


class Si(float):
    """A number in SI: what a program may give for a quantity, where a file has text."""


_TINY, _FAR, _STRONG = 1e-6, 1e4, 1e12
_WEIGHT = {FORCE: 1.0, MASS: STANDARD_GRAVITY}
_PRESSURE = Dimension(mass=1, length=-1, time=-2)
_PER_LENGTH = {Dimension(mass=1, length=-1): 1.0, Dimension(mass=1, time=-2): 1 / STANDARD_GRAVITY}

POSITION = ValueKind("length", ("14 1/2 in", "370 mm"), {LENGTH: 1.0}, -_FAR, _FAR, "above -10 km")
DISTANCE = ValueKind("length", ("14 1/2 in", "370 mm"), {LENGTH: 1.0}, _TINY, _FAR)
CLEARANCE = ValueKind("length", ("0.002 in", "0.05 mm"), {LENGTH: 1.0}, _TINY, _FAR)
ANGLE_KIND = ValueKind(
    "angle", ("-15 deg", "0.2 rad"), {ANGLE: 1.0}, -8 * pi, 8 * pi, "above -4 turns"
)
LOAD = ValueKind("weight or force", ("30 lb", "140 N"), _WEIGHT, 0.0, _STRONG, "zero or more")
LOAD_LIMIT = ValueKind("load", ("200 lbf", "900 N"), _WEIGHT, _TINY, _STRONG)
STIFFNESS = ValueKind("force", ("12000 lbf", "55 kN"), _WEIGHT, _TINY, _STRONG)
# A plate that gives more than 0.1 m under 1 N is held by nothing.
RATE = ValueKind(
    "force per length", ("300 N/mm", "1700 lbf/in"),
    {Dimension(mass=1, time=-2): 1.0, Dimension(mass=1, length=-1): STANDARD_GRAVITY},
    10.0, _STRONG, "of 0.01 N/mm (0.057 lbf/in) or more",
)  # fmt: skip
MASS_PER_LENGTH = ValueKind(
    "mass per length", ("0.1 kg/m", "0.07 lb/ft"), _PER_LENGTH, 0.0, 1e6, "zero or more"
)
POWER = ValueKind(
    "power", ("3/4 hp", "550 W"), {Dimension(mass=1, length=2, time=-3): 1.0},
    0.0, _STRONG, "zero or more",
)  # fmt: skip
MOTOR_POWER = POWER._replace(low=1.0, low_words="of 1 W or more")  # less is no motor: a slip
ROTATION_SPEED = ValueKind(
    "speed of rotation", ("1725 rpm",), {Dimension(angle=1, time=-1): 1.0}, _TINY, 1e6
)
LIMIT = ValueKind(
    "pressure or load", ("25 psi", "90 lbf"), _WEIGHT | {_PRESSURE: 1.0}, _TINY, _STRONG
)


def read_quantity(value: object, kind: ValueKind) -> float:
    """Read a quantity of a kind [SI], as it stands in the file: only text with a unit is taken.

    A ValueTextError says what else was found and what is wanted.
    """
    return read_measure(value, kind)[0]


def read_measure(value: object, kind: ValueKind) -> tuple[float, Dimension]:
    """Read a quantity of a kind [SI], and the dimension it was given in; see `read_quantity`."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        if isinstance(value, float) and not math.isfinite(value):
            refuse(kind.wanted, float(value), ", which is no finite number")
        if isinstance(value, Si):
            return _bounded(float(value), f"{value:g} (SI)", kind), next(iter(kind.scales))
        fail(f"number without a unit: {shown(value)}; {kind.wanted}")
    if not isinstance(value, str):
        refuse(kind.wanted, value)
    pairs = _pairs(value, kind)
    units = [_unit(name, value, kind) for _, name in pairs]
    dimension = units[0].dimension
    if any(unit.dimension != dimension for unit in units):
        fail(f"parts of different kinds in one value: {shown(value)}; {kind.wanted}")
    if dimension not in kind.scales:
        fail(f"{kind.wanted}, got {dimension_name(dimension)}: {shown(value)}")
    if any(later.factor >= earlier.factor for earlier, later in pairwise(units)):
        fail(f"parts not from the larger unit to the smaller: {shown(value)}; {kind.wanted}")
    parts = (number * unit.factor for (number, _), unit in zip(pairs, units, strict=True))
    return _bounded(math.fsum(parts) * kind.scales[dimension], value, kind), dimension


def read_number_text(text: str) -> float:
    """Read a number as a shop writes it: ``"14 1/2"``, ``"3/8"``, ``"0.375"``."""
    match = _NUMBER.fullmatch(text.strip())
    if match is None or len(text) > _LONGEST_TEXT:
        fail(f"not a number: {shown(text)}")
    return _value(match, text)


def fail(message: str) -> NoReturn:
    """Refuse a value; the message says what was found and what is wanted."""
    raise ValueTextError(message)


def refuse(wanted: str, value: object, more: str = "") -> NoReturn:
    """Refuse a value that is not what is wanted; the more is said of what was found."""
    raise ValueTextError(f"{wanted}, got {shown(value)}{more}")


def _pairs(text: str, kind: ValueKind) -> list[tuple[float, str]]:
    """Take text apart into numbers and units: one pair, or several as in "5 ft 3 1/2 in"."""
    if len(text) > _LONGEST_TEXT:
        fail(f"text too long for a quantity: {shown(text)}; {kind.wanted}")
    rest = text.strip().replace("''", '"')  # two marks of feet are one of inches
    match = _NUMBER.match(rest)
    if match is None:
        _refuse_number(text, kind)
    first, unit = _value(match, text), rest[match.end() :].strip()
    if not unit:
        fail(f"number without a unit: {shown(text)}; {kind.wanted}")
    # The sign of the first holds for all.
    pairs: list[tuple[float, str]] = []
    while rest:
        number = _NUMBER.match(rest)
        simple = _SIMPLE_UNIT.match(rest, number.end()) if number else None
        if number is None or simple is None or (pairs and number["sign"]):
            return [(first, unit)]
        value = _value(number, text)
        pairs.append((-value if pairs and match["sign"] in _MINUS else value, simple[1]))
        rest = rest[simple.end() :]
    return pairs if len(pairs) > 1 else [(first, unit)]


def _value(match: re.Match[str], text: str) -> float:
    """Return the number of a match."""
    if match["decimal"] is not None:
        size = float(match["decimal"])
    else:
        top, bottom = _VULGAR.get(match["vulgar"] or "", (0, 1))
        if not match["vulgar"]:
            top, bottom = int(match["top"]), int(match["bottom"])
            if bottom == 0:
                fail(f"fraction with a zero below the line: {shown(text)}")
            if match["whole"] is not None and top >= bottom:
                fail(f"the fraction of a mixed number is less than one: {shown(text)}")
        size = int(match["whole"] or match["vulgar_whole"] or 0) + top / bottom
    if not math.isfinite(size):
        fail(f"number too large: {shown(text)}")
    return -size if match["sign"] in _MINUS else size


def _refuse_number(text: str, kind: ValueKind) -> NoReturn:
    if re.match(_NOT_FINITE, text):
        refuse(kind.wanted, text, ", which is no finite number")
    if _COMMA.search(text):
        fail(f"comma in a number: {shown(text)}; write 1725 without it, or 1.725 with a point")
    refuse(kind.wanted, text)


def _unit(name: str, text: str, kind: ValueKind) -> Unit:
    if _COMMA.search(text):
        _refuse_number(text, kind)
    try:
        return parse_unit(name)
    except UnknownUnitError as error:
        near = listed(map(shown, near_units(error.name, tuple(kind.scales))))
        hint = f" (near: {near})" if near else ""
        fail(f"unit not known: {shown(error.name)}{hint} in {shown(text)}; {kind.wanted}")
    except UnitError:
        fail(f"number and unit not understood: {shown(text)}; {kind.wanted}")


def _bounded(value: float, text: str, kind: ValueKind) -> float:
    if value < kind.low - ROUNDING * abs(kind.low):
        if value > 0 and kind.low_words == _ABOVE_ZERO:
            fail(f"{kind.name} too small: {shown(text)}")
        refuse(f"{kind.name} {kind.low_words} wanted", text)
    if not value <= kind.high + ROUNDING * abs(kind.high):
        if kind.high_words:
            refuse(f"{kind.name} {kind.high_words} wanted", text)
        fail(f"{kind.name} too large: {shown(text)}")
    return value
