"""What belts of a section carry in a drive: rating, factors, design power, least pulleys."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mountcalc.belts.fitting import Fit
from mountcalc.belts.judgements import pulley_judgements, rating_judgement, rim_judgement, why_not
from mountcalc.belts.results import BeltDrive, OtherRating
from mountcalc.equilibrium.mount import Mount
from mountcalc.formulas.belt_rating import belts_needed
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import greatest_rim_speed, outside_less_pitch
from mountcalc.handbook.belts.pulleys import LeastPulley, least_motor_pulley
from mountcalc.handbook.belts.ratings import (
    Rating,
    Shock,
    Torque,
    arc_factor_of,
    length_factor,
    rated_power,
    service_factor,
)
from mountcalc.handbook.belts.sections import Joint, flat_material
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import INCH, Datum
from mountcalc.scenario.model import Driven, Motor, PulleyFace, Scenario

__all__ = ["NOT_JUDGED", "BeltPower", "belt_drive", "belt_power", "least_diameter", "least_pulley"]

NOT_JUDGED = "its power is not judged"
"""Remark on a belt whose rating is not known."""

# Published arc factors are this times (1 - 1/R), R being the ratio of tensions at slip.
_OF_TENSIONS = 1.25


@dataclass(frozen=True, slots=True)
class BeltPower:
    """What one length of belt carries: factors [-] and powers [W] of one belt.

    ``table_rating`` is what is published for section, pulley and speed, ``rating`` that times the
    factors; None where nothing is published. ``belts_needed`` is None without a rating, and where
    that is zero.
    """

    arc_factor: float | None
    length_factor: float | None
    table_rating: float | None
    rating: float | None
    belts_needed: int | None
    remarks: tuple[str, ...]


def belt_drive(scenario: Scenario) -> BeltDrive:
    """Work out what holds for every length of belt in a drive."""
    mount, belt = Mount.of(scenario), scenario.belt
    small = 2 * min(scenario.motor.pulley_radius, scenario.driven.pulley_radius)
    large = 2 * max(scenario.motor.pulley_radius, scenario.driven.pulley_radius)
    rating = _rating(scenario, small, large / small)
    service = _service(scenario)
    rim_speed = mount.belt_speed * _rim_over_pitch(scenario)
    least, on_motor = least_diameter(scenario), _least_on_motor(scenario)
    least_motor = None if on_motor is None else on_motor.diameter
    drive = BeltDrive(
        section=belt.section,
        count=belt.count,
        belt_speed=mount.belt_speed,
        rim_speed=rim_speed,
        driven=mount.driven_speed,
        power=scenario.driven.power,
        service_factor=service.value,
        service_factor_low=service.low,
        service_factor_high=service.high,
        service_factor_source=service.source,
        design_power=scenario.driven.power * service.value,
        table_rating=rating.power,
        rating_source=rating.source,
        rating_why_not=rating.why_not,
        other_ratings=tuple(OtherRating(*other) for other in rating.others),
        least_diameter=None if least is None else least.value,
        least_motor_diameter=least_motor,
        least_motor_sentence=None if on_motor is None else on_motor.sentence,
        small_diameter=small,
        why_not=(),
        rating_sure=rating.sure,
        service_factor_sure=service.sure,
        judgements=(),
    )
    judgements = (
        *pulley_judgements(scenario, least, on_motor),
        rim_judgement(scenario, rim_speed, greatest_rim_speed()),
        *rating_judgement(drive),
    )
    return replace(drive, judgements=judgements, why_not=why_not(judgements))


def _rating(scenario: Scenario, small: float, speed_ratio: float) -> Rating:
    """Published rating of one endless belt; a joined one has none."""
    joint = scenario.belt.joint
    if joint is not Joint.ENDLESS:
        why = f"published ratings are for endless belts: ask what a {joint} one carries"
        return Rating(None, "", why, ())
    speed = Mount.of(scenario).belt_speed
    return rated_power(scenario.belt.section or "", small, speed, speed_ratio)


def belt_power(
    scenario: Scenario, drive: BeltDrive, bought: Designation | None, found: Fit
) -> BeltPower:
    """Work out what one length of belt carries, and how many are needed."""
    arc, remarks = _arc_factor(scenario, found)
    length = _length_factor(scenario, bought)
    if drive.table_rating is None:
        return BeltPower(None, None, None, None, None, (NOT_JUDGED,))
    if length is None:
        remarks = (*remarks, "no length factor is published for it: 1 is taken")
    rating = drive.table_rating * arc * (1.0 if length is None else length)
    return BeltPower(
        arc, length, drive.table_rating, rating, _needed(drive.design_power, rating), remarks
    )


def _needed(design_power: float, rating: float) -> int | None:
    """How many belts carry a power [W]; None where one carries nothing."""
    if rating <= 0:
        return None
    return int(belts_needed(design_power, rating)) if design_power > 0 else 1


def _length_factor(scenario: Scenario, bought: Designation | None) -> float | None:
    """Length factor [-], None where none is published."""
    if bought is not None:
        return length_factor(bought.section, bought.inside_inches).value
    section = v_section(scenario.belt.section or "")
    if section is None:
        return None
    inside = scenario.belt.length - section.inside_to_pitch.value
    return length_factor(section.name, inside / INCH).value


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


def _rim_over_pitch(scenario: Scenario) -> float:
    """Outside over pitch diameter of the pulley whose rim runs faster [-]."""
    return max(
        1.0 + _outside(scenario, side.pulley_face, side.pulley_radius)
        for side in (scenario.motor, scenario.driven)
    )


def _outside(scenario: Scenario, face: PulleyFace, radius: float) -> float:
    """Height of the rim over the pitch line as a share of the pitch radius [-]."""
    more = outside_less_pitch(scenario.belt.section or "")
    return 0.0 if more is None or face is PulleyFace.FLAT else more.value / (2 * radius)


def _arc_factor(scenario: Scenario, found: Fit) -> tuple[float, tuple[str, ...]]:
    """Arc factor [-] for the pulleys as they are, and what to say of it."""
    wraps = found.wrap_motor, found.wrap_driven
    sides: tuple[Motor | Driven, ...] = (scenario.motor, scenario.driven)
    order = (0, 1) if sides[0].pulley_radius <= sides[1].pulley_radius else (1, 0)
    small, large = (sides[index] for index in order)
    if PulleyFace.FLAT is small.pulley_face:
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
