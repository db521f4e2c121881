"""What of the swinging plate and motor comes into something that stands still, over the swing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely
from numpy.typing import NDArray

from mountcalc.draw.assembly.stop import STOP_GAP
from mountcalc.draw.boards.side import board_side, motor_feet
from mountcalc.draw.build import Build, motor_size
from mountcalc.scenario.model import Vector

STEPS = 65
"""Plate angles at which what swings is looked at."""

_NOTHING = 0.5e-6  # [m2] of overlap: boards that just touch
_ROUND = 16  # chords of a quarter of the motor's body
_NEAREST_STOP = 0.5  # of the plate's length: no stop stands nearer to the hinge


class Swung(StrEnum):
    """What swings, in words."""

    PLATE = "the plate"
    FEET = "the motor's feet"
    BODY = "the motor's body"


@dataclass(frozen=True, slots=True)
class Met:
    """What comes furthest into the base: which, how deep [m], at which plate angle [rad]."""

    part: Swung
    depth: float
    plate_angle: float


def stop_to_stop(build: Build) -> tuple[float, float]:
    """The plate angles between a stop beyond install and one beyond take-up."""
    gap = STOP_GAP / (_NEAREST_STOP * board_side(build).length)
    return build.swing.low - gap, build.swing.high + gap


def deepest(
    build: Build, base: Sequence[Vector], angles: tuple[float, float] | None = None
) -> Met | None:
    """What of plate and motor comes furthest into the base between angles: from stop to stop."""
    fixed = shapely.Polygon(base)
    found = [
        Met(part, way_out(fixed, shape), float(angle))
        for angle in np.linspace(*(angles or stop_to_stop(build)), STEPS)
        for part, shape in swung(build, float(angle))
        if fixed.intersection(shape).area > _NOTHING
    ]
    return max(found, key=lambda one: one.depth, default=None)


def swung(build: Build, angle: float) -> Iterator[tuple[Swung, shapely.Polygon]]:
    """What swings with the plate."""
    yield Swung.PLATE, shapely.Polygon(board_side(build).corners(angle))
    yield Swung.FEET, shapely.Polygon(motor_feet(build, angle))
    shaft = build.turned(build.scenario.motor.shaft, angle)
    yield Swung.BODY, shapely.Point(shaft).buffer(motor_size(build).body, quad_segs=_ROUND)


def way_out(one: shapely.Polygon, other: shapely.Polygon) -> float:
    """How far one of two convex outlines has to move to be out of the other."""
    shadows = []
    for normal in (*_normals(one), *_normals(other)):
        low, high = _shadow(one, normal)
        start, end = _shadow(other, normal)
        shadows.append(min(high - start, end - low))
    return max(0.0, min(shadows))


def _normals(outline: shapely.Polygon) -> NDArray[np.float64]:
    """Unit vectors square to its sides, shape (n, 2)."""
    sides = np.diff(shapely.get_coordinates(outline.exterior), axis=0)
    sides = sides[np.any(sides != 0.0, axis=1)]
    square = np.column_stack([-sides[:, 1], sides[:, 0]])
    normals: NDArray[np.float64] = square / np.linalg.norm(square, axis=1, keepdims=True)
    return normals


def _shadow(outline: shapely.Polygon, direction: NDArray[np.float64]) -> tuple[float, float]:
    along = shapely.get_coordinates(outline.exterior) @ direction
    return float(along.min()), float(along.max())
