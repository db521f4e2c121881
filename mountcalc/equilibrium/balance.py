"""What the plate rests on: the adjuster, the belt, or nothing.

A load asks each belt for a pull. Where the belt is too slack for it, it slips and carries
what it can. With the felt strand pulls at their lines of action and the weights, the net
moment on the plate is

    G(phi) = n [T1 - Tc]+ a1 + n [T2 - Tc]+ a2 + sum W y'(phi)      (clockwise positive)

Held by the adjuster at s(phi) = s the axial force is F = G / s'. If the adjuster cannot
carry that force the plate leaves it in the direction of the net moment (-G) and settles at
the first angle at which G = 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import roots_between_nodes
from mountcalc.equilibrium.states import State
from mountcalc.equilibrium.travel import Travel
from mountcalc.formulas.belt import strand_tensions
from mountcalc.scenario.model import Acts

__all__ = ["Balance", "Demand", "Moments", "Settled"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Of the largest moment in play: less is rounding, and an adjuster force of that size is none.
ROUNDING = 1e-9

# What an angle [rad] that was found from an extension may be off.
_ANGLE_ROUNDING = 256 * np.finfo(float).eps

_NODES = 1025
# Demands whose roots are remembered; more are those of single settings.
_MOST_REMEMBERED = 32


@dataclass(frozen=True, slots=True)
class Demand:
    """What a load case asks of each belt.

    ``pull`` [N] may be infinite: all that the belt can carry. ``centrifugal`` [N] is the
    centrifugal tension at that moment.
    """

    pull: float
    centrifugal: float


@dataclass(frozen=True)
class Moments:
    """Plate angles with all that the balance needs there, whatever the demand."""

    phi: Array
    tension: Array
    tight_arm: Array
    slack_arm: Array
    share: Array
    weight: Array

    def half_pull(self, demand: Demand) -> Array:
        """Half the pull that each belt delivers: what is asked, or what it can carry [N]."""
        felt = np.maximum(self.tension - demand.centrifugal, 0.0)
        return np.minimum(0.5 * demand.pull, felt * self.share)

    def felt(self, demand: Demand) -> tuple[Array, Array]:
        """Felt tight and slack tension of one belt, never below zero [N]."""
        tight, slack = strand_tensions(self.tension, 2.0 * self.half_pull(demand))
        return (
            np.maximum(tight - demand.centrifugal, 0.0),
            np.maximum(slack - demand.centrifugal, 0.0),
        )


@dataclass(frozen=True)
class Settled:
    """Where the plate is: state and plate angle [rad] (NaN in no balance), and what it carries.

    ``adjuster`` is the axial force [N], compression positive, 0 out of contact.
    """

    state: NDArray[np.str_]
    phi: Array
    adjuster: Array


@dataclass(frozen=True)
class Balance:
    """The balance of one mount over its usable travel.

    Parameters
    ----------
    mount : Mount
        The mount.
    travel : Travel
        Its usable travel.
    """

    mount: Mount
    travel: Travel

    def moments(self, phi: Array) -> Moments:
        """Everything that the balance needs at plate angles [rad]."""
        pulls = self.mount.pulls(phi)
        return Moments(
            phi,
            self.mount.tension(self.mount.path(phi).length),
            pulls.tight_arm,
            pulls.slack_arm,
            pulls.share,
            self.mount.weight_moment(phi),
        )

    def net(self, at: Moments, demand: Demand) -> Array:
        """G [N m], clockwise positive."""
        tight, slack = at.felt(demand)
        return self.mount.count * (tight * at.tight_arm + slack * at.slack_arm) + at.weight

    def scale(self, at: Moments, demand: Demand) -> Array:
        """Sum of the sizes of the moments in play [N m], the weights at their full lever."""
        tight, slack = at.felt(demand)
        return (
            self.mount.count * (tight * np.abs(at.tight_arm) + slack * np.abs(at.slack_arm))
            + self.mount.weight_scale
            + np.finfo(float).tiny
        )

    def nothing(self, at: Moments, demand: Demand) -> Array:
        """Net moment [N m] that is no more than rounding, of moments or of the angle itself."""
        slope = (at.tight_arm + at.slack_arm) ** 2 * self.mount.count * self.mount.stiffness
        of_angle = _ANGLE_ROUNDING * slope / self.mount.scenario.belt.length
        return np.maximum(ROUNDING * self.scale(at, demand), of_angle)

    @cached_property
    def nodes(self) -> Moments:
        """The usable travel, sampled once for every load case; snug is one of the nodes."""
        low, high = self.travel.low.angle, self.travel.high.angle
        phi = np.append(np.linspace(low, high, _NODES), self.travel.snug)
        return self.moments(np.sort(phi))

    @cached_property
    def _known_roots(self) -> dict[Demand, Array]:
        return {}

    def roots(self, demand: Demand) -> Array:
        """All plate angles in the usable travel at which the free plate balances."""
        if demand not in self._known_roots:
            if len(self._known_roots) >= _MOST_REMEMBERED:
                self._known_roots.clear()
            self._known_roots[demand] = roots_between_nodes(
                lambda phi: self.net(self.moments(phi), demand),
                self.nodes.phi,
                self.net(self.nodes, demand),
            )
        return self._known_roots[demand]

    def settle(self, start: Array, demand: Demand, *, in_contact: bool) -> Settled:
        """Where the plate comes to rest under a demand.

        Parameters
        ----------
        start : ndarray [rad]
            Plate angles to start from: where the adjuster holds the plate.
        demand : Demand
            The load.
        in_contact : bool
            False where there is no adjuster at ``start`` to hold the plate.

        Returns
        -------
        Settled
            State, plate angle and adjuster force for each start.
        """
        at = self.moments(start)
        net = self.net(at, demand)
        even = np.abs(net) <= self.nothing(at, demand)
        net = np.where(even, 0.0, net)
        force = self._adjuster_force(start, net) if in_contact else np.zeros_like(net)
        held = self._carries(force) if in_contact else np.zeros(net.shape, dtype=bool)
        free = self._first_balance(start, -np.sign(net), demand)
        rides = even & (at.tension > 0) & (not in_contact)
        return Settled(
            state=np.where(held, State.HELD, np.where(rides, State.RIDING, free.state)),
            phi=np.where(held | rides, start, free.phi),
            adjuster=np.where(held, force, 0.0),
        )

    def _adjuster_force(self, phi: Array, net: Array) -> Array:
        return net / self.mount.adjuster(phi).extension_slope + 0.0

    def _carries(self, force: Array) -> Bools:
        acts = self.mount.scenario.adjuster.acts
        if acts is Acts.PUSH:
            return force >= 0
        if acts is Acts.PULL:
            return force <= 0
        return np.ones(force.shape, dtype=bool)

    def _first_balance(self, start: Array, direction: Array, demand: Demand) -> Settled:
        """The first balance of the free plate from ``start`` in a direction (+1 or -1)."""
        roots = self.roots(demand)
        padded = np.concatenate([[-np.inf], roots, [np.inf]])
        upward = np.searchsorted(roots, start, side="right") + 1
        downward = np.searchsorted(roots, start, side="left")
        phi = np.where(direction > 0, padded[upward], padded[downward])
        found = np.isfinite(phi)
        taut = self.moments(np.where(found, phi, start)).tension > 0
        to_tight = direction == self.travel.tightens
        state = np.where(
            found & taut,
            State.RIDING,
            np.where(~found & to_tight, State.AT_STOP, State.NO_BALANCE),
        )
        stop = self.travel.tight_end.angle
        at = np.where(state == State.RIDING, phi, np.where(state == State.AT_STOP, stop, np.nan))
        return Settled(state, at, np.zeros_like(start))
