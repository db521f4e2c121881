"""What the motor's feet bring into the plate: forces at the four corners of a rigid base."""

from __future__ import annotations

import numpy as np

from mountcalc.loads.body import Array, Body, cross


def feet_forces(body: Body) -> tuple[Array, Array]:
    """Where the feet stand [m] (4, 3), and their forces on the plate [N] (4, 3), in its axes.

    The foot nearest to the hinge and away from the pulley first, then along the shafts. Out of the
    face they are as of a rigid base on alike springs; in it each has its fourth and what turns the
    base about its middle.
    """
    half_along_shafts, half_along = body.places.feet
    middle = np.array([body.shaft[0], 0.0, body.turned * body.places.feet_middle])
    signs = np.array([[-1.0, 0.0, -1.0], [-1.0, 0.0, 1.0], [1.0, 0.0, -1.0], [1.0, 0.0, 1.0]])
    arms = signs * [half_along, 0.0, body.turned * half_along_shafts]
    force = body.belts.force + body.weight.force
    about = body.belts.about_hinge + body.weight.about_hinge - cross(middle, force)
    along, shafts = arms[:, 0], arms[:, 2]
    out = about[2] * along / np.sum(along**2) - about[0] * shafts / np.sum(shafts**2)
    turning = about[1] / np.sum(along**2 + shafts**2)
    own = np.stack([turning * shafts, out, -turning * along], axis=-1)
    return middle + arms, force / len(arms) + own
