"""Room on the centre distance that each belt of a search wants: to go on, and to be taken up."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.belts import belt_name, room_wanted
from mountcalc.handbook.belts.lengths import percentage_allowances
from mountcalc.place.layouts.drives import belts_of
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["belt_room"]

Array = NDArray[np.float64]


def belt_room(scenario: Scenario, space: SearchSpace) -> tuple[Array, Array]:
    """Room that each belt wants."""
    belts = belts_of(scenario, space)
    wanted = [room_wanted(belt.joint, belt.length, belt_name(belt)) for belt in belts]
    # A belt that is shortened when it stretches still wants room to be set: the usual share.
    usual = [percentage_allowances(belt.length)[1].value for belt in belts]
    take_up = [one[1].value or share for one, share in zip(wanted, usual, strict=True)]
    return np.array([one[0].value for one in wanted]), np.array(take_up)
