"""Where the adjuster would be set: zero, the fewest turns with the wanted grip, and a hand's aim.

A plate that the adjuster holds at every pull up to the wanted grip grips by 2 q (T - Tc)/Te. The
belt has that from one centre distance on, the same for every layout. Below it a plate that its
adjuster lets go to the tight side comes to rest before that distance, because there the adjuster
holds it; one that it lets go to the slack side loses tension. So no smaller number of turns grips.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.formulas.belt import elastic_tension
from mountcalc.place.feasible.layouts import ACTIONS, Layouts
from mountcalc.place.feasible.readings import Readings
from mountcalc.place.feasible.statics import Statics
from mountcalc.scenario.search import Action

__all__ = ["SetPoints", "carries_sign", "find_zeros", "set_points"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Steps towards a balance before those that are still on their way are bracketed, and the angle
# [rad] of a last step: each is a small part of the one before.
_QUICK_STEPS = 12
_SETTLED = 1e-14


class SetPoints(NamedTuple):
    """Plate angles [rad] as loose as a hand may leave it, as set, and as tight, shape (3, N).

    ``turns`` [-] are those of the set point, ``reached`` is False where the last of the three
    lies past full take-up.
    """

    phi: Array
    turns: Array
    reached: Bools


def carries_sign(layouts: Layouts) -> Array:
    """Sign of the axial force that each adjuster carries: +1 in compression, -1 in tension."""
    return np.where(layouts.acts == ACTIONS.index(Action.PULL), -1.0, 1.0)


def find_zeros(statics: Statics, snug: Array, end: Array, slope: Array) -> tuple[Array, Bools]:
    """Plate angle from which turns are counted: snug, or contact where weight takes the plate off.

    NaN where it does so before the end of the travel. ``slope`` is that of the extension at snug.
    Contact is told by the second array.
    """
    layouts = statics.layouts
    weight = statics.weights(snug).y_slope
    contact = weight * np.sign(slope) * carries_sign(layouts) < 0
    # A free plate goes against the sign of its clockwise moment.
    to_tight = np.flatnonzero(contact & (weight * layouts.tightens < 0))
    zero = np.where(contact, np.nan, snug)
    if to_tight.size:
        resting = _Resting(statics.take(to_tight))
        stays = resting.net(end[to_tight])[0] * layouts.tightens[to_tight] > 0
        inside = to_tight[stays]
        resting = _Resting(statics.take(inside))
        zero[inside] = resting.balance(snug[inside], end[inside])
    return zero, contact


@dataclass(frozen=True, slots=True)
class _Resting:
    """Free plates at rest, on which only belts and weights act."""

    statics: Statics

    def net(self, phi: Array) -> tuple[Array, Array]:
        """Moment of belts and weights [N m], and its slope but for the belt's slight turning."""
        drives = self.statics.drives
        path, weight = self.statics.mount.path(phi), self.statics.weights(phi)
        tension = elastic_tension(path.length, drives.length, drives.stiffness)
        rate = drives.count * drives.stiffness / drives.length
        net = drives.count * tension * path.length_slope + weight.y_slope
        return net, rate * path.length_slope**2 - weight.y

    def balance(self, low: Array, high: Array) -> Array:
        """Where the moment is nothing between two plate angles at which its signs differ."""
        phi, moving = low, np.ones(low.shape, dtype=bool)
        least, most = np.minimum(low, high), np.maximum(low, high)
        for _ in range(_QUICK_STEPS):
            net, slope = self.net(phi)
            new = np.clip(phi - net / slope, least, most)
            # What has settled stays, whatever else is in the same block.
            moved = np.where(moving, np.abs(new - phi), 0.0)
            phi, moving = np.where(moving, new, phi), ~(moved <= _SETTLED)
            if not np.any(moving):
                return phi
        slow = np.flatnonzero(moving)
        rest = _Resting(self.statics.take(slow))
        phi[slow] = bracketed_roots(lambda at: rest.net(at)[0], low[slow], high[slow])
        return phi


def set_points(
    statics: Statics, travel: Array, zero: Array, loose: Array, counted: Bools
) -> SetPoints:
    """The set point of each layout and how far a hand may miss it.

    ``travel`` are the plate angles at install, snug and take-up; ``loose`` that of the fewest
    turns; ``counted`` tells where turns are counted from a snug belt.
    """
    layouts, tightens = statics.layouts, statics.layouts.tightens
    _, snug, take_up = travel
    at_snug, at_end, at_zero = (statics.adjuster(phi) for phi in (snug, take_up, zero))
    pitches = np.array([thread.pitch for thread in statics.space.threads])
    turn = np.sign(at_snug.extension_slope) * tightens * pitches[layouts.thread]
    error = statics.scenario.limits.turn_error
    readings = Readings(statics, snug, loose, error * turn, counted)

    def tighter(one: Array, other: Array) -> Array:
        further: Array = tightens * np.maximum(tightens * one, tightens * other)
        return further

    point = tighter(readings.aim, readings.turned(loose, 1.0))
    tight = tighter(readings.tightest, readings.turned(point, 1.0))
    slack = tighter(zero, readings.loosest(point))
    slack = -tighter(-slack, -tighter(zero, readings.turned(point, -1.0)))
    set_at, tight_at = (statics.adjuster(phi).extension for phi in (point, tight))
    reached = (at_end.extension - tight_at) * turn >= 0
    # What is not reached is left where it is snug: it is given up anyway.
    phi = np.where(reached, np.stack([slack, point, tight]), snug)
    return SetPoints(phi, (set_at - at_zero.extension) / turn, reached)
