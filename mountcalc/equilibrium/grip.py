"""Grip: how much more than the load needs the belt can carry before it slips."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance, Demand, Position
from mountcalc.equilibrium.states import State
from mountcalc.record import Record
from mountcalc.scenario.model import Acts

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

NO_PULL = "the load needs no pull"
TIGHTENS_ITSELF = "the mount tightens itself with the load: the belt does not slip in the travel"
SEVERAL_PLACES = (
    "so soft that the plate has several places of rest under one load, and no turn tells which; "
    "a greater stiffness is wanted, or none for what is rigid"
)


class Grip(Record):
    """Grip of each setting; infinite where slip is never reached, for a reason in words."""

    value: Array
    reason: str | None = None


def find_grip(
    balance: Balance, start: Position, demand: Demand, several: Bools, extension: Array | None
) -> Grip:
    """Grip in units of the pull Te that the driven power needs, for each start of the plate.

    The smallest k > 0 at which the pull k Te reaches what the belt can carry, the plate being held
    or riding anew at each k; 0 where the belt has no felt tension. Of the demand only the
    centrifugal tension matters; ``several`` is from :func:`has_several_ways`, ``extension`` [m] a
    spring's end.

    At that k the strands are at the limit, so the plate settles as it does under a demand
    without end. An adjuster that holds the plate back lets it go to the slack side, though, where
    a load that grows may come to rest and slip in one place before it reaches another: there the
    way has to be followed. With a spring, mounts with several places of rest for one load are
    refused.
    """
    needed = balance.mount.pull
    if needed == 0:
        return Grip(np.full(start.phi.shape, np.inf), NO_PULL)
    limit = Demand(np.inf, demand.centrifugal)
    if extension is not None:
        for asked in (limit, Demand(0.0, demand.centrifugal)):
            if np.any(balance.has_several_places(asked, extension)):
                raise balance.mount.error("adjuster.stiffness", SEVERAL_PLACES)
    settled = balance.settle(start, limit, extension)
    endless = settled.state == State.AT_STOP
    value = 2.0 * settled.at.half_pull(limit) / needed
    value[settled.state == State.NO_BALANCE] = 0.0
    value[endless] = np.inf
    if np.any(several):
        value[several] = _grips_on_the_way(balance, start, limit)[several]
    return Grip(value, TIGHTENS_ITSELF if np.any(endless) else None)


def has_several_ways(balance: Balance, start: Position, demand: Demand) -> Bools:
    """Where the plate can go to the slack side and a slipping belt balances it there.

    Only a rigid adjuster that holds the plate back, or the stop at the tight end of the travel,
    lets it go that way. Of the demand only the centrifugal tension matters.
    """
    travel = balance.travel
    if balance.mount.has_adjuster:
        acts = balance.mount.scenario.adjuster.acts
        sign = {Acts.PUSH: -1, Acts.PULL: 1}.get(acts or Acts.BOTH)
        may = np.broadcast_to(travel.turn_sign == sign, start.phi.shape)
    else:
        may = start.phi == travel.tight_angle
    if not np.any(may):
        return may
    roots = balance.roots(Demand(np.inf, demand.centrifugal))[..., np.newaxis, :]
    looser = (start.phi[..., np.newaxis] - roots) * np.asarray(travel.tightens)[..., np.newaxis] > 0
    several: Bools = may & np.any(looser, axis=-1)
    return several


def _grips_on_the_way(balance: Balance, start: Position, limit: Demand) -> Array:
    """Smallest k whose first place of rest on the way to the slack end is at its limit.

    Such places are the start (held) and the angles at which a slipping belt balances the plate;
    a k gets to one of them only if it has not come to rest before. A k that rests nowhere has
    lost the belt. At each place the net moment towards the slack side is
    ``idle + min(k, most) * per_grip``. Of each start, all places of the travel in one row.
    """
    slack_side = -balance.travel.tightens
    nodes, slipping = balance.nodes.phi, balance.roots(limit)
    phi = np.concatenate([nodes, slipping])
    order = np.argsort(slack_side * phi)
    is_slipping = (np.arange(phi.size) >= nodes.size)[order]
    idle, per_grip, most = _moments_of_grip(balance, start, limit)
    stays = balance.mount.has_adjuster & (idle + most * per_grip <= 0)
    least = np.where(stays, most, np.inf)
    stopped_below, stopped_above = _stopped(idle, per_grip, most)

    idle, per_grip, most = _moments_of_grip(balance, balance.at(phi[order]), limit)
    below, above = _stopped(idle, per_grip, most)
    ahead = slack_side * phi[order] > slack_side * start.phi[:, np.newaxis]
    # All k up to the one, and from the other on, have come to rest before a place is reached.
    below = np.c_[stopped_below, np.where(ahead, below, 0.0)]
    above = np.c_[stopped_above, np.where(ahead, above, np.inf)]
    below, above = np.maximum.accumulate(below, axis=1), np.minimum.accumulate(above, axis=1)
    reached = np.maximum(most, below[:, :-1])
    rests = ahead & is_slipping & (reached < above[:, :-1])
    least = np.minimum(least, np.min(np.where(rests, reached, np.inf), axis=1))
    lost = np.where(below[:, -1] < above[:, -1], below[:, -1], np.inf)
    return np.asarray(np.minimum(least, lost))


def _moments_of_grip(balance: Balance, at: Position, limit: Demand) -> tuple[Array, Array, Array]:
    slack_side, count, needed = -balance.travel.tightens, balance.mount.count, balance.mount.pull
    felt, pulls = np.maximum(at.tension - limit.centrifugal, 0.0), at.pulls
    return (
        -slack_side * (count * felt * (pulls.tight_arm + pulls.slack_arm) + at.weight),
        -slack_side * count * 0.5 * needed * (pulls.tight_arm - pulls.slack_arm),
        2.0 * felt * pulls.share / needed,
    )


def _stopped(idle: Array, per_grip: Array, most: Array) -> tuple[Array, Array]:
    """At each place: all k up to the one rest there, and all from the other on."""
    with np.errstate(divide="ignore", invalid="ignore"):
        balancing = -idle / per_grip
    up_to = np.where(balancing < most, balancing, np.inf)
    return (
        np.where((per_grip > 0) & (balancing > 0), up_to, 0.0),
        np.where((per_grip < 0) & (balancing <= most), np.maximum(balancing, 0.0), np.inf),
    )
