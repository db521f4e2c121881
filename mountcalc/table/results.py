"""Results of a mount's table: where it is snug, where turns start, loads of every case.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. The keys, units and
sentences of every field stand in :mod:`mountcalc.quantities`.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.pages.as_json import Result, as_plain, csv_cell
from mountcalc.pages.page import Note
from mountcalc.requirements.results import Margin
from mountcalc.structure.give import PartsGive


class TightenBy(StrEnum):
    """Which way the adjuster moves to tighten the belt."""

    EXTEND = "extend"
    RETRACT = "retract"


@dataclass(frozen=True, slots=True)
class Snug:
    """Where the belt is taut without tension."""

    plate_angle: float
    center_distance: float
    extension: float | None


@dataclass(frozen=True, slots=True)
class Zero:
    """Where turns are counted from; None where weight alone finds no balance."""

    kind: ZeroKind
    plate_angle: float | None
    center_distance: float | None
    extension: float | None
    tension: float | None


@dataclass(frozen=True, slots=True)
class BearingLoad:
    """The load that the driven shaft puts on one bearing."""

    name: str
    load: float | None
    direction: float | None
    pressure: float | None
    share_of_limit: float | None


@dataclass(frozen=True, slots=True)
class Case:
    """One load case (rest, running or starting) at one setting."""

    state: State
    plate_angle: float | None
    grip: float | None
    grip_reason: str | None
    slips: bool | None
    pull: float | None
    tight: float | None
    slack: float | None
    shaft_load: float | None
    adjuster: float | None
    hinge: float | None
    adjuster_share_of_limit: float | None
    hinge_share_of_limit: float | None
    bearings: tuple[BearingLoad, ...]

    @property
    def shares_of_limits(self) -> dict[str, float]:
        """Share of each limit that is known, by its name in words."""
        named = {f'bearing "{one.name}"': one.share_of_limit for one in self.bearings}
        named["the adjuster"] = self.adjuster_share_of_limit
        named["the hinge"] = self.hinge_share_of_limit
        return {name: share for name, share in named.items() if share is not None}


@dataclass(frozen=True, slots=True)
class Row:
    """One setting of the adjuster; position, tension and span are those at rest.

    ``tension_per_turn_rigid`` is what a turn would do if nothing gave; ``spring_length`` that of a
    coil spring, None where there is none.
    ``slips_if_soft`` and ``over_limit_if_stiff`` say whether the belt, as soft as it may be, slips
    running, and whether, as stiff as it may be, it loads anything to its limit.
    """

    turns: float | None
    extension: float | None
    plate_angle: float | None
    center_distance: float | None
    state: State
    tension: float | None
    tension_low: float | None
    tension_high: float | None
    tension_per_turn: float | None
    tension_per_turn_rigid: float | None
    spring_length: float | None
    grip: float | None
    slips_if_soft: bool | None
    over_limit_if_stiff: bool | None
    span: float | None
    span_frequency: float | None
    deflection: float | None
    deflection_force: float | None
    rest: Case
    running: Case
    starting: Case

    @property
    def cases(self) -> dict[str, Case]:
        """The three load cases by name."""
        return {"rest": self.rest, "running": self.running, "starting": self.starting}

    @property
    def worst_share_of_limit(self) -> float:
        """Greatest share of a limit that is reached in any case; 0 without loads."""
        shares = [max(case.shares_of_limits.values(), default=0.0) for case in self.cases.values()]
        return max(shares)


@dataclass(frozen=True, slots=True)
class TensionTable(Result):
    """Tension, loads and forces against turns of the adjuster.

    ``driven`` [rad/s] is the driven shaft's speed without creep; ``tighten_by`` and
    ``advance_per_turn`` are None where there is no adjuster, as are ``adjuster_travel`` [m], from
    install to take-up, and ``bolt_length`` [m], which is also where the thread has no known size.
    ``adjuster_stiffness`` [N/m] is what is reckoned with, None where that is rigid; ``parts_give``
    what the parts give, where a board is told, reckoned with or not.

    Examples
    --------
    >>> found = table(read_scenario("scenarios/cider-mill.toml"), turns=[0, 1, 2])
    >>> [round(row.running.grip, 2) for row in found.rows]
    [0.0, 0.85, 1.77]
    >>> found.columns()["running_grip"].round(2)
    array([0.  , 0.85, 1.77])
    >>> found.to_dict()["rows"][1]["tension_N"] == found.rows[1].tension
    True
    """

    title: str
    driven: float
    belt_speed: float
    snug: Snug
    zero: Zero
    tighten_by: TightenBy | None
    advance_per_turn: float | None
    adjuster_travel: float | None
    bolt_length: float | None
    adjuster_stiffness: float | None
    parts_give: PartsGive | None
    notes: tuple[Note, ...]
    margins: tuple[Margin, ...]
    rows: tuple[Row, ...]

    def columns(self) -> dict[str, NDArray[Any]]:
        """The rows as arrays of shape (rows,), in SI units, by the names of the rows' fields.

        Those of a load case start with its name, those of a bearing with its number:
        ``columns()["running_bearing_1_load"]``. Where there is nothing to say, numbers are NaN,
        texts empty and flags False.
        """
        return _columns(self.rows, "")


def _columns(rows: Sequence[Any], prefix: str) -> dict[str, NDArray[Any]]:
    found: dict[str, NDArray[Any]] = {}
    for field in fields(rows[0]):
        values = [getattr(row, field.name) for row in rows]
        if field.name == "bearings":
            for number, bearings in enumerate(zip(*values, strict=True), start=1):
                found |= _columns(bearings, f"{prefix}bearing_{number}_")
        elif is_dataclass(values[0]):
            found |= _columns(values, f"{field.name}_")
        elif str(field.type).startswith("float"):
            found[prefix + field.name] = np.array(values, dtype=float)
        else:
            nothing = False if str(field.type).startswith("bool") else ""
            found[prefix + field.name] = np.array(
                [nothing if value is None else value for value in values]
            )
    return found


def as_csv(table: TensionTable) -> str:
    """The rows as CSV with one header line; a case's columns start with its name."""
    plain: Any = as_plain(table.rows)
    rows = [dict(flat(row)) for row in plain]
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, fieldnames=list(rows[0]))
    writer.writeheader()
    writer.writerows({key: csv_cell(value) for key, value in row.items()} for row in rows)
    return stream.getvalue()


def flat(nested: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Names and values of rows or columns in one level: cases by name, bearings by number."""
    for name, value in nested.items():
        if isinstance(value, dict):
            yield from flat(value, f"{name}_")
        elif isinstance(value, list):
            for number, bearing in enumerate(value, start=1):
                yield from flat(bearing, f"{prefix}bearing_{number}_")
        else:
            yield prefix + name, value
