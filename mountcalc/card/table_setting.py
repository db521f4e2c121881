"""What a belt set by a force table of the trade would do to this mount."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.card.results import StrandTest, TableComparison, TableSetting
from mountcalc.card.table_example import table_at_large
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import DEFLECTION_RATIO
from mountcalc.formulas.belt_feel import mid_span_force
from mountcalc.handbook.belts.deflection_tables import (
    implied_tension,
    metric_deflection,
    stretch_constant,
    table_force,
    tension_under,
)
from mountcalc.pages.amounts import force_text, length_text
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Part
from mountcalc.requirements.setting import NO_ADJUSTER
from mountcalc.requirements.window import first_reach
from mountcalc.scenario.model import Scenario

__all__ = ["compare_with_table"]

NO_SECTION = "the belt's section is not named"
NO_ROW = (
    'it has no row for section "{section}" on a {size} pulley at {rpm:.0f} rpm, nor has the metric '
    "table"
)
ALL_STRETCH = "this belt's stretch alone may ask for all of that force: it tells nothing here"
RIDES = "the plate rides on the belt: more turns add nothing to the {most} that weight gives"
PAST_TRAVEL = "the travel ends before that, with {most} on each strand"
OWN_STIFFNESS = "this belt's own stiffness, no constant being known for its section"


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
    promises: Promises, bedded: StrandTest, new: StrandTest | None
) -> TableComparison:
    """Set the mount by a force table, and see what becomes of it.

    Notes
    -----
    A table's force is read as that of a belt that does not creep, T = 16 P - Y, which gives the
    least tension that it can stand for. Where no Y is known, EA/2048 of the belt itself is taken.
    The metric table's deflection is one of every age of belt, compared with the bedded-in setting.
    """
    scenario = promises.scenario
    section = scenario.belt.section
    if section is None:
        return _nothing(scenario, NO_SECTION)
    radius, speed = _small_pulley(scenario)
    rpm = speed * 60.0 / (2.0 * math.pi)
    reading = _common(scenario, section, 2.0 * radius, rpm)
    if reading is None:
        reading = _metric(scenario, section, 2.0 * radius, bedded.span)
    if reading is None:
        size = length_text(2.0 * radius, scenario.display)
        return _nothing(scenario, NO_ROW.format(section=section, size=size, rpm=rpm))
    used, for_new, constant = reading.used, reading.new, reading.constant
    tighter = bedded if new is None else new
    return TableComparison(
        published=table_at_large(scenario.display),
        row=reading.row,
        why_not=None,
        source=reading.source,
        stretch=reading.stretch,
        bedded=_by_table(promises, used, constant, bedded),
        new=None if for_new is None else _by_table(promises, for_new, constant, tighter),
    )


def _nothing(scenario: Scenario, why: str) -> TableComparison:
    return TableComparison(table_at_large(scenario.display), None, why, None, None, None, None)


def _common(scenario: Scenario, section: str, diameter: float, rpm: float) -> _Reading | None:
    """What the common table asks for."""
    force = table_force(section, diameter, rpm)
    if force is None:
        return None
    constant, stretch = _stretch(scenario, section)
    row = f"common table, {force.row}"
    return _Reading(row, force.source, force.used, force.new, constant, stretch)


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
    row = f"metric table, {found.row}, a belt of any age"
    return _Reading(row, found.source, force, None, constant, stretch)


def _stretch(scenario: Scenario, section: str) -> tuple[float, str]:
    """What the stretch adds to the tension at span/64 [N], and where that is from."""
    datum = stretch_constant(section)
    if datum is None:
        return 2.0 * DEFLECTION_RATIO**2 * scenario.belt.stiffness, OWN_STIFFNESS
    return datum.value, f"{datum.source}, {datum.sure}"


def _small_pulley(scenario: Scenario) -> tuple[float, float]:
    """Pitch radius [m] and speed [rad/s] of the smaller pulley."""
    motor, driven = scenario.motor, scenario.driven
    if motor.pulley_radius <= driven.pulley_radius:
        return motor.pulley_radius, motor.speed
    return driven.pulley_radius, motor.speed * motor.pulley_radius / driven.pulley_radius


def _by_table(promises: Promises, force: float, constant: float, test: StrandTest) -> TableSetting:
    tension = implied_tension(force, constant)
    turns, why_not = _turns_of(promises, tension)
    at_rest = {} if turns is None else _shares_at_rest(promises, turns)
    bearing = max(at_rest, key=lambda name: at_rest[name], default=None)
    as_set = _shares_at_rest(promises, test.turns or 0.0)
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


def _turns_of(promises: Promises, tension: float) -> tuple[float | None, str | None]:
    """Turns that give a tension at rest, or why none do."""
    if tension <= 0:
        return None, ALL_STRETCH
    if not promises.solved.mount.has_adjuster:
        return None, NO_ADJUSTER
    last = promises.last_turn
    turns = first_reach(lambda turn: np.nan_to_num(promises.tension(turn)) / tension, last)
    if turns is not None:
        return turns, None
    way = promises.solved
    end = way.case(way.place(np.array([last])), way.demands["rest"], with_grip=False)
    most = force_text(float(np.nan_to_num(end.tension[0])), promises.scenario.display)
    return None, (RIDES if end.state[0] == State.RIDING else PAST_TRAVEL).format(most=most)


def _shares_at_rest(promises: Promises, turns: float) -> dict[str, float]:
    """What each bearing has of its limit at rest [-], where that has an end."""
    shares = promises.shares(np.array([turns]))
    at_rest = {
        limited.name: float(share[0])
        for limited, share in shares.items()
        if limited.case == "rest" and limited.part is Part.BEARING
    }
    return at_rest if all(map(math.isfinite, at_rest.values())) else {}
