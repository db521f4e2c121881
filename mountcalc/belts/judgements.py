"""What is judged of a belt in its mount: room, power, pulleys, rims."""

from __future__ import annotations

from dataclasses import replace

from mountcalc.belts.results import BeltDrive, LengthEnd, Room
from mountcalc.handbook.belts.grooves import outside_less_pitch, pitch_from_rim
from mountcalc.handbook.belts.pulleys import LeastPulley
from mountcalc.handbook.rows import Datum
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
from mountcalc.pages.amounts import length_text, need_text, power_text, room_text, speed_text
from mountcalc.scenario.model import Display, Driven, Motor, PulleyFace, Scenario

__all__ = [
    "ROUNDING",
    "power_judgement",
    "pulley_judgements",
    "rating_judgement",
    "rim_judgement",
    "room_judgements",
    "tolerance_cautions",
    "why_not",
]

ROUNDING = 1e-3
"""What is over or below a handbook's number by less than this share of it is rounding."""


def pulley_judgements(
    scenario: Scenario, least: Datum | None, on_motor: LeastPulley | None
) -> tuple[Judgement, ...]:
    """Judge the pulleys against the least that belt and motor bear."""
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
    side: Motor | Driven = scenario.motor if topic.subject == "motor pulley" else scenario.driven
    size, display = 2 * side.pulley_radius, scenario.display
    measure = Measure.at_least(LENGTH, size, least, ROUNDING)
    relation = "smaller than" if measure.verdict is Verdict.FAIL else "no smaller than"
    return topic.judge(
        measure,
        f"the {topic.subject} of {length_text(size, display)} is {relation} the "
        f"{need_text(least, display)} {wants} ({_over_rim(scenario, side, least)})",
    )


def _over_rim(scenario: Scenario, side: Motor | Driven, pitch: float) -> str:
    """What a tape finds over the rim of a pulley of a pitch diameter [m]."""
    section = scenario.belt.section or ""
    if side.pulley_face is PulleyFace.FLAT:
        under = pitch_from_rim(section, 0.0, scenario.belt.thickness)
        over = None if under is None else -under
    else:
        outside = outside_less_pitch(section)
        over = None if outside is None else outside.value
    if over is None:
        return "pitch diameters"
    return f"pitch diameters; {need_text(pitch + over, scenario.display)} over the rim"


def rim_judgement(scenario: Scenario, rim_speed: float, most: Datum) -> Judgement:
    """Judge the faster rim against what pulleys of cast iron are made for."""
    return Topic("rim-speed", most.source, sure=most.sure).judge(
        Measure.at_most(SURFACE_SPEED, rim_speed, most.value, ROUNDING),
        f"a rim runs at {speed_text(rim_speed, scenario.display)}, ordinary pulleys are for up to "
        f"{speed_text(most.value, scenario.display)}",
    )


def rating_judgement(drive: BeltDrive) -> tuple[Judgement, ...]:
    """Say why the power is not judged length by length: no rating, or one that is nothing."""
    if drive.table_rating is None:
        measure = Measure(POWER, drive.design_power)
    elif drive.table_rating > 0:
        return ()
    else:
        measure = Measure(POWER, drive.design_power, 0.0, verdict=Verdict.FAIL)
    topic = Topic("belt-power", drive.rating_source, sure=drive.rating_sure)
    return (topic.judge(measure, str(drive.rating_why_not)),)


def power_judgement(
    scenario: Scenario, drive: BeltDrive, rating: float | None, needed: int | None
) -> tuple[Judgement, ...]:
    """Judge what the belts of one length carry."""
    if rating is None or needed is None:
        return ()
    count, display = scenario.belt.count, scenario.display
    is_enough = needed <= count
    measure = replace(
        Measure.at_most(POWER, drive.design_power, rating * count),
        verdict=Verdict.PASS if is_enough else Verdict.FAIL,
    )
    have = f"{count} is there" if count == 1 else f"{count} are there"
    sentence = f"{needed} belts are needed for the power, {have}"
    if is_enough:
        belts = "one belt carries" if count == 1 else f"{count} belts carry"
        sentence = (
            f"{belts} {power_text(rating * count, display)}; "
            f"{power_text(drive.design_power, display)} is asked with the service factor"
        )
    sure = weakest(drive.rating_sure, drive.service_factor_sure)
    topic = Topic("belt-power", drive.rating_source, sure=sure)
    return (topic.judge(measure, sentence),)


def room_judgements(scenario: Scenario, install: Room, take_up: Room) -> tuple[Judgement, ...]:
    """Judge whether a belt can be slipped on and taken up."""
    display = scenario.display
    return (
        _room("belt-install", install, ("close", "to slip a new belt on"), display),
        _room("belt-take-up", take_up, ("open", "to take it up as it stretches"), display),
    )


def _room(name: str, room: Room, words: tuple[str, str], display: Display) -> Judgement:
    verb, purpose = words
    topic = Topic(name, room.source, sure=room.sure)
    if room.needed == 0:
        return topic.judge(
            Measure(LENGTH, room.there, verdict=Verdict.PASS),
            f"the centres need not {verb}: {room.source}",
        )
    only = "" if room.ok else "only "
    measure = replace(
        Measure.at_least(LENGTH, room.there, room.needed),
        verdict=Verdict.PASS if room.ok else Verdict.FAIL,
    )
    return topic.judge(
        measure,
        f"the plate {verb}s the centres by {only}{room_text(room.there, display)} from snug, "
        f"{need_text(room.needed, display)} wanted {purpose}",
    )


def tolerance_cautions(
    scenario: Scenario, rooms: tuple[Room, Room], ends: tuple[LengthEnd | None, LengthEnd | None]
) -> tuple[Judgement, ...]:
    """Say where only a belt as short or as long as its tolerance allows wants room."""
    found = []
    for end, room, word, does in zip(
        ends, rooms, ("short", "long"), ("closes", "opens"), strict=True
    ):
        if end is None or end.ok or not room.ok:
            continue
        what = "it never becomes snug in the travel"
        if end.room is not None:
            only = room_text(end.room, scenario.display)
            what = f"the plate {does} the centres by only {only}"
        topic = Topic("belt-tolerance", "tolerance of the belt's length", word, sure="estimate")
        measure = Measure(LENGTH, end.room, room.needed, verdict=Verdict.FAIL)
        found.append(topic.judge(measure, f"as {word} as its tolerance allows {what}"))
    return tuple(found)


def why_not(judgements: tuple[Judgement, ...]) -> tuple[str, ...]:
    """What those say that keep a belt out."""
    return tuple(one.sentence for one in judgements if one.verdict is Verdict.FAIL)
