"""Many mounts at once that share a scenario: the ordinary solver with arrays for numbers.

What is plain is solved all together: the whole travel can be used, the belt becomes snug in it,
and zero is where the hand finds it. The others go through the solver one by one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance
from mountcalc.equilibrium.grip import has_several_ways
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import (
    AT_REST,
    AdjusterPosition,
    Cases,
    Reference,
    SolvedMount,
    solve_mount,
)
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.equilibrium.travel import End, EndReason, Travel, limits, travel_nodes
from mountcalc.errors import MountError

__all__ = ["Group", "Zeros", "solve_many", "zeros_of_many"]

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

# What is nearer to an end of the usable travel [m, m/rad] is solved alone.
_NEAR = 1e-9
_AT_ONCE = 256  # mounts; more need much memory for little time


@dataclass(frozen=True)
class Group:
    """Some of many mounts, solved: ``rows`` (k,) of them, arrays of shape (k, turns)."""

    rows: Rows
    solved: SolvedMount
    placed: AdjusterPosition
    cases: Cases


def solve_many(
    mount: Mount, count: int, turns: Array, alone: Callable[[int], Mount]
) -> Iterator[Group | tuple[int, MountError]]:
    """Solve many mounts for the same turns.

    Parameters
    ----------
    mount : Mount
        Their numbers of shape (count, 1), or the one that all of them share.
    count : int
        How many they are.
    turns : ndarray [-]
        Turns from zero, shape (turns,).
    alone : callable
        One of them by its row, with a scenario of its own.

    Yields
    ------
    Group or tuple of int and MountError
        Those that could be solved together; or one that cannot be solved, and why.
    """
    for first in range(0, count, _AT_ONCE):
        rows = np.arange(first, min(first + _AT_ONCE, count))
        plain = np.zeros(rows.size, dtype=bool)
        if mount.spring is None:
            travel, plain = _plain_travel(mount.rows(rows, column=True), rows.size)
            if np.any(plain):
                solved, state = _solved(mount, rows[plain], travel, plain)
                placed = solved.place(turns)
                sound = np.isin(state, (State.HELD, State.RIDING)) & ~_several(solved, placed)
                plain[plain] = sound
                if np.any(plain):
                    if not np.all(sound):
                        solved, _ = _solved(mount, rows[plain], travel, plain)
                        placed = solved.place(turns)
                    yield Group(rows[plain], solved, placed, solved.cases(placed))
        for row in rows[~plain]:
            try:
                solved = solve_mount(alone(int(row)))
                placed = solved.place(turns)
                yield Group(np.array([row]), solved, placed, solved.cases(placed))
            except MountError as error:
                yield int(row), error


@dataclass(frozen=True)
class Zeros:
    """Many mounts at rest at zero, each array of shape (count,).

    ``tension`` [N] is 0 where weight leaves the belt slack and NaN where a mount cannot be solved;
    ``tightens`` the sign of dL/dphi.
    """

    state: NDArray[np.str_]
    tension: Array
    tightens: Array


def zeros_of_many(mount: Mount, count: int, alone: Callable[[int], Mount]) -> Zeros:
    """Many mounts at zero; those without adjuster where weight puts the plate.

    Parameters
    ----------
    mount : Mount
        Their numbers of shape (count, 1).
    count : int
        How many they are.
    alone : callable
        One of them by its row, with a scenario of its own.

    Returns
    -------
    Zeros
        At a stop, the tension there.
    """
    travel, plain = _plain_travel(mount, count)
    found = Zeros(
        np.full(count, State.BEYOND_TRAVEL.value), np.full(count, np.nan), np.zeros(count)
    )
    if np.any(plain):
        solved, state = _solved(mount, np.flatnonzero(plain), travel, plain)
        tension = solved.mount.tension(solved.mount.path(solved.zero.plate_angle).length)[:, 0]
        found.state[plain] = state
        found.tension[plain] = np.where(state == State.NO_BALANCE, 0.0, tension)
        found.tightens[plain] = travel["tightens"][plain, 0]
    for row in np.flatnonzero(~plain):
        with suppress(MountError):
            one = solve_mount(alone(int(row)))
            is_at_stop = one.zero.state is State.AT_STOP
            angle = one.travel.tight_angle if is_at_stop else one.zero.plate_angle
            is_slack = one.zero.state is State.NO_BALANCE
            found.state[row], found.tightens[row] = one.zero.state, one.travel.tightens
            tension = one.mount.tension(one.mount.path(angle).length)
            found.tension[row] = 0.0 if is_slack else tension
    return found


def _plain_travel(mount: Mount, count: int) -> tuple[dict[str, Any], NDArray[np.bool_]]:
    """Numbers of travels, of shape (count, 1), and which have no dead centres and other ends."""
    nodes = travel_nodes(mount)
    plain = np.ones(count, dtype=bool)
    for reason, values in limits(mount, nodes).items():
        clear = np.all(values > _NEAR, axis=-1)
        if reason not in (EndReason.OVERLAP, EndReason.GRAZING):
            clear |= np.all(values < -_NEAR, axis=-1)
        plain &= clear
    ends = np.broadcast_to(nodes[[0, -1]], (count, 2))
    excess = np.broadcast_to(mount.path(ends).length - mount.length, (count, 2))
    plain &= (excess[:, 0] * excess[:, 1] < 0) & np.all(np.abs(excess) > _NEAR, axis=-1)
    low, high = ends[:, :1], ends[:, 1:]
    middle = 0.5 * (low + high)
    extends = np.zeros((count, 1))
    if mount.has_adjuster:
        extends = np.sign(mount.adjuster(middle).extension_slope)
    return {
        "low": low,
        "high": high,
        "snug": bracketed_roots(lambda phi: mount.path(phi).length - mount.length, low, high),
        "tightens": np.sign(mount.path(middle).length_slope),
        "extends": extends,
    }, plain


def _solved(
    mount: Mount, rows: Rows, travels: dict[str, Any], among: NDArray[np.bool_]
) -> tuple[SolvedMount, NDArray[np.str_]]:
    """Mounts with their zeros, and the state at rest there."""
    some = mount.rows(rows, column=True)
    numbers = {name: values[among] for name, values in travels.items()}
    low, high = (End(numbers.pop(name), EndReason.STOP) for name in ("low", "high"))
    travel = Travel(low, high, notes=(), **numbers)
    balance = Balance(some, travel)
    settled = balance.settle(balance.at(np.asarray(travel.snug)), AT_REST)
    angle: Any = settled.phi
    zero = Reference(ZeroKind.SNUG, angle, State.HELD)
    return SolvedMount(some, travel, balance, zero), settled.state[:, 0]


def _several(solved: SolvedMount, placed: AdjusterPosition) -> NDArray[np.bool_]:
    """Which mounts have settings whose way to the slack side has to be followed."""
    found = [
        np.any(has_several_ways(solved.balance, placed.at, demand), axis=-1)
        for demand in (solved.demands["running"], solved.demands["starting"])
        if demand.pull
    ]
    return np.any(found, axis=0) if found else np.zeros(len(placed.angle), dtype=bool)
