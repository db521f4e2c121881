"""What there is to tell of each bearing at a set point: loads, edges, film, shaft, and in words."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.check.bearing_film import running_film
from mountcalc.check.set_point import SetPoint
from mountcalc.equilibrium.bearings import CASES, shaft_forces, solve_bearings
from mountcalc.equilibrium.solve import CaseSolution
from mountcalc.errors import InputError
from mountcalc.formulas.bearing_edges import Edge, edge_loads
from mountcalc.formulas.rubbing import pressure_speed, surface_speed
from mountcalc.formulas.shaft_bending import (
    bearing_slopes,
    bending_moment,
    bending_stiffness,
    bending_stress,
)
from mountcalc.handbook.bearings import bearing_services
from mountcalc.judgement.results import BearingCase, BearingReport
from mountcalc.scenario.model import Bearing, Scenario

__all__ = ["bearing_reports"]

_STANDING = (
    "A plain bearing that stands still takes the whole pull of the belt at rest with no film, for "
    "as long as the belt is left tight."
)
_FLATTERED = (
    "The film is that of a full round bearing, flooded: a split or grooved one carries less, and "
    "one that is drip-fed, greased or dry runs without a full film."
)
_BOUNDARY = (
    "Pressure times speed, beside what is published for low-tin babbitt, says how warm a bearing "
    "gets that rubs without a full film; it is no verdict on one that has a film."
)
_EDGES = {
    Edge.MIDDLE: "middle",
    Edge.TOWARDS_PULLEY: "end towards the pulley",
    Edge.AWAY_FROM_PULLEY: "end away from the pulley",
}


def bearing_reports(point: SetPoint) -> tuple[BearingReport, ...]:
    """Report on both bearings at the set point itself, for each case and rotation."""
    return tuple(_report(point, index) for index in range(2))


def _report(point: SetPoint, index: int) -> BearingReport:
    driven = point.scenario.driven
    bearing = driven.bearings[index]
    service = None if bearing.service is None else bearing_services()[bearing.service]
    cases = tuple(
        _case(point, way, name, index) for way in range(len(point.cases)) for name in CASES
    )
    speed = point.promises.solved.mount.driven_speed
    surface = float(surface_speed(bearing.journal_diameter, speed))
    load, pressure, slope = (_running(cases, name) for name in ("load", "pressure", "slope"))
    film, reason = running_film(bearing, driven.oil, load, speed, slope)
    return BearingReport(
        name=bearing.name,
        service=bearing.service,
        service_low=None if service is None else service.low,
        service_high=None if service is None else service.high,
        surface_speed=surface,
        pressure_speed=None if pressure is None else float(pressure_speed(pressure, surface)),
        film=film,
        film_reason=reason,
        cases=cases,
        statements=_statements(bearing, has_film=film is not None),
    )


def _running(cases: tuple[BearingCase, ...], name: str) -> float | None:
    """Greatest of a number over the rotations, running; None where one of them cannot be told."""
    values = [getattr(case, name) for case in cases if case.case == "running"]
    return None if any(value is None for value in values) else float(max(values))


def _statements(bearing: Bearing, *, has_film: bool) -> tuple[str, ...]:
    """What must be said beside the numbers of a bearing."""
    said = [_STANDING]
    if has_film:
        said.append(_FLATTERED)
    said.append(_BOUNDARY)
    if bearing.service is None:
        said.append("No service is named, so the pressure is not held against a published range.")
    missing = [
        key for key in ("cap_direction", "groove_direction") if getattr(bearing, key) is None
    ]
    if missing:
        said.append(
            f"The direction of the load is not held against {' and '.join(missing)}, which the "
            "scenario does not give."
        )
    return tuple(said)


def _case(point: SetPoint, way: int, name: str, index: int) -> BearingCase:
    """One bearing in one load case of one rotation."""
    scenario = point.scenario
    case: CaseSolution = getattr(point.cases[way], name)
    solution = solve_bearings(scenario, case, name)[index]
    load = _number(solution.load[point.middle])
    bearing = scenario.driven.bearings[index]
    limit = bearing.starting_limit if name == "starting" else bearing.limit
    edge_load, edge = (None, None) if load is None else _edge(point, case, name, index)
    slope, stress = (None, None) if load is None else _bending(point, case, name, index)
    return BearingCase(
        case=name,
        rotation=point.promises.ways[way].mount.scenario.motor.rotation.value,
        load=load,
        direction=_number(solution.direction[point.middle]),
        pressure=_number(solution.pressure[point.middle]),
        share_of_limit=_number(solution.share[point.middle]),
        edge_load=edge_load,
        edge_share_of_limit=None if edge_load is None else edge_load / limit,
        edge=edge,
        slope=slope,
        bending_stress=stress,
    )


def _number(value: float | np.floating) -> float | None:
    return float(value) if math.isfinite(value) else None


def _middles(scenario: Scenario) -> tuple[float, float]:
    first, second = scenario.driven.bearings
    return first.position, second.position


def _edge(
    point: SetPoint, case: CaseSolution, name: str, index: int
) -> tuple[float | None, str | None]:
    """Greatest load with the boxes bearing at their ends, and at which end of this one."""
    scenario = point.scenario
    positions, forces = shaft_forces(scenario, case, name)
    first, second = scenario.driven.bearings
    try:
        edges = edge_loads(
            positions,
            forces[point.middle],
            _middles(scenario),
            (first.length, second.length),
            scenario.driven.pulley_position,
        )
    except InputError:  # boxes that touch have no ends to tell apart
        return None, None
    return float(edges.greatest[index]), _EDGES[Edge(int(edges.own_edge[index]))]


def _bending(
    point: SetPoint, case: CaseSolution, name: str, index: int
) -> tuple[float | None, float | None]:
    """Slope [rad] and bending stress [Pa] of the shaft at a bearing; None without its diameter."""
    scenario = point.scenario
    diameter = scenario.driven.shaft_diameter
    if diameter is None:
        return None, None
    positions, forces = shaft_forces(scenario, case, name)
    at, middles = forces[point.middle], _middles(scenario)
    stiffness = float(bending_stiffness(diameter))
    slope = bearing_slopes(positions, at, *middles, stiffness)[index]
    moment = bending_moment(middles[index], positions, at, *middles)
    return float(np.hypot(slope[0], slope[1])), float(bending_stress(moment, diameter))
