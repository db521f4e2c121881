"""Viscosity of a mineral oil of an ISO grade at a temperature."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from mountcalc.errors import InputError

__all__ = [
    "GREATEST_TEMPERATURE",
    "LEAST_TEMPERATURE",
    "dynamic_viscosity",
    "kinematic_viscosity",
    "oil_density",
    "oil_grades",
]

_ZERO_CELSIUS = 273.15
_MM2 = 1e-6
_TWO_TEMPERATURES = (40.0 + _ZERO_CELSIUS, 100.0 + _ZERO_CELSIUS)
_REFERENCE = 15.0 + _ZERO_CELSIUS

# Colder a mineral oil may not pour; hotter it does not last (from memory).
LEAST_TEMPERATURE, GREATEST_TEMPERATURE = 273.15, 393.15

# Walther's equation with its constant 0.7 holds above this [mm2/s] (ASTM D341).
_THINNEST = 2.0


@dataclass(frozen=True, slots=True)
class _Oils:
    """Viscosity at 100 deg C [mm2/s] by grade; density [kg/m3] at 15 deg C, its fall per kelvin."""

    at_100: dict[int, float]
    density: float
    fall: float


@lru_cache(maxsize=1)
def _oils() -> _Oils:
    text = (Path(__file__).parents[1] / "data/oils.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    density = data["density"]
    return _Oils(
        {int(grade): value for grade, value in data["at_100_c_mm2_s"].items()},
        density["at_15_c_kg_m3"],
        density["fall_per_k_kg_m3"],
    )


@lru_cache(maxsize=1)
def oil_grades() -> tuple[int, ...]:
    """ISO viscosity grades that are known, rising."""
    return tuple(sorted(_oils().at_100))


def kinematic_viscosity(grade: float, temperature: float) -> float:
    """Kinematic viscosity of a mineral oil: log log(nu + 0.7) = A - B log T.

    Parameters
    ----------
    grade : float [mm^2/s]
        ISO viscosity grade, one of :func:`oil_grades`: nu at 40 deg C.
    temperature : float [K]
        Temperature of the oil, 273.15 to 393.15.

    Returns
    -------
    float [m^2/s]
        nu. A and B come from 40 deg C (ISO 3448) and 100 deg C, there for a viscosity index of
        95 (ASTM D2270); the law is Walther's (ASTM D341). An oil may differ from its grade by
        10 %. An index of 95 is common practice for plain mineral oils.

    Raises
    ------
    InputError
        An unknown grade, or a temperature outside the range, or so hot for the grade that the
        law no longer holds.
    """
    at_100 = _oils().at_100.get(int(grade)) if float(grade).is_integer() else None
    if at_100 is None:
        known = ", ".join(map(str, oil_grades()))
        raise InputError(f"no viscosity is known for ISO VG {grade:g}; known are {known}")
    if not LEAST_TEMPERATURE <= temperature <= GREATEST_TEMPERATURE:
        raise InputError(
            f"an oil temperature of {temperature - _ZERO_CELSIUS:.4g} degC is outside "
            f"{LEAST_TEMPERATURE - _ZERO_CELSIUS:.0f} to {GREATEST_TEMPERATURE - _ZERO_CELSIUS:.0f}"
        )
    viscosity = _walther(grade, at_100, temperature)
    if viscosity < _THINNEST:
        raise InputError(
            f"ISO VG {grade:g} is too thin at {temperature - _ZERO_CELSIUS:.4g} degC to be told"
        )
    return viscosity * _MM2


def _walther(at_40: float, at_100: float, temperature: float) -> float:
    """Viscosity [mm2/s] on the straight line through both points."""
    cold, hot = (math.log10(math.log10(value + 0.7)) for value in (at_40, at_100))
    start, end = map(math.log10, _TWO_TEMPERATURES)
    share = (math.log10(temperature) - start) / (end - start)
    power: float = 10.0 ** (10.0 ** (cold + share * (hot - cold)))
    return power - 0.7


def oil_density(temperature: float) -> float:
    """Density of a mineral oil: 870 kg/m^3 at 15 deg C, less 0.65 per kelvin.

    Parameters
    ----------
    temperature : float [K]
        Temperature of the oil.

    Returns
    -------
    float [kg/m^3]
        Density (common practice; oils differ by some 3 %).
    """
    oils = _oils()
    return oils.density - oils.fall * (temperature - _REFERENCE)


def dynamic_viscosity(grade: float, temperature: float) -> float:
    """Dynamic viscosity of a mineral oil: mu = rho nu.

    Parameters
    ----------
    grade : float [mm^2/s]
        ISO viscosity grade, one of :func:`oil_grades`.
    temperature : float [K]
        Temperature of the oil, 273.15 to 393.15.

    Returns
    -------
    float [Pa s]
        mu, from :func:`kinematic_viscosity` and :func:`oil_density` (common practice).

    Raises
    ------
    InputError
        As :func:`kinematic_viscosity`.
    """
    return kinematic_viscosity(grade, temperature) * oil_density(temperature)
