"""The judge again, one layout at a time: scipy's root finding on the plain mount.

Slow, and in the order in which the fast one tries.
"""

import math

import numpy as np
from scipy.optimize import brentq
from slow_methods import SlowMethods
from slow_motor import slow_room
from slow_mount import MARGIN, SlowMount, cross

from mountcalc.place.feasible.layouts import ACTIONS, KINDS
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import AdjusterKind, Rotation
from mountcalc.scenario.search import Action, MotorSide

LEAST_BITE = 0.05
GRID = 25
NEAR = 1e-6
EXACT = {"xtol": 1e-15, "rtol": 1e-14}


def slow_mount(scenario, space, layouts, index):
    def place(name):
        return complex(getattr(layouts, name)[index])

    belts = [choice.belt for choice in space.belts] or [scenario.belt]
    return SlowMount(
        scenario,
        space,
        place("hinge"),
        place("motor"),
        place("along"),
        place("normal"),
        float(layouts.reach[index]),
        float(layouts.foot[index]),
        KINDS[layouts.kind[index]],
        ACTIONS[layouts.acts[index]],
        space.threads[layouts.thread[index]].pitch,
        belts[layouts.belt[index]],
    )


class RefusedError(Exception):
    pass


class SlowJudge:
    """Judges one layout; ``verdict`` is its reason and, where feasible, what it measured."""

    def __init__(self, mount, height, install, take_up):
        self.mount, self.scenario, self.space = mount, mount.scenario, mount.space
        self.height, self.allowed = height, (install, take_up)
        motor = self.scenario.motor
        self.speed = motor.speed * motor.pulley_radius
        self.pull = self.scenario.driven.power / self.speed / mount.belt.count
        self.centrifugal = mount.belt.mass * self.speed**2
        ways = {Rotation.CCW: 1, Rotation.CW: -1}
        shown = ways[motor.rotation]
        self.ways = (shown, -shown) if motor.reverses else (shown,)

    def verdict(self):
        try:
            return Reason.FEASIBLE, self.measured()
        except RefusedError as refused:
            return refused.args[0], {}

    def want(self, good, reason):
        if not good:
            raise RefusedError(reason)

    def measured(self):
        self.plate()
        install, snug, take_up = self.swing()
        self.bolt(install, take_up)
        zero = self.zero(snug, take_up)
        loose, tuned, tight = self.set_point(zero, snug, take_up)
        self.holds((loose, tuned, tight))
        most = self.loads((loose, tuned, tight))
        self.bearings(zero, tight)
        if not self.space.bolt_beside_motor:
            room = slow_room(self.mount, *written(install, take_up))
            self.want(room >= 0, Reason.MOTOR_IN_THE_WAY)
        force, hinge, _ = self.mount.loaded(tuned, self.pulls(tuned, "rest", 0, 1))
        mount, pitch = self.mount, self.mount.pitch
        turns = abs(mount.extension(tuned) - mount.extension(zero)) / pitch
        return {
            "install": install, "snug": snug, "zero": zero, "loose": loose, "set": tuned,
            "tight": tight, "take_up": take_up, "set_turns": turns,
            "set_tension": mount.tension(tuned), "adjuster": force, "hinge": hinge,
            "bolt_travel": abs(mount.extension(install) - mount.extension(take_up)),
            "worst_share": self.shares(tuned), "adjuster_most": most[0], "hinge_most": most[1],
        }  # fmt: skip

    def plate(self):
        mount, side = self.mount, self.space.motor_side
        touching = self.scenario.motor.pulley_radius + self.scenario.driven.pulley_radius
        self.want(mount.path_of(touching) <= mount.belt.length, Reason.BELT_TOO_SHORT)
        self.want(abs(mount.motor - mount.hinge) > self.height, Reason.MOTOR_HEIGHT)
        up = mount.normal.imag
        allowed = {MotorSide.ABOVE: up > 0, MotorSide.BELOW: up < 0, MotorSide.EITHER: True}
        self.want(allowed[side], Reason.MOTOR_SIDE)
        self.want(mount.foot - self.space.motor_feet / 2 >= MARGIN, Reason.FEET_PAST_HINGE)
        self.want(mount.plate_length <= self.space.plate_length, Reason.PLATE_LENGTH)

    def swing(self):
        """Plate angles at install, snug and take-up between the two dead centres."""
        mount, scenario = self.mount, self.scenario
        touching = scenario.motor.pulley_radius + scenario.driven.pulley_radius
        snug = brentq(lambda c: mount.path_of(c) - mount.belt.length, touching, 50.0, **EXACT)
        start = mount.driven - mount.hinge
        angle = math.atan2(cross(start, mount.motor - mount.hinge),
                           (start.conjugate() * (mount.motor - mount.hinge)).real)  # fmt: skip
        ends = (-angle, (math.pi if angle > 0 else -math.pi) - angle)
        near, far = snug - self.allowed[0], snug + self.allowed[1]
        self.want(near > touching, Reason.INSTALL)
        found = []
        for distance, reason in ((near, Reason.INSTALL), (far, Reason.TAKE_UP)):
            low, high = (mount.distance(end) - distance for end in ends)
            self.want(low < 0 < high, reason)
            found.append(self.root(lambda phi, d=distance: mount.distance(phi) - d, *ends))
        grid = np.linspace(*found, GRID)
        enough = all(mount.leverage(phi) >= self.space.leverage for phi in grid)
        self.want(enough, Reason.DEAD_CENTRE)
        return found[0], self.root(lambda phi: mount.distance(phi) - snug, *found), found[1]

    def root(self, function, low, high):
        return brentq(function, low, high, **EXACT)

    def bolt(self, install, take_up):
        mount = self.mount
        grid = np.linspace(install, take_up, GRID)
        if mount.kind is not AdjusterKind.LINK:
            bites = all(mount.bite(phi) > LEAST_BITE for phi in grid)
            self.want(bites, Reason.ADJUSTER_GEOMETRY)
            self.own_side(grid)
        width = take_up - install
        # A dead centre between an end and its neighbour shows only close to that end.
        grid = np.sort([*grid, install + NEAR * width, take_up - NEAR * width])
        steps = np.diff([mount.extension(phi) for phi in grid])
        self.want(np.all(steps > 0) or np.all(steps < 0), Reason.ADJUSTER_GEOMETRY)
        longest = self.space.thread_length
        if longest is None:
            link = mount.kind is AdjusterKind.LINK
            longest = self.space.link_length / 2 if link else self.space.bolt_length
        travel = abs(mount.extension(install) - mount.extension(take_up))
        self.want(travel <= longest, Reason.THREAD_LENGTH)

    def own_side(self, grid):
        """A screw in the plate ends beyond it, one in the base before it."""
        mount = self.mount
        if mount.kind is AdjusterKind.JACK_IN_PLATE:
            if self.space.face_offset is None:
                mount.move_out((0.0, grid[0], grid[-1]))
            beyond = all(mount.stands_out(phi) > 0 for phi in grid)
            self.want(beyond, Reason.ADJUSTER_GEOMETRY)
        else:
            wood = mount.surface(-mount.ahead)
            before = mount.ahead * (wood - mount.offset) >= -NEAR
            self.want(before, Reason.ADJUSTER_GEOMETRY)

    def carried(self, axial):
        return axial <= 1e-6 if self.mount.act is Action.PULL else axial >= -1e-6

    def zero(self, snug, take_up):
        mount = self.mount
        if self.carried(mount.loaded(snug, (0.0, 0.0))[0]):
            return snug

        def net(phi):
            moment, _ = mount.belts(phi, (mount.tension(phi),) * 2)
            return (moment + mount.weight(phi)[0]) * mount.tightens

        # Taken off the adjuster, the weight must pull to the tight side and the belt stop it.
        self.want(net(snug) > 0 > net(take_up), Reason.LEAVES_ADJUSTER)
        return self.root(net, snug, take_up)

    def needed(self, phi):
        limits, share = self.scenario.limits, self.mount.half_share(phi)
        least = limits.grip * self.pull / (2 * share) + self.centrifugal
        if limits.starting_grip is None:
            return least
        starting = limits.starting_grip * self.scenario.driven.starting_factor * self.pull
        return max(least, starting / (2 * share))

    def set_point(self, zero, snug, take_up):
        """As loose as the leading method or the hand may leave it, its aim, and four errors on."""
        mount, error = self.mount, self.scenario.limits.turn_error

        def short(phi):
            return self.needed(phi) - mount.tension(phi)

        def tighter(one, other):
            self.want(None not in {one, other}, Reason.TAKE_UP)
            return max(one, other, key=lambda phi: phi * mount.tightens)

        self.want(short(take_up) <= 0, Reason.TAKE_UP)
        floor = zero if short(zero) <= 0 else self.root(short, snug, take_up)
        methods = SlowMethods(mount, zero, snug, take_up, floor)
        method = methods.leading()
        aim = methods.where(method.shown, method.missed(method.most(floor), 2))
        tuned = tighter(aim, methods.turned(floor, error))
        tight = tighter(methods.tightest(method, 4), methods.turned(tuned, error))
        reading = method.missed(method.shown(tuned), -1)
        loose = methods.where(method.most, reading), methods.turned(tuned, -error)
        return min(*loose, key=lambda phi: phi * mount.tightens), tuned, tight

    def pulls(self, phi, name, times, way):
        """Felt pulls of the left and the right strand."""
        mean = self.mount.tension(phi) - (self.centrifugal if name == "running" else 0.0)
        mean = max(mean, 0.0)
        half = min(times * self.pull / 2, mean * self.mount.half_share(phi))
        return mean + way * half, mean - way * half

    def cases(self):
        yield "rest", 0.0, 1
        for way in self.ways:
            yield "running", 1.0, way
            yield "starting", self.scenario.driven.starting_factor, way

    def holds(self, angles):
        """Held at every pull from the case's to the one up to which grip is promised."""
        limits, factor = self.scenario.limits, self.scenario.driven.starting_factor
        promised = {
            "rest": 0.0,
            "running": limits.grip,
            "starting": factor * (limits.starting_grip or 0),
        }
        for phi in angles:
            for name, times, way in self.cases():
                for pull in np.linspace(times, max(times, promised[name]), 5):
                    axial, _, _ = self.mount.loaded(phi, self.pulls(phi, name, pull, way))
                    self.want(self.carried(axial), Reason.LEAVES_ADJUSTER)

    def loads(self, angles):
        limits = self.scenario.limits
        found = [
            self.mount.loaded(phi, self.pulls(phi, *case))
            for phi in angles
            for case in self.cases()
        ]
        axial, hinge = max(abs(one[0]) for one in found), max(one[1] for one in found)
        self.want(limits.adjuster is None or axial <= limits.adjuster, Reason.ADJUSTER_LOAD)
        self.want(limits.hinge is None or hinge <= limits.hinge, Reason.HINGE_LOAD)
        return axial, hinge

    def shares(self, phi):
        return max(
            share
            for name, times, way in self.cases()
            for share in self.mount.bearing_shares(
                self.mount.belts(phi, self.pulls(phi, name, times, way))[1], name
            )
        )

    def bearings(self, zero, tight):
        worst = max(self.shares(phi) for phi in np.linspace(zero, tight, GRID))
        self.want(worst <= 1, Reason.BEARING)


def written(install, take_up):
    """Stops as a file tells them: in half degrees, beyond where they must be."""
    half = math.radians(0.5)
    low, high = sorted((install, take_up))
    return math.floor((low - NEAR) / half) * half, math.ceil((high + NEAR) / half) * half


def slow_verdict(scenario, space, layouts, index, allowances):
    mount = slow_mount(scenario, space, layouts, index)
    return SlowJudge(mount, float(layouts.motor_height[index]), *allowances).verdict()
