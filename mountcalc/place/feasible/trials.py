"""The trials of layouts with one kind of adjuster, from the cheapest to the dearest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.travel import LEAST_BITE
from mountcalc.linkage import kernels
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.feasible.set_point import (
    SetPoints,
    Spread,
    Zeros,
    carries_sign,
    find_zeros,
    set_points,
)
from mountcalc.place.feasible.sieve import Sieve
from mountcalc.place.feasible.statics import Statics, Strung
from mountcalc.place.layouts.drives import Drives
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.place.layouts.tip_places import bears_on_its_side, with_tips_out
from mountcalc.scenario.model import AdjusterKind

__all__ = ["Passed", "Trials"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Of the moments in play: less than this is rounding (as in the equilibrium of one mount).
_ROUNDING = 1e-9
# Places in the arrays of a spread and of a set point.
_SNUG, _TAKE_UP = 1, 2
_LOOSE, _SET = 0, 1


class Forces(NamedTuple):
    """Over loose, set and tight (first axis): adjuster and hinge [N], and shares of the limits.

    ``adjuster`` and ``hinge`` are at rest; the others are the worst over all cases.
    """

    adjuster: Array
    hinge: Array
    adjuster_most: Array
    hinge_most: Array
    share: Array

    def take(self, which: NDArray[np.intp]) -> Forces:
        """Those of some layouts."""
        return Forces(*(values[:, which] for values in self))


class Passed(NamedTuple):
    """Layouts that are still in, with all that has been found of them so far."""

    layouts: Layouts
    drives: Drives
    spread: Spread
    zeros: Zeros
    points: SetPoints
    strung: Strung
    forces: Forces

    def take(self, which: NDArray[np.intp]) -> Passed:
        """Some of them."""
        return Passed(
            self.layouts.take(which),
            self.drives.of(which),
            self.spread.take(which),
            self.zeros.take(which),
            self.points.take(which),
            Strung(*(values[:, which] for values in self.strung)),
            self.forces.take(which),
        )


@dataclass(frozen=True)
class Trials:
    """What layouts with one kind of adjuster have to pass.

    Parameters
    ----------
    statics : Statics
        Their statics, with their linkage, the scenario and the search.
    """

    statics: Statics

    def passed(self, layouts: Layouts, drives: Drives, sieve: Sieve) -> Passed:
        """Layouts that pass all but what is in the way."""
        turning = self._turning(*self._swinging(layouts, drives, sieve), sieve)
        now = self._held(*self._settable(*turning, sieve), sieve)
        return self._within_limits(now, sieve)

    def _swinging(
        self, layouts: Layouts, drives: Drives, sieve: Sieve
    ) -> tuple[Layouts, Drives, Array]:
        """Those whose swing reaches from install to take-up with the wanted leverage."""
        motion, least = self.statics.motion, self.statics.space.leverage
        phi = motion.swing(layouts, drives.install)
        good = sieve.keep(np.isfinite(phi), Reason.INSTALL)
        layouts, drives, install = layouts.take(good), drives.of(good), phi[good]
        phi = motion.swing(layouts, drives.take_up)
        good = sieve.keep(np.isfinite(phi), Reason.TAKE_UP)
        layouts, drives = layouts.take(good), drives.of(good)
        ends = np.stack([install[good], phi[good]])
        # Along a swing the leverage rises and then falls, so that it is least at an end.
        left = np.min(self._leverage(layouts, drives, ends), axis=0)
        good = sieve.keep((left >= least) & (left > 0), Reason.DEAD_CENTRE)
        layouts, drives, ends = layouts.take(good), drives.of(good), ends[:, good]
        snug = motion.swing(layouts, drives.snug)
        return layouts, drives, np.stack([ends[0], snug, ends[1]])

    def _leverage(self, layouts: Layouts, drives: Drives, ends: Array) -> Array:
        """|dL/dphi| over the greatest that any swing of this motor arm could give [-]."""
        motion = self.statics.motion
        distance = np.stack(np.broadcast_arrays(drives.install, drives.take_up))
        per_distance = kernels.open_belt(
            distance, motion.motor_radius, motion.driven_radius
        ).length_slope
        arm = np.hypot(layouts.motor_x - layouts.hinge_x, layouts.motor_y - layouts.hinge_y)
        slope = motion.path(layouts, ends).length_slope
        return layouts.tightens * slope / (per_distance * arm)

    def _turning(
        self, layouts: Layouts, drives: Drives, phi: Array, sieve: Sieve
    ) -> tuple[Layouts, Drives, Spread]:
        """Those whose bolt works all the way, and is long enough for it."""
        motion = self.statics.motion
        longest = self.statics.space.most_travel(motion.kind)
        ends = phi[[0, _TAKE_UP]]
        layouts = with_tips_out(layouts, ends, self.statics.space, self.statics.scenario)
        at = motion.adjuster(layouts, phi)
        sign = np.sign(at.extension_slope)
        works = (sign[0] == sign[_TAKE_UP]) & (sign[0] == sign[_SNUG]) & (sign[0] != 0)
        if motion.kind is not AdjusterKind.LINK:
            # Of the same sign as drawn: past a right angle the tip would come from behind the face.
            drawn = motion.adjuster(layouts, np.zeros(phi.shape[1])).bite
            works &= np.all(at.bite * np.sign(drawn) > LEAST_BITE, axis=0)
            works &= bears_on_its_side(layouts, ends, self.statics.space)
        spread = Spread(phi, at.extension, at.extension_slope)
        good = sieve.keep(works, Reason.ADJUSTER_GEOMETRY)
        layouts, drives, spread = layouts.take(good), drives.of(good), spread.take(good)
        travel = np.abs(spread.extension[_TAKE_UP] - spread.extension[0])
        good = sieve.keep(travel <= longest, Reason.THREAD_LENGTH)
        return layouts.take(good), drives.of(good), spread.take(good)

    def _settable(
        self, layouts: Layouts, drives: Drives, spread: Spread, sieve: Sieve
    ) -> tuple[Layouts, Drives, Spread, Zeros, SetPoints]:
        """Those that have a zero, and a set point before full take-up."""
        zeros = find_zeros(self.statics, layouts, drives, spread)
        good = sieve.keep(zeros.found, Reason.LEAVES_ADJUSTER)
        layouts, drives, spread = layouts.take(good), drives.of(good), spread.take(good)
        zeros = zeros.take(good)
        points = set_points(self.statics, layouts, drives, spread, zeros)
        good = sieve.keep(points.reached, Reason.TAKE_UP)
        layouts, drives, spread = layouts.take(good), drives.of(good), spread.take(good)
        return layouts, drives, spread, zeros.take(good), points.take(good)

    def _held(
        self,
        layouts: Layouts,
        drives: Drives,
        spread: Spread,
        zeros: Zeros,
        points: SetPoints,
        sieve: Sieve,
    ) -> Passed:
        """Those that the adjuster carries at every pull, all over the hand's error.

        Its force is linear in the pull, so that the ends of the range of pulls tell.
        """
        strung = self.statics.strung(layouts, drives, points.phi)
        sign = carries_sign(layouts) * np.sign(spread.slope[_SNUG])
        held = np.ones(strung.tension.shape, dtype=bool)
        for load in (*self.statics.cases(), *self.statics.promised()):
            moment = self.statics.moment(strung, drives, load)
            nothing = _ROUNDING * (np.abs(moment) + np.abs(strung.weight))
            held &= sign * (moment + strung.weight) >= -nothing
        good = sieve.keep(np.all(held, axis=0), Reason.LEAVES_ADJUSTER)
        layouts, drives, points = layouts.take(good), drives.of(good), points.take(good)
        strung = Strung(*(values[:, good] for values in strung))
        forces = self._forces(layouts, drives, strung, points.phi)
        return Passed(layouts, drives, spread.take(good), zeros.take(good), points, strung, forces)

    def _forces(self, layouts: Layouts, drives: Drives, strung: Strung, phi: Array) -> Forces:
        """What adjuster, hinge and bearings carry over the hand's error."""
        adjuster = self.statics.motion.adjuster(layouts, phi)
        rest: list[Array] = []
        most = [np.zeros(strung.tension.shape) for _ in range(3)]
        for load in self.statics.cases():
            pulled = self.statics.pulled(strung, drives, load)
            force = (pulled.moment + strung.weight) / adjuster.extension_slope
            hinge = self.statics.hinge(layouts, pulled, adjuster, force)
            rest = rest or [force, hinge]
            here = (np.abs(force), hinge, self.statics.share_of_limit(pulled, load))
            most = [np.maximum(one, other) for one, other in zip(most, here, strict=True)]
        return Forces(*rest, *most)

    def _within_limits(self, now: Passed, sieve: Sieve) -> Passed:
        limits, forces = self.statics.scenario.limits, now.forces
        if limits.adjuster is not None:
            good = np.all(forces.adjuster_most <= limits.adjuster, axis=0)
            now = now.take(sieve.keep(good, Reason.ADJUSTER_LOAD))
        if limits.hinge is not None:
            good = np.all(now.forces.hinge_most <= limits.hinge, axis=0)
            now = now.take(sieve.keep(good, Reason.HINGE_LOAD))
        now = now.take(sieve.keep(np.all(now.forces.share <= 1.0, axis=0), Reason.BEARING))
        return now.take(sieve.keep(self._bearings_before(now) <= 1.0, Reason.BEARING))

    def _bearings_before(self, now: Passed) -> Array:
        """Worst share of a bearing's limit from zero turns to the set point.

        The load vector is linear in the tension but for a kink where the belt stops slipping under
        the load: its size is greatest at zero, at a kink or at the set point. The adjuster may let
        the plate go on the way, but then it rides at a tension that lies between as well.
        """
        layouts, drives = now.layouts, now.drives
        kinks = (
            (drives.running_kink, drives.running_kink_at),
            (
                drives.starting_kink,
                drives.starting_kink_at,
            ),
        )
        phi = [now.zeros.phi]
        at_zero = self.statics.strung(layouts, drives, now.zeros.phi).tension
        for tension, distance in kinks:
            inside = (tension > at_zero) & (tension < now.strung.tension[_LOOSE])
            phi.append(
                np.where(inside, self.statics.motion.swing(layouts, distance), now.zeros.phi)
            )
        strung = self.statics.strung(layouts, drives, np.stack(phi))
        worst = np.zeros(strung.tension.shape)
        for load in self.statics.cases():
            pulled = self.statics.pulled(strung, drives, load)
            worst = np.maximum(worst, self.statics.share_of_limit(pulled, load))
        result: Array = np.max(worst, axis=0)
        return result
