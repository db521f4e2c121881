"""Stiffness, mass and traction of a belt by its section, with sources and how sure they are."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any

__all__ = ["BeltDefaults", "Datum", "belt_defaults", "known_sections"]


@dataclass(frozen=True, slots=True)
class Datum:
    """A handbook number: ``value`` in SI, its ``source`` and how ``sure`` it is.

    ``sure`` is "published", "from memory" or "estimate".
    """

    value: float
    source: str
    sure: str


@dataclass(frozen=True, slots=True)
class BeltDefaults:
    """What is taken for a section: ``stiffness`` EA [N], ``mass`` [kg/m], ``traction`` [1]."""

    section: str
    stiffness: Datum
    mass: Datum
    traction: Datum


@lru_cache(maxsize=1)
def _table() -> dict[str, BeltDefaults]:
    text = resources.files("mountcalc").joinpath("data/belts.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    friction = data["traction"]
    traction = Datum(friction["value"], friction["source"], friction["sure"])
    return {name: _row(name, row, traction) for name, row in data["section"].items()}


def _row(name: str, row: dict[str, Any], traction: Datum) -> BeltDefaults:
    return BeltDefaults(
        section=name,
        stiffness=Datum(row["stiffness_N"], row["stiffness_source"], row["stiffness_sure"]),
        mass=Datum(row["mass_kg_m"], row["mass_source"], row["mass_sure"]),
        traction=traction,
    )


def known_sections() -> tuple[str, ...]:
    """The belt sections that have defaults."""
    return tuple(_table())


def belt_defaults(section: str) -> BeltDefaults | None:
    """Return what is taken for a section, or None for one that is not in the table.

    Parameters
    ----------
    section : str
        Such as ``"A"`` or ``"SPZ"``; capitals or not.
    """
    return _table().get(section.strip().upper())
