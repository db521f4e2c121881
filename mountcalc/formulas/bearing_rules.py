"""What a plain bearing is judged by: where its load points, its film, how warm it gets that rubs.

Directions are seen from the shaft's centre: that of the load that the shaft puts on the bearing,
that of the middle of the cap, that of a grease groove. The joint between cap and base of a split
bearing lies square to the cap's direction.

Symbols
-------
direction, other : two directions, any number of turns [rad]
load_direction : of the load on the bearing [rad]
groove_direction : of a grease groove [rad]
cap_direction : of the middle of the cap [rad]
cap_dowelled : whether dowels or gibs hold the cap to the base; then the rule does not apply [-]
diameter : of the journal, d [m]
speed : angular speed omega [rad/s]
pressure : projected pressure p [Pa]
surface : speed V of the journal's surface [m/s]
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]

# Of a load to a groove, and to the joint of a split bearing (MPTA Standard 401).
LEAST_ANGLE = math.radians(30.0)

_INCH = 0.0254
# A load that stands on the journal before it turns: 300 psi [Pa] (Trumpler, in Shigley, Machine
# Design, ch. 12; read in print).
START_UP_PRESSURE = 300.0 * 4.4482216152605 / _INCH**2
# The film criterion is to hold at this many times the running load (Trumpler; from memory).
DESIGN_FACTOR = 2.0


class DirectionJudgement(Record):
    """Whether a load keeps a rule of MPTA Standard 401, in a ``sentence`` too.

    ``angle`` [rad] is from the load to the groove, or from the joint to the load, below zero on the
    cap's side; at least :data:`LEAST_ANGLE` is wanted.
    """

    met: bool
    angle: float
    sentence: str


def angle_between(direction: ArrayLike, other: ArrayLike) -> Array:
    """Angle between two directions, the shorter way round, 0 to pi [rad] (any statics text)."""
    turn = np.asarray(direction, dtype=float) - np.asarray(other)
    result: Array = np.abs(np.remainder(turn + np.pi, 2.0 * np.pi) - np.pi)
    return result


def judge_groove(load_direction: float, groove_direction: float) -> DirectionJudgement:
    """A load against a grease groove, and the angle between them [rad].

    MPTA Standard 401; common practice too: a groove in the loaded part breaks the film.
    """
    angle = float(angle_between(load_direction, groove_direction))
    words = f"the load points {math.degrees(angle):.0f} deg from the grease groove"
    met = angle >= LEAST_ANGLE - ROUNDING
    return DirectionJudgement(met, angle, words if met else f"{words}, closer than 30 deg")


def judge_cap(
    load_direction: float, cap_direction: float, *, cap_dowelled: bool
) -> DirectionJudgement:
    """A load against cap and joint of a split bearing, and its angle from the joint [rad].

    MPTA Standard 401; common practice too: only its bolts hold a cap that is neither gibbed nor
    dowelled.
    """
    angle = float(angle_between(load_direction, cap_direction)) - 0.5 * math.pi
    where = "into the base" if angle >= 0 else "into the cap"
    words = f"the load points {where}, {math.degrees(abs(angle)):.0f} deg from the joint"
    met = cap_dowelled or angle >= LEAST_ANGLE - ROUNDING
    if cap_dowelled:
        words += "; the cap is dowelled, so it may"
    elif not met:
        words += ", closer than 30 deg" if angle >= 0 else "; the cap is not dowelled"
    return DirectionJudgement(met, angle, words)


def least_film(diameter: ArrayLike) -> Array:
    """Least film that lets the debris of running-in pass: h0 = 0.00020 in + 0.00004 d [m].

    Trumpler, in Shigley, Machine Design, ch. 12; from memory. The slope is one length over
    another, so it has no unit to convert: a translated edition with 1.016 mm/mm is in error.
    """
    result: Array = 0.00020 * _INCH + 0.00004 * np.asarray(diameter, dtype=float)
    return result


def surface_speed(diameter: ArrayLike, speed: ArrayLike) -> Array:
    """Speed of the journal's surface: V = omega d / 2 [m/s] (Shigley, Machine Design, ch. 12)."""
    result: Array = 0.5 * np.asarray(diameter, dtype=float) * np.asarray(speed)
    return result


def pressure_speed(pressure: ArrayLike, surface: ArrayLike) -> Array:
    """Pressure times surface speed, to which the heat of rubbing is proportional: p V [Pa m/s].

    It judges boundary lubrication, not a bearing that runs on a full film (Mott, Machine Elements
    in Mechanical Design, ch. 16; Shigley, Machine Design, ch. 12).
    """
    result: Array = np.asarray(pressure, dtype=float) * np.asarray(surface)
    return result
