"""Weight alone, with the adjuster off: whether it keeps grip and limits, however it was weighed."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.scenario.model import Adjuster, AdjusterKind, Scenario


def weight_alone_of(scenario: Scenario) -> Scenario:
    """The same mount with no adjuster."""
    return replace(scenario, adjuster=Adjuster(AdjusterKind.NONE))


@lru_cache(maxsize=32)
def _corners(scenario: Scenario) -> tuple[Requirements, ...]:
    """The lightest and the heaviest weights with the softest and the stiffest belt, or none."""
    try:
        free = requirements_of(weight_alone_of(scenario))
        return tuple(free.at_corner(belt, side) for side in (-1, 1) for belt in (-1, 1))
    except MountError:
        return ()


def weight_is_within(scenario: Scenario) -> bool:
    """Whether weight alone keeps every known limit at all corners."""
    corners = _corners(scenario)
    return bool(corners) and all(one.worst(0.0)[0] <= 1.0 for one in corners)


def weight_keeps(scenario: Scenario) -> bool:
    """Whether weight alone will do: the plate rides in every case, with the wanted grip, too."""
    return weight_is_within(scenario) and all(
        one.grip(0.0)[0] >= 1.0
        and all(
            case.state[0] == State.RIDING
            for way in one.ways
            for case in way.cases(way.place(0.0), with_grip=False)
        )
        for one in _corners(scenario)
    )
