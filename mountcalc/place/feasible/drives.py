"""What a belt asks of its centre distance: the same for every layout, so found once per belt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.belts import belt_name, room_wanted
from mountcalc.formulas import belt as belt_formulas
from mountcalc.handbook.belts.lengths import percentage_allowances
from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.record import Record
from mountcalc.scenario.model import Belt, Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["Drives", "belt_room", "belts_of", "drives_of", "snug_distances", "taut_distance"]

Array = NDArray[np.float64]

# From a tension to its centre distance; each step gains three digits or more.
_STEPS = 12
# A step [m] of Newton's method that leaves less than rounding behind.
_NEARLY = 1e-9


class Drives(Record):
    """The belts that are tried, one entry each; tensions are one strand's of one belt.

    ``count`` [-], free ``length`` [m], ``stiffness`` EA [N], ``pull`` Te [N] and ``centrifugal``
    Tc [N]; ``factor`` [-] by which the stiffness may be off, ``mass`` [kg/m], ``span_share`` [-] of
    a free span in the length; centre distances [m] ``snug``, ``install`` (a new belt goes on),
    ``take_up`` and ``loose`` (the fewest turns with the wanted grip); ``running_kink`` and
    ``starting_kink`` are the tensions [N] up to which the belt slips under the load,
    ``running_kink_at`` and ``starting_kink_at`` [m] where it has them. NaN where a belt is too
    short for the pulleys.
    """

    count: Array
    length: Array
    stiffness: Array
    pull: Array
    centrifugal: Array
    factor: Array
    mass: Array
    span_share: Array
    snug: Array
    install: Array
    take_up: Array
    loose: Array
    running_kink: Array
    running_kink_at: Array
    starting_kink: Array
    starting_kink_at: Array

    def of(self, which: NDArray[np.intp] | NDArray[np.bool_]) -> Drives:
        """The entries of layouts' belts, or of some layouts; a single belt broadcasts."""
        if self.length.size == 1:
            return self
        return Drives(*(getattr(self, field.name)[which] for field in fields(self)))


def taut_distance(length: Array, start: Array, scenario: Scenario) -> Array:
    """Centre distance [m] at which a belt is so long [m], by Newton's method from one near it."""
    radii, distance = (scenario.motor.pulley_radius, scenario.driven.pulley_radius), start
    for _ in range(_STEPS):
        belt = kernels.open_belt(distance, *radii)
        step = (length - belt.length) / belt.length_slope
        distance = distance + step
        if not np.any(np.abs(step) > _NEARLY):
            break
    return distance


def belts_of(scenario: Scenario, space: SearchSpace) -> tuple[Belt, ...]:
    """The belts that a search tries: those that it names, or the scenario's own."""
    return tuple(choice.belt for choice in space.belts) or (scenario.belt,)


def snug_distances(scenario: Scenario, space: SearchSpace) -> Array:
    """Centre distance at which each belt is snug [m]; NaN where it is too short."""
    lengths = tuple(belt.length for belt in belts_of(scenario, space))
    return _snug_distances(lengths, scenario.motor.pulley_radius, scenario.driven.pulley_radius)


@lru_cache(maxsize=8)
def _snug_distances(lengths: tuple[float, ...], *radii: float) -> Array:
    least = least_length(*radii)
    distance = center_distance(np.maximum(lengths, least), *radii)
    return np.where(np.array(lengths) >= least, distance, np.nan)


def belt_room(scenario: Scenario, space: SearchSpace) -> tuple[Array, Array]:
    """Room on the centre distance that each belt wants: to go on, and to be taken up."""
    belts = belts_of(scenario, space)
    wanted = [room_wanted(belt.joint, belt.length, belt_name(belt)) for belt in belts]
    # A belt that is shortened when it stretches still wants room to be set: the usual share.
    usual = [percentage_allowances(belt.length)[1].value for belt in belts]
    take_up = [one[1].value or share for one, share in zip(wanted, usual, strict=True)]
    return np.array([one[0].value for one in wanted]), np.array(take_up)


def drives_of(
    scenario: Scenario, space: SearchSpace, install: ArrayLike, take_up: ArrayLike
) -> Drives:
    """All that the search needs of each belt."""
    motor, driven, limits = scenario.motor, scenario.driven, scenario.limits
    belts, snug = belts_of(scenario, space), snug_distances(scenario, space)
    count, length, stiffness, factor, mass = np.array(
        [
            (float(one.count), one.length, one.stiffness, one.stiffness_factor, one.mass)
            for one in belts
        ]
    ).T
    speed = motor.speed * motor.pulley_radius
    pull = belt_formulas.pull_per_belt(driven.power, speed, count)
    centrifugal = belt_formulas.centrifugal_tension(mass, speed)

    # Rest tensions of a held belt that carries so many times its load, by the share of its wraps.
    def running(share: Array, times: float = 1.0) -> Array:
        return _carrying(times * pull, share, centrifugal)

    def starting(share: Array, times: float = 1.0) -> Array:
        return _carrying(times * driven.starting_factor * pull, share, 0.0)

    def promised(share: Array) -> Array:
        if limits.starting_grip is None:
            return running(share, limits.grip)
        return np.maximum(running(share, limits.grip), starting(share, limits.starting_grip))

    def until(needed: Callable[[Array], Array]) -> tuple[Array, Array]:
        """Tension [N] and centre distance [m] at which a belt has what its wraps there need.

        What is needed hardly changes with the distance (the wraps do it), the tension steeply:
        Newton's step on the tension alone converges.
        """
        distance = snug
        for _ in range(_STEPS):
            belt = kernels.open_belt(distance, motor.pulley_radius, driven.pulley_radius)
            on_motor, on_driven = belt_formulas.wraps(belt.beta)
            share = np.minimum(
                belt_formulas.slip_share(motor.traction, on_motor),
                belt_formulas.slip_share(driven.traction, on_driven),
            )
            tension = needed(share)
            path = length * (1.0 + tension / stiffness)
            distance = distance + (path - belt.length) / belt.length_slope
        return tension, distance

    near, between = snug - np.asarray(install), motor.pulley_radius - driven.pulley_radius
    running_kink, running_at = until(running)
    starting_kink, starting_at = until(starting)
    return Drives(
        count=count,
        length=length,
        stiffness=stiffness,
        pull=pull,
        centrifugal=centrifugal,
        factor=factor,
        mass=mass,
        span_share=np.sqrt(snug**2 - between**2) / length,
        snug=snug,
        install=np.where(near > motor.pulley_radius + driven.pulley_radius, near, np.nan),
        take_up=snug + np.asarray(take_up),
        loose=until(promised)[1],
        running_kink=running_kink,
        running_kink_at=running_at,
        starting_kink=starting_kink,
        starting_kink_at=starting_at,
    )


def _carrying(pull: ArrayLike, share: Array, centrifugal: ArrayLike) -> Array:
    """Rest tension that carries a pull; none is needed for none."""
    tension = belt_formulas.least_tension(pull, share, centrifugal)
    return np.where(np.asarray(pull) > 0, tension, 0.0)
