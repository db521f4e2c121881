"""Where a mount becomes snug with a belt of a length; room to fit and to take it up, judged."""

from __future__ import annotations

from dataclasses import replace

from mountcalc.belts.results import LengthEnd
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import Travel, belt_key, usable_travel
from mountcalc.errors import MountError
from mountcalc.formulas.belt import wraps
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import (
    length_tolerance,
)
from mountcalc.handbook.rows import Datum
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.pages.amounts import LENGTH, need_text, room_text
from mountcalc.record import Record
from mountcalc.requirements.swing import Room, room_on_centers, room_wanted
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display


class Fit(Record):
    """A mount with a belt of a length: lengths [m], angles [rad].

    ``wrap_motor`` and ``wrap_driven`` are those at snug; ``shortest`` and ``longest`` are None
    where no tolerance is published.
    """

    snug_plate_angle: float
    center_distance: float
    wrap_motor: float
    wrap_driven: float
    install: Room
    take_up: Room
    shortest: LengthEnd | None
    longest: LengthEnd | None


def fit(scenario: Scenario, pitch_length: float, bought: Designation | None) -> Fit | None:
    """Put a belt of a length into a mount; None where it is never snug in the usable travel."""
    found = snug_travel(scenario, pitch_length)
    if found is None:
        return None
    mount, travel = found
    install, take_up = room_wanted(scenario.belt.joint, pitch_length, bought)
    on_motor, on_driven = wraps(mount.strands(travel.snug).beta)
    tolerance = None if bought is None else length_tolerance(bought)
    shortest = longest = None
    if bought is not None and tolerance is not None:
        length = bought.pitch_length
        shortest = _length_end(scenario, length - tolerance.short, install, closing=True)
        longest = _length_end(scenario, length + tolerance.long, take_up, closing=False)
    return Fit(
        snug_plate_angle=travel.snug,
        center_distance=float(mount.path(travel.snug).center_distance),
        wrap_motor=float(on_motor),
        wrap_driven=float(on_driven),
        install=room_on_centers(mount, travel, install, closing=True),
        take_up=room_on_centers(mount, travel, take_up, closing=False),
        shortest=shortest,
        longest=longest,
    )


def snug_travel(scenario: Scenario, pitch_length: float) -> tuple[Mount, Travel] | None:
    """A mount with another length of belt, and its travel; None where that is never snug."""
    mount = Mount.of(replace(scenario, belt=replace(scenario.belt, length=pitch_length)))
    try:
        return mount, usable_travel(mount)
    except MountError as error:
        # What is wrong whatever the length, or looks swapped, is told of the scenario's own belt.
        if error.key != belt_key(mount) and pitch_length == scenario.belt.length:
            raise
        return None


def _length_end(scenario: Scenario, length: float, wanted: Datum, *, closing: bool) -> LengthEnd:
    """The belt as short or as long as its tolerance allows, and its room to fit or take up."""
    found = snug_travel(scenario, length)
    if found is None:
        return LengthEnd(length, None, None, None, ok=False)
    (mount, travel), room = found, room_on_centers(*found, wanted, closing=closing)
    center = float(mount.path(travel.snug).center_distance)
    return LengthEnd(length, travel.snug, center, room.there, room.ok)


def room_judgements(display: Display, found: Fit) -> tuple[list[Judgement], list[Judgement]]:
    """Whether a belt can be slipped on and taken up; cautions where only its tolerance forbids."""
    rooms, cautions = [], []
    for name, room, way, purpose, end, word in (
        ("install", found.install, "closer", "to slip a new belt on", found.shortest, "short"),
        ("take-up", found.take_up, "apart", "to take it up as it stretches", found.longest, "long"),
    ):
        measure = Measure(LENGTH, room.there, verdict=Verdict.PASS)
        sentence = f"the shafts need not move: {room.source}"
        if room.needed > 0:
            verdict = Verdict.PASS if room.ok else Verdict.FAIL
            measure = Measure.at_least(LENGTH, room.there, room.needed)
            measure = replace(measure, verdict=verdict)
            sentence = (
                f"the plate moves the shafts {way} by {'' if room.ok else 'only '}"
                f"{room_text(room.there, display)} from snug, "
                f"{need_text(room.needed, display)} wanted {purpose}"
            )
        topic = Topic(f"belt-{name}", room.source, sure=room.sure)
        rooms.append(topic.judge(measure, sentence))
        if end is None or end.ok or not room.ok:
            continue
        what = "it never becomes snug in the travel"
        if end.room is not None:
            what = f"the plate moves the shafts {way} by only {room_text(end.room, display)}"
        topic = Topic("belt-tolerance", "tolerance of the belt's length", word, sure="estimate")
        measure = Measure(LENGTH, end.room, room.needed, verdict=Verdict.FAIL)
        cautions.append(topic.judge(measure, f"as {word} as its tolerance allows, {what}"))
    return rooms, cautions
