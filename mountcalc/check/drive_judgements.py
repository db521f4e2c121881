"""What is judged of the drive and its setting: grip, plate, adjuster, hinge, speed, motor."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.check.set_point import SetPoint
from mountcalc.equilibrium.bearings import CASES
from mountcalc.equilibrium.states import State
from mountcalc.judgement import (
    FORCE,
    NUMBER,
    POWER,
    ROTATION_SPEED,
    Judgement,
    Measure,
    Topic,
    Verdict,
    figures,
)
from mountcalc.requirements.setting import idles
from mountcalc.scenario.text.wording import listed

OURS = "the scenario, or the default where it is silent"
"""Source of a limit that has a default."""
_GIVEN = "given in the scenario"
_STATICS = "statics of the plate"
_LOST = {
    State.NO_BALANCE: "finds no balance with a taut belt",
    State.AT_STOP: "is driven against the tight end of the travel",
    State.BEYOND_TRAVEL: "is past the travel",
}


def when(case: str) -> str:
    """A load case in a sentence."""
    return "at rest" if case == "rest" else case


def drive_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of a mount but its bearings."""
    found = [_setting(point)]
    if point.turns != 0 or not idles(point.scenario):  # an idle belt at zero need not pull
        found += [_grip(point, "running"), _start(point)]
    found.append(_plate(point))
    if point.has_adjuster:
        found.append(_part(point, "adjuster"))
    return (*found, _part(point, "hinge"), _speed(point), _rating(point))


def _setting(point: SetPoint) -> Judgement:
    """Whether any setting keeps both promises."""
    topic, setting = Topic("setting", OURS), point.setting
    if point.has_adjuster and idles(point.scenario):
        return topic.judge(Measure(NUMBER, None), str(setting.why_not_open))
    verdict = Verdict.PASS if setting.open else Verdict.FAIL
    plain = Measure(NUMBER, None, verdict=verdict)
    if not point.has_adjuster or setting.turns_min is None:
        kept = "weight alone keeps the wanted grip and every known limit"
        return topic.judge(plain, kept if setting.open else str(setting.why_not_open))
    most = setting.turns_max
    if most is None and setting.free_turns is not None:
        freed = (
            f"the wanted grip is there from {figures(setting.turns_min)} turns on; at "
            f"{figures(setting.free_turns)} turns the adjuster comes free, and more add nothing"
        )
        return topic.judge(plain, setting.why_not_open or freed)
    width = (point.requirements.last_turn if most is None else most) - setting.turns_min
    needed = 2 * setting.turn_error
    sentence = setting.why_not_open or (
        f"{figures(width)} turns lie between the wanted grip and the "
        f"{'end of the travel' if most is None else 'first limit'}; "
        f"a hand and a lock nut want {figures(needed)} turns"
    )
    share = Measure.at_least(NUMBER, width, needed).share
    return topic.judge(Measure(NUMBER, width, needed, share, verdict), sentence)


def _least_grip(point: SetPoint, case: str) -> tuple[float, str]:
    """Least grip over rotations and places in units of the case's pull; why it is endless."""
    grips = [getattr(cases, case).grip for cases in point.cases]
    least = min(float(np.min(np.nan_to_num(grip.value, nan=0.0, posinf=np.inf))) for grip in grips)
    pull = point.scenario.driven.starting_factor if case == "starting" else 1.0
    return least / pull, next((grip.reason for grip in grips if grip.reason), "")


def _grip(point: SetPoint, case: str) -> Judgement:
    """Grip against the grip that is wanted."""
    limits = point.scenario.limits
    wanted = limits.starting_grip if case == "starting" else limits.grip
    assert wanted is not None
    value, reason = _least_grip(point, case)
    sentence = f"{case}, {reason}"
    if math.isfinite(value):
        sentence = (
            f"{case}, the belt carries {figures(value)} times the pull that is needed before it "
            f"slips; {figures(wanted)} times is wanted"
        )
    return Topic("grip", OURS, case=case).judge(Measure.at_least(NUMBER, value, wanted), sentence)


def _start(point: SetPoint) -> Judgement:
    """Grip as the belt starts: judged where a starting grip is wanted, else told."""
    if point.scenario.limits.starting_grip is not None:
        return _grip(point, "starting")
    value, _ = _least_grip(point, "starting")
    sentence = "the belt does not slip as it starts"
    if value < 1.0:
        sentence = (
            "the belt slips for a moment as it starts; many drives do, and starting_grip in "
            "[limits] says if this one must not"
        )
    measure = Measure(NUMBER, None if math.isinf(value) else value, 1.0)
    return Topic("grip", "common practice", case="starting").judge(measure, sentence)


def _plate(point: SetPoint) -> Judgement:
    """Whether the plate rests on something in every case, and on what."""
    states = {
        name: {
            State(str(state))
            for cases in point.cases
            for state in getattr(cases, name).state[point.middle :]
        }
        for name in CASES
    }

    def those(state: State) -> str:
        return listed([when(name) for name in CASES if state in states[name]], "and")

    lost = [f"{those(state)}, the plate {why}" for state, why in _LOST.items() if those(state)]
    if lost:
        verdict, sentence = Verdict.FAIL, "; ".join(lost)
    elif not those(State.RIDING):
        verdict = Verdict.PASS
        sentence = "the adjuster holds the plate at rest, running and starting"
    elif not point.has_adjuster:
        verdict, sentence = Verdict.PASS, "the plate rides on the belt by weight, as it is meant to"
    else:
        verdict = Verdict.NOTE
        sentence = (
            f"the plate rides on the belt, clear of the adjuster, {those(State.RIDING)}: weight "
            "and belt set the tension then, not the adjuster"
        )
    return Topic("plate", _STATICS).judge(Measure(NUMBER, None, verdict=verdict), sentence)


def _part(point: SetPoint, name: str) -> Judgement:
    """Greatest load on the adjuster or the hinge against the limit that was given, if any."""
    forces = np.stack([getattr(case, name) for cases in point.cases for case in cases])
    sizes = np.hypot(forces[..., 0], forces[..., 1]) if name == "hinge" else np.abs(forces)
    limit, display = getattr(point.scenario.limits, name), point.scenario.display
    topic = Topic(f"{name}-load", _STATICS if limit is None else _GIVEN)
    if not np.any(np.isfinite(sizes)):
        sentence = f"the load on the {name} cannot be told where the plate finds no balance"
        return topic.judge(Measure(FORCE, None, limit), sentence)
    value = float(np.nanmax(sizes))
    sentence = f"the {name} carries up to {FORCE.text(value, display)}"
    if limit is None:
        sentence += f"; no limit for it is given ({name} in [limits])"
        return topic.judge(Measure(FORCE, value), sentence)
    sentence += f"; {FORCE.text(limit, display)} is allowed"
    return topic.judge(Measure.at_most(FORCE, value, limit), sentence)


def _speed(point: SetPoint) -> Judgement:
    speed, most = point.requirements.solved.mount.driven_speed, point.scenario.driven.max_speed
    display = point.scenario.display
    sentence = f"the driven shaft turns at {ROTATION_SPEED.text(speed, display)}"
    if most is None:
        return Topic("driven-speed", "speeds and pulleys").judge(
            Measure(ROTATION_SPEED, speed), f"{sentence}; no max_speed is given for it"
        )
    return Topic("driven-speed", _GIVEN).judge(
        Measure.at_most(ROTATION_SPEED, speed, most),
        f"{sentence}; its maximum is {ROTATION_SPEED.text(most, display)}",
    )


def _rating(point: SetPoint) -> Judgement:
    scenario = point.scenario
    power, rating = scenario.driven.power, scenario.motor.power
    return Topic("motor-rating", _GIVEN).judge(
        Measure.at_most(POWER, power, rating),
        f"the machine takes {POWER.text(power, scenario.display)} of the "
        f"{POWER.text(rating, scenario.display)} that the motor is rated for",
    )
