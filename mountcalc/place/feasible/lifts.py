"""Searches with one constraint lifted, to see what stands in the way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from mountcalc.place.feasible.layouts import ACTIONS, KINDS
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import MotorSide, Search
from mountcalc.scenario.text.wording import shown
from mountcalc.scenario.text.writing import Notes

__all__ = ["Lift", "lifts_of"]

# Reasons at which a range of places is to blame.
_OF_PLACE = frozenset(
    {
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
    }
)
_LEAST_LEFT = 0.25  # of a length that is made less
_ANY_LOAD = 1e12  # [N]


@dataclass(frozen=True, slots=True)
class Lift:
    """A search with one constraint lifted.

    ``told`` continues "with ..."; ``reasons`` are those that it may help against.
    """

    told: str
    reasons: frozenset[int]
    search: Search


def lifts_of(search: Search) -> Iterator[Lift]:
    """Lift the constraints of a search one at a time."""
    yield from _choices(search)
    yield from _widened(search)
    yield from _loads(search)
    yield from _feet(search)
    yield from _ground(search)


def _lift(search: Search, told: str, reasons: frozenset[int], **space: Any) -> Lift:  # noqa: ANN401
    return Lift(told, reasons, replace(search, space=replace(search.space, **space)))


def _choices(search: Search) -> Iterator[Lift]:
    """What is chosen from a list, and numbers of the search itself."""
    space = search.space
    if space.motor_side is not MotorSide.EITHER:
        side = frozenset({Reason.MOTOR_SIDE})
        yield _lift(search, 'motor_side = "either"', side, motor_side=MotorSide.EITHER)
    if len(space.acts) < len(ACTIONS):
        names = ", ".join(f'"{one}"' for one in ACTIONS)
        told = f"acts = [{names}]"
        yield _lift(search, told, frozenset({Reason.LEAVES_ADJUSTER}), acts=ACTIONS)
    if len(space.kinds) < len(KINDS):
        some = frozenset({Reason.ADJUSTER_GEOMETRY, Reason.LEAVES_ADJUSTER, Reason.ADJUSTER_LOAD})
        yield _lift(search, "all kinds of adjuster", some, kinds=KINDS)
    if space.face_offset is not None:
        wrong_side = frozenset({Reason.ADJUSTER_GEOMETRY})
        yield _lift(search, "no face_offset", wrong_side, face_offset=None)
    if space.leverage > 0:
        yield _lift(search, "leverage = 0", frozenset({Reason.DEAD_CENTRE}), leverage=0.0)
    thread = frozenset({Reason.THREAD_LENGTH})
    yield _lift(search, "any thread_length", thread, thread_length=math.inf)
    if not space.bolt_beside_motor:
        motor = frozenset({Reason.MOTOR_IN_THE_WAY})
        yield _lift(search, "bolt_beside_motor = true", motor, bolt_beside_motor=True)
    finer = tuple(replace(one, pitch=one.pitch / 2) for one in space.threads)
    some = frozenset({Reason.BEARING, Reason.TAKE_UP})
    yield _lift(search, "threads half as coarse", some, threads=finer)
    longer = _lift(
        search,
        f"a plate_length of {_shown(search, 2 * space.plate_length)}",
        frozenset({Reason.PLATE_LENGTH}),
        plate_length=2 * space.plate_length,
    )
    plate = replace(search.scenario.plate, weight=2 * search.scenario.plate.weight)
    scenario = replace(search.scenario, plate=plate)
    yield replace(longer, search=replace(longer.search, scenario=scenario))


def _widened(search: Search) -> Iterator[Lift]:
    """Each range wider to one side by its own width."""
    for name in ("hinge_x", "hinge_y", "reach", "motor_height"):
        low, high = getattr(search.space, name)
        width = (high - low) or 0.5 * abs(low) or search.space.motor_height[0]
        less = low - width
        if name in {"reach", "motor_height"}:
            less = max(less, _LEAST_LEFT * low)
        for ends in ((less, high), (low, high + width)):
            told = f"{name} from {_shown(search, ends[0])} to {_shown(search, ends[1])}"
            yield _lift(search, told, _OF_PLACE | {Reason.KEEP_OUT}, **{name: ends})
    if search.space.motor_direction is not None:
        around = (-math.pi, math.pi)
        some = _OF_PLACE | {Reason.KEEP_OUT}
        yield _lift(search, "any motor_direction", some, motor_direction=around)


def _loads(search: Search) -> Iterator[Lift]:
    """What adjuster, hinge and bearings may carry."""
    scenario = search.scenario
    limits = scenario.limits

    def lifted(told: str, reason: Reason, changed: Scenario) -> Lift:
        return Lift(told, frozenset({reason}), replace(search, scenario=changed))

    if limits.adjuster is not None:
        changed = replace(scenario, limits=replace(limits, adjuster=None))
        yield lifted("an adjuster that carries any load", Reason.ADJUSTER_LOAD, changed)
    if limits.hinge is not None:
        changed = replace(scenario, limits=replace(limits, hinge=None))
        yield lifted("a hinge that carries any load", Reason.HINGE_LOAD, changed)
    left, right = (
        replace(one, limit=_ANY_LOAD, starting_limit=_ANY_LOAD) for one in scenario.driven.bearings
    )
    changed = replace(scenario, driven=replace(scenario.driven, bearings=(left, right)))
    yield lifted("bearings that carry any load", Reason.BEARING, changed)


def _feet(search: Search) -> Iterator[Lift]:
    """Shorter feet, of which the plate and the bolt have more room."""
    some = frozenset({Reason.FEET_PAST_HINGE, Reason.PLATE_LENGTH, Reason.MOTOR_IN_THE_WAY})
    half = 0.5 * search.space.motor_feet
    yield _lift(search, f"motor_feet of {_shown(search, half)}", some, motor_feet=half)


def _ground(search: Search) -> Iterator[Lift]:
    """Each keep-out, and the room that all of them want."""
    space = search.space
    codes = frozenset(range(Reason.KEEP_OUT, Reason.KEEP_OUT + len(space.keep_outs)))
    for index, gone in enumerate(space.keep_outs):
        left = tuple(one for one in space.keep_outs if one is not gone)
        some = frozenset({Reason.KEEP_OUT + index})
        told = f"keep-out {shown(gone.name)} out of the way"
        yield _lift(search, told, some, keep_outs=left)
    if codes:
        codes |= {Reason.MOTOR_IN_THE_WAY}
        yield _lift(search, "clearance = 0", codes, clearance=0.0)
        yield _lift(search, "wrench_space = 0", codes, wrench_space=0.0)


def _shown(search: Search, length: float) -> str:
    return Notes(search.scenario.display).show(length, "length")
