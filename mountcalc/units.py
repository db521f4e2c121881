"""Units of measure: the one place that talks to the units library.

Our units are defined in the library's syntax in ``data/units.txt``. What the library makes of
them is kept in ``data/unit_factors.txt``, so that it need not be imported (a tenth of a second)
unless a scenario has a unit that is not there: then first our own small registry and then the
library's large one is asked. The library is handed single unit names, never a whole text:
products, quotients and powers are taken apart here, and no text of a user is evaluated.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

if TYPE_CHECKING:
    import pint

# What a float of the scenario is in.
Metres: TypeAlias = float
Radians: TypeAlias = float
Newtons: TypeAlias = float
Watts: TypeAlias = float
RadiansPerSecond: TypeAlias = float
KilogramsPerMetre: TypeAlias = float
NewtonsPerMetre: TypeAlias = float

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s^2] (3rd CGPM 1901; NIST SP 811)."""

# Not by importlib.resources, which takes a hundredth of a second to import.
_DATA = Path(__file__).parent / "data"
_MAX_POWER = 4
_LINEAR = 1e-9
_BASES = ("[length]", "[mass]", "[time]", "[angle]")
# What the library's prefixes may stand before; anything else ("pin", a pico-inch) is a slip.
_METRIC = {"meter", "gram", "second", "newton", "watt", "pascal", "joule", "radian", "liter"}
_SIGNS = {'"': "inch", "″": "inch", "”": "inch", "'": "foot", "′": "foot", "’": "foot"} | {
    "°": "degree",
    "%": "percent",
}
# SI value of one degree [K] and the scale's reading at absolute zero (NIST SP 811, B.8.2: exact).
_CELSIUS, _FAHRENHEIT, _KELVIN = (1.0, -273.15), (5 / 9, -459.67), (1.0, 0.0)
_TEMPERATURES = (
    dict.fromkeys(("degc", "°c", "℃", "c", "celsius", "degreescelsius"), _CELSIUS)
    | dict.fromkeys(("degf", "°f", "℉", "f", "fahrenheit", "degreesfahrenheit"), _FAHRENHEIT)
    | dict.fromkeys(("k", "kelvin"), _KELVIN)
)
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_NAME = r"(?:[^\W\d_⁰¹²³⁴-⁹][^\W\d⁰¹²³⁴-⁹]*|[\"″”'′’°%])"
_FACTOR = re.compile(
    rf"({_NAME})(?:\s*(?:\^|\*\*)\s*(-?[0-9]{{1,2}})|([⁻⁰¹²³⁴-⁹]{{1,3}})|([0-9]))?"
)
_ONE_OVER = re.compile(r"1?\s*/\s*")
_JOINT = re.compile(r"\s*(/|\bper\b|\*|·|⋅|×|-|)\s*")


class UnitError(ValueError):
    """Text that is no unit of measure."""


class UnknownUnitError(UnitError):
    """A unit name that neither registry has; ``name`` is the name."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"unit not known: {name!r}")


class Dimension(NamedTuple):
    """Powers of length, mass, time and angle, and of anything else as ``other``."""

    length: float = 0
    mass: float = 0
    time: float = 0
    angle: float = 0
    other: tuple[tuple[str, float], ...] = ()

    def times(self, that: Dimension, power: int) -> Dimension:
        """Return this dimension times ``that`` to the ``power``."""
        other = dict(self.other)
        for name, exponent in that.other:
            other[name] = other.get(name, 0) + power * exponent
        return Dimension(
            self.length + power * that.length,
            self.mass + power * that.mass,
            self.time + power * that.time,
            self.angle + power * that.angle,
            tuple(sorted((name, exponent) for name, exponent in other.items() if exponent)),
        )


class Unit(NamedTuple):
    """A unit of measure: ``factor`` is the SI value of one of it."""

    factor: float
    dimension: Dimension


LENGTH = Dimension(length=1)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)
ANGLE = Dimension(angle=1)
FORCE = Dimension(length=1, mass=1, time=-2)


@lru_cache(maxsize=2)
def _registry(*, small: bool) -> pint.UnitRegistry[Any]:
    import pint  # noqa: PLC0415  # a tenth of a second, and seldom needed

    if not small:
        return pint.UnitRegistry()
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    registry.load_definitions((_DATA / "units.txt").read_text(encoding="utf-8").splitlines())
    return registry


@lru_cache(maxsize=1)
def _stored() -> dict[str, Unit]:
    """Return the units of the small registry as they were worked out beforehand."""
    units = {}
    text = (_DATA / "unit_factors.txt").read_text(encoding="utf-8")
    for line in text.splitlines():
        if line and not line.startswith("#"):
            name, *numbers = line.split()
            factor, length, mass, time, angle = map(float, numbers)
            units[name] = Unit(factor, Dimension(length, mass, time, angle))
    return units


@lru_cache(maxsize=256)
def _named_unit(name: str) -> Unit:
    """Look up one unit name [SI factor and dimension]."""
    name = _SIGNS.get(name, name)
    return _stored().get(name) or unit_of_library(name)


def unit_of_library(name: str) -> Unit:
    """Ask the units library for one unit name, past what is stored; see `parse_unit`."""
    for small in (True, False):
        registry = _registry(small=small)
        candidates = registry.parse_unit_name(name)
        prefix, canonical, plural = candidates[0] if candidates else ("", "", name)
        # A plural "s" is allowed on all but lone letters.
        if (prefix and canonical not in _METRIC) or (plural and len(name) - len(plural) <= 1):
            continue
        try:
            one: Any = registry.Quantity(1.0, name).to_base_units()
            two: Any = registry.Quantity(2.0, name).to_base_units()
        except Exception:  # noqa: BLE001, S112  # whatever a definition we never saw makes of it
            continue
        factor = float(one.m)
        # Degrees of heat and decibels are no plain multiples.
        if isfinite(factor) and factor > 0 and abs(float(two.m) / factor - 2) <= _LINEAR:
            powers = {str(key): float(power) for key, power in dict(one.dimensionality).items()}
            length, mass, time, angle = (powers.pop(key, 0.0) for key in _BASES)
            return Unit(factor, Dimension(length, mass, time, angle, tuple(sorted(powers.items()))))
    raise UnknownUnitError(name)


def small_unit_names() -> list[str]:
    """Return all names and symbols of the small registry, sorted."""
    return sorted(_registry(small=True))


@lru_cache(maxsize=256)
def parse_unit(text: str) -> Unit:
    """Read a unit of measure, such as ``"in"``, ``"kg/m"``, ``"N/mm^2"`` or ``"1/s"``.

    UnknownUnitError: a name that is not known; UnitError: text that is not built like a unit.
    """
    not_understood = f"not understood as a unit: {text.strip()!r}"
    factor, dimension, rest, sign = 1.0, Dimension(), text.strip(), 1
    if upside_down := _ONE_OVER.match(rest):
        sign, rest = -1, rest[upside_down.end() :]
    while True:
        match = _FACTOR.match(rest)
        if match is None:
            raise UnitError(not_understood)
        raw = match[2] or (match[3] or "").translate(_SUPERSCRIPTS) or match[4] or "1"
        if re.fullmatch(r"-?[0-9]+", raw) is None or not 0 < abs(int(raw)) <= _MAX_POWER:
            raise UnitError(not_understood)
        named, power = _named_unit(match[1]), sign * int(raw)
        factor *= named.factor**power
        dimension = dimension.times(named.dimension, power)
        rest = rest[match.end() :]
        if not rest:
            break
        joint = _JOINT.match(rest)
        rest = rest[joint.end() :] if joint else rest
        sign = -1 if joint is not None and joint[1] in {"/", "per"} else 1
    if not isfinite(factor) or factor <= 0:
        raise UnitError(not_understood)
    return Unit(factor, dimension)


def si_factor(unit: str) -> float:
    """Return the SI value of one of a unit: 0.0254 for ``"in"``."""
    return parse_unit(unit).factor


def kelvin(reading: float, scale: str) -> float:
    """Return the temperature [K] of a reading on a scale such as ``"degC"``, ``"°F"`` or ``"K"``.

    UnknownUnitError: a scale that is not known; capitals and blanks do not matter.
    """
    known = _TEMPERATURES.get("".join(scale.split()).casefold())
    if known is None:
        raise UnknownUnitError(scale.strip())
    degree, absolute_zero = known
    return (reading - absolute_zero) * degree


def near_units(name: str, wanted: tuple[Dimension, ...] = ()) -> list[str]:
    """Unit names that are spelt nearly like ``name``, those of the wanted dimensions first."""
    import difflib  # noqa: PLC0415  # seldom needed

    folded: dict[str, str] = {}
    for one in small_unit_names():
        folded[one.casefold()] = one  # of "HP" and "hp" the second, as the names come sorted
    near = difflib.get_close_matches(name.casefold(), list(folded), n=8, cutoff=0.5)
    of_kind = [folded[one] for one in near if parse_unit(folded[one]).dimension in wanted]
    return (of_kind or [folded[one] for one in near[:1]])[:2]
