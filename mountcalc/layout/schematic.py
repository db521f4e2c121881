"""What a drawing needs and a scenario leaves open: the plate's line, a screw's length, a body.

All of it is nominal and as drawn (plate angle 0); nothing that is computed depends on it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.scenario.model import Adjuster, AdjusterKind, Scenario, Vector

__all__ = ["Schematic", "schematic_of"]

Segment = tuple[Vector, Vector]

# As shares of the mount's reach: points nearer than this are one, and how far a screw's parts go.
_SAME_POINT = 0.02
_FACE_HALF = 0.06
_NUT_BACK = 0.07
_OVERHANG = 0.07
# A screw nearer to parallel with the plate than this (sine) is not taken to pass through its line.
_LEAST_CROSSING = 0.3
# A motor's body against its pulley's radius and the distance between the shafts.
_LEAST_BODY = 1.3
_PLAIN_BODY = 1.7
_MOST_BODY = 3.0
_BODY_OF_CENTRES = 0.4


@dataclass(frozen=True, slots=True)
class Schematic:
    """Nominal parts as drawn [m].

    ``plate`` is a line through the hinge, ``arms`` stand off from it. ``nut``, ``face`` and
    ``overhang`` (the screw behind its nut) are None or 0 where there is no screw.
    """

    plate: Segment
    arms: tuple[Segment, ...]
    body_radius: float
    nut: Vector | None
    face: Segment | None
    overhang: float


def schematic_of(scenario: Scenario, draws_back: float = 0.0) -> Schematic:
    """The nominal parts of a scenario's drawing."""
    hinge, motor, adjuster = scenario.plate.hinge, scenario.motor.shaft, scenario.adjuster
    centres = math.dist(motor, scenario.driven.shaft)
    reach = max(centres, math.dist(hinge, motor), math.dist(hinge, scenario.driven.shaft))
    along = _direction(scenario, reach)
    nut = _nut(scenario, along, reach, draws_back)
    at = _acts_at(adjuster, nut)
    carried = [motor, *([at] if at is not None else [])]
    if scenario.plate.weight > 0:
        carried.append(scenario.plate.center_of_mass)
    places = [_along(hinge, along, point) for point in carried]
    feet = [_step(hinge, along, place) for place in places]
    arms = [
        (foot, point)
        for foot, point in zip(feet[: 1 + (at is not None)], carried, strict=False)
        if math.dist(foot, point) > 0.5 * _SAME_POINT * reach
    ]
    return Schematic(
        plate=(_step(hinge, along, min(0.0, *places)), _step(hinge, along, max(0.0, *places))),
        arms=tuple(arms),
        body_radius=_body(scenario.motor.pulley_radius, math.dist(feet[0], motor), centres),
        nut=nut,
        face=_face(adjuster, reach),
        overhang=_OVERHANG * reach if nut is not None else 0.0,
    )


def _step(start: Vector, way: Vector, distance: float) -> Vector:
    return start[0] + distance * way[0], start[1] + distance * way[1]


def _along(start: Vector, way: Vector, point: Vector) -> float:
    return (point[0] - start[0]) * way[0] + (point[1] - start[1]) * way[1]


def _cross(first: Vector, second: Vector) -> float:
    return first[0] * second[1] - first[1] * second[0]


def _unit(angle: float) -> Vector:
    return math.cos(angle), math.sin(angle)


def _direction(scenario: Scenario, reach: float) -> Vector:
    """Unit vector along the plate, from the hinge."""
    hinge, adjuster = scenario.plate.hinge, scenario.adjuster
    towards: list[Vector] = []
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        assert adjuster.tip is not None
        assert adjuster.face is not None
        arm = (adjuster.tip[0] - hinge[0], adjuster.tip[1] - hinge[1])
        if abs(_cross(_unit(adjuster.face), arm)) < _SAME_POINT * reach:
            towards.append(adjuster.tip)
    if scenario.plate.weight > 0:
        towards.append(scenario.plate.center_of_mass)
    handed = adjuster.plate_pin or adjuster.tip
    towards += [*([handed] if handed is not None else []), scenario.motor.shaft]
    point = next(
        (point for point in towards if math.dist(hinge, point) > _SAME_POINT * reach), None
    )
    if point is None:
        return 1.0, 0.0
    length = math.dist(hinge, point)
    return (point[0] - hinge[0]) / length, (point[1] - hinge[1]) / length


def _nut(scenario: Scenario, along: Vector, reach: float, draws_back: float) -> Vector | None:
    """Where a screw passes through the plate (or the base), on its axis behind the tip."""
    adjuster, hinge = scenario.adjuster, scenario.plate.hinge
    if adjuster.tip is None or adjuster.axis is None:
        return None
    axis = _unit(adjuster.axis)
    back = draws_back + _NUT_BACK * reach
    crossing = _cross(axis, along)
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE and abs(crossing) > _LEAST_CROSSING:
        from_hinge = (adjuster.tip[0] - hinge[0], adjuster.tip[1] - hinge[1])
        through = _cross(from_hinge, along) / crossing
        if draws_back + _SAME_POINT * reach < through < reach:
            back = through
    return _step(adjuster.tip, axis, -back)


def _acts_at(adjuster: Adjuster, nut: Vector | None) -> Vector | None:
    """The point fixed to the plate at which the adjuster acts, as drawn."""
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        return nut
    return adjuster.tip if adjuster.kind is AdjusterKind.JACK_IN_BASE else adjuster.plate_pin


def _face(adjuster: Adjuster, reach: float) -> Segment | None:
    """A piece of the face about the tip."""
    if adjuster.tip is None or adjuster.face is None:
        return None
    way = _unit(adjuster.face)
    half = _FACE_HALF * reach
    return _step(adjuster.tip, way, -half), _step(adjuster.tip, way, half)


def _body(pulley: float, height: float, centres: float) -> float:
    """Radius of a motor that stands on the plate, within bounds that can be read."""
    if height < _LEAST_BODY * pulley:
        return _PLAIN_BODY * pulley
    return max(_LEAST_BODY * pulley, min(height, _MOST_BODY * pulley, _BODY_OF_CENTRES * centres))
