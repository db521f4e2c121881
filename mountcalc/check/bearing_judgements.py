"""What is judged of the bearings: limits, pressures, directions; what is only told of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from mountcalc.check.set_point import TIGHT, SetPoint
from mountcalc.equilibrium.bearings import CASES, BearingSolution, solve_bearings
from mountcalc.formulas.load_direction import DirectionJudgement, judge_cap, judge_groove
from mountcalc.formulas.trumpler import start_up_criterion
from mountcalc.handbook.bearings import bearing_services
from mountcalc.judgement.measures import ANGLE, FORCE, PRESSURE, Measure, Topic
from mountcalc.judgement.results import Judgement, Verdict
from mountcalc.scenario.model import Bearing

__all__ = ["bearing_judgements", "opposite_to_loads"]

# A load below this share of the limit has no direction that matters.
_HARDLY_LOADED = 0.01
_LIMIT_SOURCE = "given in the scenario"
_STARTING_SOURCE = "the scenario, or twice the limit where it is silent (MPTA Standard 401)"


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

    def greatest(self, name: str) -> float | None:
        """Greatest load [N] in a case; None where the set point or tighter has none to tell."""
        loads = np.stack([solution.load for solution in self.solutions[name]])
        if not np.all(np.isfinite(loads[:, [self.point.middle, TIGHT]])):
            return None
        return float(np.nanmax(loads))

    def greatest_of(self, names: tuple[str, ...]) -> float | None:
        """Greatest load [N] of several cases; None where one of them cannot be told."""
        loads = [load for load in map(self.greatest, names) if load is not None]
        return max(loads) if len(loads) == len(names) else None

    def directions(self) -> Iterator[tuple[str, float]]:
        """Case and direction [rad] of every load that is worth judging."""
        for name, solutions in self.solutions.items():
            for solution in solutions:
                is_load = solution.load > _HARDLY_LOADED * self.bearing.limit
                for direction in solution.direction[is_load]:
                    yield name, float(direction)


def bearing_judgements(point: SetPoint) -> tuple[Judgement, ...]:
    """Everything that is judged of both bearings."""
    found: list[Judgement] = []
    for index in range(2):
        loads = _Loads.of(point, index)
        found += [_limit(loads, name) for name in CASES]
        found.append(_start_up(loads))
        if loads.bearing.service is not None:
            found.append(_service(loads, loads.bearing.service))
        found += _directions(loads)
    return tuple(found)


def opposite_to_loads(point: SetPoint, index: int) -> float:
    """The direction that all loads of one bearing are farthest from."""
    directions = np.array([angle for _, angle in _Loads.of(point, index).directions()])
    return float(np.arctan2(-np.sin(directions).sum(), -np.cos(directions).sum()))


def _untold(topic: Topic, loads: _Loads) -> Judgement:
    """A load that cannot be told; what loses the plate is judged elsewhere."""
    sentence = f'"{loads.bearing.name}": no load can be told where the plate finds no balance'
    return topic.judge(Measure.note(FORCE, None), sentence)


def _limit(loads: _Loads, name: str) -> Judgement:
    """Load of a case against the limit that holds for it, as the user thinks of it."""
    bearing, starting = loads.bearing, name == "starting"
    topic = Topic(
        "bearing-limit", _STARTING_SOURCE if starting else _LIMIT_SOURCE, bearing.name, name
    )
    value, limit = loads.greatest(name), bearing.starting_limit if starting else bearing.limit
    if value is None:
        return _untold(topic, loads)
    kind, scale = FORCE, 1.0
    if bearing.limit_given_as_pressure:
        kind, scale = PRESSURE, bearing.projected_area
    display = loads.point.scenario.display
    return topic.judge(
        Measure.at_most(kind, value / scale, limit / scale),
        f'"{bearing.name}" carries {kind.text(value / scale, display)} {_when(name)}, '
        f"of {kind.text(limit / scale, display)}",
    )


def _when(name: str) -> str:
    return "at rest" if name == "rest" else name


def _start_up(loads: _Loads) -> Judgement:
    """Pressure that stands on the journal as it starts to turn."""
    bearing = loads.bearing
    load = loads.greatest_of(("rest", "starting"))
    criterion = start_up_criterion(0.0 if load is None else load / bearing.projected_area)
    topic = Topic("start-up-pressure", criterion.source, bearing.name, "starting")
    if load is None:
        return _untold(topic, loads)
    display = loads.point.scenario.display
    return topic.judge(
        Measure.at_most(PRESSURE, criterion.value, criterion.limit),
        f'"{bearing.name}" stands under {PRESSURE.text(criterion.value, display)} before it '
        f"turns; {PRESSURE.text(criterion.limit, display)} is the most",
    )


def _service(loads: _Loads, key: str) -> Judgement:
    """Pressure at rest and running against the range in use for the named service."""
    service, bearing = bearing_services()[key], loads.bearing
    topic = Topic("service-pressure", service.source, bearing.name, "running", sure=service.sure)
    load = loads.greatest_of(("rest", "running"))
    if load is None:
        return _untold(topic, loads)
    pressure = load / bearing.projected_area
    measure = Measure.at_most(PRESSURE, pressure, service.high)
    within = "within" if pressure >= service.low else "below"
    where = "above" if measure.verdict is Verdict.FAIL else within
    value, low, high = (
        PRESSURE.text(number, loads.point.scenario.display)
        for number in (pressure, service.low, service.high)
    )
    return topic.judge(
        measure,
        f'"{bearing.name}" carries {value} at rest or running, {where} '
        f"the range in use for {service.name}, {low} to {high}",
    )


def _directions(loads: _Loads) -> Iterator[Judgement]:
    """The rules of direction that the scenario gives the means to judge."""
    bearing = loads.bearing
    if (groove := bearing.groove_direction) is not None:
        yield _direction(
            loads,
            "groove-direction",
            [(name, judge_groove(angle, groove)) for name, angle in loads.directions()],
        )
    if (cap := bearing.cap_direction) is not None:
        yield _direction(
            loads,
            "cap-direction",
            [
                (name, judge_cap(angle, cap, cap_dowelled=bearing.cap_dowelled))
                for name, angle in loads.directions()
            ],
        )


def _direction(loads: _Loads, name: str, judged: list[tuple[str, DirectionJudgement]]) -> Judgement:
    """The worst direction that a load takes under one rule."""
    bearing = loads.bearing
    if not judged:
        topic = Topic(name, "MPTA Standard 401", bearing.name)
        sentence = f'"{bearing.name}" carries next to no load, so its direction does not matter'
        return topic.judge(Measure.note(ANGLE, None), sentence)
    case, worst = min(judged, key=lambda one: (one[1].met, one[1].angle))
    measure = Measure.at_least(ANGLE, worst.angle, worst.limit)
    if worst.met and measure.verdict is Verdict.FAIL:  # a dowelled cap may be loaded
        measure = Measure(ANGLE, worst.angle, verdict=Verdict.PASS)
    return Topic(name, worst.source, bearing.name, case).judge(
        measure, f'"{bearing.name}", {_when(case)}: {worst.sentence}'
    )
