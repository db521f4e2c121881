"""An invented mount to choose belts for, with plain geometry of its own and no package kernels.

The driven shaft is at the origin, the motor's on a plate that stands up from its hinge. The plate
swings the motor away from the driven shaft as its angle rises, so the belt tightens that way.
"""

import json
import math
from dataclasses import dataclass, replace

from scipy.optimize import brentq

from mountcalc.belts.choice import choose_belt
from mountcalc.scenario.reader import parse_scenario

_BEARING = {"journal_diameter": "1 in", "length": "2 in", "limit": "30 psi"}


@dataclass(frozen=True)
class Geometry:
    """Two pulleys and an arm, all in one unit; angles in degrees."""

    small: float = 3.0
    large: float = 9.0
    hinge: tuple[float, float] = (-20.0, -20.0)
    motor: tuple[float, float] = (-20.0, 0.0)
    travel: tuple[float, float] = (-12.0, 12.0)

    def center(self, degrees):
        """Shaft to shaft by the law of cosines, in the triangle of hinge, motor, driven shaft."""
        arm = math.dist(self.hinge, self.motor)
        base = math.hypot(*self.hinge)
        to_motor = math.atan2(self.motor[1] - self.hinge[1], self.motor[0] - self.hinge[0])
        to_driven = math.atan2(-self.hinge[1], -self.hinge[0])
        between = to_motor - to_driven + math.radians(degrees)
        return math.sqrt(arm**2 + base**2 - 2 * arm * base * math.cos(between))

    def length(self, center):
        """Exact open belt (Shigley, Machine Design, Eq. 17-2): tangents and two arcs."""
        more = self.large - self.small
        tilt = math.asin(more / (2 * center))
        arcs = (self.large * (math.pi + 2 * tilt) + self.small * (math.pi - 2 * tilt)) / 2
        return math.sqrt(4 * center**2 - more**2) + arcs

    def wraps(self, center):
        """Wraps [deg] on the smaller and the larger pulley (Shigley, Eq. 17-1)."""
        tilt = math.degrees(math.asin((self.large - self.small) / (2 * center)))
        return 180 - 2 * tilt, 180 + 2 * tilt

    def snug(self, length):
        """Plate angle [deg] of a belt, None where it never fits: the path rises with the angle."""
        low, high = (self.length(self.center(end)) - length for end in self.travel)
        if low * high > 0:
            return None
        return brentq(
            lambda at: self.length(self.center(at)) - length, *self.travel, xtol=1e-13, rtol=1e-14
        )


def _lines(values):
    return [f"{key} = {json.dumps(value)}" for key, value in values.items() if value is not None]


def mount(geometry=None, unit="in", **tables):
    """A scenario; keys of each table over those that it has by itself, None to leave one out."""
    geometry = geometry or Geometry()

    def size(number):
        return f"{number!r} {unit}"

    def point(at):
        return [size(number) for number in at]

    whole = {
        "driven": {
            "shaft": point((0.0, 0.0)),
            "pulley_diameter": size(geometry.large),
            "pulley_position": "-3 in",
            "power": "0.4 hp",
        },
        "motor": {
            "shaft": point(geometry.motor),
            "pulley_diameter": size(geometry.small),
            "power": "1/2 hp",
            "speed": "1725 rpm",
            "rotation": "ccw",
            "weight": "28 lb",
        },
        "belt": {"section": "A", "length": "61.3 in"},
        "plate": {
            "hinge": point(geometry.hinge),
            "travel": [f"{end!r} deg" for end in geometry.travel],
        },
        "adjuster": {"kind": "none"},
    }
    text = ['title = "Invented drive"', f'display = "{tables.pop("display", "inch")}"']
    for name, values in whole.items():
        text += ["", f"[{name}]", *_lines(values | tables.pop(name, {}))]
    assert not tables, tables
    for name, position in (("pulley end", "0 in"), ("far end", "14 in")):
        bearing = {"name": name, "position": position} | _BEARING
        text += ["", "[[driven.bearing]]", *_lines(bearing)]
    return parse_scenario("\n".join(text) + "\n")


def choice(geometry=None, wanted_speed=None, **tables):
    """What is chosen for such a mount."""
    return choose_belt(mount(geometry, **tables), wanted_speed)


def option(chosen, designation):
    """One length of a choice by its name."""
    (found,) = [one for one in chosen.belts if one.designation == designation]
    return found


def travelling(geometry, low, high):
    """The geometry with other ends of the travel [deg]."""
    return replace(geometry, travel=(low, high))
