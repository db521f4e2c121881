"""What each bearing of the driven shaft carries in each load case."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.solve import Cases, CaseSolution, SolvedMount
from mountcalc.formulas.shaft import bearing_loads, projected_pressure
from mountcalc.results.table import State
from mountcalc.scenario.model import Scenario, When

__all__ = [
    "CASES",
    "BearingSolution",
    "shaft_forces",
    "share_or_without_end",
    "solve_bearings",
    "worst_share",
    "worst_share_of",
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


def worst_share(solved: SolvedMount, turns: ArrayLike) -> Array:
    """Greatest share of its limit that any bearing reaches in any case, for each turn.

    Parameters
    ----------
    solved : SolvedMount
        The mount.
    turns : array_like [-]
        Turns from zero.

    Returns
    -------
    ndarray [-]
        The share; 0 where no case has loads, infinite where the mount tightens without end.
    """
    return worst_share_of(solved.mount.scenario, solved.cases(solved.place(turns), with_grip=False))


def worst_share_of(scenario: Scenario, cases: Cases) -> Array:
    """The same for cases that are solved already.

    Parameters
    ----------
    scenario : Scenario
        The mount and its limits.
    cases : Cases
        Rest, running and starting.
    """
    shares = [
        share_or_without_end(case, bearing)
        for name, case in zip(CASES, cases, strict=True)
        for bearing in solve_bearings(scenario, case, name)
    ]
    worst: Array = np.max(np.stack(shares), axis=0)
    return worst


def share_or_without_end(case: CaseSolution, bearing: BearingSolution) -> Array:
    """Share of the limit; 0 without loads, infinite where the mount tightens without end.

    Parameters
    ----------
    case : CaseSolution
        The load case.
    bearing : BearingSolution
        One bearing in that case.
    """
    share = np.nan_to_num(bearing.share, nan=0.0)
    return np.where(case.state == State.AT_STOP, np.inf, share)
