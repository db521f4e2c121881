"""One layout from the definitions: points as complex numbers, lines that meet, plain statics.

Nothing of the package's geometry or statics is used, only its names and the scenario's numbers.
The board: the hinge's pin lies in the face that the motor stands on, and the wood is behind that.
Forces and moments are counter-clockwise positive here.
"""

import cmath
import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from mountcalc.scenario.driven import When
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.search import Action
from mountcalc.scenario.text.writing import Display

MARGIN = 0.025


def cross(one, other):
    return (one.conjugate() * other).imag


def dot(one, other):
    return (one.conjugate() * other).real


@dataclass
class SlowMount:
    """A layout as plain numbers, its points and directions complex."""

    scenario: object
    space: object
    hinge: complex
    motor: complex
    along: complex
    normal: complex
    reach: float
    foot: float
    kind: AdjusterKind
    act: Action
    pitch: float
    belt: object
    marks_out: int = 0

    @cached_property
    def driven(self):
        return complex(*self.scenario.driven.shaft)

    @cached_property
    def tightens(self):
        return math.copysign(1.0, cross(self.driven - self.hinge, self.motor - self.hinge))

    @property
    def tip(self):
        return self.hinge + self.reach * self.along + self.offset * self.normal

    @cached_property
    def ahead(self):
        """Whether the screw gets longer to the motor's side (1) or away from it (-1)."""
        return math.copysign(1.0, dot(self.normal, self.axis))

    def surface(self, side):
        """Where the wood ends on the motor's side (1) of the line through the pin, or the other."""
        return {1.0: 0.0, -1.0: -self.space.plate_thickness}[side]

    @property
    def offset(self):
        """Of the tip from the plate's line: on the side that looks at the jack, or out of it."""
        if self.space.face_offset is not None:
            return self.space.face_offset
        if self.kind is AdjusterKind.LINK:
            return 0.0
        if self.kind is AdjusterKind.JACK_IN_BASE:
            return self.surface(-self.ahead)
        return self.ahead * self.marks_out * self.mark

    @property
    def mark(self):
        return 0.0254 / 16 if self.scenario.display is Display.INCH else 0.001

    def stands_out(self, phi):
        """How far the fixed face is from where the screw leaves the plate, square to the face."""
        leaves = self.reach * self.along + self.surface(self.ahead) * self.normal
        gap = self.tip - self.turned(self.hinge + leaves, phi)
        return dot(gap, self.axis)

    def move_out(self, angles):
        """To the first mark at which the screw stands out by a quarter of an inch or nearly."""
        while min(self.stands_out(phi) for phi in angles) < 0.006 - 1e-9:
            self.marks_out += 1

    @cached_property
    def axis(self):
        """The way the tip moves as the screw gets longer."""
        ahead = self.tightens * 1j * self.along
        with_it = self.act is Action.PUSH
        if self.kind is AdjusterKind.JACK_IN_PLATE:
            with_it = not with_it
        return ahead if with_it else -ahead

    @cached_property
    def plate_length(self):
        return max(self.reach, self.foot + self.space.motor_feet / 2) + MARGIN

    @cached_property
    def weights(self):
        """Weight and place of motor and plate."""
        motor, plate = self.scenario.motor, self.scenario.plate
        beside = complex(*motor.center_of_mass) - complex(*motor.shaft)
        corners = [
            self.hinge + u * self.along + v * self.normal
            for u in (0.0, self.plate_length)
            for v in (self.surface(1.0), self.surface(-1.0))
        ]
        middle = sum(corners) / 4
        share = self.plate_length / self.space.plate_length
        return ((motor.weight, self.motor + beside), (plate.weight * share, middle))

    def turned(self, place, phi):
        return self.hinge + (place - self.hinge) * cmath.exp(1j * phi)

    def distance(self, phi):
        return abs(self.turned(self.motor, phi) - self.driven)

    def path_of(self, distance):
        """Belt path of a centre distance: both spans and both arcs."""
        small, large = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        half = math.acos((large - small) / distance)
        span = math.sqrt(distance**2 - (large - small) ** 2)
        return 2 * span + 2 * half * small + 2 * (math.pi - half) * large

    def tension(self, phi):
        free = self.belt.length
        return self.belt.stiffness * max(0.0, self.path_of(self.distance(phi)) / free - 1.0)

    def half_share(self, phi):
        """(E - 1)/(E + 1) of the pulley that slips first, with E = exp(mu wrap)."""
        small, large = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        half = math.acos((large - small) / self.distance(phi))
        ratios = (
            math.exp(self.scenario.motor.traction * 2 * half),
            math.exp(self.scenario.driven.traction * 2 * (math.pi - half)),
        )
        return min((ratio - 1) / (ratio + 1) for ratio in ratios)

    def leverage(self, phi):
        """Sine of the angle at the motor's shaft between hinge and driven shaft."""
        motor = self.turned(self.motor, phi)
        arm, line = self.hinge - motor, self.driven - motor
        return abs(cross(arm, line)) / (abs(arm) * abs(line))

    def bite(self, phi):
        return math.cos(phi)

    def extension(self, phi):
        """From the crossing of the screw's axis with the face, or between the pins."""
        tip = self.turned(self.tip, phi)
        turn = cmath.exp(1j * phi)
        if self.kind is AdjusterKind.LINK:
            length = self.space.link_length
            return abs(tip - (self.tip - length * self.axis)) - length
        if self.kind is AdjusterKind.JACK_IN_BASE:  # P + s e = P(phi) + w u(phi)
            start, way, target, face = self.tip, self.axis, tip, self.along * turn
        else:  # P(phi) + s e(phi) = P + w u
            start, way, target, face = tip, self.axis * turn, self.tip, self.along
        matrix = np.array([[way.real, -face.real], [way.imag, -face.imag]])
        gap = target - start
        return float(np.linalg.solve(matrix, [gap.real, gap.imag])[0])

    def push(self, phi):
        """Force on the plate for a unit of axial compression, and where it acts."""
        tip, turn = self.turned(self.tip, phi), cmath.exp(1j * phi)
        if self.kind is AdjusterKind.LINK:
            line = tip - (self.tip - self.space.link_length * self.axis)
            return line / abs(line), tip
        if self.kind is AdjusterKind.JACK_IN_BASE:
            square = self.normal * turn
            at = self.tip + self.extension(phi) * self.axis
            return square / dot(square, self.axis), at
        axis = self.axis * turn
        at = tip + self.extension(phi) * axis
        return -self.normal / dot(self.normal, axis), at

    def strands(self, phi):
        """Both strands from motor to driven pulley, left one first: a point and a direction."""
        motor = self.turned(self.motor, phi)
        small, large = self.scenario.motor.pulley_radius, self.scenario.driven.pulley_radius
        line = (self.driven - motor) / abs(self.driven - motor)
        # A radius to the touching points leans by this from the line towards the driven shaft.
        lean = math.acos((small - large) / abs(self.driven - motor))
        for side in (1, -1):
            radius = line * cmath.exp(1j * side * lean)
            start, end = motor + small * radius, self.driven + large * radius
            yield start, (end - start) / abs(end - start)

    def belts(self, phi, pulls):
        """Moment about the hinge and force on the motor of strands pulled so hard, left first."""
        moment, force = 0.0, 0j
        for (start, way), pull in zip(self.strands(phi), pulls, strict=True):
            force += self.belt.count * pull * way
            moment += self.belt.count * pull * cross(start - self.hinge, way)
        return moment, force

    def weight(self, phi):
        moment = sum(
            cross(self.turned(place, phi) - self.hinge, -1j * size) for size, place in self.weights
        )
        return moment, sum(-1j * size for size, _ in self.weights)

    def loaded(self, phi, pulls):
        """Adjuster's axial force, hinge's force and the belts' force on the motor."""
        belt_moment, belt_force = self.belts(phi, pulls)
        weight_moment, weight_force = self.weight(phi)
        unit, at = self.push(phi)
        axial = -(belt_moment + weight_moment) / cross(at - self.hinge, unit)
        return axial, abs(belt_force + weight_force + axial * unit), belt_force

    def bearing_shares(self, belt_force, name):
        """Each bearing's load over its limit, by moments about the other bearing."""
        driven = self.scenario.driven
        first, second = (bearing.position for bearing in driven.bearings)
        forces = [(driven.pulley_position, -belt_force)]
        forces += [
            (load.position, load.force * complex(*load.direction))
            for load in driven.loads
            if load.when is When.ALWAYS or name != "rest"
        ]
        on_second = sum(force * (place - first) for place, force in forces) / (second - first)
        on_first = sum(force * (second - place) for place, force in forces) / (second - first)
        for bearing, load in zip(driven.bearings, (on_first, on_second), strict=True):
            limit = bearing.starting_limit if name == "starting" else bearing.limit
            yield abs(load) / limit
