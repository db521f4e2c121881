"""The pulleys and belts of an unknown drive: where a belt puts the shafts, and what is sold."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.errors import InputError
from mountcalc.formulas.belt import wraps
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.lengths import every_inch_sections, length_tolerance, series
from mountcalc.handbook.belts.sections import NumberOf, Section
from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.measure.results import BeltLength
from mountcalc.scenario.model import PulleyFace
from mountcalc.scenario.pulleys import Pulley
from mountcalc.units import si_factor

# A belt beside the series is named only where it is nearer by more than rounding.
_NEARER = 1e-6


@dataclass(frozen=True, slots=True)
class Pair:
    """Both pulleys, by their pitch diameters for one section."""

    motor: Pulley
    driven: Pulley

    @property
    def radii(self) -> tuple[float, float]:
        """Pitch radii [m]."""
        return self.motor.diameter / 2, self.driven.diameter / 2

    def center(self, pitch_length: float) -> float | None:
        """Centre distance [m] at which a belt is just taut; None where the pulleys overlap."""
        if pitch_length < float(least_length(*self.radii)):
            return None
        return float(center_distance(pitch_length, *self.radii))

    def path(self, center: float) -> float | None:
        """Pitch length [m] of a belt that is just taut; None where the pulleys overlap."""
        if center < sum(self.radii):
            return None
        return float(kernels.open_belt(center, *self.radii).length)

    def driven_for(self, center: float, pitch_length: float) -> float | None:
        """Diameter [m] of a driven pulley with which a belt is just taut."""
        motor = self.radii[0]

        def too_long(radius: np.ndarray) -> np.ndarray:
            return np.asarray(kernels.open_belt(center, motor, radius).length - pitch_length)

        low, high = np.array([0.0]), np.array([center - motor])
        if center <= motor or too_long(low)[0] >= 0 or too_long(high)[0] <= 0:
            return None
        return 2 * float(bracketed_roots(too_long, low, high)[0])


def rises(section: Section, faces: tuple[PulleyFace, PulleyFace]) -> tuple[float, float]:
    """How much larger a string's circle is than the belt's pitch circle on each pulley [m]."""
    grooved = outside_less_pitch(section.name)
    if grooved is None and PulleyFace.GROOVED in faces:
        raise InputError(f"section {section.name}: how deep its grooves are is not known")
    of_face = {
        PulleyFace.GROOVED: 0.0 if grooved is None else grooved.value,
        PulleyFace.FLAT: -section.inside_to_pitch.value / math.pi,
    }
    return of_face[faces[0]], of_face[faces[1]]


def path_of_string(string: float, by: tuple[float, float], pair: Pair | None) -> float:
    """Pitch length of the belt that would run where a string was drawn tight.

    Both are open belts on the same shafts. With the same rise on both pulleys the string runs
    beside the pitch line at the same distance all round, so it is longer by pi times the rise
    (the length of a convex curve's offset), whatever the pulleys are. Otherwise the pulleys must
    be known: they give the centre distance from the string, and that the pitch length.
    """
    motor, driven = by
    if motor == driven:
        return string - math.pi * motor
    if pair is None:
        raise InputError(
            "string: with one pulley grooved and one flat, a string tells the belt's length only "
            "if both pulleys are measured too"
        )
    circles = (pair.radii[0] + motor / 2, pair.radii[1] + driven / 2)
    if min(circles) <= 0 or string < float(least_length(*circles)):
        raise InputError("string: the string is too short for these pulleys: they would overlap")
    center = float(center_distance(string, *circles))
    return float(kernels.open_belt(center, *pair.radii).length)


def belts_of(section: str, *, metric: bool | None) -> tuple[Designation, ...]:
    """Published lengths of a section, each name once, from short to long."""
    once = {belt.text: belt for belt in series(section)}
    return tuple(belt for belt in once.values() if metric in (None, is_metric(belt)))


def is_metric(belt: Designation) -> bool:
    """Whether the number on the belt is of millimetres."""
    return belt.measures is NumberOf.DATUM


def nearest_by(belts: Iterable[Designation], name: str, length: float) -> Designation:
    """Return the belt whose inside, pitch or outside length is nearest."""
    return min(belts, key=lambda belt: float(abs(getattr(belt, name) - length)))


def unlisted_inch(
    belts: tuple[Designation, ...], nearest: Designation, pitch_length: float
) -> Designation | None:
    """A belt of a whole inch that no series has, where none of a series is nearer."""
    inch = [belt for belt in belts if belt.measures is NumberOf.INSIDE]
    if nearest.section not in every_inch_sections() or not inch:
        return None
    guess = nearest_by(inch, "pitch_length", pitch_length)
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
    center = None if pair is None else pair.center(belt.pitch_length)
    wrap: tuple[float | None, float | None] = (None, None)
    missing: str | None = "both pulleys are wanted for it"
    if pair is not None:
        missing = "the pulleys would overlap"
        if center is not None:
            on_motor, on_driven = wraps(kernels.open_belt(center, *pair.radii).beta)
            missing, wrap = None, (float(on_motor), float(on_driven))
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
        center_distance=center,
        wrap_motor=wrap[0],
        wrap_driven=wrap[1],
        why_no_center=missing,
        sure=belt.sure,
        source=belt.source,
    )
