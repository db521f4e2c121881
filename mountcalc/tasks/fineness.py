"""How fine a setting is, and whether counting turns can be trusted to find it."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.errors import MountError
from mountcalc.results.setting import Fineness
from mountcalc.tasks.promises import Promises

__all__ = ["fineness"]

# A range of fewer errors of the hand than this is hard to hit by counting.
_ERRORS_IN_A_RANGE = 4.0


def fineness(
    promises: Promises, fewest: float | None, most: float | None, aim: float | None
) -> Fineness:
    """Judge the range between the fewest and the most turns.

    Parameters
    ----------
    promises : Promises
        The solved mount.
    fewest, most, aim : float or None [-]
        Ends of the range and the set point, in turns.

    Returns
    -------
    Fineness
        None where there is no range or no set point.
    """
    solved = promises.solved
    width = None if fewest is None or most is None else most - fewest
    advance = abs(solved.advance) if solved.mount.has_adjuster else math.nan
    per_turn = _per_turn(promises, aim)
    factor = promises.scenario.belt.stiffness_factor
    why_not = _why_not(promises, aim, width)
    return Fineness(
        turns_range=width,
        extension_range=None if width is None else width * advance,
        center_range=_center_range(promises, fewest, most),
        tension_per_turn_low=None if per_turn is None else per_turn / factor,
        tension_per_turn_high=None if per_turn is None else per_turn * factor,
        turns_can_be_trusted=aim is not None and not why_not,
        why_not=why_not,
    )


def _per_turn(promises: Promises, aim: float | None) -> float | None:
    """Tension that one turn adds at the set point [N], by a small step to the tight side."""
    if aim is None:
        return None
    step = 1e-4
    tension = promises.tension(np.array([aim, aim + step]))
    slope = float(tension[1] - tension[0]) / step
    return max(slope, 0.0) if math.isfinite(slope) else None


def _center_range(promises: Promises, fewest: float | None, most: float | None) -> float | None:
    if fewest is None or most is None:
        return None
    way = promises.solved
    phi = way.case(way.place(np.array([fewest, most])), way.demands["rest"]).phi
    distance = way.mount.path(phi).center_distance
    width = float(distance[1] - distance[0])
    return width if math.isfinite(width) else None


def _why_not(promises: Promises, aim: float | None, width: float | None) -> tuple[str, ...]:
    if aim is None:
        return ()
    found = []
    error = promises.scenario.limits.turn_error
    if width is not None and width < _ERRORS_IN_A_RANGE * error:
        found.append(
            f"the whole range is {width:.2f} turns, and locking a nut alone moves it by about "
            f"{error:g}"
        )
    found += _uncertain_stiffness(promises, aim)
    return tuple(found)


def _uncertain_stiffness(promises: Promises, aim: float) -> list[str]:
    """Whether the same turns break a promise with a belt as soft or as stiff as it may be."""
    way = promises.solved
    factor = promises.scenario.belt.stiffness_factor
    turn = np.array([aim])
    found = []
    for stiffness, text in (
        (
            way.mount.stiffness / factor,
            "with the softest belt the same turns leave too little grip",
        ),
        (way.mount.stiffness * factor, "with the stiffest belt the same turns overload a bearing"),
    ):
        try:
            ways = tuple(one.with_stiffness(stiffness) for one in promises.ways)
            other = Promises(promises.scenario, ways)
            grips = min(float(value[0]) for value in other.grip_margins(turn).values())
            share = float(other.worst(turn)[0])
        except MountError:
            continue
        if (stiffness < way.mount.stiffness and grips < 1.0) or (
            stiffness > way.mount.stiffness and share > 1.0
        ):
            found.append(text)
    return found
