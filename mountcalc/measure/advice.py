"""What is said of a measured drive: what is near enough, what to do, how far it may mislead."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.handbook.belts.grooves import in_same_grooves
from mountcalc.handbook.belts.sections import Section
from mountcalc.measure.drive import (
    MeasureQuestion,
    Pair,
    belt_length,
    belts_of,
    faces_of,
    nearest_by,
)
from mountcalc.measure.results import BeltLength, Reading
from mountcalc.pages.amounts import length_text, shown_length
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import SAME_PLACE

# How much longer than new an old belt may read before it is thrown away: an estimate of ours.
_OLD_STRETCH = 0.02
# Tolerance of a belt of which none is known: the share of its length that metric belts have.
_SHARE = 0.01
_BELTS = frozenset({Reading.INSIDE, Reading.OUTSIDE, Reading.PITCH})


def is_near_enough(
    question: MeasureQuestion, pair: Pair | None, pitch: float, belt: BeltLength
) -> bool:
    """Whether a belt may stand for the pitch length [m] that was found."""
    if question.room is not None and abs(_move(pair, pitch, belt)) <= question.room + SAME_PLACE:
        return True
    usual = _SHARE * belt.pitch_length
    short, long = (
        usual if one is None else one for one in (belt.tolerance_short, belt.tolerance_long)
    )
    return -long - SAME_PLACE <= (belt.difference or 0.0) <= short + SAME_PLACE


def _move(pair: Pair | None, pitch: float, belt: BeltLength) -> float:
    """How much further apart a belt wants the shafts than they are [m]; half of it, roughly."""
    now = None if pair is None else pair.center(pitch)
    if now is None or belt.center_distance is None:
        return (belt.difference or 0.0) / 2
    return belt.center_distance - now


def what_to_do(
    question: MeasureQuestion,
    reading: Reading,
    section: Section,
    pair: Pair | None,
    pitch: float,
) -> tuple[str, ...]:
    """What to do where no published length is near enough."""
    belts = belts_of(section.name, metric=question.metric) or belts_of(section.name, metric=None)

    def text(value: float | None) -> str:
        return length_text(abs(value or 0.0), question.display)

    # The belts on either side, the shorter first; one past an end of the series.
    shorter = [one for one in belts if one.pitch_length <= pitch]
    longer = [one for one in belts if one.pitch_length > pitch]
    beside = [belt_length(one, pair, pitch) for one in (*shorter[-1:], *longer[:1])]
    places = " and ".join(
        f"{one.designation}, {text(one.difference)} "
        f"{'shorter' if (one.difference or 0.0) < 0 else 'longer'},"
        for one in beside
    )
    said = [
        f"No published length of section {section.name} is near enough: {text(pitch)} in pitch "
        f"length is {'between' if len(beside) > 1 else 'past'} {places.rstrip(',')}."
    ]
    share = -(beside[0].difference or 0.0) / beside[0].pitch_length
    if reading in _BELTS and 0 < share <= _OLD_STRETCH:
        said.append(
            f"If it is an old belt, it may be {beside[0].designation}, stretched by "
            f"{100 * share:.1f} %: read its number."
        )
    about = "" if all(one.center_distance is not None for one in beside) else "about "
    moves = ", or ".join(
        f"{about}{text(_move(pair, pitch, one))} "
        f"{'nearer' if (one.difference or 0.0) < 0 else 'further off'} for {one.designation}"
        for one in beside
    )
    said.append(f"Move the motor {moves}, besides the room to put the belt on and to take it up.")
    said += _same_grooves(question, section, pair, pitch)
    nearest = min(beside, key=lambda one: abs(one.difference or 0.0))
    return (*said, _other_pulley(question, pair, pitch, nearest))


def _same_grooves(
    question: MeasureQuestion, section: Section, pair: Pair | None, pitch: float
) -> Iterator[str]:
    """Belts of other sections that lie in the same grooves, their cords where these are."""
    others, fits = in_same_grooves(section.name), []
    for name in others.sections:
        if belts := belts_of(name, metric=question.metric):
            near = nearest_by(belts, "pitch_length", pitch)
            if is_near_enough(question, pair, pitch, belt_length(near, pair, pitch)):
                fits.append(near.text)
    if fits:
        yield (
            f"Of another section that lies in the same grooves ({others.source}; {others.sure}): "
            f"{', '.join(fits)}. It may carry less: see mountcalc belts."
        )


def _other_pulley(
    question: MeasureQuestion, pair: Pair | None, pitch: float, nearest: BeltLength
) -> str:
    off, name, display = nearest.difference or 0.0, nearest.designation, question.display
    center = None if pair is None else pair.center(pitch)
    if pair is None or center is None:
        # Half a turn of the belt lies on a pulley: its length grows by pi/2 of a diameter.
        by, size = length_text(abs(2 * off / math.pi), display), "smaller" if off < 0 else "larger"
        return f"Or fit a pulley about {by} {size} for {name}, which changes the speed."
    driven = pair.driven_for(center, nearest.pitch_length)
    if driven is None:
        return f"No other driven pulley makes {name} fit where the motor stands."
    driven = shown_length(driven, display)  # the speed is that of what is bought
    speed = 100 * (pair.driven.diameter / driven - 1)
    return (
        f"Or fit a driven pulley of {length_text(driven, display)} in pitch diameter for {name}: "
        f"the driven shaft then turns {abs(speed):.2g} % {'faster' if speed > 0 else 'slower'}."
    )


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
    least = section.least_diameter
    if pair is not None and least is not None and 2 * min(pair.radii) < least.value:
        said.append(
            f"The smaller pulley, {length_text(2 * min(pair.radii), display)} in pitch diameter, "
            f"is below the least that is recommended for section {section.name}, "
            f"{length_text(least.value, display)} ({least.source}; {least.sure}): the belt may be "
            "of another section, or its life short."
        )
    return tuple(said)


def notes_of(question: MeasureQuestion, reading: Reading, pitch: float) -> tuple[str, ...]:
    """How far the reading may mislead."""
    display = question.display
    is_inch = display is Display.INCH
    if reading in _BELTS:
        return (
            "An old belt has stretched and its sides have worn, so it reads long: by as much as "
            f"2 % (an estimate), here {length_text(_OLD_STRETCH * pitch, display)}. Of two lengths "
            "that are near, the shorter is the likelier; a number that can still be read on the "
            "belt is worth more than a tape.",
            "Bend the tape round the belt, not the belt round the tape, and measure twice: "
            f"{'an eighth of an inch' if is_inch else '3 mm'} is what a tape gives.",
        )
    said = [
        "The reading is for where the motor stands now. Set the plate first where the belt is to "
        "be snug, with room to close for a new belt, and to open as it stretches."
    ]
    if reading is Reading.STRING:
        said.append(
            "Draw the string tight, and as straight as the belt will run; cord that gives is no "
            "use."
        )
    if PulleyFace.GROOVED in faces_of(question):
        each, depth = ("1/16 in", 0.0254 / 16) if is_inch else ("1 mm", 1e-3)
        said.append(
            f"In worn grooves the belt sits deeper than in new ones: for each {each} that it does "
            f"on both pulleys, the pitch length is {length_text(2 * math.pi * depth, display)} "
            "less."
        )
    return tuple(said)
