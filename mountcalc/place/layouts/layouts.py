"""Layouts of a mount: from what is chosen to hinge, plate and adjuster, many at once."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.layouts.board import surface
from mountcalc.place.layouts.drives import snug_distances
from mountcalc.place.search.choices import (
    ACTIONS,
    DIMENSIONS,
    KINDS,
    Choices,
    choices_from,
    ways_of,
)
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import Action, MotorSide, SearchSpace

__all__ = [
    "ACTIONS",
    "DIMENSIONS",
    "END_MARGIN",
    "KINDS",
    "Choices",
    "Layouts",
    "choices_from",
    "layouts_from",
    "layouts_of",
    "ways_of",
]

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

# Wood left beyond the last thing that is bolted to the plate [m] (estimate: about 1 in).
END_MARGIN = 0.025


@dataclass(frozen=True, slots=True)
class Layouts:
    """Layouts as drawn, one entry each; lengths [m], directions as unit vectors.

    ``along`` points from the hinge to the motor's foot on the plate's line, which is the face that
    the motor stands on, ``normal`` to the motor's side; ``foot`` is how far the foot is from the
    hinge. ``tip`` is the point of the plate that the adjuster bears on, or its pin in the plate;
    ``axis`` the way the tip moves as the adjuster gets longer (for a screw through the plate: out
    of the plate), so that a link's other pin is ``link_length`` behind the tip. ``tightens`` is
    the sign of dL/dphi. As
    drawn a screw through the plate ends at its face; the judge, who knows how far the plate
    swings, moves its tip out. ``kind`` and
    ``acts`` are indices of :data:`KINDS` and :data:`ACTIONS`, ``thread`` and ``belt`` of the
    search's; ``fault`` is a :class:`Reason` where there is no such plate, and its places are NaN.
    """

    hinge_x: Array
    hinge_y: Array
    motor_x: Array
    motor_y: Array
    motor_height: Array
    along_x: Array
    along_y: Array
    normal_x: Array
    normal_y: Array
    foot: Array
    reach: Array
    tip_x: Array
    tip_y: Array
    axis_x: Array
    axis_y: Array
    tightens: Array
    plate_length: Array
    kind: Ints
    acts: Ints
    thread: Ints
    belt: Ints
    fault: Ints

    def __len__(self) -> int:
        return self.hinge_x.size

    def take(self, which: NDArray[np.intp] | NDArray[np.bool_] | slice) -> Layouts:
        """Some of them."""
        return Layouts(*(getattr(self, field.name)[which] for field in fields(self)))

    @property
    def hinge(self) -> Array:
        """Hinges, shape (N, 2) [m]."""
        return np.stack([self.hinge_x, self.hinge_y], axis=-1)

    @property
    def motor(self) -> Array:
        """Motor shafts, shape (N, 2) [m]."""
        return np.stack([self.motor_x, self.motor_y], axis=-1)

    @property
    def along(self) -> Array:
        """Unit vectors along the plates, shape (N, 2)."""
        return np.stack([self.along_x, self.along_y], axis=-1)

    @property
    def normal(self) -> Array:
        """Unit normals on the motors' side, shape (N, 2)."""
        return np.stack([self.normal_x, self.normal_y], axis=-1)

    @property
    def tip(self) -> Array:
        """Where the adjusters bear, shape (N, 2) [m]."""
        return np.stack([self.tip_x, self.tip_y], axis=-1)

    @property
    def offset(self) -> Array:
        """How far from the plates' lines the adjusters bear, to the motors' side [m]."""
        result: Array = (self.tip_x - self.hinge_x) * self.normal_x + (
            self.tip_y - self.hinge_y
        ) * self.normal_y
        return result

    @property
    def axis(self) -> Array:
        """The way the tips move as the adjusters get longer, shape (N, 2)."""
        return np.stack([self.axis_x, self.axis_y], axis=-1)


def layouts_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of the points of a sample."""
    return layouts_of(choices_from(unit, space, scenario), space, scenario)


def layouts_of(choices: Choices, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of what was chosen."""
    hinge, motor = (choices.hinge_x, choices.hinge_y), (choices.motor_x, choices.motor_y)
    along, normal, foot, fault = _plates(
        hinge, motor, choices.motor_height, choices.side, space.motor_side
    )
    short = np.isnan(snug_distances(scenario, space))[choices.belt]
    fault = np.where(short, int(Reason.BELT_TOO_SHORT), fault)
    away = motor[0] - hinge[0], motor[1] - hinge[1]
    driven = scenario.driven.shaft
    # Swinging counter-clockwise opens the belt where M is counter-clockwise of D about H.
    turned = (driven[0] - hinge[0]) * away[1] - (driven[1] - hinge[1]) * away[0]
    tightens = np.sign(turned)
    ahead = tightens * _axis_sign(choices.kind, choices.acts)
    reach = choices.reach
    left = np.sign(along[0] * normal[1] - along[1] * normal[0])
    offset = _offsets(choices.kind, ahead * left, space)
    return Layouts(
        hinge_x=hinge[0],
        hinge_y=hinge[1],
        motor_x=motor[0],
        motor_y=motor[1],
        motor_height=choices.motor_height,
        along_x=along[0],
        along_y=along[1],
        normal_x=normal[0],
        normal_y=normal[1],
        foot=foot,
        reach=reach,
        tip_x=hinge[0] + reach * along[0] + offset * normal[0],
        tip_y=hinge[1] + reach * along[1] + offset * normal[1],
        axis_x=-ahead * along[1],
        axis_y=ahead * along[0],
        tightens=tightens,
        plate_length=np.maximum(reach, foot + 0.5 * space.motor_feet) + END_MARGIN,
        kind=choices.kind,
        acts=choices.acts,
        thread=choices.thread,
        belt=choices.belt,
        fault=fault,
    )


def _plates(
    hinge: tuple[Array, Array],
    motor: tuple[Array, Array],
    height: Array,
    side: Array,
    wanted: MotorSide,
) -> tuple[tuple[Array, Array], tuple[Array, Array], Array, Ints]:
    """The plate's line, tangent to the circle of the motor's height about its shaft.

    With a = M - H, |a| = q and f^2 = q^2 - h^2, the tangent with its
    normal on the left (side = 1) or right (-1) has a = f u + h v.
    """
    x, y = motor[0] - hinge[0], motor[1] - hinge[1]
    square = x * x + y * y
    with np.errstate(invalid="ignore", divide="ignore"):
        foot = np.sqrt(square - height * height)
    fault = np.where(foot > 0, int(Reason.FEASIBLE), int(Reason.MOTOR_HEIGHT))
    if wanted is not MotorSide.EITHER:
        up = 1.0 if wanted is MotorSide.ABOVE else -1.0
        right_way = up * (side * foot * x + height * y) > 0
        side = np.where(right_way, side, -side)
        neither = up * (side * foot * x + height * y) <= 0
        fault = np.where((fault == 0) & neither, int(Reason.MOTOR_SIDE), fault)
    with np.errstate(invalid="ignore", divide="ignore"):
        along = (foot * x + side * height * y) / square, (foot * y - side * height * x) / square
    normal = -side * along[1], side * along[0]
    return along, normal, foot, fault


def _offsets(kind: Ints, ahead: Array, space: SearchSpace) -> Array:
    """How far from the plate's line the tip is, to the motor's side, where the axis points to it.

    A jack bears on the side that it comes from; a screw through the plate comes out of the other.
    How far it must stand out is known only where the plate's swing is.
    """
    if space.face_offset is not None:
        return np.full(kind.shape, space.face_offset)
    through_plate = kind == KINDS.index(AdjusterKind.JACK_IN_PLATE)
    jack = surface(np.where(through_plate, ahead, -ahead), space)
    return np.where(kind == KINDS.index(AdjusterKind.LINK), 0.0, jack)


def _axis_sign(kind: Ints, acts: Ints) -> Array:
    """Whether the axis points the way the tip moves as the belt tightens (+1) or against it."""
    ahead = np.where(acts == ACTIONS.index(Action.PUSH), 1.0, -1.0)
    through_plate = kind == KINDS.index(AdjusterKind.JACK_IN_PLATE)
    return np.where(through_plate, -ahead, ahead)
