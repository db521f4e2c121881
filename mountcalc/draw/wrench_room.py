"""The room that a wrench needs around a bolt's head."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of

__all__ = ["WrenchRoom", "wrench_room"]

_FILE = "bolt_heads"
_MM = 1e-3
_SAME = 1e-4  # [m]


@dataclass(frozen=True, slots=True)
class WrenchRoom:
    """A bolt's head and the wrench on it.

    Attributes
    ----------
    across_flats : Datum [m]
        Size of the wrench.
    head : float [m]
        Height of the head.
    radius : float [m]
        To be kept clear all round the bolt's axis.
    length : float [m]
        Of the wrench, that must find room on one side to swing.
    """

    across_flats: Datum
    head: float
    radius: float
    length: float


def wrench_room(diameter: float) -> WrenchRoom:
    """Room for a wrench on a hexagon head."""
    data = load(_FILE)
    flats = _across_flats(diameter)
    return WrenchRoom(
        across_flats=flats,
        head=datum(_FILE, data["head"]["height"]).value * diameter,
        radius=datum(_FILE, data["wrench"]["radius"]).value * flats.value,
        length=datum(_FILE, data["wrench"]["length"]).value * flats.value,
    )


def _across_flats(diameter: float) -> Datum:
    data = load(_FILE)
    for table, sizes, unit in (
        (data["inch"], data["inch"]["across_flats_in"], INCH),
        (data["metric"], data["metric"]["across_flats_mm"], _MM),
    ):
        for size, flats in sizes.items():
            if abs(float(size) * unit - diameter) < _SAME:
                return Datum(flats * unit, source_of(_FILE, table), table["sure"])
    other = datum(_FILE, data["other"]["across_flats"])
    return Datum(other.value * diameter, other.source, other.sure)
