"""Room on the centre distance that each belt of a search wants: to go on, and to be taken up."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.placement.drives import belts_of
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search_model import SearchSpace

__all__ = ["belt_room"]

Array = NDArray[np.float64]


def belt_room(scenario: Scenario, space: SearchSpace) -> tuple[Array, Array]:
    """Install and take-up allowance of each belt [m].

    Parameters
    ----------
    scenario : Scenario
        The mount that the search starts from.
    space : SearchSpace
        What it may try.
    """
    lengths = np.array([belt.length for belt in belts_of(scenario, space)])
    return 0.015 * lengths, 0.03 * lengths
