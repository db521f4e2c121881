"""Statics of a mount written down anew, with scipy's root finder: nothing here is the package's
but the scenario that its reader made.

Points are complex numbers. The plate's angle, the adjuster's extension and the balance are found
by `brentq`, the hinge's reaction and the adjuster's force from three equations of statics.
"""

import cmath
import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from mountcalc.equilibrium.states import State

STEP = math.radians(0.1)  # with which a free plate is followed to its first balance


def cross(a, b):
    return a.real * b.imag - a.imag * b.real


def dot(a, b):
    return a.real * b.real + a.imag * b.imag


@dataclass(frozen=True)
class Load:
    """Pull asked of one belt, and its centrifugal tension [N]."""

    pull: float
    centrifugal: float


@dataclass(frozen=True)
class Rest:
    """Where the plate comes to rest: state, plate angle [rad], axial adjuster force [N]."""

    state: State
    angle: float
    force: float


class PlainMount:
    """Statics of one mount at given plate angles."""

    def __init__(self, scenario):
        self.given = scenario
        self.hinge = complex(*scenario.plate.hinge)
        self.speed = scenario.motor.speed * scenario.motor.pulley_radius
        self.pull = scenario.driven.power / self.speed / scenario.belt.count

    def turned(self, point, angle):
        return self.hinge + (complex(*point) - self.hinge) * cmath.exp(1j * angle)

    def shafts(self, angle):
        """The motor shaft and the driven shaft."""
        return self.turned(self.given.motor.shaft, angle), complex(*self.given.driven.shaft)

    def strands(self, angle):
        """Touching point on the motor pulley and unit vector of the tight and the slack strand."""
        motor, driven = self.shafts(angle)
        small, large = self.given.motor.pulley_radius, self.given.driven.pulley_radius
        heading = (driven - motor) / abs(driven - motor)
        lean = math.acos((small - large) / abs(driven - motor))
        ends = []
        for side in (1, -1):
            normal = heading * cmath.exp(side * 1j * lean)
            ends.append((motor + small * normal, driven + large * normal))
        # A pulley that turns counter-clockwise drags in the strand on its left.
        if self.given.motor.rotation == "cw":
            ends.reverse()
        return [(start, (end - start) / abs(end - start), abs(end - start)) for start, end in ends]

    def wraps(self, angle):
        """On the motor and the driven pulley."""
        motor, driven = self.shafts(angle)
        difference = self.given.motor.pulley_radius - self.given.driven.pulley_radius
        lean = math.acos(difference / abs(driven - motor))
        return 2 * math.pi - 2 * lean, 2 * lean

    def path(self, angle):
        motor_wrap, driven_wrap = self.wraps(angle)
        spans = sum(span for _, _, span in self.strands(angle))
        motor_arc = self.given.motor.pulley_radius * motor_wrap
        return spans + motor_arc + self.given.driven.pulley_radius * driven_wrap

    def tension(self, angle):
        belt = self.given.belt
        return belt.stiffness * max(0.0, self.path(angle) - belt.length) / belt.length

    def most_pull(self, angle, centrifugal):
        """What one belt can carry before it slips on either pulley."""
        tractions = (self.given.motor.traction, self.given.driven.traction)
        wraps = self.wraps(angle)
        ratio = math.exp(min(mu * wrap for mu, wrap in zip(tractions, wraps, strict=True)))
        felt = max(0.0, self.tension(angle) - centrifugal)
        return 2 * felt * (ratio - 1) / (ratio + 1)

    def felt(self, angle, load):
        """Tight and slack tension of one belt as the pulleys feel them."""
        pull = min(load.pull, self.most_pull(angle, load.centrifugal))
        mean = self.tension(angle) - load.centrifugal
        return max(0.0, mean + pull / 2), max(0.0, mean - pull / 2)

    def forces(self, angle, load):
        """All forces on the plate but those of the hinge and the adjuster: point and vector."""
        given = self.given
        pulls = zip(self.strands(angle), self.felt(angle, load), strict=True)
        belts = [(point, given.belt.count * felt * along) for (point, along, _), felt in pulls]
        weights = [
            (self.turned(part.center_of_mass, angle), -1j * part.weight)
            for part in (given.motor, given.plate)
        ]
        return belts + weights

    def moment(self, angle, load):
        """About the hinge, counter-clockwise, without the adjuster."""
        return sum(cross(point - self.hinge, force) for point, force in self.forces(angle, load))

    def contact(self, angle):
        """Extension of the adjuster, where it bears on the plate, its push for unit compression."""
        adjuster = self.given.adjuster
        if adjuster.kind == "link":
            pin, base = self.turned(adjuster.plate_pin, angle), complex(*adjuster.base_pin)
            drawn = abs(complex(*adjuster.plate_pin) - base)
            return abs(pin - base) - drawn, pin, (pin - base) / abs(pin - base)
        turn = cmath.exp(1j * angle)
        axis, face = cmath.exp(1j * adjuster.axis), cmath.exp(1j * adjuster.face)
        tip, tip_on_plate = complex(*adjuster.tip), self.turned(adjuster.tip, angle)
        if adjuster.kind == "jack-in-base":
            extension = meet(tip, axis, tip_on_plate, face * turn)
            return extension, tip + extension * axis, push(face * turn, axis)
        extension = meet(tip_on_plate, axis * turn, tip, face)
        return extension, tip_on_plate + extension * axis * turn, push(face, -axis * turn)

    def reactions(self, angle, load, *, held):
        """Hinge force and axial adjuster force from force and moment balance."""
        forces = self.forces(angle, load)
        total = sum(force for _, force in forces)
        if not held:
            return -total, 0.0
        _, point, unit = self.contact(angle)
        matrix = [
            [1, 0, unit.real],
            [0, 1, unit.imag],
            [0, 0, cross(point - self.hinge, unit)],
        ]
        x, y, force = np.linalg.solve(matrix, [-total.real, -total.imag, -self.moment(angle, load)])
        return complex(x, y), force

    def can_carry(self, force):
        acts = self.given.adjuster.acts
        return acts == "both" or (force >= 0 if acts == "push" else force <= 0)

    def settle(self, start, load, *, in_contact):
        """Held at ``start``, or free to move from there to the first balance."""
        if in_contact:
            _, force = self.reactions(start, load, held=True)
            if self.can_carry(force):
                return Rest(State.HELD, start, force)
        way = math.copysign(STEP, self.moment(start, load))
        low, high = self.given.plate.travel
        angle = start
        while low <= angle + way <= high:
            if self.moment(angle, load) * self.moment(angle + way, load) < 0:
                balance = brentq(self.moment, angle, angle + way, args=(load,), xtol=1e-15)
                if self.tension(balance) > 0:
                    return Rest(State.RIDING, balance, 0.0)
            angle += way
        if self.path(angle) > self.path(start):
            return Rest(State.AT_STOP, high if way > 0 else low, 0.0)
        return Rest(State.NO_BALANCE, math.nan, math.nan)

    def snug(self):
        length = self.given.belt.length
        return brentq(lambda angle: self.path(angle) - length, *self.given.plate.travel, xtol=1e-15)

    def zero(self):
        """Snug if the adjuster carries the plate there, else where weight and belt balance."""
        in_contact = self.given.adjuster.kind != "none"
        return self.settle(self.snug(), Load(0.0, 0.0), in_contact=in_contact).angle

    def angle_at(self, turns):
        """Plate angle after turns from zero that tighten."""
        zero, advance = self.zero(), self.given.adjuster.advance_per_turn
        nudge = 1e-4
        longer = self.contact(zero + nudge)[0] - self.contact(zero - nudge)[0]
        tighter = self.path(zero + nudge) - self.path(zero - nudge)
        extension = self.contact(zero)[0] + math.copysign(advance, longer * tighter) * turns
        low, high = self.given.plate.travel
        return brentq(lambda angle: self.contact(angle)[0] - extension, low, high, xtol=1e-15)

    def loads(self):
        centrifugal = self.given.belt.mass * self.speed**2
        starting = self.given.driven.starting_factor * self.pull
        return {
            "rest": Load(0.0, 0.0),
            "running": Load(self.pull, centrifugal),
            "starting": Load(starting, 0.0),
        }

    def grip(self, start, centrifugal, *, in_contact):
        """The smallest share of the needed pull that brings the belt to the limit of slip."""

        def spare(share):
            load = Load(share * self.pull, centrifugal)
            angle = self.settle(start, load, in_contact=in_contact).angle
            return self.most_pull(angle, centrifugal) - share * self.pull

        step = 0.5
        first = next(share for share in np.arange(step, 100, step) if spare(share) <= 0)
        return brentq(spare, first - step, first, xtol=1e-13)


def meet(start, along, other, along_other):
    """How far from ``start`` two lines cross, by two equations."""
    matrix = [[along.real, -along_other.real], [along.imag, -along_other.imag]]
    gap = other - start
    return np.linalg.solve(matrix, [gap.real, gap.imag])[0]


def push(face, axis):
    """Force square to a face whose part along an axis is one."""
    normal = 1j * face
    return normal / dot(normal, axis)
