"""Whether the motor's shaft reaches through its pulley, and how far shaft ends stick out."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.along.stack import AlongStack, Place
from mountcalc.handbook.rows import Datum, datum, load

__all__ = [
    "MotorReach",
    "ProjectingEnd",
    "driven_end",
    "motor_reach",
    "projecting_end",
    "unguarded_share",
]

_FILE = "along_shafts"
_ROUNDING = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class MotorReach:
    """The motor's shaft and its pulley [m], counted outward.

    Attributes
    ----------
    held : float [m]
        How much of the pulley's width is on the shaft, not below zero.
    beyond : float [m]
        From the pulley's front to the shaft's end; below zero where the pulley overhangs it.
    least, most : float [m]
        Between these the pulley's middle must be for all of its width to be on the shaft and clear
        of the motor's face; ``most`` is the smaller one where the shaft is shorter than that.
    """

    held: float
    beyond: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class ProjectingEnd:
    """A shaft's end that sticks out [m].

    Attributes
    ----------
    past : str
        What it sticks out of.
    length : float [m]
        How far; below zero where it ends inside.
    allowed : float [m]
        How far it may without a guard.
    ok : bool
        Whether it is within that.
    """

    past: str
    length: float
    allowed: float
    ok: bool


def unguarded_share() -> Datum:
    """Share of its diameter [-] by which a shaft's end may stick out unguarded."""
    return datum(_FILE, load(_FILE)["shaft_end"]["share"])


def motor_reach(face: float, shaft_end: float, pulley: Place, panel: float) -> MotorReach:
    """Judge whether a pulley sits on its shaft."""
    half = 0.5 * (pulley.front - pulley.back)
    held = min(pulley.front, shaft_end) - max(pulley.back, face)
    return MotorReach(
        held=max(0.0, held),
        beyond=shaft_end - pulley.front,
        least=face + panel + half,
        most=shaft_end - half,
    )


def projecting_end(end: float, diameter: float, past: Place) -> ProjectingEnd:
    """Judge how far a shaft's end sticks out."""
    length = end - past.front
    allowed = unguarded_share().value * diameter
    return ProjectingEnd(past.name, length, allowed, ok=length <= allowed + _ROUNDING)


def driven_end(stack: AlongStack, diameter: float) -> ProjectingEnd | None:
    """Judge the driven shaft's end, on whichever side it is."""
    end, pulley = stack.driven_shaft_end, stack.driven_pulley
    if end is None or pulley is None:
        return None
    places = [pulley, *stack.bearings]
    if end < min(one.middle for one in places):
        end = -end
        places = [Place(one.name, -one.front, -one.back) for one in places]
    return projecting_end(end, diameter, max(places, key=lambda one: one.front))
