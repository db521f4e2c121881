"""Many mounts at once that share a scenario: the ordinary solver with arrays for numbers.

What is plain is solved all together: the whole travel can be used, the belt becomes snug in it,
and zero is where the hand finds it. The others, and what is within rounding of an end of the usable
travel, go through the solver one by one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance, Demand
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
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

_AT_ONCE = 256  # mounts; more need much memory for little time


class Group(Record):
    """Some of many mounts, solved: ``rows`` (k,) of them, arrays of shape (k, turns)."""

    rows: Rows
    solved: SolvedMount
    placed: AdjusterPosition
    cases: Cases

    @classmethod
    def of(cls, rows: Rows, solved: SolvedMount, turns: Array) -> Group:
        """Those mounts at some turns."""
        placed = solved.place(turns)
        return cls(rows, solved, placed, solved.cases(placed))


def solve_many(
    mount: Mount, count: int, turns: Array, alone: Callable[[int], Mount]
) -> Iterator[Group | tuple[int, MountError]]:
    """Solve ``count`` mounts for the same ``turns`` [-], those together that can be.

    Their numbers have the shape (count, 1), or all of them share one; ``alone`` makes one of them
    by its row, with a scenario of its own. Of what cannot be solved, row and error.
    """
    for first in range(0, count, _AT_ONCE):
        rows = np.arange(first, min(first + _AT_ONCE, count))
        travel, plain = _plain_travel(mount.rows(rows, column=True), rows.size)
        if np.any(plain):
            solved, state = _solved(mount, rows[plain], travel, plain)
            sound = np.isin(state, (State.HELD, State.RIDING))
            placed = solved.place(turns)
            for demand in solved.demands.values():
                if mount.gives:
                    sound &= _has_one_place(solved.balance, demand, placed.extension)
                elif demand.pull:  # a way to the slack side has to be followed
                    sound &= ~np.any(has_several_ways(solved.balance, placed.at, demand), axis=-1)
            plain[plain] = sound
            if np.any(sound):
                if not np.all(sound):
                    solved, _ = _solved(mount, rows[plain], travel, plain)
                yield Group.of(rows[plain], solved, turns)
        for row in rows[~plain]:
            try:
                yield Group.of(np.array([row]), solve_mount(alone(int(row))), turns)
            except MountError as error:
                yield int(row), error


def _has_one_place(balance: Balance, demand: Demand, extension: Array) -> NDArray[np.bool_]:
    """Which mounts have, behind their springs, one place of rest whatever the pull."""
    pulls = {0.0, demand.pull, np.inf}
    several = [
        balance.has_several_places(Demand(pull, demand.centrifugal), extension) for pull in pulls
    ]
    one: NDArray[np.bool_] = ~np.any(several, axis=0)
    return one


class Zeros(Record):
    """Many mounts at rest at zero, each array of shape (count,).

    ``tension`` [N] is 0 where weight leaves the belt slack, at a stop the one there, and NaN where
    a mount cannot be solved; ``tightens`` the sign of dL/dphi.
    """

    state: NDArray[np.str_]
    tension: Array
    tightens: Array


def zeros_of_many(mount: Mount, count: int, alone: Callable[[int], Mount]) -> Zeros:
    """Mounts as for :func:`solve_many` at zero; without adjuster where weight puts the plate."""
    travel, plain = _plain_travel(mount, count)
    found = Zeros(
        np.full(count, State.BEYOND_TRAVEL.value), np.full(count, np.nan), np.zeros(count)
    )

    def note(rows: Rows, solved: SolvedMount, state: NDArray[np.str_], angle: Array) -> None:
        tension = solved.mount.tension(solved.mount.path(angle).length)
        found.state[rows] = state
        found.tension[rows] = np.where(state == State.NO_BALANCE, 0.0, tension.reshape(-1))
        found.tightens[rows] = np.reshape(solved.travel.tightens, -1)

    if np.any(plain):
        rows = np.flatnonzero(plain)
        solved, state = _solved(mount, rows, travel, plain)
        note(rows, solved, state, np.asarray(solved.zero.plate_angle))
    for row in np.flatnonzero(~plain):
        with suppress(MountError):
            one = solve_mount(alone(int(row)))
            is_at_stop = one.zero.state is State.AT_STOP
            angle = one.travel.tight_angle if is_at_stop else one.zero.plate_angle
            note(np.array([row]), one, np.array([one.zero.state.value]), np.array([angle]))
    return found


def _plain_travel(mount: Mount, count: int) -> tuple[dict[str, Any], NDArray[np.bool_]]:
    """Numbers of travels, of shape (count, 1), and which have no dead centres and other ends."""
    nodes = travel_nodes(mount)
    plain = np.ones(count, dtype=bool)
    for reason, values in limits(mount, nodes).items():
        clear = np.all(values > ROUNDING, axis=-1)
        if reason not in (EndReason.OVERLAP, EndReason.GRAZING):
            clear |= np.all(values < -ROUNDING, axis=-1)
        plain &= clear
    ends = np.broadcast_to(nodes[[0, -1]], (count, 2))
    excess = np.broadcast_to(mount.path(ends).length - mount.length, (count, 2))
    plain &= (excess[:, 0] * excess[:, 1] < 0) & np.all(np.abs(excess) > ROUNDING, axis=-1)
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
