"""Where a stop catches the plate when the belt breaks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drawing.board_side import BoardSide
from mountcalc.drawing.plate_adjuster import meeting_on_plate
from mountcalc.drawing.swing import Swing, turned
from mountcalc.equilibrium.mount import Mount
from mountcalc.scenario.model import Acts, Scenario, Vector
from mountcalc.scenario.parts_plate_line import plate_line

__all__ = ["STOP_GAP", "Catch", "Side", "catches"]

STOP_GAP = 0.006
"""From the stop to the plate where the belt needs it last [m] (estimate)."""

# Where the plate meets it [m] (estimates): from its far end, and from what is fixed to it.
_FROM_END, _KEEP_OFF, _STEP = 0.02, 0.045, 0.005
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
    is_clear : bool
        Whether it is clear of the adjuster and the motor's feet in this view, not only beside them.
    in_travel : bool
        Whether the scenario's travel reaches that far.
    """

    side: Side
    plate_angle: float
    at: Vector
    normal: Vector
    drop: float
    energy: float
    held: bool
    is_clear: bool
    in_travel: bool


def catches(scenario: Scenario, swing: Swing, board: BoardSide) -> tuple[Catch, ...]:
    """The stops that a plate wants.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    swing : Swing
        The plate angles that the belt needs; a stop stands just beyond them.
    board : BoardSide
        The plate; its far part meets the stop.

    Returns
    -------
    tuple of Catch
        One on the side that the weight drives to; one on each side where that changes within the
        swing or where the weight drives nowhere.
    """
    mount = Mount.of(scenario)
    sides = {_side(mount, swing, angle) for angle in (swing.install, swing.snug, swing.take_up)}
    tightening = 1 if swing.take_up > swing.install else -1
    if None in sides or len(sides) > 1:
        turns: tuple[int, ...] = (tightening, -tightening)
    else:
        turns = tuple(side for side in sides if side is not None)
    return tuple(_catch(mount, swing, Side(turn, turn == tightening), board) for turn in turns)


def _side(mount: Mount, swing: Swing, angle: float) -> int | None:
    """Which way the weight drives the plate at an angle; None where nowhere."""
    moment = float(mount.weight_moment(angle))
    if abs(moment) <= _NOTHING * mount.weight_scale or swing.install == swing.take_up:
        return None
    return -1 if moment > 0 else 1


def _catch(mount: Mount, swing: Swing, side: Side, board: BoardSide) -> Catch:
    scenario, hinge = mount.scenario, mount.scenario.plate.hinge
    # The face that leads: the motor's, or the back of the plate.
    is_face = side.turn == plate_line(scenario).side
    reach, is_clear = _reach(scenario, swing, board, is_face=is_face)
    point = board.at(reach, 0.0 if is_face else -board.thickness, 0.0)
    out = board.frame.normal if is_face else tuple(-part for part in board.frame.normal)
    last = swing.take_up if side.tightens else swing.install
    angle = last + side.turn * STOP_GAP / math.dist(point, hinge)
    tip = turned((hinge[0] + out[0], hinge[1] + out[1]), hinge, angle)
    low, high = scenario.plate.travel
    return Catch(
        side=side,
        plate_angle=angle,
        at=turned(point, hinge, angle),
        normal=(tip[0] - hinge[0], tip[1] - hinge[1]),
        drop=_fall(scenario.motor.center_of_mass, hinge, swing.snug, angle),
        energy=_energy(scenario, swing.snug, angle),
        held=_held(mount, swing.snug),
        is_clear=is_clear,
        in_travel=low <= angle <= high,
    )


def _reach(
    scenario: Scenario, swing: Swing, board: BoardSide, *, is_face: bool
) -> tuple[float, bool]:
    """How far along the plate the stop meets it [m], and whether nothing else is there."""
    taken = []
    meeting = meeting_on_plate(scenario, board.frame, swing)
    if meeting is not None:
        taken.append((meeting.low - _KEEP_OFF, meeting.high + _KEEP_OFF))
    if is_face:
        frame = scenario.parts.frame
        half = 0.5 * frame.feet_across if frame is not None else scenario.motor.pulley_radius
        shaft = board.frame.distance(scenario.motor.shaft)
        taken.append((shaft - half - _KEEP_OFF, shaft + half + _KEEP_OFF))
    furthest = max(0.5 * board.length, board.length - _FROM_END)
    for step in range(1 + int((furthest - 0.5 * board.length) / _STEP)):
        reach = furthest - step * _STEP
        if all(not low < reach < high for low, high in taken):
            return reach, True
    return furthest, False


def _fall(point: Vector, hinge: Vector, start: float, end: float) -> float:
    return turned(point, hinge, start)[1] - turned(point, hinge, end)[1]


def _energy(scenario: Scenario, start: float, end: float) -> float:
    motor, plate = scenario.motor, scenario.plate
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
