"""Why layouts will not do, and which constraint, relaxed alone, was found to let more through."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import ACTIONS, DIMENSIONS, KINDS
from mountcalc.place.feasible.reasons import CAUSES, Reason, reason_name
from mountcalc.place.results import WhyNot
from mountcalc.place.search.optimiser import points
from mountcalc.scenario.search import MotorSide, Search
from mountcalc.scenario.text.wording import shown
from mountcalc.scenario.text.writing import Notes

__all__ = ["Relaxation", "reasons_of", "relaxations_of"]

Counts = NDArray[np.int64]

# Layouts that are tried again for each relaxation, and where none will do as it is.
_AGAIN, _AGAIN_WHERE_NONE = 2048, 8192
_MOST_TOLD = 3
# A relaxation that lets through less than so many times as many, and so many more, may be chance.
_MORE, _MORE_LAYOUTS = 1.5, 5
_LEAST_LEFT = 0.25  # of a length that is made less
_ANY_LOAD = 1e12  # [N]

# Reasons at which a range of places is to blame, a range of a keep-out besides.
_OF_PLACE = {
    Reason.MOTOR_HEIGHT,
    Reason.MOTOR_SIDE,
    Reason.FEET_PAST_HINGE,
    Reason.PLATE_LENGTH,
    Reason.INSTALL,
    Reason.TAKE_UP,
    Reason.DEAD_CENTRE,
    Reason.ADJUSTER_GEOMETRY,
    Reason.THREAD_LENGTH,
    Reason.LEAVES_ADJUSTER,
    Reason.ADJUSTER_LOAD,
    Reason.HINGE_LOAD,
    Reason.BEARING,
    Reason.MOTOR_IN_THE_WAY,
    Reason.KEEP_OUT,
}


@dataclass(frozen=True, slots=True)
class Relaxation:
    """A search with one constraint relaxed.

    ``text`` continues "with ..."; ``reasons`` are those that it may help against.
    """

    text: str
    reasons: frozenset[int]
    search: Search


def relaxations_of(search: Search) -> Iterator[Relaxation]:
    """Relax the constraints of a search one at a time."""
    for text, reasons, changed in (
        *_choices(search),
        *_ranges(search),
        *_loads(search),
        *_room(search),
    ):
        yield Relaxation(text, frozenset(reasons), changed)


_Change = tuple[str, set[Reason] | set[int], Search]


def _in_space(search: Search, **changes: Any) -> Search:  # noqa: ANN401
    return replace(search, space=replace(search.space, **changes))


def _shown(search: Search, length: float) -> str:
    return Notes(search.scenario.display).show(length, "length")


def _choices(search: Search) -> Iterator[_Change]:
    """What is chosen from a list, and numbers of the search itself."""
    space = search.space
    if space.motor_side is not MotorSide.EITHER:
        either = _in_space(search, motor_side=MotorSide.EITHER)
        yield 'motor_side = "either"', {Reason.MOTOR_SIDE}, either
    if len(space.acts) < len(ACTIONS):
        names = ", ".join(f'"{one}"' for one in ACTIONS)
        yield f"acts = [{names}]", {Reason.LEAVES_ADJUSTER}, _in_space(search, acts=ACTIONS)
    if len(space.kinds) < len(KINDS):
        some = {Reason.ADJUSTER_GEOMETRY, Reason.LEAVES_ADJUSTER, Reason.ADJUSTER_LOAD}
        yield "all kinds of adjuster", some, _in_space(search, kinds=KINDS)
    if space.face_offset is not None:
        yield "no face_offset", {Reason.ADJUSTER_GEOMETRY}, _in_space(search, face_offset=None)
    if space.leverage > 0:
        yield "leverage = 0", {Reason.DEAD_CENTRE}, _in_space(search, leverage=0.0)
    yield "any thread_length", {Reason.THREAD_LENGTH}, _in_space(search, thread_length=math.inf)
    if not space.bolt_beside_motor:
        beside = _in_space(search, bolt_beside_motor=True)
        yield "bolt_beside_motor = true", {Reason.MOTOR_IN_THE_WAY}, beside
    finer = tuple(replace(one, pitch=one.pitch / 2) for one in space.threads)
    some = {Reason.BEARING, Reason.TAKE_UP}
    yield "threads half as coarse", some, _in_space(search, threads=finer)
    length = 2 * space.plate_length
    plate = replace(search.scenario.plate, weight=2 * search.scenario.plate.weight)
    longer = replace(search, scenario=replace(search.scenario, plate=plate))
    text = f"a plate_length of {_shown(search, length)}"
    yield text, {Reason.PLATE_LENGTH}, _in_space(longer, plate_length=length)


def _ranges(search: Search) -> Iterator[_Change]:
    """Each range wider to one side by its own width."""
    for name in ("hinge_x", "hinge_y", "reach", "motor_height"):
        low, high = getattr(search.space, name)
        width = (high - low) or 0.5 * abs(low) or search.space.motor_height[0]
        less = low - width
        if name in {"reach", "motor_height"}:
            less = max(less, _LEAST_LEFT * low)
        for ends in ((less, high), (low, high + width)):
            text = f"{name} from {_shown(search, ends[0])} to {_shown(search, ends[1])}"
            yield text, _OF_PLACE, _in_space(search, **{name: ends})
    if search.space.motor_direction is not None:
        around = _in_space(search, motor_direction=(-math.pi, math.pi))
        yield "any motor_direction", _OF_PLACE, around


def _loads(search: Search) -> Iterator[_Change]:
    """What adjuster, hinge and bearings may carry."""
    scenario, limits = search.scenario, search.scenario.limits
    if limits.adjuster is not None:
        changed = replace(scenario, limits=replace(limits, adjuster=None))
        text = "an adjuster that carries any load"
        yield text, {Reason.ADJUSTER_LOAD}, replace(search, scenario=changed)
    if limits.hinge is not None:
        changed = replace(scenario, limits=replace(limits, hinge=None))
        text = "a hinge that carries any load"
        yield text, {Reason.HINGE_LOAD}, replace(search, scenario=changed)
    left, right = (
        replace(one, limit=_ANY_LOAD, starting_limit=_ANY_LOAD) for one in scenario.driven.bearings
    )
    changed = replace(scenario, driven=replace(scenario.driven, bearings=(left, right)))
    text = "bearings that carry any load"
    yield text, {Reason.BEARING}, replace(search, scenario=changed)


def _room(search: Search) -> Iterator[_Change]:
    """Shorter feet, of which plate and bolt have more room; each keep-out, and what all want."""
    space, half = search.space, 0.5 * search.space.motor_feet
    some = {Reason.FEET_PAST_HINGE, Reason.PLATE_LENGTH, Reason.MOTOR_IN_THE_WAY}
    yield f"motor_feet of {_shown(search, half)}", some, _in_space(search, motor_feet=half)
    codes = {Reason.KEEP_OUT + index for index in range(len(space.keep_outs))}
    for code, gone in zip(sorted(codes), space.keep_outs, strict=True):
        left = tuple(one for one in space.keep_outs if one is not gone)
        text = f"keep-out {shown(gone.name)} out of the way"
        yield text, {code}, _in_space(search, keep_outs=left)
    if codes:
        codes |= {Reason.MOTOR_IN_THE_WAY}
        yield "clearance = 0", codes, _in_space(search, clearance=0.0)
        yield "wrench_space = 0", codes, _in_space(search, wrench_space=0.0)


def reasons_of(search: Search, counts: Counts) -> tuple[tuple[WhyNot, ...], tuple[str, ...]]:
    """Say of each reason what it means and what helps, the most frequent first.

    Some layouts are judged again with one constraint relaxed at a time; what is said to help was
    counted. Where none will do, what would let most through is noted besides.
    """
    order = [int(code) for code in np.argsort(-counts, kind="stable") if counts[code] and code]
    again = _Again.of(search, none_will_do=not counts[Reason.FEASIBLE], reasons=set(order))
    said: set[str] = set()
    why_not = []
    for code in order:
        sentence = CAUSES[Reason(min(code, Reason.KEEP_OUT))]
        advice = next((one for one in again.advice(code) if one[0] not in said), None)
        if advice is not None:
            said.add(advice[0])
            sentence = f"{sentence}; {advice[0]}"
        name = reason_name(code, search.space.keep_outs)
        why_not.append(WhyNot(name, int(counts[code]), sentence, advice[1] if advice else 0.0))
    return tuple(why_not), () if counts[Reason.FEASIBLE] else (again.most(),)


@dataclass(frozen=True)
class _Again:
    """So many layouts judged again: counts of reasons as it is, and with each relaxation."""

    tried: int
    before: Counts
    after: tuple[tuple[Relaxation, Counts], ...]

    @classmethod
    def of(cls, search: Search, *, none_will_do: bool, reasons: set[int]) -> _Again:
        tried = _AGAIN_WHERE_NONE if none_will_do else _AGAIN
        unit = points(0, tried, len(DIMENSIONS), search.space.seed)
        codes = Reason.KEEP_OUT + len(search.space.keep_outs)

        def counted(changed: Search) -> Counts:
            reason = Feasibility.of(changed).samples(unit).reason
            return np.bincount(reason, minlength=codes)

        # A wider range may help against every keep-out.
        blamed = reasons | {min(code, int(Reason.KEEP_OUT)) for code in reasons}
        some = [one for one in relaxations_of(search) if one.reasons & blamed]
        after = [(one, counted(one.search)) for one in some]
        after.sort(key=lambda one: -int(one[1][Reason.FEASIBLE]))
        return cls(tried, counted(search), tuple(after))

    def advice(self, code: int) -> Iterator[tuple[str, float]]:
        """What helps against a reason, the best first, and how many times as many then do."""
        before = int(self.before[Reason.FEASIBLE])
        general = {code, min(code, int(Reason.KEEP_OUT))}
        for relaxation, counts in self.after:
            feasible = int(counts[Reason.FEASIBLE])
            # Without a keep-out the codes of the others are not the same.
            helps = code >= Reason.KEEP_OUT or counts[code] < self.before[code]
            many = feasible >= max(_MORE * before, before + _MORE_LAYOUTS)
            if many and relaxation.reasons & general and helps:
                text = f"{feasible:,} of {self.tried:,} do instead of {before:,}"
                times = feasible / before if before else math.inf
                yield f"with {relaxation.text}, {text}", times

    def most(self) -> str:
        """Which constraints, relaxed alone, let most layouts through where none will do."""
        good = [(one, int(counts[Reason.FEASIBLE])) for one, counts in self.after]
        good = [one for one in good if one[1]][:_MOST_TOLD]
        if not good:
            return (
                f"No layout will do, and none of {self.tried:,} does with any one constraint "
                "lifted: more than one is in the way; begin with the most frequent reason."
            )
        listed = "; ".join(f"with {one.text}, {feasible:,}" for one, feasible in good)
        return (
            f"No layout will do as it is. Of {self.tried:,} that were tried again with one thing "
            f"changed at a time, so many do: {listed}."
        )
