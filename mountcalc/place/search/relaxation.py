"""Why layouts will not do, and which constraint, relaxed alone, was found to let more through."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import ACTIONS, DIMENSIONS, KINDS
from mountcalc.place.feasible.reasons import CAUSES, Reason, reason_name
from mountcalc.place.results import WhyNot
from mountcalc.place.search.optimiser import points
from mountcalc.record import Record
from mountcalc.scenario.forms import Range
from mountcalc.scenario.search import MotorSide, Search, SearchSpace
from mountcalc.scenario.text.wording import shown
from mountcalc.scenario.text.writing import UNITS_TO_WRITE

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


class Relaxation(Record):
    """A search with one constraint relaxed.

    ``text`` continues "with ..."; ``reasons`` are those that it may help against.
    """

    text: str
    reasons: frozenset[int]
    search: Search


def relaxations_of(search: Search) -> list[Relaxation]:
    """Relax the constraints of a search one at a time."""
    scenario, space, limits = search.scenario, search.space, search.scenario.limits

    def spaced(**changes: Any) -> Search:  # noqa: ANN401
        return replace(search, space=replace(space, **changes))

    def loaded(**changes: Any) -> Search:  # noqa: ANN401
        return replace(search, scenario=replace(scenario, **changes))

    def length(value: float) -> str:
        return UNITS_TO_WRITE[scenario.display].show(value, "length")

    finer = tuple(replace(one, pitch=one.pitch / 2) for one in space.threads)
    long, half, plate = 2 * space.plate_length, 0.5 * space.motor_feet, scenario.plate
    longer = loaded(plate=replace(plate, weight=2 * plate.weight))
    left, right = (
        replace(one, limit=_ANY_LOAD, starting_limit=_ANY_LOAD) for one in scenario.driven.bearings
    )
    unbroken = loaded(driven=replace(scenario.driven, bearings=(left, right)))
    no_adjuster, no_hinge = replace(limits, adjuster=None), replace(limits, hinge=None)
    acts = ", ".join(f'"{one}"' for one in ACTIONS)
    of_kind = {Reason.ADJUSTER_GEOMETRY, Reason.LEAVES_ADJUSTER, Reason.ADJUSTER_LOAD}
    in_way, of_feet = Reason.MOTOR_IN_THE_WAY, {Reason.FEET_PAST_HINGE, Reason.PLATE_LENGTH}
    codes = [Reason.KEEP_OUT + index for index in range(len(space.keep_outs))]
    room = {*codes, in_way} if codes else set()
    table: list[tuple[str, set[int] | set[Reason], Search]] = [
        ('motor_side = "either"', {Reason.MOTOR_SIDE}, spaced(motor_side=MotorSide.EITHER)),
        (f"acts = [{acts}]", {Reason.LEAVES_ADJUSTER}, spaced(acts=ACTIONS)),
        ("all kinds of adjuster", of_kind, spaced(kinds=KINDS)),
        ("no face_offset", {Reason.ADJUSTER_GEOMETRY}, spaced(face_offset=None)),
        ("leverage = 0", {Reason.DEAD_CENTRE}, spaced(leverage=0.0)),
        ("any thread_length", {Reason.THREAD_LENGTH}, spaced(thread_length=math.inf)),
        ("bolt_beside_motor = true", {in_way}, spaced(bolt_beside_motor=True)),
        ("threads half as coarse", {Reason.BEARING, Reason.TAKE_UP}, spaced(threads=finer)),
        (
            f"a plate_length of {length(long)}",
            {Reason.PLATE_LENGTH},
            replace(longer, space=replace(space, plate_length=long)),
        ),
    ]
    for name in ("hinge_x", "hinge_y", "reach", "motor_height"):
        for ends in _wider(name, space):
            text = f"{name} from {length(ends[0])} to {length(ends[1])}"
            table.append((text, _OF_PLACE, spaced(**{name: ends})))
    around = None if space.motor_direction is None else (-math.pi, math.pi)
    table += [
        ("any motor_direction", _OF_PLACE, spaced(motor_direction=around)),
        ("an adjuster that carries any load", {Reason.ADJUSTER_LOAD}, loaded(limits=no_adjuster)),
        ("a hinge that carries any load", {Reason.HINGE_LOAD}, loaded(limits=no_hinge)),
        ("bearings that carry any load", {Reason.BEARING}, unbroken),
        # Of shorter feet plate and bolt have more room.
        (f"motor_feet of {length(half)}", {*of_feet, in_way}, spaced(motor_feet=half)),
    ]
    for code, gone in zip(codes, space.keep_outs, strict=True):
        others = tuple(one for one in space.keep_outs if one is not gone)
        text = f"keep-out {shown(gone.name)} out of the way"
        table.append((text, {code}, spaced(keep_outs=others)))
    table += [
        ("clearance = 0", room, spaced(clearance=0.0)),
        ("wrench_space = 0", room, spaced(wrench_space=0.0)),
    ]
    # What the search allows already is no relaxation.
    return [
        Relaxation(text, frozenset(reasons), changed)
        for text, reasons, changed in table
        if changed != search
    ]


def _wider(name: str, space: SearchSpace) -> tuple[Range, Range]:
    """A range wider to either side by its own width."""
    low, high = getattr(space, name)
    width = (high - low) or 0.5 * abs(low) or space.motor_height[0]
    less = low - width
    if name in {"reach", "motor_height"}:
        less = max(less, _LEAST_LEFT * low)
    return (less, high), (low, high + width)


def reasons_of(search: Search, counts: Counts) -> tuple[tuple[WhyNot, ...], tuple[str, ...]]:
    """Say of each reason what it means and what helps, the most frequent first.

    Some layouts are judged again with one constraint relaxed at a time; what is said to help was
    counted. Where none will do, what would let most through is noted besides.
    """
    order = [int(code) for code in np.argsort(-counts, kind="stable") if counts[code] and code]
    none_will_do = not counts[Reason.FEASIBLE]
    tried = _AGAIN_WHERE_NONE if none_will_do else _AGAIN
    unit = points(0, tried, len(DIMENSIONS), search.space.seed)

    def counted(changed: Search) -> Counts:
        return np.bincount(Feasibility.of(changed).samples(unit).reason, minlength=len(counts))

    # A wider range may help against every keep-out.
    blamed = {*order, *(min(code, int(Reason.KEEP_OUT)) for code in order)}
    before, some = counted(search), [one for one in relaxations_of(search) if one.reasons & blamed]
    after = [(one, counted(one.search)) for one in some]
    after.sort(key=lambda one: -int(one[1][Reason.FEASIBLE]))

    said: set[str] = set()
    why_not = []
    for code in order:
        sentence, lift = CAUSES[Reason(min(code, Reason.KEEP_OUT))], 0.0
        for relaxation, now in after:
            advice = _advice(code, relaxation, before, now)
            if advice is not None and relaxation.text not in said:
                said.add(relaxation.text)
                lift = advice
                sentence += (
                    f"; with {relaxation.text} {now[Reason.FEASIBLE]:,} of {tried:,} will do, not "
                    f"{before[Reason.FEASIBLE]:,}"
                )
                break
        name = reason_name(code, search.space.keep_outs)
        why_not.append(WhyNot(name, int(counts[code]), sentence, lift))
    if not none_will_do:
        return tuple(why_not), ()
    through = [(one, int(now[Reason.FEASIBLE])) for one, now in after][:_MOST_TOLD]
    listed = "; ".join(f"{count:,} with {one.text}" for one, count in through if count)
    note = (
        f"No layout will do as it is. Of {tried:,} tried again with one thing changed, these will: "
        f"{listed}."
        if listed
        else f"No layout will do, and none of {tried:,} tried again with one thing changed: more "
        "than one is in the way; begin with the most frequent reason."
    )
    return tuple(why_not), (note,)


def _advice(code: int, relaxation: Relaxation, before: Counts, now: Counts) -> float | None:
    """How many times as many layouts do with what helps against a reason."""
    few, many = int(before[Reason.FEASIBLE]), int(now[Reason.FEASIBLE])
    # Without a keep-out the codes of the others are not the same.
    helps = code >= Reason.KEEP_OUT or now[code] < before[code]
    enough = many >= max(_MORE * few, few + _MORE_LAYOUTS)
    if helps and enough and relaxation.reasons & {code, min(code, int(Reason.KEEP_OUT))}:
        return many / few if few else math.inf
    return None
