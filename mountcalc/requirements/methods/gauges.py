"""What each method reads over the tension, for the belt reckoned with and those that it may be.

A reading leaves the tension open: a push's by the belt's stiffness and how far it creeps, turns'
by stiffness and weights, and each by the error of the hand. A balance, read before and after the
belt takes hold, depends on them only by how far round the motor goes, a plucked strand not.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.states import ZeroKind
from mountcalc.errors import MountError
from mountcalc.formulas.belt import span_frequency
from mountcalc.formulas.belt_feel import coarsest_that_tells, mid_span_force
from mountcalc.requirements.methods.results import MethodName, ReadingUnit
from mountcalc.requirements.methods.spring_balance import lever_of, plate_moment
from mountcalc.requirements.promises import Promises, promises_of

__all__ = ["Gauge", "PressGauge", "gauges_of", "is_contact", "others_of"]

Array = NDArray[np.float64]

_BOTH = 2


@dataclass(frozen=True)
class Gauge(ABC):
    """One method on one mount. Readings grow with the tension; ``angle`` [rad] is the plate's.

    ``error`` is that of one reading, in its unit or, where ``is_share``, as a share of it.
    """

    promises: Promises
    name: MethodName
    unit: ReadingUnit
    error: float
    is_share: bool

    @abstractmethod
    def shown(self, angle: Array) -> Array:
        """What it reads with the belt reckoned with."""

    def most(self, angle: Array) -> Array:
        """What it reads at that tension with the belt that reads most."""
        return self.shown(angle)

    def least(self, angle: Array) -> Array:
        """What it reads at that tension with the belt that reads least."""
        return self.shown(angle)

    def missed(self, reading: float, errors: float) -> float:
        """A reading so many errors higher."""
        if self.is_share:
            return reading * math.pow(1.0 + self.error, errors)
        return reading + errors * self.error

    def lowest(self, reading: float) -> float:
        """Lowest tension that a reading may stand for, its error not counted [N]."""
        return self._tension(self.most, reading)

    def highest(self, reading: float) -> float:
        """Highest tension that a reading may stand for, its error not counted [N]."""
        return self._tension(self.least, reading)

    def reckoned(self, reading: float) -> float:
        """Tension of the belt reckoned with at a reading [N]."""
        return self._tension(self.shown, reading)

    def _tension(self, reads: Callable[[Array], Array], reading: float) -> float:
        low, high = self._ends
        if reading <= float(reads(low)[0]):
            angle = low
        elif reading >= float(reads(high)[0]):
            return math.inf
        else:
            angle = bracketed_roots(lambda phi: reads(phi) - reading, low, high)
        return float(self.tension(angle)[0])

    def tension(self, angle: Array) -> Array:
        """Tension of the belt reckoned with at a plate angle [N]."""
        mount = self.promises.solved.mount
        return mount.tension(mount.path(angle).length)

    def angle(self, tension: float) -> Array:
        """Plate angle at a tension, kept between zero and the end of the travel."""
        low, high = self._ends
        if tension <= float(self.tension(low)[0]):
            return low
        if tension >= float(self.tension(high)[0]):
            return high
        return bracketed_roots(lambda phi: self.tension(phi) - tension, low, high)

    @property
    def _ends(self) -> tuple[Array, Array]:
        solved = self.promises.solved
        return np.array([solved.zero.plate_angle]), np.array([solved.travel.tight_end.angle])


class BalanceGauge(Gauge):
    """A spring balance on the plate: what it shows more than with the slack belt [N].

    A soft belt has the tension further round, where the weights have another lever.
    """

    def shown(self, angle: Array) -> Array:
        """Moment that belt and weights have gained since the belt was slack, over the lever."""
        return self._gained(angle, self.tension(angle), 1.0)

    def most(self, angle: Array) -> Array:
        """The most at that tension, whatever the belt's stiffness and the weights."""
        reading: Array = np.max(self._all(angle), axis=0)
        return reading

    def least(self, angle: Array) -> Array:
        """The least at that tension, whatever the belt's stiffness and the weights."""
        reading: Array = np.min(self._all(angle), axis=0)
        return reading

    def _all(self, angle: Array) -> list[Array]:
        scenario, tension = self.promises.scenario, self.tension(angle)
        factor, error = scenario.belt.stiffness_factor, scenario.motor.weight_error
        places = (self._at(tension, factor**side) for side in (-1, 1))
        return [
            self._gained(place, tension, 1.0 + side * error) for place in places for side in (-1, 1)
        ]

    def _at(self, tension: Array, factor: float) -> Array:
        """Plate angle at which a belt so many times as stiff has a tension, inside the travel."""
        _, high = self._ends
        wanted = tension / factor
        if wanted >= self.tension(high):
            return high
        snug = np.array([self.promises.solved.travel.snug])
        return bracketed_roots(lambda phi: self.tension(phi) - wanted, snug, high)

    def _gained(self, angle: Array, tension: Array, weight: float) -> Array:
        solved = self.promises.solved
        lever = lever_of(solved)
        assert lever is not None
        slack = solved.mount.weight_moment(np.array([solved.travel.snug]))
        more = (weight - 1.0) * (solved.mount.weight_moment(angle) - slack)
        return (
            solved.travel.tightens * (plate_moment(solved, angle, tension) - slack + more) / lever
        )


class HumGauge(Gauge):
    """The swings of a plucked strand [Hz]."""

    def shown(self, angle: Array) -> Array:
        """Of a string as long as the span where the belt is snug."""
        belt = self.promises.scenario.belt
        return span_frequency(self.tension(angle), belt.mass, snug_span(self.promises))


@dataclass(frozen=True)
class PressGauge(Gauge):
    """The force [N] that presses one strand of one belt in by ``ratio`` [-] of its span."""

    ratio: float

    def shown(self, angle: Array) -> Array:
        """In the middle of what the belt does: creep round the pulleys, or not."""
        return 0.5 * (self._force(angle, 1.0, self.creeping) + self._force(angle, 1.0, 1.0))

    def most(self, angle: Array) -> Array:
        """The stiffest belt, only its span stretching."""
        return self._force(angle, self._factor, 1.0)

    def least(self, angle: Array) -> Array:
        """The softest belt, creeping."""
        return self._force(angle, 1.0 / self._factor, self.creeping)

    @property
    def _factor(self) -> float:
        return self.promises.scenario.belt.stiffness_factor

    @cached_property
    def creeping(self) -> float:
        """Span over the belt's length, both where it is snug; 0 where a spring gives way [-]."""
        scenario = self.promises.scenario
        if scenario.adjuster.spring is not None:
            return 0.0
        return snug_span(self.promises) / scenario.belt.length

    def _force(self, angle: Array, factor: float, spread: float) -> Array:
        stiffness = factor * self.promises.scenario.belt.stiffness
        return mid_span_force(self.tension(angle), stiffness, spread, self.ratio)


@dataclass(frozen=True)
class TurnsGauge(Gauge):
    """Turns counted from zero, which a hand finds on the belt and the weights that there are."""

    softest: Promises
    stiffest: Promises

    def shown(self, angle: Array) -> Array:
        """With the belt reckoned with."""
        return self._turns(self.promises, angle)

    def most(self, angle: Array) -> Array:
        """With the softest belt and the weights that help least."""
        return self._turns(self.softest, angle)

    def least(self, angle: Array) -> Array:
        """With the stiffest belt and the weights that help most."""
        return self._turns(self.stiffest, angle)

    def lowest(self, reading: float) -> float:
        """Tension of the softest belt at so many turns [N]."""
        return _tension_at(self.softest, reading)

    def highest(self, reading: float) -> float:
        """Tension of the stiffest belt at so many turns [N]."""
        return _tension_at(self.stiffest, reading)

    def reckoned(self, reading: float) -> float:
        """Tension of the belt reckoned with at so many turns [N]."""
        return _tension_at(self.promises, reading)

    def _turns(self, promises: Promises, angle: Array) -> Array:
        return promises.turns_for(self.tension(angle))


def _tension_at(promises: Promises, turns: float) -> float:
    if turns > promises.last_turn:
        return math.inf
    return float(np.nan_to_num(promises.tension(np.array([max(turns, 0.0)]))[0], nan=0.0))


def gauges_of(
    promises: Promises, others: tuple[Promises, ...], least_tension: float
) -> tuple[Gauge, ...]:
    """The methods that a mount can be set by."""
    limits, belt = promises.scenario.limits, promises.scenario.belt
    found: list[Gauge] = []
    if lever_of(promises.solved) is not None:
        # Two readings, each with its error.
        error = 2.0 * limits.balance_error
        found.append(
            BalanceGauge(promises, MethodName.BALANCE, ReadingUnit.FORCE, error, is_share=False)
        )
    if least_tension > 0:
        stiffest = belt.stiffness * belt.stiffness_factor
        ratio, _ = coarsest_that_tells(least_tension, stiffest, 1.0)
        press = promises, MethodName.PRESS, ReadingUnit.FORCE, limits.push_error, True
        found.append(PressGauge(*press, ratio))
        if belt.mass > 0:
            error = limits.hum_error
            found.append(
                HumGauge(promises, MethodName.HUM, ReadingUnit.SWINGS, error, is_share=True)
            )
    if len(others) == _BOTH:
        turns = promises, MethodName.TURNS, ReadingUnit.TURNS, limits.turn_error, False
        found.append(TurnsGauge(*turns, *others))
    return tuple(found)


def others_of(promises: Promises) -> tuple[Promises, ...]:
    """The mount with the softest belt and the lightest weights, then stiffest and heaviest."""
    scenario = promises.scenario
    motor, plate, belt = scenario.motor, scenario.plate, scenario.belt
    found = []
    for side in (-1, 1):
        weight = 1.0 + side * motor.weight_error
        changed = replace(
            scenario,
            belt=replace(belt, stiffness=belt.stiffness * belt.stiffness_factor**side),
            motor=replace(motor, weight=motor.weight * weight),
            plate=replace(plate, weight=plate.weight * weight),
        )
        with suppress(MountError):
            found.append(promises_of(changed))
    return tuple(found)


def snug_span(promises: Promises) -> float:
    """Free span where the belt is snug [m]."""
    solved = promises.solved
    path = solved.mount.path(np.array([solved.travel.snug]))
    return float(np.sqrt(path.span_squared[0]))


def is_contact(promises: Promises) -> bool:
    """Whether turns are counted from where the weights hold the plate."""
    return promises.solved.zero.kind is ZeroKind.CONTACT
