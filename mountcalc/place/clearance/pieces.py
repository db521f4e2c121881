"""Convex pieces of the parts of N layouts, and where they are at any plate angle.

A part is a union of pieces; a piece is the convex hull of up to four corners, rounded by a
radius: a plate is four corners, a motor's body one corner with a radius, a bolt two corners.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from mountcalc.scenario.model import Vector

__all__ = ["BeltStrands", "Piece", "Turning", "turned"]

Array = NDArray[np.float64]


def turned(points: Array, hinge: Array, angles: Array) -> Array:
    """Points of a plate at several plate angles."""
    arm = (points - hinge[:, None, :])[:, None, :, :]
    cos, sin = np.cos(angles)[:, :, None], np.sin(angles)[:, :, None]
    x = arm[..., 0] * cos - arm[..., 1] * sin
    y = arm[..., 0] * sin + arm[..., 1] * cos
    return np.stack([x, y], axis=-1) + hinge[:, None, None, :]


class Piece(Protocol):
    """A convex piece of a part of every layout."""

    @property
    def radius(self) -> float:
        """By which its corners are rounded [m]."""

    def at(self, chosen: NDArray[np.integer], angles: Array) -> Array:
        """Corners [m], shape (n, s, m, 2), of n chosen layouts at their angles, shape (n, s)."""

    def speed(self, chosen: NDArray[np.integer], angles: Array) -> Array:
        """How fast any point moves at most between even angles, shape (n,) [m/rad]."""


@dataclass(frozen=True, slots=True)
class Turning:
    """A piece whose ``corners`` (N, m, 2) turn with the plate where ``turns`` (N, m)."""

    hinge: Array
    corners: Array
    turns: NDArray[np.bool_]
    radius: float = 0.0

    def at(self, chosen: NDArray[np.integer], angles: Array) -> Array:
        """Corners at the angles; see `Piece`."""
        corners = self.corners[chosen]
        moved = turned(corners, self.hinge[chosen], angles)
        return np.where(self.turns[chosen][:, None, :, None], moved, corners[:, None])

    def speed(self, chosen: NDArray[np.integer], angles: Array) -> Array:  # noqa: ARG002
        """As far as the farthest corner that turns is from the hinge; see `Piece`."""
        speed: Array = self.lever[chosen]
        return speed

    @property
    def lever(self) -> Array:
        """How far from the hinge the farthest corner that turns is, shape (N,) [m]."""
        arms = np.hypot(*np.moveaxis(self.corners - self.hinge[:, None, :], -1, 0))
        lever: Array = np.where(self.turns, arms, 0.0).max(axis=1)
        return lever


@dataclass(frozen=True, slots=True)
class BeltStrands:
    """What lies between the strands of a belt: the four points where they meet the pulleys."""

    hinge: Array
    motor: Array
    driven: Vector
    driven_radius: float
    motor_radius: float
    radius: float = 0.0

    def at(self, chosen: NDArray[np.integer], angles: Array) -> Array:
        """Corners at the angles; see `Piece`."""
        motor = turned(self.motor[chosen][:, None, :], self.hinge[chosen], angles)[:, :, 0, :]
        gap = motor - np.asarray(self.driven)
        distance = np.hypot(gap[..., 0], gap[..., 1])[..., None]
        along = gap / distance
        across = np.stack([-along[..., 1], along[..., 0]], axis=-1)
        # A strand is square to the radii at both its ends: they lean by (R - r) / C.
        lean = np.clip((self.driven_radius - self.motor_radius) / distance, -1.0, 1.0)
        left = lean * along + np.sqrt(1.0 - lean**2) * across
        right = lean * along - np.sqrt(1.0 - lean**2) * across
        corners = [
            np.asarray(self.driven) + self.driven_radius * left,
            np.asarray(self.driven) + self.driven_radius * right,
            motor + self.motor_radius * right,
            motor + self.motor_radius * left,
        ]
        return np.stack(corners, axis=-2)

    def speed(self, chosen: NDArray[np.integer], angles: Array) -> Array:
        """How fast a corner moves at most; see `Piece`.

        A strand of length l turns no faster than q/l, where q is the speed of the motor's shaft.
        """
        arm = self.motor[chosen] - self.hinge[chosen]
        shaft_speed = np.hypot(arm[:, 0], arm[:, 1])
        motor = turned(self.motor[chosen][:, None, :], self.hinge[chosen], angles)[:, :, 0, :]
        gap = motor - np.asarray(self.driven)
        step = np.abs(angles[:, 1] - angles[:, 0])
        distance = np.hypot(gap[..., 0], gap[..., 1]).min(axis=1) - shaft_speed * step / 2
        squared = distance * np.abs(distance) - (self.driven_radius - self.motor_radius) ** 2
        with np.errstate(divide="ignore"):
            turning = max(self.driven_radius, self.motor_radius) / np.sqrt(np.maximum(squared, 0.0))
        result: Array = shaft_speed * (1.0 + turning)
        return result
