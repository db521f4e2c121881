"""What to do where no published length of belt becomes snug in the travel."""

from __future__ import annotations

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.sections import NumberOf
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.model import Display, Scenario

__all__ = ["no_length_note"]


def no_length_note(scenario: Scenario, paths: tuple[float, float]) -> tuple[str, ...]:
    """How far the mount must be moved for the published lengths on either side."""
    belts = _sold(scenario)
    shorter = [one for one in belts if one.pitch_length < paths[0]]
    longer = [one for one in belts if one.pitch_length > paths[1]]
    ways = [
        *(_way(scenario, one, paths[0], "shorter", "nearer to") for one in shorter[-1:]),
        *(_way(scenario, one, paths[1], "longer", "further from") for one in longer[:1]),
    ]
    if not ways:
        return ()
    return (
        f"The nearest published lengths: {'; '.join(ways)}. That is where it is just snug at the "
        "end of the travel: add the room to slip it on and to take it up, or give the plate more "
        "travel.",
    )


def _sold(scenario: Scenario) -> list[Designation]:
    """Lengths that go round both pulleys; in an inch shop those in inches, where there are any."""
    least = float(least_length(scenario.motor.pulley_radius, scenario.driven.pulley_radius))
    every = [one for one in series(scenario.belt.section or "") if one.pitch_length > least]
    inch = [one for one in every if one.measures is not NumberOf.DATUM]
    return inch if inch and scenario.display is Display.INCH else every


def _way(scenario: Scenario, belt: Designation, path: float, size: str, way: str) -> str:
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    now, then = (float(center_distance(one, *radii)) for one in (path, belt.pitch_length))
    off, move = (
        length_text(abs(amount), scenario.display)
        for amount in (belt.pitch_length - path, then - now)
    )
    return (
        f"{belt.text}, {off} {size}, would want motor, hinge and adjuster {move} {way} the driven "
        "shaft"
    )
