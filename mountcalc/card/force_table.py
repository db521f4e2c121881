"""What a belt set by a force table of the trade would do to this mount."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from mountcalc.card.results import StrandTest, TableComparison, TableSetting
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import DEFLECTION_RATIO, mid_span_force
from mountcalc.handbook.belts.deflection_tables import (
    force_range,
    implied_tension,
    metric_deflection,
    stretch_constant,
    table_force,
    tension_under,
)
from mountcalc.handbook.rows import INCH
from mountcalc.pages.amounts import UNITS, force_text, length_text, power_text, range_text
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Part
from mountcalc.requirements.setting import NO_ADJUSTER
from mountcalc.requirements.window import first_reach
from mountcalc.scenario.model import Display, Scenario
from mountcalc.units import si_factor

__all__ = ["NEEDED_NEW", "NEEDED_USED", "compare_with_table", "table_at_large"]

_POUND = si_factor("lbf")
NEEDED_USED = (2.087 * _POUND, 2.252 * _POUND)
"""Deflection force [N] by the trade's formula with its two coefficients, 15 and 16.5."""
NEEDED_NEW = (2.944 * _POUND, 3.190 * _POUND)
"""The same of a new belt, half as tight again."""

_NO_ROW = (
    'it has no row for section "{section}" on a {size} pulley at {rpm:.0f} rpm, nor has the metric '
    "table"
)
ALL_STRETCH = "this belt's stretch alone may ask for all of that force: it tells nothing here"
RIDES = "the plate rides on the belt: more turns add nothing to the {most} that weight gives"
PAST_TRAVEL = "the travel ends before that, with {most} on each strand"


def table_at_large(display: Display) -> str:
    """What the force tables ask for over what a drive needs, on one drive of our own."""
    small, rpm = 3.0 * INCH, 1750.0
    common, gentle = table_force("A", small, rpm), force_range("A", small)
    assert common is not None
    assert gentle is not None
    unit = UNITS[display].force
    size = si_factor(unit)

    def force(low: float, high: float | None = None) -> str:
        return range_text(low / size, (low if high is None else high) / size, unit)

    return (
        "Common force tables know section, pulley and speed, but not the load, and are at the high "
        "end on purpose. Take a drive of our own example: two A belts that carry "
        f"{power_text(3.0 * si_factor('hp'), display)} of design power from "
        f"{length_text(small, display)} to {length_text(9.0 * INCH, display)} pulleys, "
        f"{length_text(20.0 * INCH, display)} apart, at {rpm:.0f} rpm. At 1/64 of the span the "
        f"common table has {force(common.used)} on a belt that has run and {force(common.new)} on "
        f"a new one. The load asks for {force(*NEEDED_USED)} and {force(*NEEDED_NEW)} by the "
        "trade's formula (common practice; its constants for the belt's mass, M, and stretch, Y, "
        "are from memory): the table has some 1.8 times as much, and up to about twice the pull on "
        "the shaft. A compressor manual of 2008 is gentler, with "
        f"{force(gentle.least, gentle.greatest)} and {force(gentle.initial)}. Only the two tables "
        "are printed, and what the guide that prints the first says itself: where the pull on the "
        "shaft counts, reckon from the load. The rest is reckoned here."
    )


@dataclass(frozen=True, slots=True)
class _Reading:
    """What a table asks for: forces [N] at span/64 of one belt, ``new`` None where it is left out.

    ``constant`` [N] is what the stretch adds to the tension in that test.
    """

    row: str
    source: str
    used: float
    new: float | None
    constant: float
    stretch: str


def compare_with_table(
    requirements: Requirements, bedded: StrandTest, new: StrandTest | None
) -> TableComparison:
    """Set the mount by a force table, and see what becomes of it.

    Notes
    -----
    A table's force is read as that of a belt that does not creep, T = 16 P - Y, which gives the
    least tension that it can stand for. Where no Y is known, EA/2048 of the belt itself is taken.
    The metric table's deflection is one of every age of belt, compared with the bedded-in setting.
    """
    scenario = requirements.scenario
    section = scenario.belt.section
    if section is None:
        return _nothing(scenario, "the belt's section is not named")
    radius, speed = _small_pulley(scenario)
    rpm = speed * 60.0 / (2.0 * math.pi)
    reading = _common(scenario, section, 2.0 * radius, rpm)
    if reading is None:
        reading = _metric(scenario, section, 2.0 * radius, bedded.span)
    if reading is None:
        size = length_text(2.0 * radius, scenario.display)
        return _nothing(scenario, _NO_ROW.format(section=section, size=size, rpm=rpm))
    return TableComparison(
        published=table_at_large(scenario.display),
        row=reading.row,
        why_not=None,
        source=reading.source,
        stretch=reading.stretch,
        bedded=_by_table(requirements, reading.used, reading.constant, bedded),
        new=None
        if reading.new is None
        else _by_table(requirements, reading.new, reading.constant, bedded if new is None else new),
    )


def _nothing(scenario: Scenario, why: str) -> TableComparison:
    return TableComparison(table_at_large(scenario.display), None, why, None, None, None, None)


def _common(scenario: Scenario, section: str, diameter: float, rpm: float) -> _Reading | None:
    """What the common table asks for."""
    found = table_force(section, diameter, rpm)
    if found is None:
        return None
    row = f"common table, {found.name}, {_sizes(scenario, found.diameters)}, "
    row += f"{_ends(found.rpm, '{:.0f}'.format)} rpm"
    return _Reading(row, found.source, found.used, found.new, *_stretch(scenario, section))


def _metric(scenario: Scenario, section: str, diameter: float, span: float) -> _Reading | None:
    """What the metric table asks for, carried over to a deflection of 1/64 of the span."""
    found = metric_deflection(section, diameter)
    if found is None:
        return None
    radii = scenario.driven.pulley_radius - scenario.motor.pulley_radius
    ratio = found.deflection_ratio * math.hypot(span, radii) / span
    constant, stretch = _stretch(scenario, section)
    stiffness = constant / (2.0 * DEFLECTION_RATIO**2)
    tension = tension_under(found.force, ratio, stiffness)
    force = float(mid_span_force(tension, stiffness, 1.0, DEFLECTION_RATIO))
    row = (
        f"metric table, {found.name}, {_sizes(scenario, found.diameters)}, "
        f"{force_text(found.force, scenario.display)} at {100 * found.deflection_ratio:.2g} % of "
        "the centre distance, a belt of any age"
    )
    return _Reading(row, found.source, force, None, constant, stretch)


def _ends(ends: tuple[float, float], show: Callable[[float], str]) -> str:
    """The ends of a row of a table."""
    low, high = ends
    return f"{show(low)} and up" if math.isinf(high) else f"{show(low)} to {show(high)}"


def _sizes(scenario: Scenario, diameters: tuple[float, float]) -> str:
    """Pulleys of a row in the units that people read."""
    return _ends(diameters, lambda size: length_text(size, scenario.display))


def _stretch(scenario: Scenario, section: str) -> tuple[float, str]:
    """What the stretch adds to the tension at span/64 [N], and where that is from."""
    datum = stretch_constant(section)
    if datum is None:
        own = "this belt's own stiffness, no constant being known for its section"
        return 2.0 * DEFLECTION_RATIO**2 * scenario.belt.stiffness, own
    return datum.value, f"{datum.source}, {datum.sure}"


def _small_pulley(scenario: Scenario) -> tuple[float, float]:
    """Pitch radius [m] and speed [rad/s] of the smaller pulley."""
    motor, driven = scenario.motor, scenario.driven
    if motor.pulley_radius <= driven.pulley_radius:
        return motor.pulley_radius, motor.speed
    return driven.pulley_radius, motor.speed * motor.pulley_radius / driven.pulley_radius


def _by_table(
    requirements: Requirements, force: float, constant: float, test: StrandTest
) -> TableSetting:
    tension = implied_tension(force, constant)
    turns, why_not = _turns_of(requirements, tension)
    at_rest = {} if turns is None else _shares_at_rest(requirements, turns)
    bearing = max(at_rest, key=lambda name: at_rest[name], default=None)
    as_set = _shares_at_rest(requirements, test.turns or 0.0)
    return TableSetting(
        table_force=force,
        table_tension=tension,
        times_tension=tension / test.tension,
        turns=turns,
        bearing=bearing,
        share_of_limit=None if bearing is None else at_rest[bearing],
        share_as_set=None if bearing is None else as_set[bearing],
        why_not=why_not,
    )


def _turns_of(requirements: Requirements, tension: float) -> tuple[float | None, str | None]:
    """Turns that give a tension at rest, or why none do."""
    if tension <= 0:
        return None, ALL_STRETCH
    if not requirements.solved.mount.has_adjuster:
        return None, NO_ADJUSTER
    last = requirements.last_turn
    turns = first_reach(lambda turn: np.nan_to_num(requirements.tension(turn)) / tension, last)
    if turns is not None:
        return turns, None
    way = requirements.solved
    end = way.case(way.place(np.array([last])), way.demands["rest"], with_grip=False)
    most = force_text(float(np.nan_to_num(end.tension[0])), requirements.scenario.display)
    return None, (RIDES if end.state[0] == State.RIDING else PAST_TRAVEL).format(most=most)


def _shares_at_rest(requirements: Requirements, turns: float) -> dict[str, float]:
    """What each bearing has of its limit at rest [-], where that has an end."""
    shares = requirements.shares(np.array([turns]))
    at_rest = {
        limited.name: float(share[0])
        for limited, share in shares.items()
        if limited.case == "rest" and limited.part is Part.BEARING
    }
    return at_rest if all(map(math.isfinite, at_rest.values())) else {}
