"""Which belt: every length of the section in the mount, judged, ranked, and why one is out."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from mountcalc.belts.drive import belt_drive, belt_power, power_judgement, why_not
from mountcalc.belts.fitting import fit, room_judgements, snug_travel
from mountcalc.belts.preferred_pulleys import preferred_pulleys
from mountcalc.belts.results import BeltChoice, BeltDrive, BeltOption
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import belt_key
from mountcalc.errors import MountError
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.pulleys import preferred_source
from mountcalc.handbook.belts.sections import Joint, NumberOf, flat_material
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.pages.amounts import length_text
from mountcalc.requirements.swing import belt_name
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.driven import Driven
from mountcalc.scenario.model import Belt, Motor, Scenario
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING

_RPM = 2 * math.pi / 60
# What the sampled paths may miss of the shortest and the longest one.
_NEAR = 0.01
# Lengths that are tried of a belt that is cut to length.
_TRIALS = 129


def choose_belt(scenario: Scenario, wanted_speed: float | None = None) -> BeltChoice:
    """Judge every length of the scenario's section in its mount; see :func:`mountcalc.belts`.

    The best first: by the number of faults, then of cautions, then those numbered in the scenario's
    units, then half steps last, then by the smaller of the two rooms over what each must be.
    """
    drive, paths, own = belt_drive(scenario), _paths_in_travel(scenario), own_belt(scenario)
    name = belt_name(scenario.belt)
    found = [] if own is None else [(_rank(own, name, scenario.display), own)]
    for bought in () if is_made_to_length(scenario.belt) else series(scenario.belt.section or ""):
        length = bought.pitch_length
        may_be_snug = paths[0] * (1 - _NEAR) <= length <= paths[1] * (1 + _NEAR)
        if may_be_snug and (name is None or bought.text != name.text):
            option = _option(scenario, drive, length, bought)
            if option is not None:
                found.append((_rank(option, bought, scenario.display), option))
    if not found and is_made_to_length(scenario.belt):
        raise MountError(
            scenario.source,
            belt_key(Mount.of(scenario)),
            "the belt does not become snug in the travel: paths from "
            f"{_ends(paths, scenario.display)} would",
        )
    notes = [*cautions(scenario), *([] if found else _no_length_note(scenario, paths))]
    notes += _notes(scenario, paths)
    if wanted_speed is not None:
        source = preferred_source(metric=scenario.display is Display.METRIC)
        notes.append(f"The diameters of new pulleys are those of {source}; ask what is made.")
    return BeltChoice(
        title=scenario.title,
        drive=drive,
        belts=tuple(option for _, option in sorted(found, key=lambda one: one[0])),
        pulleys=() if wanted_speed is None else preferred_pulleys(scenario, wanted_speed),
        wanted_speed=wanted_speed,
        shortest_path=paths[0],
        longest_path=paths[1],
        notes=tuple(notes),
    )


@lru_cache(maxsize=64)
def own_belt(scenario: Scenario) -> BeltOption | None:
    """Judge the scenario's own belt; None where it never becomes snug in the travel."""
    belt, drive = scenario.belt, belt_drive(scenario)
    return _option(scenario, drive, belt.length, belt_name(belt), is_yours=True)


def is_made_to_length(belt: Belt) -> bool:
    """Whether a belt comes in no published lengths: flat, or joined."""
    return belt.joint is not Joint.ENDLESS or not series(belt.section or "")


def _paths_in_travel(scenario: Scenario) -> tuple[float, float]:
    """Shortest and longest path of the belt over the travel as the scenario gives it."""
    path = Mount.of(scenario).path(np.linspace(*scenario.plate.travel, 1025))
    radii = scenario.motor.pulley_radius + scenario.driven.pulley_radius
    lengths = path.length[path.center_distance > radii]
    if lengths.size == 0:
        why = "nowhere in the travel are the pulleys clear of each other"
        raise MountError(scenario.source, "plate.travel", why)
    return float(lengths.min()), float(lengths.max())


def _rank(
    option: BeltOption, bought: Designation | None, display: Display
) -> tuple[int, int, bool, bool, float]:
    # A shop that works in inches finds belts numbered in inches.
    is_foreign = display is Display.INCH and option.number_measures == NumberOf.DATUM
    is_half_step = bought is not None and bought.is_half_step
    faults, doubts = len(option.why_not), len(option.cautions)
    return faults, doubts, is_foreign, is_half_step, -option.room_share


def _option(
    scenario: Scenario,
    drive: BeltDrive,
    pitch_length: float,
    bought: Designation | None,
    *,
    is_yours: bool = False,
) -> BeltOption | None:
    """One length, judged; None where it never becomes snug in the travel."""
    display, found = scenario.display, fit(scenario, pitch_length, bought)
    if found is None:
        return None
    power = belt_power(scenario, drive, bought, found)
    rooms, tolerances = room_judgements(display, found)
    judged = power_judgement(scenario, drive, power)
    judgements = [*drive.judgements, *rooms, *judged, *tolerances]
    faults, remarks = why_not(judgements), [*power.remarks]
    if bought is not None and not bought.in_series:
        remarks.append("not in a published series: ask whether it is made")
    if bought is not None and bought.is_half_step:
        remarks.append("a half step between the usual lengths: ask whether it is stocked")
    return BeltOption(
        designation=bought.text if bought else length_text(pitch_length, display),
        is_yours=is_yours,
        in_series=bought is not None and bought.in_series,
        number_measures=None if bought is None else bought.measures,
        pitch_length=pitch_length,
        install_ok=found.install.ok,
        take_up_ok=found.take_up.ok,
        **vars(found),
        **{**vars(power), "remarks": tuple(remarks)},
        ok=not faults,
        why_not=faults,
        judgements=tuple(judgements),
    )


def _ends(lengths: tuple[float, float], display: Display) -> str:
    return " to ".join(length_text(length, display) for length in lengths)


def _notes(scenario: Scenario, paths: tuple[float, float]) -> list[str]:
    belt, driven, snug = scenario.belt, scenario.driven, snug_travel(scenario, scenario.belt.length)
    notes = [] if snug is None else [*snug[1].notes]
    sides: tuple[Motor | Driven, ...] = (scenario.motor, driven)
    small = min(sides, key=lambda side: side.pulley_radius)
    if small.pulley_face is PulleyFace.FLAT and v_section(belt.section or "") is not None:
        notes.append(
            "A V-belt on a smaller pulley with a flat rim is in no table: its arc factor is "
            "computed from the traction there."
        )
    if is_made_to_length(belt):
        notes += _cut_to_length(scenario, paths)
    most, speed = driven.max_speed, Mount.of(scenario).driven_speed
    if most is not None and speed > most * (1 + ROUNDING):
        notes.append(
            f"The driven shaft turns at {speed / _RPM:.0f} rpm, above its max_speed of "
            f"{most / _RPM:.0f} rpm."
        )
    first, last = sorted(bearing.position for bearing in driven.bearings)
    if first < driven.pulley_position < last and belt.joint is Joint.ENDLESS:
        joint = Joint.LACED if flat_material(belt.section or "") else Joint.LINKED
        notes.append(
            "The driven pulley is between the bearings: to change an endless belt the shaft must "
            f"come out of them. A {joint} belt is closed round the shaft where it lies; try it "
            f'with joint = "{joint}" in [belt], for it is softer.'
        )
    return notes


def _cut_to_length(scenario: Scenario, paths: tuple[float, float]) -> list[str]:
    """Which lengths of a belt without a series will do, and what becomes of a joined one."""
    joint, display = scenario.belt.joint, scenario.display
    if joint is not Joint.ENDLESS:
        shorter = "take a link or more out" if joint is Joint.LINKED else "cut it and lace it anew"
        return [
            "Such a belt is made to length, and shortened when it has stretched: pitch lengths of "
            f"{_ends(paths, display)} become snug in the travel.",
            f"A new {joint} belt stretches: look at it each day of use until it stays, and set it "
            f"again. When the plate is at the tight end of its travel, {shorter}, and begin again "
            "from zero (common practice).",
        ]
    good = [
        length
        for length in np.linspace(*paths, _TRIALS)
        if (found := fit(scenario, float(length), None)) and found.install.ok and found.take_up.ok
    ]
    if not good:
        return ["Made to length, no belt leaves both rooms in this travel."]
    ends = _ends((good[0], good[-1]), display)
    return [f"Such a belt is made to length: a pitch length of {ends} leaves both rooms."]


def _no_length_note(scenario: Scenario, paths: tuple[float, float]) -> list[str]:
    """How far the mount must be moved for the published lengths on either side."""
    radii, display = (scenario.motor.pulley_radius, scenario.driven.pulley_radius), scenario.display
    least = float(least_length(*radii))
    every = [one for one in series(scenario.belt.section or "") if one.pitch_length > least]
    inch = [one for one in every if one.measures is not NumberOf.DATUM]
    sold = inch if inch and display is Display.INCH else every

    def way(belt: Designation, path: float) -> str:
        now, then = (float(center_distance(one, *radii)) for one in (path, belt.pitch_length))
        off, move = (
            length_text(abs(amount), display) for amount in (belt.pitch_length - path, then - now)
        )
        size, side = ("shorter", "nearer to") if then < now else ("longer", "further from")
        return (
            f"{belt.text}, {off} {size}, would want motor, hinge and adjuster {move} {side} the "
            "driven shaft"
        )

    shorter = [one for one in sold if one.pitch_length < paths[0]]
    longer = [one for one in sold if one.pitch_length > paths[1]]
    ways = [way(one, paths[0]) for one in shorter[-1:]] + [way(one, paths[1]) for one in longer[:1]]
    if not ways:
        return []
    return [
        f"The nearest published lengths: {'; '.join(ways)}. That is where it is just snug at the "
        "end of the travel: add the room to slip it on and to take it up, or give the plate more "
        "travel."
    ]
