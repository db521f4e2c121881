"""Which belt: every length of the section in the mount, judged, ranked, and why one is out."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.belts.fitting import Fit, belt_name, fit, paths_in_travel, travel_notes
from mountcalc.belts.judgements import power_judgement, room_judgements, tolerance_cautions, why_not
from mountcalc.belts.no_length import no_length_note
from mountcalc.belts.power import BeltPower, belt_drive, belt_power
from mountcalc.belts.preferred_pulleys import preferred_pulleys, pulley_notes
from mountcalc.belts.results import BeltChoice, BeltDrive, BeltOption
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import belt_key
from mountcalc.errors import MountError
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.sections import Joint, NumberOf, flat_material
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.judgement import Verdict
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.model import Display, PulleyFace, Scenario

__all__ = ["choose_belt", "own_belt"]

_RPM = 2 * math.pi / 60
# What the sampled paths may miss of the shortest and the longest one.
_NEAR = 0.01
# Lengths that are tried of a belt that is cut to length.
_TRIALS = 129


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A length to try: its name where it has one, and whether the scenario has this belt."""

    pitch_length: float
    bought: Designation | None
    is_yours: bool


def choose_belt(scenario: Scenario, wanted_speed: float | None = None) -> BeltChoice:
    """Judge every length of the scenario's section in its mount.

    Parameters
    ----------
    scenario : Scenario
        The mount; its own belt is judged beside the published lengths.
    wanted_speed : float, optional [rad/s]
        Speed wanted of the driven shaft, for which pulleys are looked up.

    Returns
    -------
    BeltChoice
        The lengths that become snug in the travel, the best first: by the number of their faults,
        then of their cautions, then those numbered in the scenario's units, then half steps last,
        then by the room they leave, being the smaller of the two rooms over what each must be.

    Raises
    ------
    MountError
        Where the mount cannot be solved with any belt.
    """
    paths = paths_in_travel(scenario)
    drive, candidates = belt_drive(scenario), _candidates(scenario)
    options = [
        _option(scenario, drive, candidate, found)
        for candidate in candidates
        if (candidate.is_yours or _may_be_snug(candidate.pitch_length, paths))
        and (found := fit(scenario, candidate.pitch_length, candidate.bought)) is not None
    ]
    if not options and _is_made_to_length(scenario):
        raise MountError(
            scenario.source,
            belt_key(Mount.of(scenario)),
            f"the belt does not become snug in the travel: paths from "
            f"{length_text(paths[0], scenario.display)} to "
            f"{length_text(paths[1], scenario.display)} would",
        )
    half_steps = {one.bought.text for one in candidates if one.bought and one.bought.is_half_step}
    options.sort(
        key=lambda option: _rank(
            option, scenario.display, is_half_step=option.designation in half_steps
        )
    )
    return BeltChoice(
        title=scenario.title,
        drive=drive,
        belts=tuple(options),
        pulleys=() if wanted_speed is None else preferred_pulleys(scenario, wanted_speed),
        wanted_speed=wanted_speed,
        shortest_path=paths[0],
        longest_path=paths[1],
        notes=(
            *cautions(scenario),
            *(() if options else no_length_note(scenario, paths)),
            *_notes(scenario, paths),
            *(() if wanted_speed is None else pulley_notes(scenario)),
        ),
    )


def own_belt(scenario: Scenario) -> BeltOption | None:
    """Judge the scenario's own belt as :func:`choose_belt` does.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    BeltOption or None
        None where the belt never becomes snug in the travel.

    Raises
    ------
    MountError
        Where the mount cannot be solved with any belt.
    """
    own = _own(scenario)
    found = fit(scenario, own.pitch_length, own.bought)
    return None if found is None else _option(scenario, belt_drive(scenario), own, found)


def _may_be_snug(pitch_length: float, paths: tuple[float, float]) -> bool:
    """Whether a length [m] is worth solving: within the paths, as they were sampled."""
    return paths[0] * (1 - _NEAR) <= pitch_length <= paths[1] * (1 + _NEAR)


def _own(scenario: Scenario) -> _Candidate:
    """The scenario's own belt."""
    return _Candidate(scenario.belt.length, belt_name(scenario.belt), is_yours=True)


def _candidates(scenario: Scenario) -> list[_Candidate]:
    """The scenario's own belt, and every other published length of its section."""
    own, belt = _own(scenario), scenario.belt
    # A joined belt is made up to its length.
    published = series(belt.section or "") if belt.joint is Joint.ENDLESS else ()
    name = own.bought.text if own.bought is not None else None
    others = (each for each in published if each.text != name)
    return [own, *(_Candidate(each.pitch_length, each, is_yours=False) for each in others)]


def _rank(
    option: BeltOption, display: Display, *, is_half_step: bool
) -> tuple[int, int, bool, bool, float]:
    # A shop that works in inches finds belts numbered in inches.
    is_foreign = display is Display.INCH and option.number_measures == NumberOf.DATUM
    cautions = sum(one.verdict is Verdict.CAUTION for one in option.judgements)
    return (len(option.why_not), cautions, is_foreign, is_half_step, -option.room_share)


def _option(scenario: Scenario, drive: BeltDrive, candidate: _Candidate, found: Fit) -> BeltOption:
    power = belt_power(scenario, drive, candidate.bought, found)
    bought = candidate.bought
    rooms = found.install, found.take_up
    judgements = (
        *drive.judgements,
        *room_judgements(scenario, *rooms),
        *power_judgement(scenario, drive, power.rating, power.belts_needed),
        *tolerance_cautions(scenario, rooms, (found.shortest, found.longest)),
    )
    faults = why_not(judgements)
    return BeltOption(
        designation=length_text(candidate.pitch_length, scenario.display)
        if bought is None
        else bought.text,
        is_yours=candidate.is_yours,
        in_series=bought is not None and bought.in_series,
        number_measures=None if bought is None else bought.measures,
        pitch_length=candidate.pitch_length,
        snug_plate_angle=found.snug_plate_angle,
        center_distance=found.center_distance,
        install=found.install,
        take_up=found.take_up,
        install_ok=found.install.ok,
        take_up_ok=found.take_up.ok,
        shortest=found.shortest,
        longest=found.longest,
        wrap_motor=found.wrap_motor,
        wrap_driven=found.wrap_driven,
        arc_factor=power.arc_factor,
        length_factor=power.length_factor,
        table_rating=power.table_rating,
        rating=power.rating,
        belts_needed=power.belts_needed,
        ok=not faults,
        why_not=faults,
        remarks=tuple(_remarks(bought, power)),
        judgements=judgements,
    )


def _remarks(bought: Designation | None, power: BeltPower) -> list[str]:
    remarks = [*power.remarks]
    if bought is not None and not bought.in_series:
        remarks.append("not in a published series: ask whether it is made")
    if bought is not None and bought.is_half_step:
        remarks.append("a half step between the usual lengths: ask whether it is stocked")
    return remarks


def _notes(scenario: Scenario, paths: tuple[float, float]) -> list[str]:
    notes = list(travel_notes(scenario))
    motor, driven = scenario.motor, scenario.driven
    small = (motor if motor.pulley_radius <= driven.pulley_radius else driven).pulley_face
    if small is PulleyFace.FLAT and v_section(scenario.belt.section or "") is not None:
        notes.append(
            "A V-belt on a smaller pulley with a flat rim is in no table: its arc factor is "
            "reckoned from the traction there."
        )
    if _is_made_to_length(scenario):
        notes.append(_cut_to_length(scenario, paths))
    most, speed = scenario.driven.max_speed, Mount.of(scenario).driven_speed
    if most is not None and speed > most * (1 + 1e-9):
        notes.append(
            f"The driven shaft turns at {speed / _RPM:.0f} rpm, above its max_speed of "
            f"{most / _RPM:.0f} rpm."
        )
    ends = sorted(bearing.position for bearing in scenario.driven.bearings)
    is_between = ends[0] < scenario.driven.pulley_position < ends[1]
    if is_between and scenario.belt.joint is Joint.ENDLESS:
        joint = Joint.LACED if flat_material(scenario.belt.section or "") else Joint.LINKED
        notes.append(
            "The driven pulley is between the bearings: to change an endless belt the shaft must "
            f"come out of them. A {joint} belt is closed round the shaft where it lies; try it "
            f'with joint = "{joint}" in [belt], for it is softer.'
        )
    return notes


def _is_made_to_length(scenario: Scenario) -> bool:
    """Whether the belt comes in no published lengths."""
    return scenario.belt.joint is not Joint.ENDLESS or not series(scenario.belt.section or "")


def _cut_to_length(scenario: Scenario, paths: tuple[float, float]) -> str:
    """Which lengths of a belt without a series will do."""
    if scenario.belt.joint is not Joint.ENDLESS:
        ends = " to ".join(length_text(length, scenario.display) for length in paths)
        return (
            "Such a belt is made to length, and shortened when it has stretched: pitch lengths of "
            f"{ends} become snug in the travel."
        )
    good = [
        length
        for length in np.linspace(*paths, _TRIALS)
        if (found := fit(scenario, float(length), None)) and found.install.ok and found.take_up.ok
    ]
    if not good:
        return "Made to length, no belt leaves both rooms in this travel."
    ends = " to ".join(length_text(length, scenario.display) for length in (good[0], good[-1]))
    return f"Such a belt is made to length: a pitch length of {ends} leaves both rooms."
