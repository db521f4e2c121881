"""Why layouts will not do, and what was found to change that by trying it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.clearance.clearances import clearing
from mountcalc.place.feasible.drives import belt_room, drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.feasible.lifts import Lift, lifts_of
from mountcalc.place.feasible.reasons import CAUSES, Reason, reason_name
from mountcalc.place.results import WhyNot
from mountcalc.place.search.sampling import points
from mountcalc.scenario.search import Search

__all__ = ["judge_of", "reasons_told"]

Counts = NDArray[np.int64]

# Layouts that are tried again for each lifted constraint, and where none will do as it is.
_AGAIN, _AGAIN_WHERE_NONE = 2048, 8192
_MOST_TOLD = 3
# A lift that lets through less than so many times as many, and so many more, may be chance.
_MORE, _MORE_LAYOUTS = 1.5, 5


def judge_of(search: Search) -> Feasibility:
    """The judge of a search, with the room that its belts want and its keep-outs."""
    scenario, space = search.scenario, search.space
    drives = drives_of(scenario, space, *belt_room(scenario, space))
    return Feasibility(scenario, space, drives, clearing(scenario, space))


def reasons_told(search: Search, counts: Counts) -> tuple[tuple[WhyNot, ...], tuple[str, ...]]:
    """Say of each reason what it means and what helps, the most frequent first.

    Some layouts are judged again with one constraint lifted at a time; what is said to help was
    counted.
    """
    order = [int(code) for code in np.argsort(-counts, kind="stable") if counts[code] and code]
    again = _Again.of(search, none_will_do=not counts[Reason.FEASIBLE], reasons=set(order))
    told: set[str] = set()
    why_not = []
    for code in order:
        sentence = CAUSES[Reason(min(code, Reason.KEEP_OUT))]
        advice = next((one for one in again.advice(code) if one[0] not in told), None)
        if advice is not None:
            told.add(advice[0])
            sentence = f"{sentence}; {advice[0]}"
        name = reason_name(code, search.space.keep_outs)
        why_not.append(WhyNot(name, int(counts[code]), sentence, advice[1] if advice else 0.0))
    return tuple(why_not), () if counts[Reason.FEASIBLE] else (again.most(),)


@dataclass(frozen=True)
class _Again:
    """So many layouts judged again: counts of reasons as it is, and with each constraint lifted."""

    tried: int
    before: Counts
    after: tuple[tuple[Lift, Counts], ...]

    @classmethod
    def of(cls, search: Search, *, none_will_do: bool, reasons: set[int]) -> _Again:
        tried = _AGAIN_WHERE_NONE if none_will_do else _AGAIN
        unit = points(0, tried, len(DIMENSIONS), search.space.seed)
        codes = Reason.KEEP_OUT + len(search.space.keep_outs)

        def counted(changed: Search) -> Counts:
            return np.bincount(judge_of(changed).samples(unit).reason, minlength=codes)

        # A wider range may help against every keep-out.
        blamed = reasons | {min(code, int(Reason.KEEP_OUT)) for code in reasons}
        lifts = [lift for lift in lifts_of(search) if lift.reasons & blamed]
        after = [(lift, counted(lift.search)) for lift in lifts]
        after.sort(key=lambda one: -int(one[1][Reason.FEASIBLE]))
        return cls(tried, counted(search), tuple(after))

    def advice(self, code: int) -> Iterator[tuple[str, float]]:
        """What helps against a reason, the best first, and how many times as many then do."""
        before = int(self.before[Reason.FEASIBLE])
        general = {code, min(code, int(Reason.KEEP_OUT))}
        for lift, counts in self.after:
            feasible = int(counts[Reason.FEASIBLE])
            # Without a keep-out the codes of the others are not the same.
            helps = code >= Reason.KEEP_OUT or counts[code] < self.before[code]
            many = feasible >= max(_MORE * before, before + _MORE_LAYOUTS)
            if many and lift.reasons & general and helps:
                told = f"with {lift.told}, {feasible:,} of {self.tried:,} do instead of {before:,}"
                yield told, feasible / before if before else math.inf

    def most(self) -> str:
        """Which constraints, lifted alone, let most layouts through where none will do."""
        good = [(lift, int(counts[Reason.FEASIBLE])) for lift, counts in self.after]
        good = [one for one in good if one[1]][:_MOST_TOLD]
        if not good:
            return (
                f"No layout will do, and none of {self.tried:,} does with any one constraint "
                "lifted: more than one is in the way; begin with the most frequent reason."
            )
        listed = "; ".join(f"with {lift.told}, {feasible:,}" for lift, feasible in good)
        return (
            f"No layout will do as it is. Of {self.tried:,} that were tried again with one thing "
            f"changed at a time, so many do: {listed}."
        )
