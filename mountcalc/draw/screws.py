"""Screws: diameters from the names of threads, what carries a bolt, and room for a wrench."""

from __future__ import annotations

from mountcalc.handbook.rows import INCH, Datum, datum, load, source_of
from mountcalc.record import Record
from mountcalc.scenario.model import Adjuster
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.thresholds import MARKED

# From a bolt's axis to the outside of the block that carries it, in its diameters (estimate).
BLOCK_SHARE = 3.0
_ASSUMED = 0.010  # [m] of a screw of which nothing is known (estimate)
_HEADS = "bolt_heads"
_MM = 1e-3


def drawn_diameter(adjuster: Adjuster) -> float:
    """Diameter with which a screw is drawn."""
    known = None if adjuster.thread is None else bolt_diameter(adjuster.thread)
    return _ASSUMED if known is None else known


class WrenchRoom(Record):
    """A bolt's head and the wrench on it [m].

    ``radius`` is to be kept clear all round the bolt's axis, ``length``, the wrench's, on one side
    of it for the wrench to swing.
    """

    across_flats: Datum
    head: float
    radius: float
    length: float


def wrench_room(diameter: float) -> WrenchRoom:
    """Room for a wrench on a hexagon head."""
    data = load(_HEADS)
    other = datum(_HEADS, data["other"]["across_flats"])
    flats = Datum(other.value * diameter, other.source, other.sure)
    for of, key, unit in (("metric", "across_flats_mm", _MM), ("inch", "across_flats_in", INCH)):
        for size, across in data[of][key].items():
            if abs(float(size) * unit - diameter) < MARKED:
                flats = Datum(across * unit, source_of(_HEADS, data[of]), data[of]["sure"])
    return WrenchRoom(
        across_flats=flats,
        head=datum(_HEADS, data["head"]["height"]).value * diameter,
        radius=datum(_HEADS, data["wrench"]["radius"]).value * flats.value,
        length=datum(_HEADS, data["wrench"]["length"]).value * flats.value,
    )
