"""A stop in the assembly."""

from __future__ import annotations

from itertools import pairwise

from mountcalc.drafting.items import Layer, Point
from mountcalc.draw.assembly.stop import Catch
from mountcalc.draw.assembly.stop_place import STOP_DEPTH, STOP_HALF, Beside
from mountcalc.draw.boards.side import BoardSide
from mountcalc.draw.view_parts import ViewParts

__all__ = ["draw_stop", "stop_corners"]


def draw_stop(parts: ViewParts, board: BoardSide, stop: Catch) -> None:
    """Draw the block that the plate's far part rests on; where there is no room only name that."""
    name = f"stop beyond {stop.beyond}"
    if stop.place.beside is Beside.NO_ROOM:
        offs = (0.0, -0.5 * board.thickness, -board.thickness)
        ends = (board.at(board.length, off, stop.last) for off in offs)
        parts.name(f"strap instead of a stop, {stop.beyond}", *ends)
        return
    corners = stop_corners(stop)
    parts.outline(corners, Layer.VISIBLE)
    inside = 0.5 * (corners[0][0] + corners[2][0]), 0.5 * (corners[0][1] + corners[2][1])
    sides = ((0.5 * (one[0] + two[0]), 0.5 * (one[1] + two[1])) for one, two in pairwise(corners))
    beside = ", beside the motor" if stop.place.beside is Beside.MOTOR else ""
    parts.name(f"{name}{beside}", inside, *corners, *sides)
    parts.points[name] = stop.at


def stop_corners(stop: Catch) -> tuple[Point, ...]:
    """The outline of a stop's block."""
    out = stop.normal
    along = -out[1], out[0]
    places = (
        (-STOP_HALF, 0.0),
        (STOP_HALF, 0.0),
        (STOP_HALF, STOP_DEPTH),
        (-STOP_HALF, STOP_DEPTH),
    )
    return tuple(
        (
            stop.at[0] + side * along[0] + off * out[0],
            stop.at[1] + side * along[1] + off * out[1],
        )
        for side, off in places
    )
