"""What the belt's uncertain stiffness does to a table: its low and high side at the same turns."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.solve import AdjusterPosition, SolvedMount
from mountcalc.errors import MountError
from mountcalc.requirements.promises import worst_share_of

__all__ = ["Band", "stiffness_band"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Band:
    """The two sides of a table.

    Rest tension at its ``low`` and ``high`` [N] (NaN where there is none), whether the softest
    belt slips running, and whether the stiffest loads anything to its limit.
    """

    low: Array
    high: Array
    soft_slips: Bools
    stiff_over_limit: Bools


def stiffness_band(solved: SolvedMount, placement: AdjusterPosition, tension: Array) -> Band:
    """Solve the same turns with the belt as soft and as stiff as it may be."""
    factor = solved.mount.scenario.belt.stiffness_factor
    known = np.isfinite(tension)
    tensions = [tension]
    slips, over = np.zeros(tension.shape, bool), np.zeros(tension.shape, bool)
    for stiffness in (solved.mount.stiffness / factor, solved.mount.stiffness * factor):
        try:
            other = solved.with_stiffness(stiffness)
            cases = other.cases(other.place(placement.turns), with_grip=False)
        except MountError:
            continue
        tensions.append(cases.rest.tension)
        if stiffness < solved.mount.stiffness:
            slips = cases.running.slips
        else:
            over = worst_share_of(solved.mount.scenario, cases) >= 1.0
    stack = np.where(known, np.stack(tensions), 0.0)
    return Band(
        np.where(known, np.nanmin(stack, axis=0), np.nan),
        np.where(known, np.nanmax(stack, axis=0), np.nan),
        slips & known,
        over & known,
    )
