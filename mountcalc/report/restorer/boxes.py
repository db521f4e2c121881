"""What there is to say of each old box: limit, film, clearance, direction of the load, warmth."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.check import Check
from mountcalc.formulas.bearing_heat import (
    FilmBearing,
    WarmFilm,
    box_rise,
    rubbing_power,
    warm_film,
)
from mountcalc.formulas.bearing_rules import DESIGN_FACTOR, least_film, surface_speed
from mountcalc.formulas.oil import oil_grades
from mountcalc.handbook.machine import bearing_conditions, bearing_services
from mountcalc.handbook.restoring import (
    box_temperatures,
    drops_a_minute,
    heat_shed,
    oiled_ways,
    room,
    shop_oils,
    usual_clearance,
    usual_oil,
)
from mountcalc.pages.amounts import FORCE, LENGTH, PRESSURE, significant
from mountcalc.report.restorer.results import BoxHeat, Condition, OldBox
from mountcalc.scenario.driven import Bearing
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import compass
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING

_ZERO_CELSIUS, _ZERO_FAHRENHEIT = 273.15, 459.67
_DIRECTIONS = "groove-direction", "cap-direction"
_CUP = 10.0  # drops a minute, as in the advice on oil (estimate)
_WORN = 2.0  # times the usual clearance (estimate)


def warmth_text(temperature: float, display: Display) -> str:
    """A temperature [K] for people."""
    if display is Display.INCH:
        return f"{temperature * 1.8 - _ZERO_FAHRENHEIT:.0f} °F"
    return f"{temperature - _ZERO_CELSIUS:.0f} °C"


def rise_text(low: float, high: float, display: Display) -> str:
    """A range of how far something is warmer [K] for people, to two figures outwards."""
    times, unit = (1.8, "°F") if display is Display.INCH else (1.0, "°C")
    ends = significant(low * times, 2, math.floor), significant(high * times, 2, math.ceil)
    return f"{ends[0]:g} to {ends[1]:g} {unit}"


def conditions() -> tuple[Condition, ...]:
    """What a bearing may carry by the state of its box, the worst state first."""
    services = bearing_services()
    rows = ((state, services[key]) for state, key in bearing_conditions().items())
    return tuple(Condition(state, one.low, one.high, one.sure, one.source) for state, one in rows)


def old_boxes(scenario: Scenario, check: Check) -> tuple[OldBox, ...]:
    """Both bearings of the driven shaft, running at the set point of the check."""
    found = []
    for bearing, report in zip(scenario.driven.bearings, check.bearings, strict=True):
        speed = 2.0 * report.surface_speed / bearing.journal_diameter
        loads = [one.load for one in report.cases if one.case == "running"]
        known = [one for one in loads if one is not None]
        load = max(known) if len(known) == len(loads) else None
        flooded = _flooded(scenario, bearing, load or 0.0, speed)
        films = _films(flooded) if load else None
        heats = tuple(_heats(bearing, load, speed, films)) if load is not None else ()
        drops = None if films is None else drops_a_minute(max(one.side_flow for one in films))
        thinnest = None if films is None else _thinnest(scenario, bearing, load or 0.0, speed)
        rules = [
            one.sentence
            for one in check.judgements
            if one.name in _DIRECTIONS and one.subject == bearing.name
        ]
        points = next((one.direction for one in report.cases if one.case == "running"), None)
        told = (
            _limit(bearing, scenario.display),
            *_clearance(bearing, scenario.display),
            *(rules or _points(points)),
            *_film(flooded, films, drops, thinnest, scenario),
            *_warmest(heats, scenario.display),
        )
        found.append(
            OldBox(
                name=bearing.name,
                load=load,
                clearance_usual=usual_clearance(bearing.journal_diameter),
                oil_grade=flooded.grade,
                film=films is not None,
                drops_per_minute=drops,
                thinnest_grade=thinnest,
                heats=heats,
                told=told,
            )
        )
    return tuple(found)


def _flooded(
    scenario: Scenario, bearing: Bearing, load: float, speed: float, grade: float | None = None
) -> FilmBearing:
    """The bearing flooded with an oil; with its own, or the usual one, where none is named."""
    diameter, own = bearing.journal_diameter, scenario.driven.oil
    if grade is None:
        is_known = own is not None and own.grade in oil_grades()
        grade = own.grade if own is not None and is_known else usual_oil().value
    clearance = usual_clearance(diameter) if bearing.clearance is None else bearing.clearance
    return FilmBearing(diameter, bearing.length, 0.5 * clearance, load, speed, grade)


def _films(flooded: FilmBearing) -> tuple[WarmFilm, ...] | None:
    """Films of boxes that shed least and most, where each is as thick as Trumpler wants."""
    every = [warm_film(flooded, shed.value, room().value) for shed in heat_shed()]
    least = float(least_film(flooded.diameter))
    carry = tuple(one for one in every if one is not None and one.minimum >= least)
    return carry if len(carry) == len(every) else None


def _thinnest(scenario: Scenario, bearing: Bearing, load: float, speed: float) -> float | None:
    """The thinnest oil of the shops whose film carries twice the load, too."""
    return next(
        (
            grade
            for grade in shop_oils()
            if _films(_flooded(scenario, bearing, DESIGN_FACTOR * load, speed, grade))
        ),
        None,
    )


def _heats(
    bearing: Bearing, load: float, speed: float, films: tuple[WarmFilm, ...] | None
) -> Iterator[BoxHeat]:
    """Heat and rise on a full film, then rubbing by how it is oiled."""
    if films is not None:
        powers = sorted(one.power for one in films)
        rises = sorted(one.box_rise(room().value) for one in films)
        yield BoxHeat("flooded", powers[0], powers[-1], rises[0], rises[-1])
    surface = float(surface_speed(bearing.journal_diameter, speed))
    least, most = heat_shed()
    for way in oiled_ways():
        power = float(rubbing_power(way.friction, load, surface))
        cool, warm = (
            float(box_rise(power, shed.value, bearing.projected_area)) for shed in (most, least)
        )
        yield BoxHeat(way.name, power, power, cool, warm)


def _limit(bearing: Bearing, display: Display) -> str:
    """What its limit stands for, by the state of the box."""
    limit = bearing.limit / bearing.projected_area
    shown = PRESSURE.text(limit, display)
    if not bearing.limit_given_as_pressure:
        shown = f"{FORCE.text(bearing.limit, display)} ({shown})"
    rows, exact = conditions(), limit * (1 - ROUNDING)
    index = next((i for i, one in enumerate(rows) if exact <= one.service_high), None)
    if index is None:
        return f"Its limit of {shown} is above what any box in this table is given."
    fits = rows[index]
    text = f"Its limit of {shown} is"
    if exact * (1 + 2 * ROUNDING) >= fits.service_low:
        return f"{text} in the range of {fits.state}, {_range(fits, display)} ({fits.sure})."
    below = f"below that of {fits.state}, {_range(fits, display)} ({fits.sure})"
    if index == 0:
        return f"{text} {below}."
    worse = rows[index - 1]
    return f"{text} above that of {worse.state}, {_range(worse, display)}, and {below}."


def _range(one: Condition, display: Display) -> str:
    """The pressures of a condition."""
    low, high = one.service_low, one.service_high
    return f"{PRESSURE.number(low, display)} to {PRESSURE.text(high, display)}"


def _clearance(bearing: Bearing, display: Display) -> Iterator[str]:
    """What clearance it wants, and what it has."""
    usual, own = usual_clearance(bearing.journal_diameter), bearing.clearance

    def shown(length: float) -> str:
        return LENGTH.text(length * (1 + ROUNDING), display, 2)  # a half goes up

    text = f"Clearance of a scraped box: {shown(usual)} over the shaft's diameter"
    if own is None:
        yield f"{text}."
        return
    state = "it has that or near it"
    if own > _WORN * usual:
        state = "worn: take shims out or have it poured"
    elif own < usual / _WORN:
        state = "tight: put shims in"
    yield f"{text}; it has {shown(own)}, {state}."


def _points(direction: float | None) -> Iterator[str]:
    """Where its load points, where no rule could be held against the file."""
    if direction is not None:
        yield (
            f"Running, its load points {compass(direction)}. Keep oil grooves and the cap's joint "
            "30 deg clear of that, and the cap out of it unless it is dowelled (MPTA Standard 401)."
        )


def _film(
    flooded: FilmBearing,
    films: tuple[WarmFilm, ...] | None,
    drops: float | None,
    thinnest: float | None,
    scenario: Scenario,
) -> Iterator[str]:
    """Whether a full film would carry, and what it wants."""
    oil = f"ISO VG {flooded.grade:.0f}"
    if films is None:
        yield f"Even flooded with {oil} it has no full film: it rubs, and oil is all it has."
        return
    ends = sorted(one.film for one in films)
    cool, warm = (warmth_text(one, scenario.display) for one in ends)
    text = f"Flooded with {oil} it runs on a full film, which is {cool} to {warm} warm."
    if drops is not None and drops >= 1:
        gives = "an oil cup gives that."
        if drops > _CUP:
            gives = "a ring or a bath gives that; a cup, which drips less, leaves it half rubbing."
        text += f" Its ends then lose some {significant(drops, 1):.0f} drops a minute: {gives}"
    yield text
    if thinnest is not None:
        yield (
            f"By the film alone ISO VG {thinnest:.0f} would carry twice the load; a split, "
            "grooved or worn box wants it thicker."
        )
    own = scenario.driven.oil
    if own is not None and not ends[0] <= own.temperature <= ends[-1]:
        yield (
            f"The file has its oil at {warmth_text(own.temperature, scenario.display)}; in a room "
            f"of {warmth_text(room().value, scenario.display)} it comes to what stands here."
        )


def _warmest(heats: tuple[BoxHeat, ...], display: Display) -> Iterator[str]:
    """From which way of oiling on it may pass the temperature at which one stops."""
    stop = box_temperatures()[1].temperature
    for one in heats:
        if room().value + one.rise_high > stop:
            yield (
                f"{one.oiled.capitalize()}, it may pass {warmth_text(stop, display)}, where one "
                "stops and finds out why."
            )
            return
