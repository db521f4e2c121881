"""Stiffness, mass and traction of a belt by its section, with sources and how sure they are."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any

__all__ = ["BeltDefaults", "Datum", "belt_defaults", "heavier_section", "known_sections"]


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
def _data() -> dict[str, Any]:
    text = resources.files("mountcalc").joinpath("data/belts.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@lru_cache(maxsize=1)
def _table() -> dict[str, BeltDefaults]:
    data = _data()
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


def heavier_section(section: str) -> BeltDefaults | None:
    """Return the next heavier section of the same make-up, or None where there is none.

    Parameters
    ----------
    section : str
        Such as ``"A"`` or ``"SPZ"``; capitals or not.
    """
    name = section.strip().upper()
    for family in _data()["families"]["rows"]:
        if name in family[:-1]:
            return belt_defaults(family[family.index(name) + 1])
    return None
