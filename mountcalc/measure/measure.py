"""An unknown drive: from a measured length to the belt to buy, and from a belt to what it is."""

from __future__ import annotations

import math

from mountcalc.errors import InputError
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.grooves import groove_angle, outside_less_pitch
from mountcalc.handbook.belts.lengths import matching_limit
from mountcalc.handbook.belts.sections import Section
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.measure.advice import is_near_enough, notes_of, remarks_of, what_to_do
from mountcalc.measure.drive import (
    MeasureQuestion,
    Pair,
    belt_length,
    belts_of,
    checked_reading,
    faces_of,
    is_metric,
    nearest_by,
    pair_for,
    sections_of,
    unlisted_inch,
)
from mountcalc.measure.results import BeltFacts, Candidate, Groove, Measured, Reading
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.pulleys import PulleyFace

# A length this much past either end of a series is none of that series.
_PAST_SERIES = 0.03


def measure_drive(question: MeasureQuestion) -> Measured:
    """Find the belt to buy, or tell what a designation is; see :func:`mountcalc.measure`.

    Candidates that have a belt near enough come first, then the nearest published length.
    """
    reading = checked_reading(question)
    if reading is Reading.DESIGNATION:
        return Measured(reading, None, (), _facts(question), ())
    length: float = getattr(question, reading.value)
    found, reasons = [], set()
    for section in sections_of(question):
        try:
            found.append(_candidate(question, reading, length, section))
        except InputError as error:
            reasons.add(str(error))
    if not found and len(reasons) == 1:
        raise InputError(reasons.pop())
    if not found:
        text = length_text(length, question.display)
        raise InputError(
            f"no section that fits has a published length near what was found ({text})"
        )
    found.sort(key=lambda one: (one.answer is None, abs((one.answer or one.buy).difference or 0.0)))
    notes = notes_of(question, reading, found[0].pitch_length)
    return Measured(reading, length, tuple(found), None, notes)


def _candidate(
    question: MeasureQuestion, reading: Reading, length: float, section: Section
) -> Candidate:
    belts = belts_of(section.name, metric=question.metric)
    if not belts and question.section is not None:  # it has no such numbers: those it has
        belts = belts_of(section.name, metric=None)
    if not belts:
        raise InputError(f"section {section.name}: no such lengths are published for it")
    pair = pair_for(question, section)
    if reading is Reading.STRING:
        pitch, how = _of_string(question, length, section, pair)
    elif reading is Reading.CENTER:
        pitch, how = _of_center(question, length, pair)
    else:
        pitch, how = _of_belt(question, reading, length, section, belts)
    short, long = belts[0], belts[-1]
    least, most = short.pitch_length * (1 - _PAST_SERIES), long.pitch_length * (1 + _PAST_SERIES)
    if not least <= pitch <= most:
        found, low, high = (
            length_text(one, question.display)
            for one in (pitch, short.pitch_length, long.pitch_length)
        )
        raise InputError(
            f"the published lengths of section {section.name} run from {low} ({short.text}) to "
            f"{high} ({long.text}) in pitch length, found {found}"
        )
    nearest = nearest_by(belts, "pitch_length", pitch)
    # The number on those beside it means the same: inches or millimetres.
    alike = [one for one in belts if is_metric(one) == is_metric(nearest)]
    place = alike.index(nearest)
    buy, shorter, longer, more = (
        None if belt is None else belt_length(belt, pair, pitch)
        for belt in (
            nearest,
            alike[place - 1] if place else None,
            alike[place + 1] if place + 1 < len(alike) else None,
            None if question.metric else unlisted_inch(belts, nearest, pitch),
        )
    )
    assert buy is not None
    is_near, more_is_near = (
        one is not None and is_near_enough(question, pair, pitch, one) for one in (buy, more)
    )
    to_do: tuple[str, ...] = ()
    if not is_near and not more_is_near:
        to_do = what_to_do(question, reading, section, pair, pitch)
    return Candidate(
        section=section.name,
        top_width=section.width,
        pitch_length=pitch,
        how=how,
        buy=buy,
        shorter=shorter,
        longer=longer,
        if_stocked=more,
        near_enough=is_near,
        stocked_near_enough=more_is_near,
        what_to_do=to_do,
        remarks=remarks_of(buy, more, section, pair, question.display),
    )


def _of_belt(
    question: MeasureQuestion,
    reading: Reading,
    length: float,
    section: Section,
    belts: tuple[Designation, ...],
) -> tuple[float, str]:
    """Pitch length [m] of a belt whose own length was measured, and how it follows."""
    name, display = f"{reading.value}_length", question.display
    like = nearest_by(belts, name, length)
    more = like.pitch_length - getattr(like, name)
    found, by, pitch = (length_text(one, display) for one in (length, abs(more), length + more))
    if reading is Reading.PITCH:
        return length + more, f"The pitch length was given: {found}."
    datum = section.inside_to_pitch if reading is Reading.INSIDE else section.pitch_to_outside
    sign, way = ("+", "longer") if more >= 0 else ("-", "shorter")
    return length + more, (
        f"The pitch line of section {section.name} is {way} than its {reading} by {by} "
        f"({datum.source}; {datum.sure}): {found} {sign} {by} = {pitch}."
    )


def _of_center(question: MeasureQuestion, center: float, pair: Pair | None) -> tuple[float, str]:
    """Pitch length [m] of the belt round both pulleys, and how it follows."""
    assert pair is not None, "a centre distance is refused without its pulleys"
    pitch = pair.path(center)
    if pitch is None:
        least = length_text(sum(pair.radii), question.display)
        raise InputError(f"center: the pulleys overlap; from {least} on they do not")
    apart, gives = (length_text(one, question.display) for one in (center, pitch))
    return pitch, (
        f"An open belt round these pulleys, {apart} apart, is {gives} long on its pitch line."
    )


def _of_string(
    question: MeasureQuestion, string: float, section: Section, pair: Pair | None
) -> tuple[float, str]:
    """Pitch length [m] of the belt that would run where a string was drawn, and how it follows.

    Both are open belts on the same shafts. With the same rise on both pulleys the string runs
    beside the pitch line at the same distance all round, so it is longer by pi times the rise
    (the length of a convex curve's offset), whatever the pulleys are. Otherwise the pulleys must
    be known: they give the centre distance from the string, and that the pitch length.
    """
    faces, display, inside = faces_of(question), question.display, section.inside_to_pitch
    grooves = outside_less_pitch(section.name)
    if grooves is None and PulleyFace.GROOVED in faces:
        raise InputError(f"section {section.name}: how deep its grooves are is not known")
    # How much larger the string's circle is than the belt's pitch circle.
    rise = {PulleyFace.FLAT: -inside.value / math.pi}
    if grooves is not None:
        rise[PulleyFace.GROOVED] = grooves.value
    if faces[0] is faces[1]:
        more = math.pi * rise[faces[0]]
        pitch = string - more
        found, extra, gives = (length_text(one, display) for one in (string, abs(more), pitch))
        if faces[0] is PulleyFace.GROOVED:
            source = "" if grooves is None else f"{grooves.source}; {grooves.sure}"
            return pitch, (
                "Over the rims of grooved pulleys the string runs beside the pitch line at one "
                "distance all round, so it is longer by pi times what the outside diameter is "
                f"over the pitch diameter, whatever the pulleys ({source}): {found} - {extra} = "
                f"{gives}."
            )
        return pitch, (
            "On flat rims the string lies where the inside of the belt will, so the pitch line is "
            f"longer by what it is longer than the inside ({inside.source}; {inside.sure}): "
            f"{found} + {extra} = {gives}."
        )
    if pair is None:
        raise InputError(
            "string: with one pulley grooved and one flat, a string tells the belt's length only "
            "if both pulleys are measured too"
        )
    circles = [radius + rise[face] / 2 for radius, face in zip(pair.radii, faces, strict=True)]
    if min(circles) <= 0 or string < float(least_length(*circles)):
        raise InputError("string: the string is too short for these pulleys: they would overlap")
    center = float(center_distance(string, *circles))
    pitch = float(kernels.open_belt(center, *pair.radii).length)
    return pitch, (
        "Over the grooved rim the string runs outside the belt's pitch line, on the flat one "
        f"inside it: the centre distance that the string's {length_text(string, display)} give "
        f"these pulleys leads to {length_text(pitch, display)}."
    )


def _facts(question: MeasureQuestion) -> BeltFacts:
    """What a designation is, and what string and tape would read."""
    assert question.designation is not None
    if question.section is not None or question.width is not None:
        raise InputError("a designation names its section: leave section and width out")
    try:
        belt = read_designation(question.designation)
    except DesignationError as error:
        raise InputError(f"designation: {error}") from error
    section = v_section(belt.section)
    assert section is not None, "every designation is of a known section"
    pair, over, limit = (
        pair_for(question, section),
        outside_less_pitch(section.name),
        matching_limit(belt),
    )
    least = section.least_diameter
    data = {
        "pitch line against the inside": section.inside_to_pitch,
        "pitch line against the outside": section.pitch_to_outside,
        "rims of its grooves": over,
        "least pulley": least,
        "lengths of one set": limit,
    }
    # Grooves of the pulleys that are given, else of the least one.
    wanted = []
    if pair is not None:
        sides = {"the motor's pulley": pair.motor, "the driven pulley": pair.driven}
        wanted = [
            (one.diameter, why) for why, one in sides.items() if one.face is PulleyFace.GROOVED
        ]
    elif least is not None:
        wanted = [(least.value, "the least pulley that is recommended")]
    return BeltFacts(
        belt=belt_length(belt, pair),
        top_width=section.width,
        height=section.height,
        string_over_grooves=None if over is None else belt.pitch_length + math.pi * over.value,
        string_over_flat_rims=belt.pitch_length - section.inside_to_pitch.value,
        outside_less_pitch=None if over is None else over.value,
        least_diameter=None if least is None else least.value,
        matching_limit=None if limit is None else limit.value,
        grooves=tuple(
            Groove(diameter, None if over is None else diameter + over.value, angle.value, why)
            for diameter, why in wanted
            if (angle := groove_angle(section.name, diameter)) is not None
        ),
        sources=tuple(f"{what}: {one.source}; {one.sure}" for what, one in data.items() if one),
    )
