"""The ways to set a belt by, on the plain mount: each a scale over the plate's angle.

A method reads least and most for the belts that have the same tension: ``shown`` is that of the
belt reckoned with. Roots are scipy's, between zero and full take-up; None lies past that.
"""

import math
from dataclasses import dataclass

from scipy.optimize import brentq

EXACT = {"xtol": 1e-15, "rtol": 1e-14}
DEFLECTIONS = (64, 100, 128, 200, 256)


@dataclass
class SlowMethod:
    """Readings over the plate's angle, and a reading that is so many errors off."""

    shown: object
    most: object
    least: object
    missed: object


@dataclass
class SlowMethods:
    """All methods of a mount whose fewest turns with grip are at the angle ``floor``."""

    mount: object
    zero: float
    snug: float
    take_up: float
    floor: float

    def where(self, function, value):
        """Angle from zero to take-up at which a rising function has a value."""
        if function(self.zero) >= value:
            return self.zero
        if function(self.take_up) < value:
            return None
        return brentq(lambda phi: function(phi) - value, self.zero, self.take_up, **EXACT)

    def at_tension(self, tension):
        """Angle from snug to take-up at which the belt reckoned with has a tension."""
        if self.mount.tension(self.take_up) <= tension:
            return self.take_up
        if tension <= self.mount.tension(self.snug):
            return self.snug
        return brentq(
            lambda phi: self.mount.tension(phi) - tension, self.snug, self.take_up, **EXACT
        )

    def turns(self, phi):
        mount = self.mount
        way = mount.extension(self.take_up) - mount.extension(self.snug)
        gone = mount.extension(phi) - mount.extension(self.zero)
        return math.copysign(1.0, way) * gone / mount.pitch

    def turned(self, phi, turns):
        return self.where(self.turns, self.turns(phi) + turns)

    def all(self):
        limits, belt = self.mount.scenario.limits, self.mount.belt
        found = {"balance": self.balance(limits), "press": self.press(limits, belt)}
        if belt.mass > 0:
            found["hum"] = share(lambda phi: math.sqrt(self.mount.tension(phi)), limits.hum_error)
        if self.zero == self.snug:
            found["turns"] = self.counted(limits, belt)
        return found

    def balance(self, limits):
        """The pull square to the line from hinge to tip, over that of the slack belt."""
        mount = self.mount
        lever = abs(mount.tip - mount.hinge)

        factor, doubt = mount.belt.stiffness_factor, mount.scenario.motor.weight_error

        def gained(times, weight):
            """With a belt so many times as stiff, which has the tension at another angle."""

            def read(phi):
                tension = mount.tension(phi)
                at = self.at_tension(tension / times)
                belts, _ = mount.belts(at, (tension,) * 2)
                gone = mount.weight(at)[0] - mount.weight(self.snug)[0]
                return -mount.tightens * (belts + weight * gone) / lever

            return read

        corners = [gained(factor**way, 1 + side * doubt) for way in (-1, 1) for side in (-1, 1)]
        error = 2 * limits.balance_error
        return SlowMethod(
            gained(1.0, 1.0),
            lambda phi: max(read(phi) for read in corners),
            lambda phi: min(read(phi) for read in corners),
            lambda reading, errors: reading + errors * error,
        )

    def press(self, limits, belt):
        """A string pressed in, whose belt stretches as a whole or in its span alone."""
        mount, factor = self.mount, belt.stiffness_factor
        radii = mount.scenario.driven.pulley_radius - mount.scenario.motor.pulley_radius
        part = math.sqrt(mount.distance(self.snug) ** 2 - radii**2) / belt.length
        least = mount.tension(self.floor)
        for over in DEFLECTIONS:
            if 2 * factor * belt.stiffness / over**2 <= least / 3 * (1 + 1e-12):
                break

        def force(times, spread):
            stretch = 2 * times * belt.stiffness * spread / over**2
            return lambda phi: 4 / over * (mount.tension(phi) + stretch)

        most, low = force(factor, 1.0), force(1 / factor, part)
        middle = force(1.0, (1.0 + part) / 2)
        return SlowMethod(middle, most, low, share(None, limits.push_error).missed)

    def counted(self, limits, belt):
        """Turns from snug: a softer belt has so much less tension after as many."""

        def other(times):
            def turns(phi):
                at = self.where(self.mount.tension, times * self.mount.tension(phi))
                return math.inf if at is None else self.turns(at)

            return turns

        factor, error = belt.stiffness_factor, limits.turn_error
        return SlowMethod(
            self.turns,
            other(factor),
            other(1 / factor),
            lambda reading, errors: reading + errors * error,
        )

    def tightest(self, method, errors):
        """The tightest that a belt may be so many errors above what surely grips."""
        return self.where(method.least, method.missed(method.most(self.floor), errors))

    def leading(self):
        """The method that leaves least tension too much, or turns where they ask little more."""
        methods = self.all()
        tops = {name: self.tension(self.tightest(one, 2)) for name, one in methods.items()}
        turns = tops.pop("turns", math.inf)
        lead = min(tops, key=tops.get)
        by_hand = self.tension(self.turned(self.floor, 2 * self.mount.scenario.limits.turn_error))
        if math.isfinite(turns) and turns <= 1.25 * max(tops[lead], by_hand):
            lead = "turns"
        return methods[lead]

    def tension(self, phi):
        return math.inf if phi is None else self.mount.tension(phi)


def share(shown, error):
    """A method whose readings are off by a share."""
    return SlowMethod(shown, shown, shown, lambda reading, errors: reading * (1 + error) ** errors)
