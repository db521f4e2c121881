"""All drawings of a mount by their names; of too large a mount they have no end and are refused."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace

from mountcalc.drafting.drawing import Drawing
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.base import base_template
from mountcalc.draw.boards.plate import plate_template
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.errors import MountError
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.model import Scenario, Vector
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
    _refuse_larger(build.scenario)
    drawn = cautions(build.scenario)
    drawings = (draw(build) for name, draw in DRAWINGS.items() if name in names)
    return tuple(replace(one, cautions=(*drawn, *one.cautions)) for one in drawings)


def _refuse_larger(scenario: Scenario) -> None:
    """Refuse a mount that is larger than any that is drawn."""

    def both(length: float) -> str:
        return f"{length:.4g} m ({length / si_factor('ft'):.4g} ft)"

    reaches = {"the hinge": _in_plane(scenario), "the first bearing": _along(scenario)}
    for origin, parts in reaches.items():
        for key, reach in parts:
            if reach > _FARTHEST:
                raise MountError(
                    scenario.source,
                    key,
                    f"reaches {both(reach)} from {origin}: drawings are made of mounts within "
                    f"{both(_FARTHEST)} of it",
                )
    width = scenario.belt.width or 0.0
    if width > _WIDEST_BELT:
        raise MountError(
            scenario.source,
            "belt.width",
            f"{both(width)}: drawings are made of belts up to {both(_WIDEST_BELT)} wide",
        )


def _in_plane(scenario: Scenario) -> Iterator[tuple[str, float]]:
    """Keys of what lies in the drawing's plane, and how far from the hinge it reaches [m]."""
    hinge = scenario.plate.hinge
    driven, motor, adjuster = scenario.driven, scenario.motor, scenario.adjuster
    bearing = max(one.journal_diameter for one in driven.bearings)

    def far(point: Vector) -> float:
        return math.dist(hinge, point)

    yield "driven.shaft", far(driven.shaft)
    yield "driven.pulley_diameter", far(driven.shaft) + driven.pulley_radius
    yield "driven.bearing[0].journal_diameter", far(driven.shaft) + bearing
    yield "driven.shaft_diameter", far(driven.shaft) + (driven.shaft_diameter or 0.0)
    yield "motor.shaft", far(motor.shaft)
    yield "motor.pulley_diameter", far(motor.shaft) + motor.pulley_radius
    yield "motor.center_of_mass", far(motor.center_of_mass)
    yield "plate.center_of_mass", far(scenario.plate.center_of_mass)
    for key in ("tip", "base_pin", "plate_pin"):
        point = getattr(adjuster, key)
        if point is not None:
            yield f"adjuster.{key}", far(point)
    if scenario.parts.base.floor is not None:
        yield "base.floor", abs(scenario.parts.base.floor - hinge[1])


def _along(scenario: Scenario) -> Iterator[tuple[str, float]]:
    """Keys of what lies along the shafts, and how far from the first bearing it reaches [m]."""
    driven, parts = scenario.driven, scenario.parts
    origin = driven.bearings[0].position
    places = {
        "driven.pulley_position": driven.pulley_position,
        "driven.shaft_end": parts.along.driven_shaft_end,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.face_position": parts.along.motor_face,
        "guard.position": parts.guard.position,
    }
    for number, bearing in enumerate(driven.bearings):
        places[f"driven.bearing[{number}].position"] = bearing.position
        yield f"driven.bearing[{number}].length", bearing.length
    for number, load in enumerate(driven.loads):
        places[f"driven.load[{number}].position"] = load.position
    for key, place in places.items():
        if place is not None:
            yield key, abs(place - origin)
