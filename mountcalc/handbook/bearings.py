"""Published pressures by service and pV by lining material, each with its source."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from types import MappingProxyType
from typing import Any

__all__ = [
    "BearingMaterial",
    "BearingService",
    "bearing_conditions",
    "bearing_materials",
    "bearing_services",
]

_PSI = 4.4482216152605 / 0.0254**2
_FOOT_PER_MINUTE = 0.3048 / 60.0


@dataclass(frozen=True, slots=True)
class BearingService:
    """Range of projected pressures in use for one service.

    Attributes
    ----------
    key : str
        What a scenario calls it.
    name : str
        What people call it.
    low, high : float [Pa]
        The range.
    source : str
        Where it is from.
    sure : str
        "published", "from memory", "common practice" or "estimate".
    """

    key: str
    name: str
    low: float
    high: float
    source: str
    sure: str


@dataclass(frozen=True, slots=True)
class BearingMaterial:
    """What one lining stands in boundary lubrication.

    Attributes
    ----------
    key : str
        What a scenario calls it.
    name : str
        What people call it.
    pressure_speed : float [Pa m/s]
        Limit of projected pressure times surface speed.
    source : str
        Where it is from.
    sure : str
        "published" or "from memory".
    """

    key: str
    name: str
    pressure_speed: float
    source: str
    sure: str


@lru_cache(maxsize=1)
def bearing_services() -> Mapping[str, BearingService]:
    """Every service by its key."""
    return MappingProxyType(
        {
            key: BearingService(
                key,
                row["name"],
                row["low_psi"] * _PSI,
                row["high_psi"] * _PSI,
                row["source"],
                row["sure"],
            )
            for key, row in _read("bearing_services")["service"].items()
        }
    )


@lru_cache(maxsize=1)
def bearing_conditions() -> Mapping[str, str]:
    """States of a bearing whose service nobody knows, and the key of that they are taken for."""
    rows = _read("bearing_services")["condition"].values()
    return MappingProxyType({row["name"]: row["service"] for row in rows})


@lru_cache(maxsize=1)
def bearing_materials() -> Mapping[str, BearingMaterial]:
    """Every lining material by its key."""
    data = _read("bearing_materials")
    return MappingProxyType(
        {
            key: BearingMaterial(
                key,
                row["name"],
                row["pv_psi_fpm"] * _PSI * _FOOT_PER_MINUTE,
                data["source"],
                data["sure"],
            )
            for key, row in data["material"].items()
        }
    )


def _read(name: str) -> dict[str, Any]:
    file = resources.files("mountcalc").joinpath(f"data/{name}.toml")
    return tomllib.loads(file.read_text(encoding="utf-8"))
