"""Flat belts: materials, and how much softer a joined belt is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any

from mountcalc.handbook.rows import Datum, datum, load

__all__ = ["FlatMaterial", "Joint", "flat_material", "flat_materials", "joint_softness"]

_FILE = "flat_belts"


class Joint(StrEnum):
    """How the ends of a belt meet."""

    ENDLESS = "endless"
    LACED = "laced"
    LINKED = "linked"


@dataclass(frozen=True, slots=True)
class FlatMaterial:
    """What is known of a material of flat belts.

    ``modulus`` [Pa] in tension, ``density`` [kg/m3], ``traction`` [1] on iron, and
    ``least_diameter_over_thickness`` [1] of the smallest pulley, None where nothing is known.
    """

    name: str
    modulus: Datum
    density: Datum
    traction: Datum
    least_diameter_over_thickness: Datum | None


@lru_cache(maxsize=1)
def _table() -> dict[str, FlatMaterial]:
    return {name: _row(name, row) for name, row in load(_FILE)["material"].items()}


def _row(name: str, row: dict[str, Any]) -> FlatMaterial:
    least = row.get("least_diameter_over_thickness")
    return FlatMaterial(
        name=name,
        modulus=datum(_FILE, row["modulus"]),
        density=datum(_FILE, row["density"]),
        traction=datum(_FILE, row["traction"]),
        least_diameter_over_thickness=None if least is None else datum(_FILE, least),
    )


def flat_materials() -> tuple[str, ...]:
    """The materials of flat belts that have data."""
    return tuple(_table())


def flat_material(name: str) -> FlatMaterial | None:
    """Return what is known of a material of flat belts, or None for one that is not in the table.

    Parameters
    ----------
    name : str
        Such as ``"flat leather"``; capitals or not.

    Returns
    -------
    FlatMaterial or None
    """
    return _table().get(" ".join(name.lower().split()))


def joint_softness(joint: Joint) -> Datum:
    """Return the share of an endless belt's stiffness that a joined one has.

    Parameters
    ----------
    joint : Joint
        How its ends meet.

    Returns
    -------
    Datum [1]
        At most 1.
    """
    return datum(_FILE, load(_FILE)["joint"][joint.value])
