"""Changes to a mount that may open its range: each a sentence and the scenario that it makes.

A change that cannot be made to a mount (no such part, not allowed, nothing left to gain) is None.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from mountcalc.equilibrium.mount import Mount
from mountcalc.handbook.belts.sections import heavier_section, section
from mountcalc.pages.amounts import at_most, length_text, power_text, shown_length
from mountcalc.scenario.model import (
    Adjuster,
    AdjusterKind,
    Display,
    Driven,
    Rotation,
    Scenario,
    Vector,
)
from mountcalc.scenario.text.threads import finer_thread
from mountcalc.scenario.text.wording import listed
from mountcalc.units import si_factor

__all__ = ["CHANGES", "CURES", "Change", "larger_pulleys", "slower_driven", "weight_alone_of"]

_LARGER, _MUCH_LARGER = 1.25, 1.75
_PULLEY_STEP = {Display.INCH: ("in", 0.25), Display.METRIC: ("mm", 5.0)}
_FURTHER = 1.25
_LESS_POWER, _HALF, _MOST_OF_IT = 0.75, 0.5, 0.8


@dataclass(frozen=True, slots=True)
class Change:
    """What to do, in words, and the mount that comes of it.

    ``is_finer`` marks a change that makes turns finer and leaves the tensions as they are.
    """

    name: str
    sentence: str
    scenario: Scenario
    is_finer: bool = False


def larger_pulleys(scenario: Scenario, snug: float, times: float = _LARGER) -> Change:
    """Both pulleys larger at the same ratio, the belt snug where it was."""
    unit, step = _PULLEY_STEP[scenario.display]
    step *= si_factor(unit)
    small = 2 * min(scenario.motor.pulley_radius, scenario.driven.pulley_radius)
    steps = max(math.ceil(times * small / step - 1e-9), math.floor(small / step) + 1)
    factor = steps * step / small
    changed = _with_radii(
        scenario,
        factor * scenario.motor.pulley_radius,
        factor * scenario.driven.pulley_radius,
    )
    changed = _snug_at(changed, snug)
    diameters = [
        length_text(2 * part.pulley_radius, scenario.display)
        for part in (changed.motor, changed.driven)
    ]
    return Change(
        "larger-pulleys",
        f"Fit larger pulleys at the same ratio: {diameters[0]} on the motor and {diameters[1]} on "
        f"the driven shaft (pitch diameters), with a belt of {_belt_length(changed)}. The belt "
        "runs faster and needs less pull for the same power.",
        changed,
    )


def _with_radii(scenario: Scenario, motor: float, driven: float) -> Scenario:
    """Pulleys of other pitch radii [m], their diameters as they are told."""
    motor, driven = (shown_length(2 * one, scenario.display) / 2 for one in (motor, driven))
    return replace(
        scenario,
        motor=replace(scenario.motor, pulley_radius=motor),
        driven=replace(scenario.driven, pulley_radius=driven),
    )


def slower_driven(scenario: Scenario, snug: float) -> Change:
    """A driven pulley so large that its shaft keeps to its greatest speed."""
    most, motor = scenario.driven.max_speed, scenario.motor
    assert most is not None, "asked where a greatest speed is passed"
    unit, step = _PULLEY_STEP[scenario.display]
    step *= si_factor(unit)
    least = 2 * motor.pulley_radius * motor.speed / most
    diameter = math.ceil(least / step - 1e-9) * step
    changed = _snug_at(_with_radii(scenario, motor.pulley_radius, diameter / 2), snug)
    return Change(
        "slower-driven",
        f"Fit a driven pulley of {length_text(diameter, scenario.display)} pitch diameter, with a "
        f"belt of {_belt_length(changed)}.",
        changed,
    )


def heavier_belt(scenario: Scenario, snug: float) -> Change | None:
    """The next heavier section; ``snug`` stays where it is."""
    del snug
    heavier = heavier_section(scenario.belt.section or "")
    if heavier is None:
        return None
    belt = replace(
        scenario.belt,
        section=heavier.name,
        stiffness=heavier.stiffness.value,
        mass=heavier.mass.value,
        designation=None,
        width=heavier.width,
        thickness=heavier.height,
    )
    return Change(
        "heavier-section",
        f"Fit pulleys of the same pitch diameters for section {heavier.name}, and a belt of it.",
        replace(scenario, belt=belt),
    )


def one_more_belt(scenario: Scenario, snug: float) -> Change | None:
    """One more belt of a section that runs in grooves; ``snug`` stays where it is."""
    del snug
    if section(scenario.belt.section or "") is None:
        return None
    count = scenario.belt.count + 1
    return Change(
        "one-more-belt",
        f"Run {count} equal belts side by side, on pulleys with {count} grooves.",
        replace(scenario, belt=replace(scenario.belt, count=count)),
    )


def further_apart(scenario: Scenario, snug: float) -> Change:
    """Motor, hinge and adjuster further away along the line of centres, with a longer belt."""
    apart = math.dist(scenario.motor.shaft, scenario.driven.shaft)
    step = shown_length((_FURTHER - 1) * apart, scenario.display)
    along = [
        step * (at - center) / apart
        for at, center in zip(scenario.motor.shaft, scenario.driven.shaft, strict=True)
    ]

    def moved(point: Vector) -> Vector:
        return (point[0] + along[0], point[1] + along[1])

    def moved_if(point: Vector | None) -> Vector | None:
        return None if point is None else moved(point)

    motor, plate, adjuster = scenario.motor, scenario.plate, scenario.adjuster
    changed = replace(
        scenario,
        motor=replace(motor, shaft=moved(motor.shaft), center_of_mass=moved(motor.center_of_mass)),
        plate=replace(plate, hinge=moved(plate.hinge), center_of_mass=moved(plate.center_of_mass)),
        adjuster=replace(
            adjuster,
            tip=moved_if(adjuster.tip),
            base_pin=moved_if(adjuster.base_pin),
            plate_pin=moved_if(adjuster.plate_pin),
        ),
    )
    changed = _snug_at(changed, snug)
    return Change(
        "further-apart",
        f"Move motor, hinge and adjuster {length_text(step, scenario.display)} "
        f"further from the driven shaft along the line of centres, with a belt of "
        f"{_belt_length(changed)}.",
        changed,
    )


def other_rotation(scenario: Scenario, snug: float) -> Change | None:
    """The motor the other way round, where that is allowed and it does not reverse anyway."""
    del snug
    motor = scenario.motor
    if not scenario.may_change.rotation or motor.reverses:
        return None
    rotation = Rotation.CW if motor.rotation is Rotation.CCW else Rotation.CCW
    return Change(
        "other-rotation",
        f"Let the motor run the other way ({rotation}, facing its pulley): tight and slack strand "
        "change places.",
        replace(scenario, motor=replace(motor, rotation=rotation)),
    )


def loads_elsewhere(scenario: Scenario, snug: float) -> Change | None:
    """Every load of the driven shaft at mid-span, where they may be moved."""
    del snug
    loads, bearings = scenario.driven.loads, scenario.driven.bearings
    if not scenario.may_change.loads or not loads:
        return None
    middle = 0.5 * (bearings[0].position + bearings[1].position)
    moved = tuple(replace(load, position=middle) if load.on is None else load for load in loads)
    if moved == loads:
        return None
    names = listed((f'"{load.name}"' for load in loads if load.on is None), "and")
    return Change(
        "loads-elsewhere",
        f"Move {names} to the middle between the bearings.",
        replace(scenario, driven=replace(scenario.driven, loads=moved)),
    )


def lower_demand(scenario: Scenario, snug: float, share: float = _LESS_POWER) -> Change | None:
    """The machine asked for less power."""
    del snug
    driven = scenario.driven
    if driven.power == 0:
        return None
    power = at_most(share * driven.power, "power", scenario.display)
    return Change(
        "lower-demand",
        f"Ask the machine for {power_text(power, scenario.display)} instead of "
        f"{power_text(driven.power, scenario.display)}: feed it less, or take lighter cuts.",
        replace(scenario, driven=replace(driven, power=power)),
    )


def nearer_pulley(scenario: Scenario, snug: float, share: float = _HALF) -> Change | None:
    """The pulley that share of its overhang nearer; between the bearings, towards the middle."""
    del snug
    driven = scenario.driven
    low, high = sorted(bearing.position for bearing in driven.bearings)
    at = driven.pulley_position
    between = low < at < high
    goal = 0.5 * (low + high) if between else min(max(at, low), high)
    shift = shown_length(share * (goal - at), scenario.display)
    if shift == 0:
        return None
    nearer = at + shift
    step = length_text(abs(shift), scenario.display)
    where = (
        "towards the middle between the bearings"
        if between
        else f"nearer to its bearing, to {length_text(abs(nearer - goal), scenario.display)} from "
        "the bearing's middle"
    )
    return Change(
        "nearer-pulley",
        f"Move the driven pulley {step} {where}, and the motor's pulley with it.",
        replace(scenario, driven=_pulley_at(driven, nearer)),
    )


def _pulley_at(driven: Driven, position: float) -> Driven:
    """The driven shaft with its pulley, and what sits on that, at a place along it [m]."""
    loads = tuple(
        load if load.on is None else replace(load, position=position) for load in driven.loads
    )
    return replace(driven, pulley_position=position, loads=loads)


def finer_screw(scenario: Scenario, snug: float) -> Change | None:
    """The next finer standard thread of the same diameter."""
    del snug
    adjuster = scenario.adjuster
    if adjuster.thread is None or adjuster.advance_per_turn is None:
        return None
    finer = finer_thread(adjuster.thread)
    if finer is None:
        return None
    advance = adjuster.advance_per_turn * finer.pitch / adjuster.thread.pitch
    return Change(
        "finer-thread",
        f"Use a screw of {finer.name} instead of {adjuster.thread.name}: the tensions stay, each "
        "turn does less.",
        replace(scenario, adjuster=replace(adjuster, thread=finer, advance_per_turn=advance)),
        is_finer=True,
    )


def weight_alone_of(scenario: Scenario) -> Scenario:
    """The same mount with no adjuster."""
    return replace(scenario, adjuster=Adjuster(AdjusterKind.NONE))


def weight_alone_change(scenario: Scenario, snug: float) -> Change | None:
    """No adjuster at all: the weights set the tension."""
    del snug
    if scenario.adjuster.kind is AdjusterKind.NONE:
        return None
    return Change(
        "weight-alone",
        "Leave the adjuster off and let the weights of motor and plate tension the belt.",
        weight_alone_of(scenario),
    )


def _snug_at(scenario: Scenario, angle: float) -> Scenario:
    """The same with the belt that is snug at a plate angle [rad], or next to it."""
    length = shown_length(float(Mount.of(scenario).path(angle).length), scenario.display)
    return replace(scenario, belt=replace(scenario.belt, length=length, designation=None))


def _belt_length(scenario: Scenario) -> str:
    return f"about {length_text(scenario.belt.length, scenario.display)} pitch length"


CHANGES: tuple[Callable[[Scenario, float], Change | None], ...] = (
    larger_pulleys,
    heavier_belt,
    one_more_belt,
    further_apart,
    other_rotation,
    loads_elsewhere,
    lower_demand,
    nearer_pulley,
    finer_screw,
    weight_alone_change,
    partial(larger_pulleys, times=_MUCH_LARGER),
    partial(nearer_pulley, share=_MOST_OF_IT),
)
"""What may widen a range; a stronger dose comes after a weaker one of the same name."""

CURES: tuple[Callable[[Scenario, float], Change | None], ...] = (
    other_rotation,
    loads_elsewhere,
    nearer_pulley,
    lower_demand,
    larger_pulleys,
    one_more_belt,
    heavier_belt,
    further_apart,
    finer_screw,
    partial(lower_demand, share=_HALF),
    partial(larger_pulleys, times=_MUCH_LARGER),
    partial(nearer_pulley, share=_MOST_OF_IT),
    weight_alone_change,
)
"""What may cure a judgement, the easiest first, then the same in a stronger dose."""
