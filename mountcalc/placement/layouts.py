"""Layouts of a mount: from points of the unit cube to hinge, plate and adjuster, many at once."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.placement.drives import snug_distances
from mountcalc.placement.reasons import Reason
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search_model import Action, MotorSide, Range, SearchSpace

__all__ = ["ACTIONS", "DIMENSIONS", "END_MARGIN", "KINDS", "Layouts", "layouts_from", "ways_of"]

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

# What the whole numbers in ``Layouts.kind`` and ``Layouts.acts`` stand for.
KINDS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
ACTIONS = (Action.PUSH, Action.PULL, Action.HOLD_BACK)

# Columns of a sample, each in [0, 1): they never change their place, so that samples are nested.
DIMENSIONS = (
    "hinge_x",
    "hinge_y",
    "reach",
    "motor_height",
    "motor_side",
    "adjuster",
    "thread",
    "belt",
    "motor_direction",
)

# Wood left beyond the last thing that is bolted to the plate [m] (estimate: about 1 in).
END_MARGIN = 0.025


@dataclass(frozen=True, slots=True)
class Layouts:
    """Layouts as drawn, one entry each; lengths [m], directions as unit vectors.

    ``along`` points from the hinge to the motor's foot on the plate's line, ``normal`` to the
    motor's side; ``foot`` is how far the foot is from the hinge. ``tip`` is the point of the plate
    that the adjuster bears on, or its pin in the plate; ``axis`` the way the tip moves as the
    adjuster gets longer (for a screw through the plate: out of the plate), so that a link's other
    pin is ``link_length`` behind the tip. ``tightens`` is the sign of dL/dphi. ``kind`` and
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
        """Some of them.

        Parameters
        ----------
        which : ndarray of int, ndarray of bool or slice
            Which ones, in order.
        """
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
    def axis(self) -> Array:
        """The way the tips move as the adjusters get longer, shape (N, 2)."""
        return np.stack([self.axis_x, self.axis_y], axis=-1)


def ways_of(space: SearchSpace) -> tuple[tuple[int, int], ...]:
    """Pairs of adjuster and action that a search may try, as indices of KINDS and ACTIONS.

    Parameters
    ----------
    space : SearchSpace
        What it may try; a screw through the plate has nothing to pull at.
    """
    pairs = [(kind, act) for kind in space.kinds for act in space.acts]
    return tuple(
        (KINDS.index(kind), ACTIONS.index(act))
        for kind, act in pairs
        if not (kind is AdjusterKind.JACK_IN_PLATE and act is Action.PULL)
    )


def layouts_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of the points of a sample.

    Parameters
    ----------
    unit : array_like [-]
        Shape (N, 9), each in [0, 1): one column for each of :data:`DIMENSIONS`.
    space : SearchSpace
        What the search may try.
    scenario : Scenario
        The mount that it starts from.

    Returns
    -------
    Layouts
        One for each point.

    Raises
    ------
    ValueError
        If no kind of adjuster can do any of the actions that are named.
    """
    columns = np.asarray(unit, dtype=float)
    draw = {name: columns[:, index] for index, name in enumerate(DIMENSIONS)}
    ways = np.array(ways_of(space), dtype=np.intp).reshape(-1, 2)
    if not len(ways):
        raise ValueError("a screw through the plate cannot pull: name another kind or action")
    way = _pick(draw["adjuster"], len(ways))
    belt = _pick(draw["belt"], max(len(space.belts), 1))
    hinge = _between(space.hinge_x, draw["hinge_x"]), _between(space.hinge_y, draw["hinge_y"])
    motor = _motors(draw["motor_direction"], belt, space, scenario)
    height = _between(space.motor_height, draw["motor_height"])
    along, normal, foot, fault = _plates(hinge, motor, height, draw["motor_side"], space.motor_side)
    reach = _between(space.reach, draw["reach"])
    away = motor[0] - hinge[0], motor[1] - hinge[1]
    driven = scenario.driven.shaft
    # Swinging counter-clockwise opens the belt where M is counter-clockwise of D about H.
    turned = (driven[0] - hinge[0]) * away[1] - (driven[1] - hinge[1]) * away[0]
    tightens = np.sign(turned)
    kind, acts = ways[way, 0], ways[way, 1]
    ahead = tightens * _axis_sign(kind, acts)
    offset = space.face_offset
    return Layouts(
        hinge_x=hinge[0],
        hinge_y=hinge[1],
        motor_x=motor[0],
        motor_y=motor[1],
        motor_height=height,
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
        kind=kind,
        acts=acts,
        thread=_pick(draw["thread"], len(space.threads)),
        belt=belt,
        fault=fault,
    )


def _between(ends: Range, draw: Array) -> Array:
    low, high = ends
    return low + (high - low) * draw


def _pick(draw: Array, count: int) -> Ints:
    return np.minimum((draw * count).astype(np.intp), count - 1)


def _motors(draw: Array, belt: Ints, space: SearchSpace, scenario: Scenario) -> tuple[Array, Array]:
    """Motor shafts: as drawn, or at each belt's snug distance in a direction."""
    if space.motor_direction is None:
        x, y = scenario.motor.shaft
        return np.full(draw.shape, x), np.full(draw.shape, y)
    direction = _between(space.motor_direction, draw)
    distance = snug_distances(scenario, space)[belt]
    x, y = scenario.driven.shaft
    return x + distance * np.cos(direction), y + distance * np.sin(direction)


def _plates(
    hinge: tuple[Array, Array],
    motor: tuple[Array, Array],
    height: Array,
    draw: Array,
    wanted: MotorSide,
) -> tuple[tuple[Array, Array], tuple[Array, Array], Array, Ints]:
    """The plate's line, tangent to the circle of the motor's height about its shaft.

    Of the two tangents the sample picks one; where only the other has the motor on the wanted
    side, that one is taken. With a = M - H, |a| = q and f^2 = q^2 - h^2, the tangent with its
    normal on the left (side = 1) or right (-1) has a = f u + h v.
    """
    x, y = motor[0] - hinge[0], motor[1] - hinge[1]
    square = x * x + y * y
    with np.errstate(invalid="ignore", divide="ignore"):
        foot = np.sqrt(square - height * height)
    side = np.where(draw < 0.5, 1.0, -1.0)  # noqa: PLR2004  # half of the samples each
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


def _axis_sign(kind: Ints, acts: Ints) -> Array:
    """Whether the axis points the way the tip moves as the belt tightens (+1) or against it."""
    ahead = np.where(acts == ACTIONS.index(Action.PUSH), 1.0, -1.0)
    through_plate = kind == KINDS.index(AdjusterKind.JACK_IN_PLATE)
    return np.where(through_plate, -ahead, ahead)
