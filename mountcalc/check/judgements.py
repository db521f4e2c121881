"""What is judged of the drive and its setting: grip, plate, adjuster, hinge, speed, motor."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from mountcalc.check.set_point import SetPoint
from mountcalc.equilibrium.bearings import CASES
from mountcalc.equilibrium.states import State
from mountcalc.judgement.measures import (
    FORCE,
    NUMBER,
    POWER,
    ROTATION_SPEED,
    Measure,
    Topic,
    figures,
)
from mountcalc.judgement.results import Judgement, Verdict
from mountcalc.requirements.idle import idles
from mountcalc.scenario.text.wording import listed

__all__ = ["drive_judgements"]

Array = NDArray[np.float64]

OURS = "the scenario, or the default where it is silent"
GIVEN = "given in the scenario"
_LOST = {
    State.NO_BALANCE: "finds no balance with a taut belt",
    State.AT_STOP: "is driven against the tight end of the travel",
    State.BEYOND_TRAVEL: "is past the travel",
}


def drive_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of a mount but its bearings."""
    found = [_setting(point)]
    if point.turns != 0 or not idles(point.scenario):  # an idle belt at zero need not pull
        found += [_grip(point, "running"), _start(point)]
    found.append(_plate(point))
    if point.has_adjuster:
        found.append(_part(point, "adjuster"))
    found += [_part(point, "hinge"), _speed(point), _rating(point)]
    return tuple(found)


def _setting(point: SetPoint) -> Judgement:
    """Whether any setting keeps both promises."""
    topic = Topic("setting", OURS)
    setting = point.setting
    if point.has_adjuster and idles(point.scenario):
        return topic.judge(Measure.note(NUMBER, None), str(setting.why_not_open))
    verdict = Verdict.PASS if setting.open else Verdict.FAIL
    if not point.has_adjuster or setting.turns_min is None:
        kept = "weight alone keeps the wanted grip and every known limit"
        sentence = kept if setting.open else str(setting.why_not_open)
        return topic.judge(Measure(NUMBER, None, verdict=verdict), sentence)
    most = setting.turns_max
    if most is None and setting.free_turns is not None:
        sentence = setting.why_not_open or (
            f"the wanted grip is there from {figures(setting.turns_min)} turns on; at "
            f"{figures(setting.free_turns)} turns the adjuster comes free, and more add nothing"
        )
        return topic.judge(Measure(NUMBER, None, verdict=verdict), sentence)
    width = (point.promises.last_turn if most is None else most) - setting.turns_min
    needed = 2 * setting.turn_error
    measure = Measure.at_least(NUMBER, width, needed)
    sentence = setting.why_not_open or (
        f"{figures(width)} turns lie between the wanted grip and the "
        f"{'end of the travel' if most is None else 'first limit'}; "
        f"a hand and a lock nut want {figures(needed)} turns"
    )
    return topic.judge(Measure(NUMBER, width, needed, measure.share, verdict), sentence)


def _least_grip(point: SetPoint, name: str) -> tuple[float, str]:
    """Least grip over rotations and places in units of the running pull; why it is endless."""
    grips = [getattr(cases, name).grip for cases in point.cases]
    least = min(float(np.min(np.nan_to_num(grip.value, nan=0.0, posinf=np.inf))) for grip in grips)
    return least, next((grip.reason for grip in grips if grip.reason), "")


def _grip(point: SetPoint, name: str) -> Judgement:
    """Grip against the grip that is wanted; starting, in units of the starting pull."""
    scenario = point.scenario
    starting = name == "starting"
    wanted = scenario.limits.starting_grip if starting else scenario.limits.grip
    assert wanted is not None
    value, reason = _least_grip(point, name)
    value /= scenario.driven.starting_factor if starting else 1.0
    if math.isinf(value):
        sentence = f"{name}, {reason}"
    else:
        sentence = (
            f"{name}, the belt carries {figures(value)} times the pull that is needed before it "
            f"slips; {figures(wanted)} times is wanted"
        )
    return Topic("grip", OURS, case=name).judge(Measure.at_least(NUMBER, value, wanted), sentence)


def _start(point: SetPoint) -> Judgement:
    """Grip as the belt starts: judged where a starting grip is wanted, else told."""
    if point.scenario.limits.starting_grip is not None:
        return _grip(point, "starting")
    value, _ = _least_grip(point, "starting")
    value /= point.scenario.driven.starting_factor
    slips = value < 1.0
    sentence = (
        "the belt slips for a moment as it starts; many drives do, and starting_grip in [limits] "
        "says if this one must not"
        if slips
        else "the belt does not slip as it starts"
    )
    measure = Measure.note(NUMBER, None if math.isinf(value) else value, 1.0)
    return Topic("grip", "common practice", case="starting").judge(measure, sentence)


def _plate(point: SetPoint) -> Judgement:
    """Whether the plate rests on something in every case, and on what."""
    topic = Topic("plate", "statics of the plate")
    states = {
        name: {
            State(str(state))
            for cases in point.cases
            for state in getattr(cases, name).state[point.middle :]
        }
        for name in CASES
    }
    lost = []
    for state, why in _LOST.items():
        names = [_when(name) for name in CASES if state in states[name]]
        if names:
            lost.append(f"{listed(names, 'and')}, the plate {why}")
    if lost:
        return topic.judge(Measure(NUMBER, None, verdict=Verdict.FAIL), "; ".join(lost))
    return _resting_plate(topic, states, has_adjuster=point.has_adjuster)


def _resting_plate(topic: Topic, states: dict[str, set[State]], *, has_adjuster: bool) -> Judgement:
    riding = [_when(name) for name, found in states.items() if State.RIDING in found]
    if not riding:
        sentence, verdict = "the adjuster holds the plate at rest, running and starting", "pass"
    elif not has_adjuster:
        sentence, verdict = "the plate rides on the belt by weight, as it is meant to", "pass"
    else:
        sentence = (
            f"the plate rides on the belt, clear of the adjuster, {listed(riding, 'and')}: weight "
            "and belt set the tension then, not the adjuster"
        )
        verdict = "note"
    return topic.judge(Measure(NUMBER, None, verdict=Verdict(verdict)), sentence)


def _when(name: str) -> str:
    return "at rest" if name == "rest" else name


def _greatest(arrays: list[Array]) -> float | None:
    """Greatest size over all places and rotations; None where nothing is loaded."""
    sizes = np.abs(np.stack(arrays))
    return float(np.nanmax(sizes)) if np.any(np.isfinite(sizes)) else None


def _part(point: SetPoint, name: str) -> Judgement:
    """Greatest load on the adjuster or the hinge against the limit that was given, if any."""
    forces = [getattr(case, name) for cases in point.cases for case in cases]
    if name == "hinge":
        forces = [np.hypot(force[..., 0], force[..., 1]) for force in forces]
    value, limit = _greatest(forces), getattr(point.scenario.limits, name)
    topic = Topic(f"{name}-load", GIVEN if limit is not None else "statics of the plate")
    if value is None:
        return topic.judge(
            Measure.note(FORCE, None, limit),
            f"the load on the {name} cannot be told where the plate finds no balance",
        )
    display = point.scenario.display
    sentence = f"the {name} carries up to {FORCE.text(value, display)}"
    if limit is None:
        sentence += f"; no limit for it is given ({name} in [limits])"
        return topic.judge(Measure.note(FORCE, value), sentence)
    return topic.judge(
        Measure.at_most(FORCE, value, limit),
        f"{sentence}; {FORCE.text(limit, display)} is allowed",
    )


def _speed(point: SetPoint) -> Judgement:
    speed, most = point.promises.solved.mount.driven_speed, point.scenario.driven.max_speed
    turns = f"the driven shaft turns at {ROTATION_SPEED.text(speed, point.scenario.display)}"
    if most is None:
        sentence = f"{turns}; no max_speed is given for it"
        return Topic("driven-speed", "speeds and pulleys").judge(
            Measure.note(ROTATION_SPEED, speed), sentence
        )
    return Topic("driven-speed", GIVEN).judge(
        Measure.at_most(ROTATION_SPEED, speed, most),
        f"{turns}; its maximum is {ROTATION_SPEED.text(most, point.scenario.display)}",
    )


def _rating(point: SetPoint) -> Judgement:
    scenario = point.scenario
    power, rating = scenario.driven.power, scenario.motor.power
    return Topic("motor-rating", GIVEN).judge(
        Measure.at_most(POWER, power, rating),
        f"the machine takes {POWER.text(power, scenario.display)} of the "
        f"{POWER.text(rating, scenario.display)} that the motor is rated for",
    )
