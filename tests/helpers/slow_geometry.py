"""Geometry of a mount by construction: turned points, tangent lines, touching lines.

Written from the words of the drawing, not from the program's formulas; nothing here is shared
with it but the scenario's types. Angles may be arrays; vectors have their two components last.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mountcalc.scenario.model import AdjusterKind, Rotation, Scenario

__all__ = ["Lever", "SlowMount", "Strand", "cross", "turned"]


def turned(vector, angle):
    """A vector after a turn, by the rotation matrix."""
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = vector
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=-1)


def cross(arm, force):
    """Counter-clockwise moment of a force at an arm."""
    return arm[..., 0] * force[..., 1] - arm[..., 1] * force[..., 0]


def dot(one, other):
    """Scalar product."""
    return one[..., 0] * other[..., 0] + one[..., 1] * other[..., 1]


def _unit(angle):
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def _about_hinge(arm):
    """Velocity of a point of the plate for a plate speed of one."""
    return np.stack([-arm[..., 1], arm[..., 0]], axis=-1)


@dataclass(frozen=True)
class Strand:
    """A free strand: where it leaves the motor pulley, and where it meets the driven one."""

    on_motor: np.ndarray
    on_driven: np.ndarray

    @property
    def span(self):
        """Length of the strand."""
        reach = self.on_driven - self.on_motor
        return np.hypot(reach[..., 0], reach[..., 1])

    @property
    def pull_direction(self):
        """The way the strand pulls the motor."""
        return (self.on_driven - self.on_motor) / self.span[..., np.newaxis]


@dataclass(frozen=True)
class Lever:
    """The adjuster at plate angles: extension, its change with the angle, and its push.

    ``push`` is the force on the plate for one newton of compression, ``at`` where it acts;
    ``bite`` is the cosine between a jack's axis and its face's normal (1 for a link).
    """

    extension: np.ndarray
    slope: np.ndarray
    push: np.ndarray
    at: np.ndarray
    bite: np.ndarray


@dataclass(frozen=True)
class SlowMount:
    """Positions and lines of a scenario at any plate angle."""

    scenario: Scenario

    @property
    def hinge(self):
        """H."""
        return np.array(self.scenario.plate.hinge)

    def on_plate(self, point, angle):
        """A point fixed to the plate."""
        return self.hinge + turned(np.array(point) - self.hinge, angle)

    def gap(self, angle):
        """From motor shaft to driven shaft."""
        shaft = self.on_plate(self.scenario.motor.shaft, angle)
        return np.array(self.scenario.driven.shaft) - shaft

    def center_distance(self, angle):
        """C."""
        gap = self.gap(angle)
        return np.hypot(gap[..., 0], gap[..., 1])

    def center_distance_slope(self, angle):
        """Change of C with the plate angle: the motor's speed along the line of centres."""
        arm = self.on_plate(self.scenario.motor.shaft, angle) - self.hinge
        return -dot(self.gap(angle), _about_hinge(arm)) / self.center_distance(angle)

    def strands(self, angle):
        """Strands on the left and right of the way from motor to driven shaft.

        An outer tangent touches both pulleys at the same angle: its normal leans from the
        line of centres by the angle whose cosine is the difference of radii over C.
        """
        r, big = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        gap = self.gap(angle)
        heading = np.arctan2(gap[..., 1], gap[..., 0])
        lean = np.arccos((r - big) / self.center_distance(angle))
        motor = self.on_plate(self.scenario.motor.shaft, angle)
        driven = np.array(self.scenario.driven.shaft)
        normals = (_unit(heading + lean), _unit(heading - lean))
        return tuple(Strand(motor + r * n, driven + big * n) for n in normals)

    def tight_and_slack(self, angle):
        """The motor draws the belt in on the left strand when it turns counter-clockwise."""
        left, right = self.strands(angle)
        ccw = self.scenario.motor.rotation is Rotation.CCW
        return (left, right) if ccw else (right, left)

    def wraps(self, angle):
        """Arcs of contact on motor and driven pulley."""
        r, big = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        lean = np.arccos((r - big) / self.center_distance(angle))
        return 2 * np.pi - 2 * lean, 2 * lean

    def path(self, angle):
        """Belt path: two strands and two arcs."""
        left, right = self.strands(angle)
        on_motor, on_driven = self.wraps(angle)
        motor, driven = self.scenario.motor, self.scenario.driven
        arcs = motor.pulley_radius * on_motor + driven.pulley_radius * on_driven
        return left.span + right.span + arcs

    def weights(self, angle):
        """Pairs of where a weight of the plate acts and its force."""
        for part in (self.scenario.motor, self.scenario.plate):
            yield self.on_plate(part.center_of_mass, angle), np.array([0.0, -part.weight])

    def lever(self, angle) -> Lever:
        """The adjuster, by its kind."""
        angle = np.asarray(angle, dtype=float)
        kind = self.scenario.adjuster.kind
        # A jack that lies flat on its face meets it nowhere; whoever looks there checks `bite`.
        with np.errstate(divide="ignore", invalid="ignore"):
            return {
                AdjusterKind.JACK_IN_BASE: self._jack_in_base,
                AdjusterKind.JACK_IN_PLATE: self._jack_in_plate,
                AdjusterKind.LINK: self._link,
            }[kind](angle)

    def _jack_in_base(self, angle):
        """The tip runs along a fixed line and stops where it meets the plate's turned face."""
        adjuster = self.scenario.adjuster
        tip, axis = np.array(adjuster.tip), _unit(adjuster.axis)
        along = _unit(adjuster.face + angle)
        extension = _meeting(tip, axis, self.on_plate(tip, angle), along)
        at = tip + extension[..., np.newaxis] * axis
        normal = _unit(adjuster.face + np.pi / 2 + angle)
        bite = dot(axis, normal)
        slope = dot(_about_hinge(at - self.hinge), normal) / bite
        return Lever(extension, slope, normal / bite[..., np.newaxis], at, np.abs(bite))

    def _jack_in_plate(self, angle):
        """The tip runs along a line of the plate and stops where it meets the fixed face."""
        adjuster = self.scenario.adjuster
        along = _unit(np.full(angle.shape, adjuster.face))
        axis = _unit(adjuster.axis + angle)
        foot = self.on_plate(adjuster.tip, angle)
        extension = _meeting(foot, axis, np.array(adjuster.tip), along)
        at = foot + extension[..., np.newaxis] * axis
        normal = _unit(np.full(angle.shape, adjuster.face + np.pi / 2))
        bite = dot(axis, normal)
        slope = -dot(_about_hinge(at - self.hinge), normal) / bite
        return Lever(extension, slope, -normal / bite[..., np.newaxis], at, np.abs(bite))

    def _link(self, angle):
        """Distance of the pins."""
        adjuster = self.scenario.adjuster
        at = self.on_plate(adjuster.plate_pin, angle)
        reach = at - np.array(adjuster.base_pin)
        length = np.linalg.norm(reach, axis=-1)
        push = reach / length[..., np.newaxis]
        drawn = np.linalg.norm(np.subtract(adjuster.plate_pin, adjuster.base_pin))
        slope = dot(_about_hinge(at - self.hinge), push)
        return Lever(length - drawn, slope, push, at, np.ones_like(length))


def _meeting(start, direction, point, along):
    """How far along a line from ``start`` another line (through ``point``) is met."""
    return cross(point - start, along) / cross(np.broadcast_to(direction, along.shape), along)
