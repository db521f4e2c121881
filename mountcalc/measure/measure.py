"""An unknown drive: from a measured length to the belt to buy, and from a belt to what it is."""

from __future__ import annotations

import math

from mountcalc.errors import InputError
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.grooves import groove_angle, outside_less_pitch
from mountcalc.handbook.belts.lengths import matching_limit
from mountcalc.handbook.belts.sections import Section
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.measure.advice import (
    Wanted,
    how_center,
    how_direct,
    how_string,
    notes_of,
    remarks_of,
)
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
    path_of_string,
    rises,
    sections_of,
    unlisted_inch,
)
from mountcalc.measure.results import BeltFacts, Candidate, Groove, Measured, Reading
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.model import PulleyFace

# A length this much past either end of a series is none of that series.
_PAST_SERIES = 0.03


def measure(question: MeasureQuestion) -> Measured:
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
    grooved = PulleyFace.GROOVED in faces_of(question)
    notes = notes_of(reading, found[0], question.display, grooved=grooved)
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
    pitch, how = _pitch_length(question, reading, length, section, belts)
    _check_in_series(question, section, belts, pitch)
    nearest = nearest_by(belts, "pitch_length", pitch)
    # The number on those beside it means the same: inches or millimetres.
    alike = [one for one in belts if is_metric(one) == is_metric(nearest)]
    place = alike.index(nearest)
    between = None if question.metric else unlisted_inch(belts, nearest, pitch)
    shorter, longer, more = (
        None if belt is None else belt_length(belt, pair, pitch)
        for belt in (
            alike[place - 1] if place else None,
            alike[place + 1] if place + 1 < len(alike) else None,
            between,
        )
    )
    buy = belt_length(nearest, pair, pitch)
    wanted = Wanted(question, reading, section, pitch, pair)
    is_near, more_is_near = (one is not None and wanted.is_near_enough(one) for one in (buy, more))
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
        what_to_do=() if is_near or more_is_near else wanted.what_to_do(belts),
        remarks=remarks_of(buy, more, section, pair, question.display),
    )


def _pitch_length(
    question: MeasureQuestion,
    reading: Reading,
    length: float,
    section: Section,
    belts: tuple[Designation, ...],
) -> tuple[float, str]:
    """Pitch length [m], and how it follows from what was measured."""
    display = question.display
    if reading is Reading.STRING:
        faces = faces_of(question)
        by = rises(section, faces)
        pitch = path_of_string(length, by, pair_for(question, section))
        return pitch, how_string(length, by, faces, pitch, section, display)
    if reading is Reading.CENTER:
        pair = pair_for(question, section)
        assert pair is not None, "a centre distance is refused without its pulleys"
        path = pair.path(length)
        if path is None:
            least = length_text(sum(pair.radii), display)
            raise InputError(f"center: the pulleys overlap; from {least} on they do not")
        return path, how_center(length, path, display)
    name = f"{reading.value}_length"
    like = nearest_by(belts, name, length)
    more = like.pitch_length - getattr(like, name)
    return length + more, how_direct(reading, length, more, section, display)


def _check_in_series(
    question: MeasureQuestion, section: Section, belts: tuple[Designation, ...], pitch: float
) -> None:
    shortest, longest = belts[0].pitch_length, belts[-1].pitch_length
    if shortest * (1 - _PAST_SERIES) <= pitch <= longest * (1 + _PAST_SERIES):
        return
    low, high = (length_text(end, question.display) for end in (shortest, longest))
    raise InputError(
        f"the published lengths of section {section.name} run from {low} ({belts[0].text}) to "
        f"{high} ({belts[-1].text}) in pitch length, found {length_text(pitch, question.display)}"
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
    pair = pair_for(question, section)
    over, limit = outside_less_pitch(section.name), matching_limit(belt)
    least = section.least_diameter
    data = {
        "pitch line against the inside": section.inside_to_pitch,
        "pitch line against the outside": section.pitch_to_outside,
        "rims of its grooves": over,
        "least pulley": least,
        "lengths of one set": limit,
    }
    return BeltFacts(
        belt=belt_length(belt, pair),
        top_width=section.width,
        height=section.height,
        string_over_grooves=None if over is None else belt.pitch_length + math.pi * over.value,
        string_over_flat_rims=belt.pitch_length - section.inside_to_pitch.value,
        outside_less_pitch=None if over is None else over.value,
        least_diameter=None if least is None else least.value,
        matching_limit=None if limit is None else limit.value,
        grooves=_grooves(section, pair),
        sources=tuple(f"{what}: {one.source}; {one.sure}" for what, one in data.items() if one),
    )


def _grooves(section: Section, pair: Pair | None) -> tuple[Groove, ...]:
    """Grooves of the pulleys that are given, else of the least one."""
    wanted = []
    if pair is not None:
        wanted = [
            (pulley.diameter, f"the {side} pulley")
            for side, pulley in (("motor's", pair.motor), ("driven", pair.driven))
            if pulley.face is PulleyFace.GROOVED
        ]
    elif section.least_diameter is not None:
        wanted = [(section.least_diameter.value, "the least pulley that is recommended")]
    over = outside_less_pitch(section.name)
    return tuple(
        Groove(diameter, None if over is None else diameter + over.value, angle.value, why)
        for diameter, why in wanted
        if (angle := groove_angle(section.name, diameter)) is not None
    )
