"""The screws of a hinge's leaf: what the pin's force draws out of the wood, and what is across it.

The leaf is rigid and lies on the wood, let in or not: what holds it besides its screws is the wood
that it is pressed onto. Pulled away at the pin it turns about its far edge, pressed down at the
pin, which lies beyond the board, about the board's own edge. A mortise's sides are left out.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from mountcalc.loads.body import Array
from mountcalc.scenario.boards import BoardSizes


class ScrewLoads(NamedTuple):
    """Of each screw of a leaf, in order along the pin: where it is, what it carries.

    ``at`` [m] from the pin's axis, ``along`` [m] the pin from the leaf's middle; ``drawn`` [N] is
    withdrawal, never below zero, ``side`` (k, 2) [N] away from the pin and along it.
    """

    at: Array
    along: Array
    drawn: Array
    side: Array


def screw_loads(sizes: BoardSizes, pin: Array, couple: Array) -> ScrewLoads:
    """What each screw of a leaf carries.

    ``pin`` (3,) [N] is the pin's force on the leaf: over the leaf away from the pin, out of the
    wood, along the pin, right-handed; ``couple`` (3,) [N m] what it holds besides.
    """
    depth, count = sizes.leaf_width - sizes.edge, sizes.screws
    at = np.where(np.arange(count) % 2, depth / 3.0, 2.0 * depth / 3.0) + sizes.edge
    along = ((np.arange(count) + 0.5) / count - 0.5) * sizes.leaf_length
    if pin[1] > 0:
        arms, lever = sizes.leaf_width - at, sizes.leaf_width
    else:
        arms, lever = at - sizes.edge, sizes.edge
    drawn = abs(pin[1]) * lever * arms / np.sum(arms**2)
    off, square = at - np.mean(at), np.sum(along**2)
    if square > 0:
        drawn = drawn - couple[0] * along / square
    turning = couple[1] / (np.sum(off**2) + square) if square > 0 else 0.0
    side = np.stack([pin[0] / count + turning * along, pin[2] / count - turning * off], axis=-1)
    return ScrewLoads(at, along, np.maximum(drawn, 0.0), side)
