"""Belts of published lengths near one that was found: the nearest, its neighbours, and one more."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.lengths import every_inch_sections, length_tolerance, series
from mountcalc.handbook.belts.sections import Measures
from mountcalc.measure.pulleys import Pair, drive_of
from mountcalc.measure.results import BeltLength
from mountcalc.units import si_factor

__all__ = ["Near", "belt_length", "belts_of", "nearest_by", "neighbours", "unlisted_inch"]

# A belt beside the series is named only where it is nearer by more than rounding.
_NEARER = 1e-6
_OVERLAP = "the pulleys would overlap"
_NO_PULLEYS = "both pulleys are wanted for it"


@dataclass(frozen=True, slots=True)
class Near:
    """A belt of a series and those beside it, None at the ends of the series."""

    belt: Designation
    shorter: Designation | None
    longer: Designation | None


def belts_of(section: str, *, metric: bool | None) -> tuple[Designation, ...]:
    """Published lengths of a section, each name once, from short to long."""
    once = {belt.text: belt for belt in series(section)}
    return tuple(belt for belt in once.values() if metric in (None, is_metric(belt)))


def is_metric(belt: Designation) -> bool:
    """Whether the number on the belt is of millimetres."""
    return belt.measures is Measures.DATUM


def nearest_by(belts: tuple[Designation, ...], name: str, length: float) -> Designation:
    """Return the belt whose inside, pitch or outside length is nearest."""
    off = np.abs(np.array([getattr(belt, name) for belt in belts]) - length)
    return belts[int(off.argmin())]


def neighbours(belts: tuple[Designation, ...], belt: Designation) -> Near:
    """The next shorter and longer belt whose number means the same: inches or millimetres."""
    alike = [one for one in belts if is_metric(one) == is_metric(belt)]
    place = alike.index(belt)
    return Near(
        belt,
        alike[place - 1] if place else None,
        alike[place + 1] if place + 1 < len(alike) else None,
    )


def unlisted_inch(
    belts: tuple[Designation, ...], nearest: Designation, pitch_length: float
) -> Designation | None:
    """A belt of a whole inch that no series has, where none of a series is nearer."""
    if nearest.section not in every_inch_sections():
        return None
    if all(belt.measures is not Measures.INSIDE for belt in belts):
        return None
    guess = nearest_by(
        tuple(belt for belt in belts if belt.measures is Measures.INSIDE),
        "pitch_length",
        pitch_length,
    )
    number = round(guess.number + (pitch_length - guess.pitch_length) / si_factor("in"))
    try:
        found = read_designation(f"{guess.section}{number}")
    except DesignationError:
        return None
    off = abs(found.pitch_length - pitch_length)
    known = found.text in {belt.text for belt in belts}
    return None if known or off > abs(nearest.pitch_length - pitch_length) - _NEARER else found


def belt_length(belt: Designation, pair: Pair | None, found: float | None = None) -> BeltLength:
    """One belt with its lengths, and where it puts the shafts."""
    tolerance = length_tolerance(belt)
    drive = None if pair is None else drive_of(pair, belt.pitch_length)
    missing = None if drive else _NO_PULLEYS if pair is None else _OVERLAP
    return BeltLength(
        designation=belt.text,
        in_series=belt.in_series,
        inside_length=belt.inside_length,
        pitch_length=belt.pitch_length,
        outside_length=belt.outside_length,
        difference=None if found is None else belt.pitch_length - found,
        tolerance_short=None if tolerance is None else tolerance.short,
        tolerance_long=None if tolerance is None else tolerance.long,
        tolerance_source=None if tolerance is None else f"{tolerance.source}; {tolerance.sure}",
        center_distance=drive.center_distance if drive else None,
        wrap_motor=drive.wrap_motor if drive else None,
        wrap_driven=drive.wrap_driven if drive else None,
        why_no_center=missing,
        sure=belt.sure,
        source=belt.source,
    )
