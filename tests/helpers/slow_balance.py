"""What the plate does under a load, and grip, word for word from their definitions.

The net moment on the plate is scanned over a fine grid of plate angles from where the
adjuster holds it, in the direction in which it moves; grip scans the load from nothing
upwards. Moments are counter-clockwise positive here, as the plate angle is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
from scipy.optimize import brentq
from slow_geometry import SlowMount, cross
from slow_travel import SlowTravel

from mountcalc.equilibrium.states import State
from mountcalc.scenario.model import Acts, AdjusterKind

__all__ = ["Load", "Rest", "SlowBalance"]

_NODES = 2001
_LOADS = np.concatenate([np.geomspace(1e-6, 8e-3, 25), np.linspace(1e-2, 1.0, 100)])
# Share of the moments in play below which a moment is rounding, not a moment.
_NOTHING = 1e-9
_NO_GRIP = 1e-9


@dataclass(frozen=True)
class Load:
    """Pull asked of each belt [N], and the tension that its own motion takes [N]."""

    pull: float
    centrifugal: float


@dataclass(frozen=True)
class Rest:
    """Where the plate comes to rest, and the adjuster's force there."""

    state: State
    angle: float | None
    adjuster: float

    @property
    def loaded(self) -> bool:
        """Whether a taut belt carries something here."""
        return self.state in (State.HELD, State.RIDING)


@dataclass(frozen=True)
class _Arms:
    """Everything that a moment is made of, at some plate angles."""

    angle: np.ndarray
    tension: np.ndarray
    tight: np.ndarray
    slack: np.ndarray
    limit: np.ndarray
    weight: np.ndarray


_Source = Callable[[float], _Arms]


@dataclass(frozen=True, eq=False)
class SlowBalance:
    """Moments of one mount over its usable travel."""

    mount: SlowMount
    travel: SlowTravel
    stiffness: float

    def arms(self, angle) -> _Arms:
        """Tension, moment arms, slip limit and the weights' moment at plate angles."""
        scenario, mount = self.mount.scenario, self.mount
        angle = np.asarray(angle, dtype=float)
        stretch = mount.path(angle) / scenario.belt.length - 1.0
        tight, slack = (
            cross(strand.on_motor - mount.hinge, strand.pull_direction)
            for strand in mount.tight_and_slack(angle)
        )
        on_motor, on_driven = mount.wraps(angle)
        ratio = np.exp(
            np.minimum(scenario.motor.traction * on_motor, scenario.driven.traction * on_driven)
        )
        weight = sum(cross(at - mount.hinge, force) for at, force in mount.weights(angle))
        return _Arms(
            angle,
            # A strain of a few rounding errors is none.
            self.stiffness * np.where(stretch > 4e-15, stretch, 0.0),
            tight,
            slack,
            (ratio - 1.0) / (ratio + 1.0),
            weight,
        )

    @cached_property
    def grid(self) -> _Arms:
        """The whole usable travel, finely."""
        nodes = np.linspace(self.travel.low, self.travel.high, _NODES)
        return self.arms(np.sort(np.append(nodes, self.travel.snug)))

    @cache  # noqa: B019 (a balance lives for one table)
    def _arms_at(self, start: float) -> _Arms:
        return self.arms(start)

    @cache  # noqa: B019
    def _adjuster_moment(self, start: float) -> float:
        """Moment on the plate of one newton of compression."""
        lever = self.mount.lever(start)
        return float(cross(lever.at - self.mount.hinge, lever.push))

    def quick_arms(self, angle: float) -> _Arms:
        """The same, straight between the nodes of the grid: close, and a good deal quicker."""
        grid = self.grid
        node = min(max(int(np.searchsorted(grid.angle, angle)), 1), grid.angle.size - 1)
        share = (angle - grid.angle[node - 1]) / (grid.angle[node] - grid.angle[node - 1])
        return _Arms(*(
            column[node - 1] + share * (column[node] - column[node - 1])
            for column in (
                grid.angle, grid.tension, grid.tight, grid.slack, grid.limit, grid.weight
            )
        ))  # fmt: skip

    def half_pull(self, arms: _Arms, load: Load):
        """Half of what is asked, or of what the belt carries if that is less (it slips)."""
        felt = np.maximum(arms.tension - load.centrifugal, 0.0)
        return np.minimum(load.pull / 2.0, felt * arms.limit)

    def net(self, arms: _Arms, load: Load):
        """Moment of strands and weights on the plate."""
        count = self.mount.scenario.belt.count
        half = self.half_pull(arms, load)
        tight = np.maximum(arms.tension + half - load.centrifugal, 0.0)
        slack = np.maximum(arms.tension - half - load.centrifugal, 0.0)
        return count * (tight * arms.tight + slack * arms.slack) + arms.weight

    def _in_play(self, arms: _Arms, load: Load):
        count = self.mount.scenario.belt.count
        felt = np.maximum(arms.tension - load.centrifugal, 0.0)
        return count * felt * (abs(arms.tight) + abs(arms.slack)) + abs(arms.weight)

    def settle(self, start: float, load: Load, *, exact: bool = True) -> Rest:
        """Held at ``start`` if the adjuster carries that, else moved to the first balance."""
        here = self._arms_at(start)
        net = float(self.net(here, load))
        if abs(net) <= _NOTHING * float(self._in_play(here, load)):
            net = 0.0
        if self.mount.scenario.adjuster.kind is not AdjusterKind.NONE:
            force = -net / self._adjuster_moment(start) + 0.0
            if self._carries(force):
                return Rest(State.HELD, start, force)
        elif net == 0.0 and here.tension > 0:
            return Rest(State.RIDING, start, 0.0)
        return self._move(start, 1 if net > 0 else -1, load, exact=exact)

    def _carries(self, force: float) -> bool:
        acts = self.mount.scenario.adjuster.acts
        return {Acts.PUSH: force >= 0, Acts.PULL: force <= 0, Acts.BOTH: True}[acts]

    def _move(self, start: float, direction: int, load: Load, *, exact: bool) -> Rest:
        """Go on as long as the net moment drives the plate that way."""
        grid = self.grid
        ahead = np.flatnonzero((grid.angle - start) * direction > 1e-13)[::direction]
        drive = direction * self.net(grid, load)[ahead]
        over = np.flatnonzero(drive <= 0)
        if over.size == 0:
            tight = direction == self.travel.tightens
            return Rest(State.AT_STOP, self.travel.tight_end, 0.0) if tight else _LOST
        first = int(over[0])
        before = start if first == 0 else float(grid.angle[ahead[first - 1]])
        after = float(grid.angle[ahead[first]])
        arms = self.arms if exact else self.quick_arms
        angle = self._balance_between(before, after, direction, load, arms)
        return Rest(State.RIDING, angle, 0.0) if arms(angle).tension > 0 else _LOST

    def _balance_between(
        self, before: float, after: float, direction: int, load: Load, arms: _Source
    ) -> float:
        def drive(angle: float) -> float:
            return direction * float(self.net(arms(angle), load))

        if drive(before) <= 0:
            return before
        if drive(after) > 0:  # quick and exact arms differ by rounding at a node
            return after
        return float(brentq(drive, before, after, xtol=1e-15, rtol=1e-14))

    def grip(self, start: float, needed: float, centrifugal: float) -> float | None:
        """Smallest k > 0 at which k times the needed pull reaches the limit; None if never."""
        grid = self.grid
        felt = np.maximum(grid.tension - centrifugal, 0.0)
        most = 2.0 * float(np.max(felt * grid.limit)) / needed
        below = 0.0
        for k in _LOADS * most * (1 + 1e-9):
            if self._reached(start, k * needed, centrifugal, exact=False):
                return self._between(start, needed, centrifugal, below, k)
            below = k
        return None

    def _reached(self, start: float, pull: float, centrifugal: float, *, exact: bool) -> bool:
        """Whether the belt slips (or is lost) at a pull."""
        load = Load(pull, centrifugal)
        rest = self.settle(start, load, exact=exact)
        exact = exact or rest.state is State.HELD
        if not rest.loaded:
            return rest.state is State.NO_BALANCE
        arms = (self._arms_at if exact else self.quick_arms)(rest.angle)
        return bool(pull / 2.0 >= max(arms.tension - centrifugal, 0.0) * arms.limit * (1 - 1e-12))

    def _between(
        self, start: float, needed: float, centrifugal: float, below: float, above: float
    ) -> float:
        """Bisect, quickly first; the last digits with everything exact."""

        def narrowed(low: float, high: float, precision: float, *, exact: bool):
            while high - low > precision * high and high > _NO_GRIP:
                middle = (low + high) / 2.0
                if self._reached(start, middle * needed, centrifugal, exact=exact):
                    high = middle
                else:
                    low = middle
            return low, high

        low, high = narrowed(below, above, 1e-6, exact=False)
        low, high = low * (1 - 1e-5), high * (1 + 1e-5)
        reached = [self._reached(start, k * needed, centrifugal, exact=True) for k in (low, high)]
        if reached != [False, True]:
            low, high = below, above
        _, high = narrowed(low, high, 1e-10, exact=True)
        return high if high > _NO_GRIP else 0.0


_LOST = Rest(State.NO_BALANCE, None, 0.0)
