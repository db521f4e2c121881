"""Sizes of the guard: as the scenario gives them, else as they are taken, with a note."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.strip.edge import Cuts
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import flat_material, section
from mountcalc.handbook.rows import datum, load
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display, PulleyFace

__all__ = ["GuardSizes", "guard_sizes", "made"]

_FILE = "guarding"
_TURN = 2.0 * math.pi


@dataclass(frozen=True, slots=True)
class GuardSizes:
    """What a guard's panel is drawn from.

    Attributes
    ----------
    motor_radius, driven_radius : float [m]
        Outside of each pulley, or of the belt on it where that stands out further.
    clearance : float [m]
        Kept around both and the belt.
    slot_half_width : float [m]
        Half the diameter of the motor's shaft and the clearance around it.
    slot_clearance : float [m]
        That clearance.
    opening_radius : float [m]
        Of the hole for the driven shaft.
    thickness : float [m]
        Of panel and strip.
    cuts : Cuts
        Relief cuts of the strip.
    notes : tuple of str
        What was taken because the scenario does not say.
    """

    motor_radius: float
    driven_radius: float
    clearance: float
    slot_half_width: float
    slot_clearance: float
    opening_radius: float
    thickness: float
    cuts: Cuts
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Taken:
    """Defaults as they are taken."""

    display: Display
    notes: list[str] = field(default_factory=list)

    def value(self, given: float | None, name: str, what: str, key: str) -> float:
        """The given value, or the default of a name [m], noted."""
        if given is not None:
            return given
        taken = datum(_FILE, load(_FILE)["default"][self.display][name])
        text = bench_length(taken.value, self.display)
        self.notes.append(f"{what}: {text} taken ({taken.sure}); {key} would say.")
        return taken.value


def made(name: str) -> float:
    """A size of how guards are made here."""
    return datum(_FILE, load(_FILE)["made"][name]).value


@once
def guard_sizes(build: Build) -> GuardSizes:
    """The guard's sizes."""
    guard, frame = build.scenario.parts.guard, build.scenario.parts.frame
    taken = _Taken(build.display)
    thickness = taken.value(guard.thickness, "thickness", "Panel and strip", "guard.thickness")
    kerf = taken.value(guard.kerf, "kerf", "Saw kerf", "guard.kerf")
    clearance = taken.value(
        guard.clearance, "clearance", "Clearance of belt and pulleys", "guard.clearance"
    )
    around = taken.value(
        guard.slot_clearance, "slot_clearance", "Clearance of the shafts", "guard.slot_clearance"
    )
    shaft = taken.value(
        None if frame is None else frame.shaft_diameter,
        "shaft_diameter",
        "Motor shaft's diameter",
        "motor.frame",
    )
    motor_over, driven_over = _over_pitch(build, taken)
    return GuardSizes(
        motor_radius=build.scenario.motor.pulley_radius + motor_over,
        driven_radius=build.scenario.driven.pulley_radius + driven_over,
        clearance=clearance,
        slot_half_width=0.5 * shaft + around,
        slot_clearance=around,
        opening_radius=0.5 * _driven_diameter(build) + around,
        thickness=thickness,
        cuts=Cuts(kerf, thickness, min(made("skin"), made("skin_share") * thickness)),
        notes=tuple(taken.notes),
    )


def _driven_diameter(build: Build) -> float:
    """The thickest of the shaft where it passes the panel [m]: journal or shaft."""
    driven = build.scenario.driven
    nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
    return max(nearest.journal_diameter, driven.shaft_diameter or 0.0)


def _over_pitch(build: Build, taken: _Taken) -> tuple[float, float]:
    """How far pulley or belt stands out beyond the pitch radius: at the motor, driven [m]."""
    belt = build.scenario.belt
    known = None if belt.section is None else section(belt.section)
    if known is None:
        is_flat = belt.section is not None and flat_material(belt.section) is not None
        thickness = taken.value(
            belt.thickness, "belt_over_pitch", "Belt outside its pitch line", "belt.section"
        )
        over = 0.5 * thickness if is_flat else thickness
        return over, over
    belt_over = known.pitch_to_outside.value / _TURN
    rim = outside_less_pitch(known.name)
    rim_over = 0.0 if rim is None else 0.5 * rim.value
    faces = (build.scenario.motor.pulley_face, build.scenario.driven.pulley_face)
    motor, driven = (
        max(belt_over, rim_over) if face is PulleyFace.GROOVED else belt_over for face in faces
    )
    return motor, driven
