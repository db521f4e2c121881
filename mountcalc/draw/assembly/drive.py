"""Plate, motor, pulleys and belt in the assembly."""

from __future__ import annotations

import math

from mountcalc.drafting.items import Arc, Layer, Point
from mountcalc.draw.boards.side import BoardSide
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.motor_size import motor_size
from mountcalc.draw.pulley_rims import rim_radii
from mountcalc.draw.view_parts import ViewParts

__all__ = ["draw_drive", "draw_other_position"]

_PAST = 1.1  # of a pulley's radius to which its centre lines reach


def draw_drive(parts: ViewParts, build: Build, board: BoardSide, swing: Swing) -> None:
    """Draw what is seen at snug, and what stands still."""
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, swing.snug)
    parts.outline(board.corners(swing.snug), Layer.VISIBLE)
    shares = (0.15, 0.3, 0.45, 0.6, 0.75, 0.9)
    back = (board.at(share * board.length, -board.thickness, swing.snug) for share in shares)
    face = (board.at(share * board.length, 0.0, swing.snug) for share in shares)
    parts.name("plate", *back, *face)
    _hinge(parts, build, board)
    _body(parts, build, board, swing.snug, motor)
    motor_rim, driven_rim = rim_radii(build)
    frame = build.scenario.parts.frame
    bore = None if frame is None else 0.5 * frame.shaft_diameter
    _pulley(parts, motor, build.scenario.motor.pulley_radius, motor_rim, bore)
    driven = build.scenario.driven
    shaft = 0.5 * (driven.shaft_diameter or max(one.journal_diameter for one in driven.bearings))
    _pulley(parts, driven.shaft, driven.pulley_radius, driven_rim, shaft)
    parts.round_name("motor pulley", motor, motor_rim)
    parts.round_name("driven pulley", driven.shaft, driven_rim)
    _belt(parts, build, swing.snug, motor)


def draw_other_position(
    parts: ViewParts, build: Build, board: BoardSide, plate_angle: float, name: str
) -> None:
    """Draw plate, pulley and shaft thin, in another position."""
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, plate_angle)
    parts.outline(board.corners(plate_angle), Layer.EDGE)
    parts.circle(motor, rim_radii(build)[0], Layer.EDGE)
    parts.cross(motor, 0.4 * rim_radii(build)[0])
    offs = (0.0, -0.5 * board.thickness, -board.thickness)
    end = (board.at(board.length, off, plate_angle) for off in offs)
    sides = (
        board.at(share * board.length, off, plate_angle)
        for share in (0.7, 0.8, 0.9)
        for off in (0.0, -board.thickness)
    )
    parts.name(name, *end, *sides)
    parts.listed[f"motor shaft at {name}"] = motor


def _hinge(parts: ViewParts, build: Build, board: BoardSide) -> None:
    hinge, knuckle = build.scenario.plate.hinge, board.edge
    parts.circle(hinge, knuckle, Layer.VISIBLE)
    parts.cross(hinge, 1.8 * knuckle)
    parts.name("hinge pin", hinge)


def _body(
    parts: ViewParts, build: Build, board: BoardSide, plate_angle: float, motor: Point
) -> None:
    frame, size = build.scenario.parts.frame, motor_size(build)
    parts.circle(motor, size.body, Layer.EDGE)
    if frame is None:
        parts.notes.append("motor.frame is not given: the motor's body is drawn as an estimate.")
        return
    middle = board.frame.distance(build.scenario.motor.shaft)
    height = board.frame.height(build.scenario.motor.shaft)
    packing = height - frame.shaft_height
    end, low, high = size.half_feet, packing, packing + size.foot_height
    places = ((-end, low), (end, low), (end, high), (-end, high))
    corners = tuple(board.at(middle + along, off, plate_angle) for along, off in places)
    parts.outline(corners, Layer.EDGE)
    for side in (-0.5 * frame.feet_across, 0.5 * frame.feet_across):
        ends = [board.at(middle + side, off, plate_angle) for off in (high, -board.thickness)]
        parts.line(ends[0], ends[1], Layer.CENTRE)
    parts.notes.append("The motor's body and the height of its feet are estimates.")


def _pulley(
    parts: ViewParts, at: Point, pitch_radius: float, rim: float, bore: float | None
) -> None:
    parts.circle(at, rim, Layer.VISIBLE)
    if rim != pitch_radius:
        parts.circle(at, pitch_radius, Layer.CENTRE)
    if bore is not None:
        parts.circle(at, bore, Layer.VISIBLE)
    parts.cross(at, _PAST * max(rim, pitch_radius))


def _belt(parts: ViewParts, build: Build, plate_angle: float, motor: Point) -> None:
    """The belt's pitch line."""
    at = build.mount.strands(plate_angle)
    radius, driven = build.scenario.motor.pulley_radius, build.scenario.driven
    angles = []
    for x, y in (
        (float(at.normal_plus_x), float(at.normal_plus_y)),
        (float(at.normal_minus_x), float(at.normal_minus_y)),
    ):
        start = motor[0] + radius * x, motor[1] + radius * y
        end = (
            driven.shaft[0] + driven.pulley_radius * x,
            driven.shaft[1] + driven.pulley_radius * y,
        )
        parts.line(start, end, Layer.VISIBLE)
        angles.append(math.atan2(y, x))
    plus, minus = angles
    wrap = 2.0 * float(at.beta)
    parts.items.append(Arc(motor, radius, plus, plus + math.pi - wrap, Layer.VISIBLE))
    arc = Arc(driven.shaft, driven.pulley_radius, minus, minus + math.pi + wrap, Layer.VISIBLE)
    parts.items.append(arc)
