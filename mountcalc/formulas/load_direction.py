"""Where the load may point in a split, grooved bearing (MPTA Standard 401).

All directions are seen from the shaft's centre: that of the load the shaft puts on the bearing,
that of the middle of the cap, that of a grease groove. The joint between cap and base lies square
to the cap's direction. Margins are vectorised for solvers; judgements put one into words.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "LEAST_ANGLE",
    "DirectionJudgement",
    "DirectionVerdict",
    "angle_between",
    "groove_margin",
    "joint_margin",
    "judge_cap",
    "judge_groove",
]

Array = NDArray[np.float64]

LEAST_ANGLE = math.radians(30.0)
_ROUNDING = 1e-9
_SOURCE = "MPTA Standard 401"


class DirectionVerdict(Enum):
    """What the direction of a load is."""

    CLEAR = "clear"
    NEAR_GROOVE = "near_groove"
    NEAR_JOINT = "near_joint"
    ON_CAP = "on_cap"


@dataclass(frozen=True, slots=True)
class DirectionJudgement:
    """One rule of direction applied to one load.

    Attributes
    ----------
    verdict : DirectionVerdict
        What it is.
    angle : float [rad]
        From the load to the groove; from the joint to the load, below zero on the cap's side.
    limit : float [rad]
        The least angle that the rule wants.
    sentence : str
        The same in words.
    source : str
        Where the rule is from.
    """

    verdict: DirectionVerdict
    angle: float
    limit: float
    sentence: str
    source: str = _SOURCE

    @property
    def met(self) -> bool:
        """Whether the rule is kept."""
        return self.verdict is DirectionVerdict.CLEAR


def angle_between(direction: ArrayLike, other: ArrayLike) -> Array:
    """Angle between two directions, whichever way round is shorter.

    Parameters
    ----------
    direction : array_like [rad]
        One direction, any number of turns.
    other : array_like [rad]
        The other.

    Returns
    -------
    ndarray [rad]
        0 to pi (any statics text).
    """
    turn = np.asarray(direction, dtype=float) - np.asarray(other)
    result: Array = np.abs(np.remainder(turn + np.pi, 2.0 * np.pi) - np.pi)
    return result


def groove_margin(load_direction: ArrayLike, groove_direction: ArrayLike) -> Array:
    """Angle by which a load keeps clear of the 30 deg about a grease groove.

    Parameters
    ----------
    load_direction : array_like [rad]
        Direction of the load on the bearing.
    groove_direction : array_like [rad]
        Direction of the groove from the shaft's centre.

    Returns
    -------
    ndarray [rad]
        Zero or above where the rule of MPTA Standard 401 is kept (common practice too: a groove
        in the loaded part breaks the film).
    """
    return angle_between(load_direction, groove_direction) - LEAST_ANGLE


def joint_margin(load_direction: ArrayLike, cap_direction: ArrayLike) -> Array:
    """Angle by which a load on the base keeps clear of the 30 deg next to the joint.

    Parameters
    ----------
    load_direction : array_like [rad]
        Direction of the load on the bearing.
    cap_direction : array_like [rad]
        Direction of the middle of the cap from the shaft's centre.

    Returns
    -------
    ndarray [rad]
        Zero or above where the rule of MPTA Standard 401 is kept, for a cap that is neither
        gibbed nor dowelled (common practice too: only its bolts hold such a cap).
    """
    return angle_between(load_direction, cap_direction) - 0.5 * np.pi - LEAST_ANGLE


def judge_groove(load_direction: float, groove_direction: float) -> DirectionJudgement:
    """Judge a load against a grease groove.

    Parameters
    ----------
    load_direction : float [rad]
        Direction of the load on the bearing.
    groove_direction : float [rad]
        Direction of the groove from the shaft's centre.

    Returns
    -------
    DirectionJudgement [rad]
        CLEAR or NEAR_GROOVE (MPTA Standard 401; common practice too).
    """
    angle = float(angle_between(load_direction, groove_direction))
    words = f"the load points {math.degrees(angle):.0f} deg from the grease groove"
    if _kept(groove_margin(load_direction, groove_direction)):
        return DirectionJudgement(DirectionVerdict.CLEAR, angle, LEAST_ANGLE, words)
    return DirectionJudgement(
        DirectionVerdict.NEAR_GROOVE, angle, LEAST_ANGLE, f"{words}, closer than 30 deg"
    )


def judge_cap(
    load_direction: float, cap_direction: float, *, cap_dowelled: bool
) -> DirectionJudgement:
    """Judge a load against the cap and the joint of a split bearing.

    Parameters
    ----------
    load_direction : float [rad]
        Direction of the load on the bearing.
    cap_direction : float [rad]
        Direction of the middle of the cap from the shaft's centre.
    cap_dowelled : bool [-]
        Whether dowels or gibs hold the cap to the base; then the rule does not apply.

    Returns
    -------
    DirectionJudgement [rad]
        CLEAR, NEAR_JOINT or ON_CAP; the angle is from the joint, below zero on the cap's side
        (MPTA Standard 401; common practice too).
    """
    angle = float(angle_between(load_direction, cap_direction)) - 0.5 * math.pi
    where = "into the base" if angle >= 0 else "into the cap"
    words = f"the load points {where}, {math.degrees(abs(angle)):.0f} deg from the joint"
    if cap_dowelled:
        verdict, words = DirectionVerdict.CLEAR, f"{words}; the cap is dowelled, so it may"
    elif _kept(joint_margin(load_direction, cap_direction)):
        verdict = DirectionVerdict.CLEAR
    elif angle >= 0:
        verdict, words = DirectionVerdict.NEAR_JOINT, f"{words}, closer than 30 deg"
    else:
        verdict, words = DirectionVerdict.ON_CAP, f"{words}; the cap is not dowelled"
    return DirectionJudgement(verdict, angle, LEAST_ANGLE, words)


def _kept(margin: Array) -> bool:
    """Rounding of an angle that is just on its limit does not break the rule."""
    return bool(margin >= -_ROUNDING)
