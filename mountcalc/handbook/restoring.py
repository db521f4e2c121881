"""What a restorer goes by: friction, heat that a box sheds, temperatures, usual factors."""

from __future__ import annotations

from functools import lru_cache
from typing import Any, NamedTuple

from mountcalc.handbook.rows import Datum, datum, fields_of, load
from mountcalc.record import Record
from mountcalc.units import kelvin

_FILE = "restoring"


class Oiled(NamedTuple):
    """How a plain bearing is oiled, and the coefficient of friction [-] it then rubs with."""

    name: str
    friction: float
    sure: str
    source: str


class Warmth(Record):
    """A ``temperature`` [K] of a box's outside, what to do there, how it is felt by hand."""

    temperature: float
    what: str
    by: str
    sure: str
    source: str


class ShopRule(Record):
    """A sentence for the shop, and how sure it is."""

    text: str
    sure: str


class StartingFactors(Record):
    """Usual starting factors as texts: a row by ``motors``, a column by ``machines``."""

    machines: tuple[str, ...]
    motors: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    source: str
    sure: str


def oiled_ways() -> tuple[Oiled, ...]:
    """Ways of oiling, the best first."""
    return tuple(Oiled(**row) for row in load(_FILE)["oiled"])


def heat_shed() -> tuple[Datum, Datum]:
    """Return the least and the most heat that a box sheds in still air.

    Per projected area and kelvin [W/(m^2 K)].
    """
    row = fields_of(_FILE, load(_FILE)["shedding"])
    return row["least"], row["most"]


def room() -> Datum:
    """Return the temperature of the room that is reckoned with [K]."""
    row = datum(_FILE, load(_FILE)["room"])
    return Datum(kelvin(row.value, "degC"), row.source, row.sure)


def box_temperatures() -> tuple[Warmth, ...]:
    """Return the temperatures of a box at which to act, the lowest first."""
    return tuple(
        Warmth(kelvin(row["degC"], "degC"), row["do"], row["by"], row["sure"], row["source"])
        for row in load(_FILE)["stop"]
    )


def usual_clearance(diameter: float) -> float:
    """Clearance over a shaft's ``diameter`` [m] of a box that was poured and scraped [m]."""
    row = fields_of(_FILE, load(_FILE)["clearance"])
    return float(row["per_diameter"].value * diameter + row["added"].value)


def usual_oil() -> Datum:
    """Return the ISO grade that line shafts usually have [mm^2/s at 40 degC]."""
    return datum(_FILE, load(_FILE)["oil"]["usual"])


def shop_oils() -> tuple[float, ...]:
    """Return the ISO grades that shops have, the thinnest first."""
    return tuple(map(float, load(_FILE)["oil"]["grades"]))


def drops_a_minute(flow: float) -> float:
    """Return a ``flow`` of oil [m^3/s] in drops a minute."""
    drops = datum(_FILE, load(_FILE)["oil"]["drops_per_ml"])
    return flow * 60.0 * 1e6 * drops.value


@lru_cache(maxsize=1)
def starting_factors() -> StartingFactors:
    """Return the usual starting factors by motor and machine."""
    rows = load(_FILE)["starting"]
    motors: dict[str, list[str]] = rows["motor"]
    cells = tuple(map(tuple, motors.values()))
    return StartingFactors(
        tuple(rows["machines"]), tuple(motors), cells, rows["source"], rows["sure"]
    )


def shop_rules(*path: str) -> tuple[ShopRule, ...]:
    """Return the sentences of a kind, such as ``"oil_advice"`` or ``"belt_advice", "leather"``."""
    rows: Any = load(_FILE)
    for name in path:
        rows = rows[name]
    return tuple(ShopRule(row["text"], row["sure"]) for row in rows)


def oily_leather() -> Datum:
    """Return the traction of oily leather on iron [-]."""
    row = next(one for one in load("flat_belts")["friction"] if one["pair"].endswith("iron, oily"))
    return Datum(row["low"], row["source"], row["sure"])
