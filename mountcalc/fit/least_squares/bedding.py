"""What a belt lost as it bedded in: how far its zero moved from the first session to the last."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.fit.least_squares.estimate import Estimate
from mountcalc.fit.least_squares.model import ReadingModel
from mountcalc.fit.least_squares.sessions import time_of
from mountcalc.fit.results import Bedding, Interval
from mountcalc.pages.amounts import FORCE
from mountcalc.table import words

Array = NDArray[np.float64]

# Settings of two sessions so near each other can be compared [turns].
_COMPARABLE = 1.0
_STEP = 1e-4


def bedding_of(best: Estimate) -> Bedding | None:
    """From the first session to the last; None where there is one, or settings are far apart.

    Tensions are at the greatest turns of the last session. What is left at the next look, after as
    much time again, is between nothing more lost and as much again; belts lose the most at first
    (common practice), so half of it is reckoned with.
    """
    model = best.model
    last = model.zeros.stop - 2
    if last == 0:
        return None
    first_turns, last_turns = (model.turns[model.loaded & (model.session == n)] for n in (0, last))
    if np.min(np.abs(first_turns[:, np.newaxis] - last_turns)) > _COMPARABLE:
        return None
    turns = float(np.max(last_turns))
    (then, by_then), (now, by_now) = (_tension(best, turns, n) for n in (0, last))
    moved = np.zeros(model.size)
    moved[1 + last], moved[1] = 1.0, -1.0

    def within(value: float, slopes: Array) -> Interval:
        half = best.errors * math.sqrt(float(slopes @ best.covariance @ slopes))
        return Interval(value, value - half, value + half)

    lost = within(then - now, by_then - by_now)
    left = within(now, by_now)
    if lost.value > 0:
        again = within(now - lost.value, 2.0 * by_now - by_then)
        after = Interval(now - 0.5 * lost.value, max(again.low, 0.0), left.high)
    else:
        after = Interval(now, max(left.low + min(lost.low, 0.0), 0.0), left.high)
    elapsed, by_hours = _elapsed(model, last)
    rate = Interval(lost.value / elapsed, lost.low / elapsed, lost.high / elapsed)
    bedding = Bedding(
        dates=last + 1,
        elapsed=elapsed,
        by_hours=by_hours,
        turns=turns,
        turns_lost=within(float(moved @ best.parameters), moved),
        tension_lost=lost,
        lost_per_hour=rate if by_hours else None,
        lost_per_day=None if by_hours else rate,
        tension_now=left,
        tension_next=after,
        sentences=(),
    )
    return replace(bedding, sentences=_sentences(model, bedding, rate))


def _tension(best: Estimate, turns: float, session: int) -> tuple[float, Array]:
    """A strand's tension at turns with a session's zero [N], and its slopes by the parameters."""
    model, at = best.model, best.parameters
    stiffness, weights, _, _ = model.shares(at[np.newaxis])
    by_stiffness, by_weights, by_turns = _STEP * np.eye(4)[1:, :, np.newaxis]
    found = model.at_rest(
        stiffness * np.exp(by_stiffness),
        weights + by_weights,
        turns - at[1 + session] + by_turns,
    ).tension[:, 0]
    slopes = np.zeros(model.size)
    more = (found[1:] - found[0]) / _STEP
    slopes[0], slopes[model.weights] = more[0], model.weights_error * more[1]
    slopes[1 + session] = -more[2]
    return float(found[0]), slopes


def _elapsed(model: ReadingModel, last: int) -> tuple[float, bool]:
    """Time from the first session to the last: running hours, or days where no hours are told."""
    by_hours = any(one.hours is not None for one in model.readings)
    ends = [
        next(
            time
            for session, reading in zip(model.session.tolist(), model.readings, strict=True)
            if session == number and (time := time_of(reading)[by_hours]) is not None
        )
        for number in (0, last)
    ]
    return ends[1] - ends[0], by_hours


def _sentences(model: ReadingModel, bedding: Bedding, rate: Interval) -> tuple[str, ...]:
    """What was lost, how fast, and what is left at the next look."""
    display = model.solved.mount.scenario.display
    unit = "running hour" if bedding.by_hours else "day"
    time = f"{bedding.elapsed:g} {unit}{'' if bedding.elapsed == 1 else 's'}"
    lost, now, left = bedding.tension_lost, bedding.tension_now, bedding.tension_next
    if lost.low <= 0:
        return (
            f"In {time} the belt lost no more than the readings' errors: at most "
            f"{FORCE.text(max(lost.high, 0.0), display, 2)} on each strand at "
            f"{words.counted_turns(bedding.turns)}.",
        )
    low, high = FORCE.number(rate.low, display, 2), FORCE.text(rate.high, display, 2)
    return (
        f"In {time} its zero moved {bedding.turns_lost.value:.2f} turns: at "
        f"{words.counted_turns(bedding.turns)} a strand has {FORCE.text(now.value, display, 2)} "
        f"where it had {FORCE.text(now.value + lost.value, display, 2)}, {low} to {high} lost a "
        f"{unit}.",
        f"After {time} more at least {FORCE.text(left.low, display, 2)} are left, should it go on "
        "as fast; belts lose most at first (common practice).",
    )
