"""What is judged of a mount: drive, setting, plate and motor, then bearings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from mountcalc.check.set_point import TIGHT, SetPoint
from mountcalc.equilibrium.bearings import CASES, BearingSolution, solve_bearings
from mountcalc.equilibrium.states import State
from mountcalc.formulas.bearing_rules import (
    LEAST_ANGLE,
    START_UP_PRESSURE,
    DirectionJudgement,
    judge_cap,
    judge_groove,
)
from mountcalc.handbook.machine import bearing_services
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.pages.amounts import (
    ANGLE,
    FORCE,
    LENGTH,
    NUMBER,
    POWER,
    PRESSURE,
    ROTATION_SPEED,
    Kind,
    in_figures,
)
from mountcalc.requirements.setting import idles
from mountcalc.scenario.driven import Bearing
from mountcalc.scenario.text.wording import listed

OURS = "the scenario, or its default"
"""Source of a limit that has a default."""
_GIVEN = "given in the scenario"
_STATICS = "statics of the plate"
_LOST = {
    State.NO_BALANCE: "finds no balance with a taut belt",
    State.AT_STOP: "is driven against the tight end of the travel",
    State.BEYOND_TRAVEL: "is past the travel",
}
_STARTING_SOURCE = "the scenario, or twice the limit (MPTA Standard 401)"
# A load below this share of the limit has no direction that matters.
_HARDLY_LOADED = 0.01
_TRUMPLER = "Trumpler's criteria, Shigley ch. 12"
_DIRECTIONS = "MPTA Standard 401"
_UNKNOWN = "no load can be told where the plate finds no balance"


def _when(case: str) -> str:
    """A load case in a sentence."""
    return "at rest" if case == "rest" else case


def drive_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of a mount but its bearings."""
    scenario, display = point.scenario, point.scenario.display
    found = [_setting(point)]
    if point.turns != 0 or not idles(scenario):  # an idle belt at zero need not pull
        found += [_grip(point, "running"), _grip(point, "starting")]
    found.append(_plate(point))
    if point.has_adjuster:
        found.append(_part(point, "adjuster"))
        found += _spring(point)
    speed = point.requirements.solved.mount.driven_speed
    most, power = scenario.driven.max_speed, scenario.driven.power
    measure, topic = Measure(ROTATION_SPEED, speed), Topic("driven-speed", "speeds and pulleys")
    limit = "no max_speed is given for it"
    if most is not None:
        measure, topic = Measure.at_most(ROTATION_SPEED, speed, most), replace(topic, source=_GIVEN)
        limit = f"its maximum is {ROTATION_SPEED.text(most, display)}"
    turns = f"the driven shaft turns at {ROTATION_SPEED.text(speed, display)}; {limit}"
    rating = Topic("motor-rating", _GIVEN).judge(
        Measure.at_most(POWER, power, scenario.motor.power),
        f"the machine takes {POWER.text(power, display)} of the "
        f"{POWER.text(scenario.motor.power, display)} that the motor is rated for",
    )
    return (*found, _part(point, "hinge"), topic.judge(measure, turns), rating)


def _setting(point: SetPoint) -> Judgement:
    """Whether any setting keeps what is required."""
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
            f"the wanted grip is there from {in_figures(setting.turns_min)} turns on; at "
            f"{in_figures(setting.free_turns)} turns the adjuster comes free, and more add "
            "nothing"
        )
        return topic.judge(plain, setting.why_not_open or freed)
    width = (point.requirements.last_turn if most is None else most) - setting.turns_min
    needed = 2 * setting.turn_error
    sentence = setting.why_not_open or (
        f"{in_figures(width)} turns lie between the wanted grip and the "
        f"{'end of the travel' if most is None else 'first limit'}; "
        f"a hand and a lock nut want {in_figures(needed)} turns"
    )
    share = Measure.at_least(NUMBER, width, needed).share
    return topic.judge(Measure(NUMBER, width, needed, share, verdict), sentence)


def _grip(point: SetPoint, case: str) -> Judgement:
    """Least grip over rotations and places against what is wanted of a case, if anything is."""
    grips, limits = [getattr(cases, case).grip for cases in point.cases], point.scenario.limits
    value = min(float(np.min(np.nan_to_num(grip.value, nan=0.0, posinf=np.inf))) for grip in grips)
    wanted: float | None = limits.grip
    if case == "starting":
        value, wanted = value / point.scenario.driven.starting_factor, limits.starting_grip
    if wanted is None:
        sentence = "the belt does not slip as it starts"
        if value < 1.0:
            sentence = (
                "the belt slips for a moment as it starts; many do. If yours must not, set "
                "starting_grip in [limits]"
            )
        measure = Measure(NUMBER, None if math.isinf(value) else value, 1.0)
        return Topic("grip", "common practice", case=case).judge(measure, sentence)
    sentence = next((grip.reason for grip in grips if grip.reason), "")
    if math.isfinite(value):
        sentence = (
            f"the belt carries {in_figures(value)} times the pull that is needed before it "
            f"slips; {in_figures(wanted)} times is wanted"
        )
    measure = Measure.at_least(NUMBER, value, wanted)
    return Topic("grip", OURS, case=case).judge(measure, f"{case}, {sentence}")


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
        return listed([_when(name) for name in CASES if state in states[name]], "and")

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


def _spring(point: SetPoint) -> Iterator[Judgement]:
    """Whether the spring between bolt and plate still has travel left in every case."""
    coil, display = point.scenario.adjuster.coil, point.scenario.display
    if coil is None:
        return
    forces = np.abs([case.adjuster for cases in point.cases for case in cases])
    if not np.any(np.isfinite(forces)):
        return
    travel = float(np.nanmax(forces)) / coil.rate
    topic = Topic("spring-travel", _GIVEN)
    sentence = (
        f"the spring would be pressed in by up to {LENGTH.text(travel, display)}; at "
        f"{LENGTH.text(coil.stop, display)} it is solid and gives no more"
    )
    yield topic.judge(Measure.at_most(LENGTH, travel, coil.stop), sentence)


Loads = Mapping[str, Sequence[BearingSolution]]
"""What one bearing carries: by case, for each rotation of the motor."""


def bearing_loads(point: SetPoint, index: int) -> Loads:
    """What one bearing carries in each case, for each rotation of the motor."""
    return {
        name: [
            solve_bearings(point.scenario, getattr(cases, name), name)[index]
            for cases in point.cases
        ]
        for name in CASES
    }


def load_directions(bearing: Bearing, loads: Loads) -> list[tuple[str, float]]:
    """Case and direction [rad] of every load of one bearing that is worth judging."""
    least = _HARDLY_LOADED * bearing.limit
    return [
        (case, float(direction))
        for case, solutions in loads.items()
        for solution in solutions
        for direction in solution.direction[solution.load > least]
    ]


def bearing_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of both bearings."""
    return tuple(
        judgement
        for index, bearing in enumerate(point.scenario.driven.bearings)
        for loads in [bearing_loads(point, index)]
        for judgement in (
            *_load_judgements(point, bearing, loads),
            *_direction_judgements(bearing, loads),
        )
    )


def _load_judgements(point: SetPoint, bearing: Bearing, loads: Loads) -> Iterator[Judgement]:
    """Loads of one bearing against its limits, and pressures against those in print."""
    display, area = point.scenario.display, bearing.projected_area

    def greatest(*cases: str) -> float | None:
        """Greatest load [N] of some cases; None where set point or tighter has one untold."""
        found = np.stack([one.load for case in cases for one in loads[case]])
        is_known = np.all(np.isfinite(found[:, [point.middle, TIGHT]]))
        return float(np.nanmax(found)) if is_known else None

    def judged(topic: Topic, kind: Kind, load: float | None, limit: float, words: str) -> Judgement:
        """A load [N] or its pressure against a limit; what loses the plate is judged elsewhere."""
        topic = replace(topic, subject=bearing.name)
        if load is None:
            return topic.judge(Measure(FORCE, None), f'"{bearing.name}": {_UNKNOWN}')
        value = load / area if kind is PRESSURE else load
        sentence = words.format(kind.text(value, display), kind.text(limit, display))
        return topic.judge(Measure.at_most(kind, value, limit), f'"{bearing.name}" {sentence}')

    # As the user thinks of it.
    kind, of = (PRESSURE, area) if bearing.limit_given_as_pressure else (FORCE, 1.0)
    for case in CASES:
        limit, source = bearing.limit, _GIVEN
        if case == "starting":
            limit, source = bearing.starting_limit, _STARTING_SOURCE
        topic = Topic("bearing-limit", source, case=case)
        words = f"carries {{}} {_when(case)}, of {{}}"
        yield judged(topic, kind, greatest(case), limit / of, words)
    topic, load = (
        Topic("start-up-pressure", _TRUMPLER, case="starting"),
        greatest("rest", "starting"),
    )
    words = "stands under {} before it turns; {} is the most"
    yield judged(topic, PRESSURE, load, START_UP_PRESSURE, words)
    if bearing.service is not None:
        service, load = bearing_services()[bearing.service], greatest("rest", "running")
        topic = Topic("service-pressure", service.source, case="running", sure=service.sure)
        pressure = (load or 0.0) / area
        where = "within" if pressure >= service.low else "below"
        if Measure.at_most(PRESSURE, pressure, service.high).verdict is Verdict.FAIL:
            where = "above"
        low = PRESSURE.text(service.low, display)
        words = (
            f"carries {{}} at rest or running, {where} the range in use for {service.name}, "
            f"{low} to {{}}"
        )
        yield judged(topic, PRESSURE, load, service.high, words)


def _direction_judgements(bearing: Bearing, loads: Loads) -> Iterator[Judgement]:
    """The worst direction of a load under each rule that the scenario gives the means to judge."""
    groove, cap, dowelled = bearing.groove_direction, bearing.cap_direction, bearing.cap_dowelled
    rules: dict[str, Callable[[float], DirectionJudgement]] = {}
    if groove is not None:
        rules["groove-direction"] = lambda angle: judge_groove(angle, groove)
    if cap is not None:
        rules["cap-direction"] = lambda angle: judge_cap(angle, cap, cap_dowelled=dowelled)
    for name, judge in rules.items():
        judged = [(case, judge(angle)) for case, angle in load_directions(bearing, loads)]
        if not judged:
            sentence = f'"{bearing.name}" carries next to no load, so its direction does not matter'
            yield Topic(name, _DIRECTIONS, bearing.name).judge(Measure(ANGLE, None), sentence)
            continue
        case, worst = min(judged, key=lambda one: (one[1].met, one[1].angle))
        measure = Measure.at_least(ANGLE, worst.angle, LEAST_ANGLE)
        if worst.met and measure.verdict is Verdict.FAIL:  # a dowelled cap may be loaded
            measure = Measure(ANGLE, worst.angle, verdict=Verdict.PASS)
        sentence = f'"{bearing.name}", {_when(case)}: {worst.sentence}'
        yield Topic(name, _DIRECTIONS, bearing.name, case).judge(measure, sentence)
