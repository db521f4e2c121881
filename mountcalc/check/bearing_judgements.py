"""What is judged of the bearings: limits, pressures, directions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from mountcalc.check.drive_judgements import when
from mountcalc.check.set_point import TIGHT, SetPoint
from mountcalc.equilibrium.bearings import CASES, BearingSolution, solve_bearings
from mountcalc.formulas.load_direction import DirectionJudgement, judge_cap, judge_groove
from mountcalc.formulas.trumpler import start_up_criterion
from mountcalc.handbook.bearings import bearing_services
from mountcalc.judgement import ANGLE, FORCE, PRESSURE, Judgement, Kind, Measure, Topic, Verdict
from mountcalc.scenario.model import Bearing

# A load below this share of the limit has no direction that matters.
_HARDLY_LOADED = 0.01
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
    criterion = start_up_criterion((load or 0.0) / bearing.projected_area)
    topic = Topic("start-up-pressure", criterion.source, bearing.name, "starting")
    if load is None:
        return _untold(topic)
    return topic.judge(
        Measure.at_most(PRESSURE, criterion.value, criterion.limit),
        f'"{bearing.name}" stands under {loads.text(PRESSURE, criterion.value)} before it '
        f"turns; {loads.text(PRESSURE, criterion.limit)} is the most",
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
        return Topic(name, "MPTA Standard 401", bearing.name).judge(Measure(ANGLE, None), sentence)
    case, worst = min(judged, key=lambda one: (one[1].met, one[1].angle))
    measure = Measure.at_least(ANGLE, worst.angle, worst.limit)
    if worst.met and measure.verdict is Verdict.FAIL:  # a dowelled cap may be loaded
        measure = Measure(ANGLE, worst.angle, verdict=Verdict.PASS)
    return Topic(name, worst.source, bearing.name, case).judge(
        measure, f'"{bearing.name}", {when(case)}: {worst.sentence}'
    )
