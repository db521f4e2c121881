"""What the give of plate and adjuster does to a turn.

Seen from the adjuster, belt and weights are a spring of stiffness K = dF/ds, F being the axial
force that holds the plate at rest and s the extension. With a stiffness k in series the plate moves
by k / (k + K) of what the bolt moves: the belt gets that share of the tension that a rigid
adjuster would give it by the same turn.

Symbols
-------
mount : whose numbers may be arrays, that of many mounts
phi : plate angles at which the belt is taut or snug, of any shape [rad]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount

Array = NDArray[np.float64]

_STEP = 1e-5  # [rad] of central differences: good to some 1e-9 of what they are taken of


def plate_stiffness(mount: Mount, phi: Array) -> Array:
    """K: force over extension of a plate at rest that the adjuster holds, as if rigid [N/m].

    It is below zero where the weights, as the plate swings, take off more than the belt adds.
    """
    at = np.asarray(phi, dtype=float)
    slope = (_force(mount, at + _STEP) - _force(mount, at - _STEP)) / (2.0 * _STEP)
    return np.asarray(slope / mount.adjuster(at).extension_slope)


def _force(mount: Mount, phi: Array) -> Array:
    """F that holds the plate [N], taut on either side of snug: there is one slope at snug."""
    path = mount.path(phi)
    tension = mount.stiffness / mount.length * (path.length - mount.length)
    moment = mount.count * tension * path.length_slope + mount.weight_moment(phi)
    return np.asarray(moment / mount.adjuster(phi).extension_slope)


def share_of_a_turn(mount: Mount, phi: Array) -> Array:
    """What the plate takes of the adjuster's movement, k / (k + K) [-]; 1 where nothing gives."""
    if not mount.gives:
        return np.ones(np.shape(phi))
    force = _force(mount, np.asarray(phi, dtype=float))
    return 1.0 / (1.0 + plate_stiffness(mount, phi) * mount.compliance(force))


def tension_over_extension(mount: Mount, phi: Array, *, rigid: bool = False) -> Array:
    """dT/d(extension) of a plate that is held at rest [N/m]; ``rigid``: as if nothing gave."""
    slope = mount.tension_slope(mount.path(phi).length_slope)
    of_rigid = np.asarray(slope / mount.adjuster(phi).extension_slope)
    return of_rigid if rigid else of_rigid * share_of_a_turn(mount, phi)
