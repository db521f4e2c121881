"""From checked tables to a `Scenario`: defaults are taken here, and named in its notes."""

from __future__ import annotations

import math
from dataclasses import replace

from mountcalc.scenario.file.build_belt import build_belt, build_pulley, traction
from mountcalc.scenario.file.build_search import build_keep_outs
from mountcalc.scenario.file.schema import (
    AdjusterTable,
    BearingTable,
    LoadTable,
    MayChangeTable,
    ScenarioTable,
    Turning,
)
from mountcalc.scenario.file.schema_parts import BaseTable, GuardTable, HingeTable
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Bearing,
    Driven,
    Limits,
    MayChange,
    Motor,
    Plate,
    Rotation,
    Scenario,
    ShaftLoad,
    Vector,
)
from mountcalc.scenario.parts import AlongShafts, Base, Guard, Hinges, Parts, PlateBoard
from mountcalc.scenario.text.writing import Notes

__all__ = ["build", "build_bearing", "build_load", "build_parts", "note_parts"]

_STARTING_OVER_RUNNING_LIMIT = 2.0  # MPTA 401, for starting and occasional peaks


def build_bearing(table: BearingTable, number: int) -> Bearing:
    """Return a bearing; ``number``, from 1, names it where the file does not."""
    area = table.journal_diameter * table.length
    limit = table.limit.as_load(area)
    starting = table.starting_limit
    return Bearing(
        name=table.name or f"bearing {number}",
        position=table.position,
        journal_diameter=table.journal_diameter,
        length=table.length,
        limit=limit,
        starting_limit=(
            _STARTING_OVER_RUNNING_LIMIT * limit if starting is None else starting.as_load(area)
        ),
        limit_given_as_pressure=table.limit.is_pressure,
        clearance=table.clearance,
        cap_direction=table.cap_direction,
        cap_dowelled=table.cap_dowelled,
        groove_direction=table.groove_direction,
        service=table.service,
    )


def build_load(table: LoadTable, number: int, pulley: float) -> ShaftLoad:
    """Return a load on the shaft, whose pulley is at ``pulley`` [m].

    ``number``, from 1, names it where the file does not.
    """
    return ShaftLoad(
        name=table.name or f"load {number}",
        position=pulley if table.position is None else table.position,
        force=table.force,
        direction=_unit_vector(table.direction),
        when=table.when,
        on=table.on,
    )


def _unit_vector(angle: float) -> Vector:
    """Return the unit vector of a direction; the four named ones come out exact."""
    return round(math.cos(angle), 15) + 0.0, round(math.sin(angle), 15) + 0.0


def build_parts(table: ScenarioTable) -> Parts:
    """Return the parts of checked tables."""
    plate, motor, driven = table.plate, table.motor, table.driven
    return Parts(
        plate=PlateBoard(
            length=plate.length,
            width=plate.width,
            thickness=plate.thickness,
            layers=plate.layers,
            material=plate.material,
            direction=plate.direction,
        ),
        hinges=Hinges(**dict(table.hinge or HingeTable())),
        guard=Guard(**dict(table.guard or GuardTable())),
        base=Base(**dict(table.base or BaseTable())),
        along=AlongShafts(
            motor_pulley=motor.pulley_position,
            motor_pulley_width=motor.pulley_width,
            motor_face=motor.face_position,
            driven_pulley_width=driven.pulley_width,
            driven_shaft_end=driven.shaft_end,
        ),
        frame=motor.frame,
        packing=motor.packing or 0.0,
    )


def note_parts(scenario: Scenario, notes: Notes) -> None:
    """Note where sizes of parts do not go together."""
    parts, motor = scenario.parts, scenario.motor
    screw, thickness = parts.hinges.screw, parts.plate.thickness
    if screw is not None and thickness is not None and (screw.length or 0.0) > thickness:
        notes.add(
            f"The hinge's screws, {screw.name}, are longer than the plate is thick "
            f"({notes.show(thickness, 'length')})."
        )
    if parts.frame is not None and motor.pulley_radius * 2 <= parts.frame.shaft_diameter:
        notes.add(
            f"The shaft of frame {parts.frame.name}, "
            f"{notes.show(parts.frame.shaft_diameter, 'length')} thick, does not go into a motor "
            f"pulley of {notes.show(2 * motor.pulley_radius, 'length')} pitch diameter."
        )


_DEFAULT_STARTING_FACTOR = 2.0


def build(table: ScenarioTable, title: str, source: str) -> Scenario:
    """Return the scenario of checked tables."""
    notes = Notes(table.display)
    scenario = Scenario(
        title=table.title or title,
        display=table.display,
        driven=_driven(table, notes),
        motor=_motor(table, notes),
        belt=build_belt(table, notes),
        plate=_plate(table, notes),
        adjuster=_adjuster(table.adjuster, notes),
        limits=_limits(table, notes),
        may_change=_may_change(table, notes),
        parts=build_parts(table),
        keep_outs=build_keep_outs(table),
        source=source,
    )
    note_parts(scenario, notes)
    return replace(scenario, notes=tuple(notes.sentences))


def _driven(table: ScenarioTable, notes: Notes) -> Driven:
    driven = table.driven
    first, second = driven.bearing
    pulley = build_pulley(table, driven)
    if any(bearing.starting_limit is None for bearing in driven.bearing):
        notes.add(
            "A bearing without a starting limit is allowed twice its limit at the start "
            "(MPTA 401, for starting and occasional peaks)."
        )
    return Driven(
        shaft=driven.shaft,
        pulley_radius=pulley.diameter / 2,
        pulley_position=driven.pulley_position,
        power=_driven_power(table, notes),
        starting_factor=_starting_factor(table, notes),
        max_speed=driven.max_speed,
        traction=traction(table, driven.traction, pulley.face, notes),
        bearings=(build_bearing(first, 1), build_bearing(second, 2)),
        loads=tuple(
            build_load(load, number, driven.pulley_position)
            for number, load in enumerate(driven.load, 1)
        ),
        shaft_diameter=driven.shaft_diameter,
        oil=driven.oil,
        pulley_face=pulley.face,
        shock=driven.shock,
        service_factor=driven.service_factor,
    )


def _driven_power(table: ScenarioTable, notes: Notes) -> float:
    rated = table.motor.power
    power = table.driven.power
    if power is None:
        notes.add(
            f"What the machine takes is not given: the motor's rated power of "
            f"{notes.show(rated, 'power')} is taken."
        )
        return rated
    if power > rated * (1 + 1e-9):
        notes.add(
            f"The motor is rated at {notes.show(rated, 'power')}, below the "
            f"{notes.show(power, 'power')} that the machine takes."
        )
    return power


def _starting_factor(table: ScenarioTable, notes: Notes) -> float:
    if table.driven.starting_factor is not None:
        return table.driven.starting_factor
    notes.add(
        "The starting torque is not given: twice the running torque is taken. Usual are 1.3 for a "
        "fan or an empty machine to 3.5 for a capacitor-start motor on a heavy wheel (common "
        "practice)."
    )
    return _DEFAULT_STARTING_FACTOR


def _motor(table: ScenarioTable, notes: Notes) -> Motor:
    motor = table.motor
    pulley = build_pulley(table, motor)
    reverses = motor.rotation is Turning.BOTH
    if reverses:
        notes.add(
            "The drive runs both ways: what one table shows is counter-clockwise; settings keep "
            "their promises both ways."
        )
    return Motor(
        shaft=motor.shaft,
        pulley_radius=pulley.diameter / 2,
        power=motor.power,
        speed=motor.speed,
        rotation=Rotation.CCW if reverses else Rotation(motor.rotation.value),
        weight=motor.weight,
        center_of_mass=motor.shaft if motor.center_of_mass is None else motor.center_of_mass,
        traction=traction(table, motor.traction, pulley.face, notes),
        reverses=reverses,
        pulley_face=pulley.face,
        torque=motor.torque,
        weight_error=motor.weight_error,
    )


def _plate(table: ScenarioTable, notes: Notes) -> Plate:
    plate = table.plate
    if plate.center_of_mass is not None and plate.weight is None:
        notes.add("The plate has a center of mass but no weight: it counts as weightless.")
    return Plate(
        hinge=plate.hinge,
        travel=plate.travel,
        weight=plate.weight or 0.0,
        center_of_mass=plate.hinge if plate.center_of_mass is None else plate.center_of_mass,
    )


def _adjuster(table: AdjusterTable, notes: Notes) -> Adjuster:
    if table.kind is AdjusterKind.NONE:
        return Adjuster(kind=table.kind)
    advance = table.advance_per_turn
    if advance is None and table.thread is not None:
        advance = table.thread.pitch
        if "x" not in table.thread.name and "-" not in table.thread.name:
            notes.add(
                f"The pitch of {table.thread.name} is not given: the coarse one, "
                f"{notes.show(advance, 'length')}, is taken (ISO 262)."
            )
        if table.kind is AdjusterKind.LINK:
            notes.add(
                "One turn is taken to move the link by one pitch, "
                f"{notes.show(advance, 'length')}, as the nut of an eye-bolt does; a turnbuckle "
                "with opposite threads moves two: give advance_per_turn then."
            )
    return Adjuster(
        kind=table.kind,
        acts=table.acts or (Acts.BOTH if table.kind is AdjusterKind.LINK else Acts.PUSH),
        thread=table.thread,
        advance_per_turn=advance,
        tip=table.tip,
        axis=table.axis,
        face=table.face,
        base_pin=table.base_pin,
        plate_pin=table.plate_pin,
        across=table.across,
    )


def _limits(table: ScenarioTable, notes: Notes) -> Limits:
    if table.limits is None:
        return Limits()
    limits = Limits(**{key: value for key, value in table.limits if value is not None})
    if limits.grip < 1:
        notes.add(f"The wanted grip of {limits.grip:g} is below 1: the belt may slip running.")
    if limits.starting_grip is not None and limits.starting_grip < 1:
        notes.add(
            f"The wanted starting grip of {limits.starting_grip:g} is below 1: the belt may slip "
            "as it starts."
        )
    return limits


def _may_change(table: ScenarioTable, notes: Notes) -> MayChange:
    may_change = table.may_change or MayChangeTable()
    if may_change.rotation and table.motor.rotation is Turning.BOTH:
        notes.add("The drive runs both ways, so there is no other rotation to change to.")
    return MayChange(rotation=may_change.rotation, loads=may_change.loads)
