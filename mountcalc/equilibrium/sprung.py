"""A plate held through a spring: the adjuster sets where the spring ends, not where the plate is.

With the adjuster's end at s_adj and a spring of stiffness k between it and the plate, the energy
gains 1/2 k (s_adj - s(phi))^2 wherever the spring bears: in compression for one that pushes, in
tension for one that pulls. The end stays where the hand has set it; rest, running and starting
each balance anew at

    G(phi) = F s'(phi),    F = k (s_adj - s(phi))

with G the net moment of :mod:`mountcalc.equilibrium.balance`. A spring that does not bear has
F = 0, and the plate rides on the belt.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.balance import Balance, Demand, Settled
from mountcalc.equilibrium.grip import NO_PULL, TIGHTENS_ITSELF, Grip
from mountcalc.equilibrium.mount import AdjusterState, Mount, Numbers
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import CaseSolution, Placement, SolvedMount, solve_mount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.equilibrium.travel import End, EndReason, usable_travel
from mountcalc.equilibrium.zero import find_zero
from mountcalc.errors import MountError
from mountcalc.scenario.model import Acts

__all__ = ["SprungMount", "solve_rigid_or_sprung"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Share of the way from snug to a dead centre of the adjuster that a spring is not taken to: the
# force that holds the plate there grows without end.
_SHORT_OF_DEAD_CENTRE = 0.01
# An end of the spring this little past the last one [m] is at the last one.
_LENGTH_ROUNDING = 1e-12

SEVERAL_PLACES = "with the spring the plate has several places of rest under one load"


def solve_rigid_or_sprung(mount: Mount) -> SolvedMount:
    """Find a mount's usable travel and its zero, whatever its adjuster bears with.

    Parameters
    ----------
    mount : Mount
        The mount.

    Returns
    -------
    SolvedMount
        A :class:`SprungMount` where its adjuster has a spring.

    Raises
    ------
    MountError
        Where the belt never becomes snug, or turns have no zero.
    """
    if mount.scenario.adjuster.spring is None or not mount.has_adjuster:
        return solve_mount(mount)
    travel = usable_travel(mount)
    balance = Balance(mount, travel)
    return SprungMount(mount, travel, balance, find_zero(balance))


@dataclass(frozen=True)
class SprungMount(SolvedMount):
    """A mount whose adjuster bears on the plate through a spring.

    Zero is where a rigid adjuster has it, by the plate: at snug the spring already carries what
    holds the plate there. ``extension`` of a placement is that of the spring's end, and
    ``angle`` that of the plate if the spring carried nothing.
    """

    @property
    def spring(self) -> float:
        """Stiffness of the spring k [N/m]."""
        spring = self.mount.scenario.adjuster.spring
        assert spring is not None
        return spring

    @cached_property
    def zero_extension(self) -> float:
        """Where the spring's end is at zero [m]."""
        rigid = float(self.mount.adjuster(np.asarray(self.zero.plate_angle)).extension)
        if self.zero.kind is ZeroKind.CONTACT:
            return rigid
        return rigid + self._rest_force(self.zero.plate_angle) / self.spring

    def _rest_force(self, angle: float) -> float:
        """Force that holds the plate at an angle at rest [N]; 0 where the spring cannot."""
        phi = np.array([angle])
        net = self.balance.net(self.balance.moments(phi), self.demands["rest"])
        return float(self._borne(net / self.mount.adjuster(phi).extension_slope)[0])

    def _end_extension(self, end: End) -> float:
        """Where the spring's end is when the plate is at rest at an end of the travel [m]."""
        angle = end.angle
        if end.reason is EndReason.ADJUSTER_DEAD_CENTRE:
            angle += _SHORT_OF_DEAD_CENTRE * (self.travel.snug - angle)
        extension = float(self.mount.adjuster(np.asarray(angle)).extension)
        return extension + self._rest_force(angle) / self.spring

    def turns_at(self, end: End) -> float:
        """Turns that bring the plate at rest to one end of the usable travel."""
        return (self._end_extension(end) - self.zero_extension) / self.advance

    def with_stiffness(self, stiffness: Numbers) -> SprungMount:
        """The same mount with another belt stiffness [N], its zero found anew."""
        mount = self.mount.with_stiffness(stiffness)
        balance = Balance(mount, self.travel)
        return SprungMount(mount, self.travel, balance, find_zero(balance))

    def place(self, turns: ArrayLike) -> Placement:
        """Where the spring's end is at given turns; see :meth:`SolvedMount.place`."""
        turn = np.atleast_1d(np.asarray(turns, dtype=float))
        extension = self.zero_extension + self.advance * turn
        ends = (self.travel.low, self.travel.high)
        shortest, longest = sorted(self._end_extension(end) for end in ends)
        inside = (extension >= shortest - _LENGTH_ROUNDING) & (
            extension <= longest + _LENGTH_ROUNDING
        )
        low, high = (np.full_like(extension, end.angle) for end in ends)
        reach = self.mount.adjuster(np.array([ends[0].angle, ends[1].angle])).extension
        wanted = np.clip(extension, reach.min(), reach.max())
        angle = bracketed_roots(lambda phi: self.mount.adjuster(phi).extension - wanted, low, high)
        return Placement(turn, extension, angle, inside)

    def case(self, placement: Placement, demand: Demand, *, with_grip: bool = True) -> CaseSolution:
        """Solve one load case; see :meth:`SolvedMount.case`."""
        settled = self._settle(placement, demand)
        nowhere = np.zeros(placement.angle.shape, dtype=bool)
        unknown = Grip(np.full(nowhere.shape, np.nan), nowhere)
        grip = self._grip(placement, demand) if with_grip else unknown
        return self._forces(
            Settled(
                np.where(placement.inside, settled.state, State.BEYOND_TRAVEL),
                np.where(placement.inside, settled.phi, np.nan),
                settled.adjuster,
            ),
            demand,
            grip,
        )

    def energy(self, phi: ArrayLike, extension: ArrayLike) -> Array:
        """Potential energy of belts, weights and spring at rest [J], up to a constant.

        Parameters
        ----------
        phi : array_like [rad]
            Plate angles.
        extension : array_like [m]
            Where the spring's end is.
        """
        give = self._force(self.mount.adjuster(phi), np.asarray(extension)) / self.spring
        return self.mount.energy(phi) + 0.5 * self.spring * np.square(give)

    def _borne(self, force: Array) -> Array:
        """What a spring can carry of a force, compression positive [N]."""
        acts = self.mount.scenario.adjuster.acts
        if acts is Acts.PUSH:
            return np.maximum(force, 0.0)
        return np.minimum(force, 0.0) if acts is Acts.PULL else force

    def _force(self, adjuster: AdjusterState, extension: Array) -> Array:
        return self._borne(self.spring * (extension - adjuster.extension))

    def _residual(self, phi: Array, extension: Array, demand: Demand) -> Array:
        """Net moment that is left [N m], clockwise positive."""
        adjuster = self.mount.adjuster(phi)
        net = self.balance.net(self.balance.moments(phi), demand)
        return net - self._force(adjuster, extension) * adjuster.extension_slope

    @cached_property
    def _node_adjuster(self) -> AdjusterState:
        return self.mount.adjuster(self.balance.nodes.phi)

    def _node_residuals(self, extension: Array, demand: Demand) -> Array:
        """The residual at every node of the travel, one row for each end of the spring."""
        force = self._force(self._node_adjuster, extension[:, np.newaxis])
        net = self.balance.net(self.balance.nodes, demand)
        return net - force * self._node_adjuster.extension_slope

    def _settle(self, placement: Placement, demand: Demand) -> Settled:
        """The first balance from where the spring carries nothing, the way the moments drive."""
        start, extension = placement.angle, placement.extension
        at_start = self._residual(start, extension, demand)
        nothing = self.balance.nothing(self.balance.moments(start), demand)
        at_start = np.where(np.abs(at_start) <= nothing, 0.0, at_start)
        found, near, far = self._brackets(placement, at_start, demand)
        phi = start.copy()
        if np.any(found):
            ends = extension[found]
            phi[found] = bracketed_roots(
                lambda angle: self._residual(angle, ends, demand), near[found], far[found]
            )
        return self._settled(phi, placement, found | (at_start == 0), -np.sign(at_start), demand)

    def _brackets(
        self, placement: Placement, at_start: Array, demand: Demand
    ) -> tuple[Bools, Array, Array]:
        """Whether there is a balance on the way, and plate angles on both sides of the first."""
        nodes, start = self.balance.nodes.phi, placement.angle
        residuals = self._node_residuals(placement.extension, demand)
        way = -np.sign(at_start)[:, np.newaxis]
        ahead = way * (nodes - start[:, np.newaxis]) > 0
        turned = ahead & (residuals * np.sign(at_start)[:, np.newaxis] <= 0)
        upward = np.argmax(turned, axis=1)
        downward = nodes.size - 1 - np.argmax(turned[:, ::-1], axis=1)
        first = np.where(way[:, 0] > 0, upward, downward)
        before = np.clip(first - way[:, 0].astype(int), 0, nodes.size - 1)
        passed = way[:, 0] * (nodes[before] - start) > 0
        return np.any(turned, axis=1), np.where(passed, nodes[before], start), nodes[first]

    def _settled(
        self, phi: Array, placement: Placement, found: Bools, way: Array, demand: Demand
    ) -> Settled:
        at, adjuster = self.balance.moments(phi), self.mount.adjuster(phi)
        # From the moments: the length of a stiff spring changes by less than rounding.
        force = self._borne(self.balance.net(at, demand) / adjuster.extension_slope)
        spare = self.balance.nothing(at, demand) / np.abs(adjuster.extension_slope)
        length = self.spring * (placement.extension - adjuster.extension)
        bears = np.abs(self._borne(length) - length) <= spare
        held = found & bears
        state = np.where(
            held,
            State.HELD,
            np.where(
                found & (at.tension > 0),
                State.RIDING,
                np.where(~found & (way == self.travel.tightens), State.AT_STOP, State.NO_BALANCE),
            ),
        )
        stop = self.travel.tight_end.angle
        angle = np.where(np.isin(state, (State.HELD, State.RIDING)), phi, np.nan)
        angle = np.where(state == State.AT_STOP, stop, angle)
        return Settled(state, angle, np.where(held, force, 0.0))

    def _grip(self, placement: Placement, demand: Demand) -> Grip:
        """Grip where the plate has one place of rest for each load.

        At the grip the strands are at their limit, so the plate is where a demand without end
        puts it: with one balance for each load there is no other load that ends there.
        """
        needed = self.mount.pull
        nowhere = np.zeros(placement.angle.shape, dtype=bool)
        if needed == 0:
            return Grip(np.full(nowhere.shape, np.inf), nowhere, NO_PULL)
        limit = Demand(np.inf, demand.centrifugal)
        for asked in (limit, Demand(0.0, demand.centrifugal)):
            signs = np.sign(self._node_residuals(placement.extension, asked))
            if np.any(np.count_nonzero(np.diff(signs, axis=1), axis=1) > 1):
                self._refuse_several(signs)
        settled = self._settle(placement, limit)
        lost, endless = (settled.state == each for each in (State.NO_BALANCE, State.AT_STOP))
        at = self.balance.moments(np.where(lost | endless, placement.angle, settled.phi))
        value = np.where(lost, 0.0, 2.0 * at.half_pull(limit) / needed)
        value = np.where(endless, np.inf, value)
        return Grip(value, nowhere, TIGHTENS_ITSELF if np.any(endless) else None)

    def _refuse_several(self, signs: Array) -> None:
        """Refuse where the residual changes sign more than once; a node on a root is one change."""
        for row in signs:
            kept = row[row != 0]
            if np.count_nonzero(np.diff(kept)) > 1:
                raise MountError(self.mount.scenario.source, "adjuster", SEVERAL_PLACES)
