"""One layout by the ordinary solver and every judgement: what is reported of it, or why not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from mountcalc.check import SetPoint, evaluate
from mountcalc.errors import MountError
from mountcalc.place.as_scenario import as_scenario, as_written
from mountcalc.place.feasible.clearances import nearest_keep_out
from mountcalc.place.feasible.fall import Rests, fall_of
from mountcalc.place.feasible.feasibility import Measures
from mountcalc.place.feasible.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.results import PlacedLayout, PlateAngles
from mountcalc.record import Record
from mountcalc.requirements.requirements import limit_shares, requirements_of
from mountcalc.requirements.results import Part, Setting
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.strength.bolt_length import bolt_length
from mountcalc.thresholds import SETTLED

# The turns by which rounding may move a set point: usually a twentieth of that.
_ROUNDED = 0.005
# Turns to either side [-] between which the slope of the tension is taken.
_STEP = 1e-4


class Verified(Record):
    """A layout that holds: its mount as it is written, and what is reported, but for its rank."""

    scenario: Scenario
    placed: PlacedLayout


class Refusal(Record):
    """Why a layout does not hold: the judgement and what it says."""

    name: str
    sentence: str


def verify(
    search: Search, layouts: Layouts, measures: Measures, index: int
) -> Verified | tuple[Refusal, ...]:
    """Solve a layout as the mount that it is."""
    which = np.array([index])
    one, measured = layouts.take(which), measures.take(which)
    ends = float(measured.install[0]), float(measured.take_up[0])
    exact = as_scenario(search.scenario, search.space, layouts, index, ends)
    # Sought as if nothing gave; solved with what gives.
    own = search.scenario.adjuster
    gives = replace(exact.adjuster, spring=own.spring, coil=own.coil)
    scenario = as_written(replace(exact, adjuster=gives))
    try:
        evaluation = evaluate(scenario)
        # Behind what gives turns are others than were sought, and all that is told is solved.
        otherwise = not own.gives and _is_set_otherwise(exact, measured, evaluation.point.setting)
    except MountError as error:
        return (Refusal("solved", str(error)),)
    travel = evaluation.point.requirements.solved.travel
    past = (travel.low, min(ends) < travel.low.angle), (travel.high, max(ends) > travel.high.angle)
    where = "install or full take-up lies where the mount cannot be used: there"
    refusals = [Refusal("travel", f"{where} {end.reason.value}") for end, cut in past if cut]
    refusals += [Refusal(one.name, one.sentence) for one in evaluation.fails.values()]
    if own.gives and _bolt_travel(scenario) > search.space.most_travel(scenario.adjuster.kind):
        sentence = "with what gives, the bolt would travel further than thread_length allows"
        refusals.append(Refusal("thread_length", sentence))
    if otherwise:
        sentence = "the solver sets this mount otherwise than the search did"
        refusals.append(Refusal("setting", sentence))
    if refusals:
        return tuple(refusals)
    return Verified(scenario, _reported(search, one, measured, evaluation.point))


def _bolt_travel(scenario: Scenario) -> float:
    bolt = bolt_length(scenario)
    assert bolt is not None, "a layout has an adjuster"
    return bolt.travel


def _is_set_otherwise(exact: Scenario, measured: Measures, written: Setting) -> bool:
    """Whether solver and search differ on the layout as it was searched.

    That is solved for its own aim only where the aim of what is written is not the search's.
    """
    turns, tension = float(measured.set_turns[0]), float(measured.set_tension[0])
    searched, aim = requirements_of(exact), written.aim_turns
    if aim is None or abs(aim - turns) > _ROUNDED:
        aim = gentlest_setting(exact).aim_turns
        if aim is None or abs(aim - turns) > SETTLED * max(abs(turns), 1.0):
            return True
    return abs(float(searched.tension(turns)[0]) - tension) > SETTLED * abs(tension)


def _reported(search: Search, one: Layouts, measured: Measures, point: SetPoint) -> PlacedLayout:
    """What is reported of a layout, by the ordinary solver where that says it."""
    scenario, space, setting = search.scenario, search.space, point.setting
    turns, tension = setting.set_turns, setting.set_tension
    pitch = point.scenario.adjuster.advance_per_turn
    assert turns is not None, "an open setting has a set point"
    assert tension is not None, "an open setting has a set point"
    assert pitch is not None, "a layout has an adjuster"

    def at(name: str) -> float:
        return float(getattr(one, name)[0])

    # At the set point, and where the hand has missed it to either side.
    requirements, error = point.requirements, scenario.limits.turn_error
    around = np.array([max(turns - error, 0.0), turns, turns + error])
    ways = requirements.cases(around)
    rest, every = ways[0].rest, [case for cases in ways for case in cases]
    shares = [
        share
        for cases in ways
        for key, share in limit_shares(point.scenario, cases).items()
        if key.part is Part.BEARING
    ]
    grip_low = min(float(cases.running.grip.value[0]) for cases in ways)
    slope = np.diff(requirements.tension(max(turns, _STEP) + np.array([-_STEP, _STEP])))
    per_turn = float(slope[0]) / (2 * _STEP)
    # Whoever builds it swings the plate from stop to stop, as they are written.
    nearest = nearest_keep_out(one, point.scenario.plate.travel, search)
    ends = float(measured.install[0]), float(measured.take_up[0])
    fall = fall_of(search, one, ends, float(measured.set[0]))
    on_keep_out = fall.rests is Rests.KEEP_OUT
    own_belt = str(scenario.belt.designation or "as in the scenario")
    belts = space.belts
    return PlacedLayout(
        rank=0,
        hinge=(at("hinge_x"), at("hinge_y")),
        tip=(float(one.tip[0].real), float(one.tip[0].imag)),
        motor=(at("motor_x"), at("motor_y")),
        reach=at("reach"),
        motor_foot=at("foot"),
        motor_height=at("motor_height"),
        kind=KINDS[one.kind[0]].value,
        acts=ACTIONS[one.acts[0]].value,
        thread=space.threads[one.thread[0]].name,
        belt=belts[one.belt[0]].designation if belts else own_belt,
        motor_side="above" if one.normal[0].imag >= 0 else "below",
        plate_angles=PlateAngles(
            ends[0], requirements.solved.travel.snug, float(rest.phi[1]), ends[1]
        ),
        set_turns=turns,
        set_tension=tension,
        tension_per_turn=per_turn,
        tension_per_mm=per_turn / pitch,
        worst_share_of_limit=float(np.max(shares)),
        grip_low=grip_low if np.isfinite(grip_low) else None,
        adjuster=float(rest.adjuster[1]),
        adjuster_most=max(float(np.max(np.abs(case.adjuster))) for case in every),
        hinge_load=float(np.hypot(*rest.hinge[1])),
        hinge_most=max(float(np.max(np.hypot(*case.hinge.T))) for case in every),
        plate_length=at("plate_length"),
        bolt_travel=_bolt_travel(point.scenario),
        clearance=None if nearest is None else nearest[0],
        nearest=None if nearest is None else nearest[1],
        fall=fall.drop,
        falls_onto=f"falls against {fall.against}" if on_keep_out else fall.rests.value,
        stop_at=None if fall.stop is None else fall.stop.at,
        of_weight=bool(measured.of_weight[0]),
        turns_can_be_trusted=setting.sensitivity.turns_can_be_trusted,
        turns_why_not=setting.sensitivity.why_not,
        spring_balance=setting.spring_balance,
        pareto=False,
        methods=setting.methods,
        span=float(np.sqrt(requirements.solved.mount.path(rest.phi).span_squared[1])),
    )
