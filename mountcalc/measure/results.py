"""Results of measuring an unknown drive: in SI, each field's sentence in `mountcalc.quantities`."""

from __future__ import annotations

from enum import StrEnum

from mountcalc.pages.as_json import Result
from mountcalc.record import Record


class Reading(StrEnum):
    """What was measured, or read off the belt."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    PITCH = "pitch"
    STRING = "string"
    CENTER = "center"
    DESIGNATION = "designation"


class BeltLength(Record):
    """One new belt by its designation, and where it puts the shafts.

    ``difference`` [m] is its pitch length less the one that was found; the tolerances [m] are how
    much shorter or longer it may come.
    """

    designation: str
    in_series: bool
    inside_length: float
    pitch_length: float
    outside_length: float
    difference: float | None
    tolerance_short: float | None
    tolerance_long: float | None
    tolerance_source: str | None
    center_distance: float | None
    wrap_motor: float | None
    wrap_driven: float | None
    why_no_center: str | None
    sure: str
    source: str


class Candidate(Record):
    """What to buy if the belt is of this section: the nearest published length, and what is beside.

    ``if_stocked`` is a belt that no published series has and that would be nearer. Near enough is
    what is off by no more than its tolerance or what the shafts can move.
    """

    section: str
    top_width: float
    pitch_length: float
    how: str
    buy: BeltLength
    shorter: BeltLength | None
    longer: BeltLength | None
    if_stocked: BeltLength | None
    near_enough: bool
    stocked_near_enough: bool
    what_to_do: tuple[str, ...]
    remarks: tuple[str, ...]

    @property
    def answer(self) -> BeltLength | None:
        """The belt that may be bought, None where none is near enough."""
        if self.near_enough:
            return self.buy
        return self.if_stocked if self.stocked_near_enough else None


class Groove(Record):
    """A groove for a belt on a pulley of a diameter; ``why`` says which pulley this is."""

    pitch_diameter: float
    outside_diameter: float | None
    groove_angle: float
    why: str


class BeltFacts(Record):
    """What a designation says, and what string and tape would read over pulleys it is taut on."""

    belt: BeltLength
    top_width: float
    height: float
    string_over_grooves: float | None
    string_over_flat_rims: float
    outside_less_pitch: float | None
    least_diameter: float | None
    matching_limit: float | None
    grooves: tuple[Groove, ...]
    sources: tuple[str, ...]


class Measured(Result, Record):
    """An unknown drive: one candidate for each section that fits, the nearest length first.

    ``measured`` [m] is the length that was given, None where it was a designation; then ``facts``
    says what that is and there are no candidates.
    """

    reading: Reading
    measured: float | None
    candidates: tuple[Candidate, ...]
    facts: BeltFacts | None
    notes: tuple[str, ...]
