"""What is judged of a mount: drive, setting, plate and motor, then bearings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

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
from mountcalc.handbook.bearings import bearing_services
from mountcalc.judgement import (
    ANGLE,
    FORCE,
    NUMBER,
    POWER,
    PRESSURE,
    ROTATION_SPEED,
    Judgement,
    Kind,
    Measure,
    Topic,
    Verdict,
    figures,
)
from mountcalc.requirements.setting import idles
from mountcalc.scenario.model import Bearing
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


# A load below this share of the limit has no direction that matters.
_HARDLY_LOADED = 0.01
_TRUMPLER = "Trumpler's criteria, Shigley ch. 12"
_DIRECTIONS = "MPTA Standard 401"
_STARTING_SOURCE = "the scenario, or twice the limit where it is silent (MPTA Standard 401)"


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


@dataclass(frozen=True)
class _Loads:
    """The loads of one bearing in every case, rotation and place of a set point."""

    point: SetPoint
    bearing: Bearing
    solutions: dict[str, tuple[BearingSolution, ...]]

    @staticmethod
    def of(point: SetPoint, index: int) -> _Loads:
        """Solve one bearing."""
        solutions = {
            name: tuple(
                solve_bearings(point.scenario, getattr(cases, name), name)[index]
                for cases in point.cases
            )
            for name in CASES
        }
        return _Loads(point, point.scenario.driven.bearings[index], solutions)

    def greatest(self, *cases: str) -> float | None:
        """Greatest load [N] of some cases; None where set point or tighter has one untold."""
        loads = np.stack([one.load for case in cases for one in self.solutions[case]])
        if not np.all(np.isfinite(loads[:, [self.point.middle, TIGHT]])):
            return None
        return float(np.nanmax(loads))

    def directions(self) -> Iterator[tuple[str, float]]:
        """Case and direction [rad] of every load that is worth judging."""
        for case, solutions in self.solutions.items():
            for solution in solutions:
                is_load = solution.load > _HARDLY_LOADED * self.bearing.limit
                for direction in solution.direction[is_load]:
                    yield case, float(direction)

    def text(self, kind: Kind, value: float) -> str:
        """An amount in the units of the display."""
        return kind.text(value, self.point.scenario.display)


def bearing_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of both bearings."""
    found: list[Judgement] = []
    for index in range(2):
        loads = _Loads.of(point, index)
        found += [_limit(loads, case) for case in CASES]
        found.append(_start_up(loads))
        if loads.bearing.service is not None:
            found.append(_service(loads, loads.bearing.service))
        found += _directions(loads)
    return tuple(found)


def opposite_to_loads(point: SetPoint, index: int) -> float:
    """The direction that all loads of one bearing are farthest from."""
    directions = np.array([angle for _, angle in _Loads.of(point, index).directions()])
    return float(np.arctan2(-np.sin(directions).sum(), -np.cos(directions).sum()))


def _untold(topic: Topic) -> Judgement:
    """A load that cannot be told; what loses the plate is judged elsewhere."""
    sentence = f'"{topic.subject}": no load can be told where the plate finds no balance'
    return topic.judge(Measure(FORCE, None), sentence)


def _limit(loads: _Loads, case: str) -> Judgement:
    """Load of a case against the limit that holds for it, as the user thinks of it."""
    bearing, value = loads.bearing, loads.greatest(case)
    limit, source = bearing.limit, "given in the scenario"
    if case == "starting":
        limit, source = bearing.starting_limit, _STARTING_SOURCE
    topic = Topic("bearing-limit", source, bearing.name, case)
    if value is None:
        return _untold(topic)
    kind = PRESSURE if bearing.limit_given_as_pressure else FORCE
    area = bearing.projected_area if bearing.limit_given_as_pressure else 1.0
    return topic.judge(
        Measure.at_most(kind, value / area, limit / area),
        f'"{bearing.name}" carries {loads.text(kind, value / area)} {when(case)}, '
        f"of {loads.text(kind, limit / area)}",
    )


def _start_up(loads: _Loads) -> Judgement:
    """Pressure that stands on the journal as it starts to turn."""
    bearing, load = loads.bearing, loads.greatest("rest", "starting")
    topic = Topic("start-up-pressure", _TRUMPLER, bearing.name, "starting")
    if load is None:
        return _untold(topic)
    pressure = load / bearing.projected_area
    return topic.judge(
        Measure.at_most(PRESSURE, pressure, START_UP_PRESSURE),
        f'"{bearing.name}" stands under {loads.text(PRESSURE, pressure)} before it '
        f"turns; {loads.text(PRESSURE, START_UP_PRESSURE)} is the most",
    )


def _service(loads: _Loads, key: str) -> Judgement:
    """Pressure at rest and running against the range in use for the named service."""
    service, bearing = bearing_services()[key], loads.bearing
    topic = Topic("service-pressure", service.source, bearing.name, "running", sure=service.sure)
    load = loads.greatest("rest", "running")
    if load is None:
        return _untold(topic)
    pressure = load / bearing.projected_area
    measure = Measure.at_most(PRESSURE, pressure, service.high)
    where = "within" if pressure >= service.low else "below"
    if measure.verdict is Verdict.FAIL:
        where = "above"
    value, low, high = (loads.text(PRESSURE, one) for one in (pressure, service.low, service.high))
    return topic.judge(
        measure,
        f'"{bearing.name}" carries {value} at rest or running, {where} '
        f"the range in use for {service.name}, {low} to {high}",
    )


def _directions(loads: _Loads) -> Iterator[Judgement]:
    """The rules of direction that the scenario gives the means to judge."""
    bearing, directions = loads.bearing, list(loads.directions())
    groove, cap, dowelled = bearing.groove_direction, bearing.cap_direction, bearing.cap_dowelled
    if groove is not None:
        judged = [(case, judge_groove(angle, groove)) for case, angle in directions]
        yield _direction(bearing, "groove-direction", judged)
    if cap is not None:
        judged = [
            (case, judge_cap(angle, cap, cap_dowelled=dowelled)) for case, angle in directions
        ]
        yield _direction(bearing, "cap-direction", judged)


def _direction(
    bearing: Bearing, name: str, judged: list[tuple[str, DirectionJudgement]]
) -> Judgement:
    """The worst direction that a load takes under one rule."""
    if not judged:
        sentence = f'"{bearing.name}" carries next to no load, so its direction does not matter'
        return Topic(name, _DIRECTIONS, bearing.name).judge(Measure(ANGLE, None), sentence)
    case, worst = min(judged, key=lambda one: (one[1].met, one[1].angle))
    measure = Measure.at_least(ANGLE, worst.angle, LEAST_ANGLE)
    if worst.met and measure.verdict is Verdict.FAIL:  # a dowelled cap may be loaded
        measure = Measure(ANGLE, worst.angle, verdict=Verdict.PASS)
    return Topic(name, _DIRECTIONS, bearing.name, case).judge(
        measure, f'"{bearing.name}", {when(case)}: {worst.sentence}'
    )
