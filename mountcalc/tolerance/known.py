"""How well a mount is made and known, where its scenario leaves that to other keys."""

from __future__ import annotations

from dataclasses import replace

from mountcalc.handbook.belts.lengths import length_tolerance, named_length
from mountcalc.handbook.belts.sections import Joint
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import Datum
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.workmanship import Workmanship

_SHARE = 0.01  # of its length: metric belts' tolerance, taken for all that have none published


def known(scenario: Scenario) -> Workmanship:
    """Return how well a scenario's mount is made and known, with nothing left to other keys."""
    build, coil = scenario.build, scenario.adjuster.coil
    taken = {
        "belt_length": belt_tolerance(scenario).value,
        "weights": scenario.motor.weight_error,
        "stiffness_factor": scenario.belt.stiffness_factor,
        "turn_error": scenario.limits.turn_error,
        "spring_rate": 0.0 if coil is None else coil.rate_error,
    }
    return replace(
        build, **{name: value for name, value in taken.items() if getattr(build, name) is None}
    )


def belt_tolerance(scenario: Scenario) -> Datum:
    """Return how far a new belt is off its length, either way [m], and who says so.

    Of a tolerance that is not the same both ways it is the larger; a belt that is closed where it
    lies has none published.
    """
    belt = scenario.belt
    bought = belt.designation
    if bought is None and v_section(belt.section or "") is not None:
        bought = named_length(belt.section or "", belt.length)
    found = None if bought is None or belt.joint is not Joint.ENDLESS else length_tolerance(bought)
    if found is None:
        return Datum(_SHARE * belt.length, "1 % of its length", "estimate")
    return Datum(max(found.short, found.long), found.source, found.sure)
