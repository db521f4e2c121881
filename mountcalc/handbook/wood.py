"""Boards by name, what a load that stays leaves of them, and how they move with moisture.

Symbols
-------
text : a name as people write it, such as "birch plywood" or "red oak"
kind : of board: "solid", "plywood", "osb", "particleboard" or "mdf"
duration : for how long a load stands, one of `DURATIONS`
thickness : of one layer as it is bought [m]
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from mountcalc.handbook.rows import Datum, datum, fields_of, load
from mountcalc.record import Record

_FILE, _LOADS = "woods", "load_duration"
_YEAR = 365.25 * 86400.0
DURATIONS: tuple[str, ...] = ("permanent", "long", "medium", "short", "instantaneous")


class Wood(Record):
    """What is known of a kind of board.

    ``bending``, ``shear`` and, of a board that is twisted, ``twisted`` [Pa] are what all but one in
    twenty pieces of clear wood reach, or what the grade promises; ``bearing`` [Pa] is what is
    allowed across the grain, in the face; ``modulus`` [Pa] is a mean. What is not published of it
    is None. ``across`` is the share of strength and modulus where the board bends across its face
    grain, ``through`` that of the modulus where it is pressed through its thickness. ``radial`` and
    ``tangential`` are growth per percent of moisture.
    """

    name: str
    kind: str
    gravity: Datum
    modulus: Datum
    bending: Datum
    shear: Datum | None
    twisted: Datum | None
    bearing: Datum | None
    shear_modulus: Datum
    across: Datum
    through: Datum
    material_factor: Datum
    radial: Datum
    tangential: Datum
    is_clear: bool

    @property
    def is_panel(self) -> bool:
        """Whether it is of fibres or chips, in which screws hold otherwise."""
        return self.kind in {"mdf", "particleboard", "osb"}


def known_woods() -> tuple[str, ...]:
    """Names of all boards that have data."""
    return tuple(load(_FILE)["board"])


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z0-9]+", text.lower()))


@lru_cache(maxsize=1)
def _by_name() -> dict[str, str]:
    """Rows by all their names in plain letters, the longest first."""
    rows: dict[str, dict[str, Any]] = load(_FILE)["board"]
    names = {
        _plain(one): name for name, row in rows.items() for one in (name, *row.get("names", []))
    }
    return dict(sorted(names.items(), key=lambda pair: -len(pair[0])))


def wood(text: str, thickness: float | None = None) -> Wood | None:
    """Look a board up; None for one that is not in the table.

    A name may say more, such as "Baltic birch plywood" or "MDF, moisture resistant"; a panel's
    counts before a species'. Of boards that are weaker where thicker, the thick ones are taken
    where the thickness is not known.
    """
    words = f" {_plain(text)} "
    found = [row for name, row in _by_name().items() if f" {name} " in words]
    rows: dict[str, dict[str, Any]] = load(_FILE)["board"]
    panels = [name for name in found if rows[name]["kind"] != "solid"]
    if not found:
        return None
    name = (panels or found)[0]
    if "beyond" in rows[name] and (thickness is None or thickness > 1e-3 * rows[name]["up_to_mm"]):
        name = rows[name]["beyond"]
    return _wood(name)


@lru_cache(maxsize=64)
def _wood(name: str) -> Wood:
    data = load(_FILE)
    row = fields_of(_FILE, data["board"][name])
    kind, is_clear = data["kind"][row["kind"]], not row.get("graded", False)
    shares = {key: datum(_FILE, one) for key, one in kind.items()}
    clear = {key: datum(_FILE, one).value for key, one in data["clear_wood"].items()}
    fifth, bearing = (clear["fifth"], clear["bearing"]) if is_clear else (1.0, 1.0)
    # The share that turns a mean of clear wood into a least strength is from memory.
    sure, strong = row["sure"], "from memory" if is_clear else row["strength_sure"]

    def of(key: str, how_sure: str, share: float = 1.0) -> Datum:
        return Datum(row[key] * share, row.get(f"{key}_source", row["source"]), how_sure)

    def moves(key: str) -> Datum:
        return Datum(row[key], data["movement"]["source"], data["movement"]["sure"])

    twisted = "twisted" if "twisted" in row else "shear"
    return Wood(
        name=name,
        kind=row["kind"],
        gravity=of("gravity", sure),
        modulus=of("modulus", sure),
        bending=of("bending", strong, fifth),
        shear=of("shear", "from memory", fifth) if "shear" in row else None,
        twisted=of(twisted, "from memory", fifth) if twisted in row else None,
        bearing=of("bearing", "from memory", bearing) if "bearing" in row else None,
        shear_modulus=shares["shear_modulus"],
        across=shares["across"],
        through=shares["through"],
        material_factor=shares["material"],
        radial=moves("radial"),
        tangential=moves("tangential"),
        is_clear=is_clear,
    )


def duration_factor(kind: str, duration: str, service_class: int = 1) -> Datum | None:
    """Share of a strength that is left under a load that stays; None where none is published."""
    table = load(_LOADS)["strength"]
    row = table[kind].get(str(service_class))
    if row is None:
        return None
    return Datum(row[DURATIONS.index(duration)], table["source"], table["sure"])


def creep_factor(kind: str, service_class: int = 1) -> Datum:
    """What a deflection grows by in the end, in units of the first one."""
    table = load(_LOADS)["creep"]
    return Datum(table[kind][str(service_class)], table["source"], table["sure"])


def joint_factor(duration: str) -> Datum:
    """What screws and bolts in wood may carry for that long, over what they may for ten years."""
    table = load(_LOADS)["joints"]
    return Datum(table["factors"][DURATIONS.index(duration)], table["source"], table["sure"])


class CreepInTime(Record):
    """How creep comes: after a ``time`` [s] it is (time / ``whole``)^exponent of the whole.

    The exponent lies between ``fast`` and ``slow``; early on the fast one has more.
    """

    whole: float
    slow: float
    fast: float
    source: str


def creep_in_time() -> CreepInTime:
    """How creep is taken to come."""
    rows = {key: datum(_LOADS, row) for key, row in load(_LOADS)["creep_in_time"].items()}
    return CreepInTime(
        whole=rows["years"].value * _YEAR,
        slow=rows["slow"].value,
        fast=rows["fast"].value,
        source=f"{rows['slow'].source}, {rows['slow'].sure}",
    )


def crosswise(board: Wood, cut: str) -> Datum:
    """Growth of a length across the grain per percent of moisture, by how the board was cut.

    Parameters
    ----------
    board : Wood
        Of a kind that moves.
    cut : str
        "flat-sawn", "quarter-sawn", or "unknown", which is taken as flat-sawn.
    """
    return board.radial if cut == "quarter-sawn" else board.tangential


def moisture(room: str) -> tuple[Datum, Datum]:
    """Moisture of wood in the driest and the dampest season, in percent of its dry weight.

    Parameters
    ----------
    room : str
        "heated" or "unheated".
    """
    row = load(_LOADS)["moisture"][room]
    return datum(_LOADS, row["driest"]), datum(_LOADS, row["dampest"])
