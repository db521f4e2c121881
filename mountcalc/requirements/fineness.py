"""How fine a setting is, and whether counting turns can be trusted to find it."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.requirements.methods.results import Method, MethodName
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Fineness

__all__ = ["fineness"]


def fineness(
    promises: Promises,
    fewest: float | None,
    most: float | None,
    aim: float | None,
    methods: tuple[Method, ...],
) -> Fineness:
    """Judge the range between the fewest and the most turns."""
    solved = promises.solved
    width = None if fewest is None or most is None else most - fewest
    advance = abs(solved.advance) if solved.mount.has_adjuster else math.nan
    per_turn = _per_turn(promises, aim)
    factor = promises.scenario.belt.stiffness_factor
    turns = [one for one in methods if one.name is MethodName.TURNS]
    trusted = bool(turns) and turns[0].trustworthy
    return Fineness(
        turns_range=width,
        extension_range=None if width is None else width * advance,
        center_range=_center_range(promises, fewest, most),
        tension_per_turn_low=None if per_turn is None else per_turn / factor,
        tension_per_turn_high=None if per_turn is None else per_turn * factor,
        turns_can_be_trusted=trusted,
        why_not=() if trusted else tuple(one.why for one in turns),
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
