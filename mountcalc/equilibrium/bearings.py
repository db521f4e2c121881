"""What each bearing of the driven shaft carries in each load case, named as in :data:`CASES`."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import CaseSolution
from mountcalc.formulas.shaft import bearing_loads, projected_pressure
from mountcalc.record import Record
from mountcalc.scenario.driven import Driven, When
from mountcalc.scenario.model import Scenario

Array = NDArray[np.float64]

CASES = ("rest", "running", "starting")


class BearingSolution(Record):
    """One bearing over all turns.

    Load ``vector`` [N] (..., 2), its size ``load`` [N] and ``direction`` [rad] in [0, 2 pi),
    projected ``pressure`` [Pa] and ``share`` [-] of the limit of the case.
    """

    vector: Array
    load: Array
    direction: Array
    pressure: Array
    share: Array


def _loads(driven: Driven, name: str) -> tuple[list[float], Array]:
    """Where the loads of a case act along the shaft [m], and their forces [N], shape (k, 2)."""
    loads = [load for load in driven.loads if load.when is When.ALWAYS or name != "rest"]
    forces = np.array([np.multiply(load.force, load.direction) for load in loads])
    return [load.position for load in loads], forces.reshape(-1, 2)


def shaft_forces(scenario: Scenario, case: CaseSolution, name: str) -> tuple[Array, Array]:
    """Forces across the driven shaft in one load case: the belts' pull, then the loads.

    Positions along the shaft [m], shape (k,), and the forces [N], shape (..., k, 2).
    """
    places, fixed = _loads(scenario.driven, name)
    belt = case.shaft_force[..., np.newaxis, :]
    forces = np.concatenate([belt, np.broadcast_to(fixed, (*belt.shape[:-2], *fixed.shape))], -2)
    return np.array([scenario.driven.pulley_position, *places]), forces


@lru_cache(maxsize=32)
def bearing_shares(driven: Driven, name: str) -> tuple[tuple[float, Array, float], ...]:
    """What each bearing has of the belts' pull, and what it carries without it.

    For both bearings: share [-] of a force on the pulley, load vector [N] without one, and
    limit [N] of the case.
    """
    middles = [bearing.position for bearing in driven.bearings]
    of_pulley = bearing_loads([driven.pulley_position], [[1.0, 0.0]], *middles)
    others = bearing_loads(*_loads(driven, name), *middles)
    limits = [one.starting_limit if name == "starting" else one.limit for one in driven.bearings]
    return tuple(
        (float(share[0]), other, limit)
        for share, other, limit in zip(of_pulley, others, limits, strict=True)
    )


def solve_bearings(
    scenario: Scenario, case: CaseSolution, name: str
) -> tuple[BearingSolution, ...]:
    """Loads of both bearings in one load case; its name decides which loads and limits hold."""
    solutions = []
    shares = bearing_shares(scenario.driven, name)
    for bearing, (share, other, limit) in zip(scenario.driven.bearings, shares, strict=True):
        vector = share * case.shaft_force + other
        load = np.hypot(vector[..., 0], vector[..., 1])
        angle = np.mod(np.arctan2(vector[..., 1], vector[..., 0]), math.tau)
        direction = np.where(angle >= math.tau, 0.0, angle)
        pressure = projected_pressure(load, bearing.journal_diameter, bearing.length)
        solutions.append(BearingSolution(vector, load, direction, pressure, load / limit))
    return tuple(solutions)
