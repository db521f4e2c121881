"""The pulleys of an unknown drive, if they were measured too: centres, wraps, and a string."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.formulas.belt import wraps
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import Section
from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.scenario.model import PulleyFace
from mountcalc.scenario.pulleys import Pulley

__all__ = [
    "Drive",
    "Pair",
    "StringError",
    "drive_of",
    "driven_for",
    "path_of_string",
    "path_over",
    "rises",
]


class StringError(ValueError):
    """A string whose pitch length cannot be told; the text says what is missing."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Both pulleys, by their pitch diameters for one section."""

    motor: Pulley
    driven: Pulley

    @property
    def radii(self) -> tuple[float, float]:
        """Pitch radii [m]."""
        return self.motor.diameter / 2, self.driven.diameter / 2


@dataclass(frozen=True, slots=True)
class Drive:
    """Centre distance [m] and the wraps [rad] on the motor's and the driven pulley."""

    center_distance: float
    wrap_motor: float
    wrap_driven: float


def drive_of(pair: Pair, pitch_length: float) -> Drive | None:
    """Where a belt puts the shafts, just taut."""
    if pitch_length < float(least_length(*pair.radii)):
        return None
    center = float(center_distance(pitch_length, *pair.radii))
    motor, driven = wraps(kernels.open_belt(center, *pair.radii).beta)
    return Drive(center, float(motor), float(driven))


def driven_for(pair: Pair, center: float, pitch_length: float) -> float | None:
    """Driven pulley with which a belt is just taut at a centre distance."""
    motor = pair.radii[0]

    def too_long(radius: np.ndarray) -> np.ndarray:
        return np.asarray(kernels.open_belt(center, motor, radius).length - pitch_length)

    low, high = np.array([0.0]), np.array([center - motor])
    if center <= motor or too_long(low)[0] >= 0 or too_long(high)[0] <= 0:
        return None
    return 2 * float(bracketed_roots(too_long, low, high)[0])


def path_over(pair: Pair, center: float) -> float | None:
    """Pitch length of a belt that is just taut at a centre distance."""
    if center < sum(pair.radii):
        return None
    return float(kernels.open_belt(center, *pair.radii).length)


def rises(section: Section, faces: tuple[PulleyFace, PulleyFace]) -> tuple[float, ...] | None:
    """How much larger a string's circle is than the belt's pitch circle on each pulley."""
    grooved = outside_less_pitch(section.name)
    of_face = {
        PulleyFace.GROOVED: None if grooved is None else grooved.value,
        PulleyFace.FLAT: -section.inside_to_pitch.value / math.pi,
    }
    found = tuple(of_face[face] for face in faces)
    known = tuple(rise for rise in found if rise is not None)
    return known if len(known) == len(found) else None


def path_of_string(string: float, by: tuple[float, ...], pair: Pair | None) -> float:
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
        msg = (
            "with one pulley grooved and one flat, a string tells the belt's length only if both "
            "pulleys are measured too"
        )
        raise StringError(msg)
    circles = (pair.radii[0] + motor / 2, pair.radii[1] + driven / 2)
    if min(circles) <= 0 or string < float(least_length(*circles)):
        raise StringError("the string is too short for these pulleys: they would overlap")
    center = float(center_distance(string, *circles))
    return float(kernels.open_belt(center, *pair.radii).length)
