"""What is good to know of a bearing and its shaft beside the verdicts: never a failure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mountcalc.handbook.bearings import bearing_materials
from mountcalc.judgement.measures import (
    FILM,
    FORCE,
    NUMBER,
    POWER,
    PRESSURE_SPEED,
    SLOPE,
    STRESS,
    SURFACE_SPEED,
    Measure,
    Topic,
    figures,
)
from mountcalc.judgement.results import BearingCase, BearingFilm, BearingReport, Judgement
from mountcalc.pages.amounts import percent
from mountcalc.scenario.model import Display

__all__ = ["bearing_notes"]

_EDGE = 1.01  # an end that is worse by less is not worth a line
_NO_STRESS = 1e3  # [Pa] rounding of a moment that is none, or next to none
_SLOPE = {Display.INCH: "thousandths of an inch per inch", Display.METRIC: "mm per m"}


@dataclass(frozen=True)
class _Teller:
    """Tells of one bearing in the units of a display."""

    report: BearingReport
    display: Display

    def topic(self, name: str, source: str, case: str = "running") -> Topic:
        return Topic(name, source, self.report.name, case)

    def worst(self, name: str) -> BearingCase | None:
        """The case in which one of its numbers is greatest, if it is known in any."""
        known = [case for case in self.report.cases if getattr(case, name) is not None]
        return max(known, key=lambda case: float(getattr(case, name)), default=None)


def bearing_notes(report: BearingReport, display: Display) -> tuple[Judgement, ...]:
    """Notes on one bearing."""
    teller = _Teller(report, display)
    return (*_edge(teller), *_rubbing(teller), *_film(teller), *_shaft(teller))


def _edge(teller: _Teller) -> Iterator[Judgement]:
    """Load and share of the limit with the box bearing at its worst end."""
    case = teller.worst("edge_share_of_limit")
    if case is None or case.edge_load is None or case.edge_share_of_limit is None:
        return
    if case.load is None or case.edge_load < _EDGE * case.load:
        return
    over = ", above it" if case.edge_share_of_limit > 1 else ""
    sentence = (
        f'"{teller.report.name}", {case.case}: {FORCE.text(case.edge_load, teller.display)} if the '
        f"stiff boxes bore at their ends, this one at the {case.edge}, instead of "
        f"{FORCE.text(case.load, teller.display)} at the middles: "
        f"{percent(case.edge_share_of_limit)} % of its limit{over}"
    )
    limit = case.edge_load / case.edge_share_of_limit
    measure = Measure.note(FORCE, case.edge_load, limit)
    if over:
        measure = Measure.at_most(FORCE, case.edge_load, limit)
    # Where in its box a shaft bears is not known.
    yield replace(
        teller.topic("edge-load", "statics of the shaft", case.case), sure="estimate"
    ).judge(measure, sentence)


def _rubbing(teller: _Teller) -> Iterator[Judgement]:
    """Surface speed, and pressure times speed beside the published limits of soft linings."""
    report, display = teller.report, teller.display
    surface = SURFACE_SPEED.text(report.surface_speed, display)
    yield teller.topic("surface-speed", "journal diameter and speed").judge(
        Measure.note(SURFACE_SPEED, report.surface_speed),
        f'"{report.name}": the journal\'s surface runs at {surface}',
    )
    if report.pressure_speed is None:
        return
    materials = bearing_materials()
    soft, softest = materials["high-tin-babbitt"], materials["low-tin-babbitt"]
    sentence = (
        f'"{report.name}": pressure times speed is '
        f"{PRESSURE_SPEED.text(report.pressure_speed, display)}; without a full film "
        f"{PRESSURE_SPEED.text(softest.pressure_speed, display)} is published for {softest.name} "
        f"and {PRESSURE_SPEED.text(soft.pressure_speed, display)} for {soft.name}"
    )
    yield teller.topic("pressure-speed", softest.source).judge(
        Measure.note(PRESSURE_SPEED, report.pressure_speed, softest.pressure_speed), sentence
    )


def _film(teller: _Teller) -> Iterator[Judgement]:
    """Thinnest film beside Trumpler's least, at the load and at twice it."""
    report = teller.report
    topic = teller.topic("oil-film", "Trumpler's criteria, Shigley ch. 12 (from memory)")
    if report.film is None:
        yield topic.judge(
            Measure.note(FILM, None),
            f'"{report.name}": no oil film to tell of: {report.film_reason}',
        )
        return
    film = report.film
    yield topic.judge(
        Measure.note(FILM, film.minimum_film, film.least_film), _film_words(teller, film)
    )
    yield teller.topic("film-friction", "Reynolds' equation, full round bearing").judge(
        Measure.note(NUMBER, film.friction),
        f'"{report.name}": the film\'s coefficient of friction is {figures(film.friction)}, which '
        f"takes {POWER.text(film.power_lost, teller.display)}",
    )


def _film_words(teller: _Teller, film: BearingFilm) -> str:
    value, least = (FILM.text(one, teller.display) for one in (film.minimum_film, film.least_film))
    doubled = (
        "the film breaks down"
        if film.minimum_film_doubled is None
        else FILM.text(film.minimum_film_doubled, teller.display)
    )
    words = (
        f'"{teller.report.name}": a full film would be {value} at its thinnest and at twice the '
        f"load {doubled}; Trumpler wants {least} at both"
    )
    if film.edge_rise is not None:
        words += (
            f"; the shaft's slope takes {FILM.text(film.edge_rise, teller.display)} off it at the "
            "end of the box"
        )
    return words


def _shaft(teller: _Teller) -> Iterator[Judgement]:
    """Slope and bending stress of the shaft at the bearing, each in its worst case."""
    name = teller.report.name
    case = teller.worst("slope")
    if case is None or case.slope is None:
        return
    yield teller.topic("shaft-slope", "beam theory; usual limits from memory", case.case).judge(
        Measure.note(SLOPE, case.slope, 0.001),
        f'"{name}", {case.case}: the shaft slopes by {SLOPE.text(case.slope, teller.display)} '
        f"({_SLOPE[teller.display]}); 0.5 to 1 is usual for a stiff plain bearing",
    )
    case = teller.worst("bending_stress")
    if case is None or case.bending_stress is None or case.bending_stress < _NO_STRESS:
        return
    yield teller.topic("shaft-bending", "Shigley, Machine Design, 3-10", case.case).judge(
        Measure.note(STRESS, case.bending_stress),
        f'"{name}", {case.case}: the shaft bends under '
        f"{STRESS.text(case.bending_stress, teller.display)}, without any notch or keyway",
    )
