"""Sentences about a measured drive: how the length follows, and how far the reading may mislead."""

from __future__ import annotations

import math

from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import Section
from mountcalc.measure.pulleys import Pair
from mountcalc.measure.results import BeltLength, Candidate, Reading
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.model import Display, PulleyFace

__all__ = ["OLD_STRETCH", "how_center", "how_direct", "how_string", "notes_of", "remarks_of"]

# How much longer than new an old belt may read before it is thrown away: an estimate of ours.
OLD_STRETCH = 0.02
_DEEPER = {Display.INCH: 0.0254 / 16, Display.METRIC: 1e-3}
_TAPE = {Display.INCH: "an eighth of an inch", Display.METRIC: "3 mm"}
_DEEPER_TEXT = {Display.INCH: "1/16 in", Display.METRIC: "1 mm"}
_PLACE = (
    "The reading holds for where the motor stands now. Set the plate first where the belt is to "
    "be snug: with room to close for slipping the belt on, and room to open for its stretch."
)


def how_direct(
    reading: Reading, length: float, more: float, section: Section, display: Display
) -> str:
    """How a belt's own length leads to its pitch length."""
    found = length_text(length, display)
    if reading is Reading.PITCH:
        return f"The pitch length was given: {found}."
    sign, by = ("+" if more >= 0 else "-"), length_text(abs(more), display)
    datum = section.inside_to_pitch if reading is Reading.INSIDE else section.pitch_to_outside
    return (
        f"The pitch line of section {section.name} is {'longer' if more >= 0 else 'shorter'} than "
        f"its {reading} by {by} ({datum.source}; {datum.sure}): {found} {sign} {by} = "
        f"{length_text(length + more, display)}."
    )


def how_center(center: float, pitch: float, display: Display) -> str:
    """How a centre distance leads to the pitch length."""
    return (
        f"An open belt round these pulleys, {length_text(center, display)} apart, is "
        f"{length_text(pitch, display)} long on its pitch line."
    )


def how_string(
    string: float,
    by: tuple[float, ...],
    faces: tuple[PulleyFace, PulleyFace],
    pitch: float,
    section: Section,
    display: Display,
) -> str:
    """How a string round both pulleys leads to the pitch length."""
    found, gives = length_text(string, display), length_text(pitch, display)
    if faces[0] is not faces[1]:
        return (
            "Over the grooved rim the string runs outside the belt's pitch line, on the flat one "
            f"inside it: the centre distance that the string's {found} give these pulleys leads "
            f"to {gives}."
        )
    extra = length_text(math.pi * abs(by[0]), display)
    if faces[0] is PulleyFace.GROOVED:
        return (
            "Over the rims of grooved pulleys the string runs beside the pitch line at one "
            "distance all round, so it is longer by pi times what the outside diameter is over "
            f"the pitch diameter, whatever the pulleys ({_grooves_source(section)}): {found} - "
            f"{extra} = {gives}."
        )
    return (
        "On flat rims the string lies where the inside of the belt will, so the pitch line is "
        f"longer by what it is longer than the inside ({section.inside_to_pitch.source}; "
        f"{section.inside_to_pitch.sure}): {found} + {extra} = {gives}."
    )


def _grooves_source(section: Section) -> str:
    datum = outside_less_pitch(section.name)
    return "" if datum is None else f"{datum.source}; {datum.sure}"


def remarks_of(
    buy: BeltLength,
    if_stocked: BeltLength | None,
    section: Section,
    pair: Pair | None,
    display: Display,
) -> tuple[str, ...]:
    """What to know of the belt to buy."""
    said = [f"{buy.designation} stands in a published series ({buy.source}; {buy.sure})."]
    if buy.tolerance_short is None or buy.tolerance_long is None:
        said.append(f"No tolerance of the length of a {buy.designation} is known here.")
    else:
        short, long = (
            length_text(amount, display) for amount in (buy.tolerance_short, buy.tolerance_long)
        )
        said.append(
            f"A new {buy.designation} may come {short} shorter or {long} longer "
            f"({buy.tolerance_source})."
        )
    if if_stocked is not None:
        said.append(
            f"{if_stocked.designation} would be nearer. It is in no published series, but nearly "
            "every inch is stocked (common practice): ask for it."
        )
    return (*said, *_small_pulley(section, pair, display))


def _small_pulley(section: Section, pair: Pair | None, display: Display) -> list[str]:
    least = section.least_diameter
    if pair is None or least is None or 2 * min(pair.radii) >= least.value:
        return []
    small = length_text(2 * min(pair.radii), display)
    return [
        f"The smaller pulley, {small} in pitch diameter, is below the least that is recommended "
        f"for section {section.name}, {length_text(least.value, display)} ({least.source}; "
        f"{least.sure}): the belt may be of another section, or its life short."
    ]


def notes_of(
    reading: Reading, best: Candidate, display: Display, *, grooved: bool
) -> tuple[str, ...]:
    """How far the reading may mislead."""
    if reading in {Reading.INSIDE, Reading.OUTSIDE, Reading.PITCH}:
        stretch = length_text(OLD_STRETCH * best.pitch_length, display)
        return (
            "An old belt has stretched and its sides have worn, so it reads long: by as much as "
            f"2 % (an estimate), here {stretch}. Of two lengths that are near, the shorter is the "
            "likelier; a number that can still be read on the belt is worth more than a tape.",
            "Bend the tape round the belt, not the belt round the tape, and measure twice: "
            f"{_TAPE[display]} is what a tape gives.",
        )
    deeper = length_text(2 * math.pi * _DEEPER[display], display)
    worn = (
        f"In worn grooves the belt sits deeper than in new ones: for each {_DEEPER_TEXT[display]} "
        f"that it does on both pulleys, the pitch length is {deeper} less."
    )
    tight = (
        "Draw the string tight, and as straight as the belt will run; cord that gives is no use."
    )
    said = (_PLACE, tight) if reading is Reading.STRING else (_PLACE,)
    return (*said, worn) if grooved else said
