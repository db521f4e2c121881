"""Results of measuring an unknown drive: the belt to buy, or what a belt is.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. The keys, units and
sentences of every field stand in :mod:`mountcalc.quantities`.
"""

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
    """One belt by its designation, and where it puts the shafts.

    Lengths are of a new belt [m]. ``difference`` [m] is its pitch length less the one that was
    found, None where none was. ``tolerance_short`` and ``tolerance_long`` [m] are how much shorter
    or longer it may come, None where nothing is known of it. ``center_distance`` [m] and the wraps
    [rad] are None where ``why_no_center`` says why.
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
    """What to buy if the belt is of this section.

    ``pitch_length`` [m] is the one that was found, ``how`` says how. ``buy`` is the nearest of
    the published lengths; ``shorter`` and ``longer`` stand beside it in its series, None at its
    ends. ``if_stocked`` is a belt that no published series has and that would be nearer.
    ``near_enough`` tells whether ``buy`` is off by no more than its tolerance or what the shafts
    can move, ``stocked_near_enough`` the same of ``if_stocked``; where neither is, ``what_to_do``
    says what else there is.
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
    """A groove for a belt on a pulley of ``pitch_diameter`` [m].

    ``groove_angle`` [rad] is between its sides; ``outside_diameter`` [m] is over its rims, None
    where that is not known; ``why`` says which pulley this is.
    """

    pitch_diameter: float
    outside_diameter: float | None
    groove_angle: float
    why: str


class BeltFacts(Record):
    """What a designation says, and what string and tape would read.

    ``string_over_grooves`` [m] is a string drawn tight over the rims of grooved pulleys on which
    the belt is just taut, ``string_over_flat_rims`` [m] the same over flat ones. ``sources`` says
    where the numbers are from.
    """

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
