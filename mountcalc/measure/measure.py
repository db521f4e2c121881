"""An unknown drive: from a measured length to the belt to buy, and from a belt to what it is."""

from __future__ import annotations

from mountcalc.errors import InputError
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.sections import Section
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.measure.advice import Wanted, is_near_enough, what_to_do
from mountcalc.measure.facts import facts_of
from mountcalc.measure.lengths import belt_length, belts_of, nearest_by, neighbours, unlisted_inch
from mountcalc.measure.notes import how_center, how_direct, how_string, notes_of, remarks_of
from mountcalc.measure.pulleys import StringError, path_of_string, path_over, rises
from mountcalc.measure.question import (
    MeasureQuestion,
    checked_reading,
    faces_of,
    pair_for,
    sections_of,
)
from mountcalc.measure.results import Candidate, Measured, Reading
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.model import PulleyFace

__all__ = ["MeasureQuestion", "measure"]

# A length this much past either end of a series is none of that series.
_PAST_SERIES = 0.03


def measure(question: MeasureQuestion) -> Measured:
    """Find the belt to buy for what was measured, or tell what a designation is.

    Parameters
    ----------
    question : MeasureQuestion
        What was measured.

    Returns
    -------
    Measured
        Candidates, those first that have a belt near enough, then the nearest published length; or
        the facts of a designation.

    Raises
    ------
    InputError
        Not exactly one reading, a number that is none, a section that is not known, pulleys that
        are missing or overlap, or a length that no published series has.
    """
    reading = checked_reading(question)
    if reading is Reading.DESIGNATION:
        return _described(question)
    length: float = getattr(question, reading.value)
    tries = [_try(question, reading, length, section) for section in sections_of(question)]
    found = [one for one in tries if isinstance(one, Candidate)]
    if not found:
        raise _none_of(tries, length, question)
    found.sort(key=lambda one: (one.answer is None, abs((one.answer or one.buy).difference or 0.0)))
    grooved = PulleyFace.GROOVED in faces_of(question)
    notes = notes_of(reading, found[0], question.display, grooved=grooved)
    return Measured(reading, length, tuple(found), None, notes)


def _try(
    question: MeasureQuestion, reading: Reading, length: float, section: Section
) -> Candidate | InputError:
    """The candidate of one section, or why there is none."""
    try:
        return _candidate(question, reading, length, section)
    except InputError as error:
        return error


def _none_of(
    tries: list[Candidate | InputError], length: float, question: MeasureQuestion
) -> InputError:
    """Why no section answers: what all say alike, or that it is the length."""
    reasons = {str(one) for one in tries}
    if len(reasons) == 1:
        return InputError(reasons.pop())
    text = length_text(length, question.display)
    return InputError(f"no section that fits has a published length near what was found ({text})")


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
    near = neighbours(belts, nearest_by(belts, "pitch_length", pitch))
    between = None if question.metric else unlisted_inch(belts, near.belt, pitch)
    shorter, longer, more = (
        None if belt is None else belt_length(belt, pair, pitch)
        for belt in (near.shorter, near.longer, between)
    )
    buy = belt_length(near.belt, pair, pitch)
    wanted = Wanted(
        section=section.name,
        pitch_length=pitch,
        pair=pair,
        room=question.room,
        metric=question.metric,
        display=question.display,
        is_belt=reading in {Reading.INSIDE, Reading.OUTSIDE, Reading.PITCH},
    )
    is_near = is_near_enough(buy, wanted)
    more_is_near = more is not None and is_near_enough(more, wanted)
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
        what_to_do=() if is_near or more_is_near else what_to_do(belts, wanted),
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
        if by is None:
            raise InputError(f"section {section.name}: how deep its grooves are is not known")
        try:
            pitch = path_of_string(length, by, pair_for(question, section))
        except StringError as error:
            raise InputError(f"string: {error}") from error
        return pitch, how_string(length, by, faces, pitch, section, display)
    if reading is Reading.CENTER:
        pair = pair_for(question, section)
        assert pair is not None, "a centre distance is refused without its pulleys"
        path = path_over(pair, length)
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


def _described(question: MeasureQuestion) -> Measured:
    assert question.designation is not None
    if question.section is not None or question.width is not None:
        raise InputError("a designation names its section: leave section and width out")
    try:
        belt = read_designation(question.designation)
    except DesignationError as error:
        raise InputError(f"designation: {error}") from error
    section = v_section(belt.section)
    assert section is not None, "every designation is of a known section"
    facts = facts_of(belt, section, pair_for(question, section))
    return Measured(Reading.DESIGNATION, None, (), facts, ())
