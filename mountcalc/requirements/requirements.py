"""What a setting must keep, as functions of the turns: grip above, loads below their limits.

For a drive that reverses, both rotations count: the smaller grip, the larger load. At the end,
whether weight alone, with the adjuster off, keeps all that, however it was weighed.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.bearings import CASES, bearing_shares, solve_bearings
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import Cases, SolvedMount, solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.record import Record
from mountcalc.requirements.results import Part, Ruler
from mountcalc.scenario.model import Adjuster, AdjusterKind, Rotation, Scenario

Array = NDArray[np.float64]

_MOST_KNOWN = 16  # turns, one or many, whose cases are remembered


def limit_shares(scenario: Scenario, cases: Cases) -> dict[Ruler, Array]:
    """Share of its limit for everything that has one, in every case.

    0 without loads, infinite where the mount tightens without end.
    """
    limits = scenario.limits
    found: dict[Ruler, Array] = {}
    for name, case in zip(CASES, cases, strict=True):
        solutions = solve_bearings(scenario, case, name)
        shares = [
            (Ruler(name, bearing.name, Part.BEARING), solution.share)
            for bearing, solution in zip(scenario.driven.bearings, solutions, strict=True)
        ]
        if limits.adjuster is not None:
            of_limit = np.abs(case.adjuster) / limits.adjuster
            shares.append((Ruler(name, None, Part.ADJUSTER), of_limit))
        if limits.hinge is not None:
            of_limit = np.hypot(case.hinge[..., 0], case.hinge[..., 1]) / limits.hinge
            shares.append((Ruler(name, None, Part.HINGE), of_limit))
        for key, share in shares:
            bounded = np.where(case.state == State.AT_STOP, np.inf, np.nan_to_num(share, nan=0.0))
            found[key] = np.maximum(bounded, found.get(key, 0.0))
    return found


def worst_share_of(scenario: Scenario, cases: Cases) -> Array:
    """Greatest share of a limit in any case, for each turn."""
    worst: Array = np.max(np.stack(list(limit_shares(scenario, cases).values())), axis=0)
    return worst


class Requirements(Record):
    """A mount solved for each rotation that it runs in; the first is the one that is shown."""

    scenario: Scenario
    ways: tuple[SolvedMount, ...]

    @property
    def solved(self) -> SolvedMount:
        """The mount as it is shown."""
        return self.ways[0]

    @cached_property
    def last_turn(self) -> float:
        """Turns at the tight end of the usable travel [-]."""
        return self.solved.turns_at(self.solved.travel.tight_end)

    def grip_margins(self, turns: ArrayLike) -> dict[str, Array]:
        """Grip over the wanted grip for each case that has one; at least 1 keeps it."""
        limits = self.scenario.limits
        wanted = {"running": limits.grip}
        if limits.starting_grip is not None:
            wanted["starting"] = limits.starting_grip * self.scenario.driven.starting_factor
        margins: dict[str, list[Array]] = {name: [] for name in wanted}
        for cases in self.cases(turns):
            for name, grip in wanted.items():
                value = getattr(cases, name).grip.value
                margins[name].append(np.nan_to_num(value, nan=0.0, posinf=np.inf) / grip)
        return {name: np.min(np.stack(rows), axis=0) for name, rows in margins.items()}

    def cases(self, turns: ArrayLike) -> list[Cases]:
        """All load cases of each way, with the grip; the latest are remembered."""
        key = np.asarray(turns, dtype=float).tobytes()
        if key not in self._known:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            self._known[key] = [way.cases(way.place(turns)) for way in self.ways]
        return self._known[key]

    @cached_property
    def _known(self) -> dict[bytes, list[Cases]]:
        return {}

    def shares(self, turns: ArrayLike) -> dict[Ruler, Array]:
        """Share of each limit in each case; above 1 breaks it."""
        known = self._known.get(np.asarray(turns, dtype=float).tobytes())
        found = [
            limit_shares(self.scenario, cases)
            for cases in known
            or (way.cases(way.place(turns), with_grip=False) for way in self.ways)
        ]
        return {key: np.max(np.stack([one[key] for one in found]), axis=0) for key in found[0]}

    @cached_property
    def slack(self) -> dict[Ruler, float]:
        """Share of each bearing's limit with the belt off [-]: no tension takes part in it."""
        driven = self.scenario.driven
        return {
            Ruler(case, bearing.name, Part.BEARING): math.hypot(*load) / limit
            for case in CASES
            for bearing, (_, load, limit) in zip(
                driven.bearings, bearing_shares(driven, case), strict=True
            )
        }

    def grip(self, turns: ArrayLike) -> Array:
        """Least grip over the wanted one in any case that has one; at least 1 keeps all [-]."""
        margins: Array = np.min(np.stack(list(self.grip_margins(turns).values())), axis=0)
        return margins

    def nearest_limit(self, turns: float) -> tuple[Ruler, float]:
        """What is at the greatest share of its limit, and at which [-]."""
        shares = {key: float(share[0]) for key, share in self.shares(turns).items()}
        key = max(shares, key=shares.__getitem__)
        return key, shares[key]

    def worst(self, turns: ArrayLike) -> Array:
        """Greatest share of any limit at each turn [-]."""
        shares: Array = np.max(np.stack(list(self.shares(turns).values())), axis=0)
        return shares

    def with_stiffness_times(self, factor: float) -> Requirements:
        """The same with a belt so many times as stiff [-]; MountError where that has no zero."""
        ways = tuple(way.with_stiffness(factor * way.mount.stiffness) for way in self.ways)
        return Requirements(self.scenario, ways)

    def turns_for(self, tension: ArrayLike) -> Array:
        """Turns from zero at which one strand of one belt has a rest tension."""
        solved, last = self.solved, self.last_turn
        wanted, (first, most) = np.atleast_1d(np.asarray(tension, dtype=float)), self._ends
        inside = np.clip(np.nan_to_num(wanted, posinf=most), first, most)
        extension = solved.extension_at(solved.angle_for(inside))
        turns = np.clip((extension - solved.zero_extension) / solved.advance, 0.0, last)
        return np.where(wanted > most, np.inf, np.where(wanted > first, turns, 0.0))

    @cached_property
    def _ends(self) -> tuple[float, float]:
        """Rest tensions at zero and at the last turn [N]."""
        first, last = np.nan_to_num(self.tension([0.0, self.last_turn]), nan=0.0)
        return float(first), float(last)

    def tension(self, turns: ArrayLike) -> Array:
        """Rest tension of one strand of one belt [N]; NaN where there is none."""
        return self.solved.at_rest(turns).tension

    def at_corner(self, belt: int, weights: int) -> Requirements:
        """With softest (-1) or stiffest (+1) belt and spring, and lightest or heaviest weights."""
        scenario = self.scenario
        motor, plate, factor = scenario.motor, scenario.plate, scenario.belt.stiffness_factor**belt
        times, adjuster = 1.0 + weights * motor.weight_error, scenario.adjuster
        if adjuster.coil is not None:
            rate = (1.0 + belt * adjuster.coil.rate_error) * adjuster.coil.rate
            adjuster = replace(adjuster, coil=replace(adjuster.coil, rate=rate))
        changed = replace(
            scenario,
            belt=replace(scenario.belt, stiffness=factor * scenario.belt.stiffness),
            motor=replace(motor, weight=times * motor.weight),
            plate=replace(plate, weight=times * plate.weight),
            adjuster=adjuster,
        )
        ways = zip(self.ways, _rotations(changed), strict=True)
        return Requirements(changed, tuple(way.with_mount(Mount.of(one)) for way, one in ways))


@lru_cache(maxsize=32)
def requirements_of(scenario: Scenario) -> Requirements:
    """Solve a mount for every rotation that it runs in."""
    return Requirements(scenario, tuple(solve_mount(Mount.of(one)) for one in _rotations(scenario)))


def _rotations(scenario: Scenario) -> list[Scenario]:
    rotations = [scenario.motor.rotation]
    if scenario.motor.reverses:
        rotations.append(Rotation.CW if rotations[0] is Rotation.CCW else Rotation.CCW)
    motors = [replace(scenario.motor, rotation=rotation) for rotation in rotations]
    return [replace(scenario, motor=motor) for motor in motors]


def weight_alone_of(scenario: Scenario) -> Scenario:
    """The same mount with no adjuster."""
    return replace(scenario, adjuster=Adjuster(AdjusterKind.NONE))


@lru_cache(maxsize=32)
def _corners(scenario: Scenario) -> tuple[Requirements, ...]:
    """The lightest and the heaviest weights with the softest and the stiffest belt, or none."""
    try:
        free = requirements_of(weight_alone_of(scenario))
        return tuple(free.at_corner(belt, side) for side in (-1, 1) for belt in (-1, 1))
    except MountError:
        return ()


def weight_is_within(scenario: Scenario) -> bool:
    """Whether weight alone keeps every known limit at all corners."""
    corners = _corners(scenario)
    return bool(corners) and all(one.worst(0.0)[0] <= 1.0 for one in corners)


def weight_keeps(scenario: Scenario) -> bool:
    """Whether weight alone will do: the plate rides in every case, with the wanted grip, too."""
    return weight_is_within(scenario) and all(
        one.grip(0.0)[0] >= 1.0
        and all(
            case.state[0] == State.RIDING
            for way in one.ways
            for case in way.cases(way.place(0.0), with_grip=False)
        )
        for one in _corners(scenario)
    )
