"""Random mounts, what a tape would read of them, and how far rounding may carry what is made of it.

Lengths are inches, points complex numbers from the machine's shaft. Nothing here is the package's:
the mounts are laid out and the errors followed by a second way.
"""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

import numpy as np

INCH = 0.0254
ROUNDING = 1 / 32  # of a tape read to 1/16 in; a point is rounded so, too
_KNOWN = 0.8  # share of the mounts whose belt has its number on it
_OUT = 25 / 25.4  # of a bolt through the plate, tip off the face
WAYS = {"below": -1j, "above": 1j, "left": -1 + 0j, "right": 1 + 0j}
SPANS = {
    "driven_to_motor": ("driven", "motor"),
    "hinge_to_driven": ("hinge", "driven"),
    "hinge_to_motor": ("hinge", "motor"),
    "hinge_to_bolt": ("hinge", "bolt"),
    "driven_to_bolt": ("driven", "bolt"),
    "bolt_to_post": ("bolt", "post"),
}


@dataclass
class TapeMount:
    """A mount as it stands: ``points`` by name, ``floor`` below and ``wall`` beside the shaft.

    ``height`` is the motor's shaft over the plate's face, ``direction`` the plate's; ``side`` +1 if
    the motor is on the left of that, ``tightens`` +1 if a turn counter-clockwise tightens.
    """

    points: dict[str, complex]
    floor: float
    wall: float
    wall_side: str
    height: float
    direction: float
    side: int
    tightens: int
    kind: str
    does: str
    thickness: Fraction
    length: float
    swings: dict[str, float]
    plate_lies: str
    pulleys: dict[str, float]
    other: dict[str, str] = field(default_factory=dict)

    def reads(self, key: str) -> float:
        """What an exact tape would read [in]."""
        return read(key, self.points, self.floor, self.wall, self.wall_side)

    def mirrored(self) -> TapeMount:
        """The same seen in a mirror: left is right."""
        swap = {"left": "right", "right": "left"}
        return TapeMount(
            {name: -at.conjugate() for name, at in self.points.items()},
            self.floor,
            self.wall,
            swap[self.wall_side],
            self.height,
            math.pi - self.direction,
            -self.side,
            -self.tightens,
            self.kind,
            self.does,
            self.thickness,
            self.length,
            self.swings,
            swap.get(self.plate_lies, self.plate_lies),
            self.pulleys,
            self.other,
        )


def read(key, points, floor, wall, wall_side):
    """What a tape would read between points."""
    if key in SPANS:
        return abs(points[SPANS[key][0]] - points[SPANS[key][1]])
    name, _, level = key.partition("_")
    if level == "height":
        return points[name].imag + floor
    return wall + points[name].real * (1 if wall_side == "left" else -1)


def sixteenths(length):
    """A length as it is read off a tape, to the nearest sixteenth."""
    whole, rest = divmod(round(length * 16), 16)
    parts = ([str(whole)] if whole or not rest else []) + (
        [str(Fraction(rest, 16))] if rest else []
    )
    return f"{' '.join(parts)} in"


def seeded(seed):
    """Random numbers that are the same on every machine."""
    return random.Random(seed)  # noqa: S311 (tests want repeatable numbers)


def tape_mount(seed):
    """The mount of a seed; one that nobody could tell from its mirror image is laid out anew."""
    rng = seeded(seed)
    while (found := _laid_out(rng)) is None:
        pass
    return found


def _laid_out(rng):
    pulleys = {"driven": rng.uniform(6, 14), "motor": rng.uniform(2.5, 4.5)}
    apart = sum(pulleys.values()) / 2 * rng.uniform(1.6, 3.2) + 2
    motor = cmath.rect(apart, rng.uniform(-math.pi, math.pi))
    height, direction, side = (
        rng.uniform(2.75, 4.5),
        rng.uniform(-math.pi, math.pi),
        rng.choice((1, -1)),
    )
    length, along = rng.uniform(11, 20), cmath.rect(1.0, direction)
    normal = side * 1j * along
    foot = rng.uniform(4, length - 4)
    hinge = motor - height * normal - foot * along
    swing = ((motor.conjugate() / abs(motor)) * 1j * (motor - hinge)).real  # d apart / d angle
    if abs(swing) < 3:
        return None
    tightens = 1 if swing > 0 else -1
    # The weights turn it clockwise where they are on the right of the hinge.
    falls_tight = -tightens * (motor - hinge).real > 3
    kind = rng.choice(("block", "block", "plate", "eye-bolt", *(["none"] if falls_tight else [])))
    does = rng.choice(("tightens", "holds")) if falls_tight else "tightens"
    thickness = Fraction(rng.choice((8, 12, 16, 24)), 16)
    points = {"driven": 0j, "motor": motor, "hinge": hinge}
    reach = rng.uniform(3.5, length - 0.5)
    if abs(reach - foot) < 2.5:
        return None
    off, axis = bears(kind, does, side, tightens, float(thickness))
    if kind != "none":
        points["bolt"] = hinge + along * (reach + 1j * side * off)
    if kind == "eye-bolt":
        points["post"] = points["bolt"] + axis * along * rng.uniform(4, 10)
    other = motor - hinge
    other_normal = other / other.conjugate() * normal.conjugate()  # of the plate's mirror image
    # A word that tells the plate from its mirror image about the line from hinge to motor.
    words = [
        word
        for word, way in WAYS.items()
        if _dot(-normal, way) > max(0.6, _dot(-other_normal, way) + 0.2)
    ]
    if not words:
        return None
    ends = [*points.values(), hinge + length * along]
    floor = rng.uniform(3, 30) - min(at.imag for at in ends)
    wall_side = rng.choice(("left", "right"))
    sign = 1 if wall_side == "left" else -1
    wall = rng.uniform(3, 40) - min(sign * at.real for at in points.values())
    most = 2.2 if abs(swing) > 5 else 3.5
    swings = {
        "swing_tighter": most * length / abs(swing),
        "swing_looser": most * length / abs(swing),
    }
    if max(swings.values()) > length or apart - 1.3 * most <= sum(pulleys.values()) / 2:
        return None
    return TapeMount(
        points, floor, wall, wall_side, height, direction, side, tightens, kind, does, thickness,
        length, swings, rng.choice(words), pulleys,
    )  # fmt: skip


def _dot(one, other):
    return (one.conjugate() * other).real


def bears(kind, does, side, tightens, thickness):
    """How high over the plate's face a bolt bears; the way it pushes, seen along the plate."""
    towards = 1j * tightens * (-1 if does == "holds" else 1)
    if kind == "eye-bolt":
        return -thickness / 2, towards
    axis = -towards if kind == "plate" else towards  # through the plate it pushes that off itself
    to_motor = (axis * side).imag > 0
    if kind == "plate":
        return (_OUT if to_motor else -thickness - _OUT), axis
    return (-thickness if to_motor else 0.0), axis


def has_twin(mount):
    """Whether a bolt at the same distances from hinge and machine would suit the plate as well."""
    if "bolt" not in mount.points:
        return False
    hinge, bolt = mount.points["hinge"], mount.points["bolt"]
    turn = cmath.rect(1.0, cmath.phase(hinge))  # the line from the machine's shaft to the hinge
    twin = turn * (bolt / turn).conjugate()
    seen = [(at - hinge) / cmath.rect(1.0, mount.direction) for at in (bolt, twin)]
    off = abs(seen[0].imag - seen[1].imag) / (10 if mount.kind == "plate" else 1)
    return off < 2 and seen[1].real > -2


def answers(mount, way, rng, *, bolt="tape"):
    """What a person answers: read to a sixteenth; ``bolt`` by "tape", or along the "plate"."""
    names = list(mount.points)
    told = {"driven", "motor", "hinge", *(names[3:] if bolt == "tape" else [])}
    heights = [f"{name}_height" for name in names if name in told]
    walls = [f"{name}_wall" for name in names if name in told]
    spans = [key for key, ends in SPANS.items() if told.issuperset(ends)]
    if way == "heights":
        keys = heights + walls
    elif way == "distances":
        wanted = {"hinge_height", *(["bolt_height"] if has_twin(mount) else [])}
        keys = [*heights[:2], *spans, *(one for one in heights[2:] if one in wanted)]
    else:
        keys = heights + walls + spans
    if bolt != "tape" and mount.kind != "none":
        keys.append("hinge_to_bolt")
        if mount.kind == "eye-bolt":
            keys.append("bolt_to_post")
    said = {key: sixteenths(mount.reads(key)) for key in keys}
    said |= {
        "built": "yes",
        "way": way,
        "tape_error": "1/16 in",
        "wall_side": mount.wall_side,
        "motor_lies": "left" if mount.points["motor"].real < 0 else "right",
        "adjuster": mount.kind,
        "adjuster_does": mount.does,
        "plate_lies": mount.plate_lies,
        "shaft_height": sixteenths(mount.height),
        "plate_length": sixteenths(mount.length),
        "plate_thickness": sixteenths(mount.thickness),
        "driven_pulley_across": sixteenths(mount.pulleys["driven"]),
        "motor_pulley_round": sixteenths(math.pi * mount.pulleys["motor"]),
        "motor_weight": f"{rng.uniform(12, 40):.0f} lb",
        "motor_power": rng.choice(("1/4 hp", "1/2 hp", "3/4 hp")),
        "journal_diameter": "1 1/4 in",
        "bearing_condition": rng.choice(("good", "worn")),
    } | {key: sixteenths(one) for key, one in mount.swings.items()}
    if rng.random() < _KNOWN:
        # As long as a belt over the rims, less what one of section A lies in its grooves.
        apart, radii = abs(mount.points["motor"]), [one / 2 for one in mount.pulleys.values()]
        lean = math.asin((max(radii) - min(radii)) / apart)
        wraps = math.pi * sum(radii) + 2 * lean * (max(radii) - min(radii))
        said["belt"] = f"A{2 * apart * math.cos(lean) + wraps - 2:.0f}"
    return said


def levels_of(mount):
    """Keys of all heights and distances from the wall."""
    return [f"{name}_{level}" for name in mount.points for level in ("height", "wall")]


class Tolerance:
    """How far points may be from where they are, since the tape was read to a sixteenth.

    Each reading is off by 1/32 in at most. What is found is off by as much as the pseudo-inverse of
    the readings' slopes makes of that, of what the slopes leave out (a span's curvature is one over
    its length), and by 1/32 in more since points are rounded.
    """

    def __init__(self, mount, keys):
        self.mount = mount
        self.keys = keys = [key for key in keys if key in SPANS or key in levels_of(mount)]
        names = {"driven"} | {n for key in keys for n in SPANS.get(key, (key.partition("_")[0],))}
        self.names = [name for name in mount.points if name in names and name != "driven"]
        levels = [one for one in ("height", "wall") if any(key.endswith(f"_{one}") for key in keys)]
        at = np.array([part for n in self.names for part in _parts(mount.points[n])])
        at = np.append(at, [mount.floor if one == "height" else mount.wall for one in levels])
        self.slopes = np.array([self._slope(at, levels, column) for column in range(len(at))]).T
        back = np.abs(np.linalg.pinv(self.slopes))
        off = np.full(len(keys), ROUNDING)
        for _ in range(4):
            moved = back @ off
            by = {n: math.hypot(*moved[2 * k : 2 * k + 2]) for k, n in enumerate(self.names)}
            by["driven"] = 0.0
            off = ROUNDING + np.array(
                [
                    (by[SPANS[key][0]] + by[SPANS[key][1]]) ** 2 / 2 / mount.reads(key)
                    if key in SPANS
                    else 0.0
                    for key in keys
                ]
            )
        self.moved = back @ off
        self.by = {
            name: self.moved[2 * n : 2 * n + 2] + ROUNDING for n, name in enumerate(self.names)
        }

    def _slope(self, at, levels, column):
        step = np.zeros(len(at))
        step[column] = 1e-5
        return (self._read(at + step, levels) - self._read(at - step, levels)) / 2e-5

    def _read(self, at, levels):
        points = {"driven": 0j}
        points |= {n: complex(*at[2 * k : 2 * k + 2]) for k, n in enumerate(self.names)}
        level = dict(zip(levels, at[2 * len(self.names) :], strict=True))
        return np.array(
            [
                read(
                    key,
                    points,
                    level.get("height", 0.0),
                    level.get("wall", 0.0),
                    self.mount.wall_side,
                )
                for key in self.keys
            ]
        )


def _parts(point):
    return point.real, point.imag


def spread(function, values, tolerances):
    """The most that a function of values departs while each is off by its tolerance, either way."""
    there = function(*values)
    signs = product((-1, 0, 1), repeat=len(values))
    corners = [
        [v + s * t for v, s, t in zip(values, sign, tolerances, strict=True)] for sign in signs
    ]
    return max(abs(function(*corner) - there) for corner in corners)
