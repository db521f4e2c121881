"""Motor frames by the standards: foot holes and shaft ends; what plain bearings may carry."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from mountcalc.handbook.rows import INCH, Datum, datum, fields_of, load
from mountcalc.record import Record
from mountcalc.units import si_factor

_FILE = "motor_frames"
_NAME = r"(?i)(?:(NEMA|IEC)[\s-]*)?([0-9]{2,3}[A-Z]{0,3})"


def known_frames() -> tuple[str, ...]:
    """Names of all frames, each with its standard."""
    return tuple(
        f"{standard.value} {name}" for standard in FrameStandard for name in _rows(standard)
    )


def motor_frame(text: str) -> MotorFrame | None:
    """Look a frame up.

    None for one that is not in the tables.

    Parameters
    ----------
    text : str
        Such as ``"56"``, ``"143T"`` or ``"IEC 80"``; the standard may be left out.
    """
    match = re.fullmatch(_NAME, text.strip())
    if match is None:
        return None
    standards = [FrameStandard(match[1].upper())] if match[1] else list(FrameStandard)
    for standard in standards:
        # IEC's names may end in the M of a medium length, or leave it out.
        asked = match[2].upper()
        names = (asked, asked.removesuffix("M"), f"{asked}M")
        for name in names if standard is FrameStandard.IEC else names[:1]:
            if (row := _rows(standard).get(name)) is not None:
                return _frame(standard, name, row)
    return None


def _rows(standard: FrameStandard) -> dict[str, dict[str, Any]]:
    rows: dict[str, dict[str, Any]] = load(_FILE)[standard.value.lower()]
    return rows


def _frame(standard: FrameStandard, name: str, row: dict[str, Any]) -> MotorFrame:
    said, body = fields_of(_FILE, row), load(_FILE)["body"]
    return MotorFrame(
        name=f"{standard.value} {name}",
        standard=standard,
        **said,
        body_radius=said["shaft_height"] * body["radius"]["value"],
        body_length=said["shaft_height"] * body["length"]["value"],
    )


class FrameStandard(StrEnum):
    """Whose dimensions a motor's frame has."""

    NEMA = "NEMA"
    IEC = "IEC"


class MotorFrame(Record):
    """A foot-mounted motor frame; all lengths [m].

    The letters of the standards stand behind each dimension, NEMA's first.

    Attributes
    ----------
    name : str
        With its standard, such as ``"NEMA 56"`` or ``"IEC 90L"``.
    standard : FrameStandard
    shaft_height : float
        From the plane of the feet to the shaft's middle: D, H.
    feet_across : float
        Between the foot holes, square to the shaft: 2E, A.
    feet_along : tuple of float
        Between the foot holes, along the shaft: 2F, B; some feet have two pairs of holes, which
        share the one nearer to the shaft's end.
    shoulder_to_foot : float
        From the shaft's shoulder to the foot hole nearer to it: BA, C.
    hole : float
        Diameter of a foot hole, or width of a slot: H, K.
    shaft_diameter : float
        U, D.
    shaft_length : float
        From the shoulder to the shaft's end: N-W, E.
    body_radius, body_length : float
        Of the motor's body, an estimate: the standards leave it to the maker. The length counts
        from the shoulder.
    sure : str
        "published" or "from memory", for the dimensions of the standard.
    source : str
    """

    name: str
    standard: FrameStandard
    shaft_height: float
    feet_across: float
    feet_along: tuple[float, ...]
    shoulder_to_foot: float
    hole: float
    shaft_diameter: float
    shaft_length: float
    body_radius: float
    body_length: float
    sure: str
    source: str


def pulley_slant(*, v_belt: bool) -> Datum:
    """Tangent of the angle [-] by which two pulleys may be out of one plane: the stricter rule."""
    rows = load("along_shafts")["alignment"]["v_belt" if v_belt else "flat_belt"]
    most, per_foot = (datum("along_shafts", rows[name]) for name in ("angle", "per_foot"))
    return Datum(min(math.tan(most.value), per_foot.value / (12 * INCH)), most.source, most.sure)


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


def box_limit(kind: str, condition: str) -> tuple[Datum, BearingService]:
    """Limit of projected pressure [Pa] for who knows no number, and the service it comes of.

    Which part of which range it is, is our own judgement.

    Parameters
    ----------
    kind : str
        What the box is of: "babbitt", "bronze", "iron" or "wood".
    condition : str
        How it is: "good", "worn" or "bad".
    """
    key, part = load("bearing_services")["box"][kind][condition]
    service = bearing_services()[key]
    limit = service.low if part == "low" else 0.5 * (service.low + service.high)
    return Datum(limit, service.source, "estimate"), service


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
