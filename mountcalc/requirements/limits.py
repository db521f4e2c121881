"""Every limit that a setting must keep, as shares: bearings, and adjuster and hinge where given."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import CASES, solve_bearings
from mountcalc.equilibrium.solve import Cases, CaseSolution
from mountcalc.equilibrium.states import State
from mountcalc.requirements.results import Part, Ruler
from mountcalc.scenario.model import Scenario

__all__ = ["Limited", "limit_shares", "share_or_without_end", "slack_shares", "worst_share_of"]

Array = NDArray[np.float64]


class Limited(NamedTuple):
    """What has a limit in which load case; ``name`` is a bearing's, else empty."""

    case: str
    part: Part
    name: str = ""

    @property
    def ruler(self) -> Ruler:
        """The same as what decides an end of the range."""
        return Ruler(self.case, self.name or None, self.part)


def limit_shares(scenario: Scenario, cases: Cases) -> dict[Limited, Array]:
    """Share of its limit for everything that has one."""
    limits = scenario.limits
    found: dict[Limited, Array] = {}
    for name, case in zip(CASES, cases, strict=True):
        solutions = solve_bearings(scenario, case, name)
        for bearing, solution in zip(scenario.driven.bearings, solutions, strict=True):
            key = Limited(name, Part.BEARING, bearing.name)
            share = share_or_without_end(case, solution.share)
            found[key] = np.maximum(share, found.get(key, 0.0))
        if limits.adjuster is not None:
            share = np.abs(case.adjuster) / limits.adjuster
            found[Limited(name, Part.ADJUSTER)] = share_or_without_end(case, share)
        if limits.hinge is not None:
            share = np.hypot(case.hinge[..., 0], case.hinge[..., 1]) / limits.hinge
            found[Limited(name, Part.HINGE)] = share_or_without_end(case, share)
    return found


def slack_shares(scenario: Scenario, cases: Cases) -> dict[Limited, Array]:
    """Share of each bearing's limit from the loads on the shaft alone, the belt being off."""
    found = {}
    for name, case in zip(CASES, cases, strict=True):
        off = replace(case, shaft_force=np.zeros_like(case.shaft_force))
        solutions = solve_bearings(scenario, off, name)
        for bearing, solution in zip(scenario.driven.bearings, solutions, strict=True):
            found[Limited(name, Part.BEARING, bearing.name)] = solution.share
    return found


def share_or_without_end(case: CaseSolution, share: Array) -> Array:
    """A share of a limit; 0 without loads, infinite where the mount tightens without end."""
    return np.where(case.state == State.AT_STOP, np.inf, np.nan_to_num(share, nan=0.0))


def worst_share_of(scenario: Scenario, cases: Cases) -> Array:
    """Greatest share of a limit in any case, for each turn."""
    worst: Array = np.max(np.stack(list(limit_shares(scenario, cases).values())), axis=0)
    return worst
