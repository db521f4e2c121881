"""What the give of plate and adjuster does to a turn.

Seen from the adjuster, belt and weights are a spring of stiffness K = dF/ds, F being the axial
force that holds the plate at rest and s the extension. With a stiffness k in series the plate moves
by k / (k + K) of what the bolt moves: the belt gets that share of the tension that a rigid
adjuster would give it by the same turn.

As a belt grows longer at a fixed bolt, the spring follows. With K_b = n (EA/L0) (L'/s')^2, the part
of K that is the belt's, the tension falls by 1 - K_b / (k + K) of what it falls by behind a rigid
bolt. Where the geometry hardly changes and weights do not count, K is K_b and that is k / (k + K):
of what a newton more puts into belt and spring as energy, f^2 / 2K and f^2 / 2k, the belt's share.

Symbols
-------
mount : whose numbers may be arrays, that of many mounts
phi : plate angles at which the belt is taut or snug, of any shape [rad]
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.record import Record
from mountcalc.structure.give import PartsGive

Array = NDArray[np.float64]

_TO_BE_TOLD = 0.1  # of what a turn does
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


class UnsaidGive(Record):
    """What the parts of a mount give that is taken as rigid because nobody says otherwise.

    ``share`` [-] is what a turn would do of what it is taken to do.
    """

    give: PartsGive
    share: float

    @property
    def matters(self) -> bool:
        """Whether it takes so much of a turn that a page has to lead with it."""
        return self.share < 1.0 - _TO_BE_TOLD


def unsaid_give(mount: Mount, phi: float) -> UnsaidGive | None:
    """What gives unsaid, with the plate held at an angle [rad]; None where nothing does."""
    give = mount.parts_give if mount.scenario.adjuster.spring is None else None
    if give is None:
        return None
    at = np.array([phi])
    with_give = share_of_a_turn(replace(mount, spring=give.stiffness), at)
    return UnsaidGive(give, float(with_give[0] / share_of_a_turn(mount, at)[0]))


def kept_of_growth(mount: Mount, phi: Array) -> Array:
    """What a belt that grows or shrinks changes its tension by, over that at a rigid bolt [-].

    1 - K_b / (k + K), held at rest; the same goes for a strand that is pressed in.
    """
    phi = np.asarray(phi, dtype=float)
    if not mount.gives:
        return np.ones(phi.shape)
    lever = mount.path(phi).length_slope / mount.adjuster(phi).extension_slope
    of_belt = mount.count * mount.stiffness / mount.length * lever**2
    compliance = mount.compliance(_force(mount, phi))
    return 1.0 - of_belt * compliance / (1.0 + compliance * plate_stiffness(mount, phi))


def tension_over_growth(mount: Mount, phi: Array, *, rigid: bool = False) -> Array:
    """-dT/dL0: tension lost as one belt's free length grows at a fixed bolt, held at rest [N/m].

    What bedding in and creeping wood take off; ``rigid``: as if nothing gave.
    """
    of_rigid = mount.stiffness * mount.path(phi).length / mount.length**2
    return np.asarray(of_rigid if rigid else of_rigid * kept_of_growth(mount, phi))
