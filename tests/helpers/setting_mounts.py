"""Mounts for the properties of a setting: the shipped scenarios with other numbers, and likenesses.

A likeness is the same mount seen otherwise (in a mirror, at another scale, from another origin);
its setting must be the same too.
"""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import AdjusterKind, Giving, Limits, Rotation
from mountcalc.scenario.reader import read_scenario

SHIPPED = {
    path.stem: read_scenario(path)
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
}
TURNED = [name for name, one in SHIPPED.items() if one.adjuster.kind is not AdjusterKind.NONE]

setting_of = cache(gentlest_setting)
ONE_WAY, BOTH_WAYS = st.just(value=False), st.just(value=True)


@st.composite
def settable(draw, reverses=ONE_WAY):
    """A shipped mount with other loads, limits, belt and promises."""
    scenario = SHIPPED[draw(st.sampled_from(TURNED))]
    if draw(st.booleans()):
        scenario = flipped(scenario)
    scenario = with_power(scenario, draw(factor(0.2, 3.0)))
    scenario = with_limits_times(scenario, draw(factor(0.5, 4.0)))
    stiffness = scenario.belt.stiffness * draw(factor(0.3, 3.0))
    return replace(
        scenario,
        belt=replace(scenario.belt, stiffness=stiffness),
        motor=replace(
            scenario.motor,
            weight=scenario.motor.weight * draw(factor(0.5, 2.0)),
            reverses=draw(reverses),
        ),
        limits=draw(requirements()),
    )


@st.composite
def requirements(draw):
    """What a user may want of a setting."""
    return Limits(
        grip=draw(st.floats(1.0, 2.0)),
        starting_grip=draw(st.none() | st.floats(1.0, 1.2)),
        bedding=draw(st.floats(1.0, 1.6)),
        turn_error=draw(st.floats(0.02, 0.25)),
    )


def factor(low, high):
    """Numbers between two, as many below 1 as above."""
    return st.floats(math.log(low), math.log(high)).map(math.exp)


def with_power(scenario, times):
    """The same machine with more work to do."""
    driven = replace(scenario.driven, power=times * scenario.driven.power)
    return replace(scenario, driven=driven)


def with_limits_times(scenario, times):
    """The same with other bearing metal."""
    bearings = tuple(
        replace(one, limit=times * one.limit, starting_limit=times * one.starting_limit)
        for one in scenario.driven.bearings
    )
    return replace(scenario, driven=replace(scenario.driven, bearings=bearings))


def flipped(scenario):
    """The same motor, running the other way."""
    other = Rotation.CW if scenario.motor.rotation is Rotation.CCW else Rotation.CCW
    return replace(scenario, motor=replace(scenario.motor, rotation=other))


def along_the_shaft(scenario, place):
    """The same with every position along the shaft sent elsewhere."""
    driven = scenario.driven
    return replace(
        scenario,
        driven=replace(
            driven,
            pulley_position=place(driven.pulley_position),
            bearings=tuple(replace(one, position=place(one.position)) for one in driven.bearings),
            loads=tuple(replace(one, position=place(one.position)) for one in driven.loads),
        ),
    )


def mirrored(scenario):
    """The drawing in a mirror; what ran counter-clockwise runs clockwise there."""
    driven, plate = scenario.driven, scenario.plate
    loads = tuple(
        replace(one, direction=(-one.direction[0], one.direction[1])) for one in driven.loads
    )
    low, high = plate.travel
    seen = _with_points(scenario, lambda point: (-point[0], point[1]))
    adjuster = replace(
        seen.adjuster,
        axis=_opposite(seen.adjuster.axis),
        face=_opposite(seen.adjuster.face),
    )
    return flipped(
        replace(
            seen,
            driven=replace(seen.driven, loads=loads),
            plate=replace(seen.plate, travel=(-high, -low)),
            adjuster=adjuster,
        )
    )


def _opposite(angle):
    return None if angle is None else math.pi - angle


def _with_points(scenario, move):
    """The same with every point of the drawing moved."""

    def moved(part, *names):
        points = {name: getattr(part, name) for name in names}
        return replace(part, **{n: None if p is None else move(p) for n, p in points.items()})

    return replace(
        scenario,
        driven=moved(scenario.driven, "shaft"),
        motor=moved(scenario.motor, "shaft", "center_of_mass"),
        plate=moved(scenario.plate, "hinge", "center_of_mass"),
        adjuster=moved(scenario.adjuster, "tip", "base_pin", "plate_pin"),
    )


def scaled_coil(coil, length, force):
    """The same spring with lengths and forces so many times as large; None without one."""
    if coil is None:
        return None
    sizes = ("free_length", "stop", "length_error")
    larger = {name: length * getattr(coil, name) for name in sizes}
    return replace(coil, rate=coil.rate * force / length, **larger)


def scaled(scenario, length, force):
    """The same machine with all lengths and all forces so many times as large, at its speed."""
    seen = along_the_shaft(scenario, lambda at: length * at)
    seen = with_limits_times(seen, force)
    seen = _with_points(seen, lambda point: (length * point[0], length * point[1]))
    driven, motor, belt = seen.driven, seen.motor, seen.belt
    return replace(
        seen,
        driven=replace(
            driven,
            pulley_radius=length * driven.pulley_radius,
            power=length * force * driven.power,
            loads=tuple(replace(one, force=force * one.force) for one in driven.loads),
        ),
        motor=replace(
            motor,
            pulley_radius=length * motor.pulley_radius,
            power=length * force * motor.power,
            weight=force * motor.weight,
        ),
        # Its centrifugal tension, mass times speed squared, must grow as the forces do.
        belt=replace(
            belt,
            length=length * belt.length,
            stiffness=force * belt.stiffness,
            mass=force / length**2 * belt.mass,
        ),
        plate=replace(seen.plate, weight=force * seen.plate.weight),
        adjuster=replace(
            seen.adjuster,
            advance_per_turn=length * seen.adjuster.advance_per_turn,
            coil=scaled_coil(seen.adjuster.coil, length, force),
        ),
        limits=replace(seen.limits, balance_error=force * seen.limits.balance_error),
    )


def rigid(scenario):
    """The same mount where nothing gives."""
    return replace(scenario, adjuster=replace(scenario.adjuster, spring=Giving.RIGID))


def unsaid(scenario):
    """The same mount, of whose give nobody has said anything."""
    return replace(scenario, adjuster=replace(scenario.adjuster, spring=None))
