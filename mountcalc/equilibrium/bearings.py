"""What each bearing of the driven shaft carries in each load case."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import CaseSolution
from mountcalc.formulas.shaft import bearing_loads, projected_pressure
from mountcalc.scenario.model import Driven, Scenario, When

__all__ = [
    "CASES",
    "BearingSolution",
    "bearing_shares",
    "shaft_forces",
    "solve_bearings",
]

Array = NDArray[np.float64]

CASES = ("rest", "running", "starting")


@dataclass(frozen=True)
class BearingSolution:
    """One bearing over all turns.

    Load ``vector`` [N] (..., 2), its size ``load`` [N] and ``direction`` [rad], projected
    ``pressure`` [Pa] and ``share`` [-] of the limit of the case.
    """

    vector: Array
    load: Array
    direction: Array
    pressure: Array
    share: Array


def shaft_forces(scenario: Scenario, case: CaseSolution, name: str) -> tuple[Array, Array]:
    """Forces across the driven shaft in one load case: the belts' pull, then the loads.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    case : CaseSolution
        The solved case.
    name : str
        One of :data:`CASES`; decides which loads act.

    Returns
    -------
    tuple of ndarray
        Positions along the shaft [m], shape (k,), and the forces [N], shape (..., k, 2).
    """
    driven = scenario.driven
    loads = [load for load in driven.loads if load.when is When.ALWAYS or name != "rest"]
    positions = np.array([driven.pulley_position, *(load.position for load in loads)])
    fixed = np.array([np.multiply(load.force, load.direction) for load in loads]).reshape(-1, 2)
    belt = case.shaft_force[..., np.newaxis, :]
    forces = np.concatenate([belt, np.broadcast_to(fixed, (*belt.shape[:-2], *fixed.shape))], -2)
    return positions, forces


@lru_cache(maxsize=32)
def bearing_shares(driven: Driven, name: str) -> tuple[tuple[float, Array, float], ...]:
    """What each bearing has of the belts' pull, and what it carries without it.

    The same loads as in :func:`solve_bearings`, for many pulls at once.

    Parameters
    ----------
    driven : Driven
        The driven shaft.
    name : str
        One of :data:`CASES`; decides which loads act and which limit holds.

    Returns
    -------
    tuple of tuple
        For both bearings: share [-] of a force on the pulley, load vector [N] without one, and
        limit [N].
    """
    places = [bearing.position for bearing in driven.bearings]
    of_pulley = bearing_loads([driven.pulley_position], [[1.0, 0.0]], *places)
    loads = [load for load in driven.loads if load.when is When.ALWAYS or name != "rest"]
    fixed = np.array([np.multiply(load.force, load.direction) for load in loads]).reshape(-1, 2)
    others = bearing_loads([load.position for load in loads], fixed, *places)
    limits = [one.starting_limit if name == "starting" else one.limit for one in driven.bearings]
    return tuple(
        (float(share[0]), other, limit)
        for share, other, limit in zip(of_pulley, others, limits, strict=True)
    )


def solve_bearings(
    scenario: Scenario, case: CaseSolution, name: str
) -> tuple[BearingSolution, BearingSolution]:
    """Loads of both bearings in one load case.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    case : CaseSolution
        The solved case.
    name : str
        One of :data:`CASES`; decides which loads act and which limit holds.

    Returns
    -------
    tuple of BearingSolution
        First and second bearing.
    """
    driven = scenario.driven
    positions, forces = shaft_forces(scenario, case, name)
    first, second = driven.bearings
    vectors = bearing_loads(positions, forces, first.position, second.position)
    solutions = []
    for bearing, vector in zip(driven.bearings, vectors, strict=True):
        load = np.hypot(vector[..., 0], vector[..., 1])
        limit = bearing.starting_limit if name == "starting" else bearing.limit
        solutions.append(
            BearingSolution(
                vector,
                load,
                _direction(vector),
                projected_pressure(load, bearing.journal_diameter, bearing.length),
                load / limit,
            )
        )
    return solutions[0], solutions[1]


def _direction(vector: Array) -> Array:
    """Angle in [0, 2 pi)."""
    angle = np.mod(np.arctan2(vector[..., 1], vector[..., 0]), 2 * math.pi)
    return np.where(angle >= 2 * math.pi, 0.0, angle)
