"""What is told of the layouts that have passed every trial."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.judged import Measures
from mountcalc.place.feasible.statics import Statics
from mountcalc.place.feasible.trials import Passed

__all__ = ["measures_of"]

Array = NDArray[np.float64]

# Places in the arrays of a spread and of a set point.
_INSTALL, _SNUG, _TAKE_UP = range(3)
_LOOSE, _SET, _TIGHT = range(3)


def measures_of(statics: Statics, passed: Passed, clearance: Array) -> Measures:
    """Measures of layouts that will do."""
    spread, points, strung, forces = passed.spread, passed.points, passed.strung, passed.forces
    drives, layouts = passed.drives, passed.layouts
    slope = statics.motion.adjuster(layouts, points.phi[_SET]).extension_slope
    # The arms of the two strands add up to the slope of the belt's path.
    per_length = drives.stiffness / drives.length * np.abs(strung.arm_sum[_SET] / slope)
    pitches = np.array([thread.pitch for thread in statics.space.threads])
    felt = strung.tension[_LOOSE] - drives.centrifugal
    return Measures(
        install=spread.phi[_INSTALL],
        snug=spread.phi[_SNUG],
        zero=passed.zeros.phi,
        loose=points.phi[_LOOSE],
        set=points.phi[_SET],
        tight=points.phi[_TIGHT],
        take_up=spread.phi[_TAKE_UP],
        contact=passed.zeros.contact,
        of_weight=points.of_weight,
        set_turns=points.turns,
        set_tension=strung.tension[_SET],
        tension_per_turn=per_length * pitches[layouts.thread],
        tension_per_length=per_length,
        grip_low=_grip(felt, strung.share[_LOOSE], drives.pull),
        worst_share=forces.share[_SET],
        worst_share_tight=np.max(forces.share, axis=0),
        adjuster=forces.adjuster[_SET],
        adjuster_most=np.max(forces.adjuster_most, axis=0),
        hinge=forces.hinge[_SET],
        hinge_most=np.max(forces.hinge_most, axis=0),
        bolt_travel=np.abs(spread.extension[_TAKE_UP] - spread.extension[_INSTALL]),
        clearance=clearance,
    )


def _grip(felt: Array, share: Array, pull: Array) -> Array:
    """Grip of a held plate [-]; infinite where no pull is asked for."""
    return np.where(pull > 0, 2.0 * felt * share / np.where(pull > 0, pull, 1.0), np.inf)
