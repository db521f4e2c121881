"""From checked tables to a `Scenario`: defaults are taken here, and named in its notes."""

from __future__ import annotations

from dataclasses import replace

from mountcalc.scenario.file.build_belt import build_belt, build_pulley, traction
from mountcalc.scenario.file.build_shaft import build_bearing, build_load
from mountcalc.scenario.file.notes import Notes
from mountcalc.scenario.file.schema import AdjusterTable, MayChangeTable, ScenarioTable, Turning
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Driven,
    Limits,
    MayChange,
    Motor,
    Plate,
    Rotation,
    Scenario,
)
from mountcalc.scenario.parts.build import build_parts
from mountcalc.scenario.parts.notes import note_parts
from mountcalc.scenario.search.build import build_keep_outs

__all__ = ["build"]

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
