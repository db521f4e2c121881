"""What a belt asks of its centre distance: the same for every layout, so found once per belt."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.formulas import belt as belt_formulas
from mountcalc.handbook.belts.lengths import percentage_allowances
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.record import Record
from mountcalc.requirements.held import carrying
from mountcalc.requirements.swing import belt_name, room_wanted
from mountcalc.scenario.model import Belt, Scenario
from mountcalc.scenario.search import SearchSpace

Array = NDArray[np.float64]


class Drives(Record):
    """The belts that are tried, one entry each; tensions are one strand's of one belt.

    ``count`` [-], free ``length`` [m], ``stiffness`` EA [N], ``pull`` Te [N] and ``centrifugal``
    Tc [N]; ``factor`` [-] by which the stiffness may be off, ``mass`` [kg/m], ``span_share`` [-] of
    a free span in the length; centre distances [m] ``snug``, ``install`` (a new belt goes on),
    ``take_up`` and ``loose`` (the fewest turns with the wanted grip); ``kinks`` are the tensions
    [N] up to which the belt slips under the load, running and starting, ``kinks_at`` [m] where it
    has them. NaN where a belt is too short for the pulleys.
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
    kinks: Array
    kinks_at: Array

    def of(self, which: NDArray[np.intp] | NDArray[np.bool_]) -> Drives:
        """The entries of layouts' belts, or of some layouts; a single belt broadcasts."""
        if self.length.size == 1:
            return self
        return Drives(*(getattr(self, name)[..., which] for name in self.__match_args__))


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

    mount = replace(Mount.of(scenario), length=length, stiffness=stiffness)

    def until(running: float, starting: float) -> tuple[Array, Array]:
        return carrying(mount, pull, centrifugal, snug, (running, starting))

    near, between = snug - np.asarray(install), motor.pulley_radius - driven.pulley_radius
    (run, run_at), (start, start_at) = until(1.0, 0.0), until(0.0, 1.0)
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
        loose=until(limits.grip, limits.starting_grip or 0.0)[1],
        kinks=np.stack([run, start]),
        kinks_at=np.stack([run_at, start_at]),
    )
