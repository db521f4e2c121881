"""What a search chooses of a layout: from points of the unit cube to ranges and lists."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.place.layouts.drives import snug_distances
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import Action, Range, SearchSpace

__all__ = ["ACTIONS", "DIMENSIONS", "KINDS", "Choices", "choices_from", "ways_of"]

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

    def take(self, which: NDArray[np.intp] | NDArray[np.bool_] | slice) -> Choices:
        """Some of them."""
        return Choices(*(getattr(self, field.name)[which] for field in fields(self)))


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
