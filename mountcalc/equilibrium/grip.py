"""Grip: how much more than the load needs the belt can carry before it slips."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance, Demand, Moments
from mountcalc.equilibrium.states import State
from mountcalc.scenario.model import Acts

__all__ = ["NO_PULL", "TIGHTENS_ITSELF", "Grip", "find_grip", "has_several_ways"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

NO_PULL = "the load needs no pull"
TIGHTENS_ITSELF = "the mount tightens itself with the load: the belt does not slip in the travel"


@dataclass(frozen=True)
class Grip:
    """Grip of each setting; infinite where slip is never reached, for a reason in words.

    ``by_steps`` marks settings where the way to the slack side was followed: a case that slips
    there must be settled at its grip and not at the pull that was asked.
    """

    value: Array
    by_steps: Bools
    reason: str | None = None

    def lost_where(self, lost: Bools) -> Grip:
        """The same, with no grip where the belt is lost, unless the load needs none."""
        value = np.where(lost & ~np.isposinf(self.value), 0.0, self.value)
        return Grip(value, self.by_steps, self.reason)


def find_grip(
    balance: Balance, start: Array, demand: Demand, by_steps: Bools, *, in_contact: bool
) -> Grip:
    """Grip in units of the pull that the driven power needs.

    Parameters
    ----------
    balance : Balance
        The mount's balance.
    start : ndarray [rad]
        Where the adjuster holds the plate.
    demand : Demand
        The load case; only its centrifugal tension matters.
    by_steps : ndarray of bool
        From :func:`has_several_ways`.
    in_contact : bool
        Whether there is an adjuster at ``start``.

    Returns
    -------
    Grip
        The smallest k > 0 at which the pull k Te reaches what the belt can carry, the plate
        being held or riding anew at each k; 0 where the belt has no felt tension, NaN where
        there is no start.

    Notes
    -----
    At that k the strands are at the limit, so the plate settles as it does under a demand
    without end. An adjuster that holds the plate back lets it go to the slack side, though, where
    a load that grows may come to rest and slip in one place before it reaches another: there the
    way has to be followed.
    """
    needed = balance.mount.pull
    nowhere = np.zeros(start.shape, dtype=bool)
    if needed == 0:
        return Grip(np.full(start.shape, np.inf), nowhere, NO_PULL)
    if not np.all(np.isfinite(start)):
        return Grip(np.full(start.shape, np.nan), nowhere)
    limit = Demand(np.inf, demand.centrifugal)
    settled = balance.settle(start, limit, in_contact=in_contact)
    lost = settled.state == State.NO_BALANCE
    endless = settled.state == State.AT_STOP
    at = balance.moments(np.where(lost | endless, start, settled.phi))
    value = np.where(lost, 0.0, 2.0 * at.half_pull(limit) / needed)
    value[by_steps] = _grips_on_the_way(balance, start[by_steps], demand.centrifugal)
    value[endless & ~by_steps] = np.inf
    return Grip(value, by_steps, TIGHTENS_ITSELF if np.any(endless) else None)


def has_several_ways(balance: Balance, start: Array, demand: Demand) -> Bools:
    """Where the plate can go to the slack side and a slipping belt balances it there.

    Parameters
    ----------
    balance : Balance
        The mount's balance.
    start : ndarray [rad]
        Where the plate starts from.
    demand : Demand
        The load case; only its centrifugal tension matters.

    Returns
    -------
    ndarray of bool
        Only an adjuster that holds the plate back, or the stop at the tight end of the travel,
        lets it go that way.
    """
    several = np.zeros(start.shape, dtype=bool)
    if balance.mount.has_adjuster:
        holds_back = Acts.PUSH if balance.travel.turn_sign < 0 else Acts.PULL
        if balance.mount.scenario.adjuster.acts is not holds_back:
            return several
    elif not np.all(start == balance.travel.tight_end.angle):
        return several
    roots = balance.roots(Demand(np.inf, demand.centrifugal))
    looser = balance.travel.tightens * (start[..., np.newaxis] - roots) > 0
    several |= np.any(looser, axis=-1)
    return several


@dataclass(frozen=True)
class _Way:
    """The way from where the adjuster holds the plate to the slack end, as a load k grows.

    At each place the net moment towards the slack side is ``idle + min(k, most) * per_grip``;
    ``balancing`` is the k that makes it nothing.
    """

    idle: Array
    per_grip: Array
    most: Array

    @property
    def balancing(self) -> Array:
        with np.errstate(divide="ignore", invalid="ignore"):
            return -self.idle / self.per_grip

    def at(self, index: int) -> _Way:
        """One place of it."""
        one = slice(index, index + 1)
        return _Way(self.idle[one], self.per_grip[one], self.most[one])

    def after(self, first: int) -> _Way:
        """All of it from one place on."""
        return _Way(self.idle[first:], self.per_grip[first:], self.most[first:])

    def followed_by(self, rest: _Way) -> _Way:
        """The places of this way and then those of another."""
        pairs = zip(
            (self.idle, self.per_grip, self.most),
            (rest.idle, rest.per_grip, rest.most),
            strict=True,
        )
        return _Way(*(np.concatenate(pair) for pair in pairs))

    def stops_below(self, count: int) -> float:
        """All k up to this have come to rest in the first ``count`` places."""
        pushed = (self.per_grip > 0) & (self.balancing > 0)
        up_to = np.where(self.balancing < self.most, self.balancing, np.inf)
        return float(np.max(up_to[:count][pushed[:count]], initial=0.0))

    def stops_above(self, count: int) -> float:
        """All k from this on have come to rest in the first ``count`` places."""
        drawn = (self.per_grip < 0) & (self.balancing <= self.most)
        return float(np.min(np.maximum(self.balancing, 0.0)[:count][drawn[:count]], initial=np.inf))


def _grips_on_the_way(balance: Balance, starts: Array, centrifugal: float) -> list[float]:
    """Smallest k whose first place of rest on the way to the slack end is at its limit.

    Such places are the start (held) and the angles at which a slipping belt balances the plate;
    a k gets to one of them only if it has not come to rest before. A k that rests nowhere has
    lost the belt.
    """
    slack_side = -balance.travel.tightens
    slipping = balance.roots(Demand(np.inf, centrifugal))
    phi = np.concatenate([balance.nodes.phi, slipping])
    order = np.argsort(slack_side * phi)
    is_slipping = (np.arange(phi.size) >= balance.nodes.phi.size)[order]
    places = _way(balance, balance.moments(phi[order]), centrifugal)
    begin = _way(balance, balance.moments(starts), centrifugal)
    beyond = np.searchsorted(slack_side * phi[order], slack_side * starts, side="right")
    return [
        _grip_from(
            begin.at(index).followed_by(places.after(first)),
            is_slipping[first:],
            held=balance.mount.has_adjuster,
        )
        for index, first in enumerate(beyond)
    ]


def _grip_from(way: _Way, is_slipping: Bools, *, held: bool) -> float:
    """Grip of one start; one that is not held lies at the stop, where slip is not spoken of."""
    found = []
    if held and way.idle[0] + way.most[0] * way.per_grip[0] <= 0:
        found.append(float(way.most[0]))
    for place in (int(index) + 1 for index in np.flatnonzero(is_slipping)):
        reached = max(float(way.most[place]), way.stops_below(place))
        if reached < way.stops_above(place):
            found.append(reached)
    lost = way.stops_below(way.idle.size)
    if lost < way.stops_above(way.idle.size):
        found.append(lost)
    return min(found, default=np.inf)


def _way(balance: Balance, at: Moments, centrifugal: float) -> _Way:
    slack_side = -balance.travel.tightens
    count, needed = balance.mount.count, balance.mount.pull
    felt = np.maximum(at.tension - centrifugal, 0.0)
    return _Way(
        idle=-slack_side * (count * felt * (at.tight_arm + at.slack_arm) + at.weight),
        per_grip=-slack_side * count * 0.5 * needed * (at.tight_arm - at.slack_arm),
        most=2.0 * felt * at.share / needed,
    )
