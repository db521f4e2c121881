"""The sheet's figures: where the tape goes, with the mark of each measurement; sizes in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from mountcalc.drafting.annotations import plain_strokes
from mountcalc.drafting.items import (
    Arc,
    Circle,
    Item,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Path,
    Point,
    Stroke,
    moved,
    scaled,
)
from mountcalc.drafting.paper.sheets import shifted
from mountcalc.new.answers import marks
from mountcalc.new.measurements import Measurements

FIGURES_HEIGHT = 0.066  # [m]
_WIDTH = 0.190  # [m] that they are drawn for
_MM = 1e-3
_UP = 0.5 * math.pi
_SHAFT, _MOTOR, _HINGE, _RADIUS, _SMALL = (80.0, 46.0), (41.0, 31.0), (22.0, 14.0), 12.0, 5.0
_FLOOR, _WALL = 2.0, 3.0


def sheet_figures(answers: Measurements, width: float) -> tuple[Stroke, ...]:
    """All figures beside each other, from their lower left corner [m]."""
    built = answers.text("built") == "yes"
    items = [
        *(_places(answers) if built else _space(answers)),
        *_placed(_plate(built=built), (106.0, 38.0)),
        *_placed(_machine_shaft(), (106.0, 2.0)),
    ]
    strokes = plain_strokes((scaled(item, _MM) for item in items), 1.0)
    return shifted(strokes, (0.5 * (width - _WIDTH), 0.0))


def _placed(items: Iterable[Item], by: Point) -> Iterator[Item]:
    return (moved(item, by) for item in items)


def _across(key: str, start: Point, end: Point, level: float) -> Item:
    """A level dimension."""
    return Offset((start[0], level), end, 0.0, marks()[key], direction=0.0)


def _up(key: str, foot: float, end: Point, beside: float) -> Item:
    """An upright dimension."""
    return Offset((beside, foot), end, 0.0, marks()[key], direction=_UP)


def _cross(at: Point, size: float = 2.0) -> Iterator[Item]:
    x, y = at
    yield Line((x - size, y), (x + size, y), Layer.NOTE)
    yield Line((x, y - size), (x, y + size), Layer.NOTE)


def _box(left: float, bottom: float, right: float, top: float) -> Path:
    corners = (left, bottom), (right, bottom), (right, top), (left, top)
    return Path(corners, closed=True, layer=Layer.VISIBLE)


def _grounds(answers: Measurements) -> Iterator[Item]:
    """Floor and machine's shaft, and the wall where distances are measured from it."""
    yield Line((0.0, _FLOOR), (100.0, _FLOOR), Layer.VISIBLE)
    yield Label((58.0, _FLOOR + 1.0), "floor")
    yield Circle(_SHAFT, _RADIUS, Layer.VISIBLE)
    yield from _cross(_SHAFT)
    yield _up("driven_height", _FLOOR, _SHAFT, 96.0)
    if answers.is_asked("driven_wall"):
        yield Line((_WALL, _FLOOR), (_WALL, 64.0), Layer.VISIBLE)
        yield Label((_WALL + 1.0, 32.0), "wall")
        yield _across("driven_wall", (_WALL, 0.0), _SHAFT, 61.0)


def _places(answers: Measurements) -> Iterator[Item]:
    """Machine, motor and hinge over the floor, seen facing the motor's pulley."""
    yield from _grounds(answers)
    (x, y), (hinge_x, hinge_y) = _MOTOR, _HINGE
    yield Circle(_MOTOR, _SMALL, Layer.VISIBLE)
    yield from _cross(_MOTOR)
    yield Arc(_MOTOR, 9.0, -0.9, math.pi + 0.9, Layer.EDGE)
    yield Path(
        tuple((x + way * 5.6, at) for way in (-1, 1) for at in (24.0, hinge_y)[::way]),
        closed=False,
        layer=Layer.EDGE,
    )
    yield from _belt()
    yield _box(hinge_x, hinge_y - 2.0, 74.0, hinge_y)
    yield Circle(_HINGE, 1.2, Layer.VISIBLE)
    yield Leader((_SHAFT[0] + 8.5, _SHAFT[1] - 8.5), (87.0, 31.0), marks()["driven_pulley_across"])
    yield Leader((x + 3.5, y - 3.5), (50.0, 22.0), marks()["motor_pulley_across"])
    way = answers.text("way")
    if way != "distances":
        yield _across("motor_wall", (_WALL, 0.0), _MOTOR, 44.0)
        yield _across("hinge_wall", (_WALL, 0.0), _HINGE, 22.0)
        yield _up("hinge_height", _FLOOR, _HINGE, 15.0)
    yield _up("motor_height", _FLOOR, _MOTOR, 31.0)
    if way != "heights":
        yield Offset(_MOTOR, _SHAFT, 0.0, marks()["driven_to_motor"])
        yield Offset(_HINGE, _SHAFT, 0.0, marks()["hinge_to_driven"])
        yield Offset(_HINGE, _MOTOR, 0.0, marks()["hinge_to_motor"])


def _belt() -> Iterator[Item]:
    """The strands: tangents from pulley to pulley."""
    across, up = _SHAFT[0] - _MOTOR[0], _SHAFT[1] - _MOTOR[1]
    way, lean = math.atan2(up, across), math.acos((_SMALL - _RADIUS) / math.hypot(across, up))
    for side in (-1, 1):
        turned = way + side * lean
        ends = [
            (x + r * math.cos(turned), y + r * math.sin(turned))
            for (x, y), r in ((_MOTOR, _SMALL), (_SHAFT, _RADIUS))
        ]
        yield Line(ends[0], ends[1], Layer.NOTE)


def _space(answers: Measurements) -> Iterator[Item]:
    """The machine over the floor and where the mount may go."""
    yield from _grounds(answers)
    x, y = _SHAFT
    yield Offset((20.0, y), _SHAFT, 0.0, marks()["room_left"])
    yield Offset(_SHAFT, (x + 14.0, y), 0.0, marks()["room_right"])
    yield Offset(_SHAFT, (x, 64.0), 0.0, marks()["room_above"])
    yield Offset((x, 8.0), _SHAFT, 0.0, marks()["room_below"])


def _plate(*, built: bool) -> Iterator[Item]:
    """The plate from its edge: motor, thickness, and where a bolt bears."""
    face, motor, bolt, end = 13.0, (24.0, 24.0), 60.0, 74.0
    yield _box(4.0, face - 3.0, end, face)
    yield Circle((4.0, face), 1.2, Layer.VISIBLE)
    yield Label((0.0, face + 2.0), "hinge")
    yield from _cross(motor)
    yield Circle(motor, 3.0, Layer.VISIBLE)
    yield Path(
        ((16.0, face), (16.0, 26.0), (32.0, 26.0), (32.0, face)), closed=False, layer=Layer.EDGE
    )
    yield _up("shaft_height", face, motor, 37.0)
    yield Leader((46.0, face - 1.5), (50.0, 20.0), marks()["plate_thickness"])
    yield _across("plate_length", (4.0, 0.0), (end, face - 3.0), -1.0)
    if built:
        yield _box(bolt - 1.0, 0.0, bolt + 1.0, face - 3.0)
        yield Label((bolt + 2.5, 4.5), "bolt")
        yield _across("hinge_to_bolt", (4.0, 0.0), (bolt, face - 3.0), 5.0)
        both = f"{marks()['swing_tighter']} {marks()['swing_looser']}"
        yield Offset((79.0, 3.0), (79.0, 24.0), 0.0, both)


def _machine_shaft() -> Iterator[Item]:
    """The machine's shaft from its side: pulley and bearings."""
    low, high, top, level = 12.0, 15.0, 19.0, 28.0
    near, far, wide = 34.0, 68.0, 6.0
    yield _box(2.0, low, 82.0, high)
    yield _box(9.0, 3.0, 15.0, 24.0)
    yield Label((8.0, -1.0), "pulley")
    for middle in (near, far):
        yield _box(middle - wide, 8.0, middle + wide, top)
    yield Label((near + 9.0, 5.0), "bearings")
    yield _across("pulley_to_bearing", (12.0, 0.0), (near, top), level)
    yield _across("bearings_apart", (near, 0.0), (far, top), level)
    yield _across("journal_length", (near - wide, 0.0), (near + wide, 8.0), 2.0)
    yield Leader((51.0, high), (53.0, 21.0), marks()["journal_diameter"])
