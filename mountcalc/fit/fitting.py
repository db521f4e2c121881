"""From a log of readings to this belt and this build: the fit as it is told."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.fit.least_squares.bedding import bedding_of
from mountcalc.fit.least_squares.estimate import CONFIDENCE, Estimate, estimated, interval
from mountcalc.fit.least_squares.give import with_give
from mountcalc.fit.least_squares.next_reading import next_reading
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.refusals import (
    FitError,
    refuse_adjuster,
    refuse_log,
    refuse_past_travel,
    refuse_rows,
    refuse_slip,
)
from mountcalc.fit.results import Fit, FittedReading, Interval
from mountcalc.fit.sentences import notes_of, what_cannot_be_told
from mountcalc.scenario.model import Scenario

Array = NDArray[np.float64]

# What readings have narrowed to less than this share of what was known before is told.
_NARROWED = 0.7
_STEP = 1e-4  # turns


@lru_cache(maxsize=32)
def _solved(scenario: Scenario) -> SolvedMount:
    """With a rigid adjuster: what gives is the model's."""
    rigid = replace(scenario.adjuster, spring=None, coil=None)
    return solve_mount(Mount.of(replace(scenario, adjuster=rigid)))


def fit_readings(scenario: Scenario, readings: Sequence[Reading], source: str = "") -> Fit:
    """Fit a log, whose file is ``source``; FitError or MountError where it cannot be."""
    refuse_adjuster(scenario, source)
    solved = _solved(scenario)
    spring, coil = Mount.of(scenario).spring, scenario.adjuster.coil
    refuse_rows(solved, readings, source, coil)
    model = model_of(solved, readings, 0.0 if spring is None else float(1.0 / spring), coil)
    refuse_log(model, source)
    fits, give = with_give(estimated(model))
    best = fits[0]
    model, latest = best.model, best.model.zeros.stop - 2
    zeros = [interval(fits, 1 + session) for session in range(model.zeros.stop - 1)]
    times, zero = interval(fits, 0), zeros[latest]
    if times is None or zero is None:
        raise FitError(
            source,
            "these readings leave the belt's stiffness open by more than a hundred times; read at "
            "turns that are further apart, where the belt is tight and the adjuster carries the "
            "plate",
        )
    if model.zeros.stop - 1 == 1:
        refuse_past_travel(model, float(np.nanmax(model.turns)), zero.high, source)
    read, traction = _fitted(best), _traction(fits)
    refuse_slip(read, source)
    stiffness = scenario.belt.stiffness
    belt = Interval(*(math.exp(one) for one in (times.value, times.low, times.high)))
    return Fit(
        title=scenario.title,
        stiffness=Interval(*(stiffness * one for one in (belt.value, belt.low, belt.high))),
        stiffness_times=belt,
        zero_turns=zero,
        confidence=CONFIDENCE,
        weights=_weights(best),
        traction=traction,
        give=give,
        scatter=best.scatter,
        readings=read,
        next=next_reading(best, times, zero),
        cannot_tell=what_cannot_be_told(best, traction),
        bedding=bedding_of(best),
        notes=notes_of(fits),
    )


def _weights(best: Estimate) -> Interval | None:
    """What motor and plate weigh over what the scenario says, where readings tell."""
    model, index = best.model, best.model.weights
    spread = math.sqrt(best.covariance[index, index])
    if spread > _NARROWED or not model.weights_error:
        return None
    value, half = float(best.parameters[index]), best.errors * spread
    return Interval(*(1.0 + model.weights_error * (value + side) for side in (0.0, -half, half)))


def _traction(fits: Sequence[Estimate]) -> Interval | None:
    """Traction over what the scenario says, where a load at which the belt slipped tells it."""
    best, index = fits[0], fits[0].model.traction
    if not best.model.reads_slip or math.sqrt(best.covariance[index, index]) > _NARROWED:
        return None
    found = interval(fits, index)
    return found and Interval(*(math.exp(one) for one in (found.value, found.low, found.high)))


def _fitted(best: Estimate) -> tuple[FittedReading, ...]:
    """Each reading beside what the fitted mount reads, and the tension that it tells."""
    model = best.model
    stiffness, weights, creep, turns = model.shares(best.parameters[np.newaxis])
    traction = model.traction_times(best.parameters[np.newaxis])
    both = np.vstack([turns, turns + _STEP])
    ones = np.ones((2, 1))
    tension = model.at_rest(stiffness * ones, weights * ones, both).tension
    scaled = model.scaled(
        model.readings_at(stiffness * ones, weights * ones, creep * ones, both, traction * ones)
    )
    by_turns, more = scaled[1] - scaled[0], tension[1] - tension[0]
    predicted = model.predicted(best.parameters)[0]
    fitted, told = model.unscaled(predicted), []
    for row, reading in enumerate(model.readings):
        error = float(model.errors[row])
        tells = reading.turns is not None and reading.method not in _NOT_OF_TENSION
        slope = more[row] / by_turns[row] if tells and by_turns[row] and more[row] else None
        by_reading = None
        if slope is not None:
            by_reading = float(tension[0, row] + slope * (model.read[row] - predicted[row]))
        told.append(
            FittedReading(
                row=reading.row,
                turns=reading.turns,
                method=reading.method,
                read=reading.value,
                fitted=float(fitted[row]),
                error=error * abs(reading.value) if model.is_share[row] else error,
                suspect=not best.counts[row],
                tension=by_reading,
                tension_error=None if slope is None else float(abs(slope) * error),
            )
        )
    return tuple(told)


_NOT_OF_TENSION = (ReadingMethod.CENTRES, ReadingMethod.TIP, ReadingMethod.SLIP)
