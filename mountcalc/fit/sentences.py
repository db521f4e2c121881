"""What a fit says in words: which readings disagree, and what these readings cannot tell."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from mountcalc.fit.least_squares.estimate import Estimate
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.results import Interval
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import Display
from mountcalc.table import words

METHOD_WORDS = {
    ReadingMethod.BALANCE: "the spring balance on the plate",
    ReadingMethod.PUSH: "a push on a strand",
    ReadingMethod.SWINGS: "the swings of a plucked strand",
    ReadingMethod.HUNG: "a weight hung on a strand",
    ReadingMethod.CENTRES: "the tape from shaft to shaft",
    ReadingMethod.TIP: "the calliper on the adjuster",
    ReadingMethod.SPRING: "the length of the spring",
}
# A correlation from which on two things read nearly alike.
_ALIKE = 0.9
_NARROWED = 0.7
_NOTHING = 1e-6


def reading_text(method: ReadingMethod, value: float, display: Display) -> str:
    """What a method read, in the units of display."""
    if method is ReadingMethod.SWINGS:
        return f"{value:.3g} Hz"
    return method.kind.text(value, display)


def where(reading: Reading) -> str:
    """At which turns, in words."""
    return (
        "with the belt slack"
        if reading.turns is None
        else f"at {words.counted_turns(reading.turns)}"
    )


def notes_of(fits: Sequence[Estimate]) -> tuple[str, ...]:
    """Which readings disagree, and whether errors are greater than stated."""
    best, notes = fits[0], []
    model, display = best.model, best.model.solved.mount.scenario.display
    fitted = model.unscaled(model.predicted(best.parameters)[0])
    for row in np.flatnonzero(~best.counts):
        one = model.readings[row]
        if abs(fitted[row]) < _NOTHING * abs(one.value):  # what rounding leaves of a slack belt
            fitted[row] = 0.0
        read, wanted = (
            reading_text(one.method, value, display) for value in (one.value, fitted[row])
        )
        cure = "read it again"
        if one.method is ReadingMethod.SLIP:  # which nobody is to try for
            cure = "check its power and turns"
        notes.append(
            f"Row {one.row} disagrees with the others: {one.method} {where(one)} reads {read} "
            f"where {wanted} is expected. It is left out of the fit; {cure}."
        )
    others = sorted({int(row) for fit in fits[1:] for row in np.flatnonzero(~fit.counts)})
    others = [model.readings[row].row for row in others if best.counts[row]]
    if others:
        notes.append(
            f"It may as well be row {listed(map(str, others))} that is off: all here allows for "
            "either. Read these again."
        )
    if best.scatter > 1.0:
        notes.append(
            f"The readings scatter {best.scatter:.1f} times as much as their errors in [limits] "
            "say; what is told is that much wider."
        )
    return tuple(notes)


def what_cannot_be_told(best: Estimate, traction: Interval | None) -> tuple[str, ...]:
    """What these readings leave open."""
    model, spread, said = best.model, best.covariance, []
    zero = model.zeros.stop - 1
    correlation = spread[0, zero] / math.sqrt(spread[0, 0] * spread[zero, zero])
    if abs(correlation) > _ALIKE:
        said.append(
            "A stiffer belt that becomes snug later would read nearly the same: readings further "
            "apart in turns tell stiffness from zero."
        )
    error = model.solved.mount.scenario.motor.weight_error
    if model.weights_error and spread[model.weights, model.weights] > _NARROWED**2:
        cure = " The spring balance with the belt slack tells it."
        if any(one.turns is None for one in model.readings):
            cure = " The spring balance hardly feels them here."
        said.append(
            f"What motor and plate weigh: taken as the scenario says, within {error:.0%}.{cure}"
        )
    if not model.give:
        said.append(
            "How far plate and bolt give: the fitted stiffness has it in it. The distance of the "
            "shafts, read at several turns, would tell it apart where it is more than the tape's "
            "error."
        )
    if model.coil is not None:
        share = model.coil.rate_error
        said.append(f"The spring's rate: taken as the scenario says, within {share:.0%}.")
    if traction is None:
        said.append("Traction: only a load at which the belt slips tells it.")
    if len({one.date for one in model.readings} | {None}) > 2 and zero == 1:  # noqa: PLR2004
        said.append("What the belt lost from one date to the next: each date has too few readings.")
    return tuple(said)
