"""A scenario written as TOML, in the units of an inch shop or of a metric one."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass

from mountcalc.scenario.driven import Bearing, ShaftLoad
from mountcalc.scenario.model import Adjuster, AdjusterKind, Scenario
from mountcalc.scenario.text.writing import Vector

__all__ = ["INCH", "METRIC", "UnitSystem", "as_toml"]


@dataclass(frozen=True)
class UnitSystem:
    """For each kind of quantity, a unit's name and what one of it is in SI."""

    length: tuple[str, float]
    force: tuple[str, float]
    stiffness: tuple[str, float]
    power: tuple[str, float]
    speed: tuple[str, float]
    angle: tuple[str, float]
    mass_per_length: tuple[str, float]
    pressure: tuple[str, float]

    def write(self, kind: str, value: float) -> str:
        """A quantity as the file has it, between quotes."""
        name, size = getattr(self, kind)
        return f'"{value / size!r} {name}"'

    def point(self, at: Vector) -> str:
        """A point."""
        return f"[{self.write('length', at[0])}, {self.write('length', at[1])}]"


# Exact by definition (NIST SP 811); the pound is taken at standard gravity where it is a force.
_INCH, _POUND, _GRAVITY = 0.0254, 0.45359237, 9.80665
_LBF = _POUND * _GRAVITY
_RPM = 2 * math.pi / 60

METRIC = UnitSystem(
    length=("mm", 1e-3),
    force=("N", 1.0),
    stiffness=("kN", 1e3),
    power=("W", 1.0),
    speed=("rad/s", 1.0),
    angle=("rad", 1.0),
    mass_per_length=("g/m", 1e-3),
    pressure=("MPa", 1e6),
)
INCH = UnitSystem(
    length=("in", _INCH),
    force=("lb", _LBF),
    stiffness=("lbf", _LBF),
    power=("hp", 550 * 12 * _INCH * _LBF),
    speed=("rpm", _RPM),
    angle=("deg", math.radians(1.0)),
    mass_per_length=("lb/ft", _POUND / (12 * _INCH)),
    pressure=("psi", _LBF / _INCH**2),
)


def as_toml(scenario: Scenario, units: UnitSystem) -> str:
    """The whole file; bearing limits as a load for the first and as a pressure for the second."""
    return "\n".join(_lines(scenario, units)) + "\n"


def _lines(scenario: Scenario, units: UnitSystem) -> Iterator[str]:
    yield f"title = {json.dumps(scenario.title)}"
    yield f'display = "{scenario.display}"'
    yield from _driven(scenario, units)
    motor, belt, plate = scenario.motor, scenario.belt, scenario.plate
    yield "[motor]"
    yield f"shaft = {units.point(motor.shaft)}"
    yield f"pulley_diameter = {units.write('length', 2 * motor.pulley_radius)}"
    yield f"power = {units.write('power', motor.power)}"
    yield f"speed = {units.write('speed', motor.speed)}"
    yield f'rotation = "{motor.rotation}"'
    yield f"weight = {units.write('force', motor.weight)}"
    yield f"center_of_mass = {units.point(motor.center_of_mass)}"
    yield f"traction = {motor.traction!r}"
    yield "[belt]"
    yield f"count = {belt.count}"
    yield f"length = {units.write('length', belt.length)}"
    yield f"stiffness = {units.write('stiffness', belt.stiffness)}"
    yield f"stiffness_factor = {belt.stiffness_factor!r}"
    yield f"mass = {units.write('mass_per_length', belt.mass)}"
    yield "[plate]"
    yield f"hinge = {units.point(plate.hinge)}"
    yield f"travel = [{', '.join(units.write('angle', end) for end in plate.travel)}]"
    yield f"weight = {units.write('force', plate.weight)}"
    yield f"center_of_mass = {units.point(plate.center_of_mass)}"
    yield from _adjuster(scenario.adjuster, units)


def _driven(scenario: Scenario, units: UnitSystem) -> Iterator[str]:
    driven = scenario.driven
    yield "[driven]"
    yield f"shaft = {units.point(driven.shaft)}"
    yield f"pulley_diameter = {units.write('length', 2 * driven.pulley_radius)}"
    yield f"pulley_position = {units.write('length', driven.pulley_position)}"
    yield f"power = {units.write('power', driven.power)}"
    yield f"starting_factor = {driven.starting_factor!r}"
    yield f"traction = {driven.traction!r}"
    first, second = driven.bearings
    yield from _bearing(first, units, "force", 1.0)
    yield from _bearing(second, units, "pressure", second.projected_area)
    for load in driven.loads:
        yield from _load(load, units)


def _bearing(bearing: Bearing, units: UnitSystem, kind: str, area: float) -> Iterator[str]:
    yield "[[driven.bearing]]"
    yield f"name = {json.dumps(bearing.name)}"
    yield f"position = {units.write('length', bearing.position)}"
    yield f"journal_diameter = {units.write('length', bearing.journal_diameter)}"
    yield f"length = {units.write('length', bearing.length)}"
    yield f"limit = {units.write(kind, bearing.limit / area)}"
    yield f"starting_limit = {units.write(kind, bearing.starting_limit / area)}"


def _load(load: ShaftLoad, units: UnitSystem) -> Iterator[str]:
    angle = math.atan2(load.direction[1], load.direction[0])
    yield "[[driven.load]]"
    yield f"name = {json.dumps(load.name)}"
    yield f"position = {units.write('length', load.position)}"
    yield f"force = {units.write('force', load.force)}"
    yield f"direction = {units.write('angle', angle)}"
    yield f'when = "{load.when}"'


def _adjuster(adjuster: Adjuster, units: UnitSystem) -> Iterator[str]:
    yield "[adjuster]"
    yield f'kind = "{adjuster.kind}"'
    if adjuster.kind is AdjusterKind.NONE:
        return
    assert adjuster.advance_per_turn is not None
    yield f'acts = "{adjuster.acts}"'
    yield f"advance_per_turn = {units.write('length', adjuster.advance_per_turn)}"
    for name in ("tip", "base_pin", "plate_pin"):
        point = getattr(adjuster, name)
        if point is not None:
            yield f"{name} = {units.point(point)}"
    for name in ("axis", "face"):
        angle = getattr(adjuster, name)
        if angle is not None:
            yield f"{name} = {units.write('angle', angle)}"
