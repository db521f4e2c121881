"""Setting the tension with a spring balance on the plate: no belt stiffness is needed."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.results.setting import SpringBalance
from mountcalc.scenario.model import AdjusterKind

__all__ = ["spring_balance"]


def spring_balance(
    solved: SolvedMount, tension: float | None, new_tension: float | None
) -> SpringBalance | None:
    """The pull on the plate that puts wanted tensions into the belt with the adjuster clear.

    Parameters
    ----------
    solved : SolvedMount
        A mount with an adjuster.
    tension, new_tension : float or None [N]
        Rest tension of one strand of one belt that has bedded in, and of a new one.

    Returns
    -------
    SpringBalance or None
        None where there is no tension to set, or the spot has no lever on the hinge.

    Notes
    -----
    Moments about the hinge: P a = n T L' + sum W y', a being the distance from the hinge to the
    spot where the adjuster bears, and P square to that line. L' is taken at the plate angle of
    that tension; a belt of another stiffness is a fraction of a degree from it.
    """
    if tension is None or new_tension is None:
        return None
    scenario = solved.mount.scenario
    adjuster, hinge = scenario.adjuster, scenario.plate.hinge
    is_link = adjuster.kind is AdjusterKind.LINK
    at = adjuster.plate_pin if is_link else adjuster.tip
    assert at is not None
    radius = math.dist(at, hinge)
    if radius == 0:
        return None
    pull, new_pull = (_moment(solved, value) / radius for value in (tension, new_tension))
    outward = pull * solved.travel.tightens
    return SpringBalance(
        spot="the plate pin" if is_link else "where the bolt bears",
        radius=radius,
        pull=abs(pull),
        new_pull=abs(new_pull),
        tightens=outward > 0,
    )


def _moment(solved: SolvedMount, tension: float) -> float:
    """Moment that holds a belt at a tension against the weights, clockwise positive [N m]."""
    mount, travel = solved.mount, solved.travel
    ends = np.array([travel.snug]), np.array([travel.tight_end.angle])
    most = float(mount.tension(mount.path(ends[1]).length)[0])
    if tension <= 0 or tension >= most:
        phi = ends[1] if tension > 0 else ends[0]
    else:
        phi = bracketed_roots(
            lambda angle: mount.tension(mount.path(angle).length) - tension, *ends
        )
    slope = float(mount.path(phi).length_slope[0])
    return mount.count * tension * slope + float(mount.weight_moment(phi)[0])
