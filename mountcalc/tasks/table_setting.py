"""What a belt set by the common force table would do to this mount."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.belts.deflection_tables import implied_tension, stretch_constant, table_force
from mountcalc.formulas.belt import DEFLECTION_RATIO
from mountcalc.results.card import StrandTest, TableComparison, TableSetting
from mountcalc.results.table import State
from mountcalc.scenario.model import Scenario
from mountcalc.tasks.amounts import force_text, length_text
from mountcalc.tasks.promises import Promises
from mountcalc.tasks.setting import NO_ADJUSTER, first_reach

__all__ = ["PUBLISHED", "compare_with_table"]

PUBLISHED = (
    "Common force tables know section, pulley and speed, but not the load, and are at the high end "
    "on purpose: they load a shaft up to about twice as much as the drive itself needs. For two A "
    "belts that carry 3 hp from 3 in to 9 in pulleys, 20 in apart, at 1750 rpm, such a table has "
    "3.7 lbf on a belt that has run and 5.5 lbf on a new one, where the drive's own load asks for "
    "2.1 to 2.3 and 2.9 to 3.2 lbf: some 1.8 times (table and formula common practice). A "
    "compressor manual of 2008 is gentler, 2.4 to 3.1 and 3.6 lbf. The guide that prints the first "
    "says itself: where the pull on the shaft counts, reckon from the load."
)

NO_SECTION = "the belt's section is not named"
NO_ROW = 'it has no row for section "{section}" on a {size} pulley at {rpm:.0f} rpm'
ALL_STRETCH = "this belt's stretch alone may ask for all of that force: it tells nothing here"
RIDES = "the plate rides on the belt: more turns add nothing to the {most} that weight gives"
PAST_TRAVEL = "the travel ends before that, with {most} on each strand"
OWN_STIFFNESS = "this belt's own stiffness, no constant being known for its section"


def compare_with_table(
    promises: Promises, bedded: StrandTest, new: StrandTest | None
) -> TableComparison:
    """Set the mount by the common force table, and see what becomes of it.

    Parameters
    ----------
    promises : Promises
        The solved mount.
    bedded, new : StrandTest
        This card's setting for a belt that has bedded in, and for a new one where it differs.

    Returns
    -------
    TableComparison
        Without a row where the table has none.

    Notes
    -----
    The table's force is read as that of a belt that does not creep, T = 16 P - Y, which gives the
    least tension that it can stand for. Where no Y is known, EA/2048 of the belt itself is taken.
    """
    scenario = promises.scenario
    section = scenario.belt.section
    if section is None:
        return _nothing(NO_SECTION)
    radius, speed = _small_pulley(scenario)
    rpm = speed * 60.0 / (2.0 * math.pi)
    force = table_force(section, 2.0 * radius, rpm)
    if force is None:
        size = length_text(2.0 * radius, scenario.display)
        return _nothing(NO_ROW.format(section=section, size=size, rpm=rpm))
    datum = stretch_constant(section)
    own = 2.0 * DEFLECTION_RATIO**2 * scenario.belt.stiffness
    constant = own if datum is None else datum.value
    stretch = OWN_STIFFNESS if datum is None else f"{datum.source}, {datum.sure}"
    used = force.used
    return TableComparison(
        published=PUBLISHED,
        row=force.row,
        why_not=None,
        source=force.source,
        stretch=stretch,
        bedded=None if used is None else _by_table(promises, used, constant, bedded),
        new=_by_table(promises, force.new, constant, bedded if new is None else new),
    )


def _nothing(why: str) -> TableComparison:
    return TableComparison(PUBLISHED, None, why, None, None, None, None)


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
    at_rest = {name: float(share[0]) for (case, name), share in shares.items() if case == "rest"}
    return at_rest if all(map(math.isfinite, at_rest.values())) else {}
