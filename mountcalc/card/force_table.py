"""What a belt set by a force table of the trade would do to this mount."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

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
from mountcalc.requirements.setting import NO_ADJUSTER
from mountcalc.requirements.window import first_reach
from mountcalc.scenario.text.writing import Display
from mountcalc.units import si_factor

_POUND = si_factor("lbf")
NEEDED_USED = (2.087 * _POUND, 2.252 * _POUND)
"""Deflection force [N] by the trade's formula with its two coefficients, 15 and 16.5."""
NEEDED_NEW = (2.944 * _POUND, 3.190 * _POUND)
"""The same of a new belt, half as tight again."""


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
        f"{force(gentle.least, gentle.greatest)} and {force(gentle.initial)}. Read in "
        "print are the two tables, and what the guide with the first one says itself: where the "
        "pull on the shaft counts, go by the load. The rest is computed here."
    )


def compare_with_table(
    requirements: Requirements, bedded: StrandTest, new: StrandTest | None
) -> TableComparison:
    """Set the mount by a force table, and see what becomes of it.

    A table's force is read as that of a belt that does not creep, T = 16 P - Y, which gives the
    least tension that it can stand for. Where no Y is known, EA/2048 of the belt itself is taken.
    The metric table's deflection is one of every age of belt, carried over to 1/64 of the span and
    compared with the bedded-in setting.
    """
    scenario = requirements.scenario
    display, belt, section = scenario.display, scenario.belt, scenario.belt.section
    none = TableComparison(published=table_at_large(display))
    if section is None:
        return replace(none, why_not="the belt's section is not named")
    motor, driven = scenario.motor, scenario.driven
    radius, speed = motor.pulley_radius, motor.speed
    if driven.pulley_radius < radius:
        radius, speed = driven.pulley_radius, speed * radius / driven.pulley_radius
    rpm = speed * 60.0 / (2.0 * math.pi)
    # What the stretch adds to the tension at span/64 [N], and where that is from.
    constant = 2.0 * DEFLECTION_RATIO**2 * belt.stiffness
    stretch = "this belt's own stiffness, no constant being known for its section"
    datum = stretch_constant(section)
    if datum is not None:
        constant, stretch = datum.value, f"{datum.source}, {datum.sure}"

    def ends(low: float, high: float, show: Callable[[float], str]) -> str:
        return f"{show(low)} and up" if math.isinf(high) else f"{show(low)} to {show(high)}"

    def size(diameter: float) -> str:
        return length_text(diameter, display)

    used: float
    later: float | None = None
    common = table_force(section, 2.0 * radius, rpm)
    if common is not None:
        used, later, source = common.used, common.new, common.source
        row = f"common table, {common.name}, {ends(*common.diameters, size)}, "
        row += f"{ends(*common.rpm, '{:.0f}'.format)} rpm"
    else:
        metric = metric_deflection(section, 2.0 * radius)
        if metric is None:
            return replace(
                none,
                why_not=f'it has no row for section "{section}" on a {size(2.0 * radius)} pulley '
                f"at {rpm:.0f} rpm, nor has the metric table",
            )
        source, share = metric.source, metric.deflection_ratio
        apart = math.hypot(bedded.span, driven.pulley_radius - motor.pulley_radius)
        stiffness = constant / (2.0 * DEFLECTION_RATIO**2)
        tension = tension_under(metric.force, share * apart / bedded.span, stiffness)
        used = float(mid_span_force(tension, stiffness, 1.0, DEFLECTION_RATIO))
        row = (
            f"metric table, {metric.name}, {ends(*metric.diameters, size)}, "
            f"{force_text(metric.force, display)} at {100 * share:.2g} % of the centre distance, a "
            "belt of any age"
        )
    return replace(
        none,
        row=row,
        source=source,
        stretch=stretch,
        bedded=_by_table(requirements, used, constant, bedded),
        new=None if later is None else _by_table(requirements, later, constant, new or bedded),
    )


def _by_table(
    requirements: Requirements, force: float, constant: float, test: StrandTest
) -> TableSetting:
    tension, turns, why_not = implied_tension(force, constant), None, None
    if tension <= 0:
        why_not = "this belt's stretch alone may ask for all of that force: it tells nothing here"
    elif not requirements.solved.mount.has_adjuster:
        why_not = NO_ADJUSTER
    else:
        last = requirements.last_turn
        turns = first_reach(lambda turn: np.nan_to_num(requirements.tension(turn)) / tension, last)
        if turns is None:
            end = requirements.solved.at_rest(last)
            most = force_text(float(np.nan_to_num(end.tension[0])), requirements.scenario.display)
            why_not = (
                f"the plate rides on the belt: more turns add nothing to the {most} that weight "
                "gives"
                if end.state[0] == State.RIDING
                else f"the travel ends before that, with {most} on each strand"
            )
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


def _shares_at_rest(requirements: Requirements, turns: float) -> dict[str, float]:
    """What each bearing has of its limit at rest [-], where that has an end."""
    at_rest = {
        limited.bearing: float(share[0])
        for limited, share in requirements.shares(np.array([turns])).items()
        if limited.case == "rest" and limited.bearing is not None
    }
    return at_rest if all(map(math.isfinite, at_rest.values())) else {}
