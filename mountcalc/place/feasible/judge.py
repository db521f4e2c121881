"""The fast judge: which of many layouts will do, in closed form, and why the others will not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.clearance.motor_room import motor_clearing
from mountcalc.place.feasible.judged import Judged
from mountcalc.place.feasible.measures import measures_of
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.feasible.sieve import Sieve
from mountcalc.place.feasible.statics import Statics
from mountcalc.place.feasible.trials import Trials
from mountcalc.place.layouts.drives import Drives, drives_of
from mountcalc.place.layouts.layouts import END_MARGIN, KINDS, Layouts, layouts_from
from mountcalc.place.layouts.motion import Motion
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["Clear", "Judge", "judge"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

Clear = Callable[[Layouts, Array, Array], tuple[Bools, Ints, Array]]
"""Layouts and their plate angles at install and take-up [rad] to whether they are clear, the index
of the first keep-out that is in the way, and the clearance [m]."""

# Layouts judged at a time: so many that numpy's calls cost little and arrays stay in the cache.
CHUNK = 16384


@dataclass(frozen=True)
class Judge:
    """Judges layouts of one search.

    Parameters
    ----------
    scenario : Scenario
        The mount that the search starts from: its drive, weights and limits.
    space : SearchSpace
        What it may try.
    drives : Drives
        Its belts.
    clear : Clear, optional
        Judges what has passed all else against the keep-outs.
    """

    scenario: Scenario
    space: SearchSpace
    drives: Drives
    clear: Clear | None = None

    @cached_property
    def _trials(self) -> tuple[Trials, ...]:
        """One for each of KINDS."""
        motions = (Motion.of(self.scenario, self.space, kind) for kind in KINDS)
        return tuple(Trials(Statics(self.scenario, self.space, motion)) for motion in motions)

    @cached_property
    def _clear_of_motor(self) -> Callable[[Layouts, Array, Array], Bools]:
        return motor_clearing(self.scenario, self.space)

    def samples(self, unit: ArrayLike) -> Judged:
        """Judge the layouts of the points of a sample; only the feasible ones are kept."""
        points = np.asarray(unit, dtype=float)
        blocks = (points[at : at + CHUNK] for at in _starts(len(points)))
        return Judged.joined(
            [self._chunk(layouts_from(block, self.space, self.scenario)) for block in blocks]
        )

    def layouts(self, layouts: Layouts) -> Judged:
        """Judge layouts of any kinds."""
        blocks = (layouts.take(slice(at, at + CHUNK)) for at in _starts(len(layouts)))
        return Judged.joined([self._chunk(block) for block in blocks])

    def _chunk(self, layouts: Layouts) -> Judged:
        """Judge a few, one kind of adjuster after the other."""
        short = layouts.plate_length <= self.space.plate_length
        reason = np.where(short, Reason.FEASIBLE, Reason.PLATE_LENGTH)
        standing = layouts.foot - 0.5 * self.space.motor_feet >= END_MARGIN
        reason = np.where(standing, reason, Reason.FEET_PAST_HINGE)
        reason = np.where(layouts.fault == 0, reason, layouts.fault).astype(np.uint8)
        parts = []
        for code, trials in enumerate(self._trials):
            sieve = Sieve(reason, np.flatnonzero((reason == 0) & (layouts.kind == code)))
            # The domain of every root is guarded: what is out of reach fails as a NaN.
            with np.errstate(invalid="ignore", divide="ignore"):
                parts.append(self._one_kind(trials, layouts.take(sieve.places), sieve))
        whole = Judged.joined(parts)
        order = np.argsort(whole.kept)
        kept = whole.kept[order]
        return Judged(reason, kept, whole.layouts.take(order), whole.measures.take(order))

    def _one_kind(self, trials: Trials, layouts: Layouts, sieve: Sieve) -> Judged:
        passed = trials.passed(layouts, self.drives.of(layouts.belt), sieve)
        if len(passed.layouts):
            ends = passed.spread.phi[0], passed.spread.phi[2]
            good = self._clear_of_motor(passed.layouts, *ends)
            passed = passed.take(sieve.keep(good, Reason.MOTOR_IN_THE_WAY))
        clearance = np.full(len(passed.layouts), np.nan)
        if self.clear is not None and len(passed.layouts):
            ends = passed.spread.phi[0], passed.spread.phi[2]
            good, offending, clearance = self.clear(passed.layouts, *ends)
            which = sieve.keep_clear(good, offending)
            passed, clearance = passed.take(which), clearance[which]
        measures = measures_of(trials.statics, passed, clearance)
        return Judged(np.empty(0, np.uint8), sieve.places, passed.layouts, measures)


def _starts(count: int) -> range:
    """Where the blocks of so many layouts begin; one empty block where there are none."""
    return range(0, max(count, 1), CHUNK)


def judge(
    scenario: Scenario,
    space: SearchSpace,
    layouts: Layouts,
    install: ArrayLike,
    take_up: ArrayLike,
    clear: Clear | None = None,
) -> Judged:
    """Judge layouts of a search."""
    return Judge(scenario, space, drives_of(scenario, space, install, take_up), clear).layouts(
        layouts
    )
