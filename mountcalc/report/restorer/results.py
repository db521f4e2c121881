"""Results of the restorer's sheet: SI units, None where there is nothing to say, never NaN."""

from __future__ import annotations

from mountcalc.handbook.restoring import ShopRule, StartingFactors, Warmth
from mountcalc.pages.as_json import Result
from mountcalc.record import Record


class BoxHeat(Record):
    """Heat of one box running, by how it is ``oiled``, and how far it settles above the room.

    Two of each: the range of what boxes shed, and of a film the heat that goes with it.
    """

    oiled: str
    power_low: float
    power_high: float
    rise_low: float
    rise_high: float


class OldBox(Record):
    """One bearing as a restorer meets it.

    ``film`` says that a full film would carry, were it flooded with ``oil_grade``; its ends then
    lose ``drops_per_minute``. ``thinnest_grade`` is the thinnest oil whose film Trumpler would
    pass. ``told`` has limit, film, clearance, direction and heat in words.
    """

    name: str
    load: float | None
    clearance_usual: float
    oil_grade: float
    film: bool
    drops_per_minute: float | None
    thinnest_grade: float | None
    heats: tuple[BoxHeat, ...]
    told: tuple[str, ...]


class Condition(Record):
    """What a bearing may carry by the state of its box: the range of a service."""

    state: str
    service_low: float
    service_high: float
    sure: str
    source: str


class Expected(Record):
    """What a set belt is left with: tension [N], the reading as text, turns that restore it."""

    left_low: float
    left_high: float
    reading: str
    turns_to_add: float | None


class LogRow(Record):
    """A row to fill: when, what is done, what a belt that has bedded in and a new one then have."""

    when: str
    look: str
    old: Expected | None = None
    new: Expected | None = None
    feel: bool = False


class Log(Record):
    """The log for bedding in: what is ``read``, as a column's head, whether turns are, the rows."""

    read: str
    turns: bool
    rows: tuple[LogRow, ...]


class RestorerSheet(Record, Result):
    """All that a restorer needs beside the mount's own numbers."""

    title: str
    conditions: tuple[Condition, ...]
    boxes: tuple[OldBox, ...]
    air: float
    warmths: tuple[Warmth, ...]
    oil: tuple[ShopRule, ...]
    shims: tuple[ShopRule, ...]
    starting_factor: float
    starting_factors: StartingFactors
    dressing: tuple[ShopRule, ...]
    first_run: tuple[str, ...]
    log: Log
