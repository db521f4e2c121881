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
from mountcalc.formulas.belt import coarsest_that_tells, mid_span_force, span_frequency
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import MethodName, ReadingUnit
from mountcalc.requirements.spring_balance import lever_of

__all__ = ["Gauge", "PressGauge", "gauges_of", "is_contact", "others_of"]

Array = NDArray[np.float64]

_BOTH = 2


@dataclass(frozen=True)
class Gauge(ABC):
    """One method on one mount: what it reads at rest tensions [N] of one strand of one belt.

    Readings grow with the tension. ``error`` is that of one reading, in its unit or, where
    ``is_share``, as a share of it.
    """

    requirements: Requirements
    name: MethodName
    unit: ReadingUnit
    error: float
    is_share: bool

    @abstractmethod
    def shown(self, tension: Array) -> Array:
        """What it reads with the belt reckoned with."""

    def most(self, tension: Array) -> Array:
        """What it reads at that tension with the belt that reads most."""
        return self.shown(tension)

    def least(self, tension: Array) -> Array:
        """What it reads at that tension with the belt that reads least."""
        return self.shown(tension)

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
            return float(low[0])
        if reading >= float(reads(high)[0]):
            return math.inf
        return float(bracketed_roots(lambda tension: reads(tension) - reading, low, high)[0])

    def inside(self, tension: float) -> Array:
        """A tension, kept between those at zero and at the end of the travel [N]."""
        low, high = self._ends
        return np.asarray(np.clip(np.array([tension]), low, high))

    @cached_property
    def _ends(self) -> tuple[Array, Array]:
        solved = self.requirements.solved
        ends = np.array([solved.zero.plate_angle, solved.travel.tight_end.angle])
        low, high = solved.mount.tension(solved.mount.path(ends).length)
        return np.array([low]), np.array([high])


class BalanceGauge(Gauge):
    """A spring balance on the plate: what it shows more than with the slack belt [N].

    A soft belt has the tension further round, where the weights have another lever.
    """

    def shown(self, tension: Array) -> Array:
        """Moment that belt and weights have gained since the belt was slack, over the lever."""
        return self._gained(tension, 1.0)[0]

    def most(self, tension: Array) -> Array:
        """The most at that tension, whatever the belt's stiffness and the weights."""
        gained, by_weights = self._gained(tension, self._times)
        return np.asarray(np.max(gained + by_weights, axis=0))

    def least(self, tension: Array) -> Array:
        """The least at that tension, whatever the belt's stiffness and the weights."""
        gained, by_weights = self._gained(tension, self._times)
        return np.asarray(np.min(gained - by_weights, axis=0))

    @property
    def _times(self) -> Array:
        """How many times as stiff the softest and the stiffest belt are, in a column."""
        factor = self.requirements.scenario.belt.stiffness_factor
        return np.array([[1.0 / factor], [factor]])

    def _gained(self, tension: Array, times: float | Array) -> tuple[Array, Array]:
        """For belts so many times as stiff; then by how much the weights may change it."""
        solved, error = self.requirements.solved, self.requirements.scenario.motor.weight_error
        lever, mount = lever_of(solved), solved.mount
        assert lever is not None
        place = solved.angle_for(tension / times)
        by_weights = mount.weight_moment(place) - mount.weight_moment(solved.travel.snug)
        gained = mount.count * tension * mount.path(place).length_slope + by_weights
        return solved.travel.tightens * gained / lever, np.abs(error * by_weights / lever)


class HumGauge(Gauge):
    """The swings of a plucked strand [Hz]."""

    def shown(self, tension: Array) -> Array:
        """Of a string as long as the span where the belt is snug."""
        return span_frequency(
            tension, self.requirements.scenario.belt.mass, snug_span(self.requirements)
        )


@dataclass(frozen=True)
class PressGauge(Gauge):
    """The force [N] that presses one strand of one belt in by ``ratio`` [-] of its span."""

    ratio: float

    def shown(self, tension: Array) -> Array:
        """In the middle of what the belt does: creep round the pulleys, or not."""
        return 0.5 * (self._force(tension, 1.0, self.creeping) + self._force(tension, 1.0, 1.0))

    def most(self, tension: Array) -> Array:
        """The stiffest belt, only its span stretching."""
        return self._force(tension, self.requirements.scenario.belt.stiffness_factor, 1.0)

    def least(self, tension: Array) -> Array:
        """The softest belt, creeping."""
        factor = self.requirements.scenario.belt.stiffness_factor
        return self._force(tension, 1.0 / factor, self.creeping)

    @cached_property
    def creeping(self) -> float:
        """Span over the belt's length, both where it is snug; 0 where a spring gives way [-]."""
        scenario = self.requirements.scenario
        if scenario.adjuster.spring is not None:
            return 0.0
        return snug_span(self.requirements) / scenario.belt.length

    def _force(self, tension: Array, factor: float, spread: float) -> Array:
        stiffness = factor * self.requirements.scenario.belt.stiffness
        return mid_span_force(tension, stiffness, spread, self.ratio)


@dataclass(frozen=True)
class TurnsGauge(Gauge):
    """Turns counted from zero, which a hand finds on the belt and the weights that there are."""

    softest: Requirements
    stiffest: Requirements

    def shown(self, tension: Array) -> Array:
        """With the belt reckoned with."""
        return self.requirements.turns_for(tension)

    def most(self, tension: Array) -> Array:
        """With the softest belt and the weights that help least."""
        return self.softest.turns_for(tension)

    def least(self, tension: Array) -> Array:
        """With the stiffest belt and the weights that help most."""
        return self.stiffest.turns_for(tension)

    def lowest(self, reading: float) -> float:
        """Tension of the softest belt at so many turns [N]."""
        return _tension_at(self.softest, reading)

    def highest(self, reading: float) -> float:
        """Tension of the stiffest belt at so many turns [N]."""
        return _tension_at(self.stiffest, reading)

    def reckoned(self, reading: float) -> float:
        """Tension of the belt reckoned with at so many turns [N]."""
        return _tension_at(self.requirements, reading)


def _tension_at(requirements: Requirements, turns: float) -> float:
    if turns > requirements.last_turn:
        return math.inf
    return float(np.nan_to_num(requirements.tension(np.array([max(turns, 0.0)]))[0], nan=0.0))


def gauges_of(
    requirements: Requirements, others: tuple[Requirements, ...], least_tension: float
) -> tuple[Gauge, ...]:
    """The methods that a mount can be set by."""
    limits, belt = requirements.scenario.limits, requirements.scenario.belt
    found: list[Gauge] = []
    if lever_of(requirements.solved) is not None:
        # Two readings, each with its error.
        error = 2.0 * limits.balance_error
        found.append(
            BalanceGauge(requirements, MethodName.BALANCE, ReadingUnit.FORCE, error, is_share=False)
        )
    if least_tension > 0:
        stiffest = belt.stiffness * belt.stiffness_factor
        ratio, _ = coarsest_that_tells(least_tension, stiffest, 1.0)
        press = requirements, MethodName.PRESS, ReadingUnit.FORCE, limits.push_error, True
        found.append(PressGauge(*press, ratio))
        if belt.mass > 0:
            error = limits.hum_error
            found.append(
                HumGauge(requirements, MethodName.HUM, ReadingUnit.SWINGS, error, is_share=True)
            )
    if len(others) == _BOTH:
        turns = requirements, MethodName.TURNS, ReadingUnit.TURNS, limits.turn_error, False
        found.append(TurnsGauge(*turns, *others))
    return tuple(found)


def others_of(requirements: Requirements) -> tuple[Requirements, ...]:
    """The mount with the softest belt and the lightest weights, then stiffest and heaviest."""
    scenario = requirements.scenario
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
            found.append(requirements.changed(changed))
    return tuple(found)


def snug_span(requirements: Requirements) -> float:
    """Free span where the belt is snug [m]."""
    solved = requirements.solved
    return math.sqrt(solved.mount.path(solved.travel.snug).span_squared)


def is_contact(requirements: Requirements) -> bool:
    """Whether turns are counted from where the weights hold the plate."""
    return requirements.solved.zero.kind is ZeroKind.CONTACT
