"""What is said of a measured drive: how its length follows, what is near enough, what to do."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import in_same_grooves, outside_less_pitch
from mountcalc.handbook.belts.sections import Section
from mountcalc.measure.drive import MeasureQuestion, Pair, belt_length, belts_of, nearest_by
from mountcalc.measure.results import BeltLength, Candidate, Reading
from mountcalc.pages.amounts import length_text, shown_length
from mountcalc.scenario.model import Display, PulleyFace

# How much longer than new an old belt may read before it is thrown away: an estimate of ours.
_OLD_STRETCH = 0.02
# Tolerance of a belt of which none is known: the share of its length that metric belts have.
_SHARE = 0.01
_ROUNDING = 1e-6
_BELTS = frozenset({Reading.INSIDE, Reading.OUTSIDE, Reading.PITCH})
_DEEPER = {Display.INCH: ("1/16 in", 0.0254 / 16), Display.METRIC: ("1 mm", 1e-3)}
_TAPE = {Display.INCH: "an eighth of an inch", Display.METRIC: "3 mm"}
_PLACE = (
    "The reading holds for where the motor stands now. Set the plate first where the belt is to "
    "be snug: with room to close for slipping the belt on, and room to open for its stretch."
)
_TIGHT = "Draw the string tight, and as straight as the belt will run; cord that gives is no use."


@dataclass(frozen=True, slots=True)
class Wanted:
    """The belt of a section that is looked for, its pitch length [m] found from a reading."""

    question: MeasureQuestion
    reading: Reading
    section: Section
    pitch_length: float
    pair: Pair | None

    def is_near_enough(self, belt: BeltLength) -> bool:
        """Whether a belt may stand for what was found."""
        off, room = belt.difference or 0.0, self.question.room
        if room is not None and abs(self._move(belt)) <= room + _ROUNDING:
            return True
        usual = _SHARE * belt.pitch_length
        short, long = (
            usual if one is None else one for one in (belt.tolerance_short, belt.tolerance_long)
        )
        return -long - _ROUNDING <= off <= short + _ROUNDING

    def what_to_do(self, belts: tuple[Designation, ...]) -> tuple[str, ...]:
        """What to do where no published length is near enough."""
        # The belts on either side, the shorter first; one past an end of the series.
        shorter = [one for one in belts if one.pitch_length <= self.pitch_length]
        longer = [one for one in belts if one.pitch_length > self.pitch_length]
        beside = [
            belt_length(one, self.pair, self.pitch_length) for one in (*shorter[-1:], *longer[:1])
        ]
        said = (
            self._between(beside),
            self._stretched(beside[0]),
            self._moves(beside),
            self._same_grooves(),
            self._other_pulley(beside),
        )
        return tuple(text for text in said if text)

    def _text(self, value: float | None) -> str:
        return length_text(abs(value or 0.0), self.question.display)

    def _move(self, belt: BeltLength) -> float:
        """How much further apart a belt wants the shafts than they are [m]; half of it, roughly."""
        now = None if self.pair is None else self.pair.center(self.pitch_length)
        if now is None or belt.center_distance is None:
            return (belt.difference or 0.0) / 2
        return belt.center_distance - now

    def _between(self, beside: list[BeltLength]) -> str:
        places = [
            f"{one.designation}, {self._text(one.difference)} "
            f"{'shorter' if (one.difference or 0.0) < 0 else 'longer'},"
            for one in beside
        ]
        where = "between" if len(places) > 1 else "past"
        return (
            f"No published length of section {self.section.name} is near enough: "
            f"{self._text(self.pitch_length)} in pitch length is {where} "
            f"{' and '.join(places).rstrip(',')}."
        )

    def _stretched(self, shorter: BeltLength) -> str:
        """Whether an old belt of the next shorter length may read so."""
        share = -(shorter.difference or 0.0) / shorter.pitch_length
        if self.reading not in _BELTS or not 0 < share <= _OLD_STRETCH:
            return ""
        return (
            f"If it is an old belt, it may be {shorter.designation}, stretched by "
            f"{100 * share:.1f} %: read its number."
        )

    def _moves(self, beside: list[BeltLength]) -> str:
        about = "" if all(one.center_distance is not None for one in beside) else "about "
        moves = [
            f"{about}{self._text(self._move(one))} "
            f"{'nearer' if (one.difference or 0.0) < 0 else 'further off'} for {one.designation}"
            for one in beside
        ]
        return (
            f"Move the motor {', or '.join(moves)}, besides the room to slip the belt on and to "
            "take it up."
        )

    def _same_grooves(self) -> str:
        """Belts of other sections that lie in the same grooves, their cords where these are."""
        others, fits = in_same_grooves(self.section.name), []
        for name in others.sections:
            if belts := belts_of(name, metric=self.question.metric):
                near = nearest_by(belts, "pitch_length", self.pitch_length)
                if self.is_near_enough(belt_length(near, self.pair, self.pitch_length)):
                    fits.append(near.text)
        if not fits:
            return ""
        return (
            f"Of another section that lies in the same grooves ({others.source}; {others.sure}): "
            f"{', '.join(fits)}. It may carry less: see mountcalc belts."
        )

    def _other_pulley(self, beside: list[BeltLength]) -> str:
        nearest = min(beside, key=lambda one: abs(one.difference or 0.0))
        off, name = nearest.difference or 0.0, nearest.designation
        center = None if self.pair is None else self.pair.center(self.pitch_length)
        if self.pair is None or center is None:
            # Half a turn of the belt lies on a pulley: its length grows by pi/2 of a diameter.
            by, size = self._text(2 * off / math.pi), "smaller" if off < 0 else "larger"
            return f"Or fit a pulley about {by} {size} for {name}, which changes the speed."
        driven = self.pair.driven_for(center, nearest.pitch_length)
        if driven is None:
            return f"No other driven pulley makes {name} fit where the motor stands."
        driven = shown_length(driven, self.question.display)  # the speed is that of what is bought
        speed = 100 * (self.pair.driven.diameter / driven - 1)
        return (
            f"Or fit a driven pulley of {self._text(driven)} in pitch diameter for "
            f"{name}: the driven shaft then turns {abs(speed):.2g} % "
            f"{'faster' if speed > 0 else 'slower'}."
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
    by: tuple[float, float],
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
    extra, grooves = length_text(math.pi * abs(by[0]), display), outside_less_pitch(section.name)
    if faces[0] is PulleyFace.GROOVED:
        source = "" if grooves is None else f"{grooves.source}; {grooves.sure}"
        return (
            "Over the rims of grooved pulleys the string runs beside the pitch line at one "
            "distance all round, so it is longer by pi times what the outside diameter is over "
            f"the pitch diameter, whatever the pulleys ({source}): {found} - {extra} = {gives}."
        )
    return (
        "On flat rims the string lies where the inside of the belt will, so the pitch line is "
        f"longer by what it is longer than the inside ({section.inside_to_pitch.source}; "
        f"{section.inside_to_pitch.sure}): {found} + {extra} = {gives}."
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


def notes_of(
    reading: Reading, best: Candidate, display: Display, *, grooved: bool
) -> tuple[str, ...]:
    """How far the reading may mislead."""
    if reading in _BELTS:
        stretch = length_text(_OLD_STRETCH * best.pitch_length, display)
        return (
            "An old belt has stretched and its sides have worn, so it reads long: by as much as "
            f"2 % (an estimate), here {stretch}. Of two lengths that are near, the shorter is the "
            "likelier; a number that can still be read on the belt is worth more than a tape.",
            "Bend the tape round the belt, not the belt round the tape, and measure twice: "
            f"{_TAPE[display]} is what a tape gives.",
        )
    each, depth = _DEEPER[display]
    worn = (
        f"In worn grooves the belt sits deeper than in new ones: for each {each} that it does on "
        f"both pulleys, the pitch length is {length_text(2 * math.pi * depth, display)} less."
    )
    said = (_PLACE, _TIGHT) if reading is Reading.STRING else (_PLACE,)
    return (*said, worn) if grooved else said
