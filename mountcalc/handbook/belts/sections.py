"""Sections of V-belts and materials of flat belts: size, stiffness, mass, traction, pitch line.

Symbols
-------
name : such as "A", "SPZ" or "flat leather"; capitals or not
joint : how a belt's ends meet
"""

from __future__ import annotations

import math
from dataclasses import replace
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from mountcalc.handbook.rows import Datum, datum, fields_of, load

_FILE = "belts"
_FLAT = "flat_belts"


class NumberOf(StrEnum):
    """What the number on a belt measures."""

    INSIDE = "inside"
    DATUM = "datum"
    EFFECTIVE = "effective"
    OUTSIDE = "outside"


class Shock(StrEnum):
    """How evenly the driven machine takes its power."""

    UNIFORM = "uniform"
    LIGHT = "light"
    MEDIUM = "medium"
    HEAVY = "heavy"


class Torque(StrEnum):
    """How the motor pulls: ordinary torque, or high or uneven torque."""

    NORMAL = "normal"
    HIGH = "high"


class Section(NamedTuple):
    """What is known of a section of V-belts.

    ``width`` [m] at the top and ``height`` [m]; of one belt ``stiffness`` EA [N] and ``mass``
    [kg/m]; ``traction`` [1] in its groove and ``traction_on_flat`` [1] on a flat rim;
    ``inside_to_pitch`` [m], pitch length less inside length; ``pitch_to_outside`` [m], outside
    length less pitch length; ``least_diameter`` [m], the least recommended pitch diameter, None
    where nothing is known.
    """

    name: str
    traction: Datum
    traction_on_flat: Datum
    width: float
    height: float
    stiffness: Datum
    mass: Datum
    inside_to_pitch: Datum
    pitch_to_outside: Datum
    least_diameter: Datum | None = None


@lru_cache(maxsize=1)
def _table() -> dict[str, Section]:
    data, table = load(_FILE), {}
    tractions = datum(_FILE, data["traction"]), datum(_FILE, data["traction_on_flat"])
    for name, row in data["section"].items():
        said = fields_of(_FILE, row)
        # Some least pulleys are named by their outside diameter.
        if (least := said.pop("least_outside", None)) is not None:
            pitch = least.value - said["pitch_to_outside"].value / math.pi
            said["least_diameter"] = replace(least, value=pitch)
        table[name] = Section(name, *tractions, **said)
    return table


def known_sections() -> tuple[str, ...]:
    """The sections of V-belts that have data."""
    return tuple(_table())


def section(name: str) -> Section | None:
    """Return what is known of a section, or None for one that is not in the table."""
    return _table().get(name.strip().upper())


def heavier_section(name: str) -> Section | None:
    """Return the next heavier section of the same make-up, or None where there is none."""
    wanted = name.strip().upper()
    for family in load(_FILE)["families"]["rows"]:
        if wanted in family[:-1]:
            return section(family[family.index(wanted) + 1])
    return None


class Joint(StrEnum):
    """How the ends of a belt meet."""

    ENDLESS = "endless"
    LACED = "laced"
    LINKED = "linked"


class FlatMaterial(NamedTuple):
    """What is known of a material of flat belts.

    ``modulus`` [Pa] in tension, ``density`` [kg/m3], ``traction`` [1] on iron, and
    ``least_diameter_over_thickness`` [1] of the smallest pulley, None where nothing is known.
    """

    name: str
    modulus: Datum
    density: Datum
    traction: Datum
    least_diameter_over_thickness: Datum | None = None


@lru_cache(maxsize=1)
def _materials() -> dict[str, FlatMaterial]:
    rows = load(_FLAT)["material"].items()
    return {name: FlatMaterial(name, **fields_of(_FLAT, row)) for name, row in rows}


def flat_materials() -> tuple[str, ...]:
    """The materials of flat belts that have data."""
    return tuple(_materials())


def flat_material(name: str) -> FlatMaterial | None:
    """Return what is known of a material of flat belts, None for one that is not in the table."""
    return _materials().get(" ".join(name.lower().split()))


def joint_softness(joint: Joint) -> Datum:
    """Return the share of an endless belt's stiffness that a joined one has [1].

    At most 1.
    """
    return datum(_FLAT, load(_FLAT)["joint"][joint.value])
