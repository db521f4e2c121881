"""The tables of many variants of one mount at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.many import Group, solve_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.errors import InputError
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.table.results import flat
from mountcalc.table.table import checked_turns, columns_of

Array = NDArray[np.float64]

_MOST = 1_000_000  # mounts times turns
_FIELDS = {"hinge": "hinge", "tip": "bears_at", "stiffness": "stiffness"}  # of a Mount
_POINTS = ("hinge", "tip")


@dataclass(frozen=True, slots=True)
class Tables:
    """The tables of many variants of one mount, all at the same turns.

    ``columns`` has arrays of shape (variants, turns), in SI units, by the names that the columns of
    one table have; numbers are NaN where there is nothing to say. ``why_not`` says of each variant
    why it cannot be solved, and is empty where it was.

    Examples
    --------
    >>> found = tables(read_scenario("scenarios/cider-mill.toml"), [1, 2], stiffness=[4e4, 8e4])
    >>> found.columns["tension"].shape, found.why_not
    ((2, 2), ('', ''))
    """

    turns: Array
    columns: Mapping[str, NDArray[Any]]
    why_not: tuple[str, ...]


def tension_tables(
    scenario: Scenario, turns: ArrayLike, variants: Mapping[str, ArrayLike | None]
) -> Tables:
    """Solve variants of a mount: arrays of "hinge", "tip" [m], shape (m, 2), "stiffness" [N]."""
    turn = checked_turns(turns)
    given = {
        name: _checked(name, values) for name, values in variants.items() if values is not None
    }
    counts = {len(values) for values in given.values()}
    if len(counts) != 1:
        raise InputError("variants: arrays of one length are wanted, at least one of them")
    (count,) = counts
    if count * turn.size > _MOST:
        raise InputError(f"variants: at most {_MOST:,} settings at once, got {count * turn.size:,}")
    mount = Mount.of(scenario)
    if "tip" in given and mount.bears_at is None:
        raise InputError("tip: this mount has no adjuster")
    numbers: dict[str, Any] = {
        _FIELDS[name]: tuple(values.T[..., np.newaxis])
        if values.ndim > 1
        else values[:, np.newaxis]
        for name, values in given.items()
    }
    columns: dict[str, NDArray[Any]] = {}
    why_not = [""] * count
    alone = partial(_alone, scenario, given)
    if scenario.adjuster.spring is Giving.PARTS and {*_POINTS} & {*given}:
        numbers["spring"] = np.array([[alone(row).spring] for row in range(count)])
    for found in solve_many(replace(mount, **numbers), count, turn, alone):
        if not isinstance(found, Group):
            why_not[found[0]] = str(found[1])
            continue
        shape = found.rows.size, found.cases.rest.phi.shape[-1]
        for name, values in flat(columns_of(found.solved, found.placed, found.cases)):
            if name not in columns:
                blank, kind = {"f": (np.nan, float), "b": (False, bool)}.get(
                    values.dtype.kind, ("", "<U16")
                )
                columns[name] = np.full((count, shape[1]), blank, dtype=kind)
            columns[name][found.rows] = np.broadcast_to(values, shape)
    return Tables(turn if mount.has_adjuster else np.full(1, np.nan), columns, tuple(why_not))


def _alone(scenario: Scenario, given: Mapping[str, Array], row: int) -> Mount:
    """One variant with a scenario of its own."""
    values: dict[str, Any] = {name: array[row].tolist() for name, array in given.items()}
    plate, adjuster, belt = scenario.plate, scenario.adjuster, scenario.belt
    if "hinge" in values:
        plate = replace(plate, hinge=tuple(values["hinge"]))
    if "tip" in values:
        key = "plate_pin" if adjuster.kind is AdjusterKind.LINK else "tip"
        tip: dict[str, Any] = {key: tuple(values["tip"])}
        adjuster = replace(adjuster, **tip)
    if "stiffness" in values:
        belt = replace(belt, stiffness=values["stiffness"])
    return Mount.of(replace(scenario, plate=plate, adjuster=adjuster, belt=belt))


def _checked(name: str, values: ArrayLike) -> Array:
    is_point = name in _POINTS
    shape = "(variants, 2)" if is_point else "(variants,)"
    try:
        array = np.asarray(values, dtype=float)
    except (TypeError, ValueError) as error:
        raise InputError(f"{name}: numbers of shape {shape} are wanted") from error
    if array.ndim != 1 + is_point or array.size == 0 or (is_point and array.shape[1] != 2):  # noqa: PLR2004
        raise InputError(f"{name}: numbers of shape {shape} are wanted, got {array.shape}")
    if not np.all(np.isfinite(array)) or (not is_point and not np.all(array > 0)):
        raise InputError(f"{name}: finite numbers{'' if is_point else ' above zero'} are wanted")
    return array
