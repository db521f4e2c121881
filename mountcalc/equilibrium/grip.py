"""Grip: how much more than the load needs the belt can carry before it slips."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance, Demand
from mountcalc.results import State

__all__ = ["NO_PULL", "TIGHTENS_ITSELF", "Grip", "find_grip"]

Array = NDArray[np.float64]

NO_PULL = "the load needs no pull"
TIGHTENS_ITSELF = "the mount tightens itself with the load: the belt does not slip in the travel"


@dataclass(frozen=True)
class Grip:
    """Grip of each setting; infinite where slip is never reached, for a reason in words."""

    value: Array
    reason: str | None


def find_grip(balance: Balance, start: Array, demand: Demand, *, in_contact: bool) -> Grip:
    """Grip in units of the pull that the driven power needs.

    Parameters
    ----------
    balance : Balance
        The mount's balance.
    start : ndarray [rad]
        Where the adjuster holds the plate.
    demand : Demand
        The load case; only its centrifugal tension matters.
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
    without end. Where it then finds no balance, the belt is lost at the k that takes the
    plate from its last balance.
    """
    needed = balance.mount.pull
    if needed == 0:
        return Grip(np.full(start.shape, np.inf), NO_PULL)
    if not np.all(np.isfinite(start)):
        return Grip(np.full(start.shape, np.nan), None)
    limit = Demand(np.inf, demand.centrifugal)
    settled = balance.settle(start, limit, in_contact=in_contact)
    lost = settled.state == State.NO_BALANCE
    endless = settled.state == State.AT_STOP
    at = balance.moments(np.where(lost | endless, start, settled.phi))
    value = 2.0 * at.half_pull(limit) / needed
    for index in np.flatnonzero(lost):
        value[index] = _lost_at(balance, float(start[index]), demand.centrifugal)
    value[endless] = np.inf
    return Grip(value, TIGHTENS_ITSELF if np.any(endless) else None)


def _lost_at(balance: Balance, start: float, centrifugal: float) -> float:
    """The largest k at which the plate still balances on its way from ``start``."""
    nodes = balance.nodes
    loosening = np.sign(nodes.phi - start) != balance.travel.tightens
    way = balance.moments(np.concatenate([[start], nodes.phi[loosening]]))
    felt = way.tension - centrifugal
    half = 0.5 * balance.mount.count * balance.mount.pull
    idle = balance.mount.count * felt * (way.tight_arm + way.slack_arm) + way.weight
    per_grip = half * (way.tight_arm - way.slack_arm)
    most = 2.0 * felt * way.share / balance.mount.pull
    with np.errstate(divide="ignore", invalid="ignore"):
        balancing = -idle / per_grip
    possible = balancing[(balancing > 0) & (balancing <= most)]
    return float(possible.max()) if possible.size else 0.0
