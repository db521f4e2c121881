"""What a layout carries at its set point, of the mount that is written."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.requirements.limits import limit_shares
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Part

__all__ = ["Loads", "loads_at"]


# Turns to either side [-] between which the slope of the tension is taken.
_STEP = 1e-4


@dataclass(frozen=True, slots=True)
class Loads:
    """What is told of a mount at its set point.

    Plate angles ``snug`` and ``set`` [rad]; ``tension_per_turn`` [N] at rest. ``worst_share`` [-]
    of a bearing's limit over the hand's error; ``grip_low`` [-] running, where the hand has missed
    on the loose side, infinite where no pull is asked for. ``adjuster`` (compression positive) and
    ``hinge`` [N] at rest, ``adjuster_most`` and ``hinge_most`` [N], sizes, over all cases and the
    hand's error.
    """

    snug: float
    set: float
    tension_per_turn: float
    worst_share: float
    grip_low: float
    adjuster: float
    adjuster_most: float
    hinge: float
    hinge_most: float


def loads_at(promises: Promises, turns: float) -> Loads:
    """Solve a mount at its set point and a hand's error to either side."""
    scenario, error = promises.scenario, promises.scenario.limits.turn_error
    around = np.array([max(turns - error, 0.0), turns, turns + error])
    ways = [way.cases(way.place(around)) for way in promises.ways]
    tension = promises.tension(max(turns, _STEP) + np.array([-_STEP, _STEP]))
    rest, every = ways[0].rest, [case for cases in ways for case in cases]
    shares = [
        share
        for cases in ways
        for key, share in limit_shares(scenario, cases).items()
        if key.part is Part.BEARING
    ]
    return Loads(
        snug=promises.solved.travel.snug,
        set=float(rest.phi[1]),
        tension_per_turn=float(np.diff(tension)[0]) / (2 * _STEP),
        worst_share=float(np.max(shares)),
        grip_low=min(float(cases.running.grip.value[0]) for cases in ways),
        adjuster=float(rest.adjuster[1]),
        adjuster_most=max(float(np.max(np.abs(case.adjuster))) for case in every),
        hinge=float(np.hypot(*rest.hinge[1])),
        hinge_most=max(float(np.max(np.hypot(*case.hinge.T))) for case in every),
    )
