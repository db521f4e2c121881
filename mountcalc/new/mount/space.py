"""A mount that is not built yet: the room that it may take, and a sketch to begin from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.new.measurements import Measurements
from mountcalc.new.mount.belt import SIDES, nearest_belt, size
from mountcalc.new.mount.draft import Draft
from mountcalc.new.mount.plate import Built, Plate, standing
from mountcalc.new.results import Taken
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Vector, quoted

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_WALL = 0.5  # [m] how far a wall of the room is drawn into what is behind it
_NEAREST_REACH = 0.075  # [m] a bolt nearer to the hinge carries too much (estimate)
_PACKING = 0.0381  # [m] blocks that may lift a motor off its plate (estimate)
_APART = 1.25  # shafts are this far apart at least, over the pulleys' radii (estimate)
_SHARE = 0.6  # of the room's depth at which the sketch has its motor
_CLEAR = 0.025  # [m] between motor and the room's end
_BOLT = 0.9  # of the plate's length at which the sketch has its bolt
_SAMPLES = 32768
_LEVEL = 1e-9
_MOST_TURN = math.radians(359)
_KINDS = {"block": "jack-in-base", "plate": "jack-in-plate", "eye-bolt": "link"}


class Room(Record):
    """How far motor and mount may reach from the machine's shaft [m]."""

    left: float
    right: float
    below: float
    above: float

    def holds(self, x: Array, y: Array, radius: float) -> Bools:
        """Whether circles about points are in the room."""
        inside = (x > radius - self.left) & (x < self.right - radius)
        holds: Bools = inside & (y > radius - self.below) & (y < self.above - radius)
        return holds


class Search(Record):
    """What a search may try: the room, and a mount in it that could be.

    Its motor stays in the room in directions from the machine's shaft within ``arc`` [rad].
    """

    room: Room
    sketch: Built
    arc: Vector


def _room(measured: Measurements) -> tuple[Room, tuple[Taken, ...]]:
    """The room that was measured; down it goes to the floor where nothing else is said."""
    taken, ends = [], []
    for key in ("room_left", "room_right", "room_below", "room_above"):
        end = measured.value(key)
        if end is None and key == "room_below" and "driven_height" in measured:
            end = measured.value("driven_height")
            taken.append(Taken(key, measured.text("driven_height") or "", "down to the floor"))
        if end is None:
            raise InputError(f"{key}: wanted: how far motor and mount may reach that way")
        ends.append(end)
    return Room(*ends), tuple(taken)


def sketch(measured: Measurements, height: float) -> Search:
    """Find room for a mount, and one that could be; ``height`` [m] is its motor shaft's.

    The motor stands in the middle of the widest arc about the machine's shaft that the room holds;
    the plate is square to the way there, on the motor's far side, its hinge at the lower end.
    """
    space, taken = _room(measured)
    radius, low, high, center = height + _CLEAR, 0.0, 0.0, 0.0
    least = _APART * sum(_across(measured, side) for side in SIDES) / 2 + 2 * height
    farthest = max(space.left, space.right, space.below, space.above)
    for center in (max(least, _SHARE * farthest), least):
        low, high = _widest_arc(space, center, radius)
        if high > low:
            break
    else:
        raise InputError(
            f"room_left: there is no room for a motor that clears these pulleys, "
            f"{_both(least)} from the machine's shaft; {_both(farthest)} is the most that was told"
        )
    x, y = math.cos(0.5 * (low + high)), math.sin(0.5 * (low + high))
    along = (-y, x) if x > _LEVEL or (abs(x) <= _LEVEL and y < 0) else (y, -x)
    length, motor = measured.value("plate_length"), (center * x, center * y)
    hinge = (
        motor[0] + height * x - 0.5 * length * along[0],
        motor[1] + height * y - 0.5 * length * along[1],
    )
    arm = motor[0] - hinge[0], motor[1] - hinge[1]
    tightens = 1 if motor[1] * arm[0] - motor[0] * arm[1] > 0 else -1
    plate = Plate(hinge, along, (-x, -y), measured.value("plate_thickness"), tightens)
    points = {"motor": motor, "hinge": hinge}
    mount = standing(measured, plate, points, _BOLT * length, length)
    return Search(space, replace(mount, taken=taken), (low, high))


def _across(measured: Measurements, side: str) -> float:
    """How much a pulley is across, over its rim [m]."""
    key, _, told = size(measured, side)
    return told / math.pi if key.endswith("circumference") else told


def _widest_arc(space: Room, center: float, radius: float) -> Vector:
    """Ends [rad] of the widest arc on which circles are in the room; alike where there is none."""
    angles = np.radians(np.arange(-180, 540))
    inside = space.holds(center * np.cos(angles), center * np.sin(angles), radius)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
    arcs = [
        (angles[begin], angles[end - 1]) for begin, end in zip(edges[::2], edges[1::2], strict=True)
    ]
    low, high = max(arcs, key=lambda arc: arc[1] - arc[0], default=(0.0, 0.0))
    return float(low), float(min(high, low + _MOST_TURN))


def put_search(draft: Draft, search: Search) -> None:
    """Write what the search may try, and the walls of the room."""
    measured, pair = draft.measured, _pair(draft)
    space, built = search.room, search.sketch
    kind = measured.text("adjuster") or ""
    if kind == "none":
        raise InputError("adjuster: a search wants a bolt: block, plate or eye-bolt")
    draft.table("[search]", "what may be tried; mountcalc place tries it")
    # The hinge is no farther from where the motor may be than the plate is long.
    angles, far = np.linspace(*search.arc), math.hypot(*built.points["motor"])
    for key, way, low, high in (
        ("hinge_x", np.cos(angles), -space.left, space.right),
        ("hinge_y", np.sin(angles), -space.below, space.above),
    ):
        least, most = far * way.min() - built.length, far * way.max() + built.length
        draft.put(key, pair(max(low, least), min(high, most)), "in the room, and near the motor")
    nearest = min(_NEAREST_REACH, 0.5 * built.length)
    draft.put("reach", pair(nearest, built.length), "from the hinge to the bolt, along the plate")
    draft.put("motor_height", pair(built.height, built.height + _PACKING), "off the plate's face")
    ends = ", ".join(quoted(f"{math.degrees(end):.0f} deg") for end in search.arc)
    draft.put("motor_direction", f"[{ends}]", "of the motor, seen from the machine's shaft")
    draft.put("kinds", f"[{quoted(_KINDS[kind])}]")
    if kind == "eye-bolt":
        draft.put("acts", '["push", "pull"]')
    draft.answer("plate_length", "plate_length", "at most")
    if belts := _belts(measured, math.hypot(*built.points["motor"])):
        draft.put("belts", f"[{', '.join(map(quoted, belts))}]", "lengths near those that fit")
    draft.put("samples", str(_SAMPLES))
    for name, corners in _walls(space):
        draft.table("[[keep_out]]")
        draft.put("name", quoted(name))
        (left, low_end), (right, high_end) = corners
        draft.put("box", f"[{pair(left, low_end)}, {pair(right, high_end)}]")
        draft.put("parts", '["plate", "motor", "bolt"]')


def _pair(draft: Draft) -> Callable[[float, float], str]:
    return lambda low, high: f"[{draft.length(low)}, {draft.length(high)}]"


def _belts(measured: Measurements, center: float) -> list[str]:
    """Belts that put the motor about there; none where the belt is known."""
    found = dict[str, None]()
    for share in (0.85, 0.92, 1.0, 1.08, 1.15):
        belt = nearest_belt(measured, share * center)
        if belt is not None:
            found[belt] = None
    return list(found)


def _walls(space: Room) -> Iterator[tuple[str, tuple[Vector, Vector]]]:
    """What is beyond the room, as boxes from corner to corner."""
    left, right, below, above = -space.left, space.right, -space.below, space.above
    far_left, far_right, far_below, far_above = (
        left - _WALL,
        right + _WALL,
        below - _WALL,
        above + _WALL,
    )
    yield "left of the room", ((far_left, far_below), (left, far_above))
    yield "right of the room", ((right, far_below), (far_right, far_above))
    yield "below the room", ((far_left, far_below), (far_right, below))
    yield "above the room", ((far_left, above), (far_right, far_above))


def _both(length: float) -> str:
    return f"{length / 0.0254:.3g} in ({1e3 * length:.3g} mm)"
