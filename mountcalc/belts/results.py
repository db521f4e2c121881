"""Results of choosing a belt: in SI, each field's sentence in :mod:`mountcalc.quantities`."""

from __future__ import annotations

from mountcalc.judgement import Judgement, Verdict
from mountcalc.pages.as_json import Result
from mountcalc.record import Record
from mountcalc.requirements.swing import Room


class LengthEnd(Record):
    """A belt as short or as long as its tolerance allows; None where it is never snug.

    ``room`` [m] is that to fit the shortest, or to take up the longest.
    """

    pitch_length: float
    snug_plate_angle: float | None
    center_distance: float | None
    room: float | None
    ok: bool


class BeltOption(Record):
    """One length of belt in the mount; ``is_yours`` is the one that the scenario names.

    ``rating`` [W] is what one belt carries, with the factors for arc and length. ``judgements`` are
    those of the drive and of the length, the same that a check has; ``why_not`` repeats what those
    say that keep the belt out.
    """

    designation: str
    is_yours: bool
    in_series: bool
    number_measures: str | None
    pitch_length: float
    snug_plate_angle: float
    center_distance: float
    install: Room
    take_up: Room
    install_ok: bool
    take_up_ok: bool
    shortest: LengthEnd | None
    longest: LengthEnd | None
    wrap_motor: float
    wrap_driven: float
    arc_factor: float | None
    length_factor: float | None
    table_rating: float | None
    rating: float | None
    belts_needed: int | None
    ok: bool
    why_not: tuple[str, ...]
    remarks: tuple[str, ...]
    judgements: tuple[Judgement, ...]

    @property
    def cautions(self) -> tuple[Judgement, ...]:
        """What may keep it out, or does by a limit that nobody can vouch for."""
        return tuple(one for one in self.judgements if one.verdict is Verdict.CAUTION)

    @property
    def room_share(self) -> float:
        """The smaller of the rooms that are wanted, over what it must be [-]; 0 where none is."""
        rooms = [room for room in (self.install, self.take_up) if room.needed > 0]
        return min((room.there / room.needed for room in rooms), default=0.0)


class OtherRating(Record):
    """What another published generation of ratings gives for the same belt [W]."""

    source: str
    table_rating: float


class BeltDrive(Record):
    """What holds for every length: speeds, power, the least pulleys, and judgements.

    Of the published range of service factors the upper end is taken, where none is given.
    """

    section: str | None
    count: int
    belt_speed: float
    rim_speed: float
    driven: float
    power: float
    service_factor: float
    service_factor_low: float
    service_factor_high: float
    service_factor_source: str
    design_power: float
    table_rating: float | None
    rating_source: str
    rating_why_not: str | None
    other_ratings: tuple[OtherRating, ...]
    least_diameter: float | None
    least_motor_diameter: float | None
    least_motor_sentence: str | None
    small_diameter: float
    why_not: tuple[str, ...]
    rating_sure: str
    service_factor_sure: str
    judgements: tuple[Judgement, ...]


class PulleyPair(Record):
    """Pulleys of preferred diameters for a wanted speed, with the belt for the present centres.

    Diameters [m] are those by which pulleys are sold: datum, outside, rim or pitch. ``kept`` is the
    pulley that stays as it is, or "both". The nearest belt is ``difference`` [m] too long.
    """

    kept: str | None
    motor_named: str
    motor_pulley: float
    driven_named: str
    driven_pulley: float
    driven: float
    speed_error: float
    pitch_length: float
    designation: str | None
    difference: float | None


class BeltChoice(Result, Record):
    """Every length of the section that becomes snug in the travel, the best first."""

    title: str
    drive: BeltDrive
    belts: tuple[BeltOption, ...]
    pulleys: tuple[PulleyPair, ...]
    wanted_speed: float | None
    shortest_path: float
    longest_path: float
    notes: tuple[str, ...]
