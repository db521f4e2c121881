"""Least squares: the belt and build that readings fit best, how sure, and which disagree.

First a robust fit from several starts finds which readings belong together; then those are fitted
by plain least squares, with priors as further residuals. A reading off by more than `SUSPECT`
standard deviations of itself and of what the others expect does not count any further.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares
from scipy.special import chdtrc, chdtri, stdtrit

from mountcalc.fit.least_squares.model import ReadingModel
from mountcalc.fit.readings import ReadingMethod
from mountcalc.fit.results import Interval
from mountcalc.record import Record

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

CONFIDENCE = 0.9
SUSPECT = 3.5
# Suspects come back when the others, without them, expect what they read so nearly.
_CLEARED = 2.5
# Share of the readings that may be suspect; where more are, the errors are greater than stated.
_MOST_SUSPECT = 0.25
# Belts tried as starts, over the scenario's stiffness, and beyond which nothing is told.
_STARTS = np.exp(np.linspace(-2.0, 2.0, 9))
FARTHEST = math.log(100.0)
_TRIED = 3
# Steps of a fit, and of one that only shows where it leads.
_MOST_STEPS, _FEW_STEPS = 40, 12
# Readings whose absence is tried, those that disagree most with the others.
_LIKELY = 5
_ZEROS = 60
# Errors greater than stated are told from chance only where chance would make them so seldom.
# Fits whose scores differ by no more are about as likely.
_ALIKE = 4.0
# What is known of a stiffness holds for 19 belts of 20, and none is known better than this.
_ERRORS, _LEAST_FACTOR = 2.0, 1.1
_SELDOM = 0.05
_NEAR_ENOUGH = 0.02


class Estimate(Record):
    """Parameters that fit best, with all residuals there over their standard deviations.

    ``counts`` (n,) are the readings that are no suspects; residuals are those of the readings, then
    of the priors, (n + priors,), ``jacobian`` their derivatives by the parameters; ``scatter`` [-]
    is how many times greater than stated the errors are, ``errors`` [-] how many of them the
    interval takes in.
    """

    model: ReadingModel
    parameters: Array
    counts: Bools
    residuals: Array
    jacobian: Array

    @cached_property
    def covariance(self) -> Array:
        """Of the parameters, with the errors as stated."""
        used = self.jacobian[self._used]
        return np.asarray(np.linalg.inv(used.T @ used + _UNTOLD * np.eye(used.shape[1])))

    @property
    def _used(self) -> Bools:
        priors = np.ones(self.residuals.size - self.counts.size, dtype=bool)
        return np.concatenate([self.counts, priors])

    @property
    def freedom(self) -> int:
        """Readings that count, less what is found from them alone."""
        return int(self.counts.sum()) - self.model.weights - self.model.reads_slip

    @property
    def cost(self) -> float:
        """Sum of squares of what counts."""
        return float(np.sum(self.residuals[self._used] ** 2))

    @cached_property
    def scatter(self) -> float:
        """How many times greater than stated the errors are; 1 where chance may explain it."""
        if self.freedom < 1 or chdtrc(self.freedom, self.cost) > _SELDOM:
            return 1.0
        return math.sqrt(self.cost / self.freedom)

    @property
    def errors(self) -> float:
        """How many stated standard deviations the interval takes in on either side."""
        if self.scatter > 1.0:
            return float(self.scatter * stdtrit(self.freedom, 0.5 + 0.5 * CONFIDENCE))
        return math.sqrt(chdtri(1, 1.0 - CONFIDENCE))

    @property
    def worst(self) -> float:
        """How far the reading that counts and disagrees most is off."""
        return float(np.max(self.off[: self.counts.size], where=self.counts, initial=0.0))

    @cached_property
    def off(self) -> Array:
        """Each residual over what it may be, by its own error and by what the others leave open."""
        rows, used = self.jacobian, self._used
        spread = np.einsum("ij,jk,ik->i", rows, self.covariance, rows)
        with np.errstate(divide="ignore", invalid="ignore"):
            off = np.abs(self.residuals) / np.sqrt(np.where(used, 1.0 - spread, 1.0 + spread))
        # What nothing else tells about can be as far off as it likes.
        return np.where(used & (spread > 1.0 - _NOTHING_ELSE), 0.0, off)


_NOTHING_ELSE = 1e-6
# What nothing tells about is known to 1e4, of any parameter.
_UNTOLD = 1e-8


class _Problem:
    """Residuals and their derivatives; both are found together, and the last are kept."""

    def __init__(self, model: ReadingModel) -> None:
        self.model = model
        self._at: bytes = b""
        self._found: tuple[Array, Array] = np.zeros(0), np.zeros((0, 0))

    def both(self, parameters: Array) -> tuple[Array, Array]:
        key = parameters.tobytes()
        if key != self._at:
            model = self.model
            predicted, slopes = model.predicted(parameters)
            priors = np.eye(model.size)[model.weights :]
            residuals = np.r_[(predicted - model.read) / model.errors, parameters[model.weights :]]
            self._found = residuals, np.vstack([slopes / model.errors[:, np.newaxis], priors])
            self._at = key
        return self._found

    def fitted(
        self,
        start: Array,
        counts: Bools,
        fixed: tuple[int, float] | None = None,
        most: int = _MOST_STEPS,
    ) -> Array:
        """Parameters of plain least squares with the readings that count, one perhaps fixed."""
        used = np.r_[counts, np.ones(self.model.size - self.model.weights, dtype=bool)]
        free = np.ones(self.model.size, dtype=bool)
        parameters = start.copy()
        if fixed is not None:
            free[fixed[0]], parameters[fixed[0]] = False, fixed[1]

        def whole(x: Array) -> Array:
            parameters[free] = x
            return parameters

        solution = least_squares(
            lambda x: self.both(whole(x))[0][used],
            parameters[free],
            lambda x: self.both(whole(x))[1][np.ix_(used, free)],
            method="lm" if used.sum() >= free.sum() else "trf",
            xtol=1e-5,
            ftol=1e-5,
            gtol=1e-5,
            max_nfev=most,
        )
        return whole(solution.x).copy()

    def best(self, start: Array, counts: Bools, most: int = _MOST_STEPS) -> Estimate:
        """The fit of the readings that count."""
        return self.estimate(self.fitted(start, counts, most=most), counts)

    def estimate(self, parameters: Array, counts: Bools) -> Estimate:
        residuals, jacobian = self.both(parameters)
        return Estimate(self.model, parameters, counts, residuals, jacobian)


def estimated(model: ReadingModel) -> tuple[Estimate, ...]:
    """Fits of a model's readings, the best first, all of which are about as likely.

    There are several only where readings disagree and do not say which of them is off.
    """
    problem = _Problem(model)
    every = np.ones(len(model.readings), dtype=bool)
    scan = _Scan.of(model)
    plain = min((problem.best(start, every) for start in scan.starts(every)), key=_score)
    if plain.freedom < 1 or plain.worst <= SUSPECT:
        return (plain,)
    allowed = max(1, int(_MOST_SUSPECT * every.size))
    others = [~left_out for left_out in _that_may_be_off(model)]
    others.sort(key=lambda counts: float(np.min(scan.costs(counts))))
    found = [
        problem.best(start, counts, _FEW_STEPS)
        for counts in others[:_LIKELY]
        for start in scan.starts(counts)[:2]
    ]
    robust = _robust(problem, scan.starts(every)[0])
    counts = _belong(problem.estimate(robust, every))
    if 1 < np.sum(~counts) <= allowed:
        found.append(problem.best(robust, counts))
    found = [
        problem.best(one.parameters, one.counts) for one in sorted(found, key=_score)[:_LIKELY]
    ]
    best = min(found, key=_score)
    if best.worst > SUSPECT and allowed > 1:
        found = [_without_suspects(problem, best, allowed)]
        best = found[0]
    if best.worst > SUSPECT:  # as many disagree as agree: errors are greater than stated
        return (plain,)
    alike = [one for one in found if one.worst <= SUSPECT and _score(one) <= _score(best) + _ALIKE]
    return tuple(sorted(alike, key=_score))


def again(near: Estimate, model: ReadingModel) -> Estimate:
    """The fit of another model of the same readings, from one that is near."""
    return _Problem(model).best(near.parameters, near.counts)


def _score(one: Estimate) -> float:
    """Cost of what counts, of what does not, and of a belt far from what is known of it."""
    belt = one.model.solved.mount.scenario.belt
    known = _ERRORS / math.log(max(belt.stiffness_factor, _LEAST_FACTOR))
    left_out = one.model.setting[~one.counts]
    # Turns that were miscounted put all readings of one setting off.
    alone = np.sum(left_out < 0) + np.unique(left_out[left_out >= 0]).size
    apart = SUSPECT**2 * float(alone) + float(left_out.size)
    return one.cost + (known * float(one.parameters[0])) ** 2 + apart


def _that_may_be_off(model: ReadingModel) -> Iterator[Bools]:
    """Each reading alone, and all readings of one setting."""
    yield from np.eye(len(model.readings), dtype=bool)
    for setting in range(model.size - model.first_setting):
        same = model.setting == setting
        if 1 < same.sum() < same.size - 1:
            yield same


class _Scan(Record):
    """Losses of the readings for many belts and zeros (belts, zeros, n), as far as they matter.

    The turns' errors are among those of the readings.
    """

    model: ReadingModel
    zeros: Array
    losses: Array

    @classmethod
    def of(cls, model: ReadingModel) -> _Scan:
        solved, turns = model.solved, model.turns
        last = solved.turns_at(solved.travel.tight_end)
        first, most = float(np.nanmin(turns)), float(np.nanmax(turns))
        before = first - np.geomspace(min(0.05, 0.01 * last), last, _ZEROS)[::-1]
        zeros = np.r_[before, np.linspace(first, most, 9)[:-1]]
        made = turns - zeros[:, np.newaxis]
        error = max(solved.mount.scenario.limits.turn_error, 1e-6)
        times = np.ones((_STARTS.size, 1))
        belts = solved.mount.scenario.belt.stiffness * _STARTS[:, np.newaxis]
        many = model.repeated(2 * zeros.size)
        made = np.concatenate([made, made + error]).reshape(1, -1)
        read = many.scaled(many.readings_at(belts, times, 0.0 * times, made))
        read = read.reshape(_STARTS.size, 2, zeros.size, turns.size)
        here, beyond = read[:, 0], read[:, 1]
        tips = model.of[ReadingMethod.TIP]
        here[..., tips] = model.read[tips]
        errors = np.hypot(model.errors, np.where(model.setting >= 0, beyond - here, 0.0))
        errors[..., model.of[ReadingMethod.SLIP]] += 1.0  # what is open of traction
        return cls(model, zeros, np.log1p(np.square((here - model.read) / errors) / 4.0))

    def costs(self, counts: Bools) -> Array:
        """Loss of the readings that count (belts, zeros)."""
        return np.asarray(np.sum(self.losses[..., counts], axis=-1))

    def starts(self, counts: Bools) -> list[Array]:
        """The best places, far from each other, for the readings that count."""
        costs, starts = self.costs(counts), []
        for _ in range(_TRIED):
            belt, zero = np.unravel_index(np.argmin(costs), costs.shape)
            start = np.zeros(self.model.size)
            start[0], start[self.model.zeros] = math.log(_STARTS[belt]), self.zeros[zero]
            starts.append(start)
            costs[max(belt - 2, 0) : belt + 3, max(zero - 6, 0) : zero + 7] = np.inf
        return starts


def _robust(problem: _Problem, start: Array) -> Array:
    """Belt, zeros, weights and creep with a loss that large residuals hardly add to (Cauchy's).

    The turns' errors are among those of the readings.
    """
    model = problem.model
    few, priors = model.first_setting, model.first_setting - model.weights
    by_turns = problem.both(start)[1][: len(model.readings), few:]
    errors = np.r_[np.sqrt(1.0 + np.sum(by_turns**2, axis=1)), np.ones(priors)]
    used = len(model.readings) + priors

    def whole(x: Array) -> Array:
        return np.concatenate([x, start[few:]])

    def loss(squares: Array) -> Array:
        found = np.vstack([squares, np.ones_like(squares), np.zeros_like(squares)])
        z = squares[:-priors] / 4.0
        found[:, :-priors] = 4.0 * np.log1p(z), 1.0 / (1.0 + z), -0.25 / (1.0 + z) ** 2
        return found

    solution = least_squares(
        lambda x: problem.both(whole(x))[0][:used] / errors,
        start[:few],
        lambda x: problem.both(whole(x))[1][:used, :few] / errors[:, np.newaxis],
        loss=loss,
        x_scale="jac",
        xtol=1e-4,
        ftol=1e-4,
        gtol=1e-4,
        max_nfev=30,
    )
    return whole(solution.x)


def _belong(at: Estimate) -> Bools:
    """Readings that a robust fit comes near to, the turns' errors among those of the readings."""
    model = at.model
    count = len(model.readings)
    by_turns = at.jacobian[:count, model.first_setting :]
    off = np.abs(at.residuals[:count]) / np.sqrt(1.0 + np.sum(by_turns**2, axis=1))
    belong: Bools = off <= SUSPECT
    return belong


def _without_suspects(problem: _Problem, best: Estimate, allowed: int) -> Estimate:
    """Leave out what disagrees most, one by one, and take back what agrees after all."""
    for _ in range(2 * allowed):
        off, counts = best.off[: best.counts.size], best.counts.copy()
        cleared = ~counts & (off < _CLEARED)
        if np.any(cleared):
            counts |= cleared
        elif best.worst > SUSPECT and np.sum(~counts) < allowed:
            counts[np.argmax(np.where(counts, off, 0.0))] = False
        else:
            break
        best = problem.best(best.parameters, counts)
    return best


def interval(fits: Sequence[Estimate], index: int) -> Interval | None:
    """Where one parameter lies by all fits that are about as likely, with the best fit's value.

    Of the best by its profile, of the others by their covariance, where they tell it at all.
    """
    best = _interval(fits[0], index)
    if best is None:
        return None
    low, high = best.low, best.high
    for other in fits[1:]:
        value = float(other.parameters[index])
        half = other.errors * math.sqrt(other.covariance[index, index])
        if half < FARTHEST:
            low, high = min(low, value - half), max(high, value + half)
    return Interval(best.value, low, high)


def _interval(best: Estimate, index: int) -> Interval | None:
    """Where one parameter lies: by its profile, all others fitted anew at either end.

    None where an end lies beyond all that is known of belts.
    """
    problem, value = _Problem(best.model), float(best.parameters[index])
    spread = math.sqrt(best.covariance[index, index])
    solved = best.model.solved
    most = FARTHEST
    if 0 < index < best.model.weights:
        most = solved.turns_at(solved.travel.tight_end)
    along = best.covariance[:, index] / best.covariance[index, index]
    ends = []
    for side in (-1.0, 1.0):
        step, low, high = min(best.errors * spread, most), (0.0, 0.0), None
        for _ in range(12):
            at = problem.fitted(
                best.parameters + along * side * step, best.counts, (index, value + side * step)
            )
            rise = math.sqrt(max(problem.estimate(at, best.counts).cost - best.cost, 0.0))
            if abs(rise - best.errors) <= _NEAR_ENOUGH * best.errors:
                break
            if rise < best.errors:
                low = step, rise
            else:
                high = step, rise
            if high is None:
                if step > most:
                    return None
                step *= min(max(best.errors / max(rise, 1e-9), 1.1), 3.0)
            else:
                share = (best.errors - low[1]) / (high[1] - low[1])
                step = low[0] + min(max(share, 0.1), 0.9) * (high[0] - low[0])
        ends.append(value + side * step)
    return Interval(value, ends[0], ends[1])
