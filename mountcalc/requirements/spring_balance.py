"""Setting the tension with a spring balance on the plate: no belt stiffness is needed."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.requirements.results import SpringBalance
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["lever_of", "spot_of", "spring_balance"]


def spring_balance(
    solved: SolvedMount, tension: float | None, new_tension: float | None
) -> SpringBalance | None:
    """The pull on the plate that puts wanted tensions into the belt with the adjuster clear.

    Notes
    -----
    Moments about the hinge: P a = n T L' + sum W y', a being the distance from the hinge to the
    spot where the adjuster bears, and P square to that line. L' is taken at the plate angle of
    that tension; a belt of another stiffness is a fraction of a degree from it. With the belt slack
    the weights alone are left, and the difference of the two readings is the belt's.
    """
    lever = lever_of(solved)
    if tension is None or new_tension is None or lever is None:
        return None
    mount, wanted = solved.mount, np.array([tension, new_tension, 0.0])
    phi = solved.angle_for(wanted)
    moment = mount.count * wanted * mount.path(phi).length_slope + mount.weight_moment(phi)
    pull, new_pull, slack = (float(one) for one in solved.travel.tightens * moment / lever)
    return SpringBalance(
        spot="the plate pin" if _is_link(solved) else "where the bolt bears",
        radius=lever,
        pull=abs(pull),
        new_pull=abs(new_pull),
        tightens=pull > 0,
        slack_pull=abs(slack),
        slack_tightens=slack > 0,
        direction=_direction(solved),
    )


def spot_of(solved: SolvedMount) -> Vector:
    """Where the adjuster bears on the plate as drawn [m]."""
    adjuster = solved.mount.scenario.adjuster
    at = adjuster.plate_pin if _is_link(solved) else adjuster.tip
    assert at is not None
    return at


def lever_of(solved: SolvedMount) -> float | None:
    """Distance from the hinge to where the adjuster bears [m]; None where there is none."""
    lever = math.dist(spot_of(solved), solved.mount.scenario.plate.hinge)
    return lever if lever > 0 else None


def _direction(solved: SolvedMount) -> float:
    """The way the spot moves as the plate tightens the belt, where that is snug [rad]."""
    (x, y), (hinge_x, hinge_y) = spot_of(solved), solved.mount.scenario.plate.hinge
    way = math.atan2(y - hinge_y, x - hinge_x) + 0.5 * math.pi * solved.travel.tightens
    return (way + solved.travel.snug) % math.tau


def _is_link(solved: SolvedMount) -> bool:
    return solved.mount.scenario.adjuster.kind is AdjusterKind.LINK
