"""All drawings of a mount by their names; of too large a mount they have no end and are refused."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from mountcalc.drafting.drawing import Drawing
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.templates import base_template, plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.errors import MountError
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.model import Scenario
from mountcalc.units import si_factor

DRAWINGS: Mapping[str, Callable[[Build], Drawing]] = {
    "plate": plate_template,
    "base": base_template,
    "guard": guard_panel,
    "assembly": assembly,
    "along-shafts": along_shafts,
}

_FARTHEST = 10.0  # [m] from the hinge, or from the first bearing along the shafts (estimate)
_WIDEST_BELT = 1.0  # [m] (estimate)


def drawings_of(build: Build, names: Collection[str]) -> tuple[Drawing, ...]:
    """Some drawings of a mount."""
    refuse_larger(build.scenario)
    drawn = cautions(build.scenario)
    drawings = (draw(build) for name, draw in DRAWINGS.items() if name in names)
    return tuple(replace(one, cautions=(*drawn, *one.cautions)) for one in drawings)


def refuse_larger(scenario: Scenario) -> None:
    """Refuse a mount that is larger than any that is drawn."""

    def both(length: float) -> str:
        return f"{length:.4g} m ({length / si_factor('ft'):.4g} ft)"

    reaches = {"the hinge": _in_plane(scenario), "the first bearing": _along(scenario)}
    for origin, parts in reaches.items():
        for key, reach in parts.items():
            if reach > _FARTHEST:
                text = f"reaches {both(reach)} from {origin}: drawings are made of mounts within "
                raise MountError(scenario.source, key, f"{text}{both(_FARTHEST)} of it")
    width = scenario.belt.width or 0.0
    if width > _WIDEST_BELT:
        text = f"{both(width)}: drawings are made of belts up to {both(_WIDEST_BELT)} wide"
        raise MountError(scenario.source, "belt.width", text)


def _in_plane(scenario: Scenario) -> dict[str, float]:
    """Keys of what lies in the drawing's plane, and how far from the hinge it reaches [m]."""
    hinge, floor = scenario.plate.hinge, scenario.parts.base.floor
    driven, motor, adjuster = scenario.driven, scenario.motor, scenario.adjuster
    shaft, bearing = (
        math.dist(hinge, driven.shaft),
        max(b.journal_diameter for b in driven.bearings),
    )
    points = {f"adjuster.{key}": getattr(adjuster, key) for key in ("tip", "base_pin", "plate_pin")}
    return {
        "driven.shaft": shaft,
        "driven.pulley_diameter": shaft + driven.pulley_radius,
        "driven.bearing[0].journal_diameter": shaft + bearing,
        "driven.shaft_diameter": shaft + (driven.shaft_diameter or 0.0),
        "motor.shaft": math.dist(hinge, motor.shaft),
        "motor.pulley_diameter": math.dist(hinge, motor.shaft) + motor.pulley_radius,
        "motor.center_of_mass": math.dist(hinge, motor.center_of_mass),
        "plate.center_of_mass": math.dist(hinge, scenario.plate.center_of_mass),
        **{key: math.dist(hinge, point) for key, point in points.items() if point is not None},
        "base.floor": 0.0 if floor is None else abs(floor - hinge[1]),
    }


def _along(scenario: Scenario) -> dict[str, float]:
    """Keys of what lies along the shafts, and how far from the first bearing it reaches [m]."""
    driven, parts = scenario.driven, scenario.parts
    bearings, loads = enumerate(driven.bearings), enumerate(driven.loads)
    places = {
        "driven.pulley_position": driven.pulley_position,
        "driven.shaft_end": parts.along.driven_shaft_end,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.face_position": parts.along.motor_face,
        "guard.position": parts.guard.position,
        **{f"driven.bearing[{number}].position": one.position for number, one in bearings},
        **{f"driven.load[{number}].position": one.position for number, one in loads},
    }
    origin = driven.bearings[0].position
    return {
        f"driven.bearing[{number}].length": one.length for number, one in enumerate(driven.bearings)
    } | {key: abs(place - origin) for key, place in places.items() if place is not None}
