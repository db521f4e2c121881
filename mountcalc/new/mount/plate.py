"""The plate with its motor and what moves it, from points and a few lengths that a tape gives.

The plate's line goes through the hinge's pin and touches the circle about the motor's shaft whose
radius is the shaft's height off the plate's face; bolt and swing hang on it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import product

from mountcalc.errors import InputError
from mountcalc.new.measurements import Measurements
from mountcalc.new.results import Taken
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Vector

_SEEN = {"below": (0.0, -1.0), "above": (0.0, 1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}
# Sine of the angle at the hinge or motor below which they count as in line.
_IN_LINE = 0.02
# How much better one place of a bolt must suit the plate than another [m] (estimate).
_TOLD_APART = 0.02
_SELDOM = 0.1  # what standing out counts over being where no bolt can be
_STANDS_OUT = 0.025  # [m] of a bolt through the plate, tip off the plate's face (estimate)


class Plate(Record):
    """The plate as it stands: unit vectors ``along`` from the hinge, ``normal`` to the motor.

    ``tightens`` is +1 where a plate that turns counter-clockwise tightens the belt, -1 where it
    loosens it; ``towards`` is the unit vector that its points move along then, square to it.
    """

    hinge: Vector
    along: Vector
    normal: Vector
    thickness: float
    tightens: int

    @property
    def direction(self) -> float:
        """The way from the hinge along the plate [rad]."""
        return math.atan2(self.along[1], self.along[0])

    @property
    def towards(self) -> Vector:
        """The way its points move as the belt tightens."""
        return -self.tightens * self.along[1], self.tightens * self.along[0]

    def at(self, distance: float, height: float) -> Vector:
        """The point so far along the plate and off its face to the motor's side [m]."""
        x, y = self.hinge
        return (
            x + distance * self.along[0] + height * self.normal[0],
            y + distance * self.along[1] + height * self.normal[1],
        )

    def height(self, point: Vector) -> float:
        """How far a point is off the face to the motor's side [m]."""
        away = point[0] - self.hinge[0], point[1] - self.hinge[1]
        return away[0] * self.normal[0] + away[1] * self.normal[1]

    def face(self, outwards: Vector) -> float:
        """Height of the face that looks a way: that of the motor's side, or of the back [m]."""
        faces_motor = outwards[0] * self.normal[0] + outwards[1] * self.normal[1] > 0
        return 0.0 if faces_motor else -self.thickness


class Built(Record):
    """A mount: its plate, points as rounded [m], what moves it, and how far it swings.

    ``adjuster`` has points [m] and directions [rad] by their keys of a scenario, ``travel`` [rad]
    is from as drawn; ``height`` [m] is the motor's shaft off the plate's face.
    """

    plate: Plate
    points: Mapping[str, Vector]
    adjuster: Mapping[str, Vector | float]
    length: float
    height: float
    travel: Vector
    taken: tuple[Taken, ...] = ()


def built(
    measured: Measurements,
    choices: tuple[Mapping[str, Vector], ...],
    height: float | None,
    guess: float,
    show: Callable[[float], str],
) -> Built:
    """Put plate and adjuster to points that fit alike, choosing those that fit the plate.

    Parameters
    ----------
    measured : Measurements
    choices : tuple of dict
        Points [m] by name, with one motor and one hinge.
    height : float or None [m]
        The motor's shaft off the plate's face, None where nobody measured it.
    guess : float [m]
        The same, to be taken then.
    show : function
        Writes a length.
    """
    taken = []
    kind, word = measured.text("adjuster"), measured.text("plate_lies")
    motor, hinge = choices[0]["motor"], choices[0]["hinge"]
    tightens = _tightens(measured, motor, hinge)
    thickness = measured.value("plate_thickness")
    if height is None and kind == "block" and "bolt" in choices[0]:
        every = [(_by_bolt(points, thickness, tightens, measured), points) for points in choices]
    else:
        if height is None:
            why = "as usual for a motor of its power (estimate)"
            taken.append(Taken("shaft_height", show(guess), why))
        plates = _by_shaft(motor, hinge, guess if height is None else height, thickness, tightens)
        every = list(product(plates, choices))
    if word is None and "bolt" not in choices[0]:
        word = "below"
        taken.append(Taken("plate_lies", word, "a motor stands on its plate"))
    if word is not None:
        x, y = _SEEN[word]
        side = max(-x * plate.normal[0] - y * plate.normal[1] for plate, _ in every)
        every = [
            (plate, points)
            for plate, points in every
            if -x * plate.normal[0] - y * plate.normal[1] == side
        ]
    every.sort(key=lambda one: _off_plate(measured, *one))
    plate, points = every[0]
    for other in every[1:]:
        apart, name = max((math.dist(points[name], at), name) for name, at in other[1].items())
        better = _off_plate(measured, *other) - _off_plate(measured, plate, points)
        if apart > _TOLD_APART > better:
            level = "wall" if f"{name}_height" in measured else "height"
            raise InputError(
                f"{name}_{level}: wanted: the measurements fit two places, {show(apart)} apart, "
                "that suit the plate alike"
            )
    length = measured.value("plate_length")
    reach = measured.value("hinge_to_bolt")
    if "plate_length" not in measured:
        met = [_along(plate, points[name]) for name in ("motor", "bolt") if name in points]
        length = max(length, 1.25 * max(*met, reach or 0.0))
    mount = standing(measured, plate, points, reach, length)
    return replace(mount, taken=tuple(taken))


def standing(
    measured: Measurements,
    plate: Plate,
    points: Mapping[str, Vector],
    reach: float | None,
    length: float,
) -> Built:
    """Put adjuster and swing to a plate; ``reach`` [m] is from the hinge to an unmeasured bolt."""
    adjuster, points = _adjuster(measured, plate, points, reach)
    swings = []
    for key in ("swing_looser", "swing_tighter"):
        half = measured.value(key) / (2 * length)
        if half >= 1:
            raise InputError(f"{key}: a plate's far end moves by less than twice its length")
        swings.append(2 * math.asin(half))
    loose, tight = swings
    travel = (-loose, tight) if plate.tightens > 0 else (-tight, loose)
    points = {**points, "plate_end": plate.at(length, 0.0)}
    return Built(plate, points, adjuster, length, plate.height(points["motor"]), travel)


def _tightens(measured: Measurements, motor: Vector, hinge: Vector) -> int:
    """Sign of the turn that takes the motor away from the machine's shaft at the origin."""
    arm = motor[0] - hinge[0], motor[1] - hinge[1]
    away = motor[1] * arm[0] - motor[0] * arm[1]
    apart = math.hypot(*motor) * math.hypot(*arm)
    if abs(away) <= _IN_LINE * apart:
        key = "hinge_to_driven" if "hinge_to_driven" in measured else "hinge_height"
        raise InputError(
            f"{key}: the hinge's pin and both shafts are in one line, so that a swing of the plate "
            "neither tightens nor loosens the belt: the hinge has to be beside that line"
        )
    return 1 if away > 0 else -1


def _by_shaft(
    motor: Vector, hinge: Vector, height: float, thickness: float, tightens: int
) -> list[Plate]:
    """Both plates through the hinge that the motor's shaft is so high above."""
    apart = math.dist(motor, hinge)
    if apart <= height:
        raise InputError(
            f"shaft_height: the hinge's pin is {apart / 0.0254:.4g} in ({1e3 * apart:.4g} mm) from "
            "the motor's shaft, no farther than the plate's face is: it would be under the motor"
        )
    way = math.atan2(motor[1] - hinge[1], motor[0] - hinge[0])
    return [
        _plate(hinge, way - s * math.asin(height / apart), s, thickness, tightens) for s in (1, -1)
    ]


def _plate(hinge: Vector, direction: float, side: int, thickness: float, tightens: int) -> Plate:
    x, y = math.cos(direction), math.sin(direction)
    return Plate(hinge, (x, y), (-side * y, side * x), thickness, tightens)


def _by_bolt(
    points: Mapping[str, Vector], thickness: float, tightens: int, measured: Measurements
) -> Plate:
    """The plate through the hinge on whose face, or back, a bolt of a block bears."""
    hinge, bolt, motor = points["hinge"], points["bolt"], points["motor"]
    reach, way = math.dist(bolt, hinge), math.atan2(bolt[1] - hinge[1], bolt[0] - hinge[0])
    turn = (bolt[0] - hinge[0]) * (motor[1] - hinge[1]) - (bolt[1] - hinge[1]) * (
        motor[0] - hinge[0]
    )
    side = 1 if turn > 0 else -1
    plate = _plate(hinge, way, side, thickness, tightens)
    _, height = _bears(measured, plate)
    lean = math.asin(max(-1.0, min(1.0, height / reach)))
    return _plate(hinge, way - side * lean, side, thickness, tightens)


def _bears(measured: Measurements, plate: Plate) -> tuple[Vector, float]:
    """The way that the adjuster's tip goes as it extends, and how high it bears [m]."""
    x, y = plate.towards
    holds = measured.text("adjuster_does") == "holds"
    if measured.text("adjuster") == "eye-bolt":
        return (x, y), -plate.thickness / 2
    pushes_plate = measured.text("adjuster") == "block"
    sign = 1 if pushes_plate is not holds else -1
    axis = sign * x, sign * y
    if pushes_plate:
        return axis, plate.face((-axis[0], -axis[1]))
    face = plate.face(axis)
    return axis, face + math.copysign(_STANDS_OUT, face + 0.5 * plate.thickness)


def _off_plate(measured: Measurements, plate: Plate, points: Mapping[str, Vector]) -> float:
    """How badly measured points of the adjuster suit a plate [m]."""
    if "bolt" not in points:
        return 0.0
    (x, y), height = _bears(measured, plate)
    off = plate.height(points["bolt"]) - height
    if measured.text("adjuster") == "plate":  # it may stand out far, though it seldom does
        out = math.copysign(1.0, height + 0.5 * plate.thickness) * off + _STANDS_OUT
        off = out if out < 0 else _SELDOM * out
    off = math.hypot(off, min(0.0, _along(plate, points["bolt"])))
    if "post" in points:
        bolt, post = points["bolt"], points["post"]
        off = math.hypot(
            off, math.dist(bolt, post) - (post[0] - bolt[0]) * x - (post[1] - bolt[1]) * y
        )
    return abs(off)


def _along(plate: Plate, point: Vector) -> float:
    x, y = point[0] - plate.hinge[0], point[1] - plate.hinge[1]
    return x * plate.along[0] + y * plate.along[1]


def _adjuster(
    measured: Measurements, plate: Plate, points: Mapping[str, Vector], reach: float | None
) -> tuple[Mapping[str, Vector | float], Mapping[str, Vector]]:
    """What moves the plate, by its keys; its points with those that the plate's line gives."""
    kind = measured.text("adjuster")
    if kind == "none":
        return {}, points
    axis, height = _bears(measured, plate)
    if "bolt" not in points:
        if reach is None:
            raise InputError("hinge_to_bolt: wanted: nothing else tells where the bolt bears")
        if reach <= abs(height):
            raise InputError("hinge_to_bolt: the bolt would bear on the hinge, and move nothing")
        points = {**points, "bolt": plate.at(math.sqrt(reach**2 - height**2), height)}
    bolt = points["bolt"]
    if kind != "eye-bolt":
        return {
            "tip": bolt,
            "axis": math.atan2(axis[1], axis[0]),
            "face": plate.direction,
        }, points
    if "post" not in points:
        sign = -1 if measured.text("adjuster_does") == "holds" else 1
        far = sign * measured.value("bolt_to_post")
        points = {**points, "post": (bolt[0] + far * axis[0], bolt[1] + far * axis[1])}
    return {"base_pin": points["post"], "plate_pin": bolt}, points
