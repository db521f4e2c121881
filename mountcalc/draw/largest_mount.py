"""The largest mount that drawings are made of: beyond it, time and memory would have no end."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.errors import MountError
from mountcalc.scenario.model import Scenario, Vector
from mountcalc.units import si_factor

__all__ = ["refuse_larger"]

_FARTHEST = 10.0  # [m] from the hinge, or from the first bearing along the shafts (estimate)
_WIDEST_BELT = 1.0  # [m] (estimate)


def refuse_larger(scenario: Scenario) -> None:
    """Refuse a mount that is larger than any that is drawn."""
    reaches = {"the hinge": _in_plane(scenario), "the first bearing": _along(scenario)}
    for origin, parts in reaches.items():
        for key, reach in parts:
            if reach > _FARTHEST:
                raise MountError(
                    scenario.source,
                    key,
                    f"reaches {_both(reach)} from {origin}: drawings are made of mounts within "
                    f"{_both(_FARTHEST)} of it",
                )
    if (scenario.belt.width or 0.0) > _WIDEST_BELT:
        raise MountError(
            scenario.source,
            "belt.width",
            f"{_both(scenario.belt.width or 0.0)}: drawings are made of belts up to "
            f"{_both(_WIDEST_BELT)} wide",
        )


def _both(length: float) -> str:
    return f"{length:.4g} m ({length / si_factor('ft'):.4g} ft)"


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
