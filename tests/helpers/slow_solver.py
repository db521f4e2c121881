"""A second, slow solver for whole mounts: turns in, states and forces out.

It exists to disagree with the program. It follows the definitions in words: where turns are
counted from, what a held, a riding, a lost plate is, what slipping leaves of the load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq
from slow_balance import Load, Rest, SlowBalance
from slow_geometry import SlowMount
from slow_travel import Refusal, find_travel

from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.scenario.driven import When
from mountcalc.scenario.model import AdjusterKind, Scenario

__all__ = ["Refusal", "SlowCase", "SlowTable", "solve_slowly"]

_CASES = ("rest", "running", "starting")


@dataclass(frozen=True)
class SlowCase:
    """One load case; forces are missing where the state leaves none."""

    state: State
    plate_angle: float | None = None
    grip: float | None = None
    slips: bool | None = None
    pull: float | None = None
    tight: float | None = None
    slack: float | None = None
    shaft_load: float | None = None
    adjuster: float | None = None
    hinge: float | None = None
    bearings: tuple[float, float] | None = None


@dataclass(frozen=True)
class SlowTable:
    """Zero and the cases of every turn."""

    zero_kind: ZeroKind
    zero_angle: float | None
    snug: float
    turn_sign: int
    tensions: tuple[float | None, ...]
    rows: tuple[dict[str, SlowCase], ...]


def solve_slowly(
    scenario: Scenario, turns: Sequence[float], stiffness: float | None = None
) -> SlowTable:
    """Every turn on its own."""
    return _Solver(scenario, stiffness or scenario.belt.stiffness).table(turns)


class _Solver:
    def __init__(self, scenario: Scenario, stiffness: float) -> None:
        self.scenario = scenario
        self.mount = SlowMount(scenario)
        self.travel = find_travel(self.mount)
        self.balance = SlowBalance(self.mount, self.travel, stiffness)
        self.has_adjuster = scenario.adjuster.kind is not AdjusterKind.NONE
        speed = scenario.motor.speed * scenario.motor.pulley_radius
        self.needed = scenario.driven.power / speed / scenario.belt.count
        self.loads = {
            "rest": Load(0.0, 0.0),
            "running": Load(self.needed, scenario.belt.mass * speed**2),
            "starting": Load(self.needed * scenario.driven.starting_factor, 0.0),
        }

    def table(self, turns: Sequence[float]) -> SlowTable:
        snug = self.balance.settle(self.travel.snug, self.loads["rest"])
        on_snug = snug.state is State.HELD
        if self.has_adjuster and not snug.loaded:
            raise Refusal("no zero")
        zero = self.travel.snug if on_snug else snug.angle
        starts = self._starts(zero, turns) if self.has_adjuster else [zero]
        rows = tuple(self._row(start) for start in starts)
        return SlowTable(
            zero_kind=ZeroKind.SNUG if on_snug else ZeroKind.CONTACT,
            zero_angle=zero if snug.loaded else None,
            snug=self.travel.snug,
            turn_sign=self.travel.tightens * self.travel.extends,
            tensions=tuple(self._tension(row["rest"]) for row in rows),
            rows=rows,
        )

    def _tension(self, rest: SlowCase) -> float | None:
        if rest.pull is None:
            return None
        return float(self.balance.arms(rest.plate_angle).tension)

    def _starts(self, zero: float, turns: Sequence[float]) -> list[float | None]:
        """Plate angles at which the adjuster has the extension of each turn; None past the end."""
        travel = self.travel
        at_zero, low, high = (
            float(self.mount.lever(at).extension) for at in (zero, travel.low, travel.high)
        )
        one_turn = travel.tightens * travel.extends * self.scenario.adjuster.advance_per_turn
        starts: list[float | None] = []
        for turn in turns:
            wanted = at_zero + one_turn * turn
            if min(low, high) <= wanted <= max(low, high):
                starts.append(self._angle_for(wanted))
                continue
            passed = travel.high if (wanted > high) == (high > low) else travel.low
            if passed in travel.dead:
                raise Refusal("dead centre")
            starts.append(None)
        return starts

    def _angle_for(self, extension: float) -> float:
        def excess(angle: float) -> float:
            return float(self.mount.lever(angle).extension) - extension

        return float(brentq(excess, self.travel.low, self.travel.high, xtol=1e-15, rtol=1e-14))

    def _row(self, start: float | None) -> dict[str, SlowCase]:
        if start is None and self.has_adjuster:
            return dict.fromkeys(_CASES, SlowCase(State.BEYOND_TRAVEL))
        rest = SlowCase(State.NO_BALANCE) if start is None else self._case("rest", start)
        if rest.state is State.NO_BALANCE:
            # A belt that is lost carries nothing, so any pull is too much.
            lost = SlowCase(State.NO_BALANCE, grip=0.0 if self.needed > 0 else None)
            return {"rest": rest} | dict.fromkeys(_CASES[1:], lost)
        return {"rest": rest} | {name: self._case(name, start) for name in _CASES[1:]}

    def _case(self, name: str, start: float) -> SlowCase:
        load = self.loads[name]
        grip = None
        if name != "rest" and self.needed > 0:
            grip = self.balance.grip(start, self.needed, load.centrifugal)
        slips = grip is not None and bool(grip * self.needed < load.pull)
        # A belt that slips is loaded to its limit, and no further.
        carried = grip * self.needed * (1 + 1e-12) if slips else load.pull
        rest = self.balance.settle(start, Load(carried, load.centrifugal))
        if not rest.loaded:
            return SlowCase(rest.state, rest.angle, grip)
        return self._forces(name, rest, Load(carried, load.centrifugal), grip, slips=slips)

    def _forces(
        self, name: str, rest: Rest, load: Load, grip: float | None, *, slips: bool
    ) -> SlowCase:
        arms = self.balance.arms(rest.angle)
        half = float(self.balance.half_pull(arms, load))
        tension = float(arms.tension)
        strands = self.mount.tight_and_slack(np.asarray(rest.angle))
        belt = self.scenario.belt.count * sum(
            max(tension + change - load.centrifugal, 0.0) * strand.pull_direction
            for change, strand in zip((half, -half), strands, strict=True)
        )
        others = sum(force for _, force in self.mount.weights(rest.angle))
        if self.has_adjuster:
            others = others + rest.adjuster * self.mount.lever(rest.angle).push
        return SlowCase(
            state=rest.state,
            plate_angle=rest.angle,
            grip=grip,
            slips=slips,
            pull=2 * half,
            tight=tension + half,
            slack=tension - half,
            shaft_load=float(np.hypot(*belt)),
            adjuster=rest.adjuster,
            hinge=float(np.hypot(*(belt + others))),
            bearings=self._bearings(name, -belt),
        )

    def _bearings(self, name: str, belt_on_shaft: np.ndarray) -> tuple[float, float]:
        """Sizes of the two loads: moments about each bearing in turn."""
        driven = self.scenario.driven
        forces = [(driven.pulley_position, belt_on_shaft)]
        forces += [
            (load.position, load.force * np.array(load.direction))
            for load in driven.loads
            if load.when is When.ALWAYS or name != "rest"
        ]
        one, two = (bearing.position for bearing in driven.bearings)
        on_one = sum(force * (two - at) for at, force in forces) / (two - one)
        on_two = sum(force * (at - one) for at, force in forces) / (two - one)
        return float(np.hypot(*on_one)), float(np.hypot(*on_two))
