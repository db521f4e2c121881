"""Viscosity of a mineral oil of an ISO grade at a temperature.

Symbols
-------
grade : ISO viscosity grade, one of :func:`oil_grades`: nu at 40 deg C [mm^2/s]
temperature : of the oil, 273.15 to 393.15 for a viscosity [K]
"""

from __future__ import annotations

import math
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any

from mountcalc.errors import InputError

_ZERO_CELSIUS = 273.15
# Colder a mineral oil may not pour; hotter it does not last (from memory).
LEAST_TEMPERATURE, GREATEST_TEMPERATURE = 273.15, 393.15
# Walther's equation with its constant 0.7 holds above this [mm2/s] (ASTM D341).
_THINNEST = 2.0


@lru_cache(maxsize=1)
def _oils() -> dict[str, Any]:
    text = (Path(__file__).parents[1] / "data/oils.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@lru_cache(maxsize=1)
def oil_grades() -> tuple[int, ...]:
    """ISO viscosity grades that are known, rising."""
    return tuple(sorted(map(int, _oils()["at_100_c_mm2_s"])))


def kinematic_viscosity(grade: float, temperature: float) -> float:
    """Kinematic viscosity nu of a mineral oil: log log(nu + 0.7) = A - B log T [m^2/s].

    A and B come from 40 deg C (ISO 3448) and 100 deg C, there for a viscosity index of 95 (ASTM
    D2270); the law is Walther's (ASTM D341). An oil may differ from its grade by 10 %. An index of
    95 is common practice for plain mineral oils. InputError: an unknown grade, or a temperature
    outside the range, or so hot for the grade that the law no longer holds.
    """
    if grade not in oil_grades():
        known = ", ".join(map(str, oil_grades()))
        raise InputError(f"no viscosity is known for ISO VG {grade:g}; known are {known}")
    if not LEAST_TEMPERATURE <= temperature <= GREATEST_TEMPERATURE:
        raise InputError(
            f"an oil temperature of {temperature - _ZERO_CELSIUS:.4g} degC is outside "
            f"{LEAST_TEMPERATURE - _ZERO_CELSIUS:.0f} to {GREATEST_TEMPERATURE - _ZERO_CELSIUS:.0f}"
        )
    # In mm2/s, on the straight line through both points.
    at_100 = _oils()["at_100_c_mm2_s"][str(int(grade))]
    cold, hot = (math.log10(math.log10(value + 0.7)) for value in (grade, at_100))
    start, end = (math.log10(value + _ZERO_CELSIUS) for value in (40.0, 100.0))
    share = (math.log10(temperature) - start) / (end - start)
    viscosity: float = 10.0 ** (10.0 ** (cold + share * (hot - cold))) - 0.7
    if viscosity < _THINNEST:
        raise InputError(
            f"ISO VG {grade:g} is too thin at {temperature - _ZERO_CELSIUS:.4g} degC to be told"
        )
    return viscosity * 1e-6


def oil_density(temperature: float) -> float:
    """Density of a mineral oil: 870 kg/m^3 at 15 deg C, less 0.65 per kelvin [kg/m^3].

    As is common practice; oils differ by some 3 %.
    """
    density = _oils()["density"]
    warmer = temperature - (15.0 + _ZERO_CELSIUS)
    return float(density["at_15_c_kg_m3"] - density["fall_per_k_kg_m3"] * warmer)


def dynamic_viscosity(grade: float, temperature: float) -> float:
    """Dynamic viscosity of a mineral oil: mu = rho nu [Pa s] (common practice).

    InputError as :func:`kinematic_viscosity`.
    """
    return kinematic_viscosity(grade, temperature) * oil_density(temperature)
