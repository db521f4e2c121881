"""One layout by the ordinary solver and every judgement: what is told of it, or why not."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.check import Evaluation, SetPoint, evaluate
from mountcalc.errors import MountError
from mountcalc.place.feasible.clearances import nearest_keep_out
from mountcalc.place.feasible.fall import Fall, Rests, fall_of
from mountcalc.place.feasible.feasibility import Measures
from mountcalc.place.feasible.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.feasible.parts import Sizes
from mountcalc.place.mounts import as_scenario, as_written
from mountcalc.place.results import PlacedLayout, PlateAngles
from mountcalc.requirements.promises import Promises, limit_shares, promises_of
from mountcalc.requirements.results import Part, Setting
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search

__all__ = ["Loads", "Refusal", "Verified", "placed_layout", "verify"]

# How well the fast judge and the ordinary solver agree on a set point [-], before it is rounded.
_SAME = 1e-6
# Turns to either side [-] between which the slope of the tension is taken.
_STEP = 1e-4


@dataclass(frozen=True, slots=True)
class Loads:
    """What is told of a mount at its set point.

    Plate angles ``snug`` and ``set`` [rad]; ``tension_per_turn`` [N] at rest. ``worst_share`` [-]
    of a bearing's limit over the hand's error; ``grip_low`` [-] running, where the hand has missed
    on the loose side, infinite where no pull is asked for. ``adjuster`` (compression positive) and
    ``hinge`` [N] at rest, ``adjuster_most`` and ``hinge_most`` [N], sizes, over all cases and the
    hand's error.
    """

    snug: float
    set: float
    tension_per_turn: float
    worst_share: float
    grip_low: float
    adjuster: float
    adjuster_most: float
    hinge: float
    hinge_most: float


@dataclass(frozen=True, slots=True)
class Verified:
    """A layout that holds: its mount as it is written, its setting, and its surroundings.

    ``layout`` and ``measures`` have that one entry. ``turns`` [-] and ``tension`` [N] are those of
    its set point; ``clearance`` [m] is from the ``nearest`` keep-out, None where there is none.
    """

    layout: Layouts
    measures: Measures
    scenario: Scenario
    setting: Setting
    turns: float
    tension: float
    clearance: float | None
    nearest: str | None
    fall: Fall
    loads: Loads

    @property
    def tension_per_length(self) -> float:
        """Tension [N/m] that the bolt adds."""
        pitch = self.scenario.adjuster.advance_per_turn
        assert pitch is not None
        return self.loads.tension_per_turn / pitch


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a layout does not hold: the judgement and what it says."""

    name: str
    sentence: str


def verify(
    search: Search, layouts: Layouts, measures: Measures, index: int
) -> Verified | tuple[Refusal, ...]:
    """Solve a layout as the mount that it is."""
    space, which = search.space, np.array([index])
    one, measured = layouts.take(which), measures.take(which)
    ends = float(measured.install[0]), float(measured.take_up[0])
    exact = as_scenario(search.scenario, space, layouts, index, ends)
    scenario = as_written(exact)
    try:
        solved, judged = promises_of(exact), evaluate(scenario)
    except MountError as error:
        return (Refusal("solved", str(error)),)
    refusals = (
        *_outside_travel(judged.point, ends),
        *_judged(judged),
        *_set_otherwise(solved, measured),
    )
    if refusals:
        return refusals
    setting = judged.point.setting
    assert setting.set_turns is not None, "an open setting has a set point"
    assert setting.set_tension is not None, "an open setting has a set point"
    # Whoever builds it swings the plate from stop to stop, as they are written.
    sizes, stops = Sizes.of(search.scenario, space), scenario.plate.travel
    nearest = nearest_keep_out(one, stops, space.keep_outs, sizes) or (None, None)
    return Verified(
        layout=one,
        measures=measured,
        scenario=scenario,
        setting=setting,
        turns=setting.set_turns,
        tension=setting.set_tension,
        clearance=nearest[0],
        nearest=nearest[1],
        fall=fall_of(search.scenario, space, one, ends, float(measured.set[0])),
        loads=_loads_at(judged.point.promises, setting.set_turns),
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


def _set_otherwise(solved: Promises, measured: Measures) -> tuple[Refusal, ...]:
    """Where solver and fast judge differ on the layout as it was searched."""
    tension = float(solved.tension(measured.set_turns)[0])
    expected = float(measured.set_tension[0])
    if abs(tension - expected) <= _SAME * abs(expected):
        return ()
    return (Refusal("setting", "the solver sets this mount otherwise than the search did"),)


def _loads_at(promises: Promises, turns: float) -> Loads:
    """Solve a mount at its set point and a hand's error to either side."""
    scenario, error = promises.scenario, promises.scenario.limits.turn_error
    around = np.array([max(turns - error, 0.0), turns, turns + error])
    ways = [way.cases(way.place(around)) for way in promises.ways]
    tension = promises.tension(max(turns, _STEP) + np.array([-_STEP, _STEP]))
    rest, every = ways[0].rest, [case for cases in ways for case in cases]
    shares = [
        share
        for cases in ways
        for key, share in limit_shares(scenario, cases).items()
        if key.part is Part.BEARING
    ]
    return Loads(
        snug=promises.solved.travel.snug,
        set=float(rest.phi[1]),
        tension_per_turn=float(np.diff(tension)[0]) / (2 * _STEP),
        worst_share=float(np.max(shares)),
        grip_low=min(float(cases.running.grip.value[0]) for cases in ways),
        adjuster=float(rest.adjuster[1]),
        adjuster_most=max(float(np.max(np.abs(case.adjuster))) for case in every),
        hinge=float(np.hypot(*rest.hinge[1])),
        hinge_most=max(float(np.max(np.hypot(*case.hinge.T))) for case in every),
    )


def placed_layout(search: Search, mount: Verified, *, rank: int, pareto: bool) -> PlacedLayout:
    """A layout that holds, as it is reported."""
    one, measured, loads, fall = mount.layout, mount.measures, mount.loads, mount.fall

    def at(name: str) -> float:
        return float(getattr(one, name)[0])

    belts = search.space.belts
    own_belt = str(search.scenario.belt.designation or "as in the scenario")
    against = fall.rests is Rests.KEEP_OUT
    return PlacedLayout(
        rank=rank,
        hinge=(at("hinge_x"), at("hinge_y")),
        tip=(at("tip_x"), at("tip_y")),
        motor=(at("motor_x"), at("motor_y")),
        reach=at("reach"),
        motor_foot=at("foot"),
        motor_height=at("motor_height"),
        kind=KINDS[one.kind[0]].value,
        acts=ACTIONS[one.acts[0]].value,
        thread=search.space.threads[one.thread[0]].name,
        belt=belts[one.belt[0]].designation if belts else own_belt,
        motor_side="above" if at("normal_y") >= 0 else "below",
        plate_angles=PlateAngles(
            float(measured.install[0]), loads.snug, loads.set, float(measured.take_up[0])
        ),
        set_turns=mount.turns,
        set_tension=mount.tension,
        tension_per_turn=loads.tension_per_turn,
        tension_per_mm=mount.tension_per_length,
        worst_share_of_limit=loads.worst_share,
        grip_low=loads.grip_low if np.isfinite(loads.grip_low) else None,
        adjuster=loads.adjuster,
        adjuster_most=loads.adjuster_most,
        hinge_load=loads.hinge,
        hinge_most=loads.hinge_most,
        plate_length=at("plate_length"),
        bolt_travel=float(measured.bolt_travel[0]),
        clearance=mount.clearance,
        nearest=mount.nearest,
        fall=fall.drop,
        falls_onto=f"falls against {fall.against}" if against else fall.rests.value,
        stop_at=None if fall.stop is None else fall.stop.at,
        of_weight=bool(measured.of_weight[0]),
        turns_can_be_trusted=mount.setting.fineness.turns_can_be_trusted,
        turns_why_not=mount.setting.fineness.why_not,
        spring_balance=mount.setting.spring_balance,
        pareto=pareto,
    )
