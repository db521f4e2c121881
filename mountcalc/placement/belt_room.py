"""Room on the centre distance that each belt of a search wants: to go on, and to be taken up."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.belts.allowances import (
    install_allowance,
    percentage_allowances,
    take_up_allowance,
)
from mountcalc.belts.designation import read_designation
from mountcalc.belts.flat import Joint
from mountcalc.placement.drives import belts_of
from mountcalc.scenario.model import Belt, Scenario
from mountcalc.scenario.search_model import SearchSpace

__all__ = ["belt_room"]

Array = NDArray[np.float64]


def belt_room(scenario: Scenario, space: SearchSpace) -> tuple[Array, Array]:
    """Room that each belt wants.

    Parameters
    ----------
    scenario : Scenario
        The mount that the search starts from.
    space : SearchSpace
        What it may try.

    Returns
    -------
    ndarray [m]
        By how much the centre distance must close so that a new belt goes on.
    ndarray [m]
        By how much it must open to take the belt up; sources in :mod:`mountcalc.belts.allowances`.
    """
    room = np.array([_room(belt) for belt in belts_of(scenario, space)])
    return room[:, 0], room[:, 1]


def _room(belt: Belt) -> tuple[float, float]:
    if belt.designation is None:
        install, take_up = percentage_allowances(belt.length)
    else:
        bought = read_designation(belt.designation)
        install, take_up = install_allowance(bought), take_up_allowance(bought)
    # A belt with a joint is closed round the pulleys where it lies (common practice).
    return install.value if belt.joint is Joint.ENDLESS else 0.0, take_up.value
