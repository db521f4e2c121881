"""What belts of a section carry in a drive: rating, factors, design power, pulleys; and judged."""

from __future__ import annotations

import math
from dataclasses import replace

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
from mountcalc.judgement import Judgement, Measure, Topic, Verdict, weakest
from mountcalc.pages.amounts import (
    LENGTH,
    POWER,
    SURFACE_SPEED,
    length_text,
    need_text,
    power_text,
    speed_text,
)
from mountcalc.record import Record
from mountcalc.scenario.driven import Driven
from mountcalc.scenario.model import Motor, Scenario
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.text.wording import section_words

NOT_JUDGED = "its power is not judged"
"""Remark on a belt whose rating is not known."""
# What is over or below a handbook's number by less than this share of it is rounding.
_ROUNDING = 1e-3
# Published arc factors are this times (1 - 1/R), R being the ratio of tensions at slip.
_OF_TENSIONS = 1.25


class BeltPower(Record):
    """What one belt of a length carries: the fields of an option that say so, with remarks."""

    arc_factor: float | None = None
    length_factor: float | None = None
    table_rating: float | None = None
    rating: float | None = None
    belts_needed: int | None = None
    remarks: tuple[str, ...] = (NOT_JUDGED,)


def belt_drive(scenario: Scenario) -> BeltDrive:
    """Work out what holds for every length of belt in a drive."""
    mount, belt, motor, driven = Mount.of(scenario), scenario.belt, scenario.motor, scenario.driven
    sides: tuple[Motor | Driven, ...] = (motor, driven)
    small, large = sorted(2 * side.pulley_radius for side in sides)
    rating = rated_power(belt.section or "", small, mount.belt_speed, large / small)
    if belt.joint is not Joint.ENDLESS:
        why = f"published ratings are for endless belts: ask what a {belt.joint} one carries"
        rating = Rating(None, "", why, ())
    shock, torque = driven.shock or Shock.LIGHT, motor.torque or Torque.NORMAL
    low, high, source, sure = service_factor(shock, torque)
    named = f"{shock} shock" if shock is not Shock.UNIFORM else "uniform load"
    taken = "" if driven.shock else " (driven.shock is not given, so light is taken)"
    source = f"{source}, {sure}: {named}, {torque} motor torque{taken}"
    if driven.service_factor is not None:
        low = high = driven.service_factor
        source, sure = "the scenario", ""
    over = [(rim_less_pitch(scenario, side) or 0.0) / side.pulley_radius for side in sides]
    rim_speed = mount.belt_speed * (1.0 + max(0.0, *over) / 2)
    least, on_motor = least_diameter(scenario), _least_on_motor(scenario)
    drive = BeltDrive(
        section=belt.section,
        count=belt.count,
        belt_speed=mount.belt_speed,
        rim_speed=rim_speed,
        driven=mount.driven_speed,
        power=driven.power,
        service_factor=high,
        service_factor_low=low,
        service_factor_high=high,
        service_factor_source=source,
        design_power=driven.power * high,
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
        service_factor_sure=sure,
        judgements=(),
    )
    most, display = greatest_rim_speed(), scenario.display
    rim = Topic("rim-speed", most.source, sure=most.sure).judge(
        Measure.at_most(SURFACE_SPEED, rim_speed, most.value, _ROUNDING),
        f"a rim runs at {speed_text(rim_speed, display)}, ordinary pulleys are for up to "
        f"{speed_text(most.value, display)}",
    )
    judgements = [*_pulley_judgements(scenario, least, on_motor), rim]
    if (
        rating.power is None or rating.power <= 0
    ):  # none known, or nothing is left of it: no length need be looked at
        measure = Measure(POWER, drive.design_power)
        if rating.power is not None:
            measure = Measure(POWER, drive.design_power, 0.0, verdict=Verdict.FAIL)
        topic = Topic("belt-power", rating.source, sure=rating.sure)
        judgements.append(topic.judge(measure, str(rating.why_not)))
    return replace(drive, judgements=tuple(judgements), why_not=why_not(judgements))


def why_not(judgements: list[Judgement]) -> tuple[str, ...]:
    """What those say that keep a belt out."""
    return tuple(one.sentence for one in judgements if one.verdict is Verdict.FAIL)


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


def power_judgement(scenario: Scenario, drive: BeltDrive, power: BeltPower) -> list[Judgement]:
    """Judge what the belts of one length carry."""
    if power.rating is None or power.belts_needed is None:
        return []
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
    return [Topic("belt-power", drive.rating_source, sure=sure).judge(measure, sentence)]


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


def _least_on_motor(scenario: Scenario) -> LeastPulley | None:
    """The motor's own least pulley for V-belts, by its rated power and speed."""
    section, motor = scenario.belt.section or "", scenario.motor
    is_v = v_section(section) is not None
    return least_motor_pulley(motor.power, motor.speed, section) if is_v else None


def least_pulley(scenario: Scenario) -> float:
    """Find the least pitch diameter that neither belt nor motor forbids."""
    belt, motor = least_diameter(scenario), _least_on_motor(scenario)
    by_belt = 0.0 if belt is None else belt.value
    return max(by_belt, (motor.diameter or 0.0) if motor is not None else 0.0)


def rim_less_pitch(scenario: Scenario, side: Motor | Driven) -> float | None:
    """By how much a pulley's rim is over its pitch diameter [m]; None where nobody knows."""
    section = scenario.belt.section or ""
    if side.pulley_face is PulleyFace.FLAT:
        under = pitch_from_rim(section, 0.0, scenario.belt.thickness)
        return None if under is None else -under
    outside = outside_less_pitch(section)
    return None if outside is None else outside.value


def _pulley_judgements(
    scenario: Scenario, least: Datum | None, on_motor: LeastPulley | None
) -> list[Judgement]:
    """The pulleys against the least that belt and motor bear."""

    def judged(topic: Topic, diameter: float, wants: str) -> Judgement:
        """One pulley against one least diameter, named so that one of that size passes."""
        side = scenario.motor if topic.subject == "motor pulley" else scenario.driven
        size, over, display = (
            2 * side.pulley_radius,
            rim_less_pitch(scenario, side),
            scenario.display,
        )
        measure = Measure.at_least(LENGTH, size, diameter, _ROUNDING)
        relation = "smaller than" if measure.verdict is Verdict.FAIL else "no smaller than"
        rim = "" if over is None else f"; {need_text(diameter + over, display)} over the rim"
        return topic.judge(
            measure,
            f"the {topic.subject} of {length_text(size, display)} is {relation} the "
            f"{need_text(diameter, display)} {wants} (pitch diameters{rim})",
        )

    found = []
    if least is not None:
        topic = Topic("belt-pulley", least.source, sure=least.sure)
        wants = f"that {section_words(scenario.belt.section)} wants"
        both = [
            judged(replace(topic, subject=subject), least.value, wants)
            for subject in ("motor pulley", "driven pulley")
        ]
        smaller = min(both, key=lambda one: one.value or 0.0)
        found += [one for one in both if one is smaller or one.verdict is not Verdict.PASS]
    if on_motor is not None and on_motor.diameter is not None:
        topic = Topic("motor-pulley", on_motor.source, "motor pulley", sure=on_motor.sure)
        found.append(judged(topic, on_motor.diameter, "that the motor's bearings want"))
    return found
