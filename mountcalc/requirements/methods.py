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
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.pages.amounts import force_text, turns_to_set
from mountcalc.requirements.gauges import (
    Gauge,
    PressGauge,
    gauges_of,
    is_contact,
    others_of,
)
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Method, MethodName

__all__ = ["TURNS_MAY_ASK", "Aim", "Ends", "certain_most", "find_aim", "new_belt_turns"]

TURNS_MAY_ASK = 1.25
"""How many times the tension of the surest method turns may ask for and still lead."""

# Errors between least and greatest reading of a push or of swings: no hand tells closer ones apart.
_ROOM = 0.25
# Grip and limits at the same tension differ so little between belts of other stiffness.
_SAME = 1e-3

TOO_NARROW = "the range is narrower than a hand can set: less than {turns:g} turns"
NOT_SURE = (
    "the range is narrower than any method tells: by {method}, {means}. The set point lies in its "
    "middle; grip or limit is given up by as much as the reading is off"
)


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


def ranked_ranges(
    requirements: Requirements, least: float, most: float | None
) -> tuple[Range, ...]:
    """The ranges of all methods, the one to go by first.

    Parameters
    ----------
    requirements : Requirements
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
    others = others_of(requirements)
    found = [_range(gauge, least, most) for gauge in gauges_of(requirements, others, least)]
    kept = _kept(others, found)
    found = [replace(one, kept=bool(keeps)) for one, keeps in zip(found, kept, strict=True)]
    found.sort(key=lambda one: (not one.trustworthy, one.top))
    return _turns_first(requirements, tuple(found))


def _range(gauge: Gauge, least: float, most: float | None) -> Range:
    """The range of one method, softest and stiffest belt not yet tried there."""
    floor = float(gauge.most(gauge.inside(least))[0])
    ceiling = math.inf if most is None else float(gauge.least(gauge.inside(most))[0])
    not_below, never_above = gauge.missed(floor, 1), gauge.missed(ceiling, -1)
    aim = gauge.missed(floor, 2)
    if math.isfinite(never_above):
        aim = min(aim, 0.5 * (not_below + never_above))
    top = gauge.highest(gauge.missed(not_below, 1))
    return Range(gauge, least, most, not_below, never_above, aim, top, kept=False)


def _kept(others: tuple[Requirements, ...], found: Sequence[Range]) -> NDArray[np.bool_]:
    """Whether softest and stiffest belt keep the promises an error of the reading off each aim."""
    low = [one.gauge.lowest(one.gauge.missed(one.aim, -1)) for one in found]
    high = [one.gauge.highest(one.gauge.missed(one.aim, 1)) for one in found]
    kept = np.ones(len(found), dtype=bool)
    for belt in others:
        loose, tight = (np.minimum(belt.turns_for(value), belt.last_turn) for value in (low, high))
        grip = np.min(np.stack(list(belt.grip_margins(loose).values())), axis=0)
        kept &= (grip >= 1.0 - _SAME) & (belt.worst(tight) <= 1.0 + _SAME)
    return kept


def _turns_first(requirements: Requirements, found: tuple[Range, ...]) -> tuple[Range, ...]:
    """Turns lead where they are sure, not counted from weights, and ask for little more."""
    turns = [one for one in found if one.gauge.name is MethodName.TURNS and one.trustworthy]
    if is_contact(requirements) or not turns:
        return found
    # Whatever leads, hand and lock nut miss the turns by so much.
    error = requirements.scenario.limits.turn_error
    by_hand = requirements.tension(requirements.turns_for(found[0].least) + 2 * error)
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
    gauge, limits = one.gauge, one.gauge.requirements.scenario.limits
    shown = (gauge.shown(gauge.inside(value)) for value in (tension, new_tension))
    aim, new_aim = (float(value[0]) for value in shown)
    if one.trustworthy and not leads:
        aim = one.aim
        new_tension = limits.bedding * gauge.reckoned(aim)
        new_aim = float(gauge.shown(gauge.inside(new_tension))[0])
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
    display = one.gauge.requirements.scenario.display

    def told(force: float) -> str:
        return force_text(force, display) if math.isfinite(force) else "more than the travel gives"

    means = f"{told(low)} to {told(high)} on each strand"
    if one.trustworthy:
        return f"at the aim there are {means}"
    most = "" if one.most is None else f", at most {told(one.most)} allowed"
    return f"one reading may mean {means}, where at least {told(one.least)} are needed{most}"


@dataclass(frozen=True, slots=True)
class Aim:
    """The set point of a belt that has bedded in, and of a new one; ``reckoned`` is not rounded.

    Turns [-] and tensions [N] are None where there is no set point; ``why_not_open`` is None where
    it keeps the promises for certain. ``methods`` has the one that leads first.
    """

    reckoned: float | None
    turns: float | None
    tension: float | None
    new_turns: float | None
    new_tension: float | None
    why_not_open: str | None
    methods: tuple[Method, ...]

    @classmethod
    def none(cls, why: str) -> Aim:
        """That of a mount where no turns keep the promises."""
        return cls(None, None, None, None, None, why, ())


class Ends(NamedTuple):
    """The range of turns: ``fewest`` with grip, ``most`` within limits, and its ``end``.

    ``most`` is None where no limit is reached; the end is then that of the travel. ``free`` is
    where an adjuster that holds the plate back comes free, None where it does not.
    """

    fewest: float
    most: float | None
    end: float
    free: float | None


def find_aim(requirements: Requirements, ends: Ends) -> Aim:
    """The set point between grip and limits."""
    fewest, most, end, free = ends
    tension = requirements.tension(np.array([fewest, end]))
    least, greatest = float(tension[0]), None if most is None else float(tension[1])
    ranges = ranked_ranges(requirements, least, greatest)
    lead, error = ranges[0], requirements.scenario.limits.turn_error
    low, high = _certain_turns(requirements, lead, (fewest + error, end - error))
    turns = _turns_at(requirements, lead.gauge.reckoned(lead.aim))
    why = None
    if low > high:
        low, high, turns = fewest, end, 0.5 * (fewest + end)
        why = TOO_NARROW.format(turns=2 * error)
    elif not lead.trustworthy:
        low, high = fewest, end
        why = NOT_SURE
    if free is not None:  # more turns change nothing
        low, high = min(low, free), min(high, free)
    reckoned = min(max(turns, low), high)
    printed = turns_to_set(reckoned, low, high)
    at = reckoned if printed is None else printed
    new_at = new_belt_turns(requirements, at, max(high, at))
    old, new = (float(value) for value in requirements.tension(np.array([at, new_at])))
    every = [method_of(one, old, new, leads=one is lead) for one in ranges]
    # Turns past those that free the bolt show no more: they are no way to such a tension.
    methods = tuple(one for one in every if math.isfinite(one.aim + one.new_aim + one.tension_low))
    if why is NOT_SURE:
        why = NOT_SURE.format(method=methods[0].name, means=methods[0].why)
    return Aim(reckoned, at, old, new_at, new, why, methods)


def certain_most(requirements: Requirements, ends: Ends) -> float:
    """The most turns [-] that hand and leading method are certain to keep within the limits."""
    fewest, most, end, _ = ends
    least, greatest = (float(one) for one in requirements.tension(np.array([fewest, end])))
    lead = ranked_ranges(requirements, least, None if most is None else greatest)[0]
    return _certain_turns(
        requirements, lead, (fewest, end - requirements.scenario.limits.turn_error)
    )[1]


def _certain_turns(
    requirements: Requirements, lead: Range, by_hand: tuple[float, float]
) -> tuple[float, float]:
    """Turns between which the hand, the lock nut and the leading method's reading may err."""
    low, high = by_hand
    if lead.trustworthy:
        low = max(low, _turns_at(requirements, lead.gauge.reckoned(lead.not_below)))
        if math.isfinite(lead.never_above):
            high = min(high, _turns_at(requirements, lead.gauge.reckoned(lead.never_above)))
    return low, high


def _turns_at(requirements: Requirements, tension: float) -> float:
    return float(np.minimum(requirements.turns_for(tension), requirements.last_turn)[0])


def new_belt_turns(requirements: Requirements, turns: float, most: float) -> float:
    """Turns for a new belt: as much tighter as it is to lose, if that is certain to be allowed."""
    old = float(requirements.tension(np.array([turns]))[0])
    wanted = _turns_at(requirements, requirements.scenario.limits.bedding * old)
    wanted = min(max(wanted, turns), most)
    printed = turns_to_set(wanted, turns, most)
    return wanted if printed is None else printed
