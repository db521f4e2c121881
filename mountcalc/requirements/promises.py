"""What a setting must keep, as functions of the turns: grip above, loads below their limits.

For a drive that reverses, both rotations count: the smaller grip, the larger load.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.requirements.limits import Limited, limit_shares, slack_shares
from mountcalc.scenario.model import Rotation, Scenario

__all__ = ["Promises", "promises_of"]

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Promises:
    """A mount solved for each rotation that it runs in; the first is the one that is shown."""

    scenario: Scenario
    ways: tuple[SolvedMount, ...]

    @property
    def solved(self) -> SolvedMount:
        """The mount as it is shown."""
        return self.ways[0]

    @cached_property
    def last_turn(self) -> float:
        """Turns at the tight end of the usable travel, a hair before a dead centre [-]."""
        end = self.solved.travel.tight_end
        turns = self.solved.turns_at(end)
        return turns * (1 - 1e-9) if end.is_dead else turns

    def grip_margins(self, turns: ArrayLike) -> dict[str, Array]:
        """Grip over the wanted grip for each case that is promised; at least 1 keeps it."""
        limits = self.scenario.limits
        wanted = {"running": limits.grip}
        if limits.starting_grip is not None:
            wanted["starting"] = limits.starting_grip * self.scenario.driven.starting_factor
        margins: dict[str, list[Array]] = {name: [] for name in wanted}
        for way in self.ways:
            cases = way.cases(way.place(turns))
            for name, grip in wanted.items():
                value = getattr(cases, name).grip.value
                margins[name].append(np.nan_to_num(value, nan=0.0, posinf=np.inf) / grip)
        return {name: np.min(np.stack(rows), axis=0) for name, rows in margins.items()}

    def shares(self, turns: ArrayLike) -> dict[Limited, Array]:
        """Share of each limit in each case; above 1 breaks the promise."""
        found = [
            limit_shares(self.scenario, way.cases(way.place(turns), with_grip=False))
            for way in self.ways
        ]
        return {key: np.max(np.stack([one[key] for one in found]), axis=0) for key in found[0]}

    @cached_property
    def slack(self) -> dict[Limited, float]:
        """Share of each bearing's limit with the belt off [-]: no tension takes part in it."""
        way = self.solved
        shares = slack_shares(self.scenario, way.cases(way.place(0.0), with_grip=False))
        return {key: float(share[0]) for key, share in shares.items()}

    def worst(self, turns: ArrayLike) -> Array:
        """Greatest share of any limit at each turn [-]."""
        shares: Array = np.max(np.stack(list(self.shares(turns).values())), axis=0)
        return shares

    def with_stiffness_times(self, factor: float) -> Promises:
        """The same with a belt so many times as stiff [-]; MountError where that has no zero."""
        ways = tuple(way.with_stiffness(factor * way.mount.stiffness) for way in self.ways)
        return Promises(self.scenario, ways)

    def turns_for(self, tension: ArrayLike) -> Array:
        """Turns from zero at which one strand of one belt has a rest tension."""
        wanted, (first, most) = np.atleast_1d(np.asarray(tension, dtype=float)), self._ends
        found = self._between(np.clip(np.nan_to_num(wanted, posinf=most), first, most))
        return np.where(wanted > most, np.inf, np.where(wanted > first, found, 0.0))

    @cached_property
    def _ends(self) -> tuple[float, float]:
        """Rest tensions at zero and at the last turn [N]."""
        first, last = np.nan_to_num(self.tension([0.0, self.last_turn]), nan=0.0)
        return float(first), float(last)

    def _between(self, tension: Array) -> Array:
        """Turns at tensions that lie between those of the ends."""
        solved, last = self.solved, self.last_turn
        if self.scenario.adjuster.spring is not None:
            none, all_turns = np.zeros(tension.shape), np.full(tension.shape, last)
            return bracketed_roots(lambda turns: self.tension(turns) - tension, none, all_turns)
        mount, travel = solved.mount, solved.travel
        snug, end = (np.full(tension.shape, at) for at in (travel.snug, travel.tight_end.angle))
        angle = bracketed_roots(
            lambda phi: mount.tension(mount.path(phi).length) - tension, snug, end
        )
        turns = (mount.adjuster(angle).extension - solved.zero_extension) / solved.advance
        return np.clip(turns, 0.0, last)

    def tension(self, turns: ArrayLike) -> Array:
        """Rest tension of one strand of one belt [N]; NaN where there is none."""
        way = self.solved
        return way.case(way.place(turns), way.demands["rest"], with_grip=False).tension


def promises_of(scenario: Scenario) -> Promises:
    """Solve a mount for every rotation that it runs in."""
    rotations = [scenario.motor.rotation]
    if scenario.motor.reverses:
        rotations.append(Rotation.CW if rotations[0] is Rotation.CCW else Rotation.CCW)
    ways = []
    for rotation in rotations:
        motor = dataclasses.replace(scenario.motor, rotation=rotation)
        ways.append(solve_mount(Mount.of(dataclasses.replace(scenario, motor=motor))))
    return Promises(scenario, tuple(ways))
