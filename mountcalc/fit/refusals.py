"""Logs that cannot be fitted, each with its reason in one line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.errors import Problem, ScenarioError
from mountcalc.fit.least_squares.model import SHARES, ReadingModel, level_of, lever_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.results import FittedReading
from mountcalc.pages.amounts import LENGTH, turns_text
from mountcalc.scenario.model import AdjusterKind, Coil, Scenario
from mountcalc.table import words
from mountcalc.thresholds import ROUNDING

# Of what has a spread of so many standard deviations, one in 400 is further off.
_BEYOND_CHANCE = 3.0
# A push is a string's only where it is shallow; a weight stays where it hangs on a strand that is
# no steeper than 60 degrees (estimates).
_DEEPEST, _STEEPEST = 0.1, 0.5
# Share of a load that slipped, below which the fitted belt carries none.
_NO_LOAD = 0.01
_TELL_TENSION = (
    ReadingMethod.BALANCE,
    ReadingMethod.PUSH,
    ReadingMethod.SWINGS,
    ReadingMethod.HUNG,
    ReadingMethod.SPRING,
)
# A tighter strand sags less, and a spring that is pressed in more is shorter.
_FALLS = (ReadingMethod.HUNG, ReadingMethod.SPRING)


class FitError(ScenarioError):
    """Readings that cannot be fitted, in one line: file, row and what is wrong."""

    def __init__(self, source: str, text: str, row: int | None = None) -> None:
        super().__init__(source, [Problem("", text, row)])


def refuse_rows(
    solved: SolvedMount, readings: Sequence[Reading], source: str, coil: Coil | None = None
) -> None:
    """FitError for the first row that says nothing about this mount."""
    for reading in readings:
        why = _why_useless(solved, reading) or _why_no_spring(reading, coil)
        if why:
            raise FitError(source, why, reading.row)


def _why_useless(solved: SolvedMount, reading: Reading) -> str:
    method, at, value = reading.method, reading.at, reading.value
    span = math.sqrt(float(solved.mount.path(solved.travel.snug).span_squared))
    numbers = [one for one in (reading.turns, value, at) if one is not None]
    signed = method in (ReadingMethod.BALANCE, ReadingMethod.TIP)
    lever = lever_of(solved) if at is None else at
    faults = {
        "finite numbers are wanted": not all(map(math.isfinite, numbers)),
        "with the belt slack only a balance says something": reading.turns is None
        and method is not ReadingMethod.BALANCE,
        "the balance has no lever on the hinge; a distance above zero is wanted as at": (
            method is ReadingMethod.BALANCE and not lever > 0
        ),
        f"{method} is above zero, got {value:g}": not signed and value <= 0,
        f"{method} wants its at, above zero": method.needs_at and (at is None or at <= 0),
        f"so deep a push is no string's any more; at most a tenth of the span of "
        f"{LENGTH.text(span, solved.mount.scenario.display)} is wanted": (
            method is ReadingMethod.PUSH and lever > _DEEPEST * span
        ),
        "on strands steeper than 60 degrees a weight slides down; push them instead": (
            method is ReadingMethod.HUNG and level_of(solved) < _STEEPEST
        ),
        "swings tell nothing without the belt's mass (belt.mass)": (
            method is ReadingMethod.SWINGS and solved.mount.scenario.belt.mass <= 0
        ),
    }
    return next((text for text, holds in faults.items() if holds), "")


def _why_no_spring(reading: Reading, coil: Coil | None) -> str:
    """Why a length says nothing of a coil spring."""
    if reading.method is not ReadingMethod.SPRING:
        return ""
    if coil is None:
        return "this mount has no spring to measure ([adjuster.spring])"
    free = coil.free_length if reading.at is None else reading.at
    if reading.value > free + _BEYOND_CHANCE * coil.length_error:
        return "a spring that is pressed is shorter than under no load (at, or free_length)"
    return ""


def refuse_log(model: ReadingModel, source: str) -> None:
    """FitError where readings are too few, or contradict each other or the mount."""
    telling = [
        one for one in model.readings if one.turns is not None and one.method in _TELL_TENSION
    ]
    wanted = "two readings of the tension at different turns are wanted at least"
    if len(telling) < 2:  # noqa: PLR2004
        raise FitError(source, f"too few readings: {wanted}, got {len(telling)}")
    turns = {one.turns for one in telling}
    if len(turns) == 1:
        raise FitError(
            source,
            f"all readings of the tension were at {words.counted_turns(telling[0].turns)}: "
            f"{wanted}, for stiffness and zero cannot be told apart at one",
        )
    solved, counted = model.solved, model.turns[model.loaded]
    travel = solved.turns_at(solved.travel.tight_end) - solved.turns_at(solved.travel.slack_end)
    error = solved.mount.scenario.limits.turn_error
    if float(np.ptp(counted)) > travel + _BEYOND_CHANCE * error:
        raise FitError(
            source,
            f"turns: {np.min(counted):g} to {np.max(counted):g} are {np.ptp(counted):g} turns; "
            f"the travel has {travel:.1f}",
        )
    _refuse_wrong_sign(model, source)
    _refuse_falling(model, source)


def _refuse_falling(model: ReadingModel, source: str) -> None:
    """Where more pairs of like readings fall than rise as the bolt tightens.

    Not where one reading alone makes it so: that one is found as the suspect.
    """
    signs, pairs = [], []
    errors = {one.row: error for one, error in zip(model.readings, model.errors, strict=True)}
    for one, other in _pairs(model):
        less, more = sorted((one, other), key=lambda reading: reading.turns or 0.0)
        gain = more.value - less.value
        if one.method in SHARES:
            gain = math.log(more.value / less.value)
        if one.method in _FALLS:
            gain = -gain
        if abs(gain) > _BEYOND_CHANCE * math.hypot(errors[one.row], errors[other.row]):
            signs.append(1 if gain > 0 else -1)
            pairs.append((less, more))
    rows = {one.row for pair in pairs for one in pair}
    without = [
        [sign for sign, pair in zip(signs, pairs, strict=True) if row not in {p.row for p in pair}]
        for row in rows
    ]
    if sum(signs) < 0 and not any(rest and sum(rest) > 0 for rest in without):
        less, more = pairs[signs.index(-1)]
        raise FitError(
            source,
            f"the {less.method} of row {less.row} at {words.counted_turns(less.turns)} is tighter "
            f"than that of row {more.row} at {turns_text(more.turns)}, and most readings fall so; "
            "turns are counted positive the way that tightens",
        )


def _pairs(model: ReadingModel) -> Iterator[tuple[Reading, Reading]]:
    """Readings of one method, spot and session at different turns."""
    numbered = zip(model.readings, model.session.tolist(), strict=True)
    for (one, session), (other, later) in combinations(numbered, 2):
        alike = (one.method, one.at, session) == (other.method, other.at, later)
        if alike and None not in (one.turns, other.turns) and one.turns != other.turns:
            yield one, other


def _refuse_wrong_sign(model: ReadingModel, source: str) -> None:
    """Balances that read less than the slack plate can: a belt only pulls back."""
    solved, scenario = model.solved, model.solved.mount.scenario
    error, least = _BEYOND_CHANCE * scenario.limits.balance_error, []
    moment = solved.travel.tightens * float(solved.mount.weight_moment(solved.travel.snug))
    balances = [one for one in model.readings if one.method is ReadingMethod.BALANCE]
    slack = {one.at: one.value for one in balances if one.turns is None}
    for one in balances:
        lever = lever_of(solved) if one.at is None else one.at
        weights = moment / lever
        if (
            one.turns is None
            and one.value * weights < 0
            and min(abs(one.value), abs(weights)) > error
        ):
            way = "pulled the way that tightens" if weights > 0 else "held back"
            raise FitError(
                source,
                f"balance: with the belt slack this plate has to be {way}, but the reading's sign "
                "says the other; positive is a pull the way that tightens, negative holds back",
                one.row,
            )
        spare = error + _BEYOND_CHANCE * scenario.motor.weight_error * abs(weights)
        least.append(slack.get(one.at, weights) - spare)
    wrong = [one for one, low in zip(balances, least, strict=True) if one.value < low]
    if len(wrong) > 0.5 * len(balances):
        raise FitError(
            source,
            "balance: it reads less than plate and motor alone ask for, as if the belt pushed; "
            "positive is a pull the way that tightens, negative holds the plate back",
            wrong[0].row,
        )


def refuse_slip(readings: Sequence[FittedReading], source: str) -> None:
    """FitError for the first slip at turns where the fitted belt carries no load at all."""
    for one in readings:
        if one.method is ReadingMethod.SLIP and one.fitted <= _NO_LOAD * one.read:
            raise FitError(
                source,
                f"slip: at {words.counted_turns(one.turns or 0.0)} the belt has no tension by the "
                "other readings, and carries no load; check its turns",
                one.row,
            )


def refuse_adjuster(scenario: Scenario, source: str) -> None:
    """FitError where turns mean nothing."""
    if scenario.adjuster.kind is AdjusterKind.NONE:
        raise FitError(source, "this mount has no adjuster, whose turns the readings count")


def refuse_past_travel(model: ReadingModel, turns: float, zero: float, source: str) -> None:
    """FitError where the greatest turns lie past the end, with the zero that fits."""
    solved = model.solved
    last = solved.turns_at(solved.travel.tight_end)
    error = _BEYOND_CHANCE * solved.mount.scenario.limits.turn_error
    if turns - zero > last + error + ROUNDING:
        raise FitError(
            source,
            f"turns: {words.counted_turns(turns)} would be {turns - zero - last:.1f} past the end "
            f"of the travel, with zero at {zero:.2f} turns as the readings have it; check the "
            "turns and plate.travel",
        )
