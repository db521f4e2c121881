"""Where the adjuster would be set: zero, the fewest turns with the wanted grip, and a hand's aim.

A plate that the adjuster holds at every pull up to the wanted grip grips by 2 q (T - Tc)/Te. The
belt has that from one centre distance on, the same for every layout. Below it a plate that its
adjuster lets go to the tight side comes to rest before that distance, because there the adjuster
holds it; one that it lets go to the slack side loses tension. So no smaller number of turns grips.
"""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.formulas.belt import RATIOS, drowns
from mountcalc.place.feasible.statics import Statics
from mountcalc.record import Record
from mountcalc.requirements.methods import TURNS_MAY_ASK, push_stretch

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_MOST_STEPS = 30
# A step [rad] of Newton's method that leaves less than rounding behind.
_SETTLED = 1e-8
_BALANCE, _PRESS, _HUM, _TURNS = range(4)


class _Balance(Record):
    """What belts and weights turn plates by, against where the belts are ``snug`` [rad]."""

    statics: Statics
    snug: Array

    def gain(self, phi: Array, times: Array, side: float | Array) -> tuple[Array, Array]:
        """Moment [N m] that a belt so many times as stiff has the balance gain, and its slope.

        ``side`` is +1 with the weights of plate and motor that have it gain most, -1 with those
        that have it gain least, 0 with those reckoned with.
        """
        statics, drives = self.statics, self.statics.drives
        path, moved = statics.held.mount.path(phi), statics.held.weights(phi)
        tightens, error = statics.layouts.tightens, statics.scenario.motor.weight_error
        by_weights = tightens * (moved.y_slope - self.slack)
        weight = 1.0 + error * side * np.sign(by_weights)
        # Below snug a belt has no tension: the line is carried on, so that steps come back.
        pull = times * (drives.count * drives.stiffness / drives.length)
        stretch, slope = path.length - drives.length, path.length_slope
        # The path's second derivative: C^2 = a^2 + b^2 - 2 a b cos(angle between the arms) and
        # dL/dC = 2 cos(beta).
        distance, cosine = path.center_distance, np.sqrt(path.span_squared) / path.center_distance
        moves = np.square(slope / (2.0 * cosine))
        bends = (0.5 * (self._square_arms - np.square(distance)) - moves) / distance
        lean = (1.0 - np.square(cosine)) / (distance * cosine)
        curvature = 2.0 * (lean * moves + cosine * bends)
        rise = pull * (np.square(slope) + stretch * curvature) - weight * moved.y
        return tightens * pull * stretch * slope + weight * by_weights, tightens * rise

    @cached_property
    def slack(self) -> Array:
        """Moment of the weights where the belt is snug, clockwise positive [N m]."""
        return self.statics.held.weights(self.snug).y_slope

    @cached_property
    def _square_arms(self) -> Array:
        """Squares of the distances of motor and driven shaft from the hinge, added [m^2]."""
        hinge, motor = self.statics.layouts.hinge, self.statics.layouts.motor
        driven = complex(*self.statics.scenario.driven.shaft)
        squares: Array = np.abs(motor - hinge) ** 2 + np.abs(driven - hinge) ** 2
        return squares

    def settled(self, start: Array, gain: Array, times: Array, side: float | Array) -> Array:
        """Plate angles, a row for each stiffness, at which the balance has a gain."""
        phi, moving = start, np.ones(start.shape, dtype=bool)
        for _ in range(_MOST_STEPS):
            value, slope = self.gain(phi, times, side)
            # What has settled stays, whatever else is in the same block.
            step = np.where(moving, (gain - value) / slope, 0.0)
            phi = phi + step
            moving &= ~(np.abs(step) <= _SETTLED)
            if not np.any(moving):
                break
        return np.where(moving, np.nan, phi)


class _Scale(NamedTuple):
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


class _Readings(Record):
    """What the methods of setting a belt read, for many layouts at a time.

    From the fewest turns with the wanted grip on, each method aims two errors of its reading
    higher: one is the reading's, the other the hand's. The range must be four wide, so that as much
    is left on the tight side. The method that then leaves a belt the least tension too much leads;
    turns do so, too, where they ask for little more. All is as in
    :mod:`mountcalc.requirements.methods`, in closed form but for what a balance shows.

    ``floor`` [rad] is where the belts have the fewest turns with the wanted grip, ``missed`` [m]
    what the hand's error in turns adds to each adjuster's extension; ``counted`` tells where turns
    are counted from a snug belt.
    """

    balance: _Balance
    floor: Array
    missed: Array
    counted: Bools

    @property
    def statics(self) -> Statics:
        """The layouts."""
        return self.balance.statics

    def turned(self, phi: Array, errors: float) -> Array:
        """Plate angle so many of the hand's errors further."""
        extension = self.statics.adjuster(phi).extension
        return self.statics.angle_after(phi, extension + errors * self.missed)

    @cached_property
    def aim(self) -> Array:
        """Plate angle at the leading method's aim."""
        scale = self._scale
        aim = self.statics.held.angle_at((self._least + scale.most) * scale.error**2 - scale.shown)
        aim = np.where(self._leading == _BALANCE, self._by_balance[0], aim)
        if self._may_count:
            aim = np.where(self._leading == _TURNS, self.turned(self._softest_floor, 2.0), aim)
        return aim

    @cached_property
    def tightest(self) -> Array:
        """Plate angle at the highest tension four errors above what surely grips."""
        tension = self._scale.highest(self._least, 4.0)
        tension = np.where(self._leading == _BALANCE, self._by_balance[2], tension)
        if self._may_count:
            turned = self.statics.held.tension(self.turned(self._softest_floor, 4.0))
            tension = np.where(self._leading == _TURNS, self._factor * turned, tension)
        return self.statics.held.angle_at(tension)

    def loosest(self, point: Array) -> Array:
        """Plate angle at the lowest tension that a reading of the set point may stand for."""
        scale, statics = self._scale, self.statics
        at_point = statics.held.tension(point)
        tension = (at_point + scale.shown) / scale.error - scale.most
        shown = self.balance.gain(point, np.ones(1), 0.0)[0] - self._balance_error
        found = self.balance.settled(self._places(at_point), shown, self._times, 1.0)
        found = self._times * statics.held.tension(found)
        tension = np.where(self._leading == _BALANCE, np.min(found, axis=0), tension)
        if self._may_count:
            counted = statics.held.tension(self.turned(point, -1.0)) / self._factor
            tension = np.where(self._leading == _TURNS, counted, tension)
        return statics.held.angle_at(np.maximum(tension, 0.0))

    @property
    def _factor(self) -> Array:
        return self.statics.drives.factor

    @cached_property
    def _least(self) -> Array:
        """Tension of the floor [N]."""
        return self.statics.held.tension(self.floor)

    @cached_property
    def _softest_floor(self) -> Array:
        """Plate angle at which the softest belt has the tension of the floor."""
        return self.statics.held.angle_at(self._factor * self._least)

    @property
    def _may_count(self) -> bool:
        """Whether turns can lead at all: softest and stiffest belt are that many times apart."""
        hum, drives = (1.0 + self.statics.scenario.limits.hum_error) ** 4, self.statics.drives
        far = (drives.factor > TURNS_MAY_ASK) & (drives.factor**2 > TURNS_MAY_ASK * hum)
        return not bool(np.all(far & (drives.mass > 0)))

    @cached_property
    def _leading(self) -> NDArray[np.intp]:
        """The method that leaves the least tension too much, two errors above what surely grips."""
        least, statics = self._least, self.statics
        hums = (least > 0) & (statics.drives.mass > 0)
        press, hum = (one.highest(least, 2.0) for one in (self._press, self._hum))
        tops = [
            self._by_balance[1],
            np.where(least > 0, press, np.inf),
            np.where(hums, hum, np.inf),
        ]
        tops = [np.where(np.isnan(top), np.inf, top) for top in tops]
        method: NDArray[np.intp] = np.argmin(tops, axis=0)
        if not self._may_count:
            return method
        best = np.maximum(np.min(tops, axis=0), statics.held.tension(self.turned(self.floor, 2.0)))
        sure = self._factor * statics.held.tension(self.turned(self._softest_floor, 2.0))
        return np.where(self.counted & (sure <= TURNS_MAY_ASK * best), _TURNS, method)

    @cached_property
    def _scale(self) -> _Scale:
        """That of the hum where it leads, else that of the push."""
        pairs = zip(self._hum, self._press, strict=True)
        return _Scale(*(np.where(self._leading == _HUM, one, other) for one, other in pairs))

    @cached_property
    def _hum(self) -> _Scale:
        none = np.zeros(self._least.shape)
        return _Scale(none, none, none, none + (1.0 + self.statics.scenario.limits.hum_error) ** 2)

    @cached_property
    def _press(self) -> _Scale:
        """The deepest push that tells the least tension."""
        drives, least = self.statics.drives, self._least
        stiffest = drives.stiffness * drives.factor
        tells = [~drowns(least, stiffest, 1.0, one) for one in RATIOS]
        ratio = np.select(tells, RATIOS, RATIOS[-1])
        error = np.full(least.shape, 1.0 + self.statics.scenario.limits.push_error)
        most, shown, fewest = push_stretch(
            drives.stiffness, drives.factor, drives.span_share, ratio
        )
        return _Scale(np.asarray(most), np.asarray(shown), np.asarray(fewest), error)

    @property
    def _balance_error(self) -> Array:
        """Of two readings of the balance where the adjuster bears, as a moment [N m]."""
        one = self.statics.layouts
        return 2.0 * self.statics.scenario.limits.balance_error * np.hypot(one.reach, one.offset)

    @cached_property
    def _times(self) -> Array:
        """How many times as stiff the softest and the stiffest belts are [-], in rows."""
        return np.stack([1.0 / self._factor, self._factor])

    @cached_property
    def _by_balance(self) -> tuple[Array, Array, Array]:
        """Where it aims [rad], and the highest tensions [N] two and four errors up."""
        times, places = self._times, self._places(self._least)
        # The most that it gains at the tension of the floor, and so many errors more.
        surely = np.max(self.balance.gain(places, times, 1.0)[0], axis=0)
        two, four = (surely + errors * self._balance_error for errors in (2.0, 4.0))
        found = self.balance.settled(
            np.concatenate([self.floor[None], places, places]),
            np.stack([two] * 3 + [four] * 2),
            np.concatenate([np.ones((1, times.shape[1])), times, times]),
            np.array([[0.0]] + [[-1.0]] * 4),
        )
        top, tightest = (
            np.max(times * self.statics.held.tension(found[rows]), axis=0)
            for rows in (slice(1, 3), slice(3, 5))
        )
        return found[0], top, tightest

    def _places(self, tension: Array) -> Array:
        """Plate angles of softest and stiffest belts at a tension [N]."""
        return self.statics.held.angle_at(tension / self._times)


def find_zeros(statics: Statics, snug: Array, end: Array, slope: Array) -> tuple[Array, Bools]:
    """Plate angle from which turns are counted: snug, or contact where weight takes the plate off.

    NaN where it does so before the end of the travel. ``slope`` is that of the extension at snug.
    Contact is told by the second array.
    """
    weight, tightens = statics.held.weights(snug).y_slope, statics.layouts.tightens
    contact = weight * np.sign(slope) * statics.carries < 0
    # A free plate goes against the sign of its clockwise moment, here to the tight side; the belt
    # stops it where that gains as much as the weights had at snug.
    one, balance = np.ones(1), _Balance(statics, snug)
    lost = -tightens * weight
    stops = contact & (lost > 0) & (balance.gain(end, one, 0.0)[0] > lost)
    inside, zero = np.flatnonzero(stops), np.where(contact, np.nan, snug)
    resting = _Balance(statics.take(inside), snug[inside])
    zero[inside] = resting.settled(snug[inside], lost[inside], one, 0.0)
    return zero, contact


def set_points(
    statics: Statics, travel: Array, zero: Array, loose: Array, counted: Bools
) -> tuple[Array, Array, Bools]:
    """The set point of each layout and how far a hand may miss it.

    Plate angles [rad] as loose as a hand may leave it, as set, and as tight, shape (3, N); the
    turns [-] of the set point; and whether all three lie before full take-up.
    ``travel`` are the plate angles at install, snug and take-up; ``loose`` that of the fewest
    turns; ``counted`` tells where turns are counted from a snug belt.
    """
    layouts, tightens = statics.layouts, statics.layouts.tightens
    _, snug, take_up = travel
    at_snug, at_end, at_zero = (statics.adjuster(phi) for phi in (snug, take_up, zero))
    pitches = np.array([thread.pitch for thread in statics.space.threads])
    turn = np.sign(at_snug.extension_slope) * tightens * pitches[layouts.thread]
    error = statics.scenario.limits.turn_error
    readings = _Readings(_Balance(statics, snug), loose, error * turn, counted)

    def tightest(*phi: Array) -> Array:
        result: Array = tightens * np.max([tightens * one for one in phi], axis=0)
        return result

    point = tightest(readings.aim, readings.turned(loose, 1.0))
    tight = tightest(readings.tightest, readings.turned(point, 1.0))
    # What a reading or a hand may leave, the looser of them, but no looser than at zero.
    loosest = tightens * readings.loosest(point), tightens * readings.turned(point, -1.0)
    slack = tightest(zero, tightens * np.minimum(*loosest))
    set_at, tight_at = (statics.adjuster(phi).extension for phi in (point, tight))
    reached = (at_end.extension - tight_at) * turn >= 0
    # What is not reached is left where it is snug: it is given up anyway.
    phi = np.where(reached, np.stack([slack, point, tight]), snug)
    return phi, (set_at - at_zero.extension) / turn, reached
