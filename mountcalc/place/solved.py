"""One layout at marks by the ordinary solver, every judgement and shapely: it holds, or why not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.check import Evaluation, SetPoint, evaluate
from mountcalc.errors import MountError
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.clearance.fall import Fall, fall_of
from mountcalc.place.clearance.motor_gap import motor_gap
from mountcalc.place.clearance.parts import Sizes
from mountcalc.place.clearance.shapes import (
    DISC_HAIR,
    Gap,
    Outlines,
    clearance_of,
    gaps,
    outlines_of,
)
from mountcalc.place.feasible.judged import Measures
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.place.loads import Loads, loads_at
from mountcalc.place.written import as_written
from mountcalc.requirements.results import Fineness, SpringBalance
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search, SearchSpace

__all__ = ["Refusal", "Solved", "solved"]

# How well the fast judge and the ordinary solver agree on a set point [-], before it is rounded.
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Solved:
    """A layout that holds: its mount, set point and surroundings.

    ``turns`` [-] and ``tension`` [N] of the set point, whose ``loads``, ``fineness`` and
    ``spring_balance`` are told besides; ``clearance`` [m] from the ``nearest``
    keep-out, None where there is none.
    """

    scenario: Scenario
    turns: float
    tension: float
    clearance: float | None
    nearest: str | None
    fall: Fall
    loads: Loads
    fineness: Fineness
    spring_balance: SpringBalance | None


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a layout does not hold: the judgement and what it says."""

    name: str
    sentence: str


def solved(
    search: Search, layouts: Layouts, measures: Measures, index: int
) -> Solved | tuple[Refusal, ...]:
    """Solve a layout as the mount that it is."""
    space = search.space
    ends = float(measures.install[index]), float(measures.take_up[index])
    exact = as_scenario(search.scenario, space, layouts, index, ends)
    scenario = as_written(exact)
    try:
        aim, judged = gentlest_setting(exact).aim_turns, evaluate(scenario)
    except MountError as error:
        return (Refusal("solved", str(error)),)
    point = judged.point
    sizes = Sizes.of(search.scenario, space)
    # Whoever builds it swings the plate from stop to stop, as they are written.
    swept = outlines_of(layouts, index, scenario.plate.travel, sizes)
    found = gaps(swept, space.keep_outs)
    meets = () if space.bolt_beside_motor else _motor_in_the_way(layouts, index, swept, search)
    refusals = (
        *_outside_travel(point, ends),
        *_judged(judged),
        *_set_otherwise(aim, float(measures.set_turns[index])),
        *meets,
        *_too_near(found, space),
    )
    if refusals:
        return refusals
    setting = point.setting
    assert setting.set_turns is not None, "an open setting has a set point"
    assert setting.set_tension is not None, "an open setting has a set point"
    near = min(clearance_of(found).items(), key=lambda one: one[1], default=(None, None))
    one = layouts.take(np.array([index]))
    outlines = outlines_of(layouts, index, ends, sizes)
    fall = fall_of(search.scenario, space, one, outlines, float(measures.set[index]))
    return Solved(
        scenario=scenario,
        turns=setting.set_turns,
        tension=setting.set_tension,
        clearance=near[1],
        nearest=near[0],
        fall=fall,
        loads=loads_at(point.promises, setting.set_turns),
        fineness=setting.fineness,
        spring_balance=setting.spring_balance,
    )


def _outside_travel(point: SetPoint, ends: tuple[float, float]) -> tuple[Refusal, ...]:
    """Whether the solver cuts the travel before install or full take-up."""
    travel = point.promises.solved.travel
    low, high = travel.low, travel.high
    cut = [
        end for end, past in ((low, min(ends) < low.angle), (high, max(ends) > high.angle)) if past
    ]
    return tuple(
        Refusal(
            "travel",
            "install or full take-up lies where the mount cannot be used: there "
            f"{end.reason.value}",
        )
        for end in cut
    )


def _judged(judged: Evaluation) -> tuple[Refusal, ...]:
    """What the ordinary judgements refuse of what is written."""
    return tuple(Refusal(one.name, one.sentence) for one in judged.fails.values())


def _set_otherwise(aim: float | None, other: float) -> tuple[Refusal, ...]:
    """Where solver and fast judge differ on the layout as it was searched."""
    if aim is not None and abs(aim - other) <= _SAME * max(abs(other), 1.0):
        return ()
    return (Refusal("setting", "the solver sets this mount otherwise than the search did"),)


def _motor_in_the_way(
    layouts: Layouts, index: int, outlines: Outlines, search: Search
) -> tuple[Refusal, ...]:
    """Whether the bolt meets the motor on the same plate."""
    sizes = Sizes.of(search.scenario, search.space)
    gap = motor_gap(layouts, index, outlines, sizes, search.space.clearance)
    if gap.bolt >= -DISC_HAIR and gap.wrench >= -DISC_HAIR:
        return ()
    return (Refusal("motor_in_the_way", "its bolt or wrench is too near to the motor"),)


def _too_near(found: tuple[Gap, ...], space: SearchSpace) -> tuple[Refusal, ...]:
    """Keep-outs that are not cleared; the free circle about a bolt's head is room enough."""
    return tuple(
        Refusal(f"keep-out:{gap.keep_out}", f"its {gap.part} is too near to {gap.keep_out}")
        for gap in found
        if gap.distance < (0.0 if gap.part == "wrench" else space.clearance - DISC_HAIR)
        or gap.distance <= 0
    )
