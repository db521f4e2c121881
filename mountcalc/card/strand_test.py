"""How one strand of one belt feels under the thumb and sounds when plucked, at one setting."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.card.results import Deflection, Gives, StrandTest, Timing
from mountcalc.equilibrium.solve import CaseSolution, SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import (
    DEFLECTION_RATIO,
    coarsest_that_tells,
    mid_span_force,
    span_frequency,
    string_force,
)
from mountcalc.handbook.rows import load
from mountcalc.scenario.model import Belt, Scenario

__all__ = ["strand_test", "timing_of"]


def strand_test(
    solved: SolvedMount,
    turns: float | None,
    rest: CaseSolution,
    index: int,
    over: int | None = None,
) -> StrandTest | None:
    """Work out the hand's tests where the plate is at rest."""
    tension, scenario = float(rest.tension[index]), solved.mount.scenario
    if not math.isfinite(tension) or tension <= 0:
        return None
    belt = scenario.belt
    path = solved.mount.path(rest.phi[index : index + 1])
    span = float(np.sqrt(path.span_squared[0]))
    gives = _gives(scenario, str(rest.state[index]))
    stiffest = 0.0 if gives is Gives.WHOLLY else belt.stiffness * belt.stiffness_factor
    ratio, tells = coarsest_that_tells(tension, stiffest, 1.0)
    if over is not None:
        ratio = 1.0 / over
    frequency = float(span_frequency(tension, belt.mass, span)) if belt.mass > 0 else None
    return StrandTest(
        turns=turns,
        tension=tension,
        span=span,
        gives=gives,
        usual=_deflection(belt, tension, span, DEFLECTION_RATIO, gives),
        finer=None if ratio == DEFLECTION_RATIO else _deflection(belt, tension, span, ratio, gives),
        tells=tells,
        span_frequency=frequency,
        timing=None if frequency is None else timing_of(frequency),
    )


def _gives(scenario: Scenario, state: str) -> Gives:
    """Whether the plate gives way: riding it does, on a spring somewhat."""
    if state != State.HELD:
        return Gives.WHOLLY
    return Gives.NOT if scenario.adjuster.spring is None else Gives.PARTLY


def _deflection(belt: Belt, tension: float, span: float, ratio: float, gives: Gives) -> Deflection:
    """The force of one deflection, over the belt's stiffness and over how far it creeps."""
    factor = belt.stiffness_factor
    spread = span / belt.length if gives is Gives.NOT else 0.0
    fixed = 0.0 if gives is Gives.WHOLLY else 1.0

    def force(stiffness: float, share: float) -> float:
        if share == 0.0:
            return float(string_force(tension, ratio))
        return float(mid_span_force(tension, stiffness, share, ratio))

    return Deflection(
        span_over_deflection=round(1.0 / ratio),
        deflection=span * ratio,
        force_low=force(belt.stiffness / factor, spread),
        force_creeping=force(belt.stiffness, spread),
        force_not_creeping=force(belt.stiffness, fixed),
        force_high=force(belt.stiffness * factor, fixed),
    )


def timing_of(frequency: float) -> Timing:
    """By what the swings of a span can be told."""
    facts = load("bench_card")
    if frequency <= facts["counted"]["most_Hz"]:
        return Timing.COUNT
    return Timing.FILM if frequency < facts["heard"]["least_Hz"] else Timing.MICROPHONE
