"""Sizes of the guard: as the scenario gives them, else as they are taken, with a note."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.bends import Cuts
from mountcalc.draw.remarks import Remark
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import flat_material, section
from mountcalc.handbook.rows import datum, load
from mountcalc.scenario.model import PulleyFace

_FILE = "guarding"


@dataclass(frozen=True, slots=True)
class GuardSizes:
    """What a guard's panel is drawn from; lengths [m].

    The radii are those of pulleys or belt, whichever stands out further; the slot clears the
    motor's shaft by ``slot_clearance``, the opening is that for the driven shaft. ``taken`` tells
    by its key what the scenario does not say.
    """

    motor_radius: float
    driven_radius: float
    clearance: float
    slot_half_width: float
    slot_clearance: float
    opening_radius: float
    thickness: float
    cuts: Cuts
    taken: Mapping[str, Remark]


def made(name: str) -> float:
    """A size of how guards are made here."""
    return datum(_FILE, load(_FILE)["made"][name]).value


@once
def guard_sizes(build: Build) -> GuardSizes:
    """The guard's sizes."""
    parts, driven, taken = build.scenario.parts, build.scenario.driven, dict[str, Remark]()
    guard, frame = parts.guard, parts.frame

    def size(given: float | None, name: str, what: str, key: str) -> float:
        if given is not None:
            return given
        found = datum(_FILE, load(_FILE)["default"][build.display][name])
        numbers = {"what": what, "size": found.value, "sure": found.sure, "key": key}
        taken[key] = Remark("guard.taken", numbers)
        return found.value

    thickness = size(guard.thickness, "thickness", "Panel and strip", "guard.thickness")
    kerf = size(guard.kerf, "kerf", "Saw kerf", "guard.kerf")
    clearance = size(
        guard.clearance, "clearance", "Clearance of belt and pulleys", "guard.clearance"
    )
    around = size(
        guard.slot_clearance, "slot_clearance", "Clearance of the shafts", "guard.slot_clearance"
    )
    diameter = None if frame is None else frame.shaft_diameter
    shaft = size(diameter, "shaft_diameter", "Motor shaft's diameter", "motor.frame")
    belt = build.scenario.belt
    known = None if belt.section is None else section(belt.section)
    if known is None:
        is_flat = belt.section is not None and flat_material(belt.section) is not None
        thick = size(
            belt.thickness, "belt_over_pitch", "Belt outside its pitch line", "belt.section"
        )
        over_belt = over_rim = 0.5 * thick if is_flat else thick
    else:
        over_belt = known.pitch_to_outside.value / math.tau
        rim = outside_less_pitch(known.name)
        over_rim = max(over_belt, 0.0 if rim is None else 0.5 * rim.value)
    motor_radius, driven_radius = (
        one.pulley_radius + (over_rim if one.pulley_face is PulleyFace.GROOVED else over_belt)
        for one in (build.scenario.motor, driven)
    )
    # The thickest of the driven shaft where it passes the panel: journal or shaft.
    nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
    passing = max(nearest.journal_diameter, driven.shaft_diameter or 0.0)
    return GuardSizes(
        motor_radius=motor_radius,
        driven_radius=driven_radius,
        clearance=clearance,
        slot_half_width=0.5 * shaft + around,
        slot_clearance=around,
        opening_radius=0.5 * passing + around,
        thickness=thickness,
        cuts=Cuts(kerf, thickness, min(made("skin"), made("skin_share") * thickness)),
        taken=taken,
    )
