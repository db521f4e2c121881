"""Where the adjuster would be set: zero, the fewest turns with the wanted grip, and a hand's aim.

A plate that the adjuster holds at every pull up to the wanted grip grips by 2 q (T - Tc)/Te. The
belt has that from one centre distance on, the same for every layout. Below it a plate that its
adjuster lets go to the tight side comes to rest before that distance, because there the adjuster
holds it; one that it lets go to the slack side loses tension. So no smaller number of turns grips.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.formulas.belt import elastic_tension
from mountcalc.linkage import kernels
from mountcalc.place.feasible.readings import Readings
from mountcalc.place.feasible.statics import Statics
from mountcalc.place.layouts.drives import Drives
from mountcalc.place.layouts.layouts import ACTIONS, Layouts
from mountcalc.place.layouts.motion import Motion
from mountcalc.scenario.search import Action

__all__ = ["SetPoints", "Spread", "Zeros", "carries_sign", "find_zeros", "set_points"]

# Steps towards a balance before those that are still on their way are bracketed, and the angle
# [rad] of a last step: each is a small part of the one before.
_QUICK_STEPS = 12
_SETTLED = 1e-14

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]


class Spread(NamedTuple):
    """A bolt's whole way: plate angle [rad] and extension [m] at install, snug and take-up.

    All have shape (3, N); ``slope`` is ds/dphi [m/rad].
    """

    phi: Array
    extension: Array
    slope: Array

    def take(self, which: NDArray[np.intp] | Bools) -> Spread:
        """Those of some layouts."""
        return Spread(*(values[:, which] for values in self))


class Zeros(NamedTuple):
    """Plate angle [rad] from which turns are counted; ``contact`` where that is not snug.

    ``found`` is False where weight takes the plate off the adjuster before full take-up.
    """

    phi: Array
    contact: Bools
    found: Bools

    def take(self, which: NDArray[np.intp] | Bools) -> Zeros:
        """Those of some layouts."""
        return Zeros(self.phi[which], self.contact[which], self.found[which])


class SetPoints(NamedTuple):
    """Plate angles [rad] as loose as a hand may leave it, as set, and as tight.

    ``phi`` has shape (3, N); ``turns`` [-] are those of the set point, ``reached`` is False where
    the last of the three lies past full take-up, ``of_weight`` True where weight alone grips.
    """

    phi: Array
    turns: Array
    reached: Bools
    of_weight: Bools

    def take(self, which: NDArray[np.intp] | Bools) -> SetPoints:
        """Those of some layouts."""
        return SetPoints(
            self.phi[:, which], self.turns[which], self.reached[which], self.of_weight[which]
        )


def carries_sign(layouts: Layouts) -> Array:
    """Sign of the axial force that each adjuster carries: +1 in compression, -1 in tension."""
    return np.where(layouts.acts == ACTIONS.index(Action.PULL), -1.0, 1.0)


def find_zeros(statics: Statics, layouts: Layouts, drives: Drives, spread: Spread) -> Zeros:
    """Zero of each layout: snug where the adjuster carries the plate there, else contact."""
    snug, end = spread.phi[1], spread.phi[2]
    weight = statics.weight_moment(layouts, snug)
    free = weight * np.sign(spread.slope[1]) * carries_sign(layouts) < 0
    # A free plate goes against the sign of its clockwise moment.
    to_tight = np.flatnonzero(free & (weight * layouts.tightens < 0))
    phi, found = snug.copy(), ~free
    if to_tight.size:
        some = _Resting(statics, layouts.take(to_tight), drives.of(to_tight))
        found[to_tight] = some.net(end[to_tight]) * some.layouts.tightens > 0
        inside = to_tight[found[to_tight]]
        some = _Resting(statics, layouts.take(inside), drives.of(inside))
        phi[inside] = some.balance(snug[inside], end[inside])
    return Zeros(phi, free, found)


class _Resting(NamedTuple):
    """Free plates at rest, on which only belts and weights act."""

    statics: Statics
    layouts: Layouts
    drives: Drives

    def net(self, phi: Array) -> Array:
        """Moment of belts and weights [N m], clockwise positive."""
        return self._net_and_slope(phi, self.statics.weight_arms(self.layouts))[0]

    def _net_and_slope(self, phi: Array, arms: tuple[Array, Array]) -> tuple[Array, Array]:
        """The moment, and its slope [N m/rad] but for the belt's own turning, which is slight."""
        drives = self.drives
        path = self.statics.motion.path(self.layouts, phi)
        tension = elastic_tension(path.length, drives.length, drives.stiffness)
        weight = kernels.plate_point(phi, 0.0, 0.0, *arms)
        net = drives.count * tension * path.length_slope + weight.y_slope
        rate = drives.count * drives.stiffness / drives.length
        return net, rate * path.length_slope**2 - weight.y

    def balance(self, low: Array, high: Array) -> Array:
        """Where the moment is nothing between two plate angles at which its signs differ."""
        arms, phi = self.statics.weight_arms(self.layouts), low
        least, most = np.minimum(low, high), np.maximum(low, high)
        moving = np.ones(phi.shape, dtype=bool)
        for _ in range(_QUICK_STEPS):
            net, slope = self._net_and_slope(phi, arms)
            new = np.clip(phi - net / slope, least, most)
            # What has settled stays, whatever else is in the same block.
            moved = np.where(moving, np.abs(new - phi), 0.0)
            phi, moving = np.where(moving, new, phi), ~(moved <= _SETTLED)
            if not np.any(moving):
                return phi
        slow = np.flatnonzero(moving)
        rest = _Resting(self.statics, self.layouts.take(slow), self.drives.of(slow))
        phi[slow] = bracketed_roots(rest.net, low[slow], high[slow])
        return phi


def set_points(
    statics: Statics, layouts: Layouts, drives: Drives, spread: Spread, zeros: Zeros
) -> SetPoints:
    """The set point of each layout and how far a hand may miss it."""
    motion, space = statics.motion, statics.space
    error = statics.scenario.limits.turn_error
    pitches = np.array([thread.pitch for thread in space.threads])
    turn = np.sign(spread.slope[1]) * layouts.tightens * pitches[layouts.thread]
    loose = motion.swing(layouts, drives.loose)
    of_weight = zeros.contact & ((zeros.phi - loose) * layouts.tightens >= 0)
    loose = np.where(of_weight, zeros.phi, loose)
    readings = Readings(statics, layouts, drives, error * turn, spread.phi[1])
    lead = readings.leading(loose, counted=~zeros.contact)
    by_hand = readings.turned(loose, 1.0)
    point = _further(layouts, readings.aim(lead, loose), by_hand)
    tight = _further(layouts, readings.tightest(lead, loose), readings.turned(point, 1.0))
    slack = _further(layouts, zeros.phi, readings.loosest(lead, point))
    slack = -_further(layouts, -slack, -_further(layouts, zeros.phi, readings.turned(point, -1.0)))
    later = _extension(motion, layouts, np.stack([point, tight]))
    reached = ((spread.phi[2] - loose) * layouts.tightens >= 0) & (
        (spread.extension[2] - later[1]) * turn >= 0
    )
    # What is not reached is left where it is snug: it is given up anyway.
    phi = np.where(reached, np.stack([slack, point, tight]), spread.phi[1])
    turns = (later[0] - _extension(motion, layouts, zeros.phi)) / turn
    return SetPoints(phi, turns, reached, of_weight)


def _further(layouts: Layouts, one: Array, other: Array) -> Array:
    """The tighter of two plate angles; NaN where either is."""
    tightens = layouts.tightens
    further: Array = tightens * np.maximum(tightens * one, tightens * other)
    return further


def _extension(motion: Motion, layouts: Layouts, phi: Array) -> Array:
    return motion.adjuster(layouts, phi).extension
