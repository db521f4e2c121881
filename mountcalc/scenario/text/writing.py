"""Writing quantities as a scenario file has them, and the notes that a scenario makes of itself."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from mountcalc.units import STANDARD_GRAVITY, si_factor

Vector = tuple[float, float]

# A text says a value if reading it gives the value back within this share of it.
_SAME = 1e-12
# Positions and angles below this [m or rad] are rounding of zero.
_NOTHING = 1e-12
# Fractions of a rule are written as such; others, as thirds and the pitches of threads, where the
# decimals would not end.
_SIXTY_FOURTHS = 64
_LONG_DECIMALS = 8
_PLAIN = (1e-6, 1e9)  # numbers between these are written without an exponent
_SURE_DIGITS = 13  # the rest is dropped, so that what was read is written the same again
DIRECTIONS = {"right": 0.0, "up": math.pi / 2, "left": math.pi, "down": -math.pi / 2}
"""Directions that have a name [rad]."""

_WEIGHTS = {"lb", "kg"}


class Display(StrEnum):
    """Units of what people read; JSON and CSV are not touched by it."""

    INCH = "inch"
    METRIC = "metric"


def quoted(text: str) -> str:
    """Write any text as a TOML string."""
    return f'"{"".join(map(_escaped, text))}"'


def _escaped(char: str) -> str:
    if char in '"\\':
        return f"\\{char}"
    if char.isprintable():
        return char
    return f"\\u{ord(char):04X}" if char <= "\uffff" else f"\\U{ord(char):08X}"


def number_text(value: float) -> str:
    """Write a plain number with as few digits as give it back."""
    value = float(f"{value:.{_SURE_DIGITS}g}")
    digits = next(
        digits
        for digits in range(1, _SURE_DIGITS + 1)
        if abs(float(f"{value:.{digits}g}") - value) <= _SAME * abs(value)
    )
    text = f"{value:.{digits}g}"
    if value == 0 or _PLAIN[0] <= abs(value) < _PLAIN[1]:
        from decimal import Decimal  # noqa: PLC0415  # seldom needed

        text = f"{Decimal(text):f}"
    return text


def _fraction_text(value: float) -> str | None:
    """Write a mixed number, ``"-14 1/2"``, if the value is one of a rule, or has no short text."""
    from fractions import Fraction  # noqa: PLC0415  # seldom needed

    exact = Fraction(value).limit_denominator(_SIXTY_FOURTHS)
    if abs(float(exact) - value) > _SAME * abs(value):
        return None
    is_of_rule = exact.denominator & (exact.denominator - 1) == 0
    if not is_of_rule and len(number_text(value)) <= _LONG_DECIMALS:
        return None
    whole, rest = divmod(abs(exact), 1)
    sign = "-" if exact < 0 else ""
    parts = [str(whole)] if whole or not rest else []
    return sign + " ".join([*parts, str(rest)] if rest else parts)


class UnitsToWrite(NamedTuple):
    """For each kind of quantity the units that it may be written in.

    The first is taken where its number is short or a fraction, else the one with the shortest text,
    which is most likely how it was typed. ``fractions`` are the units that are written with
    fractions where these are exact.
    """

    units: Mapping[str, tuple[str, ...]]
    fractions: frozenset[str]

    def write(self, kind: str, value: float) -> str:
        """Write a quantity."""
        if kind in {"position", "angle"} and abs(value) < _NOTHING:
            value = 0.0
        first, *others = self.units[kind]
        number = self._number(value, first)
        texts = [f"{number} {first}"]
        if "/" not in number and len(number) > _LONG_DECIMALS:
            texts += [f"{self._number(value, unit)} {unit}" for unit in others]
        return quoted(min(texts, key=len))

    def _number(self, value: float, unit: str) -> str:
        size = si_factor(unit) * (STANDARD_GRAVITY if unit in _WEIGHTS else 1.0)
        number = value / size
        fraction = _fraction_text(number) if unit in self.fractions else None
        return number_text(number) if fraction is None else fraction

    def show(self, value: float, kind: str, digits: int = 3) -> str:
        """Show an SI value of a kind of quantity to so many figures, for a sentence."""
        unit = self.units[kind][0]
        return f"{float(f'{value / si_factor(unit):.{digits}g}'):g} {unit}"

    def about(self, kind: str, value: float, text: str) -> str:
        """Tell a quantity in our unit where its text has another."""
        is_ours = text.endswith(f' {self.units[kind][0]}"')
        return "" if is_ours else f"about {self.show(value, kind)}"

    def point(self, at: Vector) -> str:
        """Write a point."""
        return f"[{self.write('position', at[0])}, {self.write('position', at[1])}]"

    def direction(self, angle: float) -> str:
        """Write a direction, by its name if it has one."""
        for name, named in DIRECTIONS.items():
            if abs(angle - named) < _NOTHING:
                return quoted(name)
        return self.write("angle", angle)


_ANGLE_AND_SPEED = {"angle": ("deg",), "speed": ("rpm",)}
UNITS_TO_WRITE = {
    Display.INCH: UnitsToWrite(
        {
            "position": ("in", "mm"),
            "length": ("in", "mm"),
            "weight": ("lb", "kg", "N"),
            "force": ("lbf", "N"),
            "pressure": ("psi", "MPa"),
            "power": ("hp", "W"),
            "mass": ("lb/ft", "kg/m"),
            "rate": ("lbf/in", "N/mm"),
            **_ANGLE_AND_SPEED,
        },
        frozenset({"in", "hp"}),
    ),
    Display.METRIC: UnitsToWrite(
        {
            "position": ("mm", "in"),
            "length": ("mm", "in"),
            "weight": ("kg", "N", "lb"),
            "force": ("N", "kN", "kg", "lbf"),
            "pressure": ("MPa", "kPa", "psi"),
            "power": ("W", "kW", "hp"),
            "mass": ("kg/m",),
            "rate": ("N/mm", "lbf/in"),
            **_ANGLE_AND_SPEED,
        },
        frozenset(),
    ),
}
"""Units by display; the kinds are position, length, weight, force, pressure, power, mass (per
length), rate (force per length), angle and speed (of rotation)."""


class Notes:
    """Sentences about what was taken, in the units of the scenario's display."""

    def __init__(self, display: Display) -> None:
        self.sentences: list[str] = []
        self.show = UNITS_TO_WRITE[display].show

    def add(self, sentence: str) -> None:
        """Note a sentence, once."""
        if sentence not in self.sentences:
            self.sentences.append(sentence)
