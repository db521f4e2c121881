"""Layouts of a mount: from points of the unit cube to hinge, plate and adjuster, many at once.

Points [m] and directions of the plane are complex numbers x + iy.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.feasible.drives import snug_distances
from mountcalc.place.feasible.reasons import Reason
from mountcalc.requirements.held import Columns
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import Action, MotorSide, SearchSpace
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Points = NDArray[np.complex128]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

# What the whole numbers in ``Choices.kind`` and ``Choices.acts`` stand for.
KINDS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)
IN_BASE, IN_PLATE, LINK = range(3)
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

# What a rule is divided into [m]: sixteenths of an inch, or millimetres.
STEPS = {Display.INCH: 0.0254 / 16, Display.METRIC: 0.001}

# Wood left beyond the last thing that is bolted to the plate [m] (estimate: about 1 in).
END_MARGIN = 0.025

# By how much the fixed face under a screw through the plate stays clear of the plate's face where
# nothing is said [m] (estimate: about 1/4 in, for a tip that can be seen and a plate that flexes).
LEAST_STAND_OUT = 0.006


class Choices(Columns):
    """What decides layouts; lengths [m].

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

    def __len__(self) -> int:
        return self.reach.size

    @property
    def hinge(self) -> Points:
        """Hinges."""
        return self.hinge_x + 1j * self.hinge_y

    @property
    def motor(self) -> Points:
        """Motor shafts."""
        return self.motor_x + 1j * self.motor_y


class Layouts(Choices):
    """Layouts as drawn.

    ``along`` points from the hinge to the motor's foot on the plate's line, which is the face that
    the motor stands on; ``foot`` [m] is how far that is. ``offset`` [m] is how far from the plate's
    line the adjuster bears, to the motor's side, and ``ahead`` +1 where it gets longer to that
    side, -1 where away from it. ``tightens`` is the sign of dL/dphi. As drawn a screw through the
    plate ends at its face; :func:`with_tips_out` moves its tip out where the plate's swing is
    known. ``fault`` is a :class:`Reason` where there is no such plate, and its places are NaN.
    """

    along: Points
    foot: Array
    offset: Array
    ahead: Array
    tightens: Array
    plate_length: Array
    fault: Ints

    @property
    def pulls(self) -> Bools:
        """Where an adjuster carries tension only; else compression."""
        return np.asarray(self.acts == ACTIONS.index(Action.PULL))

    @property
    def normal(self) -> Points:
        """Directions square to the plates, on the motors' side."""
        return 1j * self.side * self.along

    @property
    def tip(self) -> Points:
        """Points of the plates that the adjusters bear on, or their pins in the plates."""
        return self.hinge + (self.reach + 1j * self.side * self.offset) * self.along

    @property
    def axis(self) -> Points:
        """The way the tips move as the adjusters get longer.

        Of a screw through the plate, out of it. A link's other pin is ``link_length`` behind.
        """
        return self.ahead * self.normal


def ways_of(space: SearchSpace) -> tuple[tuple[int, int], ...]:
    """Pairs of adjuster and action that a search may try, as indices of KINDS and ACTIONS."""
    return tuple(
        (KINDS.index(kind), ACTIONS.index(act))
        for kind in space.kinds
        for act in space.acts
        if not (kind is AdjusterKind.JACK_IN_PLATE and act is Action.PULL)
    )


def choices_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Choices:
    """What the points of a sample choose."""
    draw = dict(zip(DIMENSIONS, np.asarray(unit, dtype=float).T, strict=True))

    def between(name: str) -> Array:
        low, high = getattr(space, name)
        return np.asarray(low + (high - low) * draw[name])

    def pick(name: str, count: int) -> Ints:
        return np.asarray(np.minimum((draw[name] * count).astype(np.intp), count - 1))

    ways = np.array(ways_of(space), dtype=np.intp).reshape(-1, 2)
    if not len(ways):
        raise ValueError("a bolt through the plate cannot pull: name another kind or action")
    kind, acts = ways[pick("adjuster", len(ways))].T
    belt = pick("belt", max(len(space.belts), 1))
    x, y = scenario.motor.shaft
    motor_x, motor_y = np.full(belt.shape, x), np.full(belt.shape, y)
    if space.motor_direction is not None:  # at each belt's snug distance from the driven shaft
        direction, distance = between("motor_direction"), snug_distances(scenario, space)[belt]
        x, y = scenario.driven.shaft
        motor_x, motor_y = x + distance * np.cos(direction), y + distance * np.sin(direction)
    return Choices(
        hinge_x=between("hinge_x"),
        hinge_y=between("hinge_y"),
        reach=between("reach"),
        motor_height=between("motor_height"),
        motor_x=motor_x,
        motor_y=motor_y,
        side=np.where(draw["motor_side"] < 0.5, 1.0, -1.0),  # noqa: PLR2004  # half of them each
        kind=kind,
        acts=acts,
        thread=pick("thread", len(space.threads)),
        belt=belt,
    )


def layouts_from(unit: ArrayLike, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of the points of a sample."""
    return layouts_of(choices_from(unit, space, scenario), space, scenario)


def layouts_of(choices: Choices, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts of what was chosen.

    The plate's line is tangent to the circle of the motor's height h about its shaft: with
    a = M - H and f^2 = |a|^2 - h^2, a = (f + i s h) u for the tangent u that has its normal on the
    left (s = 1) or right (-1).
    """
    arm, height, side = choices.motor - choices.hinge, choices.motor_height, choices.side
    square = arm.real**2 + arm.imag**2
    with np.errstate(invalid="ignore", divide="ignore"):
        foot = np.sqrt(square - height * height)
        fault = np.where(foot > 0, int(Reason.FEASIBLE), int(Reason.MOTOR_HEIGHT))
        if space.motor_side is not MotorSide.EITHER:
            up = 1.0 if space.motor_side is MotorSide.ABOVE else -1.0
            side = np.where(up * (side * foot * arm.real + height * arm.imag) > 0, side, -side)
            neither = up * (side * foot * arm.real + height * arm.imag) <= 0
            fault = np.where((fault == 0) & neither, int(Reason.MOTOR_SIDE), fault)
        along = arm * (foot - 1j * side * height) / square
    short = np.isnan(snug_distances(scenario, space))[choices.belt]
    fault = np.where(short, int(Reason.BELT_TOO_SHORT), fault)
    # Swinging counter-clockwise opens the belt where M is counter-clockwise of D about H.
    tightens = np.sign(np.imag(np.conj(complex(*scenario.driven.shaft) - choices.hinge) * arm))
    # A tip moves ahead as the belt tightens, or against that where its adjuster pulls or holds
    # back; a screw through the plate leaves it the other way.
    pushes, through_plate = choices.acts == ACTIONS.index(Action.PUSH), choices.kind == IN_PLATE
    ahead = side * tightens * np.where(pushes ^ through_plate, 1.0, -1.0)
    if space.face_offset is None:
        # A jack bears on the side that it comes from; a screw through the plate comes out of the
        # other, and how far it must stand out is known only where the plate's swing is.
        jack = _surface(np.where(through_plate, ahead, -ahead), space)
        offset = np.where(choices.kind == LINK, 0.0, jack)
    else:
        offset = np.full(choices.kind.shape, space.face_offset)
    return Layouts(
        **(choices.columns | {"side": side}),
        along=along,
        foot=foot,
        offset=offset,
        ahead=ahead,
        tightens=tightens,
        plate_length=np.maximum(choices.reach, foot + 0.5 * space.motor_feet) + END_MARGIN,
        fault=fault,
    )


def _surface(side: Array, space: SearchSpace) -> Array:
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
    needed = np.maximum(ahead * _surface(ahead, space), _leaves_beyond(layouts, ends, space))
    step = STEPS[scenario.display]
    out = step * np.ceil((needed + LEAST_STAND_OUT - ROUNDING) / step)
    return replace(layouts, offset=np.where(layouts.kind == IN_PLATE, out * ahead, layouts.offset))


def bears_on_its_side(layouts: Layouts, ends: Array, space: SearchSpace) -> Bools:
    """Whether each jack bears on its own side of the plate all the way; a link always does."""
    ahead = layouts.ahead
    before = ahead * (_surface(-ahead, space) - layouts.offset) >= -ROUNDING
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
    leaves_at = layouts.ahead * _surface(layouts.ahead, space)
    turn = layouts.ahead * layouts.side
    leaves = layouts.reach * turn * np.sin(ends) + leaves_at * np.cos(ends)
    result: Array = np.max(leaves, axis=0)
    return result
