"""What belts of a section carry in a drive: rating, factors, design power, pulleys; and judged."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mountcalc.belts.fitting import Fit
from mountcalc.belts.results import BeltDrive, OtherRating
from mountcalc.equilibrium.mount import Mount
from mountcalc.formulas.belt_rating import belts_needed
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import greatest_rim_speed, outside_less_pitch, pitch_from_rim
from mountcalc.handbook.belts.pulleys import LeastPulley, least_motor_pulley
from mountcalc.handbook.belts.ratings import (
    Rating,
    arc_factor_of,
    length_factor,
    rated_power,
    service_factor,
)
from mountcalc.handbook.belts.sections import Joint, Shock, Torque, flat_material
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import INCH, Datum
from mountcalc.judgement import (
    LENGTH,
    POWER,
    SURFACE_SPEED,
    Judgement,
    Measure,
    Topic,
    Verdict,
    weakest,
)
from mountcalc.pages.amounts import length_text, need_text, power_text, speed_text
from mountcalc.scenario.model import Driven, Motor, PulleyFace, Scenario

NOT_JUDGED = "its power is not judged"
"""Remark on a belt whose rating is not known."""
# What is over or below a handbook's number by less than this share of it is rounding.
_ROUNDING = 1e-3
# Published arc factors are this times (1 - 1/R), R being the ratio of tensions at slip.
_OF_TENSIONS = 1.25


@dataclass(frozen=True, slots=True)
class BeltPower:
    """What one length of belt carries: factors [-] and powers [W] of one belt.

    ``table_rating`` is what is published for section, pulley and speed, ``rating`` that times the
    factors; None where nothing is published. ``belts_needed`` is None without a rating, and where
    that is zero.
    """

    arc_factor: float | None = None
    length_factor: float | None = None
    table_rating: float | None = None
    rating: float | None = None
    belts_needed: int | None = None
    remarks: tuple[str, ...] = (NOT_JUDGED,)


def belt_drive(scenario: Scenario) -> BeltDrive:
    """Work out what holds for every length of belt in a drive."""
    mount, belt, driven = Mount.of(scenario), scenario.belt, scenario.driven
    small, large = sorted(2 * side.pulley_radius for side in (scenario.motor, driven))
    rating = _rating(scenario, mount.belt_speed, small, large / small)
    service = _service(scenario)
    rim_speed = mount.belt_speed * _rim_over_pitch(scenario)
    least, on_motor = least_diameter(scenario), _least_on_motor(scenario)
    drive = BeltDrive(
        section=belt.section,
        count=belt.count,
        belt_speed=mount.belt_speed,
        rim_speed=rim_speed,
        driven=mount.driven_speed,
        power=driven.power,
        service_factor=service.value,
        service_factor_low=service.low,
        service_factor_high=service.high,
        service_factor_source=service.source,
        design_power=driven.power * service.value,
        table_rating=rating.power,
        rating_source=rating.source,
        rating_why_not=rating.why_not,
        other_ratings=tuple(OtherRating(*other) for other in rating.others),
        least_diameter=None if least is None else least.value,
        least_motor_diameter=None if on_motor is None else on_motor.diameter,
        least_motor_sentence=None if on_motor is None else on_motor.sentence,
        small_diameter=small,
        why_not=(),
        rating_sure=rating.sure,
        service_factor_sure=service.sure,
        judgements=(),
    )
    judgements = (
        *_pulley_judgements(scenario, least, on_motor),
        _rim_judgement(scenario, rim_speed),
        *_rating_judgement(drive),
    )
    return replace(drive, judgements=judgements, why_not=why_not(judgements))


def why_not(judgements: tuple[Judgement, ...]) -> tuple[str, ...]:
    """What those say that keep a belt out."""
    return tuple(one.sentence for one in judgements if one.verdict is Verdict.FAIL)


def _rating(scenario: Scenario, speed: float, small: float, speed_ratio: float) -> Rating:
    """Published rating of one endless belt; a joined one has none."""
    joint = scenario.belt.joint
    if joint is not Joint.ENDLESS:
        why = f"published ratings are for endless belts: ask what a {joint} one carries"
        return Rating(None, "", why, ())
    return rated_power(scenario.belt.section or "", small, speed, speed_ratio)


@dataclass(frozen=True, slots=True)
class _Service:
    """Service factor [-] that is taken, and the published range around it."""

    value: float
    low: float
    high: float
    source: str
    sure: str


def _service(scenario: Scenario) -> _Service:
    """The factor that the scenario gives, or the upper end of the published range."""
    given = scenario.driven.service_factor
    if given is not None:
        return _Service(given, given, given, "the scenario", "")
    shock = scenario.driven.shock or Shock.LIGHT
    torque = scenario.motor.torque or Torque.NORMAL
    low, high, source, sure = service_factor(shock, torque)
    named = f"{shock} shock" if shock is not Shock.UNIFORM else "uniform load"
    taken = "" if scenario.driven.shock else " (driven.shock is not given, so light is taken)"
    told = f"{source}, {sure}: {named}, {torque} motor torque{taken}"
    return _Service(high, low, high, told, sure)


def belt_power(
    scenario: Scenario, drive: BeltDrive, bought: Designation | None, found: Fit
) -> BeltPower:
    """Work out what one length of belt carries, and how many are needed."""
    if drive.table_rating is None:
        return BeltPower()
    arc, remarks = _arc_factor(scenario, found)
    length = _length_factor(scenario, bought)
    if length is None:
        remarks = (*remarks, "no length factor is published for it: 1 is taken")
    rating, needed = drive.table_rating * arc * (1.0 if length is None else length), None
    if rating > 0:
        needed = int(belts_needed(drive.design_power, rating)) if drive.design_power > 0 else 1
    return BeltPower(arc, length, drive.table_rating, rating, needed, remarks)


def _length_factor(scenario: Scenario, bought: Designation | None) -> float | None:
    """Length factor [-], None where none is published."""
    if bought is not None:
        return length_factor(bought.section, bought.inside_inches).value
    section = v_section(scenario.belt.section or "")
    if section is None:
        return None
    inside = scenario.belt.length - section.inside_to_pitch.value
    return length_factor(section.name, inside / INCH).value


def _arc_factor(scenario: Scenario, found: Fit) -> tuple[float, tuple[str, ...]]:
    """Arc factor [-] for the pulleys as they are, and what to say of it."""
    wraps = found.wrap_motor, found.wrap_driven
    sides: tuple[Motor | Driven, ...] = (scenario.motor, scenario.driven)
    small, large = sorted(sides, key=lambda side: side.pulley_radius)
    if small.pulley_face is PulleyFace.FLAT:
        # Not in the table, which a flat pulley that is the larger of the two is.
        ratio = min(math.exp(side.traction * wrap) for side, wrap in zip(sides, wraps, strict=True))
        return _OF_TENSIONS * (1 - 1 / ratio), ()
    factor = arc_factor_of(
        min(wraps),
        2 * small.pulley_radius,
        2 * large.pulley_radius,
        found.center_distance,
        flat_driven=large.pulley_face is PulleyFace.FLAT,
    )
    assert factor.value is not None, "a factor is given for every arc"
    return factor.value, () if factor.remark is None else (factor.remark,)


def least_diameter(scenario: Scenario) -> Datum | None:
    """Look up the least pitch diameter for the scenario's belt."""
    belt = scenario.belt
    section, material = v_section(belt.section or ""), flat_material(belt.section or "")
    if section is not None:
        return section.least_diameter
    if material is None or belt.thickness is None or material.least_diameter_over_thickness is None:
        return None
    datum = material.least_diameter_over_thickness
    return Datum(datum.value * belt.thickness, datum.source, datum.sure)


def least_pulley(scenario: Scenario) -> float:
    """Find the least pitch diameter that neither belt nor motor forbids."""
    belt, motor = least_diameter(scenario), _least_on_motor(scenario)
    by_belt = 0.0 if belt is None else belt.value
    return max(by_belt, (motor.diameter or 0.0) if motor is not None else 0.0)


def _least_on_motor(scenario: Scenario) -> LeastPulley | None:
    """The motor's own least pulley for V-belts, by its rated power and speed."""
    if v_section(scenario.belt.section or "") is None:
        return None
    section = scenario.belt.section or ""
    return least_motor_pulley(scenario.motor.power, scenario.motor.speed, section)


def _rim_over_pitch(scenario: Scenario) -> float:
    """Outside over pitch diameter of the pulley whose rim runs faster [-]."""
    more = outside_less_pitch(scenario.belt.section or "")
    over = [
        1.0 + more.value / (2 * side.pulley_radius)
        for side in (scenario.motor, scenario.driven)
        if more is not None and side.pulley_face is not PulleyFace.FLAT
    ]
    return max([1.0, *over])


def _pulley_judgements(
    scenario: Scenario, least: Datum | None, on_motor: LeastPulley | None
) -> tuple[Judgement, ...]:
    """The pulleys against the least that belt and motor bear."""
    found = []
    if least is not None:
        wants = f"that section {scenario.belt.section} wants"
        topic = Topic("belt-pulley", least.source, sure=least.sure)
        both = [
            _pulley(scenario, replace(topic, subject=subject), least.value, wants)
            for subject in ("motor pulley", "driven pulley")
        ]
        smaller = min(both, key=lambda one: one.value or 0.0)
        found += [one for one in both if one is smaller or one.verdict is not Verdict.PASS]
    if on_motor is not None and on_motor.diameter is not None:
        topic = Topic("motor-pulley", on_motor.source, "motor pulley", sure=on_motor.sure)
        wants = "that the motor's bearings want"
        found.append(_pulley(scenario, topic, on_motor.diameter, wants))
    return tuple(found)


def _pulley(scenario: Scenario, topic: Topic, least: float, wants: str) -> Judgement:
    """One pulley against one least diameter [m], named so that one of that size passes."""
    side = scenario.motor if topic.subject == "motor pulley" else scenario.driven
    size, display = 2 * side.pulley_radius, scenario.display
    measure = Measure.at_least(LENGTH, size, least, _ROUNDING)
    relation = "smaller than" if measure.verdict is Verdict.FAIL else "no smaller than"
    return topic.judge(
        measure,
        f"the {topic.subject} of {length_text(size, display)} is {relation} the "
        f"{need_text(least, display)} {wants} ({_over_rim(scenario, side.pulley_face, least)})",
    )


def _over_rim(scenario: Scenario, face: PulleyFace, pitch: float) -> str:
    """What a tape finds over the rim of a pulley of a pitch diameter [m]."""
    section = scenario.belt.section or ""
    if face is PulleyFace.FLAT:
        under = pitch_from_rim(section, 0.0, scenario.belt.thickness)
        over = None if under is None else -under
    else:
        outside = outside_less_pitch(section)
        over = None if outside is None else outside.value
    if over is None:
        return "pitch diameters"
    return f"pitch diameters; {need_text(pitch + over, scenario.display)} over the rim"


def _rim_judgement(scenario: Scenario, rim_speed: float) -> Judgement:
    """The faster rim against what pulleys of cast iron are made for."""
    most = greatest_rim_speed()
    return Topic("rim-speed", most.source, sure=most.sure).judge(
        Measure.at_most(SURFACE_SPEED, rim_speed, most.value, _ROUNDING),
        f"a rim runs at {speed_text(rim_speed, scenario.display)}, ordinary pulleys are for up to "
        f"{speed_text(most.value, scenario.display)}",
    )


def _rating_judgement(drive: BeltDrive) -> tuple[Judgement, ...]:
    """Why the power is not judged length by length: no rating, or one that is nothing."""
    if drive.table_rating is None:
        measure = Measure(POWER, drive.design_power)
    elif drive.table_rating > 0:
        return ()
    else:
        measure = Measure(POWER, drive.design_power, 0.0, verdict=Verdict.FAIL)
    topic = Topic("belt-power", drive.rating_source, sure=drive.rating_sure)
    return (topic.judge(measure, str(drive.rating_why_not)),)


def power_judgement(
    scenario: Scenario, drive: BeltDrive, power: BeltPower
) -> tuple[Judgement, ...]:
    """Judge what the belts of one length carry."""
    if power.rating is None or power.belts_needed is None:
        return ()
    count, display = scenario.belt.count, scenario.display
    measure = Measure.at_most(POWER, drive.design_power, power.rating * count)
    if power.belts_needed <= count:
        measure = replace(measure, verdict=Verdict.PASS)
        belts = "one belt carries" if count == 1 else f"{count} belts carry"
        sentence = (
            f"{belts} {power_text(power.rating * count, display)}; "
            f"{power_text(drive.design_power, display)} is asked with the service factor"
        )
    else:
        measure = replace(measure, verdict=Verdict.FAIL)
        have = f"{count} is there" if count == 1 else f"{count} are there"
        sentence = f"{power.belts_needed} belts are needed for the power, {have}"
    sure = weakest(drive.rating_sure, drive.service_factor_sure)
    return (Topic("belt-power", drive.rating_source, sure=sure).judge(measure, sentence),)
