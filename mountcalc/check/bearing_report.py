"""What there is to tell of each bearing at a set point: loads, edges, film, shaft, in words too."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

import numpy as np

from mountcalc.check.results import BearingCase, BearingFilm, BearingReport
from mountcalc.check.set_point import SetPoint
from mountcalc.equilibrium.bearings import CASES, shaft_forces, solve_bearings
from mountcalc.equilibrium.solve import CaseSolution
from mountcalc.errors import InputError
from mountcalc.formulas.bearing_rules import (
    DESIGN_FACTOR,
    least_film,
    pressure_speed,
    surface_speed,
)
from mountcalc.formulas.film import film_state
from mountcalc.formulas.oil import dynamic_viscosity
from mountcalc.formulas.shaft import (
    Edge,
    bearing_slopes,
    bending_moment,
    bending_stiffness,
    bending_stress,
    edge_loads,
    edge_rise,
)
from mountcalc.handbook.machine import bearing_materials, bearing_services
from mountcalc.judgement import Judgement, Measure, Topic
from mountcalc.pages.amounts import (
    FILM,
    FORCE,
    NUMBER,
    POWER,
    PRESSURE,
    PRESSURE_SPEED,
    SLOPE,
    SURFACE_SPEED,
    in_figures,
    percent,
)
from mountcalc.scenario.driven import Bearing
from mountcalc.scenario.text.named import Oil
from mountcalc.scenario.text.writing import Display
from mountcalc.table import words

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
_OF_RUNNING = "load", "pressure", "slope"
_EDGE = 1.01  # an end that is worse by less is not worth a line
_NO_STRESS = 1e3  # [Pa] rounding of a moment that is none, or next to none
_SLOPE = {Display.INCH: "thousandths of an inch per inch", Display.METRIC: "mm per m"}


def bearing_reports(point: SetPoint) -> tuple[BearingReport, ...]:
    """Report on both bearings at the set point itself, for each case and rotation."""
    driven, speed = point.scenario.driven, point.requirements.solved.mount.driven_speed
    pairs = [
        _cases(point, way.mount.scenario.motor.rotation.value, getattr(cases, name), name)
        for way, cases in zip(point.requirements.ways, point.cases, strict=True)
        for name in CASES
    ]
    reports = []
    for bearing, cases in zip(driven.bearings, zip(*pairs, strict=True), strict=True):
        service = None if bearing.service is None else bearing_services()[bearing.service]
        surface = float(surface_speed(bearing.journal_diameter, speed))
        running = [case for case in cases if case.case == "running"]
        load, pressure, slope = (
            None if None in values else max(values)
            for values in ([getattr(case, name) for case in running] for name in _OF_RUNNING)
        )
        film, reason = _running_film(bearing, driven.oil, load, speed, slope)
        statements = [_STANDING, *([] if film is None else [_FLATTERED]), _BOUNDARY]
        if service is None:
            statements.append(
                "No service is named, so the pressure is not held against a published range."
            )
        keys = ("cap_direction", "groove_direction")
        if missing := [key for key in keys if getattr(bearing, key) is None]:
            statements.append(
                f"The direction of the load is not held against {' and '.join(missing)}, which "
                "the scenario does not give."
            )
        rubbing = None if pressure is None else float(pressure_speed(pressure, surface))
        reports.append(
            BearingReport(
                name=bearing.name,
                service=bearing.service,
                service_low=None if service is None else service.low,
                service_high=None if service is None else service.high,
                surface_speed=surface,
                pressure_speed=rubbing,
                film=film,
                film_reason=reason,
                cases=cases,
                statements=tuple(statements),
            )
        )
    return tuple(reports)


def _cases(point: SetPoint, rotation: str, case: CaseSolution, name: str) -> list[BearingCase]:
    """Both bearings in one load case of one rotation."""
    driven = point.scenario.driven
    (first, second), diameter = driven.bearings, driven.shaft_diameter
    middles = first.position, second.position
    positions, forces = shaft_forces(point.scenario, case, name)
    at, edges, slopes, stresses = forces[point.middle], None, None, None
    if np.all(np.isfinite(at)):
        with suppress(InputError):  # boxes that touch have no ends to tell apart
            lengths = first.length, second.length
            edges = edge_loads(positions, at, middles, lengths, driven.pulley_position)
        if diameter is not None:
            stiffness = float(bending_stiffness(diameter))
            slopes = [np.hypot(*one) for one in bearing_slopes(positions, at, *middles, stiffness)]
            moments = (bending_moment(middle, positions, at, *middles) for middle in middles)
            stresses = [float(bending_stress(moment, diameter)) for moment in moments]
    found = []
    solutions = solve_bearings(point.scenario, case, name)
    for index, (bearing, solution) in enumerate(zip(driven.bearings, solutions, strict=True)):
        limit = bearing.starting_limit if name == "starting" else bearing.limit
        load, direction, pressure, share = (
            float(value) if math.isfinite(value) else None
            for value in (
                getattr(solution, each)[point.middle]
                for each in ("load", "direction", "pressure", "share")
            )
        )
        edge_load = None if edges is None else float(edges.greatest[index])
        found.append(
            BearingCase(
                case=name,
                rotation=rotation,
                load=load,
                direction=direction,
                pressure=pressure,
                share_of_limit=share,
                edge_load=edge_load,
                edge_share_of_limit=None if edge_load is None else edge_load / limit,
                edge=None if edges is None else _EDGES[Edge(int(edges.own_edge[index]))],
                slope=None if slopes is None else float(slopes[index]),
                bending_stress=None if stresses is None else stresses[index],
            )
        )
    return found


def _running_film(
    bearing: Bearing, oil: Oil | None, load: float | None, speed: float, slope: float | None
) -> tuple[BearingFilm | None, str | None]:
    """The film of a bearing that runs flooded with oil, were it full and round; or why none."""
    diameter, clearance = bearing.journal_diameter, bearing.clearance
    if clearance is None or oil is None:
        missing = [key for key, one in (("clearance", clearance), ("oil", oil)) if one is None]
        return None, f"the scenario does not give {' and '.join(missing)}"
    if load is None:
        return None, "there is no running load to tell"
    try:
        viscosity = dynamic_viscosity(oil.grade, oil.temperature)
        state, doubled = (
            film_state(times * load, speed, viscosity, diameter, bearing.length, 0.5 * clearance)
            for times in (1.0, DESIGN_FACTOR)
        )
    except InputError as error:
        return None, str(error)
    film, number = state.film, state.sommerfeld_number
    if film is None or number is None:
        return None, state.reason
    return BearingFilm(
        viscosity=viscosity,
        sommerfeld=number,
        eccentricity=film.eccentricity,
        minimum_film=film.minimum,
        minimum_film_doubled=None if doubled.film is None else doubled.film.minimum,
        least_film=float(least_film(diameter)),
        edge_rise=None if slope is None else float(edge_rise(slope, bearing.length)),
        friction=film.friction,
        friction_torque=film.torque,
        power_lost=film.power_lost,
    ), None


def bearing_notes(report: BearingReport, display: Display) -> Iterator[Judgement]:
    """What is good to know of a bearing and its shaft beside the verdicts: never a failure."""
    case = _worst(report, "edge_share_of_limit")
    load, edge_load = (None, None) if case is None else (case.load, case.edge_load)
    if case and load is not None and edge_load is not None and edge_load > _EDGE * load:
        share = case.edge_share_of_limit or 0.0
        is_over = share > 1
        measure = (Measure.at_most if is_over else Measure)(FORCE, edge_load, edge_load / share)
        # Where in its box a shaft bears is not known.
        topic = Topic("edge-load", "statics of the shaft", report.name, case.case, sure="estimate")
        yield topic.judge(
            measure,
            f'"{report.name}", {words.case_words(case.case)}: {FORCE.text(load, display)} at its '
            f"middle, but {FORCE.text(edge_load, display)} if boxes that do not tilt bear at their "
            f"ends, this one at the {case.edge}: {percent(share)} % of its limit"
            f"{', above it' if is_over else ''}",
        )
    topic = Topic("surface-speed", "journal diameter and speed", report.name, "running")
    yield topic.judge(
        Measure(SURFACE_SPEED, report.surface_speed),
        f'"{report.name}": the journal\'s surface runs at '
        f"{SURFACE_SPEED.text(report.surface_speed, display)}",
    )
    if report.pressure_speed is not None:
        soft, softest = (bearing_materials()[f"{tin}-tin-babbitt"] for tin in ("high", "low"))
        yield replace(topic, name="pressure-speed", source=softest.source).judge(
            Measure(PRESSURE_SPEED, report.pressure_speed, softest.pressure_speed),
            f'"{report.name}": pressure times speed is '
            f"{PRESSURE_SPEED.text(report.pressure_speed, display)}; without a full film "
            f"{PRESSURE_SPEED.text(softest.pressure_speed, display)} is published for "
            f"{softest.name} and {PRESSURE_SPEED.text(soft.pressure_speed, display)} for "
            f"{soft.name}",
        )
    yield from _film_notes(report, display)
    yield from _shaft_notes(report, display)


def _worst(report: BearingReport, name: str) -> BearingCase | None:
    """The case in which one of its numbers is greatest, if it is known in any."""
    known = [case for case in report.cases if getattr(case, name) is not None]
    return max(known, key=lambda case: float(getattr(case, name)), default=None)


def _film_notes(report: BearingReport, display: Display) -> Iterator[Judgement]:
    """Thinnest film beside Trumpler's least, at the load and at twice it."""
    name, film = report.name, report.film
    source = "Trumpler's criteria, Shigley ch. 12 (from memory)"
    topic = Topic("oil-film", source, name, "running")
    if film is None:
        sentence = f'"{name}": no oil film to tell of: {report.film_reason}'
        yield topic.judge(Measure(FILM, None), sentence)
        return
    doubled, taken = "the film breaks down", ""
    if film.minimum_film_doubled is not None:
        doubled = FILM.text(film.minimum_film_doubled, display)
    if film.edge_rise is not None:
        rise = FILM.text(film.edge_rise, display)
        taken = f"; the shaft's slope takes {rise} off it at the end of the box"
    yield topic.judge(
        Measure(FILM, film.minimum_film, film.least_film),
        f'"{name}": a full film would be {FILM.text(film.minimum_film, display)} at its thinnest '
        f"and at twice the load {doubled}; Trumpler wants {FILM.text(film.least_film, display)} "
        f"at both{taken}",
    )
    source = "Reynolds' equation, full round bearing"
    yield replace(topic, name="film-friction", source=source).judge(
        Measure(NUMBER, film.friction),
        f'"{name}": the film\'s coefficient of friction is {in_figures(film.friction)}, which '
        f"takes {POWER.text(film.power_lost, display)}",
    )


def _shaft_notes(report: BearingReport, display: Display) -> Iterator[Judgement]:
    """Slope and bending stress of the shaft at the bearing, each in its worst case."""
    sloped, bent = _worst(report, "slope"), _worst(report, "bending_stress")
    if sloped is not None and sloped.slope is not None:
        source = "beam theory; usual limits from memory"
        yield Topic("shaft-slope", source, report.name, sloped.case).judge(
            Measure(SLOPE, sloped.slope, 0.001),
            f'"{report.name}", {words.case_words(sloped.case)}: the shaft slopes by '
            f"{SLOPE.text(sloped.slope, display)} ({_SLOPE[display]}); 0.5 to 1 is usual for a "
            "stiff plain bearing",
        )
    if bent is not None and (bent.bending_stress or 0.0) >= _NO_STRESS:
        stress = bent.bending_stress or 0.0
        source = "Shigley, Machine Design, 3-10"
        yield Topic("shaft-bending", source, report.name, bent.case).judge(
            Measure(PRESSURE, stress),
            f'"{report.name}", {words.case_words(bent.case)}: the shaft is bent to '
            f"{PRESSURE.text(stress, display)}, without any notch or keyway",
        )
