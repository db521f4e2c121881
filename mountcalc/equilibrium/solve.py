"""Solve a mount for turns of its adjuster: state, position and forces of every load case."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.balance import Balance, Demand, Settled
from mountcalc.equilibrium.grip import Grip, find_grip, has_several_ways
from mountcalc.equilibrium.mount import Mount, Numbers
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.states import State
from mountcalc.equilibrium.travel import End, Travel, usable_travel
from mountcalc.equilibrium.zero import AT_REST, Reference, find_zero
from mountcalc.errors import MountError
from mountcalc.formulas.belt import strand_tensions

__all__ = ["CaseSolution", "Cases", "Placement", "SolvedMount", "solve_mount"]

Array = NDArray[np.float64]

# A turn that asks for less than this past the end of the travel [m] is at the end.
_LENGTH_ROUNDING = 1e-12

# A belt that slips has been asked for a hair more than its grip.
_JUST_OVER = 1.0 + 1e-6


@dataclass(frozen=True)
class Placement:
    """Where the adjuster holds the plate, if it does.

    ``turns`` [-], ``extension`` [m] and ``angle`` [rad] have one entry a turn; ``inside`` is
    False where the travel ends first (``angle`` is then that of the end).
    """

    turns: Array
    extension: Array
    angle: Array
    inside: NDArray[np.bool_]


@dataclass(frozen=True)
class CaseSolution:
    """One load case over all turns; NaN where the state leaves nothing to say.

    ``tight`` and ``slack`` [N] are one belt's, centrifugal part included; ``shaft_force`` [N]
    (shape (..., 2)) is what all belts together pull the driven shaft with, as it feels it;
    ``hinge`` [N] (..., 2) the hinge's reaction on the plate.
    """

    state: NDArray[np.str_]
    phi: Array
    tension: Array
    pull: Array
    tight: Array
    slack: Array
    shaft_force: Array
    adjuster: Array
    hinge: Array
    grip: Grip
    slips: NDArray[np.bool_]

    def lost_where(self, lost: NDArray[np.bool_]) -> CaseSolution:
        """The same, with no balance where ``lost``."""
        if not np.any(lost):
            return self
        nothing = np.where(lost, np.nan, 1.0)
        pair = nothing[..., np.newaxis]
        return CaseSolution(
            state=np.where(lost, State.NO_BALANCE, self.state),
            phi=nothing * self.phi,
            tension=nothing * self.tension,
            pull=nothing * self.pull,
            tight=nothing * self.tight,
            slack=nothing * self.slack,
            shaft_force=pair * self.shaft_force,
            adjuster=nothing * self.adjuster,
            hinge=pair * self.hinge,
            grip=self.grip.lost_where(lost),
            slips=self.slips & ~lost,
        )


class Cases(NamedTuple):
    """The three load cases over the same turns."""

    rest: CaseSolution
    running: CaseSolution
    starting: CaseSolution


@dataclass(frozen=True)
class SolvedMount:
    """A mount with its usable travel and its zero: ready for any turns and any load."""

    mount: Mount
    travel: Travel
    balance: Balance
    zero: Reference

    @cached_property
    def zero_extension(self) -> float:
        """Extension of the adjuster at zero [m]."""
        return float(self.mount.adjuster(np.asarray(self.zero.plate_angle)).extension)

    @property
    def advance(self) -> float:
        """Change of extension for one turn that tightens [m], signed."""
        advance = self.mount.scenario.adjuster.advance_per_turn
        assert advance is not None
        return self.travel.turn_sign * advance

    def turns_at(self, end: End) -> float:
        """Turns at one end of the usable travel."""
        extension = float(self.mount.adjuster(np.asarray(end.angle)).extension)
        return (extension - self.zero_extension) / self.advance

    def with_stiffness(self, stiffness: Numbers) -> SolvedMount:
        """The same mount with another belt stiffness [N], its zero found anew."""
        mount = self.mount.with_stiffness(stiffness)
        balance = Balance(mount, self.travel)
        return SolvedMount(mount, self.travel, balance, find_zero(balance))

    def place(self, turns: ArrayLike) -> Placement:
        """Where the adjuster holds the plate at given turns.

        Parameters
        ----------
        turns : array_like [-]
            Turns from zero; ignored without an adjuster.

        Returns
        -------
        Placement
            One entry a turn (a single one without an adjuster).

        Raises
        ------
        MountError
            Where a dead centre lies between zero and one of the turns.
        """
        if not self.mount.has_adjuster:
            angle = np.array([self.zero.plate_angle])
            nothing = np.full(1, np.nan)
            return Placement(nothing, nothing, angle, np.ones(1, dtype=bool))
        turn = np.atleast_1d(np.asarray(turns, dtype=float))
        extension = self.zero_extension + self.advance * turn
        low, high = self.travel.low.angle, self.travel.high.angle
        ends = self.mount.adjuster(np.array([low, high])).extension
        shortest, longest = float(ends.min()), float(ends.max())
        inside = (extension >= shortest - _LENGTH_ROUNDING) & (
            extension <= longest + _LENGTH_ROUNDING
        )
        self._refuse_dead_centre(turn, extension, inside)
        wanted = np.clip(extension, shortest, longest)
        angle = bracketed_roots(
            lambda phi: self.mount.adjuster(phi).extension - wanted,
            np.full_like(wanted, low),
            np.full_like(wanted, high),
        )
        # Found from its extension, zero would be off by the rounding of an angle.
        angle = np.where(turn == 0, self.zero.plate_angle, angle)
        return Placement(turn, extension, angle, inside)

    def _refuse_dead_centre(self, turn: Array, extension: Array, inside: NDArray[np.bool_]) -> None:
        for end in (self.travel.low, self.travel.high):
            at = float(self.mount.adjuster(np.asarray(end.angle)).extension)
            past = ~inside & ((extension > at) if at > self.zero_extension else (extension < at))
            if end.is_dead and np.any(past):
                limit = (at - self.zero_extension) / self.advance
                raise MountError(
                    self.mount.scenario.source,
                    "turns",
                    f"between zero and {turn[past][0]:g} turns, at {limit:.2f} turns and a "
                    f"plate angle of {math.degrees(end.angle):.2f} deg, {end.reason.value}; ask "
                    "for fewer turns, or move the hinge or the adjuster so that this lies outside "
                    "the travel",
                )

    @property
    def demands(self) -> dict[str, Demand]:
        """What rest, running and starting ask of the belts.

        The belt has not come up to speed as it starts: no centrifugal tension there.
        """
        mount = self.mount
        starting = mount.scenario.driven.starting_factor * mount.pull
        return {
            "rest": AT_REST,
            "running": Demand(mount.pull, mount.centrifugal_tension),
            "starting": Demand(starting, 0.0),
        }

    def cases(self, placement: Placement, *, with_grip: bool = True) -> Cases:
        """Rest, running and starting; with no balance at rest there is none in the others."""
        rest = self.case(placement, self.demands["rest"], with_grip=False)
        lost = rest.state == State.NO_BALANCE
        others = (
            self.case(placement, self.demands[name], with_grip=with_grip).lost_where(lost)
            for name in ("running", "starting")
        )
        return Cases(rest, *others)

    def case(self, placement: Placement, demand: Demand, *, with_grip: bool = True) -> CaseSolution:
        """Solve one load case.

        Parameters
        ----------
        placement : Placement
            Where the adjuster holds the plate, from :meth:`place`.
        demand : Demand
            Pull and centrifugal tension of the case.
        with_grip : bool, optional
            Whether the grip is wanted; without it, it is NaN, and slip is still told.

        Returns
        -------
        CaseSolution
            State and forces, one entry a turn.
        """
        start = placement.angle
        if not np.all(np.isfinite(start)):
            lost = np.full(start.shape, self.zero.state.value)
            settled = Settled(lost, np.full(start.shape, np.nan), np.zeros_like(start))
        else:
            settled = self.balance.settle(start, demand, in_contact=self.mount.has_adjuster)
        several = has_several_ways(self.balance, start, demand) & (demand.pull > 0)
        if with_grip or np.any(several):
            contact = self.mount.has_adjuster
            grip = find_grip(self.balance, start, demand, several, in_contact=contact)
            settled = self._settled_at_grip(start, demand, settled, grip)
        else:
            grip = Grip(np.full(start.shape, np.nan), several)
        beyond = np.where(placement.inside, settled.state, State.BEYOND_TRAVEL)
        return self._forces(
            Settled(beyond, np.where(placement.inside, settled.phi, np.nan), settled.adjuster),
            demand,
            grip,
        )

    def _settled_at_grip(
        self, start: Array, demand: Demand, settled: Settled, grip: Grip
    ) -> Settled:
        """Settings that slip on one of several ways, settled at the pull that they deliver."""
        if not self.mount.has_adjuster or not np.any(grip.by_steps):
            return settled
        delivered = grip.value * self.mount.pull
        again = grip.by_steps & (delivered < demand.pull) & (settled.state != State.NO_BALANCE)
        if not np.any(again):
            return settled
        state, phi, force = settled.state.copy(), settled.phi.copy(), settled.adjuster.copy()
        for index in np.flatnonzero(again):
            asked = Demand(float(delivered[index]) * _JUST_OVER, demand.centrifugal)
            one = self.balance.settle(start[index : index + 1], asked, in_contact=True)
            state[index], phi[index], force[index] = one.state[0], one.phi[0], one.adjuster[0]
        return Settled(state, phi, force)

    def _forces(self, settled: Settled, demand: Demand, grip: Grip) -> CaseSolution:
        loaded = np.isin(settled.state, (State.HELD, State.RIDING))
        at = self.balance.moments(np.where(loaded, settled.phi, self.travel.snug))
        half = at.half_pull(demand)
        felt_tight, felt_slack = at.felt(demand)
        pulls = self.mount.pulls(at.phi)
        on_motor = self.mount.count * (
            felt_tight[..., np.newaxis] * pulls.tight + felt_slack[..., np.newaxis] * pulls.slack
        )
        force = settled.adjuster
        hinge = -(on_motor + self._weight() + self._adjuster_push(at.phi, force))
        tight, slack = strand_tensions(at.tension, 2.0 * half)
        blank = np.where(loaded, 1.0, np.nan)
        needed = demand.pull / self.mount.pull if self.mount.pull else 0.0
        slips = np.where(grip.by_steps, grip.value < needed, 2.0 * half < demand.pull)
        return CaseSolution(
            state=settled.state,
            phi=settled.phi,
            tension=blank * at.tension,
            pull=blank * 2.0 * half,
            tight=blank * tight,
            slack=blank * slack,
            shaft_force=blank[..., np.newaxis] * -on_motor,
            adjuster=blank * force,
            hinge=blank[..., np.newaxis] * hinge,
            grip=grip,
            slips=loaded & slips,
        )

    def _weight(self) -> Array:
        scenario = self.mount.scenario
        return np.array([0.0, -(scenario.motor.weight + scenario.plate.weight)])

    def _adjuster_push(self, phi: Array, force: Array) -> Array:
        """The adjuster's force on the plate, shape (..., 2)."""
        if not self.mount.has_adjuster:
            return np.zeros((*phi.shape, 2))
        adjuster = self.mount.adjuster(phi)
        unit = np.stack([adjuster.force_x, adjuster.force_y], axis=-1)
        return force[..., np.newaxis] * unit


def solve_mount(mount: Mount) -> SolvedMount:
    """Find a mount's usable travel and its zero; its adjuster is rigid.

    Parameters
    ----------
    mount : Mount
        The mount; one with a spring belongs to :mod:`mountcalc.equilibrium.sprung`.

    Returns
    -------
    SolvedMount
        Ready for turns and load cases.

    Raises
    ------
    MountError
        Where the belt never becomes snug, or turns have no zero.
    """
    if mount.scenario.adjuster.spring is not None:
        raise MountError(
            mount.scenario.source, "adjuster", "a spring in series cannot be taken as rigid here"
        )
    travel = usable_travel(mount)
    balance = Balance(mount, travel)
    return SolvedMount(mount, travel, balance, find_zero(balance))
