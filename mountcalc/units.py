"""Units of measure: the one place that talks to the units library.

Our units are defined in the library's syntax in ``data/units.txt``. What the library makes of
them is kept in ``data/unit_factors.txt``, so that it need not be imported (a tenth of a second)
unless a scenario has a unit that is not there: then first our own small registry and then the
library's large one is asked. The library is handed single unit names, never a whole text:
products, quotients and powers are taken apart here, and no text of a user is evaluated.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    import pint

__all__ = [
    "ANGLE",
    "FORCE",
    "LENGTH",
    "MASS",
    "STANDARD_GRAVITY",
    "TIME",
    "Dimension",
    "KilogramsPerMetre",
    "Metres",
    "Newtons",
    "Radians",
    "RadiansPerSecond",
    "Unit",
    "UnitError",
    "UnknownUnitError",
    "Watts",
    "kelvin",
    "near_units",
    "parse_unit",
    "si_factor",
    "small_unit_names",
    "unit_of_library",
]

# What a float of the scenario is in.
Metres: TypeAlias = float
Radians: TypeAlias = float
Newtons: TypeAlias = float
Watts: TypeAlias = float
RadiansPerSecond: TypeAlias = float
KilogramsPerMetre: TypeAlias = float

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


@dataclass(frozen=True, slots=True)
class Dimension:
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


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of measure: ``factor`` is the SI value of one of it."""

    factor: float
    dimension: Dimension


LENGTH = Dimension(length=1)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)
ANGLE = Dimension(angle=1)
FORCE = Dimension(length=1, mass=1, time=-2)


@lru_cache(maxsize=1)
def _small_registry() -> pint.UnitRegistry[Any]:
    import pint  # noqa: PLC0415  # a tenth of a second, and seldom needed

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    text = (_DATA / "units.txt").read_text(encoding="utf-8")
    registry.load_definitions(text.splitlines())
    return registry


@lru_cache(maxsize=1)
def _large_registry() -> pint.UnitRegistry[Any]:
    import pint  # noqa: PLC0415  # see above

    return pint.UnitRegistry()


def _has(registry: pint.UnitRegistry[Any], name: str) -> bool:
    """Whether the registry has the name, a plural "s" being allowed on all but lone letters."""
    candidates = registry.parse_unit_name(name)
    if not candidates:
        return False
    prefix, canonical, plural = candidates[0]
    if prefix and canonical not in _METRIC:
        return False
    return not plural or len(name) - len(plural) > 1


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
    for registry in (_small_registry, _large_registry):
        if _has(registry(), name):
            unit = _from_registry(registry(), name)
            if unit is not None:
                return unit
    raise UnknownUnitError(name)


def small_unit_names() -> list[str]:
    """Return all names and symbols of the small registry, sorted."""
    return sorted(_small_registry())


def _from_registry(registry: pint.UnitRegistry[Any], name: str) -> Unit | None:
    """Return the unit, or None for one that is not a plain multiple (degrees of heat, decibels)."""
    try:
        one: Any = registry.Quantity(1.0, name).to_base_units()
        two: Any = registry.Quantity(2.0, name).to_base_units()
    except Exception:  # noqa: BLE001  # whatever a definition we never saw makes of it: not a unit
        return None
    factor = float(one.m)
    if not isfinite(factor) or factor <= 0 or abs(float(two.m) / factor - 2) > _LINEAR:
        return None
    powers = {str(key): float(power) for key, power in dict(one.dimensionality).items()}
    length, mass, time, angle = (powers.pop(key, 0.0) for key in _BASES)
    return Unit(factor, Dimension(length, mass, time, angle, tuple(sorted(powers.items()))))


@lru_cache(maxsize=256)
def parse_unit(text: str) -> Unit:
    """Read a unit of measure: names, ``*``, ``/``, powers.

    Parameters
    ----------
    text : str
        Such as ``"in"``, ``"lbf"``, ``"kg/m"``, ``"N/mm^2"``, ``"1/s"``.

    Returns
    -------
    Unit

    Raises
    ------
    UnknownUnitError
        A name that is not known.
    UnitError
        Text that is not built like a unit.
    """
    factor, dimension = 1.0, Dimension()
    for name, power in _factors(text):
        named = _named_unit(name)
        factor *= named.factor**power
        dimension = dimension.times(named.dimension, power)
    if not isfinite(factor) or factor <= 0:
        raise UnitError(_not_understood(text))
    return Unit(factor, dimension)


def _factors(text: str) -> Iterator[tuple[str, int]]:
    """Take a unit apart into names and powers."""
    rest = text.strip()
    sign = 1
    if upside_down := _ONE_OVER.match(rest):
        sign, rest = -1, rest[upside_down.end() :]
    while True:
        match = _FACTOR.match(rest)
        if match is None:
            raise UnitError(_not_understood(text))
        yield match[1], sign * _power(match, text)
        rest = rest[match.end() :]
        if not rest:
            return
        joint = _JOINT.match(rest)
        if joint is not None:
            rest = rest[joint.end() :]
        sign = -1 if joint is not None and joint[1] in {"/", "per"} else 1


def _power(match: re.Match[str], text: str) -> int:
    """Return the power that follows a unit's name, 1 if none does."""
    raw = match[2] or (match[3] or "").translate(_SUPERSCRIPTS) or match[4] or "1"
    if re.fullmatch(r"-?[0-9]+", raw) is None or not 0 < abs(int(raw)) <= _MAX_POWER:
        raise UnitError(_not_understood(text))
    return int(raw)


def _not_understood(text: str) -> str:
    return f"not understood as a unit: {text.strip()!r}"


def si_factor(unit: str) -> float:
    """Return the SI value of one of a unit.

    Parameters
    ----------
    unit : str
        Such as ``"in"`` or ``"lbf"``.

    Returns
    -------
    float
        0.0254 for ``"in"``: divide an SI value by it to have it in that unit.

    Raises
    ------
    UnitError
        A unit that is not known.
    """
    return parse_unit(unit).factor


def kelvin(reading: float, scale: str) -> float:
    """Return the temperature of a reading on a thermometer.

    Parameters
    ----------
    reading : float [degrees of the scale]
        What it shows.
    scale : str
        Such as ``"degC"``, ``"°F"`` or ``"K"``; capitals and blanks do not matter.

    Returns
    -------
    float
        [K]

    Raises
    ------
    UnknownUnitError
        A scale that is not known.
    """
    known = _TEMPERATURES.get("".join(scale.split()).casefold())
    if known is None:
        raise UnknownUnitError(scale.strip())
    degree, absolute_zero = known
    return (reading - absolute_zero) * degree


def near_units(name: str, wanted: tuple[Dimension, ...] = ()) -> list[str]:
    """Unit names that are spelt nearly like ``name``, those of the wanted dimensions first."""
    folded: dict[str, str] = {}
    for one in small_unit_names():
        folded[one.casefold()] = one  # of "HP" and "hp" the second, as the names come sorted
    near = difflib.get_close_matches(name.casefold(), list(folded), n=8, cutoff=0.5)
    of_kind = [folded[one] for one in near if parse_unit(folded[one]).dimension in wanted]
    return (of_kind or [folded[one] for one in near[:1]])[:2]
