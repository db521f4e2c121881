"""Hands that set a mount by one of the methods: what they read, and what the belt then has.

A hand knows only what the page tells. The belt is as stiff as it happens to be and the weights are
what they are; the hand's readings are off. What becomes of the belt is the forward solver's to say:
plate moments, spans and turns of that mount, not the advice's own ranges.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import MethodName


@dataclass(frozen=True)
class RealMounts:
    """A mount with belts of several stiffnesses and weights, each solved once."""

    scenario: object
    setting: object
    found: dict

    @classmethod
    def of(cls, scenario, setting, steps):
        factor, error = scenario.belt.stiffness_factor, scenario.motor.weight_error
        found = {}
        for stiff in np.linspace(-1, 1, steps):
            for weight in (-1, 0, 1):
                belt = replace(
                    scenario.belt, stiffness=scenario.belt.stiffness * factor ** float(stiff)
                )
                heavy = 1 + weight * error
                motor = replace(scenario.motor, weight=scenario.motor.weight * heavy)
                plate = replace(scenario.plate, weight=scenario.plate.weight * heavy)
                real = replace(scenario, belt=belt, motor=motor, plate=plate)
                found[float(stiff), weight] = Real.of(requirements_of(real))
        return cls(scenario, setting, found)


@dataclass(frozen=True)
class Real:
    """One of them over its turns: rest tension, readings without error, and what it keeps."""

    requirements: object
    turns: np.ndarray
    tension: np.ndarray
    gained: np.ndarray
    swings: np.ndarray
    span: np.ndarray
    snug_span: float
    grip: np.ndarray
    share: np.ndarray
    adjuster: np.ndarray

    @classmethod
    def of(cls, requirements, turns=None):
        if turns is None:  # fine where it matters, and as far as the travel goes
            turns = requirements.last_turn * np.linspace(0, 1, 161) ** 2
        way = requirements.solved
        rest = way.case(way.place(turns), way.demands["rest"], with_grip=False)
        mount = way.mount
        hinge, adjuster = mount.scenario.plate.hinge, mount.scenario.adjuster
        at = adjuster.tip or adjuster.plate_pin
        lever = math.dist(at, hinge)

        def pull(phi, tension):
            """By virtual work: what the plate's energy asks of a pull on the spot."""
            step = 1e-6
            length = mount.path(phi + step).length - mount.path(phi - step).length
            weights = np.zeros_like(phi)
            parts = (mount.scenario.motor, mount.scenario.plate)
            for weight, place in ((part.weight, part.center_of_mass) for part in parts):
                arm, start = (
                    math.dist(place, hinge),
                    math.atan2(place[1] - hinge[1], place[0] - hinge[0]),
                )
                rise = np.sin(start + phi + step) - np.sin(start + phi - step)
                weights = weights + weight * arm * rise
            return (mount.count * tension * length + weights) / (2 * step) / lever

        slack = pull(np.array([way.travel.snug]), 0.0)
        gained = way.travel.tightens * (pull(rest.phi, rest.tension) - slack)
        path = mount.path(rest.phi)
        span = np.sqrt(path.span_squared)
        snug_span = math.sqrt(mount.path(np.array([way.travel.snug])).span_squared[0])
        mass = mount.scenario.belt.mass
        swings = np.sqrt(rest.tension / mass) / 2 / span if mass > 0 else np.zeros_like(span)
        grip = np.min(np.stack(list(requirements.grip_margins(turns).values())), axis=0)
        share = requirements.worst(turns)
        return cls(
            requirements,
            turns,
            rest.tension,
            gained,
            swings,
            span,
            snug_span,
            grip,
            share,
            np.abs(rest.adjuster),
        )

    def keeps(self, turns):
        """Whether grip and limits are kept at these turns."""
        grip = np.interp(turns, self.turns, np.minimum(self.grip, 50.0))
        share = np.interp(turns, self.turns, np.minimum(self.share, 50.0))
        return grip >= 1 - 2e-3 and share <= 1 + 2e-3

    def by(self, values, wanted):
        """Turns at which a rising reading has a value."""
        return float(np.interp(wanted, values, self.turns))

    def pressed(self, method, spread):
        """Force of a push where ``spread`` of the stretch is taken by the rest of the belt."""
        ratio, stiffness = (
            1 / method.span_over_deflection,
            self.requirements.scenario.belt.stiffness,
        )
        return 4 * ratio * (self.tension + 2 * stiffness * ratio**2 * spread)

    def reading(self, method):
        """What a method reads here with the belt reckoned with."""
        if method.name is MethodName.PRESS:
            creeping = self.snug_span / self.requirements.scenario.belt.length
            return 0.5 * (self.pressed(method, 1.0) + self.pressed(method, creeping))
        swings = self.swings * self.span / self.snug_span
        read = {MethodName.BALANCE: self.gained, MethodName.TURNS: self.turns}
        if method.name is MethodName.SPRING:
            return 1e3 * self.adjuster / self.requirements.scenario.adjuster.coil.rate
        return read.get(method.name, swings)


def error_of(method, limits):
    """One error of a method's reading, and whether it is a share of it."""
    return {
        MethodName.BALANCE: (2 * limits.balance_error, False),
        MethodName.PRESS: (limits.push_error, True),
        MethodName.HUM: (limits.hum_error, True),
        MethodName.TURNS: (limits.turn_error, False),
    }[method.name]


def set_by(method, scenario, real, random):
    """Turns at which a hand that goes by a method leaves a real mount."""
    limits, belt = scenario.limits, real.requirements.scenario.belt
    if method.name is MethodName.TURNS:
        return method.aim + random.uniform(-1, 1) * limits.turn_error
    if method.name is MethodName.BALANCE:
        two = random.uniform(-1, 1) + random.uniform(-1, 1)
        return real.by(real.gained, method.aim + two * limits.balance_error)
    if method.name is MethodName.HUM:
        return real.by(real.swings, method.aim * (1 + random.uniform(-1, 1) * limits.hum_error))
    if method.name is MethodName.SPRING:
        coil = scenario.adjuster.coil
        off = random.uniform(-1, 1) + random.uniform(-1, 1)
        pressed = method.aim * 1e-3 + off * coil.length_error
        rate = coil.rate * (1 + random.uniform(-1, 1) * coil.rate_error)
        return real.by(real.adjuster, rate * pressed)
    spread = math.exp(random.uniform(0, 1) * math.log(real.span[0] / belt.length))
    force = real.pressed(method, spread)
    return real.by(force, method.aim * (1 + random.uniform(-1, 1) * limits.push_error))
