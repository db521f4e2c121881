"""Where to set the adjuster: the aim of the method that leads, as turns that a hand can set."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from mountcalc.pages.turns import turns_to_set
from mountcalc.requirements.methods.methods import Range, method_of, ranked_ranges
from mountcalc.requirements.methods.results import Method
from mountcalc.requirements.promises import Promises

__all__ = ["Aim", "Ends", "find_aim"]

TOO_NARROW = "the range is narrower than a hand can set: less than {turns:g} turns"
NOT_SURE = (
    "the range is narrower than any method tells: by {method}, {means}. The set point lies in its "
    "middle; grip or limit is given up by as much as the reading is off"
)


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


def find_aim(promises: Promises, ends: Ends) -> Aim:
    """The set point between grip and limits."""
    fewest, most, end, free = ends
    tension = promises.tension(np.array([fewest, end]))
    least, greatest = float(tension[0]), None if most is None else float(tension[1])
    ranges = ranked_ranges(promises, least, greatest)
    lead, error = ranges[0], promises.scenario.limits.turn_error
    low, high = _certain_turns(promises, lead, (fewest + error, end - error))
    turns = _turns_at(promises, lead.gauge.reckoned(lead.aim))
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
    new_at = _new_turns(promises, at, max(high, at))
    old, new = (float(value) for value in promises.tension(np.array([at, new_at])))
    every = [method_of(one, old, new, leads=one is lead) for one in ranges]
    # Turns past those that free the bolt show no more: they are no way to such a tension.
    methods = tuple(one for one in every if math.isfinite(one.aim + one.new_aim + one.tension_low))
    if why is NOT_SURE:
        why = NOT_SURE.format(method=methods[0].name, means=methods[0].why)
    return Aim(reckoned, at, old, new_at, new, why, methods)


def _certain_turns(
    promises: Promises, lead: Range, by_hand: tuple[float, float]
) -> tuple[float, float]:
    """Turns between which the hand, the lock nut and the leading method's reading may err."""
    low, high = by_hand
    if lead.trustworthy:
        low = max(low, _turns_at(promises, lead.gauge.reckoned(lead.not_below)))
        if math.isfinite(lead.never_above):
            high = min(high, _turns_at(promises, lead.gauge.reckoned(lead.never_above)))
    return low, high


def _turns_at(promises: Promises, tension: float) -> float:
    return float(np.minimum(promises.turns_for(tension), promises.last_turn)[0])


def _new_turns(promises: Promises, turns: float, most: float) -> float:
    """Turns for a new belt: as much tighter as it is to lose, if that is certain to be allowed."""
    old = float(promises.tension(np.array([turns]))[0])
    wanted = _turns_at(promises, promises.scenario.limits.bedding * old)
    wanted = min(max(wanted, turns), most)
    printed = turns_to_set(wanted, turns, most)
    return wanted if printed is None else printed
