"""Plate, motor, pulleys, belt and base in the assembly."""

from __future__ import annotations

from mountcalc.drafting.items import Arc, Layer, Point
from mountcalc.draw.base.section import base_section
from mountcalc.draw.boards.side import board_side, motor_feet
from mountcalc.draw.build import Build, motor_size, rim_radii
from mountcalc.draw.views import ViewParts, on_sides
from mountcalc.layout import belt_at

BASE_NAME = "base"
"""Its name, which the notes make good where the view is too crowded for it."""

_PAST = 1.1  # of a pulley's radius to which its centre lines reach


def draw_drive(parts: ViewParts, build: Build) -> None:
    """Draw what is seen at snug, and what stands still."""
    snug, motor, driven = build.swing.snug, build.motor_at_snug, build.scenario.driven
    board, frame, hinge = board_side(build), build.scenario.parts.frame, build.hinge
    parts.outline(board.corners(snug), Layer.VISIBLE)
    shares = (0.15, 0.3, 0.45, 0.6, 0.75, 0.9)
    back = (board.at(share * board.length, -board.thickness, snug) for share in shares)
    face = (board.at(share * board.length, 0.0, snug) for share in shares)
    parts.name("plate", *back, *face)
    parts.circle(hinge, board.edge, Layer.VISIBLE)
    parts.cross(hinge, 1.8 * board.edge)
    parts.name("hinge pin", hinge)
    _body(parts, build)
    bore = None if frame is None else 0.5 * frame.shaft_diameter
    shaft = driven.shaft_diameter or max(one.journal_diameter for one in driven.bearings)
    rims = rim_radii(build)
    _pulley(parts, motor, build.scenario.motor.pulley_radius, rims[0], bore)
    _pulley(parts, driven.shaft, driven.pulley_radius, rims[1], 0.5 * shaft)
    parts.round_name("motor pulley", motor, rims[0])
    parts.round_name("driven pulley", driven.shaft, rims[1])
    _belt(parts, build)


def draw_other_position(parts: ViewParts, build: Build, plate_angle: float, name: str) -> None:
    """Draw plate, pulley and shaft thin, in another position."""
    board, rim = board_side(build), rim_radii(build)[0]
    motor = build.turned(build.scenario.motor.shaft, plate_angle)
    parts.outline(board.corners(plate_angle), Layer.EDGE)
    parts.circle(motor, rim, Layer.EDGE)
    parts.cross(motor, 0.4 * rim)
    offs = (0.0, -0.5 * board.thickness, -board.thickness)
    places = [(1.0, off) for off in offs]
    places += [(share, off) for share in (0.7, 0.8, 0.9) for off in (0.0, -board.thickness)]
    parts.name(name, *(board.at(share * board.length, off, plate_angle) for share, off in places))
    parts.listed[f"motor shaft at {name}"] = motor


def draw_base(parts: ViewParts, build: Build) -> None:
    """Draw the section of what carries the hinge, thin: its way may be an estimate."""
    corners = base_section(build).corners
    parts.outline(corners, Layer.EDGE)
    parts.listed["near edge of the base's face"] = corners[0]
    parts.points["far edge of the base's face"] = corners[1]
    parts.name(BASE_NAME, *on_sides(corners, (0.3, 0.5, 0.7, 0.9)))


def _body(parts: ViewParts, build: Build) -> None:
    """The motor's body, and its feet where the frame tells them."""
    frame, size, board = build.scenario.parts.frame, motor_size(build), board_side(build)
    parts.circle(build.motor_at_snug, size.body, Layer.EDGE)
    if frame is None:
        parts.remarks.note("assembly.no_frame")
        return
    parts.outline(motor_feet(build, build.swing.snug), Layer.EDGE)
    middle = board.frame.distance(build.scenario.motor.shaft)
    low = board.frame.height(build.scenario.motor.shaft) - frame.shaft_height
    high = low + size.foot_height
    for side in (-0.5 * frame.feet_across, 0.5 * frame.feet_across):
        ends = [board.at(middle + side, off, build.swing.snug) for off in (high, -board.thickness)]
        parts.line(ends[0], ends[1], Layer.CENTRE)
    parts.remarks.note("assembly.motor")


def _pulley(
    parts: ViewParts, at: Point, pitch_radius: float, rim: float, bore: float | None
) -> None:
    parts.circle(at, rim, Layer.VISIBLE)
    if rim != pitch_radius:
        parts.circle(at, pitch_radius, Layer.CENTRE)
    if bore is not None:
        parts.circle(at, bore, Layer.VISIBLE)
    parts.cross(at, _PAST * max(rim, pitch_radius))


def _belt(parts: ViewParts, build: Build) -> None:
    """The belt's pitch line."""
    belt = belt_at(build.mount, build.swing.snug)
    motor, driven = build.scenario.motor, build.scenario.driven
    for strand in (belt.tight, belt.slack):
        parts.line(*strand, Layer.VISIBLE)
    parts.items += [
        Arc(build.motor_at_snug, motor.pulley_radius, *belt.motor_arc, Layer.VISIBLE),
        Arc(driven.shaft, driven.pulley_radius, *belt.driven_arc, Layer.VISIBLE),
    ]
