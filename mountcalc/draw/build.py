"""The mount that is drawn: what all its drawings share is found once."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, wraps
from typing import Any, TypeVar

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import usable_travel
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import section
from mountcalc.layout import schematic_of
from mountcalc.pages.amounts import bench_length, fine_length
from mountcalc.record import Record
from mountcalc.requirements.swing import Swing, swing_of
from mountcalc.scenario.drawn_plate import BoardFrame, plate_line
from mountcalc.scenario.driven import Driven
from mountcalc.scenario.hardware import Grain
from mountcalc.scenario.model import Belt, Motor, Scenario
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.text.writing import Display, Vector

_FOOT_SHARE = 0.12  # of the shaft height, where the frame is known (estimate)
_FOOT = 0.005  # [m] where it is not (estimate)
_EDGE = 2.0  # diameters of a foot's hole from its middle to the foot's end (estimate)
# Width of a pulley whose width is not given: so many widths of its belts (estimate).
_WIDTHS = 1.6
_BELT_WIDTH = 0.013  # [m] of a belt of which nothing is known (estimate)

_GRAIN = {
    None: "along the long side",
    Grain.FROM_HINGE: "from the hinged edge to the far one",
    Grain.ALONG_HINGE: "along the hinge",
}

Found = TypeVar("Found")


@dataclass(frozen=True, eq=False)
class Build:
    """A mount that is drawn, and what `once` has kept of it in ``found``."""

    scenario: Scenario
    found: dict[Callable[[Build], Any], Any] = field(default_factory=dict, repr=False)

    @property
    def display(self) -> Display:
        """Units of all texts."""
        return self.scenario.display

    @property
    def hinge(self) -> Vector:
        """The hinge's axis [m]."""
        return self.scenario.plate.hinge

    @cached_property
    def mount(self) -> Mount:
        """The linkage with its numbers."""
        return Mount.of(self.scenario)

    @cached_property
    def swing(self) -> Swing:
        """The plate angles between which a belt is fitted and taken up."""
        return swing_of(self.mount, usable_travel(self.mount))

    @cached_property
    def frame(self) -> BoardFrame:
        """The plate's face that the motor stands on."""
        return plate_line(self.scenario)

    def turned(self, point: Vector, plate_angle: float) -> Vector:
        """Where a point of the plate lies at a plate angle [rad]."""
        return turned(point, self.hinge, plate_angle)

    @property
    def grain_words(self) -> str:
        """The way the grain of the plate's face runs."""
        return _GRAIN[self.scenario.parts.plate.grain]

    @cached_property
    def motor_at_snug(self) -> Vector:
        """The motor's shaft as the belt is snug [m]."""
        return self.turned(self.scenario.motor.shaft, self.swing.snug)

    def bench(self, length: float) -> str:
        """A length [m] to be marked out."""
        return bench_length(length, self.display)

    def fine(self, length: float) -> str:
        """A length [m] that may be small."""
        return fine_length(length, self.display)


def once(find: Callable[[Build], Found]) -> Callable[[Build], Found]:
    """Find something of a mount at the first asking, and keep it with the mount."""

    @wraps(find)
    def kept(build: Build) -> Found:
        if find not in build.found:
            build.found[find] = find(build)
        found: Found = build.found[find]
        return found

    return kept


def turned(point: Vector, hinge: Vector, plate_angle: float) -> Vector:
    """Where a point of the plate lies at a plate angle."""
    across, up = point[0] - hinge[0], point[1] - hinge[1]
    cosine, sine = math.cos(plate_angle), math.sin(plate_angle)
    return hinge[0] + across * cosine - up * sine, hinge[1] + across * sine + up * cosine


class MotorSize(Record):
    """The motor in the drawing's plane [m].

    Radius of its body, from under the shaft to the end of its feet, how far these stand out.
    """

    body: float
    half_feet: float
    foot_height: float


@once
def motor_size(build: Build) -> MotorSize:
    """The size of the motor: estimates, whatever the scenario says."""
    frame = build.scenario.parts.frame
    if frame is None:
        body = schematic_of(build.scenario).body_radius
        return MotorSize(body, body, _FOOT)
    half_feet = 0.5 * frame.feet_across + _EDGE * frame.hole
    return MotorSize(frame.body_radius, half_feet, _FOOT_SHARE * frame.shaft_height)


@once
def rim_radii(build: Build) -> tuple[float, float]:
    """Outside radii of the motor's and the driven pulley, from their pitch radii."""
    scenario, belt = build.scenario, build.scenario.belt
    known = None if belt.section is None else section(belt.section)

    def rim(pulley: Motor | Driven) -> float:
        if known is not None and pulley.pulley_face is PulleyFace.GROOVED:
            over = outside_less_pitch(known.name)
            return pulley.pulley_radius + (0.0 if over is None else 0.5 * over.value)
        under = 0.5 * (belt.thickness or 0.0)
        if known is not None:
            under = known.inside_to_pitch.value / math.tau
        return max(0.5 * pulley.pulley_radius, pulley.pulley_radius - under)

    return rim(scenario.motor), rim(scenario.driven)


def assumed_width(belt: Belt) -> float:
    """Width [m] with which a pulley is drawn where the scenario gives none (estimate)."""
    known = None if belt.section is None else section(belt.section)
    width = known.width if known is not None else belt.width or _BELT_WIDTH
    return _WIDTHS * width * belt.count
