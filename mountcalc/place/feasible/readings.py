"""What the methods of setting a belt read, for many layouts at a time.

From the fewest turns with the wanted grip on, each method aims two errors of its reading higher:
one is the reading's, the other the hand's. The range must be four wide, so that as much is left on
the tight side. The method that then leaves a belt the least tension too much leads; turns do so,
too, where they ask for little more. All is as in :mod:`methods`, in closed form
but for the plate angles.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.formulas.belt import elastic_tension
from mountcalc.formulas.belt_feel import RATIOS, drowns
from mountcalc.linkage import kernels
from mountcalc.place.feasible.statics import Statics
from mountcalc.place.layouts.drives import Drives
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.place.layouts.motion import Motion
from mountcalc.requirements.methods.methods import TURNS_MAY_ASK

__all__ = ["Leading", "Readings"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_MOST_STEPS = 30
# A step [rad] that leaves less than rounding behind.
_SETTLED = 1e-13
_BALANCE, _PRESS, _HUM, _TURNS = range(4)


class Scale(NamedTuple):
    """Readings that grow as the tension plus a constant [N]: a push, or a hum's square.

    The constants are those of the belt that reads most, of the one reckoned with and of the one
    that reads least; ``error`` [-] is what a reading may be off by as a factor.
    """

    most: Array
    shown: Array
    least: Array
    error: Array

    def highest(self, floor: Array, errors: float) -> Array:
        """Highest tension so many errors above what surely has the floor's."""
        tension: Array = (floor + self.most) * self.error**errors - self.least
        return tension


class Leading(NamedTuple):
    """Which method leads for each layout, and the scale of its reading where it has one."""

    method: NDArray[np.intp]
    scale: Scale


@dataclass(frozen=True)
class Readings:
    """The methods of layouts.

    Parameters
    ----------
    statics : Statics
        The layouts' statics.
    layouts : Layouts
        The layouts.
    drives : Drives
        Each one's belt.
    missed : ndarray [m]
        What the hand's error in turns adds to each adjuster's extension.
    snug : ndarray [rad]
        Plate angles at which the belts are snug.
    """

    statics: Statics
    layouts: Layouts
    drives: Drives
    missed: Array
    snug: Array

    @property
    def _motion(self) -> Motion:
        return self.statics.motion

    def tension(self, phi: Array) -> Array:
        """Tension of one strand at plate angles [N]."""
        length = self._motion.path(self.layouts, phi).length
        return elastic_tension(length, self.drives.length, self.drives.stiffness)

    def turned(self, phi: Array, errors: float) -> Array:
        """Plate angle so many of the hand's errors further."""
        extension = self._motion.adjuster(self.layouts, phi).extension
        return self._motion.angle_after(self.layouts, phi, extension + errors * self.missed)

    def leading(self, floor: Array, counted: Bools) -> Leading:
        """The method that leads."""
        least = self.tension(floor)
        press, hum = self._press(least), self._hum(least)
        tops = np.stack(
            [
                self._pulled_tension(floor, 2.0),
                np.where(least > 0, press.highest(least, 2.0), np.inf),
                np.where((least > 0) & (self.drives.mass > 0), hum.highest(least, 2.0), np.inf),
            ]
        )
        tops = np.where(np.isnan(tops), np.inf, tops)
        method = np.argmin(tops, axis=0)
        scale = Scale(
            *(np.where(method == _HUM, one, other) for one, other in zip(hum, press, strict=True))
        )
        if self._may_count:
            best = np.maximum(np.min(tops, axis=0), self.tension(self.turned(floor, 2.0)))
            sure = self.drives.factor * self.tension(self.turned(self._counted(floor), 2.0))
            method = np.where(counted & (sure <= TURNS_MAY_ASK * best), _TURNS, method)
        return Leading(method, scale)

    @property
    def _may_count(self) -> bool:
        """Whether turns can lead at all: softest and stiffest belt are that many times apart."""
        factor, hum = self.drives.factor, (1.0 + self.statics.scenario.limits.hum_error) ** 4
        far = (factor > TURNS_MAY_ASK) & (factor**2 > TURNS_MAY_ASK * hum) & (self.drives.mass > 0)
        return not bool(np.all(far))

    def aim(self, lead: Leading, floor: Array) -> Array:
        """Plate angle at the leading method's aim."""
        scale = lead.scale
        tension = (self.tension(floor) + scale.most) * scale.error**2 - scale.shown
        turned = self.turned(self._counted(floor), 2.0) if self._may_count else floor
        return self._chosen(lead, self._pulled(floor), self._at(floor, tension), turned)

    def tightest(self, lead: Leading, floor: Array) -> Array:
        """Plate angle at the highest tension four errors above what surely grips."""
        tension = lead.scale.highest(self.tension(floor), 4.0)
        if self._may_count:
            counted = self.drives.factor * self.tension(self.turned(self._counted(floor), 4.0))
            tension = np.where(lead.method == _TURNS, counted, tension)
        tension = np.where(lead.method == _BALANCE, self._pulled_tension(floor, 4.0), tension)
        return self._at(floor, tension)

    def loosest(self, lead: Leading, point: Array) -> Array:
        """Plate angle at the lowest tension that a reading of the set point may stand for."""
        scale = lead.scale
        tension = (self.tension(point) + scale.shown) / scale.error - scale.most
        if self._may_count:
            counted = self.tension(self.turned(point, -1.0)) / self.drives.factor
            tension = np.where(lead.method == _TURNS, counted, tension)
        shown = self._gain(point, 1.0, 1.0)[0] - self._balance_error
        tension = np.where(lead.method == _BALANCE, self._stands_for(point, shown, np.min), tension)
        return self._at(point, np.maximum(tension, 0.0))

    def _chosen(self, lead: Leading, pulled: Array, at: Array, turned: Array) -> Array:
        otherwise = np.where(lead.method == _TURNS, turned, at)
        return np.where(lead.method == _BALANCE, pulled, otherwise)

    def _counted(self, floor: Array) -> Array:
        """Plate angle at which the softest belt has the tension of the floor."""
        return self._at(floor, self.drives.factor * self.tension(floor))

    def _hum(self, least: Array) -> Scale:
        none = np.zeros(least.shape)
        return Scale(none, none, none, none + (1.0 + self.statics.scenario.limits.hum_error) ** 2)

    def _press(self, least: Array) -> Scale:
        """The deepest push that tells the least tension."""
        drives = self.drives
        stiffest = drives.stiffness * drives.factor
        ratio = np.select(
            [~drowns(least, stiffest, 1.0, one) for one in RATIOS], RATIOS, RATIOS[-1]
        )
        stretch = 2.0 * np.square(ratio) * drives.stiffness
        return Scale(
            stretch * drives.factor,
            stretch * 0.5 * (1.0 + drives.span_share),
            stretch * drives.span_share / drives.factor,
            np.full(least.shape, 1.0 + self.statics.scenario.limits.push_error),
        )

    @cached_property
    def _lever(self) -> Array:
        """From the hinge to where the adjuster bears as drawn [m]."""
        layouts = self.layouts
        return np.hypot(layouts.tip_x - layouts.hinge_x, layouts.tip_y - layouts.hinge_y)

    @property
    def _balance_error(self) -> Array:
        """Of two readings of the balance, as a moment [N m]."""
        return 2.0 * self.statics.scenario.limits.balance_error * self._lever

    @property
    def _corners(self) -> list[tuple[Array, float]]:
        """How many times as stiff belts may be, and as heavy plate and motor [-]."""
        error = self.statics.scenario.motor.weight_error
        factors = 1.0 / self.drives.factor, self.drives.factor
        return [(times, 1.0 + side * error) for times in factors for side in (-1.0, 1.0)]

    @cached_property
    def _weight_arms(self) -> tuple[Array, ...]:
        return self.statics.weight_arms(self.layouts)

    @cached_property
    def _slack(self) -> Array:
        """Moment of the weights where the belt is snug, clockwise positive [N m]."""
        moment: Array = kernels.plate_point(self.snug, 0.0, 0.0, *self._weight_arms).y_slope
        return moment

    def _gain(self, phi: Array, times: ArrayLike, weight: float) -> tuple[Array, Array]:
        """Moment [N m] that a belt so many times as stiff has the balance gain, and its slope."""
        layouts, drives = self.layouts, self.drives
        path = self._motion.path(layouts, phi)
        # Below snug a belt has no tension: the line is carried on, so that steps come back.
        pull = np.multiply(times, drives.count * drives.stiffness) / drives.length
        moved = kernels.plate_point(phi, 0.0, 0.0, *self._weight_arms)
        value = pull * (path.length - drives.length) * path.length_slope
        value = value + weight * (moved.y_slope - self._slack)
        slope = pull * np.square(path.length_slope) - weight * moved.y
        return layouts.tightens * value, layouts.tightens * slope

    def _surely(self, floor: Array) -> Array:
        """The most that the balance gains [N m] at the tension of a plate angle."""
        tension = self.tension(floor)
        gains = [
            self._gain(self._at(floor, tension / times), times, weight)[0]
            for times, weight in self._corners
        ]
        most: Array = np.max(np.stack(gains), axis=0)
        return most

    def _stands_for(self, start: Array, gain: Array, end: Callable[..., Array]) -> Array:
        """Least or greatest tension [N] that a gain of the balance may stand for."""
        found = []
        for times, weight in self._corners:
            at = _settled(partial(self._gain, times=times, weight=weight), start, gain)
            found.append(times * self.tension(at))
        return end(np.stack(found), axis=0)

    def _pulled_tension(self, floor: Array, errors: float) -> Array:
        """Highest tension so many errors above what surely grips, by the balance [N]."""
        gain = self._surely(floor) + errors * self._balance_error
        return self._stands_for(floor, gain, np.max)

    def _pulled(self, floor: Array) -> Array:
        """Plate angle at which the balance shows two errors more than what surely grips."""
        gain = self._surely(floor) + 2.0 * self._balance_error
        return _settled(partial(self._gain, times=1.0, weight=1.0), floor, gain)

    def _at(self, start: Array, tension: Array) -> Array:
        """Plate angle at a tension."""
        layouts, drives = self.layouts, self.drives

        def pull(phi: Array) -> tuple[Array, Array]:
            path = self._motion.path(layouts, phi)
            # Below snug a belt has no tension: the line is carried on, so that steps come back.
            strain = path.length / drives.length - 1.0
            return drives.stiffness * strain, drives.stiffness / drives.length * path.length_slope

        return _settled(pull, start, tension)


def _settled(
    function: Callable[[Array], tuple[Array, Array]], start: Array, wanted: Array
) -> Array:
    """Where a function of the plate angle is what is wanted, by its value and nearly its slope."""
    phi, moving = np.array(start), np.ones(start.shape, dtype=bool)
    for _ in range(_MOST_STEPS):
        value, slope = function(phi)
        # What has settled stays, whatever else is in the same block.
        step = np.where(moving, (wanted - value) / slope, 0.0)
        phi = phi + step
        moving &= ~(np.abs(step) <= _SETTLED)
        if not np.any(moving):
            break
    return np.where(moving, np.nan, phi)
