"""An unknown drive: what is asked of it, where a belt puts its shafts, and what is sold."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.errors import InputError
from mountcalc.formulas.belt import wraps
from mountcalc.handbook.belts.designation import Designation, DesignationError, read_designation
from mountcalc.handbook.belts.grooves import has_datum_diameter
from mountcalc.handbook.belts.lengths import every_inch_sections, length_tolerance, series
from mountcalc.handbook.belts.sections import NumberOf, Section, flat_material, known_sections
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.measure.results import BeltLength, Reading
from mountcalc.pages.amounts import length_text
from mountcalc.record import Record
from mountcalc.scenario.pulleys import PULLEY_KEYS, Pulley, PulleyError, PulleyFace, pulley_of
from mountcalc.scenario.text.wording import listed, near_spelling, shown
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import SAME_PLACE
from mountcalc.units import si_factor

# A belt's top width tells its section where it is within this of it (a worn belt is narrower).
_WIDTH_SHARE = 0.10
_SIZES = ("inside", "outside", "pitch", "string", "center", "width", "room")
_SIDES = ("motor", "driven")


class Pair(Record):
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
    return None if known or off > abs(nearest.pitch_length - pitch_length) - SAME_PLACE else found


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


@dataclass(frozen=True, slots=True)  # its signature is for people
class MeasureQuestion:
    """What was measured; exactly one of the first six.

    Parameters
    ----------
    inside, outside, pitch : float or None [m]
        A belt's length on its inside, its outside, or along its cords.
    string : float or None [m]
        A string drawn tight round both pulleys, over their rims.
    center : float or None [m]
        Motor shaft to driven shaft; both pulleys are then wanted.
    designation : str or None
        What stands on the belt: the question is what that is.
    section : str or None
        The belt's section; None asks for every one whose published lengths fit.
    width : float or None [m]
        The belt's top width, to tell the section by.
    motor_pulley, driven_pulley : float or None [m]
        Size of each pulley.
    motor_key, driven_key : str
        What that size is: a key of `mountcalc.scenario.pulleys.PULLEY_KEYS`.
    motor_flat, driven_flat : bool
        Whether the pulley is flat; a key that names a rim or a groove tells by itself.
    room : float or None [m]
        How far the shafts can move, either way, to suit a belt that is not of that length.
    metric : bool or None
        Only belts named in millimetres, only those in inches, or both.
    display : Display
        Units of the sentences.
    """

    inside: float | None = None
    outside: float | None = None
    pitch: float | None = None
    string: float | None = None
    center: float | None = None
    designation: str | None = None
    section: str | None = None
    width: float | None = None
    motor_pulley: float | None = None
    driven_pulley: float | None = None
    motor_key: str = "pulley_diameter"
    driven_key: str = "pulley_diameter"
    motor_flat: bool = False
    driven_flat: bool = False
    room: float | None = None
    metric: bool | None = None
    display: Display = Display.INCH


def checked_reading(question: MeasureQuestion) -> Reading:
    """What was measured, once the question is sound."""
    given = [one for one in Reading if getattr(question, one.value) is not None]
    if len(given) != 1:
        found = f"found {listed(given, 'and')}" if given else "found none"
        raise InputError(f"exactly one of {listed(Reading)} is wanted, {found}")
    sizes = {name: getattr(question, name) for name in _SIZES}
    sizes |= {f"{side} pulley": getattr(question, f"{side}_pulley") for side in _SIDES}
    for name, size in sizes.items():
        if size is not None and not (math.isfinite(size) and size > 0):
            raise InputError(f"{name}: a length above zero is wanted, found {size:g} m")
    for side in _SIDES:
        key = getattr(question, f"{side}_key")
        if key not in PULLEY_KEYS:
            raise InputError(f"{side} pulley: {shown(key)} is none of {listed(PULLEY_KEYS)}")
    if (question.motor_pulley is None) != (question.driven_pulley is None):
        raise InputError("both pulleys are wanted, or none: one alone gives no centre distance")
    if question.center is not None and question.motor_pulley is None:
        raise InputError("a centre distance tells a belt's length only with both pulleys' sizes")
    return given[0]


def sections_of(question: MeasureQuestion) -> list[Section]:
    """Sections to answer for: the one named, those of the width, or all."""
    if question.section is not None and question.width is not None:
        raise InputError("section or width is wanted, not both: the section has its width")
    if question.section is not None:
        return [_named(question.section)]
    every = [one for name in known_sections() if (one := v_section(name)) is not None]
    if question.width is None:
        return every
    width = question.width
    near = [one for one in every if abs(one.width - width) <= _WIDTH_SHARE * one.width]
    if not near:
        known = listed(
            f"{one.name} {length_text(one.width, question.display)}"
            for one in sorted(every, key=lambda one: abs(one.width - width))[:3]
        )
        raise InputError(
            f"width: no section is near {length_text(width, question.display)} wide; the nearest "
            f"are {known}"
        )
    return near


def _named(name: str) -> Section:
    found = v_section(name)
    if found is not None:
        return found
    if flat_material(name) is not None:
        raise InputError(
            "section: a flat belt has no designation; its inside is as long as the string"
        )
    near = near_spelling(name, known_sections())
    hint = f"; did you mean {near}?" if near else ""
    raise InputError(
        f"section: {shown(name)} is not known, wanted {listed(known_sections())}{hint}"
    )


def pair_for(question: MeasureQuestion, section: Section) -> Pair | None:
    """Pulleys by their pitch diameters for a section."""
    if question.motor_pulley is None or question.driven_pulley is None:
        return None
    pulleys = []
    for side in _SIDES:
        key, size = getattr(question, f"{side}_key"), getattr(question, f"{side}_pulley")
        face = PulleyFace.FLAT if getattr(question, f"{side}_flat") else None
        if key == "pulley_datum_diameter" and not has_datum_diameter(section.name):
            raise InputError(
                f"{side} pulley: grooves of section {section.name} have no datum diameter; give "
                "its pitch or outside diameter"
            )
        try:
            pulleys.append(pulley_of({key: size}, face, section.name, None))
        except PulleyError as error:
            raise InputError(f"{side} pulley: {error}") from error
    return Pair(*pulleys)


def faces_of(question: MeasureQuestion) -> tuple[PulleyFace, PulleyFace]:
    """What each pulley is, by its key if that tells."""
    motor, driven = (
        PULLEY_KEYS[getattr(question, f"{side}_key")].face
        or (PulleyFace.FLAT if getattr(question, f"{side}_flat") else PulleyFace.GROOVED)
        for side in _SIDES
    )
    return motor, driven
