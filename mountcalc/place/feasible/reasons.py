"""Why a layout will not do: one code each, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from mountcalc.scenario.model import KeepOut

__all__ = ["Reason", "reason_name"]


class Reason(IntEnum):
    """The first thing that is wrong with a layout; every code from KEEP_OUT on is one keep-out.

    They are in the order of what it costs to find them, so that a layout is charged with the
    cheapest of its faults.
    """

    FEASIBLE = 0
    BELT_TOO_SHORT = 1  # the belt does not reach around both pulleys
    MOTOR_HEIGHT = 2  # the hinge is nearer to the motor's shaft than the motor is high
    MOTOR_SIDE = 3  # the motor would stand on the other side of its plate
    FEET_PAST_HINGE = 4  # the motor's feet are not wholly on the plate
    PLATE_LENGTH = 5
    INSTALL = 6  # a new belt cannot be put on inside the travel
    TAKE_UP = 7  # the set point or full take-up is out of reach
    DEAD_CENTRE = 8  # too little leverage left somewhere in the travel
    ADJUSTER_GEOMETRY = (
        9  # the bolt grazes its face, passes its own dead centre or is on the wrong side
    )
    THREAD_LENGTH = 10
    LEAVES_ADJUSTER = 11  # weight or load takes the plate off the adjuster
    ADJUSTER_LOAD = 12
    HINGE_LOAD = 13
    BEARING = 14
    MOTOR_IN_THE_WAY = 15  # the bolt, or the wrench on it, would meet the motor
    KEEP_OUT = 16


def reason_name(code: int, keep_outs: Sequence[KeepOut] = ()) -> str:
    """Name of a reason as results show it."""
    if code < Reason.KEEP_OUT:
        return Reason(code).name.lower()
    return f"keep_out:{keep_outs[code - Reason.KEEP_OUT].name}"
