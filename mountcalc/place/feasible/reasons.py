"""Why a layout will not do: one code each, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from mountcalc.scenario.model import KeepOut


class Reason(IntEnum):
    """The first thing that is wrong with a layout; every code from KEEP_OUT on is one keep-out.

    They are in the order of what it costs to find them, so that a layout is charged with the
    cheapest of its faults.
    """

    FEASIBLE = 0
    BELT_TOO_SHORT = 1
    MOTOR_HEIGHT = 2
    MOTOR_SIDE = 3
    FEET_PAST_HINGE = 4
    PLATE_LENGTH = 5
    INSTALL = 6
    TAKE_UP = 7
    DEAD_CENTRE = 8
    ADJUSTER_GEOMETRY = 9
    THREAD_LENGTH = 10
    LEAVES_ADJUSTER = 11
    ADJUSTER_LOAD = 12
    HINGE_LOAD = 13
    BEARING = 14
    MOTOR_IN_THE_WAY = 15
    KEEP_OUT = 16


CAUSES = {
    Reason.BELT_TOO_SHORT: "the belt does not reach around both pulleys even where their rims "
    "touch",
    Reason.MOTOR_HEIGHT: "the hinge is nearer to the motor's shaft than motor_height",
    Reason.MOTOR_SIDE: "the motor would stand on the other side of its plate",
    Reason.FEET_PAST_HINGE: "the motor's feet would reach past the hinge's end of the plate",
    Reason.PLATE_LENGTH: "the plate would be longer than plate_length",
    Reason.INSTALL: "the plate does not swing the shafts near enough to put on a new belt",
    Reason.TAKE_UP: "plate or bolt do not reach the setting, or full take-up",
    Reason.DEAD_CENTRE: "hinge, motor and driven shaft come nearly in line: swinging the plate "
    "then hardly tightens the belt",
    Reason.ADJUSTER_GEOMETRY: "the plate swings so far that the bolt would graze it or pass its "
    "dead centre, or face_offset puts its tip on the wrong side of the plate",
    Reason.THREAD_LENGTH: "the bolt would travel more than thread_length from a new belt to full "
    "take-up",
    Reason.LEAVES_ADJUSTER: "weight or load lifts the plate off the bolt, so that weight would set "
    "the tension",
    Reason.ADJUSTER_LOAD: "the adjuster would carry more than its limit",
    Reason.HINGE_LOAD: "the hinge would carry more than its limit",
    Reason.BEARING: "a bearing would be over its limit before the belt has the wanted grip, with "
    "room for the hand's error",
    Reason.MOTOR_IN_THE_WAY: "bolt or link, or the wrench on it, would meet the motor",
    Reason.KEEP_OUT: "plate, motor, bolt or belt would come too near to it",
}
"""What each means, for the page."""


def reason_name(code: int, keep_outs: Sequence[KeepOut] = ()) -> str:
    """Name of a reason as results show it."""
    if code < Reason.KEEP_OUT:
        return Reason(code).name.lower()
    return f"keep_out:{keep_outs[code - Reason.KEEP_OUT].name}"


_SHORT = {
    "motor_height": "hinge nearer to the motor than the motor is high",
    "motor_side": "motor on the other side of its plate",
    "feet_past_hinge": "motor's feet reach past the hinge",
    "plate_length": "plate too long",
    "install": "a new belt does not go on",
    "take_up": "setting or take-up out of reach",
    "dead_centre": "too little leverage, or a dead centre",
    "adjuster_geometry": "bolt grazes its face, or passes its dead centre",
    "thread_length": "bolt travels too far",
    "leaves_adjuster": "plate lifts off the bolt",
    "adjuster_load": "adjuster over its limit",
    "hinge_load": "hinge over its limit",
    "bearing": "a bearing over its limit",
    "motor_in_the_way": "bolt or wrench meets the motor",
}


def in_short(name: str) -> str:
    """A reason, by its name, as people read it."""
    kind, _, keep_out = name.partition(":")
    if kind == "keep_out":
        return f"in the way: {keep_out}"
    return _SHORT.get(name, name.replace("_", " "))
