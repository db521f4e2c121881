"""Moments about the hinge from plain geometry: tangent lines, weights and a pull, as vectors.

Nothing here is shared with the package but the scenario's numbers.
"""

import math

import numpy as np
from scipy.optimize import brentq


class Plate:
    """A scenario's plate at any angle, as drawn at 0."""

    def __init__(self, scenario):
        self.scenario = scenario
        self.hinge = np.array(scenario.plate.hinge)
        self.driven = np.array(scenario.driven.shaft)

    def turned(self, point, angle):
        """A point of the plate after the plate has turned."""
        x, y = np.array(point) - self.hinge
        cos, sin = math.cos(angle), math.sin(angle)
        return self.hinge + np.array([cos * x - sin * y, sin * x + cos * y])

    def tangents(self, angle):
        """Both strands: where each leaves the motor's pulley, and where it meets the other."""
        motor = self.turned(self.scenario.motor.shaft, angle)
        small, large = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        along = self.driven - motor
        distance = math.hypot(*along)
        strands = []
        for side in (1, -1):
            # Normal n with n . (D - M) = r - R: both circles touch the line on the same side.
            lean = math.acos((small - large) / distance)
            heading = math.atan2(along[1], along[0]) + side * lean
            normal = np.array([math.cos(heading), math.sin(heading)])
            strands.append((motor + small * normal, self.driven + large * normal))
        return strands

    def belt_length(self, angle):
        """Length around both pulleys, straights and arcs."""
        motor = self.turned(self.scenario.motor.shaft, angle)
        small, large = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        straight = sum(math.dist(*strand) for strand in self.tangents(angle))
        lean = math.acos((small - large) / math.dist(motor, self.driven))
        return straight + 2 * (math.pi - lean) * small + 2 * lean * large

    def tension(self, angle):
        """Rest tension of one strand of one belt, negative where the belt hangs."""
        belt = self.scenario.belt
        return belt.stiffness * (self.belt_length(angle) - belt.length) / belt.length

    def angle_of(self, tension, near):
        """The plate angle with a tension, beside another angle."""
        return brentq(
            lambda angle: self.tension(angle) - tension, near - 0.02, near + 0.02, xtol=1e-15
        )

    def forces(self, angle, tension):
        """Forces on the plate but for hinge and adjuster, and where each acts."""
        belts = self.scenario.belt.count * tension
        found = []
        for start, end in self.tangents(angle):
            found.append((belts * (end - start) / math.dist(start, end), start))
        for part in (self.scenario.motor, self.scenario.plate):
            at = self.turned(part.center_of_mass, angle)
            found.append((np.array([0.0, -part.weight]), at))
        return found

    def tightens(self, angle):
        """Which way the plate must turn to tighten: 1 counter-clockwise, -1 clockwise."""
        return math.copysign(1, self.belt_length(angle + 1e-4) - self.belt_length(angle - 1e-4))


def moment(forces, about):
    """Counter-clockwise moment of forces about a point."""
    return sum(
        (at[0] - about[0]) * force[1] - (at[1] - about[1]) * force[0] for force, at in forces
    )
