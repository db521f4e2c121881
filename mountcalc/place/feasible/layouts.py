"""Layouts of a mount: from points of the unit cube to hinge, plate and adjuster, many at once."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.drives import snug_distances
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import AdjusterKind, Display, Scenario
from mountcalc.scenario.search import Action, MotorSide, Range, SearchSpace

__all__ = [
    "ACTIONS",
    "DIMENSIONS",
    "END_MARGIN",
    "IN_BASE",
    "IN_PLATE",
    "KINDS",
    "LEAST_STAND_OUT",
    "LINK",
    "STEPS",
    "Choices",
    "Layouts",
    "bears_on_its_side",
    "choices_from",
    "layouts_from",
    "layouts_of",
    "ways_of",
    "with_tips_out",
]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

# What the whole numbers in ``Layouts.kind`` and ``Layouts.acts`` stand for.
KINDS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
IN_BASE, IN_PLATE, LINK = range(3)
ACTIONS = (Action.PUSH, Action.PULL, Action.HOLD_BACK)
_PUSH, _PULL = 0, 1

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

# What a rule is divided into [m]: sixteenths of an inch, or millimetres.
STEPS = {Display.INCH: 0.0254 / 16, Display.METRIC: 0.001}

# Wood left beyond the last thing that is bolted to the plate [m] (estimate: about 1 in).
END_MARGIN = 0.025

# By how much the fixed face under a screw through the plate stays clear of the plate's face where
# nothing is said [m] (estimate: about 1/4 in, for a tip that can be seen and a plate that flexes).
LEAST_STAND_OUT = 0.006
_ROUNDING = 1e-9  # [m]


@dataclass(frozen=True, slots=True)
class Choices:
    """What decides layouts, one entry each; lengths [m].

    ``side`` is 1 where the plate's normal, on the motor's side, is to be on the left of the way
    from the hinge to the motor's foot, else -1. ``kind`` and ``acts`` are indices of :data:`KINDS`
    and :data:`ACTIONS`, ``thread`` and ``belt`` of the search's.
    """

    hinge_x: Array
    hinge_y: Array
    reach: Array
    motor_height: Array
    motor_x: Array
    motor_y: Array
    side: Array
    kind: Ints
    acts: Ints
    thread: Ints
    belt: Ints

    def take(self, which: Ints | Bools | slice) -> Choices:
        """Some of them."""
        return Choices(*(getattr(self, field.name)[which] for field in fields(self)))


@dataclass(frozen=True, slots=True)
class Layouts:
    """Layouts as drawn, one entry each; lengths [m], directions as unit vectors.

    ``along`` points from the hinge to the motor's foot on the plate's line, which is the face that
    the motor stands on, ``normal`` to the motor's side; ``foot`` is how far the foot is from the
    hinge. ``tip`` is the point of the plate that the adjuster bears on, or its pin in the plate;
    ``axis`` the way the tip moves as the adjuster gets longer (for a screw through the plate: out
    of the plate), so that a link's other pin is ``link_length`` behind the tip. ``tightens`` is
    the sign of dL/dphi. As drawn a screw through the plate ends at its face; :func:`with_tips_out`
    moves its tip out where the plate's swing is known. ``kind`` and ``acts`` are indices of
    :data:`KINDS` and :data:`ACTIONS`, ``thread`` and ``belt`` of the search's; ``fault`` is a
    :class:`Reason` where there is no such plate, and its places are NaN.
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

    def take(self, which: Ints | Bools | slice) -> Layouts:
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
    def axis(self) -> Array:
        """The way the tips move as the adjusters get longer, shape (N, 2)."""
        return np.stack([self.axis_x, self.axis_y], axis=-1)

    @property
    def offset(self) -> Array:
        """How far from the plates' lines the adjusters bear, to the motors' side [m]."""
        x, y = self.tip_x - self.hinge_x, self.tip_y - self.hinge_y
        return x * self.normal_x + y * self.normal_y

    @property
    def ahead(self) -> Array:
        """+1 where an adjuster gets longer to the motor's side, -1 where away from it."""
        return np.sign(self.axis_x * self.normal_x + self.axis_y * self.normal_y)

    @property
    def turn(self) -> Array:
        """+1 where the motor's side is on the left of the way along the plate, else -1."""
        return np.sign(self.along_x * self.normal_y - self.along_y * self.normal_x)


def ways_of(space: SearchSpace) -> tuple[tuple[int, int], ...]:
    """Pairs of adjuster and action that a search may try, as indices of KINDS and ACTIONS."""
    pairs = [(kind, act) for kind in space.kinds for act in space.acts]
    return tuple(
        (KINDS.index(kind), ACTIONS.index(act))
        for kind, act in pairs
        if not (kind is AdjusterKind.JACK_IN_PLATE and act is Action.PULL)
    )


def choices_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Choices:
    """What the points of a sample choose."""
    columns = np.asarray(unit, dtype=float)
    draw = {name: columns[:, index] for index, name in enumerate(DIMENSIONS)}
    ways = np.array(ways_of(space), dtype=np.intp).reshape(-1, 2)
    if not len(ways):
        raise ValueError("a screw through the plate cannot pull: name another kind or action")
    way = _pick(draw["adjuster"], len(ways))
    belt = _pick(draw["belt"], max(len(space.belts), 1))
    motor = _motors(draw["motor_direction"], belt, space, scenario)
    return Choices(
        hinge_x=_between(space.hinge_x, draw["hinge_x"]),
        hinge_y=_between(space.hinge_y, draw["hinge_y"]),
        reach=_between(space.reach, draw["reach"]),
        motor_height=_between(space.motor_height, draw["motor_height"]),
        motor_x=motor[0],
        motor_y=motor[1],
        side=np.where(draw["motor_side"] < 0.5, 1.0, -1.0),  # noqa: PLR2004  # half of them each
        kind=ways[way, 0],
        acts=ways[way, 1],
        thread=_pick(draw["thread"], len(space.threads)),
        belt=belt,
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


def layouts_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of the points of a sample."""
    return layouts_of(choices_from(unit, space, scenario), space, scenario)


def layouts_of(choices: Choices, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of what was chosen."""
    hinge, motor = (choices.hinge_x, choices.hinge_y), (choices.motor_x, choices.motor_y)
    along, normal, foot, fault = _plates(choices, space.motor_side)
    short = np.isnan(snug_distances(scenario, space))[choices.belt]
    fault = np.where(short, int(Reason.BELT_TOO_SHORT), fault)
    away = motor[0] - hinge[0], motor[1] - hinge[1]
    driven = scenario.driven.shaft
    # Swinging counter-clockwise opens the belt where M is counter-clockwise of D about H.
    turned = (driven[0] - hinge[0]) * away[1] - (driven[1] - hinge[1]) * away[0]
    tightens = np.sign(turned)
    through_plate = choices.kind == IN_PLATE
    pushes = np.where(choices.acts == _PUSH, 1.0, -1.0)
    # Whether the axis points the way the tip moves as the belt tightens, or against it.
    ahead = tightens * np.where(through_plate, -pushes, pushes)
    left = np.sign(along[0] * normal[1] - along[1] * normal[0])
    if space.face_offset is None:
        # A jack bears on the side that it comes from; a screw through the plate comes out of the
        # other, and how far it must stand out is known only where the plate's swing is.
        jack = surface(np.where(through_plate, ahead * left, -ahead * left), space)
        offset = np.where(choices.kind == LINK, 0.0, jack)
    else:
        offset = np.full(choices.kind.shape, space.face_offset)
    reach = choices.reach
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
    choices: Choices, wanted: MotorSide
) -> tuple[tuple[Array, Array], tuple[Array, Array], Array, Ints]:
    """The plate's line, tangent to the circle of the motor's height about its shaft.

    With a = M - H, |a| = q and f^2 = q^2 - h^2, the tangent with its normal on the left
    (side = 1) or right (-1) has a = f u + h v.
    """
    x, y = choices.motor_x - choices.hinge_x, choices.motor_y - choices.hinge_y
    height, side, square = choices.motor_height, choices.side, x * x + y * y
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


def surface(side: Array, space: SearchSpace) -> Array:
    """How far from the plate's line, to the motor's side, its wood ends on a side [m]."""
    return np.where(side > 0, space.plate_face, space.plate_back)


def with_tips_out(layouts: Layouts, ends: Array, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts whose screws through the plate stand out of it as drawn so far that it clears.

    The stand-out is rounded up to what can be marked out.
    """
    if space.face_offset is not None:
        return layouts
    # As drawn the tip stands out, too, so that what is marked out can be built.
    ahead = layouts.ahead
    needed = np.maximum(ahead * surface(ahead, space), _leaves_beyond(layouts, ends, space))
    step = STEPS[scenario.display]
    out = step * np.ceil((needed + LEAST_STAND_OUT - _ROUNDING) / step)
    moved = np.where(layouts.kind == IN_PLATE, out * ahead - layouts.offset, 0.0)
    return replace(
        layouts,
        tip_x=layouts.tip_x + moved * layouts.normal_x,
        tip_y=layouts.tip_y + moved * layouts.normal_y,
    )


def bears_on_its_side(layouts: Layouts, ends: Array, space: SearchSpace) -> Bools:
    """Whether each jack bears on its own side of the plate all the way; a link always does."""
    ahead = layouts.ahead
    before = ahead * (surface(-ahead, space) - layouts.offset) >= -_ROUNDING
    clears = ahead * layouts.offset > _leaves_beyond(layouts, ends, space)
    good = np.where(layouts.kind == IN_PLATE, clears, before)
    result: Bools = good | (layouts.kind == LINK)
    return result


def _leaves_beyond(layouts: Layouts, ends: Array, space: SearchSpace) -> Array:
    """How far before the plate's line as drawn the screw leaves the plate, at most [m].

    With the plate's line as drawn for u and its normal, turned to the tip's side, for v, a screw
    that leaves the plate at (a, b) as drawn does so at v = a sin(phi) + b cos(phi), phi counted
    from u to v.
    """
    turn = np.sign(layouts.along_x * layouts.axis_y - layouts.along_y * layouts.axis_x)
    leaves_at = layouts.ahead * surface(layouts.ahead, space)
    leaves = layouts.reach * turn * np.sin(ends) + leaves_at * np.cos(ends)
    result: Array = np.max(leaves, axis=0)
    return result
