"""The ways to set a tension by, ranked: which tells most surely that grip and limits are kept.

From the tension with which the mount grips to the one at its first limit, each method has a range
of readings that keep both whatever the belt is, within its uncertainty, and whatever the reading's
error. Its aim is one more error above the least of them, or in the middle where that is nearer: as
gentle as the error allows. The method whose least sure reading leaves the belt least tension too
much leads; turns do so, too, where they ask for little more, since they need no tool.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.pages.amounts import force_text
from mountcalc.requirements.methods.gauges import (
    Gauge,
    PressGauge,
    gauges_of,
    is_contact,
    others_of,
)
from mountcalc.requirements.methods.results import Method, MethodName
from mountcalc.requirements.promises import Promises

__all__ = ["TURNS_MAY_ASK", "Range", "method_of", "ranked_ranges"]

TURNS_MAY_ASK = 1.25
"""How many times the tension of the surest method turns may ask for and still lead."""

# Errors between least and greatest reading of a push or of swings: no hand tells closer ones apart.
_ROOM = 0.25
# Grip and limits at the same tension differ so little between belts of other stiffness.
_SAME = 1e-3


@dataclass(frozen=True)
class Range:
    """One method between two tensions [N]: ``least`` that grips, ``most`` within limits.

    ``most`` is None where no limit is reached. ``not_below``, ``never_above`` and ``aim`` are its
    readings, the first two crossed where nothing is certain. ``top`` [N] is the highest tension
    that a belt read ``not_below`` may have.
    """

    gauge: Gauge
    least: float
    most: float | None
    not_below: float
    never_above: float
    aim: float
    top: float
    kept: bool

    @property
    def trustworthy(self) -> bool:
        """Whether readings that a hand can tell apart are certain to keep grip and limits."""
        room = _ROOM if self.gauge.is_share else 0.0
        is_certain = self.kept and self.gauge.missed(self.not_below, room) <= self.never_above
        return bool(is_certain and math.isfinite(self.top))


def ranked_ranges(promises: Promises, least: float, most: float | None) -> tuple[Range, ...]:
    """The ranges of all methods, the one to go by first.

    Parameters
    ----------
    promises : Promises
        The solved mount, with an adjuster.
    least : float [N]
        Tension with which it just grips.
    most : float or None [N]
        Tension at its first limit.

    Returns
    -------
    tuple of Range
        Those that are trustworthy before the others.
    """
    others = others_of(promises)
    found = [_range(gauge, least, most) for gauge in gauges_of(promises, others, least)]
    kept = _kept(others, found)
    found = [replace(one, kept=bool(keeps)) for one, keeps in zip(found, kept, strict=True)]
    found.sort(key=lambda one: (not one.trustworthy, one.top))
    return _turns_first(promises, tuple(found))


def _range(gauge: Gauge, least: float, most: float | None) -> Range:
    """The range of one method, softest and stiffest belt not yet tried there."""
    at_least = gauge.angle(least)
    floor = float(gauge.most(at_least)[0])
    ceiling = math.inf if most is None else float(gauge.least(gauge.angle(most))[0])
    not_below, never_above = gauge.missed(floor, 1), gauge.missed(ceiling, -1)
    aim = gauge.missed(floor, 2)
    if math.isfinite(never_above):
        aim = min(aim, 0.5 * (not_below + never_above))
    top = gauge.highest(gauge.missed(not_below, 1))
    return Range(gauge, least, most, not_below, never_above, aim, top, kept=False)


def _kept(others: tuple[Promises, ...], found: Sequence[Range]) -> NDArray[np.bool_]:
    """Whether softest and stiffest belt keep the promises an error of the reading off each aim."""
    low = [one.gauge.lowest(one.gauge.missed(one.aim, -1)) for one in found]
    high = [one.gauge.highest(one.gauge.missed(one.aim, 1)) for one in found]
    kept = np.ones(len(found), dtype=bool)
    for belt in others:
        loose, tight = (np.minimum(belt.turns_for(value), belt.last_turn) for value in (low, high))
        grip = np.min(np.stack(list(belt.grip_margins(loose).values())), axis=0)
        kept &= (grip >= 1.0 - _SAME) & (belt.worst(tight) <= 1.0 + _SAME)
    return kept


def _turns_first(promises: Promises, found: tuple[Range, ...]) -> tuple[Range, ...]:
    """Turns lead where they are sure, not counted from weights, and ask for little more."""
    turns = [one for one in found if one.gauge.name is MethodName.TURNS and one.trustworthy]
    if is_contact(promises) or not turns:
        return found
    # Whatever leads, hand and lock nut miss the turns by so much.
    error = promises.scenario.limits.turn_error
    by_hand = promises.tension(promises.turns_for(found[0].least) + 2 * error)
    if turns[0].top > TURNS_MAY_ASK * max(found[0].top, float(by_hand[0])):
        return found
    return (*turns, *(one for one in found if one is not turns[0]))


def method_of(one: Range, tension: float, new_tension: float, *, leads: bool) -> Method:
    """What is told of a method.

    Parameters
    ----------
    one : Range
        Its range.
    tension, new_tension : float [N]
        Of the set point, for a belt that has bedded in and a new one.
    leads : bool
        Whether the set point is this method's.

    Returns
    -------
    Method
        Its own aim where it is trustworthy and does not lead; else what the set point reads.
    """
    gauge, limits = one.gauge, one.gauge.promises.scenario.limits
    shown = (gauge.shown(gauge.angle(value)) for value in (tension, new_tension))
    aim, new_aim = (float(value[0]) for value in shown)
    if one.trustworthy and not leads:
        aim = one.aim
        new_tension = limits.bedding * gauge.reckoned(aim)
        new_aim = float(gauge.shown(gauge.angle(new_tension))[0])
    if one.trustworthy:
        aim = min(max(aim, one.not_below), one.never_above)
        new_aim = min(max(new_aim, aim), one.never_above)
    low, high = gauge.lowest(gauge.missed(aim, -1)), gauge.highest(gauge.missed(aim, 1))
    has_ceiling = one.trustworthy and math.isfinite(one.never_above)
    return Method(
        name=gauge.name,
        unit=gauge.unit,
        aim=aim,
        new_aim=new_aim,
        not_below=one.not_below if one.trustworthy else None,
        never_above=one.never_above if has_ceiling else None,
        tension_low=low,
        tension_high=high if math.isfinite(high) else None,
        trustworthy=one.trustworthy,
        why=_why(one, low, high),
        span_over_deflection=round(1 / gauge.ratio) if isinstance(gauge, PressGauge) else None,
    )


def _why(one: Range, low: float, high: float) -> str:
    """How closely a reading tells the tension, and what that is held against."""
    display = one.gauge.promises.scenario.display

    def told(force: float) -> str:
        return force_text(force, display) if math.isfinite(force) else "more than the travel gives"

    means = f"{told(low)} to {told(high)} on each strand"
    if one.trustworthy:
        return f"at the aim there are {means}"
    most = "" if one.most is None else f", at most {told(one.most)} allowed"
    return f"one reading may mean {means}, where at least {told(one.least)} are needed{most}"
