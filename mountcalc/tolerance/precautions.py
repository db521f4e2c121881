"""What can be done against the errors of a build, as the errors that are left when it is done."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from mountcalc.pages.amounts import turns_text
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.workmanship import Workmanship
from mountcalc.tolerance.results import ErrorSource
from mountcalc.units import si_factor

MEASURED = si_factor("in") / 8
"""[m] What a tape along a belt, or round both pulleys, leaves open (estimate)."""
FITTED = 1.2
"""What readings at the machine leave open of the stiffness (estimate; a fit says its own)."""
WEIGHED = 0.02
"""What a scale leaves open of a weight, or of a spring's rate (estimate)."""
MORE, NARROWER = 0.02, 0.8
"""A precaution helps that wins so many more of all builds, or leaves so much of a band."""
BOLT_LAST = "bolt_last"
STOPS_WIDER = "stops_wider"
WIDER = math.radians(3.0)
"""[rad] By how much each stop of the plate is set further."""
_FACTORS = (ErrorSource.STIFFNESS, ErrorSource.TRACTION, ErrorSource.GIVE)


def halved(build: Workmanship, source: ErrorSource) -> Workmanship:
    """Return the same build with one error half as large; of a factor, half its logarithm."""
    error = getattr(build, source)
    return replace(build, **{source: math.sqrt(error) if source in _FACTORS else error / 2})


def wider(scenario: Scenario) -> Scenario:
    """Return the same mount with each stop of its plate `WIDER` further."""
    low, high = scenario.plate.travel
    travel = max(low - WIDER, -math.pi), min(high + WIDER, math.pi)
    return replace(scenario, plate=replace(scenario.plate, travel=travel))


class Way(NamedTuple):
    """A precaution: the sources that it is against, what it leaves, and how it is done."""

    against: tuple[ErrorSource, ...]
    leaves: Mapping[ErrorSource, float]
    sentence: str


def ways(scenario: Scenario, build: Workmanship, length: Callable[[float], str]) -> dict[str, Way]:
    """Return what can be done for a mount made and known so, by name; ``length`` shows lengths.

    Placing the bolt last leaves all errors as they are, but for where zero comes; wider stops do.
    """
    made = (ErrorSource.HINGE, ErrorSource.BOLT, ErrorSource.SHAFT)
    has_adjuster = scenario.adjuster.kind is not AdjusterKind.NONE
    finer = {source: getattr(build, source) / 2 for source in made}
    found = {
        "measure_belt": Way(
            (ErrorSource.BELT_LENGTH,),
            {ErrorSource.BELT_LENGTH: min(build.belt_length or 0.0, MEASURED)},
            f"Measure the belt you have to {length(MEASURED)} and draw the mount for it.",
        ),
        "fit": Way(
            (ErrorSource.STIFFNESS,),
            {ErrorSource.STIFFNESS: min(build.stiffness_factor or 1.0, FITTED)},
            f"Take readings at the machine (mountcalc fit), so that stiffness is known to "
            f"{FITTED:g} times.",
        ),
        "weigh": Way(
            (ErrorSource.WEIGHTS,),
            {ErrorSource.WEIGHTS: min(build.weights or 0.0, WEIGHED)},
            f"Weigh motor and plate to {100 * WEIGHED:g} %.",
        ),
        "mark_finer": Way(
            made,
            finer,
            f"Mark out and drill hinge, bolt and shafts to {length(max(finer.values()))}.",
        ),
        STOPS_WIDER: Way(
            (*made, ErrorSource.BELT_LENGTH),
            {},
            f"Set each stop of the plate {math.degrees(WIDER):.0f} deg further (plate.travel), "
            "where nothing is in its way.",
        ),
    }
    if has_adjuster:
        sources = (ErrorSource.HINGE, ErrorSource.SHAFT, ErrorSource.BELT_LENGTH)
        place = _PLACE[scenario.adjuster.kind]
        last = Way(
            sources,
            {},
            f"Drill the bolt last: with motor and belt on, swing the plate "
            f"until the belt is snug, then {place}.",
        )
        turns = (build.turn_error or 0.0) / 2
        count = Way(
            (ErrorSource.TURNS,),
            {ErrorSource.TURNS: turns},
            f"Mark the head and turn it to within {turns_text(turns)} turn.",
        )
        found = {BOLT_LAST: last, **found, "turn_finer": count}
    if scenario.adjuster.coil is not None:
        found["weigh_spring"] = Way(
            (ErrorSource.SPRING,),
            {ErrorSource.SPRING: min(build.spring_rate or 0.0, WEIGHED)},
            "Press the spring in with a known weight and measure it, so that its rate is known to "
            f"{100 * WEIGHED:g} %.",
        )
    return found


_PLACE = {
    AdjusterKind.JACK_IN_BASE: "drill and fix what carries it, its tip out as far as drawn",
    AdjusterKind.JACK_IN_PLATE: "fix what it bears on, its tip out as far as drawn",
    AdjusterKind.LINK: "drill for its pin in the base, the link as long as drawn",
}
