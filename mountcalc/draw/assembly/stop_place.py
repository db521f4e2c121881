"""Where along the plate a stop finds room: clear of motor, adjuster and driven shaft."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from functools import partial

import numpy as np
from numpy.typing import NDArray

from mountcalc.draw.boards.bolt_hole import BLOCK_SHARE, drawn_diameter
from mountcalc.draw.boards.plate_adjuster import meeting_on_plate
from mountcalc.draw.boards.plate_sizes import plate_width
from mountcalc.draw.boards.side import BoardSide
from mountcalc.draw.boards.sizes import TemplateSizes
from mountcalc.draw.build import Build, Swing
from mountcalc.draw.motor_size import motor_size
from mountcalc.draw.pulley_rims import rim_radii
from mountcalc.draw.wrench_room import wrench_room
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Adjuster, AdjusterKind, Vector

__all__ = [
    "STOP_ACROSS",
    "STOP_AIR",
    "STOP_DEPTH",
    "STOP_GAP",
    "STOP_HALF",
    "Beside",
    "StopPlace",
    "stop_place",
]

# Sizes of the block, all estimates [m].
STOP_HALF, STOP_DEPTH, STOP_ACROSS = 0.015, 0.040, 0.040
"""Half its length along the plate, how far it stands out from it, its width along the shafts."""

STOP_AIR = 0.006
"""From the block to whatever passes it [m] (estimate)."""

STOP_GAP = 0.006
"""From the block to the plate where the belt needs it last [m] (estimate)."""

_STEP = 0.001  # [m] between the places that are tried
_LEAST_SHARE = 0.5  # of the plate's length: nearer to the hinge the stop takes more force
_FROM_END = 0.005  # from the block to the plate's far edge [m] (estimate)
_LONGER = 0.4  # [m] by which a longer plate is tried
_ANGLES = 65

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


class Beside(Enum):
    """What a stop stands beside along the shafts, because it is not clear of it in the view."""

    NOTHING = "nothing"  # it is clear of all in the view
    ADJUSTER = "the adjuster"
    MOTOR = "the motor"
    NO_ROOM = "no room"  # not even there


@dataclass(frozen=True, slots=True)
class StopPlace:
    """Where a stop meets the plate.

    Attributes
    ----------
    reach : float [m]
        Middle of the block, along the plate from the hinge.
    beside : Beside
        What it stands beside.
    wanted_length : float or None [m]
        Where there is no room: the plate's length, from edge to edge, at which there is.
    """

    reach: float
    beside: Beside
    wanted_length: float | None = None


def stop_place(build: Build, swing: Swing, board: BoardSide, turn: int, last: float) -> StopPlace:
    """Look for room for a stop, the furthest from the hinge first."""
    nearest = _LEAST_SHARE * board.length
    furthest = max(nearest, board.length - STOP_HALF - _FROM_END)
    reaches = np.arange(furthest, nearest - _STEP, -_STEP)
    longer = np.arange(furthest + _STEP, furthest + _LONGER, _STEP)
    block = partial(_block, build, swing, board, turn, last)
    here = block(reaches)
    passes = here.passes_motor() & here.passes_driven_shaft()
    adjuster, motor = _room_beside(build)
    is_wide, is_wider = adjuster >= STOP_ACROSS, min(adjuster, motor) >= STOP_ACROSS
    choices: tuple[tuple[Beside, Bools], ...] = (
        (Beside.NOTHING, passes & here.passes_adjuster()),
        (Beside.ADJUSTER, passes & is_wide),
        (Beside.MOTOR, here.passes_driven_shaft() & is_wider),
    )
    for beside, fits in choices:
        if fits.any():
            return StopPlace(float(reaches[fits.argmax()]), beside)
    there = block(longer)
    clear = there.passes_motor() & there.passes_driven_shaft() & there.passes_adjuster()
    wanted = float(longer[clear.argmax()]) + STOP_HALF + _FROM_END - board.edge
    return StopPlace(furthest, Beside.NO_ROOM, wanted if clear.any() else None)


def _block(
    build: Build, swing: Swing, board: BoardSide, turn: int, last: float, reaches: Floats
) -> _Block:
    # The face that leads: the motor's, or the back of the plate.
    out = 1 if turn == plate_line(build.scenario).side else -1
    off = 0.0 if out > 0 else -board.thickness
    angles = last + turn * STOP_GAP / np.hypot(reaches, off)
    return _Block(build, swing, board, reaches, off, out, angles)


@dataclass(frozen=True, slots=True)
class _Block:
    """Blocks at several places along the plate, in the plate's own axes as it lies on them.

    ``reaches`` [m] are along the plate to the middle of each, ``off`` [m] is the height of the face
    that meets them, ``out`` +1 where they stand on the motor's side and -1 behind the plate,
    ``angles`` [rad] the plate's on each.
    """

    build: Build
    swing: Swing
    board: BoardSide
    reaches: Floats
    off: float
    out: int
    angles: Floats

    def passes_motor(self) -> Bools:
        """Where body, pulley and feet of the motor pass from the other end of the swing on."""
        motor, frame = motor_size(self.build), self.board.frame
        shaft = self.build.scenario.motor.shaft
        is_counter = self.out == plate_line(self.build.scenario).side
        start = self.swing.low if is_counter else self.swing.high
        back = np.linspace(0.0, start - self.angles, _ANGLES)
        radius = max(motor.body, rim_radii(self.build)[0])
        passes: Bools = self._off(shaft, back).min(axis=0) >= radius + STOP_AIR
        if self.out < 0:
            return passes
        off = np.abs(self.reaches - frame.distance(shaft))
        return np.asarray(passes & (off >= motor.half_feet + STOP_HALF + STOP_AIR))

    def passes_driven_shaft(self) -> Bools:
        """Where the driven shaft, which may reach as far back as the plate, passes."""
        driven = self.build.scenario.driven
        thick = max(
            driven.shaft_diameter or 0.0, *(one.journal_diameter for one in driven.bearings)
        )
        return np.asarray(self._off(driven.shaft, -self.angles) >= 0.5 * thick + STOP_AIR)

    def passes_adjuster(self) -> Bools:
        """Where bolt or link is not on its side of the plate, or not near it."""
        meeting = meeting_on_plate(self.build)
        side = _side_of_adjuster(self.build, self.board)
        if meeting is None or side not in (0, self.out):
            return np.ones(len(self.reaches), dtype=bool)
        keep = _adjuster_radius(self.build.scenario.adjuster) + STOP_HALF + STOP_AIR
        return (self.reaches < meeting.low - keep) | (self.reaches > meeting.high + keep)

    def _off(self, point: Vector, turned_by: Floats) -> Floats:
        """From the blocks to a point of the drawing turned about the hinge [rad] in their axes."""
        frame = self.board.frame
        turn = plate_line(self.build.scenario).side * turned_by
        along, height = frame.distance(point), frame.height(point)
        across = np.abs(along * np.cos(turn) - height * np.sin(turn) - self.reaches) - STOP_HALF
        up = self.out * (along * np.sin(turn) + height * np.cos(turn) - self.off)
        beyond = np.maximum(up - STOP_DEPTH, -up)
        apart: Floats = np.hypot(np.maximum(across, 0.0), np.maximum(beyond, 0.0))
        return apart


def _side_of_adjuster(build: Build, board: BoardSide) -> int:
    """+1 where it stands on the motor's side of the plate, -1 behind it, 0 on both."""
    adjuster = build.scenario.adjuster
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        assert adjuster.axis is not None
        return -1 if board.frame.slope(adjuster.axis)[1] > 0 else 1
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        return 1 if board.frame.height(adjuster.base_pin) > 0 else -1
    return 0


def _adjuster_radius(adjuster: Adjuster) -> float:
    """What is to be kept free about its axis [m]: for a link's wrench, for the block of a bolt."""
    diameter = drawn_diameter(adjuster)
    if adjuster.kind is AdjusterKind.LINK:
        return wrench_room(diameter).radius
    in_block = adjuster.kind is AdjusterKind.JACK_IN_BASE
    return (BLOCK_SHARE if in_block else 0.5) * diameter


def _room_beside(build: Build) -> tuple[float, float]:
    """Board on the wider side of the adjuster, and beside the motor [m]."""
    sizes = TemplateSizes(build.scenario)
    half = 0.5 * plate_width(build, sizes.hinges(), sizes)
    across = abs(build.scenario.adjuster.across or 0.0)
    adjuster = half + across - _adjuster_radius(build.scenario.adjuster) - STOP_AIR
    frame = build.scenario.parts.frame
    if frame is None:
        return adjuster, -math.inf  # nobody knows how long the motor is
    # From under the middle of the feet to both ends of the body; on the other side there is room.
    front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
    return adjuster, half - min(front, frame.body_length - front) - STOP_AIR
