"""Searches around the shipped mounts, and others of our own invention: places for the judge."""

import dataclasses
import math
from pathlib import Path

import numpy as np
from setting_mounts import rigid

from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.reasons import reason_name
from mountcalc.scenario.model import AdjusterKind, Limits, Rotation
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.search import Action, MotorSide, SearchBelt, SearchSpace
from mountcalc.scenario.text.threads import read_thread

SCENARIOS = Path(__file__).parents[2] / "scenarios"

ALL_KINDS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
ALL_ACTS = (Action.PUSH, Action.PULL, Action.HOLD_BACK)

# What fitting and taking up ask of the centre distance [m] in these tests.
INSTALL, TAKE_UP = 0.019, 0.025

SPACE = SearchSpace(
    hinge_x=(-0.75, -0.3),
    hinge_y=(-0.5, 0.1),
    reach=(0.08, 0.55),
    motor_height=(0.07, 0.12),
    motor_side=MotorSide.EITHER,
    kinds=ALL_KINDS,
    acts=ALL_ACTS,
    threads=(read_thread("3/8-16"), read_thread("M10x1")),
    plate_length=0.6,
    samples=1000,
    seed=1,
    motor_body=0.14,
    motor_feet=0.14,
    clearance=0.012,
    wrench_space=0.05,
    link_length=0.2,
    plate_thickness=0.019,
    bolt_length=0.15,
)


def shipped(name):
    return rigid(read_scenario(SCENARIOS / f"{name}.toml"))


def cider():
    return shipped("cider-mill"), SPACE


def lathe():
    scenario = shipped("wood-lathe")
    motor = dataclasses.replace(scenario.motor, reverses=True)
    limits = Limits(starting_grip=1.1, turn_error=0.1, adjuster=1500.0, hinge=1500.0)
    space = dataclasses.replace(
        SPACE, hinge_x=(0.0, 0.75), hinge_y=(-0.6, 0.1), motor_side=MotorSide.ABOVE, leverage=0.3
    )
    return dataclasses.replace(scenario, motor=motor, limits=limits), space


def grindstone():
    """Several belts, the motor in a range of directions, hung below its plate."""
    scenario = shipped("grindstone")
    belts = tuple(
        SearchBelt(
            f"{share} of it",
            dataclasses.replace(scenario.belt, length=share * scenario.belt.length),
        )
        for share in (0.95, 1.0, 1.1)
    )
    space = dataclasses.replace(
        SPACE,
        hinge_x=(-0.5, 0.6),
        hinge_y=(-0.9, -0.2),
        motor_height=(0.03, 0.1),
        motor_side=MotorSide.BELOW,
        motor_direction=(math.radians(-120), math.radians(-40)),
        belts=belts,
        face_offset=-0.03,
        thread_length=0.06,
    )
    return scenario, space


def press():
    """The closed mount with a larger pulley, so that some layouts are open."""
    scenario = shipped("job-press")
    motor = dataclasses.replace(scenario.motor, pulley_radius=2.2 * scenario.motor.pulley_radius)
    belt = dataclasses.replace(scenario.belt, length=1.8)
    scenario = dataclasses.replace(scenario, motor=motor, belt=belt)
    return scenario, dataclasses.replace(
        SPACE, hinge_x=(-0.8, -0.2), hinge_y=(-0.7, 0.1), motor_direction=(-3.3, -2.4)
    )


def heavy():
    """Heavy motor, fast heavy belts, the larger pulley on the motor, all limits near."""
    scenario = shipped("cider-mill")
    motor = dataclasses.replace(
        scenario.motor, pulley_radius=0.09, weight=400.0, center_of_mass=(-0.55, -0.05)
    )
    bearings = tuple(
        dataclasses.replace(bearing, limit=900.0, starting_limit=1100.0)
        for bearing in scenario.driven.bearings
    )
    driven = dataclasses.replace(
        scenario.driven, pulley_radius=0.06, power=900.0, bearings=bearings
    )
    belt = dataclasses.replace(scenario.belt, mass=0.5, stiffness=2e4, count=2, length=1.6)
    limits = Limits(grip=0.9, starting_grip=0.7, turn_error=0.25, adjuster=1200.0, hinge=900.0)
    space = dataclasses.replace(
        SPACE, face_offset=0.06, leverage=0.05, thread_length=0.09, link_length=0.12
    )
    scenario = dataclasses.replace(scenario, motor=motor, driven=driven, belt=belt, limits=limits)
    return scenario, dataclasses.replace(space, motor_direction=(-3.5, -2.0))


def known():
    """A belt whose stiffness was measured: turns lead on many layouts."""
    scenario, space = cider()
    belt = dataclasses.replace(scenario.belt, stiffness_factor=1.05)
    return dataclasses.replace(scenario, belt=belt), space


def plucked():
    """A balance that is too coarse, so that a plucked strand leads."""
    scenario, space = cider()
    limits = dataclasses.replace(scenario.limits, balance_error=20.0)
    return dataclasses.replace(scenario, limits=limits), space


def pressed():
    """The same with nothing known of the belt's mass."""
    scenario, space = plucked()
    belt = dataclasses.replace(scenario.belt, mass=0.0)
    return dataclasses.replace(scenario, belt=belt), space


ALL = {
    "cider": cider,
    "lathe": lathe,
    "grindstone": grindstone,
    "press": press,
    "heavy": heavy,
    "known": known,
    "plucked": plucked,
    "pressed": pressed,
}


def mirrored(scenario, space):
    """The same seen from behind: x to the left, rotation the other way."""

    def point(place):
        return (-place[0], place[1])

    motor, plate = scenario.motor, scenario.plate
    other = Rotation.CW if motor.rotation is Rotation.CCW else Rotation.CCW
    driven = dataclasses.replace(
        scenario.driven,
        shaft=point(scenario.driven.shaft),
        loads=tuple(
            dataclasses.replace(load, direction=point(load.direction))
            for load in scenario.driven.loads
        ),
    )
    whole = dataclasses.replace(
        scenario,
        driven=driven,
        motor=dataclasses.replace(
            motor,
            shaft=point(motor.shaft),
            center_of_mass=point(motor.center_of_mass),
            rotation=other,
        ),
        plate=dataclasses.replace(
            plate, hinge=point(plate.hinge), center_of_mass=point(plate.center_of_mass)
        ),
    )
    low, high = space.hinge_x
    direction = space.motor_direction
    if direction is not None:
        direction = (math.pi - direction[1], math.pi - direction[0])
    return whole, dataclasses.replace(space, hinge_x=(-high, -low), motor_direction=direction)


def judge(scenario, space, layouts, install, take_up):
    """What the search says of layouts."""
    drives = drives_of(scenario, space, install, take_up)
    return Feasibility(scenario, space, drives).layouts(layouts)


def why_not(found, keep_outs=()):
    """How many layouts fail for each reason, those with none left out."""
    codes, counts = np.unique(found.reason[found.reason > 0], return_counts=True)
    names = (reason_name(int(code), keep_outs) for code in codes)
    return dict(zip(names, counts.tolist(), strict=True))
