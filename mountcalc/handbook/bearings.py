"""Published pressures by service and pV by lining material, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from mountcalc.handbook.rows import fields_of, load
from mountcalc.units import si_factor

__all__ = [
    "BearingMaterial",
    "BearingService",
    "bearing_conditions",
    "bearing_materials",
    "bearing_services",
]


class BearingService(NamedTuple):
    """Range of projected pressures in use for one service, ``low`` to ``high`` [Pa].

    A scenario calls it by its ``key``, people by its ``name``.
    """

    key: str
    name: str
    low: float
    high: float
    source: str
    sure: str


class BearingMaterial(NamedTuple):
    """Limit of projected pressure times surface speed [Pa m/s] in boundary lubrication."""

    key: str
    name: str
    pressure_speed: float
    source: str
    sure: str


@lru_cache(maxsize=1)
def bearing_services() -> Mapping[str, BearingService]:
    """Every service by its key."""
    rows = load("bearing_services")["service"].items()
    return MappingProxyType(
        {key: BearingService(key, **fields_of("bearing_services", row)) for key, row in rows}
    )


def bearing_conditions() -> Mapping[str, str]:
    """States of a bearing whose service nobody knows, and the key of that they are taken for."""
    rows = load("bearing_services")["condition"].values()
    return {row["name"]: row["service"] for row in rows}


@lru_cache(maxsize=1)
def bearing_materials() -> Mapping[str, BearingMaterial]:
    """Every lining material by its key."""
    data, unit = load("bearing_materials"), si_factor("psi") * si_factor("ft/min")
    return MappingProxyType(
        {
            key: BearingMaterial(
                key, row["name"], row["pv_psi_fpm"] * unit, data["source"], data["sure"]
            )
            for key, row in data["material"].items()
        }
    )
