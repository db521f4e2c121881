"""Where a stop catches the plate when the belt breaks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.draw.assembly.stop_place import STOP_GAP, StopPlace, stop_place
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.build import Build, Swing, once, turned
from mountcalc.equilibrium.mount import Mount
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Acts, Vector

__all__ = ["Catch", "Side", "catches"]

# Moments that are smaller than this share of the weights at their full lever hold nothing.
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class Side:
    """Which way the plate goes without a belt.

    ``turn`` is +1 counter-clockwise, -1 clockwise; ``tightens`` whether that is the way in which
    the belt would tighten.
    """

    turn: int
    tightens: bool


@dataclass(frozen=True, slots=True)
class Catch:
    """A stop, and what the plate does until it meets it.

    Attributes
    ----------
    side : Side
        Which way the plate goes.
    plate_angle : float [rad]
        Where the plate rests on the stop.
    at : Vector [m]
        Where it meets the stop.
    normal : Vector [-]
        Unit vector from the plate into the stop.
    drop : float [m]
        By how much the motor's centre of mass falls from snug to there; below zero if it rises.
    energy : float [J]
        What motor and plate lose in height until then, and the stop takes up.
    held : bool
        Whether the adjuster carries the weight without a belt, at snug.
    place : StopPlace
        Where along the plate that is, and what the stop stands beside.
    in_travel : bool
        Whether the scenario's travel reaches that far.
    last : float [rad]
        The plate angle at which the belt needs the plate last before it.
    """

    side: Side
    plate_angle: float
    at: Vector
    normal: Vector
    drop: float
    energy: float
    held: bool
    place: StopPlace
    in_travel: bool
    last: float

    @property
    def beyond(self) -> str:
        """The position that it stands beyond, in words."""
        return "take-up" if self.side.tightens else "install"


@once
def catches(build: Build) -> tuple[Catch, ...]:
    """The stops that a plate wants."""
    mount, swing = build.mount, build.swing
    sides = {_side(mount, swing, angle) for angle in (swing.install, swing.snug, swing.take_up)}
    tightening = 1 if swing.take_up > swing.install else -1
    if None in sides or len(sides) > 1:
        turns: tuple[int, ...] = (tightening, -tightening)
    else:
        turns = tuple(side for side in sides if side is not None)
    return tuple(_catch(build, Side(turn, turn == tightening)) for turn in turns)


def _side(mount: Mount, swing: Swing, angle: float) -> int | None:
    """Which way the weight drives the plate at an angle; None where nowhere."""
    moment = float(mount.weight_moment(angle))
    if abs(moment) <= _NOTHING * mount.weight_scale or swing.install == swing.take_up:
        return None
    return -1 if moment > 0 else 1


def _catch(build: Build, side: Side) -> Catch:
    swing, board, hinge = build.swing, board_side(build), build.scenario.plate.hinge
    last = swing.take_up if side.tightens else swing.install
    place = stop_place(build, swing, board, side.turn, last)
    is_face = side.turn == plate_line(build.scenario).side
    point = board.at(place.reach, 0.0 if is_face else -board.thickness, 0.0)
    out = board.frame.normal if is_face else tuple(-part for part in board.frame.normal)
    angle = last + side.turn * STOP_GAP / math.dist(point, hinge)
    tip = turned((hinge[0] + out[0], hinge[1] + out[1]), hinge, angle)
    low, high = build.scenario.plate.travel
    return Catch(
        side=side,
        plate_angle=angle,
        at=turned(point, hinge, angle),
        normal=(tip[0] - hinge[0], tip[1] - hinge[1]),
        drop=_fall(build.scenario.motor.center_of_mass, hinge, swing.snug, angle),
        energy=_energy(build, swing.snug, angle),
        held=_held(build.mount, swing.snug),
        place=place,
        in_travel=low <= angle <= high,
        last=last,
    )


def _fall(point: Vector, hinge: Vector, start: float, end: float) -> float:
    return turned(point, hinge, start)[1] - turned(point, hinge, end)[1]


def _energy(build: Build, start: float, end: float) -> float:
    motor, plate = build.scenario.motor, build.scenario.plate
    return motor.weight * _fall(
        motor.center_of_mass, plate.hinge, start, end
    ) + plate.weight * _fall(plate.center_of_mass, plate.hinge, start, end)


def _held(mount: Mount, angle: float) -> bool:
    """Whether the adjuster carries the weight without a belt: F = sum W y' / s'."""
    acts = mount.scenario.adjuster.acts
    if not mount.has_adjuster or acts is None:
        return False
    if acts is Acts.BOTH:
        return True
    force = float(mount.weight_moment(angle)) / float(mount.adjuster(angle).extension_slope)
    return force >= 0 if acts is Acts.PUSH else force <= 0
