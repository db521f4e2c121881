"""How far plate and adjuster give, where centres that were read beside the turns show it.

Turns alone do not: a belt and what gives are then one spring. Give is told only where it makes the
readings so much likelier that chance seldom would; else the mount is as rigid as the scenario says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from scipy.special import chdtri

from mountcalc.fit.least_squares.estimate import CONFIDENCE, Estimate, again
from mountcalc.fit.least_squares.model import ReadingModel
from mountcalc.fit.readings import ReadingMethod
from mountcalc.fit.results import Interval

# Gives that are tried, over that of the belt as the adjuster feels it.
_TRIED = np.geomspace(0.02, 5.0, 13)


def with_give(fits: Sequence[Estimate]) -> tuple[Sequence[Estimate], Interval | None]:
    """Fits with the give that readings show, at it and at either end of its interval [N/m].

    The fits as they are, and None, where they show none or do not bound it.
    """
    rigid = fits[0]
    model = rigid.model
    apart = {
        model.readings[row].turns for row in model.of[ReadingMethod.CENTRES] if rigid.counts[row]
    }
    if len(apart) < 2 or len(fits) > 1:  # noqa: PLR2004
        return fits, None
    gives, found, near = _TRIED / _belt_rate(model), [], rigid
    for give in gives:
        near = again(near, replace(model, give=float(give)))
        found.append(near)
    costs = np.array([one.cost for one in found])
    best, rise = int(np.argmin(costs)), chdtri(1, 1.0 - CONFIDENCE)
    inside = np.flatnonzero(costs <= costs[best] + rise)
    shows = costs[best] + rise < rigid.cost and inside[0] > 0 and inside[-1] < gives.size - 1
    if not shows:
        return fits, None
    # The neighbours are outside: the interval ends before them.
    low, high = inside[0] - 1, inside[-1] + 1
    told = Interval(1.0 / gives[best], 1.0 / gives[high], 1.0 / gives[low])
    return [found[row] for row in dict.fromkeys((best, *inside.tolist()))], told


def _belt_rate(model: ReadingModel) -> float:
    """Stiffness of the belts as the adjuster feels it, when snug [N/m]."""
    mount, snug = model.solved.mount, model.solved.travel.snug
    slope = mount.path(snug).length_slope / mount.adjuster(snug).extension_slope
    return float(mount.count * mount.stiffness / mount.length * slope**2)
